//! A dive tried out: its schedule and gas without what a whole briefing adds.

use crate::dive::{Schedule, ScheduleError, not_straight_up};
use crate::finding::{Case, Finding, GREATEST_DENSITY_G_L, Verdict, findings, oxygen_forbids};
use crate::gas::{DiverBudget, DiverCylinders, team_gas, team_lasts};
use crate::plan::Plan;
use crate::quantity::Depth;
use crate::site::{GREATEST_PO2_BAR, gas_density_g_l, oxygen_pressure};

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
        let asks = plan.asks_for_stops();
        if depth_forbids(plan) || (!asks && !plan.goes_straight_up()) || plan.passes_a_ceiling() {
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

/// Whether a plan is surely none by its deepest level alone: somebody's bottom gas has too much oxygen
/// there, or is too dense. As [`oxygen_forbids`] and the rule of density have it, with no dive flown.
fn depth_forbids(plan: &Plan) -> bool {
    /// So that no last bit decides; what is nearer is flown.
    const SURELY: f64 = 1.0 + 1e-9;
    let environment = &plan.rules().environment;
    let depths = plan.levels().iter().map(|level| level.depth);
    let deepest = depths.fold(Depth::SURFACE, Depth::max);
    let own = (0..plan.divers().len()).map(|diver| plan.gas_of(diver));
    own.chain([plan.rules().bottom_gas]).any(|gas| {
        let oxygen_bar = oxygen_pressure(environment, gas, deepest).as_bar();
        oxygen_bar > GREATEST_PO2_BAR * SURELY
            || gas_density_g_l(environment, gas, deepest) > GREATEST_DENSITY_G_L * SURELY
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

    use super::{Trial, depth_forbids};
    use crate::finding::Verdict;
    use crate::gas::DiverCylinders;
    use crate::plan_file::read;

    /// What is left out of a search is a no-go when it is flown, and what is kept decides nothing yet: on
    /// lean and rich gases, and on one that two divers do not share.
    #[test]
    fn what_is_too_deep_for_its_gas_is_a_no_go_when_it_is_flown() {
        let mut left_out = 0;
        for gas in ["air", "EAN32", "EAN40", "18/45", "5/20"] {
            for own in ["air", "EAN28"] {
                for depth_m in (6..100).step_by(2) {
                    let helium = gas.contains('/');
                    let own = if helium {
                        String::new()
                    } else {
                        format!("gas = \"{own}\"\n")
                    };
                    let text = format!(
                        "[profile]\ndepth = \"{depth_m} m\"\nbottom_time = \"8 min\"\nstaged = true\n\
                         [gas]\nbottom = \"{gas}\"\n\
                         [[diver]]\nname = \"Signy\"\nsac = \"12 L/min\"\n\
                         cylinder = {{ size = \"2x15 L\", fill = \"230 bar\" }}\n\
                         [[diver]]\nname = \"Odd\"\nsac = \"12 L/min\"\n{own}\
                         cylinder = {{ size = \"2x15 L\", fill = \"230 bar\" }}\n"
                    );
                    let plan = read(&text).unwrap();
                    let cylinders = DiverCylinders::of_each(&plan);
                    let trial = Trial::of(&plan, &cylinders).unwrap();
                    if depth_forbids(&plan) {
                        assert_eq!(trial.verdict(&plan), Verdict::NoGo, "{text}");
                        left_out += 1;
                    }
                    let is_go = trial.verdict(&plan) != Verdict::NoGo;
                    assert_eq!(Trial::is_go(&plan, &cylinders), is_go, "{text}");
                }
            }
        }
        assert!(left_out > 100, "{left_out}");
    }

    /// The same of a rise through the ceiling, and of a plan that has only a rise that passes none.
    #[test]
    fn a_rise_through_the_ceiling_is_a_no_go_when_it_is_flown() {
        let mut passed = 0;
        for first_min in 5..40 {
            let text = format!(
                "[profile]\nstaged = true\n[[profile.level]]\ndepth = \"36 m\"\ntime = \"{first_min} min\"\n\
                 [[profile.level]]\ndepth = \"6 m\"\ntime = \"9 min\"\n\
                 [[diver]]\nname = \"Signy\"\nsac = \"12 L/min\"\n\
                 cylinder = {{ size = \"2x15 L\", fill = \"230 bar\" }}\n"
            );
            let plan = read(&text).unwrap();
            let cylinders = DiverCylinders::of_each(&plan);
            let trial = Trial::of(&plan, &cylinders).unwrap();
            assert_eq!(plan.passes_a_ceiling(), !trial.schedule.breaches.is_empty());
            let is_go = trial.verdict(&plan) != Verdict::NoGo;
            assert_eq!(Trial::is_go(&plan, &cylinders), is_go, "{text}");
            passed += u32::from(plan.passes_a_ceiling());
        }
        assert!((1..35).contains(&passed), "{passed}");
    }
}
