//! One diver's part of a briefing.

use predicates::str::contains;

use crate::read::{flowing, section};
use crate::run::{hangbar, json_of, stdout};

const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/plans");

/// Every plan of the folder, and the names in it.
fn teams() -> Vec<(String, Vec<String>)> {
    let files = std::fs::read_dir(FOLDER).unwrap();
    let files = files.map(|file| file.unwrap().path().display().to_string());
    let teams = files.filter(|file| file.ends_with(".toml")).map(|file| {
        let json = json_of(&["brief", &file, "--format", "json"]);
        let divers = json["divers"].as_array().unwrap().iter();
        let names = divers.map(|diver| diver["name"].as_str().unwrap().to_owned());
        let names: Vec<String> = names.collect();
        (file, names)
    });
    teams.collect()
}

/// The rows of a table below a heading, by the name that each begins with.
fn row<'t>(text: &'t str, heading: &str, name: &str) -> Option<String> {
    let lines: Vec<&'t str> = section(text, heading);
    let row = lines.iter().find(|line| {
        let rest = line.trim_start().strip_prefix(name);
        rest.is_some_and(|rest| rest.starts_with(' '))
    });
    row.map(|row| flowing(row))
}

#[test]
fn the_part_of_a_diver_has_the_figures_of_the_whole_and_nobody_elses() {
    let mut rows = 0;
    for (file, names) in teams() {
        let whole = stdout(&["brief", &file]);
        for name in &names {
            let part = stdout(&["brief", &file, "--only", name]);
            assert_eq!(part.lines().next(), whole.lines().next(), "{file}, {name}");
            assert_eq!(part.lines().last(), whole.lines().last(), "{file}, {name}");
            for heading in ["Gas", "Gas as asked for"] {
                assert_eq!(
                    row(&part, heading, name),
                    row(&whole, heading, name),
                    "{file}"
                );
                rows += usize::from(row(&part, heading, name).is_some());
                for other in names.iter().filter(|other| *other != name) {
                    assert_eq!(row(&part, heading, other), None, "{file}: {other}");
                }
            }
            for line in whole.lines().filter(|line| line.contains("'s pony gives")) {
                let own = line.trim_start().starts_with(&format!("{name}'s"));
                assert_eq!(part.lines().any(|said| said == line), own, "{file}, {name}");
            }
        }
    }
    assert!(rows > 10, "only {rows} rows were compared");
}

#[test]
fn whose_gas_ends_the_dive_is_said_to_who_has_more() {
    let part = stdout(&["brief", "plans/kittiwake-wall.toml", "--only", "Tove"]);
    let words = flowing(&part);
    assert!(words.contains("there the gas of Idris ends it"), "{part}");
    assert!(
        words.contains("who runs short first ends it for all"),
        "{part}"
    );
    assert!(words.contains("No flying or driving up"), "{part}");
}

#[test]
fn a_no_go_is_one_for_each_of_the_team() {
    let asked = ["brief", "plans/kittiwake-wall.toml", "--only", "Tove"];
    let mut command = hangbar();
    let assert = command
        .args(asked)
        .args(["--fill", "Idris=80 bar"])
        .assert();
    let assert = assert.code(1).stdout(contains("Gas as asked for"));
    let text = String::from_utf8(assert.get_output().stdout.clone()).unwrap();
    assert!(text.starts_with("NO-GO"), "{text}");
    assert!(text.contains("Idris"), "whose gas it is: {text}");
    assert!(!text.contains("turn"), "nothing to turn at: {text}");
}

#[test]
fn who_is_not_in_the_plan_has_no_part() {
    let plan = "plans/kittiwake-wall.toml";
    let refused = |more: &[&str], words: &str| {
        let mut command = hangbar();
        let assert = command.args(["brief", plan]).args(more).assert();
        assert.code(2).stdout("").stderr(contains(words.to_owned()));
    };
    refused(&["--only", "Maar"], "did you mean Mara? one of Tove, Mara");
    refused(&["--only", "\u{1b}[2J"], "nobody is called");
    refused(&["--only", "Mara", "--short"], "cannot be used with");
    let json = hangbar()
        .args(["brief", plan, "--only", "Mara", "--format", "json"])
        .assert()
        .code(2);
    json.stderr(contains("one diver's part is text alone"));
}

/// What is said of a limit in thin air is said to each who has one.
#[test]
fn at_a_lake_the_part_of_a_diver_has_its_caution() {
    for (plan, at_altitude) in [("hollin-tarn", true), ("kittiwake-wall", false)] {
        let file = format!("plans/{plan}.toml");
        let json = json_of(&["brief", &file, "--format", "json"]);
        let name = json["divers"][0]["name"].as_str().unwrap();
        let words = flowing(&stdout(&["brief", &file, "--only", name]));
        assert_eq!(words.contains("In thin air"), at_altitude, "{words}");
    }
}
