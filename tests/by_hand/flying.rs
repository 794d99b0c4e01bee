//! The wait before a flight.
//!
//! Sea level, a cabin at 2438 m, high factor 0.85. Compartment 9 (half-time 109 min, a = 0.3750 bar,
//! b = 0.9092) holds 1.30 bar of nitrogen, all others are rested:
//!
//! ```text
//! cabin     1.01325·(1 − 0.0065·2438/288.15)^5.2558761 = 0.7526615 bar
//! inspired  (1.01325 − 0.0627)·0.79                    = 0.7509345 bar
//! M         0.3750 + 0.7526615/0.9092                  = 1.2028283 bar
//! limit     0.7526615 + 0.85·(1.2028283 − 0.7526615)   = 1.1353033 bar
//! wait      109/ln 2 · ln(0.5490655/0.3843688)         = 56.08 min, so minute 57
//! ```

use approx::assert_abs_diff_eq;
use hangbar::plan::TimeOfDay;
use hangbar::quantity::Altitude;
use hangbar::rules::DiveRules;
use hangbar::surface::{DayDived, Flying, WaitDecidedBy, flying};
use hangbar::tissue::Tissues;

/// Index of compartment 9.
const NINTH: usize = 8;

/// Rested but for compartment 9.
fn flying_with(n2_bar: f64, day: DayDived, cabin_m: f64) -> Flying {
    let rules = DiveRules::default();
    let mut loadings = Tissues::clean(rules.environment.surface()).loadings();
    loadings[NINTH].n2_bar = n2_bar;
    let tissues = Tissues::from_loadings(loadings);
    flying(&rules, &tissues, &[], day, Altitude::from_m(cabin_m))
}

const ONE_DIVE: DayDived = DayDived {
    dives: 1,
    stops: false,
    on_air: true,
};

#[test]
fn the_wait_is_the_minute_after_that_of_the_closed_form() {
    let flying = flying_with(1.30, ONE_DIVE, 2438.0);
    assert_abs_diff_eq!(flying.cabin.as_bar(), 0.752_661_5, epsilon = 1e-7);
    assert_eq!(flying.model.minutes(), Some(57));
    assert_eq!(flying.model.compartment, NINTH);
    // What just keeps the limit may go at once: 1.1353033 bar and a last printed digit beside it.
    let wait = |n2_bar| flying_with(n2_bar, ONE_DIVE, 2438.0).model.minutes();
    assert_eq!(wait(1.135_303_2), Some(0));
    assert_eq!(wait(1.135_303_4), Some(1));
}

#[test]
fn the_advice_is_the_longer_wait_and_a_time_of_the_day_after_if_need_be() {
    // 12 h from 10:07 are over at 22:07; 24 h on the next day.
    let splash = TimeOfDay::new(9, 40).unwrap();
    let advice = |day| {
        let flying = flying_with(1.30, day, 2438.0).on_the_clock(splash, 27, None);
        assert_eq!(flying.decided_by(), WaitDecidedBy::Published);
        (
            flying.advised_min(),
            flying.not_before.map(|at| at.to_string()),
        )
    };
    let (dives, stops) = (2, true);
    for (day, hours, want) in [
        (ONE_DIVE, 12, "22:07"),
        (DayDived { dives, ..ONE_DIVE }, 18, "04:07 the next day"),
        (DayDived { stops, ..ONE_DIVE }, 24, "10:07 the next day"),
    ] {
        assert_eq!(advice(day), (Some(hours * 60), Some(want.to_owned())));
    }
    // 9 bar in compartment 9 take 109/ln 2 · ln(8.2490655/0.3843688) = 482.2 min of a cabin at
    // 2438 m, under 12 h; compartment 16 could never hold so much.
    let full = flying_with(9.0, ONE_DIVE, 2438.0);
    assert_eq!(full.model.minutes(), Some(483));
    assert_eq!(full.decided_by(), WaitDecidedBy::Published);
    // In a cabin at 4500 m, 0.5772832 bar, it may hold 0.5772832 + 0.85·(0.3750 + 0.6349353 −
    // 0.5772832) = 0.9450376 bar: 109/ln 2 · ln(8.2490655/0.1941031) = 589.7 min. With 29 bar
    // 109/ln 2 · ln(28.2490655/0.1941031) = 783.3 min: longer than 12 h.
    assert_eq!(
        flying_with(9.0, ONE_DIVE, 4500.0).model.minutes(),
        Some(590)
    );
    let long = flying_with(29.0, ONE_DIVE, 4500.0);
    assert_eq!(long.advised_min(), Some(784));
    assert_eq!(long.decided_by(), WaitDecidedBy::Model);
}
