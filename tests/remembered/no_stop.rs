//! No-stop limits of other tables.

use hangbar::quantity::Depth;
use hangbar::rules::DiveRules;
use hangbar::tissue::GradientFactors;

use crate::checks::{assert_between, assert_close};
use crate::dives::{imperial, limit_min};
use crate::navy::navy_limits;

const EDITIONS: [&str; 3] = ["rev4", "rev6", "rev7"];

#[test]
fn the_navys_remembered_limits_are_within_a_factor_of_ours() {
    // Source: from memory: U.S. Navy Diving Manual, Rev 4/5 Table 9-6 and Rev 6 and 7
    // Table 9-7. Remembered rows of another model, in steps of whole or five minutes: half to
    // 1.6 times is all that may be said of minutes.
    const SOURCE: &str = "from memory: U.S. Navy Diving Manual, Rev 4 to 7, no-stop limits";
    const LEAST_SHARE: f64 = 0.5;
    const MOST_SHARE: f64 = 1.6;
    let rules = imperial(40.0, 85.0);
    let mut count = 0;
    for row in navy_limits(&EDITIONS) {
        let ours = limit_min(&rules, Depth::from_ft(row.feet));
        let what = format!("{} fsw, {} min, {}", row.feet, row.minutes, row.source);
        // 25 fsw: 595 min, or 1102 in Rev 7. Ours is past the 999 min where it counts as none.
        if row.feet <= 25.0 {
            assert_eq!(ours, None, "{what} [{SOURCE}]");
        } else {
            let share = ours.unwrap() / row.minutes;
            assert_between(&what, SOURCE, share, LEAST_SHARE, MOST_SHARE);
        }
        count += 1;
    }
    assert_eq!(count, 50);
}

#[test]
fn deeper_is_never_longer_in_a_remembered_edition() {
    for edition in EDITIONS {
        let rows = navy_limits(&[edition]);
        assert!(rows.len() > 5, "{edition}");
        for pair in rows.windows(2) {
            let [shallow, deep] = pair else {
                panic!("two rows")
            };
            let what = format!("{edition}, {} and {} fsw", shallow.feet, deep.feet);
            assert!(deep.feet > shallow.feet, "{what}");
            assert!(deep.minutes <= shallow.minutes, "{what}");
        }
    }
}

fn metric(high_pct: f64) -> DiveRules {
    DiveRules {
        factors: GradientFactors::from_pct(40.0, high_pct).unwrap(),
        ..DiveRules::default()
    }
}

#[test]
fn the_1986_air_table_lies_between_high_factors_of_80_and_95() {
    // Source: from memory: A. A. Bühlmann, Tauchmedizin, air table of 1986, 0 to 700 m above
    // the sea. The same family of models with its author's own safety added, in whole minutes
    // at depths of 3 m steps: a high factor of 85 to 90 lies near it, 80 and 95 either side.
    const SOURCE: &str = "from memory: Bühlmann, air table 1986, 0 to 700 m";
    /// The default of 85 is a little shorter than the table, at 12 m a little longer.
    const DEFAULT_SHARE: f64 = 0.10;
    const ROWS: [(f64, f64); 11] = [
        (12.0, 125.0),
        (15.0, 75.0),
        (18.0, 51.0),
        (21.0, 35.0),
        (24.0, 25.0),
        (27.0, 20.0),
        (30.0, 17.0),
        (33.0, 14.0),
        (36.0, 12.0),
        (39.0, 10.0),
        (42.0, 9.0),
    ];
    for (metres, limit) in ROWS {
        let ours = |high| limit_min(&metric(high), Depth::from_m(metres)).unwrap();
        let what = format!("{metres} m");
        assert_between(&what, SOURCE, limit, ours(80.0), ours(95.0));
        assert_close(&what, SOURCE, ours(85.0) / limit, 1.0, DEFAULT_SHARE);
    }
}
