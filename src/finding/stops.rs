//! Stops that the tissues ask for: at the end, in between, and where a rise passes a ceiling.

use super::case::Case;
use super::kind::{Help, Subject, Weight, Wording, kinds};
use crate::dive::{CeilingBreach, NotStraightUp, Schedule, ascend, time_at_stops};
use crate::quantity::show::{
    Show, hundredths_down, hundredths_up, list, minutes, minutes_down, minutes_up,
};
use crate::quantity::{Depth, Time};
use crate::rules::{AscentRules, DiveRules};
use serde::Serialize;

/// What can be found about stops.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum StopsFact {
    /// A rise between levels passes the low-factor ceiling.
    CeilingPassed(CeilingBreach),
    /// The way up has compulsory stops, and the plan asks for them.
    Staged(StopsNeeded),
    /// The way up has compulsory stops, and the plan does not ask for any.
    StagedUnplanned(StopsNeeded),
    /// A no-stop dive at its end, but not all along.
    InBetween {
        /// When nobody may go straight up.
        between: Vec<NotStraightUp>,
        /// Whether the plan asks for stops.
        asked: bool,
    },
}

/// Compulsory stops.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct StopsNeeded {
    /// Time of the stops of the same ascent without a safety stop.
    pub compulsory: Time,
    /// Time of all stops as planned, the safety stop included, gas switches not.
    pub stop_time: Time,
    /// Depth of the first stop; `None` where only a gas switch makes the ascent safe.
    pub first_stop: Option<Depth>,
    /// From when on, and from which depth, nobody may go straight up.
    pub since: Option<NotStraightUp>,
}

impl Subject for StopsFact {
    kinds! {
        Self::CeilingPassed(_) =>
            "ceiling-passed", "ceiling passed",
            "a rise between levels passes the low-factor ceiling",
            Weight::NoGo, Help::TimeOrDepth;
        Self::Staged(_) =>
            "staged", "staged",
            "compulsory stops, and the plan asks for stops",
            Weight::Caution, Help::TimeOrDepth;
        Self::StagedUnplanned(_) =>
            "staged-unplanned", "stops unplanned",
            "compulsory stops, and the plan asks for none",
            Weight::NoGo, Help::TimeOrDepth;
        Self::InBetween { asked, .. } =>
            "stops-in-between", "stops in between",
            "a no-stop dive at its end, but not all along; a caution where the plan asks for stops",
            if *asked { Weight::Caution } else { Weight::NoGo }, Help::TimeOrDepth;
    }

    fn message(&self, Wording { show, .. }: &Wording<'_>) -> String {
        match self {
            Self::CeilingPassed(breach) => format!(
                "The rise from {} to {} passes the low-factor ceiling: at {} compartment {} holds \
                 {} bar of inert gas and may hold {} bar.",
                show.depth(breach.from),
                show.depth(breach.to),
                show.depth(breach.at),
                breach.excess.index + 1,
                hundredths_up(breach.excess.total_bar),
                hundredths_down(breach.excess.limit_bar),
            ),
            Self::Staged(stops) => {
                format!("The stops are compulsory: {}", stops_needed(*show, stops))
            }
            Self::StagedUnplanned(stops) => format!(
                "The dive needs stops, and none are planned: {}",
                stops_needed(*show, stops)
            ),
            Self::InBetween { between, asked } => in_between(*show, between, *asked),
        }
    }

    fn of_team(case: &Case<'_>) -> Vec<Self> {
        let breaches = case.schedule.breaches.iter().copied();
        breaches
            .map(Self::CeilingPassed)
            .chain(stops_of(case))
            .collect()
    }
}

/// Stops at the end of the dive, or stops that its later levels make.
fn stops_of(case: &Case<'_>) -> Option<StopsFact> {
    let (plan, schedule) = (case.plan, case.schedule);
    let asked = plan.asks_for_stops();
    if !schedule.staged {
        return (!case.not_straight_up.is_empty()).then(|| StopsFact::InBetween {
            between: case.not_straight_up.to_vec(),
            asked,
        });
    }
    let stops = StopsNeeded {
        compulsory: compulsory_time(plan.rules(), schedule),
        stop_time: schedule.time_at_stops(),
        first_stop: schedule.first_stop(),
        since: case.not_straight_up.last().copied().filter(|_| !asked),
    };
    Some(if asked {
        StopsFact::Staged(stops)
    } else {
        StopsFact::StagedUnplanned(stops)
    })
}

/// Stop time of the same ascent without a safety stop: what the tissues alone ask for.
fn compulsory_time(rules: &DiveRules, schedule: &Schedule) -> Time {
    let without = DiveRules {
        ascent: AscentRules {
            safety_stop: None,
            ..rules.ascent
        },
        ..rules.clone()
    };
    let leaving = schedule.level_ends.last();
    let ascent = leaving.and_then(|leaving| ascend(&without, leaving).ok());
    ascent.map_or_else(
        || schedule.time_at_stops(),
        |ascent| time_at_stops(&ascent.segments),
    )
}

/// `6 minutes of them, the first at 6 m. Nobody may go straight up.` Where the plan's safety stop
/// makes more of them, both sums.
fn stops_needed(show: Show, stops: &StopsNeeded) -> String {
    let compulsory = minutes_up(stops.compulsory);
    let planned = minutes_up(stops.stop_time);
    let words = match stops.first_stop {
        Some(depth) if planned > compulsory => format!(
            "{} of them by the tissues alone, {} with the plan's own stop, the first at {}; none \
             may be left out",
            minutes(compulsory),
            minutes(planned),
            show.depth(depth)
        ),
        Some(depth) => format!(
            "{} of them, the first at {}",
            minutes(planned),
            show.depth(depth)
        ),
        None => "the way up is only safe with the gas switch".to_owned(),
    };
    let since = stops.since.map_or_else(
        || "Nobody may go straight up.".to_owned(),
        |since| {
            format!(
                "After minute {}, at {}, nobody may go straight up.",
                minutes_down(since.from),
                show.depth(since.depth)
            )
        },
    );
    format!("{words}. {since}")
}

fn in_between(show: Show, between: &[NotStraightUp], asked: bool) -> String {
    let each: Vec<String> = between
        .iter()
        .map(|stretch| {
            format!(
                "from minute {} (at {}) to minute {}",
                minutes_down(stretch.from),
                show.depth(stretch.depth),
                minutes_up(stretch.to)
            )
        })
        .collect();
    let levels = if asked {
        "The later levels are its stops: none may be left out."
    } else {
        "The plan does not ask for stops, and the later levels would be some."
    };
    format!(
        "In between the dive needs stops: {} nobody may go straight up. {levels}",
        list(&each)
    )
}
