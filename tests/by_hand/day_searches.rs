//! What a day looks for, against trying every minute: the least interval before a dive, and the
//! last splash that is back by an hour.

use hangbar::day::{Day, DayPlan, Home, home_by, plan_day};
use hangbar::finding::Verdict;
use hangbar::plan::TimeOfDay;
use hangbar::surface::{IntervalReach, LONGEST_INTERVAL_MIN};

use crate::days::{USUAL, Words, minutes};

/// Two ways to the same minute.
const SAME_MIN: f64 = 1e-9;

/// 24 m for 24 minutes: nearly all that clean tissues allow.
const LONG: Words<'_> = Words {
    profile: (24.0, 24.0),
    ..USUAL
};

/// In first at nine.
const EARLY: Words<'_> = Words {
    splash: "09:00",
    ..LONG
};

/// 300 m up, which passes for the same air as the sea's.
const UPHILL: Words<'_> = Words {
    site: "altitude = \"299 m\"",
    profile: (24.0, 22.0),
    ..USUAL
};

fn day(first: &Words<'_>, second: &Words<'_>, wait: f64) -> Day {
    let plans = vec![first.named("a.toml"), second.named("b.toml")];
    plan_day(plans, &minutes(&[wait]), None).unwrap()
}

/// What the day says of the second dive's least interval, whatever the interval is.
fn reach(first: &Words<'_>, second: &Words<'_>, wait: f64) -> IntervalReach {
    let day = day(first, second, wait);
    let least = day.dives[1].briefing.least_interval.as_ref();
    least.map(|least| least.reach).unwrap()
}

fn has_stops(first: &Words<'_>, second: &Words<'_>, wait: u32) -> bool {
    let day = day(first, second, f64::from(wait));
    day.dives[1].briefing.schedule.staged
}

/// The first whole minute without stops, tried one after the other.
fn tried(first: &Words<'_>, second: &Words<'_>, most: u32) -> Option<u32> {
    (0..=most).find(|wait| !has_stops(first, second, *wait))
}

/// The day says the same minute whatever interval it is planned with.
#[test]
fn the_least_interval_is_the_first_minute_without_stops() {
    let others = Words {
        divers: &["Noor", "Ib"],
        ..LONG
    };
    for (first, second) in [(LONG, LONG), (LONG, others), (LONG, USUAL)] {
        let want = tried(&first, &second, 200).unwrap();
        for wait in [0.0, 33.3, 80.0] {
            let got = reach(&first, &second, wait);
            assert_eq!(got, IntervalReach::Minutes(want), "planned {wait}");
        }
    }
}

#[test]
fn the_least_interval_of_a_dive_that_never_needs_stops_is_none_at_all() {
    let shallow = Words {
        profile: (8.0, 20.0),
        ..USUAL
    };
    assert!(!has_stops(&LONG, &shallow, 0));
    assert_eq!(reach(&LONG, &shallow, 50.0), IntervalReach::Minutes(0));
}

#[test]
fn a_dive_past_the_limit_of_clean_tissues_has_no_least_interval() {
    let deep = Words {
        profile: (40.0, 20.0),
        ..USUAL
    };
    let longest = LONGEST_INTERVAL_MIN;
    assert!(has_stops(&USUAL, &deep, longest) && has_stops(&USUAL, &deep, 0));
    assert_eq!(reach(&USUAL, &deep, 60.0), IntervalReach::NotEvenClean);
}

/// Up to 300 m the wait is taken at the higher pressure: the least interval has to be too, or the
/// dive after just that interval would need stops.
#[test]
fn the_least_interval_between_two_shores_keeps_the_dive_free_of_stops() {
    let want = tried(&LONG, &UPHILL, 200).unwrap();
    assert!(want > 5, "{want}");
    for wait in [20.0, 80.0] {
        let got = reach(&LONG, &UPHILL, wait);
        assert_eq!(got, IntervalReach::Minutes(want), "planned {wait}");
    }
}

