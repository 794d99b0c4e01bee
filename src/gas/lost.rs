//! When a diver's own gas is gone at the worst moment: on a partner's gas, or on the own pony.

use super::cylinders::DiverCylinders;
use super::need::{EmergencyExposure, LevelEnd, main_exposure, used_up_at};
use super::team::TeamGas;
use crate::dive::Segment;
use crate::plan::{Diver, Plan, partners};
use crate::quantity::{BreathingRate, Depth, FreeVolume, GaugePressure, RunTime, Time};
use crate::rules::DiveRules;
use crate::site::Charge;
use serde::Serialize;

/// How far somebody else's gas, or the pony's, goes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum RescueOutcome {
    /// To the surface with every stop.
    EveryStop {
        /// What is left in the cylinder at the surface.
        left: GaugePressure,
    },
    /// To the surface only if stops are missed.
    StopsMissed {
        /// Run time at which the gas would be gone with every stop.
        empty_at: RunTime,
        /// Depth at which it would.
        empty_depth: Depth,
        /// Stop time that is then still to be made.
        missed: Time,
    },
    /// Not even straight to the surface.
    NotEnough {
        /// Depth at which the gas is gone on a straight ascent.
        empty_depth: Depth,
    },
}

/// One way out for a diver without gas, from the level end at which it has least to spare.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Rescue {
    /// Who gives gas; `None` for the own pony.
    pub donor: Option<String>,
    /// Run time at which the gas is lost.
    pub run_time: RunTime,
    /// Depth at which it is.
    pub depth: Depth,
    /// How it ends.
    pub outcome: RescueOutcome,
}

/// What is left to a diver whose gas is gone.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct LostGas {
    /// The diver.
    pub name: String,
    /// On the gas of the partner with least to spare; `None` for a diver alone.
    pub shared: Option<Rescue>,
    /// On the own pony; `None` without one.
    pub pony: Option<Rescue>,
}

/// Works out the lost gas of every diver.
///
/// At the end of each level: sort-out, then up, both at stressed breathing. On a partner's main
/// cylinder the two breathe `(own V̇ + partner's V̇) · stress` from what the partner then has; on the
/// pony `own V̇ · stress` from its contents down to [`PONY_EMPTY`](super::PONY_EMPTY). Of the
/// [`partners`] and moments the one counts that ends worst, and of equal ones that with least to
/// spare. What a stage
/// cylinder supplies after a switch counts for neither.
pub(crate) fn lost_gas(plan: &Plan, gas: &TeamGas, cylinders: &[DiverCylinders]) -> Vec<LostGas> {
    let team = plan.divers();
    let each = team.iter().enumerate().map(|(index, diver)| LostGas {
        name: diver.name.clone(),
        shared: shared(plan, gas, cylinders, index),
        pony: on_pony(plan, gas, &cylinders[index], index),
    });
    each.collect()
}

/// Litres to spare that differ by less are the same: contents and needs are known no better.
const SAME_SPARE_L: f64 = 1e-6;

/// Of ways out with how bad each is, the worst first, and what there is to spare: the worst, and of
/// equal ones that with least to spare. Of those that differ by rounding alone it is the first.
pub(super) fn first_of_the_worst<T>(ways: impl Iterator<Item = (u8, FreeVolume, T)>) -> Option<T> {
    let worst = ways.reduce(|worst, way| {
        let less = (worst.1 - way.1).as_l() > SAME_SPARE_L;
        if way.0 < worst.0 || (way.0 == worst.0 && less) {
            way
        } else {
            worst
        }
    });
    worst.map(|(_, _, way)| way)
}

/// A way out before it is known to be the worst: what there is, what is breathed.
pub(super) struct Supply<'a> {
    pub(super) donor: Option<&'a Diver>,
    pub(super) breathing: BreathingRate,
    pub(super) available: FreeVolume,
    pub(super) charge: &'a Charge,
    /// Contents that must stay in the cylinder.
    pub(super) kept: FreeVolume,
}

