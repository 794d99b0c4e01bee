//! The good plans that are broken here, and how.

use assert_cmd::Command;
use hangbar::plan_file::{PlanErrors, Problem, read};

/// One depth, metric; no value is the default, so that a key that is not read shows.
pub(crate) const WALL: &str = r#"title = "Lantern Wall"
units = "metric"
splash = "09:40"

[site]
water = "fresh"
altitude = "120 m"
temperature = "14 C"
current = "0.5 kn"

[profile]
depth = "18 m"
bottom_time = "40 min"
descent_rate = "20 m/min"

[ascent]
rate = "8 m/min"
stop_spacing = "3 m"
last_stop = "6 m"
safety_stop = { depth = "6 m", time = "4 min" }

[model]
gradient_factors = [45, 80]
first_compartment = "1"
gas_law = "ideal"

[gas]
bottom = "EAN32"
decompression = ["EAN50", "oxygen"]
switch_time = "2 min"

[reserve]
stress = 1.8
sort_out = "2 min"
floor = "40 bar"
turn = "third"

[[diver]]
name = "Juno"
sac = "16 L/min"
cylinder = { size = "12 L", fill = "210 bar" }
pony = { size = "3 L", fill = "190 bar" }
depth_limit = "30 m"
stage = [{ gas = "EAN50", size = "7 L", fill = "180 bar" }]

[[diver]]
name = "Bram"
sac = "25 psi/min"
cylinder = { rated = "100 cuft", at = "3000 psi", fill = "3100 psi" }
"#;

/// The keys that exclude those of [`WALL`]: levels, an air pressure, no safety stop, imperial.
pub(crate) const DRIFT: &str = r#"title = "Brass Reef drift"
units = "imperial"

[site]
water = "1020 kg/m3"
surface_pressure = "1005 mbar"

[[profile.level]]
depth = "90 ft"
time = "12 min"

[[profile.level]]
depth = "50 ft"
time = "20 min"

[ascent]
safety_stop = false

[[diver]]
name = "Ottilie"
sac = "0.6 cuft/min"
cylinder = { rated = "80 cuft", at = "3000 psi", fill = "2900 psi" }
"#;

/// The keys of a current, a hang, buddies and the boat, with their defaults elsewhere.
pub(crate) const PIER: &str = r#"title = "Otter Pier"

[site]
current = "0.4 kn"

[profile]
depth = "14 m"
bottom_time = "35 min"
swim_speed = "0.8 kn"
out = "against"

[reserve]
hang = { depth = "4 m", time = "8 min" }

[[diver]]
name = "Selka"
sac = "14 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
gauge = "psi"
buddy = "Tarn"

[[diver]]
name = "Tarn"
sac = "15 L/min"
cylinder = { size = "15 L", fill = "200 bar" }
buddy = "Selka"

[surface]
overdue_after = "15 min"
emergency = "harbour radio, channel 12"
"#;

/// One diver, and next to nothing that is not demanded.
pub(crate) const REEF: &str = r#"splash = "10:15"

[profile]
depth = "18 m"
bottom_time = "30 min"

[[diver]]
name = "Ines"
sac = "15 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
"#;

/// Units are converted there and back in doubles; far more than that loses.
pub(crate) const SAME: f64 = 1e-9;

/// The plan with one piece of its text changed.
pub(crate) fn edited(plan: &str, old: &str, new: &str) -> String {
    assert_eq!(
        plan.matches(old).count(),
        1,
        "`{old}` must stand in the plan once"
    );
    plan.replace(old, new)
}

/// The only problem there is.
pub(crate) fn only(errors: PlanErrors) -> Problem {
    match errors.problems() {
        [problem] => problem.clone(),
        _ => panic!("several problems:\n{errors}"),
    }
}

/// The only problem of a plan with one piece of its text changed.
pub(crate) fn refusal(plan: &str, old: &str, new: &str) -> Problem {
    match read(&edited(plan, old, new)) {
        Ok(_) => panic!("{new} is read"),
        Err(errors) => only(errors),
    }
}

pub(crate) fn fills(given: &[(&str, &str)]) -> Vec<(String, String)> {
    given
        .iter()
        .map(|(name, pressure)| ((*name).to_owned(), (*pressure).to_owned()))
        .collect()
}

/// `hangbar brief -` with the plan on standard input.
pub(crate) fn brief(plan: &str, args: &[&str]) -> std::process::Output {
    Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .args(["brief", "-"])
        .args(args)
        .env_remove("NO_COLOR")
        .write_stdin(plan)
        .output()
        .unwrap()
}
