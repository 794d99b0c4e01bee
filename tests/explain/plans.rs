//! Every plan that is explained here.

use std::fs;

use crate::document::{root, run};

/// Plans beside those of `plans/`: (what they are for, text, the words that show it).
pub(crate) const CASES: &[(&str, &str, &str)] = &[
    (
        "trimix at altitude, two gases to switch to, a hang, a pony, a diver alone",
        r#"
[site]
altitude = "400 m"
[profile]
depth = "55 m"
bottom_time = "25 min"
[gas]
bottom = "18/45"
decompression = ["EAN50", "oxygen"]
[reserve]
hang = { depth = "24 m", time = "5 min" }
[[diver]]
name = "Orsolya"
sac = "17 L/min"
cylinder = { size = "24 L", fill = "230 bar" }
pony = { size = "7 L", fill = "200 bar" }
stage = [
    { gas = "EAN50", size = "11 L", fill = "200 bar" },
    { gas = "oxygen", size = "7 L", fill = "200 bar" },
]
"#,
        "With two inert gases there is no formula",
    ),
    (
        "trimix: touching the depth is too much",
        "[profile]\ndepth = \"70 m\"\nbottom_time = \"6 min\"\n[gas]\nbottom = \"18/45\"\n\
         [model]\ngradient_factors = [10, 10]\n",
        "Above 0: over the limit, so the no-stop limit is 0 minutes.",
    ),
    (
        "trimix: no limit",
        "[profile]\ndepth = \"4 m\"\nbottom_time = \"40 min\"\n[gas]\nbottom = \"21/20\"\n",
        "Not above 0: still within the limit.",
    ),
    (
        "air: touching the depth is too much, ideal gas, the cylinder runs out",
        r#"
[profile]
depth = "60 m"
bottom_time = "20 min"
[model]
gradient_factors = [20, 20]
gas_law = "ideal"
[[diver]]
name = "Ines"
sac = "20 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
pony = { size = "2 L", fill = "8 bar" }
"#,
        "Above 0: over the limit, so the no-stop limit is 0 minutes.",
    ),
    (
        "air: it never holds more than it may; the floor decides; fresh water, 4-minute compartment",
        r#"
[site]
water = "fresh"
surface_pressure = "0.93 bar"
[profile]
depth = "5 m"
bottom_time = "50 min"
[model]
first_compartment = "1"
[[diver]]
name = "Ines"
sac = "12 L/min"
cylinder = { size = "15 L", fill = "200 bar" }
"#,
        "No limit.",
    ),
    (
        "air: a limit past 999 minutes",
        "[profile]\ndepth = \"7.4 m\"\nbottom_time = \"50 min\"\n",
        "Past 999 minutes: that counts as no limit.",
    ),
    (
        "feet and psi, staged, the pony short of the stops, a gauge in bar",
        r#"
units = "imperial"
[profile]
depth = "105 ft"
bottom_time = "22 min"
[[diver]]
name = "Ruan"
sac = "0.6 cuft/min"
cylinder = { rated = "100 cuft", at = "3442 psi", fill = "3300 psi" }
pony = { rated = "19 cuft", at = "3000 psi", fill = "2900 psi" }
[[diver]]
name = "Hanne"
sac = "20 psi/min"
cylinder = { rated = "80 cuft", at = "3000 psi", fill = "2900 psi" }
gauge = "bar"
"#,
        "It covers a straight ascent, but not the stops.",
    ),
    (
        "a minimum that no cylinder holds",
        "units = \"imperial\"\n[profile]\ndepth = \"150 ft\"\nbottom_time = \"40 min\"\n[[diver]]\n\
         name = \"Ines\"\nsac = \"30 L/min\"\ncylinder = { size = \"10 L\", fill = \"200 bar\" }\n",
        "more than any cylinder is filled to, and not worked out. The briefing says >9000 psi.",
    ),
    (
        "three levels, one above the other, out with a current",
        r#"
[site]
current = "0.4 kn"
[[profile.level]]
depth = "32 m"
time = "12 min"
[[profile.level]]
depth = "18 m"
time = "15 min"
[[profile.level]]
depth = "24 m"
time = "6 min"
[profile]
swim_speed = "0.9 kn"
out = "with"
[gas]
bottom = "EAN30"
[[diver]]
name = "Ines"
sac = "14 L/min"
cylinder = { size = "15 L", fill = "230 bar" }
pony = { size = "3 L", fill = "200 bar" }
[[diver]]
name = "Kai"
sac = "19 L/min"
cylinder = { size = "18 L", fill = "230 bar" }
"#,
        "Share to go out with",
    ),
    (
        "third dive of the day, too early for a no-stop dive; one stayed aboard for the second",
        r#"
[profile]
depth = "24 m"
bottom_time = "20 min"
staged = true
[[before]]
depth = "30 m"
bottom_time = "18 min"
surface_interval = "25 min"
[[before]]
depth = "20 m"
bottom_time = "30 min"
surface_interval = "26 min"
divers = ["Ansa"]
[[diver]]
name = "Ansa"
sac = "14 L/min"
cylinder = { size = "15 L", fill = "220 bar" }
[[diver]]
name = "Bode"
sac = "16 L/min"
cylinder = { size = "15 L", fill = "220 bar" }
"#,
        "the plan's 26 minutes are 15 minutes too short.",
    ),
    (
        "three levels at altitude after trimix, lately up from the sea; not a no-stop dive even clean",
        r#"
[site]
altitude = "900 m"
arrived = "30 min"
[[profile.level]]
depth = "24 m"
time = "12 min"
[[profile.level]]
depth = "30 m"
time = "10 min"
[[profile.level]]
depth = "15 m"
time = "8 min"
[[before]]
depth = "50 m"
bottom_time = "12 min"
gas = "18/45"
surface_interval = "65 min"
"#,
        "Above 0: from clean tissues it needs stops.",
    ),
    (
        "trimix after air: two gases, and the minute that makes it a no-stop dive",
        "[profile]\ndepth = \"40 m\"\nbottom_time = \"8 min\"\n[gas]\nbottom = \"21/35\"\n\
         [[before]]\ndepth = \"42 m\"\nbottom_time = \"22 min\"\ngas = \"air\"\nsurface_interval = \"15 min\"\n",
        "is the least from which it is a no-stop dive",
    ),
    (
        "a short dive after a short one: no interval is needed",
        "[profile]\ndepth = \"12 m\"\nbottom_time = \"10 min\"\n[[before]]\ndepth = \"10 m\"\n\
         bottom_time = \"10 min\"\nsurface_interval = \"45 min\"\n",
        "By the model it is a no-stop dive even without any minute there;",
    ),
    (
        "down from the mountains: it takes nitrogen up",
        "[site]\narrived = \"90 min\"\nhome_altitude = \"2000 m\"\n[profile]\ndepth = \"22 m\"\n\
         bottom_time = \"20 min\"\n",
        "90 minutes at the site before the first dive of the day",
    ),
];

/// Every plan of `plans/` and every case above: name and text.
pub(crate) fn every_plan() -> Vec<(String, String)> {
    let mut plans: Vec<(String, String)> = fs::read_dir(root().join("plans"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, fs::read_to_string(path).unwrap())
        })
        .collect();
    assert!(plans.len() >= 8, "the demo charter lost plans");
    plans.sort();
    plans.extend(
        CASES
            .iter()
            .map(|(name, text, _)| ((*name).to_owned(), (*text).to_owned())),
    );
    plans
}

#[test]
fn each_case_is_about_what_it_says() {
    for (name, plan, words) in CASES {
        let (text, _, _) = run(&["-"], plan);
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(words), "{name}: `{words}` is not in\n{text}");
    }
}
