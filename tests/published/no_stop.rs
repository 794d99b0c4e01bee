//! The Navy's no-stop limits beside ours.
//!
//! The Navy's model is another one: fewer compartments with limits of their own, found by trial
//! dives, most of them printed in steps of 5 min. Nothing says by how many minutes it should differ
//! from this one, so no share of its minutes is asked for: its own rows are the scale. The model
//! with factors of 100 lies within one row of the table, 10 fsw deeper or shallower; with the
//! factors that are the default here it is stricter than the table.
//! What this model says to the tenth of a minute is held in `tests/regression.rs`.

use hangbar::dive::{LimitColumn, NAVY_AIR_LIMITS, published_limits};
use hangbar::quantity::{Depth, Pressure, Time};
use hangbar::site::{Environment, Mix, Water};
use hangbar::tissue::GradientFactors;

use crate::checks::{EXACT, assert_between, assert_close};
use crate::dives::{imperial, limit_min};
use crate::navy::{NavyLimit, navy_limits};

const CHART: &str = "NOAA No-Decompression Air Table, chart 1 (U.S. Navy Standard Air limits)";

/// 40 to 130 fsw, every 10.
fn chart() -> Vec<NavyLimit> {
    let rows = navy_limits(&["noaa"]);
    assert_eq!(rows.len(), 10);
    rows
}

fn ours(high_pct: f64, feet: f64) -> f64 {
    limit_min(&imperial(40.0, high_pct), Depth::from_ft(feet)).expect("a limit")
}

#[test]
fn the_librarys_limits_of_the_navy_are_those_of_the_chart() {
    let rows = chart();
    assert_eq!(NAVY_AIR_LIMITS.len(), rows.len());
    for (held, row) in NAVY_AIR_LIMITS.iter().zip(rows) {
        let what = format!("{} fsw", row.feet);
        let minutes = Time::from_min(row.minutes).as_min();
        let feet = Depth::from_ft(row.feet).as_ft();
        assert_close(&what, CHART, held.depth.as_ft(), feet, EXACT);
        assert_close(&what, CHART, held.time.as_min(), minutes, EXACT);
    }
}

#[test]
fn the_chart_is_for_air_in_the_sea_at_sea_level_alone() {
    let stands = |surface_bar, water, gases: &[Mix]| {
        let site = Environment::new(Pressure::from_bar(surface_bar), water);
        let column = |gas: &Mix| LimitColumn {
            gas: *gas,
            factors: GradientFactors::default(),
        };
        let columns: Vec<LimitColumn> = gases.iter().map(column).collect();
        !published_limits(&site, &columns).is_empty()
    };
    let nitrox = Mix::nitrox(32.0).expect("a mix");
    assert!(stands(1.01325, Water::Sea, &[nitrox, Mix::AIR]));
    assert!(!stands(1.01325, Water::Sea, &[nitrox]));
    // A lake at the sea, and a sea in the mountains.
    assert!(!stands(1.01325, Water::Fresh, &[Mix::AIR]));
    assert!(!stands(0.85, Water::Sea, &[Mix::AIR]));
    // 1 % of 1.01325 bar are 0.0101.
    assert!(stands(1.022, Water::Sea, &[Mix::AIR]));
    assert!(!stands(1.025, Water::Sea, &[Mix::AIR]));
}

#[test]
fn deeper_is_shorter_in_the_chart_and_here() {
    for pair in chart().windows(2) {
        let [shallow, deep] = pair else {
            panic!("two rows")
        };
        assert!(deep.feet > shallow.feet && deep.minutes < shallow.minutes);
        for high in [70.0, 85.0, 100.0] {
            let (here, there) = (ours(high, shallow.feet), ours(high, deep.feet));
            let what = format!("{} and {} fsw at {high} %", shallow.feet, deep.feet);
            assert!(there < here, "{what}: {here} and {there} min");
        }
    }
}

#[test]
fn the_navys_no_stop_limits_bracket_ours() {
    // The bare model counted as the Navy counts bottom times, in whole minutes rounded up (Rev 4/5,
    // para 9-3), reaches at least the Navy's limit one row deeper, and does not pass the Navy's
    // limit one row shallower. At 40/85 it is stricter than the Navy at every depth.
    let rows = chart();
    for (index, row) in rows.iter().enumerate() {
        let what = format!("{} fsw", row.feet);
        let bare = ours(100.0, row.feet);
        if let Some(deeper) = rows.get(index + 1) {
            assert_between(&what, CHART, bare.ceil(), deeper.minutes, f64::INFINITY);
        }
        if let Some(shallower) = index.checked_sub(1).map(|index| &rows[index]) {
            assert_between(&what, CHART, bare, 0.0, shallower.minutes);
        }
        let default = ours(85.0, row.feet);
        assert!(
            default < row.minutes,
            "{what} [{CHART}]: {default} min at 40/85, the Navy {} min",
            row.minutes
        );
    }
}

#[test]
fn at_160_feet_the_default_lies_within_the_navys_step_of_5_minutes() {
    // The manual's worked example enters its table at 160 fsw: 5 min, and the next step of the
    // table would be 10.
    const STEP_MIN: f64 = 5.0;
    const SOURCE: &str = "U.S. Navy Diving Manual Rev 4 Change A, p. 9-12";
    for row in navy_limits(&["rev4 change a"]) {
        let got = ours(85.0, row.feet);
        let what = format!("{} fsw", row.feet);
        assert_between(&what, SOURCE, got, row.minutes, row.minutes + STEP_MIN);
    }
}

#[test]
fn twenty_feet_and_shallower_has_no_limit() {
    // Source: U.S. Navy Diving Manual Rev 4 Change A, p. 9-11, para 9-7.
    for feet in [10.0, 20.0] {
        let shallow = limit_min(&imperial(40.0, 85.0), Depth::from_ft(feet));
        assert_eq!(shallow, None, "{feet} fsw [para 9-7]");
    }
}
