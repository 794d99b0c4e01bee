//! Broken plans.

use crate::broken::{Broken, Bytes, Command, broken, hold};
use hangbar::report::SchemaOf;

use crate::json_schema::faults;
use crate::program::{SLATE, STEPS, TABLE, edited};

/// Told of every plan.
const BRIEF: Command = Command {
    folder: "plans",
    words: &["brief", "FILE"],
};

/// One edit or a few of the good plan.
const OF_STEPS: &[Broken] = broken! {
    "bracket-not-closed": "[profile]" => "[profile";
    "quote-not-closed": "depth = \"24 m\"" => "depth = \"24 m";
    "no-quotes": "depth = \"24 m\"" => "depth = 24 m";
    "colon": "depth = \"24 m\"" => "depth: \"24 m\"";
    "bare-decimal-comma": "depth = \"24 m\"" => "depth = 24,5";
    "curly-quotes": "depth = \"24 m\"" => "depth = “24 m”";
    "key-twice": "depth = \"24 m\"" => "depth = \"24 m\"\ndepth = \"24 m\"";
    "table-twice": "[reserve]" => "[gas]\nswitch_time = \"1 min\"\n\n[reserve]";
    "one-bracket-for-a-diver": "[[diver]]\nname = \"Runa\"" => "[diver]\nname = \"Runa\"";
    "two-brackets-for-the-profile": "[profile]" => "[[profile]]";
    "brace-not-closed": "fill = \"210 bar\" }" => "fill = \"210 bar\"";
    "comma-missing-in-a-cylinder": "\"232 bar\", fill" => "\"232 bar\" fill";
    "capital-true": "bottom_time = \"25 min\"" => "bottom_time = \"25 min\"\nstaged = True";
    "word-without-quotes": "bottom = \"EAN32\"" => "bottom = EAN32";
    "left-from-a-merge": "[gas]" => "<<<<<<< mine\n[gas]";
    "comment-as-in-other-languages": "[gas]" => "// what we breathe\n[gas]";
    "backslash-in-a-title": "title = \"Ferry Steps\"" => "title = \"C:\\dives\\steps\"";
    "zero-byte": "depth = \"24 m\"" => "depth = \"24 m\u{0}\"";
    "escape-in-a-title": "Ferry Steps\"" => "Ferry Steps\u{1b}[2J\"";
    "turned-text-in-a-name": "name = \"Oskar\"" => "name = \"Oskar\\u202e\"";
    "misspelled-key": "bottom_time" => "botom_time";
    "hyphen-in-a-key": "bottom_time" => "bottom-time";
    "capital-key": "depth = " => "Depth = ";
    "misspelled-table": "[reserve]" => "[reserves]";
    "plural-table": "[[diver]]\nname = \"Runa\"" => "[[divers]]\nname = \"Runa\"", "[[diver]]\nname = \"Oskar\"" => "[[divers]]\nname = \"Oskar\"";
    "key-under-the-wrong-table": "splash = \"09:30\"\n" => "", "turn = \"third\"" => "turn = \"third\"\nsplash = \"09:30\"";
    "key-of-nobody": "water = \"sea\"" => "water = \"sea\"\nvisibility = \"12 m\"";
    "key-of-the-diver-in-the-cylinder": "at = \"232 bar\", fill" => "at = \"232 bar\", gas = \"EAN32\", fill";
    "list-not-closed": "[gas]" => "[model]\ngradient_factors = [40, 85\n\n[gas]";
    "comma-missing-in-a-list": "bottom = \"EAN32\"" => "bottom = \"EAN32\"\ndecompression = [\"EAN50\" \"oxygen\"]";
    "nothing-behind-the-equals-sign": "depth = \"24 m\"" => "depth =";
    "double-bracket-not-closed": "[[diver]]\nname = \"Runa\"" => "[[diver\nname = \"Runa\"";
    "divers-in-a-list-and-in-tables": "splash = \"09:30\"" => "splash = \"09:30\"\ndiver = []";
    "key-twice-in-a-cylinder": "fill = \"220 bar\" }" => "fill = \"220 bar\", size = \"12 L\" }";
    "key-alone": "depth = \"24 m\"" => "depth";
    "cut-off-in-a-cylinder": "fill = \"220 bar\" }\npony = { size = \"3 L\", fill = \"200 bar\" }\nbuddy = \"Runa\"\n" => "fill = \"220 bar\"";
    "no-unit": "depth = \"24 m\"" => "depth = \"24\"";
    "bare-number": "depth = \"24 m\"" => "depth = 24";
    "metres-for-minutes": "\"25 min\"" => "\"25 m\"";
    "minutes-for-metres": "depth = \"24 m\"" => "depth = \"24 min\"";
    "litres-for-litres-a-minute": "\"15 L/min\"" => "\"15 L\"";
    "decimal-comma-in-a-quantity": "depth = \"24 m\"" => "depth = \"24,5 m\"";
    "unit-first": "depth = \"24 m\"" => "depth = \"m 24\"";
    "two-quantities-in-one": "depth = \"24 m\"" => "depth = \"24 m 30 cm\"";
    "centimetres": "depth = \"24 m\"" => "depth = \"2400 cm\"";
    "letter-o-for-nought": "depth = \"24 m\"" => "depth = \"2O m\"";
    "celsius-for-depth": "\"12 C\"" => "\"12 m\"";
    "feet-with-a-mark": "depth = \"24 m\"" => "depth = \"80'\"";
    "too-deep": "depth = \"24 m\"" => "depth = \"240 m\"";
    "no-depth-at-all": "depth = \"24 m\"" => "depth = \"0 m\"";
    "below-nought": "depth = \"24 m\"" => "depth = \"-24 m\"";
    "not-a-number": "depth = \"24 m\"" => "depth = \"nan m\"";
    "endless": "\"25 min\"" => "\"inf min\"";
    "no-time-at-all": "\"25 min\"" => "\"0 min\"";
    "days-at-the-bottom": "\"25 min\"" => "\"25 h\"";
    "sac-of-a-whale": "\"15 L/min\"" => "\"1500 L/min\"";
    "fill-in-psi-called-bar": "fill = \"220 bar\"" => "fill = \"3000 bar\"";
    "overfilled": "fill = \"210 bar\"" => "fill = \"300 bar\"";
    "factors-the-wrong-way-round": "[gas]" => "[model]\ngradient_factors = [85, 40]\n\n[gas]";
    "factors-as-fractions": "[gas]" => "[model]\ngradient_factors = [0.4, 0.85]\n\n[gas]";
    "factors-as-text": "[gas]" => "[model]\ngradient_factors = \"40/85\"\n\n[gas]";
    "one-factor": "[gas]" => "[model]\ngradient_factors = [85]\n\n[gas]";
    "above-every-lake": "water = \"sea\"" => "water = \"fresh\"\naltitude = \"5200 m\"";
    "altitude-and-pressure": "water = \"sea\"" => "water = \"fresh\"\naltitude = \"1200 m\"\nsurface_pressure = \"0.87 bar\"";
    "home-without-arrived": "water = \"sea\"" => "water = \"fresh\"\naltitude = \"1200 m\"\nhome_altitude = \"0 m\"";
    "hour-with-a-point": "\"09:30\"" => "\"9.30\"";
    "hour-past-midnight": "\"09:30\"" => "\"24:10\"";
    "hour-without-quotes": "\"09:30\"" => "09:30";
    "water-of-no-kind": "\"sea\"" => "\"salt\"";
    "turn-of-no-kind": "\"third\"" => "\"thirds\"";
    "units-of-no-kind": "splash =" => "units = \"US\"\nsplash =";
    "profile-missing": "[profile]\ndepth = \"24 m\"\nbottom_time = \"25 min\"\n\n" => "";
    "depth-missing": "depth = \"24 m\"\n" => "";
    "bottom-time-missing": "bottom_time = \"25 min\"\n" => "";
    "name-missing": "name = \"Oskar\"\n" => "", "buddy = \"Oskar\"\n" => "", "buddy = \"Runa\"\n" => "";
    "cylinder-missing": "cylinder = { size = \"15 L\", fill = \"220 bar\" }\n" => "";
    "fill-missing": ", fill = \"220 bar\"" => "";
    "cylinder-as-text": "{ size = \"15 L\", fill = \"220 bar\" }" => "\"15 L, 220 bar\"";
    "stage-as-one-table": "pony =" => "stage = { gas = \"EAN50\", size = \"7 L\", fill = \"200 bar\" }\npony =";
    "safety-stop-true": "[gas]" => "[ascent]\nsafety_stop = true\n\n[gas]";
    "safety-stop-as-text": "[gas]" => "[ascent]\nsafety_stop = \"3 min at 5 m\"\n\n[gas]";
    "title-as-number": "title = \"Ferry Steps\"" => "title = 7";
    "decompression-as-text": "bottom = \"EAN32\"" => "bottom = \"EAN32\"\ndecompression = \"EAN50\"";
    "two-of-one-name": "name = \"Oskar\"" => "name = \"Runa\"", "buddy = \"Oskar\"\n" => "", "buddy = \"Runa\"\n" => "";
    "two-spellings-of-one-name": "name = \"Runa\"" => "name = \"Zoë\"", "name = \"Oskar\"" => "name = \"Zoe\u{308}\"", "buddy = \"Oskar\"\n" => "", "buddy = \"Runa\"\n" => "";
    "buddy-of-nobody": "buddy = \"Oskar\"" => "buddy = \"Oscar\"";
    "own-buddy": "buddy = \"Oskar\"" => "buddy = \"Runa\"";
    "buddy-one-way": "buddy = \"Runa\"\n" => "";
    "earlier-dive-of-nobody": "[gas]" => "[[before]]\ndepth = \"18 m\"\nbottom_time = \"30 min\"\nsurface_interval = \"90 min\"\ndivers = [\"Runa\", \"Oscar\"]\n\n[gas]";
    "earlier-dive-without-interval": "[gas]" => "[[before]]\ndepth = \"18 m\"\nbottom_time = \"30 min\"\n\n[gas]";
    "decompression-gas-twice": "bottom = \"EAN32\"" => "bottom = \"EAN32\"\ndecompression = [\"EAN50\", \"50/0\"]";
    "name-with-no-letter": "name = \"Oskar\"" => "name = \"  \"";
    "name-as-long-as-a-letter": "name = \"Oskar\"" => "name = \"Oskar of the harbour office and his brother Oskar of the harbour office and his brother Oskar of the harbour office and his brother \"";
    "level-shorter-than-its-travel": "[profile]\ndepth = \"24 m\"\nbottom_time = \"25 min\"\n" => "[[profile.level]]\ndepth = \"30 m\"\ntime = \"1 min\"\n\n[[profile.level]]\ndepth = \"12 m\"\ntime = \"20 min\"\n";
    "depth-and-levels": "[profile]\ndepth = \"24 m\"\nbottom_time = \"25 min\"\n" => "[profile]\ndepth = \"24 m\"\nbottom_time = \"25 min\"\n\n[[profile.level]]\ndepth = \"12 m\"\ntime = \"20 min\"\n";
    "no-levels": "[profile]\ndepth = \"24 m\"\nbottom_time = \"25 min\"\n" => "[profile]\nlevel = []\n";
    "level-without-time": "[profile]\ndepth = \"24 m\"\nbottom_time = \"25 min\"\n" => "[[profile.level]]\ndepth = \"30 m\"\nbottom_time = \"20 min\"\n";
    "twenty-one-levels": "[profile]\ndepth = \"24 m\"\nbottom_time = \"25 min\"\n" => "[profile]\nlevel = [\n  { depth = \"30 m\", time = \"3 min\" },\n  { depth = \"29 m\", time = \"3 min\" },\n  { depth = \"28 m\", time = \"3 min\" },\n  { depth = \"27 m\", time = \"3 min\" },\n  { depth = \"26 m\", time = \"3 min\" },\n  { depth = \"25 m\", time = \"3 min\" },\n  { depth = \"24 m\", time = \"3 min\" },\n  { depth = \"23 m\", time = \"3 min\" },\n  { depth = \"22 m\", time = \"3 min\" },\n  { depth = \"21 m\", time = \"3 min\" },\n  { depth = \"20 m\", time = \"3 min\" },\n  { depth = \"19 m\", time = \"3 min\" },\n  { depth = \"18 m\", time = \"3 min\" },\n  { depth = \"17 m\", time = \"3 min\" },\n  { depth = \"16 m\", time = \"3 min\" },\n  { depth = \"15 m\", time = \"3 min\" },\n  { depth = \"14 m\", time = \"3 min\" },\n  { depth = \"13 m\", time = \"3 min\" },\n  { depth = \"12 m\", time = \"3 min\" },\n  { depth = \"11 m\", time = \"3 min\" },\n  { depth = \"10 m\", time = \"3 min\" },\n]\n";
    "bottom-time-shorter-than-the-way-down": "\"25 min\"" => "\"1 min\"";
    "stop-that-never-clears": "\"EAN32\"" => "\"10/0\"", "[gas]" => "[model]\ngradient_factors = [5, 5]\n\n[gas]", "\"24 m\"" => "\"40 m\"", "\"25 min\"" => "\"60 min\"";
    "last-stop-between-the-steps": "[gas]" => "[ascent]\nstop_spacing = \"3 m\"\nlast_stop = \"5 m\"\n\n[gas]";
    "gas-with-a-blank": "\"EAN32\"" => "\"Nitrox 32\"";
    "gas-as-a-number": "bottom = \"EAN32\"" => "bottom = 32";
    "gas-of-more-than-all": "\"EAN32\"" => "\"EAN132\"";
    "gas-of-no-oxygen": "\"EAN32\"" => "\"EAN3\"";
    "trimix-of-more-than-all": "\"EAN32\"" => "\"40/70\"";
    "gas-half-named": "\"EAN32\"" => "\"18/\"";
    "stage-that-the-plan-does-not-have": "pony =" => "stage = [{ gas = \"EAN50\", size = \"7 L\", fill = \"200 bar\" }]\npony =";
    "own-gas-with-helium": "pony = { size = \"3 L\", fill = \"200 bar\" }" => "gas = \"21/35\"";
};

