//! A limit of N minutes: N is within it, and the next one is not.

use hangbar::briefing::Briefing;
use hangbar::dive::{Reach, ScheduleError, fly, no_stop_limit};
use hangbar::gas::{BottomTimeLimit, LimitEnd, PonyVerdict};
use hangbar::plan::Plan;
use hangbar::quantity::{Depth, Time};
use hangbar::rules::Level;

use crate::cases::{Case, Left, Wrong, each, each_plan};
use crate::random::Random;

const GREATEST_MIN: u32 = 999;
/// Two ways to the same run time.
const SAME_TIME_MIN: f64 = 1e-9;

/// The first whole minute not before arrival at the first level.
fn first_minute(briefing: &Briefing) -> u32 {
    let arrival = briefing.schedule.arrivals[0].run_time.as_min();
    let reached = |minute: &u32| f64::from(*minute) >= arrival - SAME_TIME_MIN;
    (1..=GREATEST_MIN).find(reached).unwrap_or(GREATEST_MIN + 1)
}

/// Holds a limit of bottom times to its word: what it stands for holds up to it, at the minutes that
/// chance picks, and not at the next one at which the dive can be left.
fn is_the_last(
    case: &Case,
    limit: BottomTimeLimit,
    holds: impl Fn(&Briefing) -> bool,
    (what, random, wrong): (&str, &mut Random, &mut Wrong),
) -> u64 {
    let first = first_minute(&case.briefing);
    let at = |minute: u32| Left::at(&case.text, f64::from(minute));
    let mut compared = 0;
    if limit.minutes > 0 {
        let any = random.whole(first.min(limit.minutes)..=limit.minutes);
        for minute in [first, any, limit.minutes] {
            compared += 1;
            match at(minute) {
                Left::At(briefing) if holds(&briefing) => {}
                Left::Travelling if minute != limit.minutes => {}
                _ => wrong.push(format!("{what} {limit:?}: not at {minute}")),
            }
        }
    }
    for minute in first.max(limit.minutes + 1)..=GREATEST_MIN {
        compared += 1;
        let ends = match at(minute) {
            Left::Travelling => continue,
            Left::NoWayUp => {
                matches!(limit.ended_by, LimitEnd::Schedule { at_min, .. } if at_min == minute)
            }
            Left::At(briefing) => {
                !holds(&briefing)
                    && matches!(limit.ended_by, LimitEnd::Gas { at_min } if at_min == minute)
            }
        };
        if !ends {
            wrong.push(format!("{what} {limit:?} goes on at {minute}"));
        }
        return compared;
    }
    if limit.ended_by != LimitEnd::Bound {
        wrong.push(format!("{what} {limit:?} ends by nothing"));
    }
    compared
}

#[test]
fn a_gas_limit_is_the_last_whole_minute_of_those_that_leave_what_must_be_left() {
    each("gas limit", 20, |case, random, wrong| {
        let mut compared = 0;
        // Of a large team some.
        for index in 0..case.briefing.divers.len().min(4) {
            let limit = case.briefing.limits[index].gas_limit;
            let holds = |briefing: &Briefing| briefing.divers[index].reserve_holds();
            compared += is_the_last(case, limit, holds, ("gas limit", random, wrong));
        }
        compared
    });
}

#[test]
fn a_pony_covers_every_stop_up_to_the_last_whole_minute_that_it_names() {
    each("pony limit", 20, |case, random, wrong| {
        let mut compared = 0;
        for index in 0..case.briefing.divers.len().min(4) {
            let Some(limit) = case.briefing.limits[index].pony_covers_until else {
                continue;
            };
            let holds = |briefing: &Briefing| {
                let pony = briefing.divers[index].pony.as_ref().unwrap();
                pony.verdict == PonyVerdict::CoversAll
            };
            compared += is_the_last(case, limit, holds, ("pony limit", random, wrong));
        }
        compared.max(1)
    });
}

