//! One name in two spellings is one diver: letters with their accents in one character or in two.

use std::fs;

use hangbar::plan::{Diver, EarlierDive, PlanBuilder, PlanError};
use hangbar::plan_file::{NextPlan, Overrides, next_plan, read, read_with};
use hangbar::quantity::{BreathingRate, Depth, GaugePressure, Time, UnitSystem, WaterVolume};
use hangbar::rules::Level;
use hangbar::site::Cylinder;

use crate::folder::Folder;
use crate::program::{Ended, SLATE, STEPS, TABLE, UDDF, edited, run};

/// As most keyboards write it, and as some file systems and telephones do.
const ONE: &str = "Zo\u{eb} \u{c5}s";
const TWO: &str = "Zoe\u{308} A\u{30a}s";

/// A plan for ONE and Oskar in which she has another spelling in some places.
fn plan(name: &str, buddy: &str, dived: &str) -> String {
    let text = edited(STEPS, "name = \"Runa\"", &format!("name = \"{name}\""));
    let text = edited(&text, "buddy = \"Runa\"", &format!("buddy = \"{buddy}\""));
    edited(
        &text,
        "[gas]",
        &format!(
            "[[before]]\ndepth = \"18 m\"\nbottom_time = \"20 min\"\nsurface_interval = \"2 h\"\n\
             divers = [\"{dived}\"]\n\n[gas]"
        ),
    )
}

#[test]
fn the_places_of_a_plan_know_each_other_whatever_the_spelling() {
    let want = read(&plan(ONE, ONE, ONE)).unwrap();
    assert_eq!(want.divers()[0].name, ONE);
    for name in [ONE, TWO] {
        for buddy in [ONE, TWO] {
            for dived in [ONE, TWO] {
                assert_eq!(read(&plan(name, buddy, dived)).unwrap(), want);
            }
        }
    }
    for fill in [ONE, TWO] {
        let mut today = Overrides {
            fills: vec![(fill.to_owned(), "200 bar".to_owned())],
            ..Overrides::default()
        };
        let plan = read_with(&plan(TWO, ONE, TWO), &today).unwrap();
        let filled = plan.divers()[0].cylinder.fill.as_bar();
        assert!((filled - 200.0).abs() < 1e-9, "{fill:?}");
        // Twice is once too often, whatever the spelling.
        today.fills.push((ONE.to_owned(), "190 bar".to_owned()));
        let errors = read_with(&self::plan(TWO, ONE, TWO), &today).unwrap_err();
        assert!(errors.to_string().contains("two fills are given for"));
    }
}

#[test]
fn what_looks_alike_and_is_not_the_same_stays_apart() {
    // A Greek and a Cyrillic letter, and no accent at all.
    for other in ["Runa", "R\u{75}na", "\u{420}una", "Run\u{3b1}", "R\u{fa}na"] {
        let is_same = other == "Runa";
        let text = edited(STEPS, "name = \"Oskar\"", &format!("name = \"{other}\""));
        let text = text.replace("buddy = \"Runa\"\n", "");
        let text = text.replace("buddy = \"Oskar\"\n", "");
        assert_eq!(read(&text).is_err(), is_same, "{other:?}");
    }
}

#[test]
fn two_spellings_of_a_name_are_a_name_twice() {
    let twice = |text: &str, old: &str, words: &str| {
        let errors = read(&edited(text, old, words)).unwrap_err();
        assert_eq!(errors.problems().len(), 1, "{errors}");
        errors.problems()[0].message.clone()
    };
    let alone = STEPS.replace("buddy = \"Runa\"\n", "");
    let alone = alone.replace("buddy = \"Oskar\"\n", "");
    let alone = edited(&alone, "name = \"Runa\"", &format!("name = \"{ONE}\""));
    let message = twice(&alone, "name = \"Oskar\"", &format!("name = \"{TWO}\""));
    assert_eq!(
        message,
        format!("a diver called {ONE} is already in the team")
    );
    let both = plan(ONE, TWO, ONE);
    let listed = format!("divers = [\"{ONE}\"]");
    let message = twice(&both, &listed, &format!("divers = [\"{ONE}\", \"{TWO}\"]"));
    assert_eq!(message, format!("`divers` has {ONE} twice"));
}

#[test]
fn a_plan_that_no_file_made_has_one_spelling_too() {
    let cylinder = Cylinder {
        water: WaterVolume::from_l(12.0),
        working: None,
        fill: GaugePressure::from_bar(200.0),
    };
    let breathing = BreathingRate::from_l_min(15.0);
    let diver = |name: &str| Diver::new(name, breathing, cylinder);
    let level = || Level {
        depth: Depth::from_m(18.0),
        time: Time::from_min(20.0),
    };
    let built = |divers: Vec<Diver>, dived: &str| {
        let mut before = EarlierDive::new(vec![level()], Time::from_min(90.0));
        before.divers = Some(vec![dived.to_owned()]);
        let builder = PlanBuilder::new(UnitSystem::Metric);
        let builder = builder.level(level().depth, level().time).before(before);
        divers.into_iter().fold(builder, PlanBuilder::diver).build()
    };
    let plan = built(vec![diver(TWO), diver("Oskar")], ONE).unwrap();
    assert_eq!(plan.divers()[0].name, ONE);
    assert_eq!(plan.before()[0].divers, Some(vec![ONE.to_owned()]));
    assert_eq!(
        built(vec![diver(TWO), diver(ONE)], ONE).unwrap_err(),
        PlanError::SameName {
            name: ONE.to_owned()
        }
    );
}

