//! Inputs that fuzzing found (`tests/fuzz`), as small as they got, and what must come of each.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking"
)]

use hangbar::debrief::{Debriefing, NextAsked, NextError, NextWritten, Wait, write_next};
use hangbar::letters::may_be_shown;
use hangbar::plan::{FlightTime, TimeOfDay};
use hangbar::plan_file::{read, read_pencil};
use hangbar::quantity::{Kind, Time};
use hangbar::site::{Mix, Water};
use hangbar::tissue::GradientFactors;

/// What is no time, water or pair of factors was quoted as it stood, whatever was in it and however
/// long it was.
#[test]
fn a_text_that_is_refused_is_quoted_short_and_harmless() {
    for text in ["18/4\u{15}", "1\u{202e}8:00", &"9".repeat(5000)] {
        let messages = [
            text.parse::<FlightTime>().unwrap_err().to_string(),
            text.parse::<TimeOfDay>().unwrap_err().to_string(),
            text.parse::<Water>().unwrap_err().to_string(),
            format!("sea{text}")
                .parse::<Water>()
                .unwrap_err()
                .to_string(),
            format!("0{} kg/m3", "\u{2028}".repeat(300))
                .parse::<Water>()
                .unwrap_err()
                .to_string(),
            text.parse::<GradientFactors>().unwrap_err().to_string(),
            Kind::Depth.parse("3 kg\u{b}/ L").unwrap_err().to_string(),
        ];
        for message in messages {
            assert!(message.chars().all(may_be_shown), "{message:?}");
            assert!(message.chars().count() < 800, "{message:?}");
        }
    }
}

/// Staged by the plan, on a gas with less nitrogen than air, with a stage cylinder for the way up.
const STAGED: &str = r#"units = "imperial"
[site]
water = "fresh"
altitude = "1500 ft"
[profile]
staged = true
[[profile.level]]
depth = "140 ft"
time = "25 min"
[[profile.level]]
depth = "80 ft"
time = "10 min"
[gas]
bottom = "21/35"
decompression = ["EAN50"]
[[diver]]
name = "Runa"
sac = "0.5 cuft/min"
cylinder = { size = "2x12 L", fill = "3300 psi" }
stage = [{ gas = "EAN50", rated = "80 cuft", at = "3000 psi", fill = "3000 psi" }]
"#;

fn next_after(slate: &str) -> Result<NextWritten, NextError> {
    let plan = read(STAGED).unwrap();
    let logs = read_pencil(slate, &plan).unwrap();
    let mut debriefing = Debriefing::of(plan).unwrap();
    debriefing.pencilled("slate.toml", &logs[0]).unwrap();
    let asked = NextAsked {
        wait: Wait::Interval(Time::from_min(75.0)),
        absent: Vec::new(),
    };
    write_next(&debriefing.end().unwrap(), &asked, STAGED)
}

/// Its levels, rounded up to whole feet, are back a second later and so leave 5e-9 bar less nitrogen
/// in a fast compartment: that was a failed check of the program.
#[test]
fn a_slate_whose_levels_leave_a_hair_less_when_rounded_is_told_as_levels_that_do_not() {
    let next = next_after(
        "[[diver]]\nname = \"Runa\"\ngreatest_depth = \"18.4 m\"\nbottom_time = \"26 min\"\n\
         time_in = \"13:52\"\ntime_out = \"14:24\"\nstart_pressure = \"220 bar\"\nend_pressure = \"120 bar\"\n",
    )
    .unwrap();
    let plan = read(&next.text).unwrap();
    assert_eq!(plan.before().len(), 1);
    let told = &plan.before()[0];
    assert!(
        told.gas
            .unwrap()
            .is_same_gas("21/35".parse::<Mix>().unwrap())
    );
    // As deep as the slate says, and at least as long.
    let deepest = told.levels.iter().map(|level| level.depth.as_m());
    assert!(deepest.fold(0.0, f64::max) >= 18.4);
    let minutes: f64 = told.levels.iter().map(|level| level.time.as_min()).sum();
    assert!(minutes >= 26.0, "{minutes}");
}

/// On the way up nitrox took the place of helium; as a dive on the bottom gas it would leave less
/// nitrogen. That was a failed check of the program; it is a dive that a plan cannot tell.
#[test]
fn a_dive_on_helium_and_nitrox_that_no_one_gas_tells_gets_no_next_plan() {
    let error = next_after(
        "[[diver]]\nname = \"Runa\"\ngreatest_depth = \"26.2 m\"\nbottom_time = \"28 min\"\n\
         time_in = \"11:42\"\ntime_out = \"12:17\"\nstart_pressure = \"220 bar\"\nend_pressure = \"120 bar\"\naverage_depth = \"17.1 m\"\n",
    )
    .unwrap_err();
    let NextError::OneGas { name, gas } = &error else {
        panic!("{error}");
    };
    assert_eq!((name.as_str(), gas.to_string().as_str()), ("Runa", "21/35"));
    assert!(!error.is_internal() && error.accepted().is_some());
}
