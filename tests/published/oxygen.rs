//! Oxygen: single exposures, doses, operating depths.

use hangbar::oxygen::{cns_rate_per_min, otu_rate_per_min};
use hangbar::quantity::{Depth, Pressure};
use hangbar::site::Environment;
use hangbar::site::Mix;
use hangbar::site::{operating_depth, oxygen_pressure};

use crate::checks::{EXACT, LAST_BITS, assert_close, printed};
use crate::dives::{doses, feet_an_atmosphere, ten_metres_a_bar};

const NOAA: &str = "NOAA Diving Manual, normal exposure oxygen limits (Table 15.1)";
/// Oxygen pressure in atm, minutes of a single exposure.
const SINGLE_EXPOSURES: [(f64, f64); 11] = [
    (0.6, 720.0),
    (0.7, 570.0),
    (0.8, 450.0),
    (0.9, 360.0),
    (1.0, 300.0),
    (1.1, 240.0),
    (1.2, 210.0),
    (1.3, 180.0),
    (1.4, 150.0),
    (1.5, 120.0),
    (1.6, 45.0),
];

#[test]
fn a_single_exposure_uses_the_whole_limit_at_every_row() {
    for (po2, limit) in SINGLE_EXPOSURES {
        let what = format!("{po2} atm");
        let got = cns_rate_per_min(po2).recip();
        assert_close(&what, NOAA, got, limit, limit * LAST_BITS);
        // Put as a dive, a last bit of depth lets the pressure fall a last bit beside the row.
        let share = doses(po2, po2, limit).cns_pct;
        assert_close(&what, NOAA, share, 100.0, 1e-9);
    }
}

#[test]
fn between_the_rows_the_rate_is_linear() {
    // Source: the convention of this library on NOAA's rows, worked out by hand: linear in
    // 1/limit. Between 1.5 and 1.6 it matters: 65.45 min at 1.55, where linear in the limit
    // would be 82.5.
    const ROWS: [(&str, f64, f64); 6] = [
        (
            "halfway between the last two rows",
            1.55,
            1.0 / 65.454_545_454_545,
        ),
        ("above the last row, its rate", 1.8, 1.0 / 45.0),
        ("halfway below the first row", 0.55, 0.5 / 720.0),
        ("at the threshold", 0.5, 0.0),
        ("below the threshold", 0.21, 0.0),
        (
            "halfway between 1.0 and 1.1",
            1.05,
            1.0 / 266.666_666_666_667,
        ),
    ];
    for (what, po2, want) in ROWS {
        assert_close(what, NOAA, cns_rate_per_min(po2), want, LAST_BITS);
    }
}

#[test]
fn otu_a_minute_are_the_printed_ones() {
    // Source: table of OTU per minute in common use, quoted in a discussion. The formula, with the
    // exponent 0.833, is in Asakura, Textbook of Internal Medicine, 12th ed., digital appendix,
    // figure 2-1-2; the last column is that formula computed apart from this library.
    /// The printed 0.27 at 0.6 atm comes out of no exponent in use (0.2615, 0.2629).
    const TABLE: f64 = 0.01;
    /// 0.833 is printed for 5/6, and x^(5/6 - 0.833) differs from 1 by no more than 0.054 % for
    /// x from 0.2 to 2.2.
    const EXPONENT_OF_THREE_DIGITS: f64 = 5.4e-4;
    const ROWS: [(f64, f64, f64); 7] = [
        (0.6, 0.27, 0.261_672),
        (0.7, 0.47, 0.466_140),
        (0.8, 0.65, 0.653_431),
        (0.9, 0.83, 0.830_374),
        (1.0, 1.00, 1.000_000),
        (1.1, 1.16, 1.164_013),
        (1.2, 1.32, 1.323_502),
    ];
    for (po2, in_print, computed) in ROWS {
        let what = format!("{po2} atm");
        let got = otu_rate_per_min(po2);
        assert_close(&what, "table of OTU per minute", got, in_print, TABLE);
        let tolerance = computed * EXPONENT_OF_THREE_DIGITS;
        assert_close(&what, "((p - 0.5)/0.5)^0.833", got, computed, tolerance);
    }
    let nothing = otu_rate_per_min(0.5);
    assert_close("at or below 0.5 atm", "Asakura", nothing, 0.0, EXACT);
}

