//! A dive tried out: its schedule and gas without what a whole briefing adds.

use crate::dive::Schedule;
use crate::dive::ScheduleError;
use crate::dive::fly;
use crate::dive::not_straight_up;
use crate::finding;
use crate::finding::Case;
use crate::finding::Finding;
use crate::gas::DiverBudget;
use crate::gas::team_budget_without_limits;
use crate::oxygen::OxygenExposure;
use crate::plan::Plan;
use crate::tissue::Tissues;
/// A dive and its gas without what a whole briefing adds: for the many dives of a what-if.
pub(crate) struct Reckoned {
    pub(crate) schedule: Schedule,
    /// Without the limits, see [`team_budget_without_limits`].
    pub(crate) divers: Vec<DiverBudget>,
}

pub(crate) fn reckon(plan: &Plan) -> Result<Reckoned, ScheduleError> {
    let rules = &plan.rules;
    let clean = Tissues::clean(rules.environment.surface());
    let schedule = fly(rules, &clean, &plan.levels)?;
    let conditions = plan.gas_conditions();
    let divers =
        team_budget_without_limits(rules, &plan.reserve, &conditions, &schedule, &plan.divers)?;
    Ok(Reckoned { schedule, divers })
}

impl Reckoned {
    /// What there is to say about the dive.
    pub(crate) fn findings(&self, plan: &Plan) -> Vec<Finding> {
        let (rules, schedule) = (&plan.rules, &self.schedule);
        let clean = Tissues::clean(rules.environment.surface());
        finding::findings(&Case {
            plan,
            schedule,
            oxygen: &OxygenExposure::of(&rules.environment, &schedule.segments),
            divers: &self.divers,
            not_straight_up: &not_straight_up(rules, &clean, schedule),
        })
    }
}
