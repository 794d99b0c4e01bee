//! What happens when the dive does not go to plan: later, deeper, breathing harder.

use super::trial::Trial;
use crate::dive::{Schedule, ScheduleError};
use crate::finding::{Finding, Verdict, Weight};
use crate::gas::{DiverBudget, DiverCylinders, PonyVerdict, StageBudget};
use crate::plan::Plan;
use crate::quantity::{Depth, DepthChange, GaugePressure, RunTime, Time, UnitSystem};
use crate::rules::ranges::{
    BOTTOM_TIME, BREATHING, DEEPER, DEPTH, HARDER_PCT, LATE, STAY, check_number,
};
use crate::rules::{Level, OutOfRange};
use serde::Serialize;

/// A way in which a dive differs from its plan.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Deviation {
    /// The bottom is left so much later.
    pub late: Time,
    /// The deepest level is so much deeper.
    pub deeper: DepthChange,
    /// Everybody breathes so many per cent harder, all dive long.
    pub harder_pct: f64,
}

impl Deviation {
    /// No difference.
    pub const NONE: Self = Self {
        late: Time::from_min(0.0),
        deeper: DepthChange::NONE,
        harder_pct: 0.0,
    };

    /// Leaving the bottom late.
    #[must_use]
    pub const fn late(late: Time) -> Self {
        Self { late, ..Self::NONE }
    }

    /// Going deeper.
    #[must_use]
    pub const fn deeper(deeper: DepthChange) -> Self {
        Self {
            deeper,
            ..Self::NONE
        }
    }

    /// Breathing harder.
    #[must_use]
    pub const fn harder(harder_pct: f64) -> Self {
        Self {
            harder_pct,
            ..Self::NONE
        }
    }

    /// Going deeper by 3 m or 10 ft.
    #[must_use]
    pub const fn usual_step_deeper(units: UnitSystem) -> Self {
        Self::deeper(match units {
            UnitSystem::Metric => DepthChange::from_m(3.0),
            UnitSystem::Imperial => DepthChange::from_ft(10.0),
        })
    }

    /// What is looked at where nobody asks for anything else: 2, 5 and 10 min late; 3 m (10 ft)
    /// deeper; 5 min late and that much deeper; breathing 25 % harder.
    #[must_use]
    pub const fn usual(units: UnitSystem) -> [Self; 6] {
        let deeper = Self::usual_step_deeper(units);
        let late = Time::from_min(5.0);
        [
            Self::late(Time::from_min(2.0)),
            Self::late(late),
            Self::late(Time::from_min(10.0)),
            deeper,
            Self { late, ..deeper },
            Self::harder(25.0),
        ]
    }

    /// The plan with the difference in it. Each level keeps its time, travel included, but the
    /// last, which is left `late`; every level at the deepest depth goes `deeper`.
    ///
    /// # Errors
    /// [`OutOfRange`] unless it is 0 to 240 min late, 0 to 50 m deeper and 0 to 300 % harder, and
    /// the plan with it is within what is accepted of a plan.
    pub(crate) fn applied_to(&self, plan: &Plan) -> Result<Plan, OutOfRange> {
        LATE.check(self.late.as_min(), plan.units())?;
        DEEPER.check(self.deeper.as_m(), plan.units())?;
        check_number("share of harder breathing, %", self.harder_pct, &HARDER_PCT)?;
        let deepest = |deepest: Depth, level: &Level| deepest.max(level.depth);
        let deepest = plan.levels().iter().fold(Depth::SURFACE, deepest);
        let mut levels = plan.levels().to_vec();
        for level in &mut levels {
            if level.depth.is_at(deepest) {
                level.depth = level.depth + self.deeper;
            }
        }
        if let Some(last) = levels.last_mut() {
            last.time = last.time + self.late;
        }
        let changed = plan.with_levels(levels).with_divers(|divers| {
            for diver in divers {
                diver.breathing = diver.breathing * (1.0 + self.harder_pct / 100.0);
            }
        });
        for level in changed.levels() {
            DEPTH.check(level.depth.as_m(), plan.units())?;
            STAY.check(level.time.as_min(), plan.units())?;
        }
        BOTTOM_TIME.check(changed.bottom_time().as_min(), plan.units())?;
        for diver in changed.divers() {
            BREATHING.check(diver.breathing.as_l_min(), plan.units())?;
        }
        Ok(changed)
    }
}

/// How a diver's gas ends.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Ending {
    /// At the surface with so much left.
    Left(GaugePressure),
    /// Before it.
    Empty {
        /// Run time at which the main cylinder is empty.
        run_time: RunTime,
        /// Depth at which it is.
        depth: Depth,
    },
}

/// One diver in a dive that differs from its plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct DiverOutcome {
    /// The diver.
    pub name: String,
    /// Whether every level is left with at least the minimum gas of that dive.
    pub reserve_holds: bool,
    /// Whether every stage cylinder that the dive needs is carried and holds enough.
    pub stages_hold: bool,
    /// How the main cylinder ends.
    pub ending: Ending,
    /// What the pony covers; `None` without one.
    pub pony: Option<PonyVerdict>,
}

