//! The gas of a whole team on one schedule, and for how long it lasts.

use super::budget::DiverBudget;
use super::diver::DiverGas;
use super::limits::{BottomTimes, DiverLimits};
use super::need::LevelEnd;
use crate::dive::{Schedule, ScheduleError};
use crate::plan::Plan;
use serde::Serialize;

/// The gas of a team.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct TeamGas {
    /// The end of each level and what an emergency there takes, in order.
    pub(crate) level_ends: Vec<LevelEnd>,
    /// The divers, in the order of the plan.
    pub(crate) divers: Vec<DiverBudget>,
}

/// The gas of a whole team on one schedule.
///
/// Reserve of a diver at the end of a level, in free litres:
///
/// ```text
/// (own V̇ + greatest V̇ among the partners) · stress · ∫ P/(1 atm) dt
/// ```
/// and on leaving the bottom, where there is a hang, at least
/// `own V̇ · (∫ P/(1 atm) dt of the planned way up + that of the hang)`, all of what the main
/// cylinder gives. The turn keeps the greatest over the level ends, the floor included:
///
/// ```text
/// V_turn = V_reserve + (V_start − V_reserve)·(1 − share)
/// ```
/// The partners are the declared buddies, or everybody else; a diver alone counts with the own
/// V̇ only.
///
/// # Errors
/// [`ScheduleError`] where the ascent after the sort-out time cannot be scheduled.
pub(crate) fn team_gas(plan: &Plan, schedule: &Schedule) -> Result<TeamGas, ScheduleError> {
    let level_ends = LevelEnd::of_each(plan.rules(), plan.reserve().sort_out, schedule)?;
    let budget = |index| DiverGas::new(plan, schedule, &level_ends, index).budget();
    let divers = (0..plan.divers().len()).map(budget).collect();
    Ok(TeamGas { level_ends, divers })
}

/// For how long the gas of each diver lasts, in the order of the plan.
pub(crate) fn team_limits(plan: &Plan, schedule: &Schedule, gas: &TeamGas) -> Vec<DiverLimits> {
    let sort_out = plan.reserve().sort_out;
    let mut times = BottomTimes::new(plan.rules(), sort_out, schedule, &gas.level_ends);
    let mut limits = Vec::with_capacity(gas.divers.len());
    for (index, budget) in gas.divers.iter().enumerate() {
        let diver = DiverGas::new(plan, schedule, &gas.level_ends, index);
        let gas_limit = times.limit(|cut| diver.lasts(cut));
        let shorter_is_worse = if budget.reserve_holds() {
            times.shorter_failures(|cut| diver.lasts(cut))
        } else {
            Vec::new()
        };
        let pony = budget.pony.as_ref();
        limits.push(DiverLimits {
            gas_limit,
            shorter_is_worse,
            pony_covers_until: pony
                .map(|pony| times.limit(|cut| pony.have >= diver.pony_needs(cut))),
        });
    }
    limits
}
