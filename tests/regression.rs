//! What the model says today, by its own run: no source, only a memory of the numbers.
//!
//! A failure means that limits or stops have moved. If that was meant, the new figures go into the
//! table and into the list of changes; no other test says how many minutes are right.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a helper of a test may fail the test"
)]

#[path = "support/checks.rs"]
mod checks;
#[path = "support/csv.rs"]
mod csv;
#[path = "support/dives.rs"]
mod dives;

use checks::assert_close;
use csv::{number, rows};
use dives::{fly_clean, imperial, limit_min, square, stop_minutes};
use hangbar::quantity::Depth;

const SOURCE: &str = "regression value";

#[test]
fn no_stop_limits_are_the_regression_values() {
    /// The table has two decimals, and nobody dives by less.
    const TENTH_OF_A_MINUTE: f64 = 0.1;
    let text = include_str!("data/regression_no_stop.csv");
    let mut count = 0;
    for row in rows(text) {
        let [feet, at_70, at_85, at_100] = row.map(number);
        for (high, want) in [(70.0, at_70), (85.0, at_85), (100.0, at_100)] {
            let got = limit_min(&imperial(40.0, high), Depth::from_ft(feet)).unwrap();
            let what = format!("{feet} ft, 40/{high}");
            assert_close(&what, SOURCE, got, want, TENTH_OF_A_MINUTE);
        }
        count += 1;
    }
    assert_eq!(count, 20);
}

#[test]
fn minutes_at_stops_are_the_regression_values() {
    /// Stops end on whole minutes: a hair may move one of them by a minute.
    const ONE_MINUTE: f64 = 1.0;
    let text = include_str!("data/regression_stops.csv");
    let mut count = 0;
    for row in rows(text) {
        let [feet, minutes, at_40_85, at_100_100] = row.map(number);
        for (low, high, want) in [(40.0, 85.0, at_40_85), (100.0, 100.0, at_100_100)] {
            let levels = square(Depth::from_ft(feet), minutes);
            let got = stop_minutes(&fly_clean(&imperial(low, high), &levels));
            let what = format!("{feet} ft, {minutes} min, {low}/{high}");
            assert_close(&what, SOURCE, got, want, ONE_MINUTE);
        }
        count += 1;
    }
    assert_eq!(count, 24);
}
