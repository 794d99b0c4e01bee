//! Coefficients of ZH-L16C: what of them could be read, and the formulas behind them.
//!
//! The whole table is remembered; it stands in `tests/remembered`.

use hangbar::quantity::Pressure;
use hangbar::tissue::{COMPARTMENTS, CompartmentSet, FirstCompartment, Loading, Tissues};

use crate::checks::{EXACT, assert_close, printed};
use crate::zh_l16c::{COMPARTMENT_NAMES, held};

const ARTICLE: &str = "encyclopedia article on the model, citing Bühlmann";
const BAKER: &str = "Baker, Understanding M-values, re-tabulated on a personal page";

#[test]
fn every_coefficient_that_could_be_read_is_the_printed_one() {
    // The article quotes the first compartment whole, the longest half-times, and the two b that
    // are printed off their formula; the page has the half-times of the first four.
    let [n2, he] = ["N2", "He"];
    let [half_time, a, b] = ["half-time", "a", "b"];
    let rows = [
        (n2, "1", half_time, ARTICLE, 4.0, EXACT),
        (n2, "1", a, ARTICLE, 1.2599, EXACT),
        (n2, "1", b, ARTICLE, 0.5050, EXACT),
        (he, "1", half_time, ARTICLE, 1.51, EXACT),
        (he, "1", a, ARTICLE, 1.7424, EXACT),
        (he, "1", b, ARTICLE, 0.4245, EXACT),
        (n2, "1b", half_time, BAKER, 5.0, EXACT),
        (n2, "2", half_time, BAKER, 8.0, EXACT),
        (n2, "3", half_time, BAKER, 12.5, EXACT),
        (n2, "4", b, ARTICLE, 0.7825, EXACT),
        (n2, "5", b, ARTICLE, 0.8126, EXACT),
        (n2, "16", half_time, ARTICLE, 635.0, EXACT),
        (he, "16", half_time, ARTICLE, 240.0, printed(0)),
    ];
    for (gas, name, column, source, want, tolerance) in rows {
        let (nitrogen, helium) = held(name);
        let three = if gas == n2 { nitrogen } else { helium };
        let place = [half_time, a, b].iter().position(|other| *other == column);
        let what = format!("{gas} {column} of {name}");
        assert_close(&what, source, three[place.unwrap()], want, tolerance);
    }
}

#[test]
fn b_of_nitrogen_follows_its_formula_but_for_compartment_4() {
    // Source: Chapman, An explanation of Prof. Buehlmann's ZH-L16 algorithm (1999), worked
    // through in a discussion: b = 1.005 - t^(-1/2). Compartment 4 is printed 0.7825 where the
    // formula gives 0.7725 (an encyclopedia article on the model says so too).
    const SOURCE: &str = "Chapman (1999), b = 1.005 - t^(-1/2)";
    /// Printed to 4 digits; compartment 5 comes to 0.8125499 and is printed both ways.
    const FOUR_DIGITS_EITHER_WAY: f64 = 0.6e-4;
    const MISPRINT: f64 = 0.0100;
    for name in COMPARTMENT_NAMES {
        let ([half_time, _, b], _) = held(name);
        let mut want = 1.005 - half_time.sqrt().recip();
        if name == "4" {
            want += MISPRINT;
        }
        assert_close(name, SOURCE, b, want, FOUR_DIGITS_EITHER_WAY);
    }
}

#[test]
fn a_of_the_fast_compartments_is_that_of_set_a() {
    // Source: Chapman (1999), as above: a = 2 bar * t^(-1/3) for set A. That the sets share it in
    // the first compartments is in Baker, Understanding M-values, as re-tabulated.
    const SOURCE: &str = "Chapman (1999), a = 2 t^(-1/3)";
    for name in ["1", "1b", "2", "3"] {
        let ([half_time, a, _], _) = held(name);
        let want = 2.0 * half_time.cbrt().recip();
        assert_close(name, SOURCE, a, want, printed(4));
    }
}

#[test]
fn a_and_b_give_bakers_m_values() {
    // Baker's M-value at the surface in msw, and slope. The conversion is in his box on M-value
    // mathematics: b = 1/slope, m0 = a + p_surface/b. Compartment 1's slope is elsewhere printed
    // 1.9082, a swap of digits.
    /// 1 msw is 0.1 bar, and the surface 10 msw.
    const MSW_PER_BAR: f64 = 10.0;
    const ROWS: [(&str, f64, f64); 4] = [
        ("1", 32.4, 1.9802),
        ("1b", 29.6, 1.7928),
        ("2", 25.4, 1.5352),
        ("3", 22.5, 1.3847),
    ];
    for (name, m0, slope) in ROWS {
        let ([_, a, b], _) = held(name);
        assert_close(name, BAKER, b.recip(), slope, printed(4));
        let got = MSW_PER_BAR * (a + b.recip());
        assert_close(name, BAKER, got, m0, printed(1));
    }
}

#[test]
fn helium_half_times_are_nitrogens_over_2_645() {
    // Source: J.-M. Robert, trimix decompression notes, p. 5: ratio of the diffusion speeds. It
    // holds for all but 1b, whose helium half-time is 1.88 where the rule gives 1.89.
    const SOURCE: &str = "Robert, trimix decompression notes, p. 5";
    const RATIO: f64 = 2.645;
    /// Half-times of two decimals: the ratios lie between 2.6445 and 2.6490.
    const TWO_DECIMALS: f64 = 0.0041;
    for name in COMPARTMENT_NAMES.iter().filter(|name| **name != "1b") {
        let (nitrogen, helium) = held(name);
        assert_close(name, SOURCE, nitrogen[0] / helium[0], RATIO, TWO_DECIMALS);
    }
}

#[test]
fn a_of_helium_is_1_383_times_nitrogens_in_the_fast_compartments() {
    // Source: Robert, as above: ratio of the solubilities, on set A's a = 2 t^(-1/3). It holds
    // for compartments 1 and 2 to 8 only; 1b has 1.6189 against 1.6176.
    const SOURCE: &str = "Robert, trimix decompression notes";
    /// Two roundings to 4 digits, the first of them multiplied by 1.383.
    const ROUNDED_TWICE: f64 = 1.2e-4;
    for name in ["1", "2", "3", "4", "5", "6", "7", "8"] {
        let (nitrogen, helium) = held(name);
        let want = 1.383 * 2.0 * nitrogen[0].cbrt().recip();
        assert_close(name, SOURCE, helium[1], want, ROUNDED_TWICE);
    }
}

#[test]
fn two_gases_weigh_a_and_b_by_their_pressures() {
    // Source: encyclopedia article on the model, example of trimix 18/50 in compartment 1,
    // citing Bühlmann: a 1.5541, b 0.4559 for 0.32 parts of nitrogen and 0.50 of helium.
    const SOURCE: &str = "encyclopedia article on the model, trimix 18/50, compartment 1";
    let set = CompartmentSet::zh_l16c(FirstCompartment::FourMinutes);
    let mut loadings = [Loading::default(); COMPARTMENTS];
    loadings[0] = Loading {
        n2_bar: 0.32,
        he_bar: 0.50,
    };
    let tissues = Tissues::from_loadings(loadings);
    let tolerated = |bar| tissues.limit_bar(&set, 0, Pressure::from_bar(bar), 1.0);
    let slope = tolerated(2.0) - tolerated(1.0);
    assert_close("mean b", SOURCE, slope.recip(), 0.4559, printed(4));
    let a = tolerated(1.0) - slope;
    assert_close("mean a", SOURCE, a, 1.5541, printed(4));
}