/// Elsewhere `arrived` goes with the interval: a minute less of one is a minute less of the other.
#[test]
fn the_least_interval_before_a_lake_shortens_the_time_at_the_lake() {
    let lake = |arrived: u32| {
        let site = format!("altitude = \"1200 m\"\narrived = \"{arrived} min\"");
        let words = Words {
            site: &site,
            profile: (24.0, 16.0),
            ..USUAL
        };
        let plans = vec![LONG.named("a.toml"), words.named("b.toml")];
        plan_day(plans, &minutes(&[f64::from(arrived + 20)]), None).unwrap()
    };
    let stops = |arrived| lake(arrived).dives[1].briefing.schedule.staged;
    let want = (0..200).find(|arrived| !stops(*arrived)).unwrap();
    assert!(want > 0, "{want}");
    let planned = lake(150);
    let least = planned.dives[1].briefing.least_interval.as_ref().unwrap();
    assert_eq!(least.minutes(), Some(want + 20));
}

fn time(minute: u32) -> TimeOfDay {
    TimeOfDay::new(0, 0).unwrap().after(minute)
}

/// The two plans with the second in at a minute of the day.
fn in_at(first: &Words<'_>, second: &Words<'_>, minute: u32) -> Option<Day> {
    let splash = time(minute).to_string();
    let second = Words {
        splash: &splash,
        ..*second
    };
    let plans: Vec<DayPlan> = vec![first.named("a.toml"), second.named("b.toml")];
    plan_day(plans, &[], None).ok()
}

/// Every splash from 09:00 to the hour, tried one after the other: the last that is back by it.
fn last_back(first: &Words<'_>, second: &Words<'_>, hour: u32) -> Option<TimeOfDay> {
    let is_back = |minute: u32| {
        let day = in_at(first, second, minute);
        day.is_some_and(|day| {
            let last = &day.dives[1];
            last.file == "b.toml" && last.ends.as_min() <= f64::from(hour) + SAME_MIN
        })
    };
    let last = (540..=hour).rev().find(|minute| is_back(*minute));
    last.map(time)
}

fn home(first: &Words<'_>, second: &Words<'_>, planned: u32, hour: u32) -> Home {
    let day = in_at(first, second, planned).unwrap();
    home_by(&day, time(hour)).unwrap()
}

/// A dive whose stops grow as the interval shrinks, and one without stops, for hours before and
/// after the planned return.
#[test]
fn the_last_splash_home_by_an_hour_is_the_last_minute_that_is_back() {
    let deep = Words {
        profile: (30.0, 25.0),
        ..USUAL
    };
    let uphill = Words {
        profile: (30.0, 25.0),
        ..UPHILL
    };
    for second in [USUAL, deep, uphill] {
        for hour in [610, 625, 660, 700, 780] {
            let want = last_back(&EARLY, &second, hour);
            let got = home(&EARLY, &second, 660, hour);
            assert_eq!(got.last_splash, want, "{:?} by {hour}", second.profile);
        }
    }
}

/// 18 m for 20 minutes takes 25: by 11:25 it has to be in at 11:00, and that is soon enough.
#[test]
fn the_hour_itself_holds_and_a_minute_before_it_does_not() {
    let holds = |hour| home(&EARLY, &USUAL, 660, hour);
    assert!(holds(685).holds);
    assert_eq!(holds(685).last_splash, Some(time(660)));
    assert!(!holds(684).holds);
    assert_eq!(holds(684).last_splash, Some(time(659)));
}

/// The first dive is back at 09:29:40, so the second is in at 09:30 at the soonest. 8 m for 20
/// minutes takes 20 + 3/9 + 3 + 5/9 = 23.9 minutes: back at 09:54.
#[test]
fn an_hour_too_soon_after_the_dive_before_has_no_last_splash() {
    let shallow = Words {
        profile: (8.0, 20.0),
        ..USUAL
    };
    let at = |hour| home(&EARLY, &shallow, 660, hour).last_splash;
    assert_eq!(at(595), Some(time(571)));
    assert_eq!(at(594), Some(time(570)));
    assert_eq!(at(593), None);
    assert_eq!(at(300), None);
    assert_eq!(at(0), None);
}

