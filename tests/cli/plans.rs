//! Plans for several subjects, and changes to their text.

use crate::document::Verdict;

/// GO, no-stop, metric: two divers, one with a pony.
pub(crate) const REEF: &str = r#"title = "Copper Reef"
splash = "14:20"

[profile]
depth = "21 m"
bottom_time = "30 min"

[gas]
bottom = "EAN32"

[[diver]]
name = "Noor"
sac = "15.3 L/min"
cylinder = { size = "12 L", fill = "207 bar" }
pony = { size = "3 L", fill = "190 bar" }

[[diver]]
name = "Casper"
sac = "19.1 L/min"
cylinder = { size = "15 L", fill = "220 bar" }
depth_limit = "30 m"
"#;

/// GO, staged: trimix, two gases for the way up, a diver alone.
pub(crate) const BRIG: &str = r#"title = "The old brig"

[profile]
depth = "55 m"
bottom_time = "25 min"

[gas]
bottom = "18/45"
decompression = ["EAN50", "oxygen"]

[[diver]]
name = "Orsolya"
sac = "17 L/min"
cylinder = { size = "24 L", fill = "230 bar" }
stage = [
    { gas = "EAN50", size = "11 L", fill = "200 bar" },
    { gas = "oxygen", size = "7 L", fill = "200 bar" },
]
"#;

/// NO-GO: the gas does not reach the surface, and the pony covers nothing.
pub(crate) const THIRSTY: &str = r#"title = "Too long on one cylinder"

[profile]
depth = "38 m"
bottom_time = "30 min"

[[diver]]
name = "Benedikta"
sac = "24 L/min"
cylinder = { size = "10 L", fill = "200 bar" }
pony = { size = "1 L", fill = "150 bar" }

[[diver]]
name = "Yorick"
sac = "22 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
"#;

/// So shallow that there is no no-stop limit; a schedule only, for nobody is named.
pub(crate) const LAGOON: &str = "[profile]\ndepth = \"5 m\"\nbottom_time = \"60 min\"\n";

/// GO, imperial: two levels, a hang, cylinders by their rating.
pub(crate) const KELP: &str = r#"title = "Kelp garden"
units = "imperial"

[[profile.level]]
depth = "70 ft"
time = "15 min"

[[profile.level]]
depth = "40 ft"
time = "20 min"

[[diver]]
name = "Marigold"
sac = "0.55 cuft/min"
cylinder = { rated = "100 cuft", at = "3442 psi", fill = "3400 psi" }

[[diver]]
name = "Ezra"
sac = "19 psi/min"
cylinder = { rated = "80 cuft", at = "3000 psi", fill = "3000 psi" }
pony = { rated = "19 cuft", at = "3000 psi", fill = "2950 psi" }
"#;

/// A good file of a dive that has no way up: breathing this gas, the stops never clear.
pub(crate) const STUCK: &str = "[profile]\ndepth = \"40 m\"\nbottom_time = \"60 min\"\n\
                     [model]\ngradient_factors = [5, 5]\n[gas]\nbottom = \"10/0\"\n";

/// Three faults.
pub(crate) const BROKEN: &str =
    "titel = \"x\"\n[profile]\ndepth = \"20\"\nbottom_time = \"20 m\"\n";

pub(crate) const GOOD_FILES: &[(&str, &str, i32)] = &[
    ("reef", REEF, 0),
    ("brig", BRIG, 0),
    ("thirsty", THIRSTY, 1),
    ("lagoon", LAGOON, 0),
    ("kelp", KELP, 0),
];

/// The verdict of one of [`GOOD_FILES`]: without a team a schedule is no go.
pub(crate) fn verdict_of(plan: &str, code: i32) -> Verdict {
    match code {
        0 if plan.contains("[[diver]]") => Verdict::Go,
        0 => Verdict::ScheduleOnly,
        _ => Verdict::NoGo,
    }
}

/// A drift that gets shallower.
pub(crate) const DRIFT: &str = r#"
[[profile.level]]
depth = "28 m"
time = "12 min"
[[profile.level]]
depth = "18 m"
time = "15 min"
[[profile.level]]
depth = "12 m"
time = "20 min"
[[diver]]
name = "Ines"
sac = "20 L/min"
cylinder = { size = "10 L", fill = "200 bar" }
"#;

/// A deep, long safety stop.
pub(crate) const OVERLOADING: &str = r#"
[profile]
depth = "21 m"
bottom_time = "28 min"
[ascent]
safety_stop = { depth = "18 m", time = "6 min" }
[[diver]]
name = "Ines"
sac = "12 L/min"
cylinder = { size = "8 L", fill = "230 bar" }
pony = { size = "3 L", fill = "200 bar" }
"#;

/// One level and one diver with so much of everything that only the dive decides.
pub(crate) fn roomy(profile: &str) -> String {
    format!(
        "{profile}\n[[diver]]\nname = \"Odd\"\nsac = \"14 L/min\"\n\
         cylinder = {{ size = \"24 L\", fill = \"230 bar\" }}\n"
    )
}

pub(crate) fn one_level(depth: &str, time: &str) -> String {
    roomy(&format!(
        "[profile]\ndepth = \"{depth}\"\nbottom_time = \"{time}\""
    ))
}

/// Past an 18-minute limit at 28 m, then 12 m, which lets the gas off again.
pub(crate) fn deep_then_shallow(more: &str) -> String {
    roomy(&format!(
        "[profile]\n{more}\n[[profile.level]]\ndepth = \"28 m\"\ntime = \"22 min\"\n\
         [[profile.level]]\ndepth = \"12 m\"\ntime = \"20 min\""
    ))
}

/// Two divers with so much gas and these stage cylinders.
pub(crate) fn pair(head: &str, sac: &str, litres: &str, stage: &str) -> String {
    let mut plan = format!("{head}\n");
    for name in ["Ann", "Bo"] {
        plan.push_str(&format!(
            "[[diver]]\nname = \"{name}\"\nsac = \"{sac}\"\n\
             cylinder = {{ size = \"{litres}\", fill = \"220 bar\" }}\n{stage}\n"
        ));
    }
    plan
}

/// One pair; `{fill}` is the second diver's.
const PAIR: &str = r#"
title = "North Gully"
splash = "23:50"
[site]
water = "en13319"
[profile]
depth = "18 m"
bottom_time = "20 min"
[model]
gas_law = "ideal"
[reserve]
floor = "0 bar"
[surface]
overdue_after = "15 min"
emergency = "Call the harbour on VHF 11"
[[diver]]
name = "Ada"
sac = "15 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
[[diver]]
name = "Ben"
sac = "20 L/min"
cylinder = { size = "10 L", fill = "{fill}" }
gauge = "psi"
"#;

pub(crate) fn gully(fill: &str) -> String {
    PAIR.replace("{fill}", fill)
}

/// The plan with one piece of its text changed.
pub(crate) fn edited(plan: &str, old: &str, new: &str) -> String {
    assert_eq!(
        plan.matches(old).count(),
        1,
        "`{old}` must stand in the plan once"
    );
    plan.replace(old, new)
}