/// The same of the plan in feet and psi.
const OF_IMPERIAL: &[Broken] = broken! {
    "cubic-feet-as-size": "rated = \"100 cuft\"" => "size = \"100 cuft\"";
    "rated-without-its-pressure": ", at = \"3442 psi\"" => "";
    "rated-in-litres-of-water": "rated = \"100 cuft\"" => "rated = \"12 L\"";
    "size-and-rated": "rated =" => "size = \"12 L\", rated =";
    "bar-for-psi": "fill = \"3300 psi\"" => "fill = \"3300 bar\"";
    "psi-with-a-thousands-comma": "fill = \"3300 psi\"" => "fill = \"3,300 psi\"";
    "feet-as-quote-marks": "\"80 ft\"" => "'80\"'";
    "sac-in-cubic-feet": "\"18 L/min\"" => "\"0.7 cuft\"";
    "sac-in-litres-called-cubic-feet": "\"18 L/min\"" => "\"18 cuft/min\"";
    "metric-number-in-feet": "\"80 ft\"" => "\"24 ft/min\"";
};

/// The good plan as it is written where gauges show psi.
fn imperial() -> String {
    let text = edited(STEPS, "title =", "units = \"imperial\"\ntitle =");
    let text = edited(&text, "\"24 m\"", "\"80 ft\"");
    edited(
        &text,
        "{ size = \"15 L\", fill = \"220 bar\" }",
        "{ rated = \"100 cuft\", at = \"3442 psi\", fill = \"3300 psi\" }",
    )
}

