//! Records of every form, against fixed plans: refused in words that may be shown, or a debrief whose
//! figures are finite, and perhaps the plan of a next dive that can be read and briefed.
#![no_main]

use std::io::Cursor;
use std::sync::OnceLock;

use hangbar::briefing::{BriefingError, brief};
use hangbar::debrief::{Debrief, DebriefError, Debriefing, NextAsked, Wait, write_next};
use hangbar::plan_file::{read, read_pencil};
use hangbar::quantity::{Time, UnitSystem};
use hangbar::record::{RecordFormat, format_of, read_csv, read_uddf};
use hangbar::report::{self, chart, document};
use hangbar_fuzz::checks::{self, shown};
use hangbar_fuzz::mutate::{Lines, mutated};
use hangbar_fuzz::{dives, slow};
use libfuzzer_sys::{fuzz_mutator, fuzz_target};

/// Two buddies on one gas, and one diver with stops and two gases.
const PLANS: [&str; 2] = [
    r#"splash = "09:34"
[profile]
depth = "24 m"
bottom_time = "25 min"
[gas]
bottom = "EAN32"
[[diver]]
name = "Runa"
sac = "15 L/min"
cylinder = { size = "12 L", at = "232 bar", fill = "210 bar" }
buddy = "Oskar"
[[diver]]
name = "Oskar"
sac = "18 L/min"
cylinder = { size = "15 L", fill = "220 bar" }
pony = { size = "3 L", fill = "200 bar" }
buddy = "Runa"
"#,
    r#"units = "imperial"
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
"#,
];

fuzz_target!(|data: &[u8]| {
    static PLANNED: OnceLock<Vec<Debriefing>> = OnceLock::new();
    let planned = PLANNED.get_or_init(|| {
        let planned = PLANS
            .iter()
            .map(|text| Debriefing::of(read(text).expect("a good plan")).expect("a dive"));
        planned.collect()
    });
    slow::timed(data, || {
        for (debriefing, text) in planned.iter().zip(PLANS) {
            if let Some(debrief) = debriefed(debriefing.clone(), data) {
                look_at(&debrief, data, text);
            }
        }
    });
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    mutated(Lines::Record, data, size, max_size, seed)
});

fn debriefed(mut debriefing: Debriefing, data: &[u8]) -> Option<Debrief> {
    let format = format_of(data);
    let logs = match format {
        Err(error) => return refused(&error.to_string()),
        Ok(RecordFormat::Pencil) => {
            let text = str::from_utf8(data).ok()?;
            let logs = match read_pencil(text, debriefing.plan()) {
                Ok(logs) => logs,
                Err(errors) => {
                    checks::refusals(text, &errors);
                    return None;
                }
            };
            for log in &logs {
                if let Err(error) = debriefing.pencilled("record", log) {
                    return no_dive(&error);
                }
            }
            return debriefing.end().ok();
        }
        Ok(RecordFormat::Csv) => read_csv(Cursor::new(data)),
        Ok(RecordFormat::Uddf) => read_uddf(Cursor::new(data)),
    };
    let logs = match logs {
        Ok(logs) => logs,
        Err(error) => return refused(&error.to_string()),
    };
    for log in &logs {
        // Whose it is, where the record does not say.
        let known = debriefing
            .plan()
            .divers()
            .iter()
            .any(|diver| log.diver.as_deref() == Some(diver.name.as_str()));
        if let Err(error) = debriefing.sampled("record", (!known).then_some("Runa"), log) {
            return no_dive(&error);
        }
    }
    debriefing.end().ok()
}

fn refused<T>(message: &str) -> Option<T> {
    shown(message);
    assert!(
        !message.is_empty() && message.chars().count() < 2000,
        "{message:?}"
    );
    None
}

fn no_dive<T>(error: &DebriefError) -> Option<T> {
    if let DebriefError::Plan(BriefingError::Check(check)) = error {
        panic!("an internal check failed: {check}");
    }
    refused(&error.to_string())
}

fn look_at(debrief: &Debrief, data: &[u8], text: &str) {
    let names = String::from_utf8_lossy(data);
    shown(&checks::document(document::Debrief::new(debrief)));
    for units in [UnitSystem::Metric, UnitSystem::Imperial] {
        let screen = hangbar_fuzz::screen(&report::debrief(debrief, units), 60);
        checks::screen(&screen, 60);
        checks::figures(&screen, &names);
    }
    dives::picture(&chart::debriefed(debrief, UnitSystem::Metric), &names);
    dives::picture(&chart::breathing(debrief, UnitSystem::Imperial), &names);
    let recorded = |name: &str| {
        debrief
            .dives
            .iter()
            .any(|dive| debrief.plan().divers()[dive.diver].name == name)
    };
    let absent = debrief
        .plan()
        .divers()
        .iter()
        .map(|diver| diver.name.clone());
    let asked = NextAsked {
        wait: Wait::Interval(Time::from_min(75.0)),
        absent: absent.filter(|name| !recorded(name)).collect(),
    };
    match write_next(debrief, &asked, text) {
        Ok(next) => {
            let plan = read(&next.text).expect("a plan that was written can be read");
            match brief(plan) {
                Err(BriefingError::Check(check)) => {
                    panic!("an internal check failed: {check} of {}", next.text)
                }
                Err(error) => shown(&error.to_string()),
                Ok(_) => {}
            }
        }
        Err(error) if error.is_internal() => panic!("{error}"),
        Err(error) => shown(&error.to_string()),
    }
}
