//! The gas of a whole team on one schedule, and for how long it lasts.

use super::bottom_times::{BottomTimes, Left};
use super::budget::DiverBudget;
use super::cylinders::DiverCylinders;
use super::diver::DiverGas;
use super::limits::DiverLimits;
use super::need::LevelEnd;
use crate::dive::{Schedule, ScheduleError};
use crate::plan::Plan;
use crate::quantity::{RunTime, Time};

/// The gas of a team.
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
pub(crate) fn team_gas(
    plan: &Plan,
    schedule: &Schedule,
    cylinders: &[DiverCylinders],
) -> Result<TeamGas, ScheduleError> {
    let level_ends = LevelEnd::of_each(plan.rules(), plan.reserve().sort_out, schedule)?;
    let divers = each(plan, schedule, &level_ends, cylinders);
    let divers = divers.map(|diver| diver.budget()).collect();
    Ok(TeamGas { level_ends, divers })
}

/// Whether every level of a dive is left with what must be left there, by everybody.
pub(crate) fn team_lasts(plan: &Plan, schedule: &Schedule, cylinders: &[DiverCylinders]) -> bool {
    let ends = LevelEnd::of_each(plan.rules(), plan.reserve().sort_out, schedule);
    ends.is_ok_and(|ends| each(plan, schedule, &ends, cylinders).all(|diver| diver.keeps_all()))
}

/// Whether the main cylinder of a diver who carries these is enough for a dive and its reserve.
pub(crate) fn has_enough(
    plan: &Plan,
    schedule: &Schedule,
    ends: &[LevelEnd],
    cylinders: &DiverCylinders,
    index: usize,
) -> bool {
    DiverGas::new(plan, schedule, ends, cylinders, index).has_enough()
}

fn each<'a>(
    plan: &'a Plan,
    schedule: &'a Schedule,
    ends: &'a [LevelEnd],
    cylinders: &'a [DiverCylinders],
) -> impl Iterator<Item = DiverGas<'a>> {
    let divers = cylinders.iter().enumerate();
    divers.map(move |(index, own)| DiverGas::new(plan, schedule, ends, own, index))
}

/// The dive of a team left at any other time.
pub(crate) struct TeamTimes<'a> {
    plan: &'a Plan,
    divers: Vec<DiverGas<'a>>,
    times: BottomTimes<'a>,
}

/// A dive of a team left later than planned.
pub(crate) struct LateDive {
    /// Whether it makes no stops.
    pub(crate) no_stop: bool,
    /// The divers, in the order of the plan.
    pub(crate) divers: Vec<LateGas>,
}

/// One diver's gas on it.
#[derive(Clone, Copy)]
pub(crate) struct LateGas {
    /// Whether every level is left with at least the minimum gas of that dive.
    pub(crate) reserve_holds: bool,
    /// Whether the main cylinder is empty before the surface.
    pub(crate) is_empty: bool,
    /// Whether every stage cylinder that the dive needs is carried and holds enough.
    pub(crate) stages_hold: bool,
    /// Whether the pony covers every stop; `None` without one.
    pub(crate) pony_covers: Option<bool>,
}

impl<'a> TeamTimes<'a> {
    pub(crate) fn new(
        plan: &'a Plan,
        schedule: &'a Schedule,
        ends: &'a [LevelEnd],
        cylinders: &'a [DiverCylinders],
    ) -> Self {
        let sort_out = plan.reserve().sort_out;
        Self {
            plan,
            divers: each(plan, schedule, ends, cylinders).collect(),
            times: BottomTimes::new(plan.rules(), sort_out, schedule, ends),
        }
    }

    /// For how long the gas of each diver lasts, given what it comes to as planned; both in the
    /// order of the plan.
    pub(crate) fn limits(&mut self, budgets: &[DiverBudget]) -> Vec<DiverLimits> {
        let times = &mut self.times;
        let divers = self.divers.iter().zip(budgets);
        let limits = divers.map(|(diver, budget)| DiverLimits {
            gas_limit: times.limit(|cut| diver.lasts(cut)),
            shorter_is_worse: if budget.reserve_holds() {
                times.shorter_failures(|cut| diver.lasts(cut))
            } else {
                Vec::new()
            },
            pony_covers_until: budget
                .pony
                .is_some()
                .then(|| times.limit(|cut| diver.pony_covers(cut) == Some(true))),
        });
        limits.collect()
    }

    /// Whether a dive left at a whole minute is surely no go: it makes stops that the plan does not
    /// ask for, or somebody's gas is not enough.
    pub(crate) fn forbid(&mut self, minute: u32) -> bool {
        match self.times.left_at(RunTime::from_min(f64::from(minute))) {
            Left::Travelling => false,
            Left::Unschedulable(_) => true,
            Left::At(cut) => {
                let short = |diver: &DiverGas<'_>| {
                    !diver.lasts(&cut) || diver.runs_empty(&cut) || !diver.stages_hold(&cut)
                };
                let unasked = cut.way_up.staged && !self.plan.asks_for_stops();
                unasked || self.divers.iter().any(short)
            }
        }
    }

    /// The dive whose last level is left so much later.
    ///
    /// # Errors
    /// [`ScheduleError`] where no way up can be worked out.
    pub(crate) fn late(&mut self, late: Time) -> Result<LateDive, ScheduleError> {
        let last = self.plan.levels().last().ok_or(ScheduleError::NoLevel)?;
        let leave = self.times.last_level_for(last.time + late);
        let cut = match self.times.left_at(leave) {
            Left::At(cut) => cut,
            Left::Unschedulable(why) => return Err(why.planned),
            Left::Travelling => return Err(ScheduleError::NoLevel),
        };
        let divers = self.divers.iter().map(|diver| LateGas {
            reserve_holds: diver.lasts(&cut),
            is_empty: diver.runs_empty(&cut),
            stages_hold: diver.stages_hold(&cut),
            pony_covers: diver.pony_covers(&cut),
        });
        Ok(LateDive {
            no_stop: !cut.way_up.staged,
            divers: divers.collect(),
        })
    }
}
