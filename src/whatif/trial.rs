//! A dive tried out: its schedule and gas without what a whole briefing adds.

use crate::dive::{Schedule, ScheduleError, not_straight_up};
use crate::finding::{Case, Finding, Verdict, findings, oxygen_forbids};
use crate::gas::{DiverBudget, DiverCylinders, team_gas, team_lasts};
use crate::plan::Plan;

/// A dive and its gas: for the many dives of a what-if.
pub(crate) struct Trial {
    pub(crate) schedule: Schedule,
    pub(crate) divers: Vec<DiverBudget>,
}

impl Trial {
    pub(crate) fn of(plan: &Plan, cylinders: &[DiverCylinders]) -> Result<Self, ScheduleError> {
        Self::gas_of(plan, plan.fly()?, cylinders)
    }

    /// Whether a plan with a team is a go, as the verdict of its trial says. What most dives that are
    /// none fail by is asked first, and nothing else then.
    pub(crate) fn is_go(plan: &Plan, cylinders: &[DiverCylinders]) -> bool {
        if !plan.asks_for_stops() && !plan.goes_straight_up() {
            return false;
        }
        let Ok(schedule) = plan.fly() else {
            return false;
        };
        let oxygen = plan.oxygen(&schedule.segments);
        let forbidden =
            oxygen_forbids(plan, &schedule, &oxygen) || !team_lasts(plan, &schedule, cylinders);
        !forbidden && Self::gas_of(plan, schedule, cylinders).is_ok_and(|dive| dive.may_go(plan))
    }

    fn may_go(&self, plan: &Plan) -> bool {
        self.verdict(plan) != Verdict::NoGo
    }

    fn gas_of(
        plan: &Plan,
        schedule: Schedule,
        cylinders: &[DiverCylinders],
    ) -> Result<Self, ScheduleError> {
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