fn shared(
    plan: &Plan,
    gas: &TeamGas,
    cylinders: &[DiverCylinders],
    index: usize,
) -> Option<Rescue> {
    let own = plan.divers()[index].breathing;
    let donors = partners(plan.divers(), index);
    let ends = gas.level_ends.iter().enumerate();
    let supplies = ends.flat_map(|(level, end)| {
        donors.iter().map(move |index| {
            let donor = &plan.divers()[*index];
            let supply = Supply {
                donor: Some(donor),
                breathing: (own + donor.breathing) * plan.reserve().stress,
                available: gas.divers[*index].levels[level].contents,
                charge: &cylinders[*index].main,
                kept: FreeVolume::from_l(0.0),
            };
            (end, supply)
        })
    });
    worst(plan, supplies)
}

fn on_pony(plan: &Plan, gas: &TeamGas, cylinders: &DiverCylinders, index: usize) -> Option<Rescue> {
    let diver = &plan.divers()[index];
    let pony = cylinders.pony.as_ref()?;
    let supplies = gas.level_ends.iter().map(|end| {
        let supply = Supply {
            donor: None,
            breathing: diver.breathing * plan.reserve().stress,
            available: pony.have,
            charge: &pony.charge,
            kept: pony.kept,
        };
        (end, supply)
    });
    worst(plan, supplies)
}

/// The supply and moment with the worst outcome; of equal ones, that with least to spare.
fn worst<'a>(
    plan: &Plan,
    supplies: impl Iterator<Item = (&'a LevelEnd, Supply<'a>)>,
) -> Option<Rescue> {
    let ranked = supplies.map(|(end, supply)| {
        // As for the reserve and the pony's verdict: never less than straight up with the safety stop.
        let exposure = end.emergency.exposure;
        let spare = supply.available - supply.breathing * exposure.full;
        (supply.severity(exposure), spare, (end, supply))
    });
    first_of_the_worst(ranked).map(|(end, supply)| {
        let from = (end.moment.run_time, end.moment.depth);
        let ways = (end.emergency.deciding(), &end.emergency.direct[..]);
        Rescue {
            donor: supply.donor.map(|donor| donor.name.clone()),
            run_time: end.moment.run_time,
            depth: end.moment.depth,
            outcome: supply.outcome(plan.rules(), from, ways),
        }
    })
}

impl Supply<'_> {
    /// How bad its outcome is: the worst first.
    fn severity(&self, exposure: EmergencyExposure) -> u8 {
        let available = self.available.max(FreeVolume::from_l(0.0));
        if available >= self.breathing * exposure.full {
            2
        } else if available >= self.breathing * exposure.direct {
            1
        } else {
            0
        }
    }

    /// How far it goes on the ways up from a moment: with every stop, and straight.
    pub(super) fn outcome(
        &self,
        rules: &DiveRules,
        (run_time, depth): (RunTime, Depth),
        (full, direct): (&[Segment], &[Segment]),
    ) -> RescueOutcome {
        let available = self.available.max(FreeVolume::from_l(0.0));
        let (gas, breathing) = (rules.bottom_gas, self.breathing);
        let dry = |segments: &[Segment]| used_up_at(rules, segments, gas, breathing, available);
        let need = |segments: &[Segment]| breathing * main_exposure(rules, segments);
        if available >= need(full) {
            let left = available - need(full) + self.kept;
            return RescueOutcome::EveryStop {
                left: self.charge.pressure(left),
            };
        }
        let (empty_at, empty_depth) = dry(full).unwrap_or((run_time, depth));
        if available >= need(direct) {
            return RescueOutcome::StopsMissed {
                empty_at,
                empty_depth,
                missed: stops_after(full, empty_at),
            };
        }
        let empty_depth = dry(direct).map_or(depth, |(_, depth)| depth);
        RescueOutcome::NotEnough { empty_depth }
    }
}

/// Stop time after a run time.
fn stops_after(segments: &[Segment], from: RunTime) -> Time {
    segments
        .iter()
        .filter(|segment| segment.kind.is_stop())
        .map(|stop| stop.end - stop.start.max(from))
        .filter(|left| left.as_min() > 0.0)
        .sum()
}
