//! Constants, conversions, and what a metre of water weighs.

use hangbar::quantity::{
    ATM_BAR, BreathingRate, CUBIC_FOOT_L, FOOT_M, GRAVITY_M_S2, GaugePressure, KNOT_M_MIN, PSI_BAR,
};
use hangbar::site::Water;

use crate::checks::{EXACT, LAST_BITS, assert_close, printed};

#[test]
fn the_constants_are_the_defined_ones() {
    const ROWS: [(&str, &str, f64, f64, f64); 6] = [
        (
            "standard gravity, m/s²",
            "CGPM 1901",
            GRAVITY_M_S2,
            9.806_65,
            EXACT,
        ),
        ("foot, m", "definition 1959", FOOT_M, 0.3048, EXACT),
        ("atmosphere, bar", "CGPM 1954", ATM_BAR, 1.013_25, EXACT),
        (
            "psi, bar",
            "6894.757293168 Pa: pound, foot and standard gravity",
            PSI_BAR,
            0.068_947_572_931_68,
            EXACT,
        ),
        (
            "cubic foot, L",
            "0.3048³, exact",
            CUBIC_FOOT_L,
            28.316_846_592,
            EXACT,
        ),
        (
            "knot, m in an hour",
            "definition",
            KNOT_M_MIN * 60.0,
            1852.0,
            LAST_BITS,
        ),
    ];
    for (what, source, got, want, tolerance) in ROWS {
        assert_close(what, source, got, want, tolerance);
    }
}

#[test]
fn units_convert_as_the_trade_prints_them() {
    struct Row {
        what: &'static str,
        source: &'static str,
        got: f64,
        want: f64,
        tolerance: f64,
    }
    let cuft_a_minute = |rate| BreathingRate::from_cuft_min(rate).as_l_min();
    let navy = "U.S. Navy Diving Manual Rev 4 Change A, para 8-2.2.2, p. 8-3; litres by hand";
    let rows = [
        Row {
            what: "1 atm in psi",
            source: "A. Salm, workshop notes on decompression calculation",
            got: GaugePressure::from_bar(ATM_BAR).as_psi(),
            want: 14.696,
            tolerance: printed(3),
        },
        Row {
            what: "swimming at 0.8 kn, 1.4 acfm",
            source: navy,
            got: cuft_a_minute(1.4),
            want: 39.6,
            tolerance: printed(1),
        },
        Row {
            what: "helmet in demand mode, low, 0.75 acfm",
            source: navy,
            got: cuft_a_minute(0.75),
            want: 21.2,
            tolerance: printed(1),
        },
        Row {
            what: "helmet in demand mode, high, 1.5 acfm",
            source: navy,
            got: cuft_a_minute(1.5),
            want: 42.5,
            tolerance: printed(1),
        },
        Row {
            what: "EN 250 test ventilation, 62.5 L/min in cubic feet",
            source: "EN 250:2014, 6.7.1; cubic feet by hand",
            got: BreathingRate::from_l_min(62.5).as_cuft_min(),
            want: 2.207,
            tolerance: printed(3),
        },
    ];
    for row in rows {
        assert_close(row.what, row.source, row.got, row.want, row.tolerance);
    }
}

#[test]
fn a_metre_and_a_foot_of_water_weigh_what_the_sources_say() {
    struct Row {
        what: &'static str,
        source: &'static str,
        got: f64,
        want: f64,
        tolerance: f64,
    }
    let navy_sea = Water::Density {
        kg_per_m3: 1025.182,
    };
    let metres_an_atm = |water: Water| ATM_BAR / water.bar_per_m();
    let rows = [
        Row {
            what: "sea of 1025 kg/m³, bar a metre",
            source: "by hand: 1025 * 9.80665 Pa; the density is a general reference value",
            got: Water::Sea.bar_per_m(),
            want: 0.100_518_2,
            tolerance: printed(7),
        },
        Row {
            what: "fresh water, bar a metre",
            source: "A. Salm, workshop notes",
            got: Water::Fresh.bar_per_m(),
            want: 0.098_066_5,
            tolerance: printed(7),
        },
        Row {
            what: "depth gauges, bar a metre",
            source: "EN 13319, as summarised by a test laboratory",
            got: Water::En13319.bar_per_m(),
            want: 0.1,
            tolerance: EXACT,
        },
        Row {
            what: "a foot of the Navy's sea, 64 lb/cu ft, in bar",
            source: "U.S. Navy Diving Manual, as cited in an article on diving pressure units",
            got: navy_sea.bar_per_m() * FOOT_M,
            want: 0.030_643,
            tolerance: printed(6),
        },
        Row {
            what: "feet of the Navy's sea in an atmosphere",
            source: "arithmetic from 1 fsw = 0.030643 bar",
            got: metres_an_atm(navy_sea) / FOOT_M,
            want: 33.066,
            tolerance: printed(3),
        },
        Row {
            what: "sea of 1025.04 kg/m³, bar a metre",
            source: "A. Salm, workshop notes",
            got: Water::Density { kg_per_m3: 1025.04 }.bar_per_m(),
            want: 0.100_522,
            tolerance: printed(6),
        },
        Row {
            what: "metres of fresh water in an atmosphere",
            source: "by hand: 101325/(1000*9.80665); A. Salm prints 10.33227",
            got: metres_an_atm(Water::Fresh),
            want: 10.332_27,
            tolerance: printed(5),
        },
        Row {
            what: "feet of fresh water in an atmosphere",
            source: "by hand: 10.33227 m",
            got: metres_an_atm(Water::Fresh) / FOOT_M,
            want: 33.8985,
            tolerance: printed(4),
        },
        Row {
            what: "true depth in fresh water at 100 m shown",
            source: "EN 13319, as summarised by a test laboratory: 102 %",
            got: 100.0 * Water::En13319.bar_per_m() / Water::Fresh.bar_per_m(),
            want: 102.0,
            tolerance: printed(0),
        },
        Row {
            what: "true depth in sea of 1030 kg/m³ at 100 m shown",
            source: "EN 13319, as summarised by a test laboratory: 99 %",
            got: 100.0 * Water::En13319.bar_per_m()
                / Water::Density { kg_per_m3: 1030.0 }.bar_per_m(),
            want: 99.0,
            tolerance: printed(0),
        },
    ];
    for row in rows {
        assert_close(row.what, row.source, row.got, row.want, row.tolerance);
    }
}
