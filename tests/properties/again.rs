//! The dive flown again, by the equations of the model written out here.

use hangbar::dive::{Schedule, Segment};
use hangbar::rules::DiveRules;
use hangbar::rules::{LastStop, SafetyStop};
use hangbar::site::Mix;
use hangbar::tissue::{COMPARTMENTS, Coefficients, GradientFactors};

use crate::{SAME_DEPTH_M, SAME_TIME_MIN};

/// Pressure of nitrogen and helium in each compartment, by the equations written out here.
#[derive(Clone)]
pub(crate) struct Diver<'a> {
    pub(crate) rules: &'a DiveRules,
    pub(crate) loadings: [[f64; 2]; COMPARTMENTS],
}

impl<'a> Diver<'a> {
    pub(crate) fn at_the_surface(rules: &'a DiveRules) -> Self {
        let nitrogen = (rules.environment.surface().as_bar() - 0.0627) * 0.79;
        Self {
            rules,
            loadings: [[nitrogen, 0.0]; COMPARTMENTS],
        }
    }

    pub(crate) fn ambient(&self, depth_m: f64) -> f64 {
        self.rules.environment.surface().as_bar() + self.rules.environment.bar_per_m() * depth_m
    }

    /// `p(t) = pi0 + r (t - 1/k) - (pi0 - p0 - r/k) exp(-k t)`
    pub(crate) fn breathe(&mut self, gas: Mix, from_m: f64, to_m: f64, minutes: f64) {
        if minutes <= 0.0 {
            return;
        }
        let (start, end) = (self.ambient(from_m), self.ambient(to_m));
        let rate = (end - start) / minutes;
        let set = self.rules.compartments.compartments();
        for (loading, compartment) in self.loadings.iter_mut().zip(set) {
            let gases: [(f64, &Coefficients); 2] = [
                (gas.nitrogen(), &compartment.nitrogen),
                (gas.helium(), &compartment.helium),
            ];
            for (pressure, (fraction, coefficients)) in loading.iter_mut().zip(gases) {
                let k = 2_f64.ln() / coefficients.half_time.as_min();
                let (inspired, rate) = ((start - 0.0627) * fraction, rate * fraction);
                *pressure = inspired + rate * (minutes - 1.0 / k)
                    - (inspired - *pressure - rate / k) * (-k * minutes).exp();
            }
        }
    }

    pub(crate) fn fly(&mut self, segment: &Segment) {
        let minutes = segment.time().as_min();
        let (from, to) = (segment.from.as_m(), segment.to.as_m());
        self.breathe(segment.gas, from, to, minutes);
    }

    /// How far the worst compartment stands over `P + G (M(P) - P)` at a depth; negative within.
    pub(crate) fn over(&self, depth_m: f64, factor: f64) -> f64 {
        let ambient = self.ambient(depth_m);
        let set = self.rules.compartments.compartments();
        let rows = self.loadings.iter().zip(set).map(|([n2, he], c)| {
            let mean = |nitrogen, helium| (nitrogen * n2 + helium * he) / (n2 + he);
            let (a, b) = (
                mean(c.nitrogen.a_bar, c.helium.a_bar),
                mean(c.nitrogen.b, c.helium.b),
            );
            n2 + he - (ambient + factor * (a + ambient / b - ambient))
        });
        rows.fold(f64::NEG_INFINITY, f64::max)
    }

    /// As [`Diver::over`] on arriving at `to` after going up to it.
    pub(crate) fn over_after_rising(&self, gas: Mix, from_m: f64, to_m: f64, factor: f64) -> f64 {
        let mut risen = self.clone();
        let minutes = (from_m - to_m) / self.rules.ascent.rate.as_m_min();
        risen.breathe(gas, from_m, to_m, minutes);
        risen.over(to_m, factor)
    }
}

/// Gradient factor in force at a depth.
pub(crate) fn factor_at(factors: GradientFactors, anchor_m: Option<f64>, depth_m: f64) -> f64 {
    match anchor_m {
        Some(anchor) if depth_m < anchor => {
            factors.high() + (factors.low() - factors.high()) * depth_m / anchor
        }
        _ => factors.low(),
    }
}

pub(crate) fn last_stop_m(rules: &DiveRules) -> f64 {
    let spacing = rules.ascent.spacing.change().as_m();
    match rules.ascent.last_stop {
        LastStop::OneSpacing => spacing,
        LastStop::TwoSpacings => 2.0 * spacing,
    }
}

/// The level on which a staged ascent makes its safety stop, and the stop.
pub(crate) fn safety_level(rules: &DiveRules) -> Option<(f64, SafetyStop)> {
    let spacing = rules.ascent.spacing.change().as_m();
    rules.ascent.safety_stop.map(|stop| {
        let level = (stop.depth.as_m() / spacing - SAME_DEPTH_M).ceil() * spacing;
        (level.max(last_stop_m(rules)), stop)
    })
}

/// Depths that a staged ascent asks at on the way from one depth up to another, the last included.
pub(crate) fn levels_between(rules: &DiveRules, from_m: f64, to_m: f64) -> Vec<f64> {
    let spacing = rules.ascent.spacing.change().as_m();
    let least = last_stop_m(rules).max(to_m + SAME_DEPTH_M) - SAME_DEPTH_M / 2.0;
    let mut depths: Vec<f64> = (1..100)
        .map(|number| f64::from(number) * spacing)
        .filter(|depth| *depth < from_m - SAME_DEPTH_M && *depth >= least)
        .collect();
    depths.reverse();
    depths.push(to_m);
    depths
}

pub(crate) fn is_whole(minutes: f64) -> bool {
    (minutes - minutes.round()).abs() <= SAME_TIME_MIN
}

pub(crate) fn ascent_minutes(dive: &Schedule) -> f64 {
    dive.run_time().as_min() - dive.bottom_time.as_min()
}