#[test]
fn the_cns_share_of_a_ramp_is_the_trapezoid_under_the_rates() {
    // Source: by hand from NOAA's rows.
    /// Ends are depths: a last bit of a metre.
    const HAND_RAMP: f64 = 1e-9;
    // Mean of 1/120 and 1/45 is 11/720 a minute.
    let ramp = doses(1.5, 1.6, 72.0);
    assert_close("1.5 to 1.6 atm", NOAA, ramp.cns_pct, 110.0, HAND_RAMP);
    // From 0 at 0.5 to 1/720 at 0.6: half of it on the way.
    let ramp = doses(0.5, 0.6, 72.0);
    assert_close("0.5 to 0.6 atm", NOAA, ramp.cns_pct, 5.0, HAND_RAMP);
}

#[test]
fn operating_depths_are_those_of_the_rules() {
    // Source: arithmetic of the published rules 33*(po2/f - 1) ft (a nitrox lesson page) and
    // 10*(po2/f - 1) m (BSAC nitrox notes), po2 in ata or bar; sea: 1025 kg/m³ under 1.01325 bar,
    // po2 in bar, by hand.
    const ROWS: [(f64, f64, f64, f64, f64); 12] = [
        (21.0, 1.4, 187.0, 56.7, 56.243),
        (21.0, 1.6, 218.4, 66.2, 65.717),
        (32.0, 1.4, 111.4, 33.8, 33.444),
        (32.0, 1.6, 132.0, 40.0, 39.662),
        (36.0, 1.4, 95.3, 28.9, 28.608),
        (36.0, 1.6, 113.7, 34.4, 34.135),
        (40.0, 1.4, 82.5, 25.0, 24.739),
        (40.0, 1.6, 99.0, 30.0, 29.714),
        (50.0, 1.4, 59.4, 18.0, 17.775),
        (50.0, 1.6, 72.6, 22.0, 21.755),
        (100.0, 1.4, 13.2, 4.0, 3.848),
        (100.0, 1.6, 19.8, 6.0, 5.837),
    ];
    for (oxygen_pct, po2, feet, metres, sea) in ROWS {
        let gas = Mix::nitrox(oxygen_pct).unwrap();
        let what = format!("{oxygen_pct} %, {po2}");
        let in_bar = Pressure::from_bar(po2);
        let got = operating_depth(&Environment::default(), gas, in_bar).as_m();
        assert_close(&what, "sea 1025", got, sea, printed(3));
        let got = operating_depth(&ten_metres_a_bar(), gas, in_bar).as_m();
        // 33.75 is printed 33.8.
        assert_close(&what, "rule of 10", got, metres, printed(1) + 1e-9);
        let in_atm = Pressure::from_atm(po2);
        let got = operating_depth(&feet_an_atmosphere(33.0), gas, in_atm).as_ft();
        assert_close(&what, "rule of 33", got, feet, printed(1) + 1e-9);
    }
}

#[test]
fn bsac_cuts_operating_depths_to_whole_metres() {
    // Source: BSAC nitrox notes: 32 % 33 m, 36 % 28 m at 1.4 bar, ten metres a bar.
    const SOURCE: &str = "BSAC nitrox notes";
    for (oxygen_pct, want) in [(32.0, 33.0), (36.0, 28.0)] {
        let gas = Mix::nitrox(oxygen_pct).unwrap();
        let rule = operating_depth(&ten_metres_a_bar(), gas, Pressure::from_bar(1.4));
        let what = format!("{oxygen_pct} %");
        assert_close(&what, SOURCE, rule.as_m().floor(), want, EXACT);
        // In sea water the whole metres are the same.
        let sea = operating_depth(&Environment::default(), gas, Pressure::from_bar(1.4));
        assert_close(&what, SOURCE, sea.as_m().floor(), want, EXACT);
    }
}

#[test]
fn air_at_132_feet_has_1_05_atmospheres_of_oxygen() {
    // Source: lesson pages; DAN Nitrox Workshop discussion: 5 ata * 0.21.
    const SOURCE: &str = "DAN Nitrox Workshop discussion";
    let depth = Depth::from_ft(132.0);
    let rule = oxygen_pressure(&feet_an_atmosphere(33.0), Mix::AIR, depth).as_atm();
    assert_close("132 fsw", SOURCE, rule, 1.05, LAST_BITS);
    let sea = oxygen_pressure(&Environment::default(), Mix::AIR, depth).as_atm();
    assert_close("132 ft of sea", SOURCE, sea, 1.05, 1.05 * 0.003);
}