#[test]
fn a_shorter_bottom_time_needs_more_where_the_briefing_says_so_and_nowhere_else() {
    each("shorter is worse", 20, |case, random, wrong| {
        let briefing = &case.briefing;
        let first = first_minute(briefing);
        let shorter = |minute: &u32| f64::from(*minute) < case.drawn.bottom_min() - SAME_TIME_MIN;
        let Some(last) = (first..=GREATEST_MIN).take_while(shorter).last() else {
            return 1;
        };
        let runs = briefing
            .limits
            .iter()
            .flat_map(|limits| &limits.shorter_is_worse);
        let ends = runs.flat_map(|run| [run.from_min, run.to_min, run.to_min + 1]);
        let mut minutes: Vec<u32> = ends.filter(|minute| *minute <= last).collect();
        minutes.truncate(6);
        minutes.push(random.whole(first..=last));
        for minute in minutes {
            let left = Left::at(&case.text, f64::from(minute));
            for (index, limits) in briefing.limits.iter().enumerate() {
                if !briefing.divers[index].reserve_holds() {
                    continue;
                }
                let named = limits
                    .shorter_is_worse
                    .iter()
                    .any(|run| (run.from_min..=run.to_min).contains(&minute));
                let fails = match &left {
                    // A run goes on over what is passed over.
                    Left::Travelling => continue,
                    Left::NoWayUp => true,
                    Left::At(briefing) => !briefing.divers[index].reserve_holds(),
                };
                if named != fails {
                    wrong.push(format!(
                        "diver {index} at {minute}: named {named}, fails {fails}"
                    ));
                }
            }
        }
        1
    });
}

/// Whether the dive goes straight up, were it to these levels.
pub(crate) fn goes_straight_up(plan: &Plan, levels: &[Level]) -> bool {
    match fly(plan.rules(), &plan.start().tissues, levels) {
        Ok(schedule) => !schedule.staged,
        // It would, were there not the safety stop.
        Err(ScheduleError::SafetyStopOverloads { .. }) => true,
        Err(_) => false,
    }
}

#[test]
fn a_no_stop_limit_is_dived_without_stops_and_a_hair_more_is_not() {
    /// Of a limit that is solved for, or searched, to the last bits.
    const HAIR_MIN: f64 = 1e-6;
    each_plan("no-stop limit", 60, |plan, random, wrong| {
        let any = Depth::from_m(random.of_range(3.0, 60.0));
        for depth in [plan.levels()[0].depth, any] {
            let limit = no_stop_limit(plan.rules(), &plan.start().tissues, depth).unwrap();
            let is_no_stop = |minutes: f64| {
                let time = Time::from_min(minutes);
                goes_straight_up(plan, &[Level { depth, time }])
            };
            let arrival = limit.arrival.run_time.as_min();
            let (within, beyond) = match limit.reach {
                Reach::Nothing => (None, Some(arrival)),
                Reach::Unlimited => (Some(f64::from(GREATEST_MIN)), None),
                Reach::Until(time) => {
                    let time = time.as_min();
                    (Some((time - HAIR_MIN).max(arrival)), Some(time + HAIR_MIN))
                }
            };
            if within.is_some_and(|minutes| !is_no_stop(minutes)) {
                wrong.push(format!("{limit:?} at {depth:?} needs stops"));
            }
            if beyond.is_some_and(is_no_stop) {
                wrong.push(format!("{limit:?} at {depth:?} goes on"));
            }
        }
        2
    });
}

#[test]
fn the_bottom_time_of_a_no_stop_dive_is_one_and_a_minute_more_is_not() {
    each("no-stop bottom time", 20, |case, _, wrong| {
        let Some(longest) = case.briefing.no_stop_bottom_time().filter(|time| *time > 0) else {
            return 1;
        };
        let planned = case.drawn.bottom_min();
        for (minute, want) in [(longest, false), (longest + 1, true)] {
            // A shorter one than planned is another dive: levels are left out.
            if f64::from(minute) < planned {
                continue;
            }
            if let Left::At(briefing) = Left::at(&case.text, f64::from(minute))
                && briefing.schedule.staged != want
            {
                wrong.push(format!("{longest} min: staged at {minute} is {}", !want));
            }
        }
        1
    });
}
