//! A second dive: what the first one takes from its limit, and when nothing is left of that.
//!
//! The Navy calls a dive repetitive within 12 hours of the last one. It says so by groups, which
//! this model has not; the rule is a bracket.

use hangbar::dive::no_stop_limit;
use hangbar::quantity::{Depth, Time};
use hangbar::rules::DiveRules;
use hangbar::site::Mix;
use hangbar::tissue::Tissues;

use crate::checks::{assert_between, assert_close};
use crate::dives::{fly_clean, imperial, limit_min, square};
use crate::navy::navy_limits;

const TWELVE_HOURS: &str =
    "U.S. Navy Diving Manual Rev 4 Change A, p. 9-3: repetitive within 12 hours";
const TEN_MINUTES: &str =
    "NOAA Diving Center, U.S. Navy Decompression Tables and Procedures, part 3";
const FACTORS: [(f64, f64); 2] = [(40.0, 85.0), (100.0, 100.0)];
/// What a limit is known to, min.
const KNOWN_MIN: f64 = 1e-9;

/// After a no-stop dive and time on air at the surface.
fn rested(rules: &DiveRules, (feet, bottom_min): (f64, f64), minutes: f64) -> Tissues {
    let dive = fly_clean(rules, &square(Depth::from_ft(feet), bottom_min));
    assert!(!dive.staged, "{feet} fsw, {bottom_min} min");
    let (set, surface) = (&rules.compartments, rules.environment.surface());
    let time = Time::from_min(minutes);
    dive.tissues.after(set, Mix::AIR, surface, surface, time)
}

fn limit_after(rules: &DiveRules, first: (f64, f64), minutes: f64, feet: f64) -> f64 {
    let tissues = rested(rules, first, minutes);
    let limit = no_stop_limit(rules, &tissues, Depth::from_ft(feet)).unwrap();
    limit.time().expect("a limit").as_min()
}

/// A dive of whole minutes as long as may be without stops.
fn to_the_limit(rules: &DiveRules, feet: f64) -> (f64, f64) {
    let limit = limit_min(rules, Depth::from_ft(feet)).expect("a limit");
    (feet, limit.floor())
}

#[test]
fn a_second_dive_is_never_longer_than_the_first_and_gains_with_the_interval() {
    const INTERVALS_MIN: [f64; 10] = [
        0.0, 10.0, 30.0, 60.0, 120.0, 240.0, 480.0, 720.0, 1440.0, 2880.0,
    ];
    for (low, high) in FACTORS {
        let rules = imperial(low, high);
        for first in navy_limits(&["noaa"]) {
            let dive = to_the_limit(&rules, first.feet);
            for second in navy_limits(&["noaa"]) {
                let clean = limit_min(&rules, Depth::from_ft(second.feet)).unwrap();
                let limits = INTERVALS_MIN.map(|time| limit_after(&rules, dive, time, second.feet));
                let what = format!("{dive:?}, then {} fsw, {low}/{high}", second.feet);
                let gains = limits.windows(2).all(|pair| pair[1] >= pair[0] - KNOWN_MIN);
                assert!(gains && limits[0] < limits[3], "{what}: {limits:?}");
                let longest = limits[INTERVALS_MIN.len() - 1];
                assert_between(&what, "the model", longest, clean - 0.1, clean + KNOWN_MIN);
            }
        }
    }
}

#[test]
fn after_twelve_hours_a_second_dive_is_as_long_as_the_first() {
    // Where the Navy no longer counts the first dive, it takes nothing that a minute would show
    // from a second one at 40 fsw or deeper: 0.01 min at most. It is not forgotten: the slower half
    // of the compartments still holds more, the slowest up to 0.08 bar.
    const MOST_MIN: f64 = 0.01;
    const TWELVE_HOURS_MIN: f64 = 720.0;
    for (low, high) in FACTORS {
        let rules = imperial(low, high);
        let clean = Tissues::clean(rules.environment.surface()).loadings()[15].n2_bar;
        for row in navy_limits(&["noaa"]) {
            let dive = to_the_limit(&rules, row.feet);
            let what = format!("{dive:?} and 12 h, {low}/{high}");
            let first = limit_min(&rules, Depth::from_ft(row.feet)).unwrap();
            let second = limit_after(&rules, dive, TWELVE_HOURS_MIN, row.feet);
            assert_close(&what, TWELVE_HOURS, second, first, MOST_MIN);
            let held = rested(&rules, dive, TWELVE_HOURS_MIN).loadings()[15].n2_bar;
            assert_between(&what, TWELVE_HOURS, held - clean, 0.01, 0.08);
        }
        // In the shallows, where the slow compartments decide, it is seen longer: at 30 fsw with
        // the bare model a second dive of 659 min after a first one of 677.
        let dive = to_the_limit(&rules, 30.0);
        let first = limit_min(&rules, Depth::from_ft(30.0)).unwrap();
        let lost = first - limit_after(&rules, dive, TWELVE_HOURS_MIN, 30.0);
        assert_between("30 fsw", TWELVE_HOURS, lost, 1.0, 20.0);
    }
}

#[test]
fn within_twelve_hours_a_dive_is_repetitive_here_too() {
    // An hour after a dive to the limit every second one is shorter, at 40 to 60 fsw by more than
    // six minutes; deeper, where fast compartments decide, by less.
    for (low, high) in FACTORS {
        let rules = imperial(low, high);
        for row in navy_limits(&["noaa"]) {
            let dive = to_the_limit(&rules, row.feet);
            let first = limit_min(&rules, Depth::from_ft(row.feet)).unwrap();
            let lost = first - limit_after(&rules, dive, 60.0, row.feet);
            let what = format!("{dive:?} and 1 h, {low}/{high}: {lost} min lost");
            let least = if row.feet <= 60.0 { 6.0 } else { 0.02 };
            assert!(lost > least, "{what} [{TWELVE_HOURS}]");
        }
    }
}

#[test]
fn less_than_ten_minutes_apart_two_dives_are_no_worse_than_one() {
    // 80 fsw 20 min, 0:08 at the surface, 70 fsw 20 min is one dive of 80 fsw 40 min to the Navy.
    // Here a second dive to 80 fsw may be longer than what the first one leaves of the limit, for
    // eight minutes were spent at the surface; the shallower one longer still.
    for (low, high) in FACTORS {
        let rules = imperial(low, high);
        let clean = limit_min(&rules, Depth::from_ft(80.0)).unwrap();
        let again = |feet| limit_after(&rules, (80.0, 20.0), 8.0, feet);
        let (deep, shallow) = (again(80.0), again(70.0));
        let what = format!("80 fsw 20 min, 0:08, {low}/{high}");
        assert_between(&what, TEN_MINUTES, deep, clean - 20.0, clean);
        assert_between(&what, TEN_MINUTES, shallow, deep, f64::INFINITY);
    }
}
