//! Profiles as levels, against dives whose levels are plain to see.
//!
//! The usual rules: down at 18 m/min, up at 9 m/min, 3 minutes at 5 m.

use hangbar::debrief::{CoverError, Covering, covering_levels};
use hangbar::dive::fly;
use hangbar::quantity::{Depth, RunTime, Time, UnitSystem};
use hangbar::rules::{DiveRules, Level};
use hangbar::site::Mix;
use hangbar::tissue::Tissues;

/// Levels are found in short bins of time: so much longer than need be, minutes.
const BINS_MIN: f64 = 0.21;

fn points(line: &[(f64, f64)]) -> Vec<(RunTime, Depth)> {
    let point = |&(at, depth): &(f64, f64)| (RunTime::from_min(at), Depth::from_m(depth));
    line.iter().map(point).collect()
}

fn cover(rules: &DiveRules, lines: &[&[(f64, f64)]]) -> Result<Covering, CoverError> {
    let clean = Tissues::clean(rules.environment.surface());
    let lines: Vec<_> = lines.iter().map(|line| points(line)).collect();
    covering_levels(rules, &clean, &lines)
}

/// 27 m for 15 minutes, a no-stop dive, by the plan's own rates: 1.5 min down, 22/9 min up, 3 min at 5 m, 5/9 min.
const SQUARE: [(f64, f64); 6] = [
    (0.0, 0.0),
    (1.5, 27.0),
    (15.0, 27.0),
    (15.0 + 22.0 / 9.0, 5.0),
    (18.0 + 22.0 / 9.0, 5.0),
    (21.0, 0.0),
];

fn times(levels: &[Level]) -> Vec<(f64, f64)> {
    let plain = |level: &Level| (level.depth.as_m(), level.time.as_min());
    levels.iter().map(plain).collect()
}

#[test]
fn a_square_profile_is_one_level_and_hardly_longer() {
    let covering = cover(&DiveRules::default(), &[&SQUARE]).unwrap();
    let [(depth, minutes)] = times(&covering.levels)[..] else {
        panic!("{:?}", covering.levels);
    };
    assert!((depth - 27.0).abs() < 1e-9);
    assert!((15.0..15.0 + BINS_MIN).contains(&minutes), "{minutes} min");
    assert!((0.0..0.02).contains(&covering.excess_bar), "{covering:?}");
    let run_time = covering.schedule.run_time().as_min();
    assert!((21.0..21.0 + BINS_MIN).contains(&run_time), "{run_time}");
}

#[test]
fn a_stop_longer_than_the_plans_is_a_level() {
    // As the square one, with 9 minutes at 5 m: 6 of them are a level, 3 the plan's safety stop.
    let mut line = SQUARE;
    line[4].0 += 6.0;
    line[5].0 += 6.0;
    let covering = cover(&DiveRules::default(), &[&line]).unwrap();
    let [(deep, bottom), (shallow, stop)] = times(&covering.levels)[..] else {
        panic!("{:?}", covering.levels);
    };
    assert!((deep - 27.0).abs() < 1e-9 && (shallow - 5.0).abs() < 1e-9);
    assert!((15.0..15.0 + BINS_MIN).contains(&bottom), "{bottom} min");
    let left = 15.0 + 22.0 / 9.0 + 6.0;
    let until = bottom + stop;
    assert!((left..left + BINS_MIN).contains(&until), "{until} min");
    assert!((0.0..0.02).contains(&covering.excess_bar), "{covering:?}");
}

#[test]
fn two_divers_are_covered_by_the_deeper_and_the_longer() {
    // One is 30 m deep for 15 minutes, the other 18 m for 30: 30 m until the 15th minute, then 18 m.
    let deep: [(f64, f64); 6] = [
        (0.0, 0.0),
        (2.0, 30.0),
        (15.0, 30.0),
        (18.0, 5.0),
        (21.0, 5.0),
        (22.0, 0.0),
    ];
    let long = [
        (0.0, 0.0),
        (1.0, 18.0),
        (30.0, 18.0),
        (31.5, 5.0),
        (34.5, 5.0),
        (35.5, 0.0),
    ];
    let covering = cover(&DiveRules::default(), &[&deep, &long]).unwrap();
    let [(first, until), (second, more)] = times(&covering.levels)[..] else {
        panic!("{:?}", covering.levels);
    };
    assert!((first - 30.0).abs() < 1e-9 && (second - 18.0).abs() < 1e-9);
    assert!((15.0..15.0 + 2.0 * BINS_MIN).contains(&until), "{until}");
    assert!(
        (30.0..30.0 + 2.0 * BINS_MIN).contains(&(until + more)),
        "{}",
        until + more
    );
}

