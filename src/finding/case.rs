//! What the rules look at.

use crate::dive::NotStraightUp;
use crate::dive::Schedule;
use crate::gas::DiverBudget;
use crate::oxygen::OxygenExposure;
use crate::plan::Plan;
use crate::quantity::Depth;
use crate::site::Mix;

/// Depths closer than this are the same depth: rounding noise of a change of units. m
const SAME_DEPTH_M: f64 = 1e-9;

/// A dive that has been flown and its gas worked out.
pub(crate) struct Case<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) schedule: &'a Schedule,
    pub(crate) oxygen: &'a OxygenExposure,
    pub(crate) divers: &'a [DiverBudget],
    pub(crate) not_straight_up: &'a [NotStraightUp],
}

impl Case<'_> {
    /// Each gas and the deepest depth at which the schedule breathes it, in order of use.
    pub(super) fn deepest_use_of_each_gas(&self) -> Vec<(Mix, Depth)> {
        let mut uses: Vec<(Mix, Depth)> = Vec::new();
        for segment in &self.schedule.segments {
            let deepest = segment.from.max(segment.to);
            match uses
                .iter_mut()
                .find(|(gas, _)| gas.is_same_gas(segment.gas))
            {
                Some((_, depth)) => *depth = depth.max(deepest),
                None => uses.push((segment.gas, deepest)),
            }
        }
        uses
    }
}

/// Whether a depth is deeper than another one, by more than rounding noise.
pub(super) fn is_deeper(depth: Depth, than: Depth) -> bool {
    depth.as_m() > than.as_m() + SAME_DEPTH_M
}
