//! What the rules look at.

use crate::dive::{NotStraightUp, Schedule};
use crate::gas::{DiverBudget, DiverLimits, LostStage};
use crate::oxygen::OxygenExposure;
use crate::plan::Plan;
use crate::quantity::Depth;
use crate::site::Mix;

/// A dive that has been flown and its gas worked out.
pub(crate) struct Case<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) schedule: &'a Schedule,
    pub(crate) oxygen: &'a OxygenExposure,
    pub(crate) divers: &'a [DiverBudget],
    /// For how long their gas lasts; `None` where nobody has looked.
    pub(crate) limits: Option<&'a [DiverLimits]>,
    pub(crate) not_straight_up: &'a [NotStraightUp],
    /// The dive without each of its decompression gases; empty where nobody has looked.
    pub(crate) lost_stages: &'a [LostStage],
}

impl Case<'_> {
    /// For how long a diver's gas lasts; `None` where nobody has looked.
    pub(super) fn limits_of(&self, budget: &DiverBudget) -> Option<&DiverLimits> {
        let same = |other: &DiverBudget| other.name == budget.name;
        let index = self.divers.iter().position(same)?;
        self.limits?.get(index)
    }

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
