//! What a dive leaves in the tissues.

use super::bins::Point;
use crate::dive::Schedule;
use crate::quantity::{Depth, RunTime};
use crate::rules::DiveRules;
use crate::site::Mix;
use crate::tissue::{Tissues, WITHIN_BAR};

/// A profile as the tissues have it.
pub(super) struct Real {
    surfaced: RunTime,
    tissues: Tissues,
}

impl Real {
    pub(super) fn of(rules: &DiveRules, start: &Tissues, profile: &[Point]) -> Self {
        let mut last = (RunTime::SPLASH, Depth::SURFACE);
        let mut tissues = *start;
        for point in profile {
            let at_the_surface = last.1 <= Depth::SURFACE && point.1 <= Depth::SURFACE;
            let gas = if at_the_surface {
                Mix::AIR
            } else {
                rules.bottom_gas
            };
            let ambient = |depth| rules.environment.ambient(depth);
            let (from, to) = (ambient(last.1), ambient(point.1));
            tissues = tissues.after(&rules.compartments, gas, from, to, point.0 - last.0);
            last = *point;
        }
        Self {
            surfaced: last.0,
            tissues,
        }
    }
}

/// When all are back: the flown dive's tissues, and those of each profile.
pub(super) struct After {
    flown: Tissues,
    real: Vec<Tissues>,
}

impl After {
    pub(super) fn of(rules: &DiveRules, schedule: &Schedule, real: &[Real]) -> Self {
        let surfaced = real.iter().map(|real| real.surfaced);
        let back = surfaced.fold(schedule.run_time(), RunTime::max);
        let surface = rules.environment.surface();
        let rested = |tissues: &Tissues, surfaced: RunTime| {
            let time = back - surfaced;
            tissues.after(&rules.compartments, Mix::AIR, surface, surface, time)
        };
        let real = real.iter();
        Self {
            flown: rested(&schedule.tissues, schedule.run_time()),
            real: real
                .map(|real| rested(&real.tissues, real.surfaced))
                .collect(),
        }
    }

    /// The compartment that lacks most, and how much, of either gas; `None` where none does. Nitrogen
    /// up to a balance is not asked for.
    pub(super) fn lag(&self, balance_bar: f64) -> Option<(usize, f64)> {
        let lacks = self.real.iter().flat_map(|real| {
            let both = real.loadings().into_iter().zip(self.flown.loadings());
            both.enumerate().map(|(index, (real, flown))| {
                let is_asked = real.n2_bar > balance_bar + WITHIN_BAR;
                let nitrogen = if is_asked {
                    real.n2_bar - flown.n2_bar
                } else {
                    0.0
                };
                (index, nitrogen.max(real.he_bar - flown.he_bar))
            })
        });
        let lacks = lacks.filter(|(_, lack)| *lack > WITHIN_BAR);
        lacks.max_by(|(_, one), (_, other)| one.total_cmp(other))
    }

    pub(super) fn excess_bar(&self) -> f64 {
        let flown = self.flown.loadings().into_iter().enumerate();
        let excess = flown.map(|(index, flown)| {
            let real = self.real.iter().map(|real| real.loading(index).total_bar());
            flown.total_bar() - real.fold(0.0, f64::max)
        });
        excess.fold(f64::NEG_INFINITY, f64::max)
    }
}
