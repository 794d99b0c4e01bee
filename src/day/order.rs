//! In which order the dives of a day are, and when each splashes.

use super::error::{DayError, MOST_DIVES};
use crate::plan::{DayTime, Plan, TimeOfDay};
use crate::quantity::show::minutes_up;
use crate::quantity::{Time, UnitSystem};
use crate::rules::ranges::SURFACE_INTERVAL;

/// A plan and what to call it by.
#[derive(Clone, Debug, PartialEq)]
pub struct DayPlan {
    /// A name, as of its file.
    pub file: String,
    /// The plan.
    pub plan: Plan,
}

/// What gave the dives of a day their order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OrderedBy {
    /// Their splashes, which is how the plans were named.
    Splashes,
    /// Their splashes, and the plans were named in another order.
    SplashesNotNames,
    /// Their names, with an interval between each two.
    Intervals,
}

/// How the dives follow each other.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Waits {
    /// By their splashes; whether that is the order in which they are named.
    Splashes { as_named: bool },
    /// So long after each dive but the last, whatever splash a later plan says.
    Intervals(Vec<Time>),
}

/// When something is, from midnight of the day; from the first splash where no plan has one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Clock {
    /// Minutes.
    pub(super) at: Time,
    /// Whether it is a time of day.
    pub(super) is_known: bool,
}

impl Clock {
    /// `11:42`, `11:42 the next day`, or `minute 42`; not earlier.
    pub(super) fn words(self) -> String {
        match self.day_time() {
            Some(moment) => moment.to_string(),
            None => format!("minute {}", minutes_up(self.at)),
        }
    }

    /// The whole minute not before it, and of which day.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "some days of minutes, not negative"
    )]
    fn day_time(self) -> Option<DayTime> {
        let midnight = TimeOfDay::new(0, 0).filter(|_| self.is_known)?;
        Some(midnight.day_time_after(minutes_up(self.at) as u32))
    }
}

/// The whole minute not before it.
pub(super) fn time_of_day(clock: Clock) -> Option<TimeOfDay> {
    clock.day_time().map(|moment| moment.time)
}

/// From midnight.
pub(super) fn since_midnight(time: TimeOfDay) -> Time {
    Time::from_min(f64::from(time.hour() * 60 + time.minute()))
}

/// Puts the plans in order: by their splashes, or as they are given where intervals are.
pub(super) fn ordered(
    mut plans: Vec<DayPlan>,
    intervals: &[Time],
) -> Result<(Vec<DayPlan>, Waits), DayError> {
    let count = plans.len();
    if !(1..=MOST_DIVES).contains(&count) {
        return Err(DayError::Count { count });
    }
    for interval in intervals {
        SURFACE_INTERVAL.check(interval.as_min(), UnitSystem::Metric)?;
    }
    if !intervals.is_empty() {
        if intervals.len() + 1 != count {
            return Err(DayError::Intervals {
                intervals: intervals.len(),
                plans: count,
            });
        }
        return Ok((plans, Waits::Intervals(intervals.to_vec())));
    }
    if count > 1
        && let Some(lacking) = plans.iter().find(|plan| plan.plan.splash().is_none())
    {
        return Err(DayError::NoSplash {
            file: lacking.file.clone(),
        });
    }
    let splash = |plan: &DayPlan| plan.plan.splash().map(|time| (time.hour(), time.minute()));
    let as_named = plans.is_sorted_by_key(splash);
    plans.sort_by_key(splash);
    Ok((plans, Waits::Splashes { as_named }))
}
