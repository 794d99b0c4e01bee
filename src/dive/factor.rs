//! Which gradient factor holds at which depth.

use super::schedule::Schedule;
use crate::plan::DiveRules;
use crate::quantity::Depth;

/// Which gradient factor is in force at a depth of a finished dive.
///
/// ```text
/// G(d) = high + (low − high)·d/anchor      not below low
/// ```
/// High everywhere on a no-stop dive; low everywhere on a staged dive that nothing ever barred.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FactorInForce {
    pub(super) low: f64,
    pub(super) high: f64,
    pub(super) anchor: Option<Depth>,
}

impl FactorInForce {
    /// For the rules and the dive flown by them.
    #[must_use]
    pub fn of(rules: &DiveRules, schedule: &Schedule) -> Self {
        let high = rules.factors.high();
        Self {
            low: if schedule.staged {
                rules.factors.low()
            } else {
                high
            },
            high,
            anchor: schedule.anchor,
        }
    }

    /// The factor at a depth, a fraction.
    #[must_use]
    pub fn at(&self, depth: Depth) -> f64 {
        match self.anchor {
            None => self.low,
            Some(anchor) if depth.as_m() >= anchor.as_m() => self.low,
            Some(anchor) => self.high + (self.low - self.high) * depth.as_m() / anchor.as_m(),
        }
    }
}