/// Several faults of a tired hand.
const MANY: &str = r#"titel = "Ferry Steps"
units = "metrical"

[site]
water = "lake"
current = "0,5 kn"

[profile]
depth = 24
bottom_time = "25 m"
descent_rate = "18 m"

[[diver]]
name = "Runa"
sac = 15
cylinder = { size = "12 L", fill = "210" }
buddy = "Oskar"

[[diver]]
sac = "18 L/min"
cylinder = "15 L"
"#;

/// Whole files: what no edit makes.
fn whole() -> Vec<(&'static str, Vec<u8>)> {
    let no_unit = edited(STEPS, "depth = \"24 m\"", "depth = \"24\"");
    let unnamed = &STEPS[..STEPS.find("[[diver]]").unwrap()];
    let keys: String = (1..=30)
        .map(|key| format!("note_{key} = \"x\"\n"))
        .collect();
    let latin = Bytes(&STEPS.replace("Oskar", "Åke")).in_latin_1();
    vec![
        ("empty", Vec::new()),
        (
            "nothing-but-comments",
            b"# Ferry Steps\n\n# to do: all of it\n".to_vec(),
        ),
        ("byte-order-mark", format!("\u{feff}{no_unit}").into()),
        ("windows-line-ends", no_unit.replace('\n', "\r\n").into()),
        ("line-ends-of-an-old-mac", STEPS.replace('\n', "\r").into()),
        ("latin-1", latin),
        ("utf-16", Bytes(STEPS).in_utf_16()),
        (
            "binary",
            [b"\x7fELF\x02\x01".as_slice(), &[0, 0xff, 0x80, 7]].concat(),
        ),
        (
            "web-page",
            b"<!DOCTYPE html>\n<html><body><h1>404</h1></body></html>\n".to_vec(),
        ),
        (
            "divers-as-names",
            format!("diver = [\"Runa\", \"Oskar\"]\n{unnamed}").into(),
        ),
        ("slate-for-a-plan", SLATE.into()),
        ("table-for-a-plan", TABLE.into()),
        ("many-at-once", MANY.into()),
        ("more-than-twenty", format!("{keys}{STEPS}").into()),
    ]
}