#[test]
fn the_next_plan_finds_the_line_of_a_diver_in_either_spelling() {
    let rate = BreathingRate::from_l_min(17.2);
    for given in [ONE, TWO] {
        for (name, buddy) in [(ONE, TWO), (TWO, ONE), (TWO, TWO)] {
            let next = NextPlan::new(vec![(given.to_owned(), rate)], Vec::new(), None);
            let text = next_plan(&plan(name, buddy, TWO), &next).unwrap();
            assert_eq!(text.matches("sac = \"17.2 L/min\"").count(), 1);
            // What is not changed stays as it was written.
            assert!(text.contains(&format!("name = \"{name}\"")));
        }
    }
}

/// The records of ONE in one spelling.
fn records(name: &str) -> [(&'static str, String); 3] {
    [
        ("slate.toml", edited(SLATE, "Runa", name)),
        ("table.csv", edited(TABLE, "Runa", name)),
        ("logger.uddf", edited(UDDF, "Runa", name)),
    ]
}

/// Runs a command on the plan and the records in one spelling each.
fn ended(folder: &Folder, (of_plan, of_records): (&str, &str), arguments: &[&str]) -> Ended {
    folder.write("steps.toml", &plan(of_plan, of_plan, of_plan));
    for (file, text) in records(of_records) {
        folder.write(file, &text);
    }
    run(folder.path(), arguments)
}

#[test]
fn options_and_records_know_a_diver_in_either_spelling() {
    let folder = Folder::new("gallery-spellings");
    for format in ["text", "json"] {
        for command in [
            &["brief", "steps.toml", "--fill", "NAME=190 bar"][..],
            &["whatif", "steps.toml", "--fill", "NAME=190 bar"],
            &["explain", "steps.toml", "--gas", "NAME"],
            &["debrief", "steps.toml", "slate.toml"],
            &["debrief", "steps.toml", "table.csv", "logger.uddf"],
            &["debrief", "steps.toml", "NAME=table.csv"],
        ] {
            let written = |name: &str| -> Vec<String> {
                let words = command.iter().map(|word| word.replace("NAME", name));
                let words = words.chain(["--format", format].map(str::to_owned));
                words.collect()
            };
            let run = |name: &str, spelled| {
                let words = written(name);
                let words: Vec<&str> = words.iter().map(String::as_str).collect();
                ended(&folder, spelled, &words)
            };
            let want = run(ONE, (ONE, ONE));
            assert!(want.status <= 1, "{want:?}");
            assert!(want.stdout.contains(ONE), "{want:?}");
            for (name, spelled) in [
                (TWO, (ONE, ONE)),
                (ONE, (TWO, ONE)),
                (ONE, (ONE, TWO)),
                (TWO, (TWO, TWO)),
            ] {
                assert_eq!(run(name, spelled), want, "{command:?}");
            }
        }
    }
}

#[test]
fn a_record_that_names_its_diver_in_both_spellings_has_one_diver() {
    let folder = Folder::new("gallery-both-spellings");
    let text = edited(TABLE, "160,", &format!("# diver: {TWO}\n160,"));
    folder.write("steps.toml", &plan(ONE, ONE, ONE));
    folder.write("both.csv", &edited(&text, "Runa", ONE));
    let ended = run(folder.path(), &["debrief", "steps.toml", "both.csv"]);
    assert!(ended.status <= 1, "{ended:?}");
    folder.write(
        "twice.toml",
        &[ONE, TWO].map(|it| edited(SLATE, "Runa", it)).join("\n"),
    );
    let ended = run(folder.path(), &["debrief", "steps.toml", "twice.toml"]);
    assert_eq!(ended.status, 2);
    let words = format!("a dive of {ONE} is already in the record");
    assert!(ended.stderr.contains(&words), "{ended:?}");
}

#[test]
fn a_day_knows_a_diver_in_either_spelling() {
    let folder = Folder::new("gallery-day-spellings");
    let later = |name| edited(&plan(name, name, name), "\"09:30\"", "\"13:30\"");
    let later = |name| later(name).replace("[[before]]", "[[none]]");
    // The later plan has no dive before it: the day has it.
    let without = |text: String| {
        let (head, rest) = text.split_once("[[none]]").unwrap();
        format!("{head}{}", &rest[rest.find("[gas]").unwrap()..])
    };
    folder.write("first.toml", &plan(ONE, TWO, ONE));
    let day = |name| {
        folder.write("second.toml", &without(later(name)));
        run(folder.path(), &["day", "first.toml", "second.toml"])
    };
    let want = day(ONE);
    assert!(want.status <= 1, "{want:?}");
    assert_eq!(day(TWO), want);
}

#[test]
fn who_was_absent_may_be_named_in_either_spelling() {
    let folder = Folder::new("gallery-absent-spellings");
    let next = folder.path().join("next.toml");
    let mut texts = Vec::new();
    for absent in [ONE, TWO] {
        folder.write("steps.toml", &plan(TWO, ONE, TWO));
        folder.write("slate.toml", &edited(SLATE, "Runa", "Oskar"));
        let ended = run(
            folder.path(),
            &[
                "debrief",
                "steps.toml",
                "slate.toml",
                "--write-next",
                "next.toml",
                "--interval",
                "2 h",
                "--absent",
                absent,
            ],
        );
        assert!(ended.status <= 1, "{ended:?}");
        texts.push(fs::read_to_string(&next).unwrap());
        fs::remove_file(&next).unwrap();
    }
    assert_eq!(texts[0], texts[1]);
}