/// A dive that differs from its plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Outcome {
    /// Whether it is still a no-stop dive.
    pub no_stop: bool,
    /// Depth of the first stop of any kind.
    pub first_stop: Option<Depth>,
    /// Time at stops, the safety stop and gas switches included.
    pub stop_time: Time,
    /// Run time of surfacing.
    pub run_time: RunTime,
    /// What that dive would be, planned so.
    pub verdict: Verdict,
    /// What makes it a no-go; empty where it is none.
    pub no_gos: Vec<Finding>,
    /// The divers, in the order of the plan.
    pub divers: Vec<DiverOutcome>,
}

impl Outcome {
    /// Of a dive that has been worked out and judged.
    pub(crate) fn of(
        schedule: &Schedule,
        divers: &[DiverBudget],
        verdict: Verdict,
        findings: &[Finding],
    ) -> Self {
        let no_gos = findings.iter();
        Self {
            no_stop: !schedule.staged,
            first_stop: schedule.first_stop(),
            stop_time: schedule.stop_time(),
            run_time: schedule.run_time(),
            verdict,
            no_gos: no_gos
                .filter(|finding| finding.weight() == Weight::NoGo)
                .cloned()
                .collect(),
            divers: divers.iter().map(DiverOutcome::of).collect(),
        }
    }
}

impl DiverOutcome {
    /// Whether the main cylinder is empty before the surface.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        matches!(self.ending, Ending::Empty { .. })
    }

    /// Whether there is a pony and it does not cover every stop.
    #[must_use]
    pub fn pony_misses_stops(&self) -> bool {
        self.pony
            .is_some_and(|verdict| verdict != PonyVerdict::CoversAll)
    }

    pub(super) fn of(budget: &DiverBudget) -> Self {
        let ending = match (budget.end, budget.empty_at) {
            (Some(left), _) => Ending::Left(left),
            (None, Some((run_time, depth))) => Ending::Empty { run_time, depth },
            // The use is above the contents by rounding alone: empty on surfacing.
            (None, None) => Ending::Left(GaugePressure::from_bar(0.0)),
        };
        Self {
            name: budget.name.clone(),
            reserve_holds: budget.reserve_holds(),
            stages_hold: budget.stages.iter().all(StageBudget::holds),
            ending,
            pony: budget.pony.as_ref().map(|pony| pony.verdict),
        }
    }
}

/// Works out a dive that differs from its plan.
///
/// # Errors
/// [`ScheduleError`] where that dive cannot be scheduled, or is none that a plan may ask for.
pub fn deviate(plan: &Plan, deviation: &Deviation) -> Result<Outcome, ScheduleError> {
    deviate_with(plan, &DiverCylinders::of_each(plan), deviation)
}

/// As [`deviate`], with the cylinders of the plan's divers.
pub(crate) fn deviate_with(
    plan: &Plan,
    cylinders: &[DiverCylinders],
    deviation: &Deviation,
) -> Result<Outcome, ScheduleError> {
    let changed = deviation.applied_to(plan)?;
    let dive = Trial::of(&changed, cylinders)?;
    let findings = dive.findings(&changed);
    let verdict = Verdict::of(&findings, &changed);
    Ok(Outcome::of(
        &dive.schedule,
        &dive.divers,
        verdict,
        &findings,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::PlanBuilder;

    #[test]
    fn every_level_at_the_deepest_depth_goes_deeper_and_keeps_its_time() {
        let (depth, time) = (Depth::from_m(18.0), Time::from_min(20.0));
        let plan = PlanBuilder::new(UnitSystem::Metric)
            .level(depth, time)
            .level(Depth::from_m(9.0), time)
            .level(depth, time)
            .build()
            .unwrap();
        let deviation = Deviation {
            late: Time::from_min(5.0),
            ..Deviation::deeper(DepthChange::from_m(3.0))
        };
        let changed = deviation.applied_to(&plan).unwrap();
        let levels: Vec<(f64, f64)> = changed
            .levels()
            .iter()
            .map(|level| (level.depth.as_m(), level.time.as_min()))
            .collect();
        assert_eq!(levels, [(21.0, 20.0), (9.0, 20.0), (21.0, 25.0)]);
    }

    #[test]
    fn a_plan_is_left_at_a_time_to_dive_or_not_at_all() {
        let plan = PlanBuilder::new(UnitSystem::Metric)
            .level(Depth::from_m(18.0), Time::from_min(20.0))
            .build()
            .unwrap();
        for minutes in [f64::NAN, f64::INFINITY, 0.0, -1.0] {
            assert!(plan.left_at(Time::from_min(minutes)).is_none(), "{minutes}");
        }
        let left = plan.left_at(Time::from_min(12.0)).unwrap();
        assert_eq!(left.bottom_time(), Time::from_min(12.0));
    }
}
