//! Exchange of gas with the tissues, and the vapour in the lung.

use hangbar::dive::fly;
use hangbar::quantity::{ATM_BAR, Depth, Time};
use hangbar::rules::DiveRules;
use hangbar::site::Mix;
use hangbar::tissue::{GradientFactors, Tissues, WATER_VAPOUR_BAR, exchange};

use crate::checks::{LAST_BITS, assert_close, printed};
use crate::csv::{number, rows};
use crate::dives::square;

#[test]
fn gas_exchange_meets_the_exact_solution_in_every_row() {
    /// What a closed form in f64 can keep over 10,000 min and down to 1e-6 min.
    const CLOSED_FORM_BAR: f64 = 1e-12;
    const ROWS: usize = 137;
    let mut count = 0;
    for [
        set,
        gas,
        half_time,
        start,
        fraction,
        ambient,
        rate,
        minutes,
        answer,
        exercises,
    ] in rows(include_str!("../data/tissue_exchange.csv"))
    {
        let got = exchange(
            number(start),
            number(fraction),
            Time::from_min(number(half_time)),
            number(ambient),
            number(rate),
            Time::from_min(number(minutes)),
        );
        let what = format!("{gas}, half-time {half_time}: {exercises}");
        let source = format!("50 digits, set {set}");
        assert_close(&what, &source, got, number(answer), CLOSED_FORM_BAR);
        count += 1;
    }
    assert_eq!(count, ROWS);
}

#[test]
fn a_compartment_fills_by_half_in_each_half_time() {
    // Source: identity, printed in most textbooks: 50, 75, 87.5 … % after 1, 2, 3 … half-times.
    const SATURATED_PCT: [(f64, f64); 6] = [
        (1.0, 50.0),
        (2.0, 75.0),
        (3.0, 87.5),
        (4.0, 93.75),
        (5.0, 96.875),
        (6.0, 98.4375),
    ];
    const HALF_TIME_MIN: f64 = 27.0;
    for (half_times, want) in SATURATED_PCT {
        let time = Time::from_min(half_times * HALF_TIME_MIN);
        let one_bar = 1.0 + WATER_VAPOUR_BAR;
        let got = exchange(0.0, 1.0, Time::from_min(HALF_TIME_MIN), one_bar, 0.0, time);
        let what = format!("{half_times} half-times");
        assert_close(&what, "identity", 100.0 * got, want, 100.0 * LAST_BITS);
    }
}

#[test]
fn the_worked_dive_loads_each_compartment_as_derived() {
    // Source: derived by the two published equations (Baker, Some introductory lessons about
    // dissolved gas modeling, part 2; Schreiner and Kelley 1971) and by Runge-Kutta, and again
    // with separate code; NOT a published dive. Air, 30 m for 20 min in 1025 kg/m³, down at 18
    // and up at 9 m/min.
    const SOURCE: &str = "derived by formula and by Runge-Kutta, 9 digits";
    const START_BAR: f64 = 0.750_934_5;
    struct Row {
        what: &'static str,
        index: usize,
        arriving_bar: f64,
        leaving_bar: f64,
        surfacing_bar: f64,
    }
    const ROWS: [Row; 4] = [
        Row {
            what: "5 min: offgasses on the way up",
            index: 0,
            arriving_bar: 1.006_120_369,
            leaving_bar: 2.965_716_749,
            surfacing_bar: 2.553_102_58,
        },
        Row {
            what: "27 min: still takes up gas on the way up",
            index: 4,
            arriving_bar: 0.801_180_483,
            leaving_bar: 1.676_643_204,
            surfacing_bar: 1.697_019_324,
        },
        Row {
            what: "109 min",
            index: 8,
            arriving_bar: 0.763_514_414,
            leaving_bar: 1.024_288_128,
            surfacing_bar: 1.043_449_597,
        },
        Row {
            what: "635 min: hardly moves",
            index: 15,
            arriving_bar: 0.753_100_209,
            leaving_bar: 0.800_257_922,
            surfacing_bar: 0.804_402_327,
        },
    ];
    const TRAVEL_DOWN_MIN: f64 = 30.0 / 18.0;
    let rules = DiveRules::default();
    let set = &rules.compartments;
    let surface = rules.environment.surface();
    let bottom = rules.environment.ambient(Depth::from_m(30.0));
    let minutes = Time::from_min;
    let clean = Tissues::clean(surface);
    // By hand, segment by segment …
    let arriving = clean.after(set, Mix::AIR, surface, bottom, minutes(TRAVEL_DOWN_MIN));
    let at_bottom = minutes(20.0 - TRAVEL_DOWN_MIN);
    let leaving = arriving.after(set, Mix::AIR, bottom, bottom, at_bottom);
    let surfacing = leaving.after(set, Mix::AIR, bottom, surface, minutes(30.0 / 9.0));
    // … and as a dive is flown.
    // (straight up: the high factor lets it, and no safety stop is made).
    let mut straight_up = rules.clone();
    straight_up.factors = GradientFactors::from_pct(100.0, 100.0).unwrap();
    straight_up.ascent.safety_stop = None;
    let flown = fly(&straight_up, &clean, &square(Depth::from_m(30.0), 20.0)).unwrap();
    assert!(!flown.staged);
    for row in &ROWS {
        let n2 = |tissues: &Tissues| tissues.loadings()[row.index].n2_bar;
        let cases = [
            ("at the surface", n2(&clean), START_BAR),
            ("arriving", n2(&arriving), row.arriving_bar),
            ("leaving", n2(&leaving), row.leaving_bar),
            ("surfacing", n2(&surfacing), row.surfacing_bar),
            (
                "arriving, flown",
                n2(&flown.arrivals[0].tissues),
                row.arriving_bar,
            ),
            (
                "leaving, flown",
                n2(&flown.level_ends[0].tissues),
                row.leaving_bar,
            ),
            ("surfacing, flown", n2(&flown.tissues), row.surfacing_bar),
        ];
        for (when, got, want) in cases {
            assert_close(
                &format!("{}, {when}", row.what),
                SOURCE,
                got,
                want,
                printed(9),
            );
        }
    }
}

#[test]
fn water_vapour_is_47_millimetres_of_mercury() {
    // Source: encyclopedia article on the model, citing Bühlmann 1984: 47 mmHg at 37 °C are
    // 0.0627 bar; 760 mmHg an atmosphere by definition.
    let want = 47.0 / 760.0 * ATM_BAR;
    let source = "Bühlmann 1984, second-hand";
    assert_close("47 mmHg", source, WATER_VAPOUR_BAR, want, printed(4));
}