#[test]
fn a_dash_down_is_made_up_for() {
    // 40 m in 20 seconds; the plan's way there takes 2 min 13 s.
    let line = [
        (0.0, 0.0),
        (1.0 / 3.0, 40.0),
        (10.0, 40.0),
        (14.0, 5.0),
        (18.0, 5.0),
        (19.0, 0.0),
    ];
    let covering = cover(&DiveRules::default(), &[&line]).unwrap();
    let arrival = covering.schedule.arrivals[0].run_time;
    assert!(arrival.as_min() > 2.0);
    assert!(covering.levels[0].time > Time::from_min(10.0));
    assert!(covering.excess_bar > 0.0);
}

#[test]
fn a_way_down_by_a_ledge_is_begun_in_time() {
    // 10 m until the 12th minute, then at 10 m/min to 30 m: the plan's way down is faster.
    let line = [
        (0.0, 0.0),
        (1.0, 10.0),
        (12.0, 10.0),
        (14.0, 30.0),
        (18.0, 30.0),
        (20.8, 5.0),
        (23.8, 5.0),
        (24.4, 0.0),
    ];
    let covering = cover(&DiveRules::default(), &[&line]).unwrap();
    let levels = times(&covering.levels);
    assert!((levels[0].0 - 10.0).abs() < 1e-9, "{levels:?}");
    // Begun as it really was, it would be ahead at once, and never behind.
    assert!(
        (12.0 - BINS_MIN..=12.0).contains(&levels[0].1),
        "{levels:?}"
    );
    assert!(
        (levels[1].0 - 30.0).abs() < 1e-9 && levels.len() == 2,
        "{levels:?}"
    );
}

#[test]
fn levels_are_whole_feet_where_the_stops_are() {
    let rules = DiveRules::standard(UnitSystem::Imperial);
    let covering = cover(&rules, &[&SQUARE]).unwrap();
    let feet = covering.levels[0].depth.as_ft();
    assert!((feet - 89.0).abs() < 1e-9, "27 m are 88.6 ft: {feet}");
}

#[test]
fn oxygen_at_a_few_metres_washes_nitrogen_out_and_leaves_less_than_air_gives() {
    let rules = DiveRules {
        bottom_gas: Mix::nitrox(100.0).unwrap(),
        ..DiveRules::default()
    };
    let line = [(0.0, 0.0), (1.0, 5.0), (30.0, 5.0), (31.0, 0.0)];
    let covering = cover(&rules, &[&line]).unwrap();
    // The fastest compartment holds next to nothing either way; a minute in the air is a tenth of
    // what the air gives it.
    assert!((0.0..0.1).contains(&covering.under_balance_bar));
    assert!(covering.under_balance_bar > 0.0);
    // On air the same dive is one level, and lacks nothing.
    let covering = cover(&DiveRules::default(), &[&line]).unwrap();
    assert_eq!(covering.levels.len(), 1);
    assert!(covering.under_balance_bar <= 0.0);
}

#[test]
fn a_trimix_dive_leaves_as_much_of_both_gases() {
    let rules = DiveRules {
        bottom_gas: Mix::trimix(18.0, 45.0).unwrap(),
        ..DiveRules::default()
    };
    // As the plan has it: 48 m for 12 minutes, and every stop.
    let clean = Tissues::clean(rules.environment.surface());
    let level = Level {
        depth: Depth::from_m(48.0),
        time: Time::from_min(12.0),
    };
    let dive = fly(&rules, &clean, &[level]).unwrap();
    let ends = dive
        .segments
        .iter()
        .map(|segment| (segment.end.as_min(), segment.to.as_m()));
    let line: Vec<_> = std::iter::once((0.0, 0.0)).chain(ends).collect();
    let covering = cover(&rules, &[&line]).unwrap();
    let left = covering.schedule.tissues.loadings();
    assert!(left.iter().any(|left| left.he_bar > 0.1));
    assert!((0.0..0.3).contains(&covering.excess_bar), "{covering:?}");
}

#[test]
fn what_is_no_profile_is_refused() {
    let rules = DiveRules::default();
    assert_eq!(cover(&rules, &[]), Err(CoverError::NoProfile));
    assert_eq!(cover(&rules, &[&SQUARE, &[]]), Err(CoverError::NoProfile));
    let back = [(0.0, 0.0), (5.0, 10.0), (4.0, 0.0)];
    let refused = cover(&rules, &[&SQUARE, &back]);
    let at = CoverError::NoMoment {
        profile: 2,
        moment: 3,
    };
    assert_eq!(refused, Err(at));
    let day = [(0.0, 0.0), (1.0, 5.0), (1440.5, 5.0)];
    assert_eq!(cover(&rules, &[&day]), Err(CoverError::TooLong));
    let deep = [(0.0, 0.0), (20.0, 201.0), (60.0, 0.0)];
    assert!(matches!(
        cover(&rules, &[&deep]),
        Err(CoverError::Schedule(_))
    ));
}