#[test]
fn a_day_of_one_dive_has_a_last_splash_too() {
    let plan = Words {
        splash: "09:00",
        ..USUAL
    };
    let day = plan_day(vec![plan.named("a.toml")], &[], None).unwrap();
    let at = |hour| home_by(&day, time(hour)).unwrap();
    assert_eq!(at(600).last_splash, Some(time(575)));
    assert!(at(600).holds && at(565).holds && !at(564).holds);
    assert_eq!(at(25).last_splash, Some(time(0)));
    assert_eq!(at(24).last_splash, None);
}

/// Who has told of an earlier dive is not in before having surfaced from it.
#[test]
fn the_last_splash_of_one_dive_is_not_before_its_told_dive_is_over() {
    let plan = Words {
        splash: "09:00",
        more: "[[before]]\ndepth = \"18 m\"\nbottom_time = \"20 min\"\n\
               surface_interval = \"60 min\"\n",
        ..USUAL
    };
    let day = plan_day(vec![plan.named("a.toml")], &[], None).unwrap();
    let at = |hour| home_by(&day, time(hour)).unwrap().last_splash;
    // Surfaced at 08:00.
    assert_eq!(at(480 + 25), Some(time(480)));
    assert_eq!(at(480 + 24), None);
}

/// A dive that is up on the next day is not back by any hour of this one.
#[test]
fn a_dive_past_midnight_is_not_home_by_an_hour_of_the_first_day() {
    let night = Words {
        splash: "23:10",
        ..USUAL
    };
    let day = day(&night, &USUAL, 40.0);
    for hour in [0, 45, 1439] {
        let home = home_by(&day, time(hour)).unwrap();
        assert!(!home.holds, "{hour}");
        assert_eq!(home.last_splash, None, "{hour}");
    }
}

#[test]
fn a_day_without_a_clock_is_never_home_by_an_hour() {
    assert_eq!(home_by(&day(&USUAL, &USUAL, 40.0), time(720)), None);
}

/// What is late makes a no-go of a day whose dives all go.
#[test]
fn a_day_that_is_late_is_a_no_go() {
    let day = in_at(&EARLY, &USUAL, 720).unwrap();
    assert_eq!(day.verdict(), Verdict::Go);
    let verdict = |hour| hangbar::day::verdict(&day, home_by(&day, time(hour)).as_ref());
    assert_eq!(verdict(745), Verdict::Go);
    assert_eq!(verdict(744), Verdict::NoGo);
    assert_eq!(hangbar::day::verdict(&day, None), Verdict::Go);
}

/// 24 m for 24 minutes twice. The first is back at 09:29:40 and the second needs its interval: in
/// at 10:41 at the soonest. Back by 10:40 it would be in with stops that nobody asked for.
#[test]
fn a_last_splash_is_one_at_which_the_dive_goes() {
    let unmeant = Words {
        staged: false,
        ..LONG
    };
    for hour in [620, 640, 660, 680, 700] {
        let home = home(&EARLY, &unmeant, 720, hour);
        let goes = |minute: u32| {
            let day = in_at(&EARLY, &unmeant, minute);
            day.is_some_and(|day| day.verdict() != Verdict::NoGo)
        };
        let want = last_back(&EARLY, &unmeant, hour)
            .filter(|splash| goes(u32::from(splash.hour()) * 60 + u32::from(splash.minute())));
        assert_eq!(home.last_splash, want, "by {hour}");
    }
    assert_eq!(home(&EARLY, &unmeant, 720, 640).last_splash, None);
    assert!(home(&EARLY, &unmeant, 720, 700).last_splash.is_some());
}

#[test]
fn splashes_half_a_day_apart_are_looked_at_twice() {
    let night = Words {
        splash: "00:30",
        ..USUAL
    };
    let evening = Words {
        splash: "23:10",
        ..USUAL
    };
    let plans = vec![evening.named("a.toml"), night.named("b.toml")];
    assert_eq!(plan_day(plans, &[], None).unwrap().far_apart(), [1]);
    // Said by an interval it is meant.
    assert!(day(&evening, &night, 900.0).far_apart().is_empty());
    let near = in_at(&EARLY, &USUAL, 720).unwrap();
    assert!(near.far_apart().is_empty());
}