#[test]
fn every_broken_plan_is_told_in_the_words_of_its_golden() {
    let edits = Broken::all(OF_STEPS, STEPS);
    let imperial = Broken::all(OF_IMPERIAL, &imperial());
    hold(&BRIEF, [edits, imperial, whole()].concat(), ".toml");
}

/// What only the reader knows: ranges, names of the team, what two values come to together, and dives.
const BEYOND_A_SCHEMA: &[&str] = &[
    "turned-text-in-a-name",
    "too-deep",
    "no-depth-at-all",
    "no-time-at-all",
    "days-at-the-bottom",
    "sac-of-a-whale",
    "fill-in-psi-called-bar",
    "overfilled",
    "factors-the-wrong-way-round",
    "above-every-lake",
    "two-of-one-name",
    "two-spellings-of-one-name",
    "buddy-of-nobody",
    "own-buddy",
    "buddy-one-way",
    "earlier-dive-of-nobody",
    "decompression-gas-twice",
    "level-shorter-than-its-travel",
    "bottom-time-shorter-than-the-way-down",
    "stop-that-never-clears",
    "last-stop-between-the-steps",
    "gas-of-more-than-all",
    "gas-of-no-oxygen",
    "trimix-of-more-than-all",
    "stage-that-the-plan-does-not-have",
    "own-gas-with-helium",
    "rated-in-litres-of-water",
    "bar-for-psi",
    "sac-in-litres-called-cubic-feet",
];

/// What is no TOML at all has no schema to be held against.
#[test]
fn the_schema_refuses_every_broken_plan_but_for_what_it_cannot_know() {
    let schema = SchemaOf::Plan.schema();
    let edits = Broken::all(OF_STEPS, STEPS);
    let imperial = Broken::all(OF_IMPERIAL, &imperial());
    let (mut refused, mut taken) = (0, Vec::new());
    for (name, bytes) in [edits, imperial, whole()].concat() {
        let text = String::from_utf8(bytes).unwrap_or_default();
        let Ok(plan) = text.parse::<toml::Table>() else {
            continue;
        };
        if faults(&schema, &serde_json::to_value(plan).unwrap()).is_empty() {
            taken.push(name);
        } else {
            refused += 1;
        }
    }
    assert_eq!(taken, BEYOND_A_SCHEMA);
    assert!(refused > 50, "{refused}");
}
