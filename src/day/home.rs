//! Home by a given hour: how late the last dive of the day may splash.

use super::order::{Clock, since_midnight, time_of_day};
use super::whole::{Day, DayDive};
use crate::briefing::brief;
use crate::finding::{Fact, Verdict, Weight};
use crate::plan::TimeOfDay;
use crate::quantity::Time;
use crate::quantity::show::minutes_down;
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
    /// there is none after the dive before it, or where it is no go at that minute.
    pub last_splash: Option<TimeOfDay>,
}

impl Home {
    /// Whether the hour is before the first splash: somebody may mean the next day's.
    #[must_use]
    pub fn is_before_the_day(&self, day: &Day) -> bool {
        let first = day.dives.first();
        first.is_some_and(|dive| since_midnight(self.by) < dive.starts)
    }
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
/// shorter way up. The first that is back in time is briefed, and where it is no go then, there is
/// none: earlier ones have less time at the surface before them. A flight that leaves too soon is
/// the one reason to go on to earlier splashes.
#[must_use]
pub fn home_by(day: &Day, by: TimeOfDay) -> Option<Home> {
    let last = day.dives.last().filter(|_| day.has_clock)?;
    let hour = since_midnight(by);
    let after = last.surface_interval.map(|interval| last.starts - interval);
    let first = after.unwrap_or(Time::from_min(0.0));
    let mut splash = Time::from_min(minutes_down(hour));
    let mut last_splash = None;
    while !first.is_over(splash) {
        match tried(last, splash, hour) {
            Trial::Goes(at) => {
                last_splash = Some(at);
                break;
            }
            Trial::Never => break,
            Trial::NotYet => splash = splash - Time::from_min(1.0),
        }
    }
    Some(Home {
        by,
        holds: !last.back_by().is_over(hour),
        last_splash,
    })
}

/// What a splash of the last dive comes to.
enum Trial {
    /// It is back by the hour, and a go.
    Goes(TimeOfDay),
    /// An earlier one may do.
    NotYet,
    /// No earlier one does.
    Never,
}

fn tried(last: &DayDive, splash: Time, hour: Time) -> Trial {
    let plan = &last.briefing.plan;
    let Some(at) = time_of_day(Clock {
        at: splash,
        is_known: true,
    }) else {
        return Trial::Never;
    };
    let Some(history) = plan.history().shifted(plan.rules(), splash - last.starts) else {
        return Trial::Never;
    };
    let plan = plan.in_a_day(history, Some(at));
    let Ok(flown) = plan.fly() else {
        return Trial::Never;
    };
    if (splash + flown.run_time().elapsed()).is_over(hour) {
        return Trial::NotYet;
    }
    let Ok(briefing) = brief(plan) else {
        return Trial::Never;
    };
    let mut no_gos = briefing.findings_of(Weight::NoGo);
    if briefing.verdict() != Verdict::NoGo {
        Trial::Goes(at)
    } else if no_gos.all(|finding| matches!(finding.fact, Fact::Flight(_))) {
        Trial::NotYet
    } else {
        Trial::Never
    }
}
