//! Second dives by a remembered table of groups and residual times.

use hangbar::dive::no_stop_limit;
use hangbar::quantity::{Depth, Time};
use hangbar::site::Mix;

use crate::checks::assert_between;
use crate::dives::{fly_clean, imperial, square};

/// Source: from memory: U.S. Navy Diving Manual, Rev 4/5, the tables of groups, surface intervals
/// and residual nitrogen times.
const SOURCE: &str = "from memory: U.S. Navy Diving Manual, Rev 4/5, residual nitrogen times";

#[test]
fn what_is_left_of_60_feet_after_a_dive_there_is_within_a_factor_of_the_navys() {
    // 60 fsw for 40 min is group G. Shortest interval of each group from G to A, and the minutes
    // that it counts as spent at 60 fsw, of 60. Another model, remembered: the shares are those
    // that remembered limits are held to. After intervals of up to 2 h ours is the longer limit, and
    // more so late in a group's time: here several compartments decide, and fast ones give off fast.
    const ROWS: [(char, f64, f64); 7] = [
        ('G', 10.0, 44.0),
        ('F', 41.0, 36.0),
        ('E', 76.0, 30.0),
        ('D', 120.0, 24.0),
        ('C', 179.0, 17.0),
        ('B', 266.0, 11.0),
        ('A', 456.0, 5.0),
    ];
    const NAVY_LIMIT_MIN: f64 = 60.0;
    const LEAST_SHARE: f64 = 0.5;
    const MOST_SHARE: f64 = 1.6;
    let rules = imperial(40.0, 85.0);
    let sixty = Depth::from_ft(60.0);
    let first = fly_clean(&rules, &square(sixty, 40.0));
    assert!(!first.staged);
    let (set, surface) = (&rules.compartments, rules.environment.surface());
    let mut before = 0.0;
    for (group, shortest, residual) in ROWS {
        let time = Time::from_min(shortest);
        let rested = first.tissues.after(set, Mix::AIR, surface, surface, time);
        let limit = no_stop_limit(&rules, &rested, sixty).unwrap().time();
        let ours = limit.unwrap().as_min();
        let what = format!("group {group}, {shortest} min: {ours} min");
        let share = ours / (NAVY_LIMIT_MIN - residual);
        assert_between(&what, SOURCE, share, LEAST_SHARE, MOST_SHARE);
        assert!(ours > before, "{what}, and {before} before it");
        before = ours;
    }
}
