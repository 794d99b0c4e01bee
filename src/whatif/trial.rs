//! A dive tried out: its schedule and gas without what a whole briefing adds.

use crate::dive::{Schedule, ScheduleError, not_straight_up};
use crate::finding::{Case, Finding, Verdict, findings};
use crate::gas::{DiverBudget, DiverCylinders, team_gas};
use crate::plan::Plan;

/// A dive and its gas: for the many dives of a what-if.
pub(crate) struct Trial {
    pub(crate) schedule: Schedule,
    pub(crate) divers: Vec<DiverBudget>,
}

impl Trial {
    pub(crate) fn of(plan: &Plan, cylinders: &[DiverCylinders]) -> Result<Self, ScheduleError> {
        let schedule = plan.fly()?;
        let divers = team_gas(plan, &schedule, cylinders)?.divers;
        Ok(Self { schedule, divers })
    }

    /// What there is to say about the dive.
    pub(crate) fn findings(&self, plan: &Plan) -> Vec<Finding> {
        let (rules, schedule) = (plan.rules(), &self.schedule);
        findings(&Case {
            plan,
            schedule,
            oxygen: &plan.oxygen(&schedule.segments),
            divers: &self.divers,
            limits: None,
            not_straight_up: &not_straight_up(rules, schedule),
            lost_stages: &[],
        })
    }

    /// What they come to.
    pub(crate) fn verdict(&self, plan: &Plan) -> Verdict {
        Verdict::of(&self.findings(plan), plan)
    }
}
