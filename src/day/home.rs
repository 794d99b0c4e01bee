//! Home by a given hour: how late the last dive of the day may splash.

use super::order::{Clock, since_midnight, time_of_day};
use super::whole::Day;
use crate::dive::fly_checked;
use crate::finding::Verdict;
use crate::plan::TimeOfDay;
use crate::quantity::Time;
use crate::quantity::show::minutes_down;
use crate::rules::Start;
use serde::Serialize;

/// How the last dive of the day stands to the hour by which all are to be back.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Home {
    /// The hour, of the day of the first splash.
    pub by: TimeOfDay,
    /// Whether the last dive as planned is back by then.
    pub holds: bool,
    /// The last whole minute at which the last dive may splash and be back by then; `None` where
    /// there is none after the dive before it.
    pub last_splash: Option<TimeOfDay>,
}

/// What the dives come to together, and the hour by which all are to be back where there is one.
#[must_use]
pub fn verdict(day: &Day, home: Option<&Home>) -> Verdict {
    match home {
        Some(home) if !home.holds => Verdict::NoGo,
        _ => day.verdict(),
    }
}

/// How the last dive stands to an hour; `None` where the day has no times of day.
///
/// The last dive is flown for every splash, from the latest one down: a longer interval makes a
/// shorter way up.
#[must_use]
pub fn home_by(day: &Day, by: TimeOfDay) -> Option<Home> {
    let last = day.dives.last().filter(|_| day.has_clock)?;
    let hour = since_midnight(by);
    let after = last.surface_interval.map(|interval| last.starts - interval);
    let plan = &last.briefing.plan;
    let back = |splash: Time| -> Option<Time> {
        let longer = splash - last.starts;
        let start = match plan.history().waiting.is_empty() {
            true => Some(*plan.start()),
            false => Start::most(&plan.history().waited(plan.rules(), longer)?),
        };
        let flown = fly_checked(plan.rules(), &start?.tissues, plan.levels()).ok()?;
        Some(splash + flown.run_time().elapsed())
    };
    let first = after.unwrap_or(Time::from_min(0.0));
    let mut splash = Time::from_min(minutes_down(hour));
    let mut last_splash = None;
    while !first.is_over(splash) {
        if back(splash).is_some_and(|back| !back.is_over(hour)) {
            last_splash = time_of_day(Clock {
                at: splash,
                is_known: true,
            });
            break;
        }
        splash = splash - Time::from_min(1.0);
    }
    Some(Home {
        by,
        holds: !last.ends.is_over(hour),
        last_splash,
    })
}
