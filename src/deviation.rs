//! What happens when the dive does not go to plan: later, deeper, breathing harder.

use crate::briefing::{Reckoned, reckon};
use crate::gas_budget::{DiverBudget, PonyVerdict};
use crate::plan::Plan;
use crate::schedule::{ScheduleError, SegmentKind};
use crate::units::{Depth, GaugePressure, Time, UnitSystem};

/// Overstaying is looked into up to so many whole minutes.
pub const LATE_BOUND_MIN: u32 = 60;

/// A way in which a dive differs from its plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deviation {
    /// The bottom is left so much later.
    pub late: Time,
    /// The deepest level is so much deeper.
    pub deeper: Depth,
    /// Everybody breathes so many per cent harder, all dive long.
    pub harder_pct: f64,
}

impl Deviation {
    /// No difference.
    pub const NONE: Self = Self {
        late: Time::from_min(0.0),
        deeper: Depth::from_m(0.0),
        harder_pct: 0.0,
    };

    /// Leaving the bottom late.
    #[must_use]
    pub const fn late(late: Time) -> Self {
        Self { late, ..Self::NONE }
    }

    /// Going deeper.
    #[must_use]
    pub const fn deeper(deeper: Depth) -> Self {
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
            UnitSystem::Metric => Depth::from_m(3.0),
            UnitSystem::Imperial => Depth::from_ft(10.0),
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
    #[must_use]
    pub fn applied_to(&self, plan: &Plan) -> Plan {
        let mut plan = plan.clone();
        let deepest = plan
            .levels
            .iter()
            .fold(Depth::from_m(0.0), |deepest, level| {
                deepest.max(level.depth)
            });
        for level in &mut plan.levels {
            if level.depth.as_m() > deepest.as_m() - 1e-9 {
                level.depth = level.depth + self.deeper;
            }
        }
        if let Some(last) = plan.levels.last_mut() {
            last.time = last.time + self.late;
        }
        for diver in &mut plan.divers {
            diver.breathing = diver.breathing * (1.0 + self.harder_pct / 100.0);
        }
        plan
    }
}

/// How a diver's gas ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ending {
    /// At the surface with so much left.
    Left(GaugePressure),
    /// Before it.
    Empty {
        /// Run time at which the main cylinder is empty.
        run_time: Time,
        /// Depth at which it is.
        depth: Depth,
    },
}

/// One diver in a dive that differs from its plan.
#[derive(Clone, Debug, PartialEq)]
pub struct DiverOutcome {
    /// The diver.
    pub name: String,
    /// Whether the bottom is left with at least the minimum gas of that dive.
    pub reserve_holds: bool,
    /// How the main cylinder ends.
    pub ending: Ending,
    /// What the pony covers; `None` without one.
    pub pony: Option<PonyVerdict>,
}

/// A dive that differs from its plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Whether it is still a no-stop dive.
    pub no_stop: bool,
    /// Depth of the first stop of any kind.
    pub first_stop: Option<Depth>,
    /// Time at stops, the safety stop and gas switches included.
    pub stop_time: Time,
    /// Run time of surfacing.
    pub run_time: Time,
    /// The divers, in the order of the plan.
    pub divers: Vec<DiverOutcome>,
}

impl Outcome {
    fn of(dive: &Reckoned) -> Self {
        let schedule = &dive.schedule;
        let stops = schedule
            .way_up
            .iter()
            .filter(|segment| segment.kind != SegmentKind::Ascent);
        Self {
            no_stop: !schedule.staged,
            first_stop: stops
                .clone()
                .find(|stop| stop.kind != SegmentKind::Switch)
                .map(|stop| stop.from),
            stop_time: stops.map(|stop| stop.time()).sum(),
            run_time: schedule.run_time(),
            divers: dive.divers.iter().map(DiverOutcome::of).collect(),
        }
    }
}

impl DiverOutcome {
    fn of(budget: &DiverBudget) -> Self {
        let ending = match (budget.end, budget.empty_at) {
            (Some(left), _) => Ending::Left(left),
            (None, Some((run_time, depth))) => Ending::Empty { run_time, depth },
            // The use is above the contents by rounding alone: empty on surfacing.
            (None, None) => Ending::Left(GaugePressure::from_bar(0.0)),
        };
        Self {
            name: budget.name.clone(),
            reserve_holds: budget.reserve_holds,
            ending,
            pony: budget.pony.as_ref().map(|pony| pony.verdict),
        }
    }
}

/// Works out a dive that differs from its plan.
///
/// # Errors
/// [`ScheduleError`] where that dive cannot be scheduled.
pub fn deviate(plan: &Plan, deviation: &Deviation) -> Result<Outcome, ScheduleError> {
    reckon(&deviation.applied_to(plan)).map(|dive| Outcome::of(&dive))
}

/// From which whole minute of overstaying each thing is bad. 0: as planned already; `None`: not
/// within [`LATE_BOUND_MIN`], or not before a dive that late can no longer be scheduled.
#[derive(Clone, Debug, PartialEq)]
pub struct LateTable {
    /// It is no longer a no-stop dive.
    pub stops_from_min: Option<u32>,
    /// The divers, in the order of the plan.
    pub divers: Vec<DiverLate>,
}

/// From which whole minute of overstaying each thing is bad for one diver.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DiverLate {
    /// The diver.
    pub name: String,
    /// The bottom is left with less than the minimum gas.
    pub reserve_gone_from_min: Option<u32>,
    /// The main cylinder is empty before the surface.
    pub empty_from_min: Option<u32>,
    /// The pony does not cover every stop. What a straight ascent takes does not grow with time.
    pub pony_stops_from_min: Option<u32>,
}

/// Minute by minute of overstaying, until all that can go bad has.
#[must_use]
pub fn late_table(plan: &Plan) -> LateTable {
    let mut table = LateTable {
        stops_from_min: None,
        divers: plan
            .divers
            .iter()
            .map(|diver| DiverLate {
                name: diver.name.clone(),
                ..DiverLate::default()
            })
            .collect(),
    };
    for minute in 0..=LATE_BOUND_MIN {
        let late = Time::from_min(f64::from(minute));
        let Ok(outcome) = deviate(plan, &Deviation::late(late)) else {
            break;
        };
        let note = |from: &mut Option<u32>, bad: bool| {
            if bad && from.is_none() {
                *from = Some(minute);
            }
        };
        note(&mut table.stops_from_min, !outcome.no_stop);
        for (row, diver) in table.divers.iter_mut().zip(&outcome.divers) {
            note(&mut row.reserve_gone_from_min, !diver.reserve_holds);
            let empty = matches!(diver.ending, Ending::Empty { .. });
            note(&mut row.empty_from_min, empty);
            if let Some(verdict) = diver.pony {
                let all = verdict == PonyVerdict::CoversAll;
                note(&mut row.pony_stops_from_min, !all);
            }
        }
        if table.is_complete(plan) {
            break;
        }
    }
    table
}

impl LateTable {
    /// Whether nothing is left that could still go bad.
    fn is_complete(&self, plan: &Plan) -> bool {
        let complete = |(row, has_pony): (&DiverLate, bool)| {
            let gas = row.reserve_gone_from_min.is_some() && row.empty_from_min.is_some();
            gas && (row.pony_stops_from_min.is_some() || !has_pony)
        };
        let ponies = plan.divers.iter().map(|diver| diver.pony.is_some());
        self.stops_from_min.is_some() && self.divers.iter().zip(ponies).all(complete)
    }
}
