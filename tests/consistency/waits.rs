//! A wait of N minutes: N is enough, and a minute less is not.

use hangbar::plan_file;
use hangbar::quantity::{Pressure, Time};
use hangbar::report::document;
use hangbar::site::Mix;
use hangbar::surface::IntervalReach;

use crate::cases::each;
use crate::drawn::Drawn;
use crate::limits::goes_straight_up;

/// Intervals and waits are looked at up to so many minutes.
const LONGEST_INTERVAL_MIN: u32 = 2880;
const LONGEST_WAIT_MIN: u32 = 4320;

/// Whether the dive goes straight up after another surface interval; `None` where nobody is there.
fn straight_up_after(drawn: &Drawn, minutes: u32) -> Option<bool> {
    let mut drawn = drawn.clone();
    drawn.before.last_mut()?.interval_min = f64::from(minutes);
    let plan = plan_file::read(&drawn.metric()).ok()?;
    Some(goes_straight_up(&plan, plan.levels()))
}

#[test]
fn a_least_interval_is_enough_and_no_shorter_one_is() {
    each("least interval", 100, |case, random, wrong| {
        let Some(least) = &case.briefing.least_interval else {
            return 1;
        };
        let straight = |minutes: u32| straight_up_after(&case.drawn, minutes);
        // Not even from clean tissues: who has breathed oxygen may hold less, and nobody waits for it.
        let first = match least.reach {
            IntervalReach::Minutes(minutes) => minutes,
            IntervalReach::NotWithinBound => LONGEST_INTERVAL_MIN + 1,
            IntervalReach::NotEvenClean => return 1,
        };
        if first <= LONGEST_INTERVAL_MIN && straight(first) == Some(false) {
            wrong.push(format!("{first} min are not enough"));
        }
        if first > 0 {
            for minutes in [0, random.whole(0..=first - 1), first - 1] {
                if straight(minutes) == Some(true) {
                    wrong.push(format!("{minutes} min are enough, {:?}", least.reach));
                }
            }
        }
        1
    });
}

#[test]
fn a_wait_before_flying_is_enough_from_its_end_on_and_a_minute_less_is_not() {
    each("flying", 40, |case, random, wrong| {
        let briefing = &case.briefing;
        let flying = document::Briefing::try_from(briefing).unwrap().flying;
        let (rules, cabin) = (briefing.plan.rules(), Pressure::from_bar(flying.cabin_bar));
        let surface = rules.environment.surface();
        let within = |minutes: u32| {
            let time = Time::from_min(f64::from(minutes));
            let set = &rules.compartments;
            let rested = briefing
                .schedule
                .tissues
                .after(set, Mix::AIR, surface, surface, time);
            rested.are_within(set, cabin, rules.factors.high())
        };
        let (from, over) = match flying.model_wait_min {
            Some(0) => (0, None),
            Some(minutes) => (minutes, Some(minutes - 1)),
            None => (LONGEST_WAIT_MIN + 1, Some(LONGEST_WAIT_MIN)),
        };
        if over.is_some_and(within) {
            wrong.push(format!("a minute less than {from} is enough"));
        }
        if from <= LONGEST_WAIT_MIN {
            for minutes in [
                from,
                random.whole(from..=LONGEST_WAIT_MIN),
                LONGEST_WAIT_MIN,
            ] {
                if !within(minutes) {
                    wrong.push(format!("{minutes} min are not enough, said are {from}"));
                }
            }
        }
        let published = flying.published_wait_min;
        let longer = flying.model_wait_min.map(|model| model.max(published));
        if flying.advised_wait_min != longer {
            wrong.push(format!(
                "advised {:?}, longer {longer:?}",
                flying.advised_wait_min
            ));
        }
        1
    });
}
