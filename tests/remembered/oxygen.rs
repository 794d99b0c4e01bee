//! Oxygen: doses above 1.2 atm and on a ramp.

use hangbar::oxygen::otu_rate_per_min;

use crate::checks::{assert_close, printed};
use crate::dives::doses;

#[test]
fn otu_a_minute_are_those_of_the_exponent_5_6() {
    // Source: from memory: Clark and Lambertsen's exponent 5/6, of which 0.833 is a rounding, and
    // above 1.2 atm the table of OTU per minute in common use. Last column: ((p - 0.5)/0.5)^(5/6)
    // computed apart from this library.
    const TABLE_SOURCE: &str = "from memory: table of OTU per minute";
    const FORMULA: &str = "from memory: ((p - 0.5)/0.5)^(5/6)";
    const TABLE: f64 = 0.01;
    const ROWS: [(f64, Option<f64>, f64); 11] = [
        (0.6, None, 0.261_532),
        (0.7, None, 0.465_997),
        (0.8, None, 0.653_320),
        (0.9, None, 0.830_313),
        (1.0, None, 1.000_000),
        (1.1, None, 1.164_084),
        (1.2, None, 1.323_651),
        (1.3, Some(1.48), 1.479_449),
        (1.4, Some(1.63), 1.632_026),
        (1.5, Some(1.78), 1.781_797),
        (1.6, Some(1.92), 1.929_089),
    ];
    for (po2, in_print, computed) in ROWS {
        let what = format!("{po2} atm");
        let got = otu_rate_per_min(po2);
        if let Some(in_print) = in_print {
            assert_close(&what, TABLE_SOURCE, got, in_print, TABLE);
        }
        assert_close(&what, FORMULA, got, computed, printed(6));
        let dose = doses(po2, po2, 10.0).otu;
        let tolerance = 10.0 * printed(6);
        assert_close(
            "ten minutes of it",
            FORMULA,
            dose,
            10.0 * computed,
            tolerance,
        );
    }
}

#[test]
fn doses_on_a_ramp_follow_bakers_formula() {
    // Source: from memory: Baker, Oxygen Toxicity Calculations: (3/11)*t/(p1 - p0) *
    // (((p1 - 0.5)/0.5)^(11/6) - ((p0 - 0.5)/0.5)^(11/6)), by hand for simple ends.
    const SOURCE: &str = "from memory: Baker, Oxygen Toxicity Calculations";
    /// Ends are depths: a last bit of a metre.
    const HAND_RAMP: f64 = 1e-9;
    let ramp = doses(0.5, 1.0, 11.0);
    assert_close("0.5 to 1.0 atm", SOURCE, ramp.otu, 6.0, HAND_RAMP);
    // 6/11 * (2^(11/6) - 1) a minute, 2^(11/6) = 3.5635949
    let ramp = doses(1.0, 1.5, 11.0);
    let want = 6.0 * 2.563_594_9;
    assert_close("1.0 to 1.5 atm", SOURCE, ramp.otu, want, 6.0 * printed(7));
    let down = doses(1.5, 1.0, 11.0);
    assert_close("either way", SOURCE, down.otu, ramp.otu, HAND_RAMP);
}
