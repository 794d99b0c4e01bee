//! The dive that most figures here are about.
//!
//! The dives here are made for pencil and paper: water by the gauge calibration (0.1 bar a metre),
//! ideal gas, a surface of 1 atm. With P(d) = 1.01325 + 0.1·d bar and 18 m for 20 minutes:
//!
//! ```text
//! down     1 min       at (1.01325 + 2.81325)/2 = 1.91325 bar    1.91325 bar·min
//! level   19 min       at 2.81325 bar                           53.45175
//! up      13/9 min     at (2.81325 + 1.51325)/2 = 2.16325 bar    3.1246944
//! stop     3 min       at 1.51325 bar                            4.53975
//! up       5/9 min     at (1.51325 + 1.01325)/2 = 1.26325 bar    0.7018056
//! to leaving the bottom  55.365         /1.01325 = 54.641007 atm·min
//! to the end of the stop 63.0294444     /1.01325 = 62.205226 atm·min
//! whole dive             63.73125       /1.01325 = 62.897853 atm·min
//! emergency at the end of the level: 1 min at 2.81325, then up:
//!   with the stop        11.1795        /1.01325 = 11.033309 atm·min
//!   straight up (2 min at 1.91325)
//!                         6.63975       /1.01325 =  6.552924 atm·min
//! ```

use approx::assert_abs_diff_eq;
use hangbar::briefing::{Briefing, brief};
use hangbar::plan::Plan;
use hangbar::plan_file::read;

/// The figures above are worked out to six or seven digits.
pub(crate) const LITRES: f64 = 0.01;
pub(crate) const BAR: f64 = 0.001;
/// Run times follow from rates and distances alone.
pub(crate) const MINUTES: f64 = 1e-4;

/// Ada and Ben on the dive of the table: 15 and 20 L/min, 12 and 10 litres at 200 bar.
pub(crate) fn pencil_dive(changes: &[(&str, &str)]) -> Plan {
    let mut text = String::from(
        r#"
        [site]
        water = "en13319"
        [profile]
        depth = "18 m"
        bottom_time = "20 min"
        [model]
        gas_law = "ideal"
        [reserve]
        floor = "0 bar"
        [[diver]]
        name = "Ada"
        sac = "15 L/min"
        cylinder = { size = "12 L", fill = "200 bar" }
        [[diver]]
        name = "Ben"
        sac = "20 L/min"
        cylinder = { size = "10 L", fill = "200 bar" }
        "#,
    );
    for (old, new) in changes {
        assert!(text.contains(old), "{old} is not in the plan");
        text = text.replace(old, new);
    }
    read(&text).unwrap()
}

pub(crate) fn briefed(changes: &[(&str, &str)]) -> Briefing {
    brief(pencil_dive(changes)).unwrap()
}

pub(crate) fn codes(briefing: &Briefing) -> Vec<&'static str> {
    briefing
        .findings
        .iter()
        .map(|finding| finding.code())
        .collect()
}

#[test]
fn the_pencil_dive_is_as_the_table_has_it() {
    let briefing = briefed(&[]);
    let [ada, ben] = &briefing.divers[..] else {
        panic!("two divers");
    };
    // 12 · 200 / 1.01325 and 10 · 200 / 1.01325
    assert_abs_diff_eq!(ada.start.as_l(), 2368.6158, epsilon = LITRES);
    assert_abs_diff_eq!(ben.start.as_l(), 1973.8465, epsilon = LITRES);
    // 15 · 62.897853 and 20 · 62.897853
    assert_abs_diff_eq!(ada.planned_use.as_l(), 943.4678, epsilon = LITRES);
    assert_abs_diff_eq!(ben.planned_use.as_l(), 1257.9571, epsilon = LITRES);
    // (15 + 20) · 1.5 · 11.033309, the same for both
    assert_abs_diff_eq!(ada.reserve.as_l(), 579.2487, epsilon = LITRES);
    assert_abs_diff_eq!(ben.reserve.as_l(), 579.2487, epsilon = LITRES);
    // 2368.6158 − 15 · 54.641007 = 1549.0007 L; · 1.01325/12
    assert_abs_diff_eq!(
        ada.levels[0].left.unwrap().as_bar(),
        130.7938,
        epsilon = BAR
    );
    // less the reserve
    assert_abs_diff_eq!(ada.levels[0].to_spare.as_l(), 969.7520, epsilon = LITRES);
}
