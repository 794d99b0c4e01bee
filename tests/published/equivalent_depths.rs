//! Equivalent air and narcotic depths, and the richest nitrox for a depth.

use hangbar::quantity::{Depth, Pressure};
use hangbar::site::{
    Environment, Mix, Narcotic, equivalent_air_depth, equivalent_narcotic_depth, operating_depth,
    richest_nitrox,
};

use crate::checks::{LAST_BITS, assert_close, printed};
use crate::dives::{feet_an_atmosphere, ten_metres_a_bar};

/// Arithmetic of the published formulas: (D + 33)·(1 − f_O2)/0.79 − 33 ft in common nitrox texts,
/// (D + 10)·f_N2/0.79 − 10 m in published nitrox notes.
const EAD: &str = "arithmetic of the published formula";
/// Through pressures and densities of water the feet lose some bits.
const FEET: f64 = 1e-9;

#[test]
fn equivalent_air_depths_in_feet_are_the_formula_s() {
    // Per cent of oxygen, depth and equivalent depth in feet; two digits, the fifth row one.
    const ROWS: [(f64, f64, f64, i32); 7] = [
        (32.0, 70.0, 55.66, 2),
        (32.0, 90.0, 72.87, 2),
        (32.0, 100.0, 81.48, 2),
        (32.0, 110.0, 90.09, 2),
        (32.0, 130.0, 107.3, 1),
        (36.0, 90.0, 66.65, 2),
        (36.0, 110.0, 82.85, 2),
    ];
    let water = feet_an_atmosphere(33.0);
    for (oxygen_pct, feet, want, digits) in ROWS {
        let gas = Mix::nitrox(oxygen_pct).unwrap();
        let got = equivalent_air_depth(&water, gas, Depth::from_ft(feet)).as_ft();
        let what = format!("{gas} at {feet} ft");
        assert_close(&what, EAD, got, want, printed(digits) + FEET);
    }
}

#[test]
fn equivalent_air_depths_in_metres_are_the_formula_s() {
    const ROWS: [(f64, f64, f64, i32); 6] = [
        (32.0, 18.0, 14.1, 2),
        (32.0, 30.0, 24.43, 2),
        (32.0, 33.0, 27.01, 2),
        (36.0, 18.0, 12.68, 2),
        (36.0, 28.0, 20.78, 2),
        (36.0, 17.0, 11.87, 2),
    ];
    for (oxygen_pct, metres, want, digits) in ROWS {
        let gas = Mix::nitrox(oxygen_pct).unwrap();
        let got = equivalent_air_depth(&ten_metres_a_bar(), gas, Depth::from_m(metres)).as_m();
        let what = format!("{gas} at {metres} m");
        assert_close(&what, EAD, got, want, printed(digits));
    }
}

#[test]
fn equivalent_narcotic_depths_are_those_of_the_notes() {
    // Per cent of oxygen and helium, depth, equivalent depth, how near.
    const NOTES: &str = "published notes on equivalent narcotic depth";
    const ROWS: [(&str, f64, Narcotic, f64, f64); 4] = [
        // Printed 32.
        ("20/40", 60.0, Narcotic::OxygenToo, 32.0, LAST_BITS),
        // Printed 28; (75 + 10)·0.45 − 10.
        ("15/55", 75.0, Narcotic::OxygenToo, 28.25, LAST_BITS),
        // Printed as just over 25; 70·0.40/0.79 − 10.
        ("20/40", 60.0, Narcotic::NitrogenAlone, 25.44, 0.005),
        // Printed 31.64, rounded on the way; 70·0.47/0.79 − 10.
        ("18/35", 60.0, Narcotic::NitrogenAlone, 31.65, 0.005),
    ];
    for (name, metres, narcotic, want, tolerance) in ROWS {
        let (gas, depth) = (name.parse().unwrap(), Depth::from_m(metres));
        let got = equivalent_narcotic_depth(&ten_metres_a_bar(), gas, depth, narcotic).as_m();
        let what = format!("{name} at {metres} m, {narcotic:?}");
        assert_close(&what, NOTES, got, want, tolerance);
    }
}

#[test]
fn in_sea_water_they_are_those_worked_out_by_hand() {
    // Source: by hand; 1025 kg/m³ · 9.80665 m/s² = 0.1005181625 bar/m under 1.01325 bar.
    const HAND: &str = "by hand";
    let sea = Environment::default();
    // P = 4.028794875 at 30 m: (4.028794875 · 0.68/0.79 − 1.01325)/0.1005181625.
    let ean: Mix = "EAN32".parse().unwrap();
    let got = equivalent_air_depth(&sea, ean, Depth::from_m(30.0)).as_m();
    assert_close("EAN32 at 30 m", HAND, got, 24.419_203, 1e-6);
    // P = 7.04433975 at 60 m: (7.04433975 · 0.55 − 1.01325)/0.1005181625.
    let trimix: Mix = "18/45".parse().unwrap();
    let depth = Depth::from_m(60.0);
    let got = equivalent_narcotic_depth(&sea, trimix, depth, Narcotic::OxygenToo).as_m();
    assert_close("18/45 at 60 m", HAND, got, 28.463_879, 1e-6);
    // With neither nitrogen nor oxygen enough there is no depth above the surface.
    let shallow = Depth::from_m(3.0);
    for narcotic in [Narcotic::OxygenToo, Narcotic::NitrogenAlone] {
        let got = equivalent_narcotic_depth(&sea, trimix, shallow, narcotic).as_m();
        assert_close("18/45 at 3 m", HAND, got, 0.0, 0.0);
    }
}

#[test]
fn the_richest_nitrox_keeps_the_limit_and_one_per_cent_more_would_not() {
    let (sea, limit) = (Environment::default(), Pressure::from_bar(1.4));
    // By hand, 1.4 bar over P rounded down: 0.3475 at 30 m, 0.2787 at 39.9 m, 0.2101 at 56.2 m;
    // pure oxygen down to 3.848 m.
    for (metres, want) in [(30.0, 34.0), (39.9, 27.0), (56.2, 21.0), (3.8, 100.0)] {
        let depth = Depth::from_m(metres);
        let gas = richest_nitrox(&sea, depth, limit).unwrap();
        assert_close("per cent", "by hand", gas.oxygen() * 100.0, want, LAST_BITS);
        assert!(!operating_depth(&sea, gas, limit).is_above(depth), "{gas}");
        if let Ok(richer) = Mix::nitrox(want + 1.0) {
            assert!(operating_depth(&sea, richer, limit).is_above(depth));
        }
    }
    assert_eq!(richest_nitrox(&sea, Depth::from_m(56.3), limit), None);
    assert_eq!(
        richest_nitrox(&sea, Depth::from_m(f64::NAN), limit),
        None,
        "no depth has no gas"
    );
    let air = richest_nitrox(&sea, Depth::from_m(56.2), limit).unwrap();
    assert_eq!(air.to_string(), "air");
}
