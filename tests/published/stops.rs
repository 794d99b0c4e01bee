//! The Navy's stops beside ours.
//!
//! Another model, as for the no-stop limits, with one stop at 10 fsw. Its own table is the scale
//! again, a row of it the step: its makers tell cold or working divers to take the next longer
//! time (NOAA Diving Center, U.S. Navy Decompression Tables and Procedures, part 3). So the model
//! with factors of 100 asks for no fewer minutes than the Navy's row and no more than its
//! row for the next longer time; and with the factors that are the default here it asks for more.

use hangbar::quantity::Depth;

use crate::checks::assert_between;
use crate::csv::{number, rows};
use crate::dives::{fly_clean, imperial, square, stop_minutes};

const CHART: &str = "NOAA No-Decompression Air Table, chart 1 (U.S. Navy Standard Air)";

/// Feet, bottom time and minutes at the stop, by depth and then by time.
fn chart() -> Vec<[f64; 3]> {
    let text = include_str!("../data/navy_stops.csv");
    let rows: Vec<_> = rows(text).map(|row: [&str; 3]| row.map(number)).collect();
    assert_eq!(rows.len(), 24);
    rows
}

fn ours(low_pct: f64, high_pct: f64, feet: f64, minutes: f64) -> f64 {
    let levels = square(Depth::from_ft(feet), minutes);
    let dive = fly_clean(&imperial(low_pct, high_pct), &levels);
    assert!(
        dive.staged,
        "{feet} fsw, {minutes} min [{CHART}]: needs no stop here"
    );
    stop_minutes(&dive)
}

#[test]
fn every_dive_that_the_navy_stages_is_staged_for_longer_here() {
    let rows = chart();
    for (index, [feet, minutes, navy]) in rows.iter().copied().enumerate() {
        let what = format!("{feet} fsw, {minutes} min");
        let next = rows.get(index + 1).filter(|[deeper, ..]| *deeper <= feet);
        let most = next.map_or(f64::INFINITY, |[_, _, stop]| *stop);
        let bare = ours(100.0, 100.0, feet, minutes);
        assert_between(&what, CHART, bare, navy, most);
        let default = ours(40.0, 85.0, feet, minutes);
        assert!(default > bare, "{what}: {default} min, bare {bare} min");
    }
}

#[test]
fn a_longer_or_deeper_dive_is_staged_for_longer_in_the_chart_and_here() {
    let rows = chart();
    for [feet, minutes, navy] in &rows {
        for [deeper, longer, more] in &rows {
            let beyond = deeper >= feet && longer >= minutes;
            if !beyond || (deeper <= feet && longer <= minutes) {
                continue;
            }
            let what = format!("{feet} fsw, {minutes} min and {deeper} fsw, {longer} min");
            assert!(more > navy, "{what} [{CHART}]: {navy} and {more} min");
            for (low, high) in [(40.0, 85.0), (100.0, 100.0)] {
                let here = ours(low, high, *feet, *minutes);
                let there = ours(low, high, *deeper, *longer);
                assert!(
                    there > here,
                    "{what} at {low}/{high}: {here} and {there} min"
                );
            }
        }
    }
}
