//! Pressure at depth and at altitude.

use hangbar::quantity::{Altitude, Depth, GaugePressure, Pressure};
use hangbar::site::{Environment, standard_atmosphere};

use crate::checks::{assert_close, printed};

#[test]
fn ambient_pressure_follows_the_rules_of_33_feet_and_10_metres() {
    // Source: U.S. Navy Diving Manual Rev 4 Change A, p. 8-3 (33 fsw an atmosphere) and a
    // diving magazine's gas planning (4 bar at 30 m). Both are rules of thumb.
    /// 33 ft of 1025 kg/m³ are 0.998 atm.
    const RULE_OF_33: f64 = 0.003;
    /// 10 m of sea are 1.005 bar, and the surface is 1.013 bar.
    const RULE_OF_10: f64 = 0.015;
    let sea = Environment::default();
    for (feet, want_atm) in [(33.0, 2.0), (66.0, 3.0), (99.0, 4.0), (132.0, 5.0)] {
        let got = sea.ambient(Depth::from_ft(feet)).as_atm();
        let what = format!("{feet} ft");
        assert_close(&what, "rule of 33", got / want_atm, 1.0, RULE_OF_33);
    }
    for (metres, want_bar) in [(10.0, 2.0), (20.0, 3.0), (30.0, 4.0), (40.0, 5.0)] {
        let got = sea.ambient(Depth::from_m(metres)).as_bar();
        let what = format!("{metres} m");
        assert_close(&what, "rule of 10", got / want_bar, 1.0, RULE_OF_10);
    }
}

#[test]
fn the_standard_atmosphere_is_the_geopotential_column() {
    // Source: computed apart from this library from the formula of the U.S. Standard Atmosphere
    // 1976 / ISO 2533 (n = g M/(R L) = 5.255876), argument geopotential. The geometric column is
    // 20 Pa off at 4000 m.
    const SOURCE: &str = "U.S. Standard Atmosphere 1976, geopotential column";
    const ROWS: [(f64, f64); 11] = [
        (0.0, 1.013_250_00),
        (300.0, 0.977_725_77),
        (500.0, 0.954_608_39),
        (1000.0, 0.898_745_71),
        (1500.0, 0.845_560_05),
        (2000.0, 0.794_952_16),
        (2500.0, 0.746_825_34),
        (3000.0, 0.701_085_45),
        (3500.0, 0.657_640_84),
        (4000.0, 0.616_402_35),
        (4500.0, 0.577_283_23),
    ];
    for (metres, want) in ROWS {
        let got = standard_atmosphere(Altitude::from_m(metres)).as_bar();
        assert_close(&format!("{metres} m"), SOURCE, got, want, printed(8));
    }
}

#[test]
fn the_standard_atmosphere_meets_printed_points() {
    let table = "U.S. Standard Atmosphere table, engineering reference";
    let course = "standard atmosphere table, aerodynamics course";
    let navy = "U.S. Navy Diving Manual Rev 4 Change A, p. 9-38";
    let psi = |air: Pressure| GaugePressure::from_bar(air.as_bar()).as_psi();
    let feet = |height| standard_atmosphere(Altitude::from_ft(height));
    let metres = |height| standard_atmosphere(Altitude::from_m(height));
    // The engineering reference prints by geometric height, which shows from 10,000 ft on; the
    // course by geopotential. h = r z/(r + z) is that of the U.S. Standard Atmosphere 1976 as the
    // Python package fluids 1.3.1 has it: the two agree to 1e-8 bar from 500 to 4500 m.
    const EARTH_M: f64 = 6_356_766.0;
    let geopotential = |z: Altitude| Altitude::from_m(EARTH_M * z.as_m() / (EARTH_M + z.as_m()));
    let rows = [
        ("5000 ft, psi", table, psi(feet(5000.0)), 12.228, printed(3)),
        (
            "10000 ft, psi, of geometric height",
            table,
            psi(standard_atmosphere(geopotential(Altitude::from_ft(
                10_000.0,
            )))),
            10.108,
            printed(3),
        ),
        (
            "5000 ft, mbar",
            navy,
            feet(5000.0).as_bar() * 1e3,
            843.0,
            printed(0),
        ),
        (
            "5000 ft, ata",
            navy,
            feet(5000.0).as_atm(),
            0.832,
            printed(3),
        ),
        (
            "1524 m, ata",
            course,
            metres(1524.0).as_atm(),
            0.832,
            printed(3),
        ),
        (
            "2438 m, ata",
            course,
            metres(2438.0).as_atm(),
            0.7428,
            printed(4),
        ),
        (
            "3048 m, ata",
            course,
            metres(3048.0).as_atm(),
            0.6877,
            printed(4),
        ),
    ];
    for (what, source, got, want, tolerance) in rows {
        assert_close(what, source, got, want, tolerance);
    }
}
