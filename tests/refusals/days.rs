//! Several plans that are no day: each fault by the library and by the binary, in text and in JSON.

use std::fs;
use std::path::Path;
use std::process::Output;

use assert_cmd::Command;
use hangbar::day::{DayError, DayPlan, plan_day};
use hangbar::plan_file::read;
use hangbar::quantity::Time;
use serde_json::Value;

use crate::folder::Folder;

/// In at 09:00 and up 25 minutes later.
const MORNING: &str = r#"splash = "09:00"

[profile]
depth = "18 m"
bottom_time = "20 min"

[gas]
bottom = "EAN32"

[[diver]]
name = "Juno"
sac = "14 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
"#;

/// The same dive at noon.
fn noon() -> String {
    MORNING.replace("09:00", "12:00")
}

/// A plan without divers.
const NOBODY: &str = "[profile]\ndepth = \"18 m\"\nbottom_time = \"20 min\"\n";
/// An earlier dive of whoever dives.
const TOLD: &str =
    "[[before]]\ndepth = \"12 m\"\nbottom_time = \"20 min\"\nsurface_interval = \"60 min\"\n";

/// A fault of a day, and how it is told.
struct Fault {
    what: &'static str,
    plans: Vec<String>,
    args: &'static [&'static str],
    /// The plan that it is about, from 0.
    about: Option<usize>,
    /// Words that the message has to have.
    says: &'static [&'static str],
}

fn fault(
    what: &'static str,
    plans: &[&str],
    args: &'static [&'static str],
    about: Option<usize>,
    says: &'static [&'static str],
) -> Fault {
    let plans = plans.iter().map(|plan| (*plan).to_owned()).collect();
    Fault {
        what,
        plans,
        args,
        about,
        says,
    }
}

/// The morning's plan, then one that is changed.
fn then(
    what: &'static str,
    edit: (&str, &str),
    args: &'static [&'static str],
    says: &'static [&'static str],
) -> Fault {
    let plan = crate::plans::edited(&noon(), edit.0, edit.1);
    fault(what, &[MORNING, &plan], args, Some(1), says)
}

/// Faults that the library finds; `FILE0` and `FILE1` stand for the files' names.
fn faults() -> Vec<Fault> {
    let twenty_one = vec![MORNING; 21];
    let told = format!("{NOBODY}{TOLD}");
    vec![
        then(
            "a splash before the dive before is up",
            ("12:00", "9:24"),
            &[],
            &[
                "FILE1 splashes at 09:24",
                "FILE0 is back at 09:25 only",
                "accepted: a later splash",
            ],
        ),
        then(
            "the same splash",
            ("12:00", "09:00"),
            &[],
            &["FILE1 splashes at 09:00", "FILE0 is back at 09:25 only"],
        ),
        then(
            "no splash of the second",
            ("splash = \"12:00\"", ""),
            &[],
            &[
                "FILE1 says no splash",
                "accepted: `splash` in every plan, or --interval",
            ],
        ),
        fault(
            "no splash of the first",
            &[&MORNING.replace("splash = \"09:00\"", ""), &noon()],
            &[],
            Some(0),
            &["FILE0 says no splash"],
        ),
        fault(
            "an interval of a day of one",
            &[MORNING],
            &["--interval=60min"],
            None,
            &["1 interval for 1 plan; accepted: none"],
        ),
        fault(
            "an interval too many",
            &[MORNING, &noon()],
            &["--interval=60min", "--interval=60min"],
            None,
            &["2 intervals for 2 plans", "accepted: 1"],
        ),
        fault(
            "an interval too few",
            &[MORNING, &noon(), &noon()],
            &["--interval=60min"],
            None,
            &["1 interval for 3 plans", "accepted: 2"],
        ),
        fault(
            "more dives than a day has",
            &twenty_one,
            &[],
            None,
            &["21 plans", "accepted: 1 to 20"],
        ),
        then(
            "another gas that nobody has named",
            ("[gas]\nbottom = \"EAN32\"", ""),
            &[],
            &[
                "Juno breathed EAN32 in FILE0",
                "FILE1 says nothing of gas",
                "would be air",
                "accepted: `bottom` in [gas], or `gas`",
            ],
        ),
        then(
            "a lake, and no word of when they came",
            ("[profile]", "[site]\naltitude = \"1200 m\"\n[profile]"),
            &[],
            &[
                "the air at FILE1 has 0.877 bar",
                "1.013 bar",
                "accepted: how long before the splash they came",
                "Juno came",
            ],
        ),
        then(
            "an arrival before the dive before was up",
            (
                "[profile]",
                "[site]\naltitude = \"1200 m\"\narrived = \"156 min\"\n[profile]",
            ),
            &[],
            &[
                "`arrived` of FILE1 is 156 min",
                "Juno surfaced 155 min before",
                "accepted: no longer",
            ],
        ),
        then(
            "an earlier dive of somebody who is known",
            ("[[diver]]", &format!("{TOLD}[[diver]]")),
            &[],
            &[
                "FILE1 has [[before]] for Juno",
                "accepted: no [[before]], or `divers`",
            ],
        ),
        fault(
            "an earlier dive of a team without names",
            &[NOBODY, &told],
            &["--interval=60min"],
            Some(1),
            &[
                "FILE1 has [[before]] for the team",
                "accepted: no [[before]]",
            ],
        ),
        fault(
            "nobody in the second plan",
            &[MORNING, NOBODY],
            &["--interval=60min"],
            Some(1),
            &[
                "FILE1 has no [[diver]]",
                "accepted: divers in every plan of the day, or in none",
            ],
        ),
        fault(
            "nobody in the first plan",
            &[NOBODY, MORNING],
            &["--interval=60min"],
            Some(0),
            &["FILE0 has no [[diver]]"],
        ),
        then(
            "another first compartment",
            ("[gas]", "[model]\nfirst_compartment = \"1\"\n[gas]"),
            &[],
            &[
                "FILE1 has another `first_compartment` than FILE0",
                "accepted: one for the whole day",
            ],
        ),
        then(
            "a dive whose stops never clear",
            (
                "[gas]\nbottom = \"EAN32\"",
                "[model]\ngradient_factors = [5, 5]\n[gas]\nbottom = \"10/0\"",
            ),
            &[],
            &["FILE1: ", "does not clear"],
        ),
    ]
}

/// The plans of a test in a folder of its own, by a name that no other test uses.
fn written(name: &str, plans: &[String]) -> (Folder, Vec<String>) {
    let folder = Folder::new(name);
    let files = plans.iter().enumerate().map(|(index, plan)| {
        let file = folder.write(&format!("{index}.toml"), plan);
        file.to_str().unwrap().to_owned()
    });
    let files = files.collect();
    (folder, files)
}

fn picture(folder: &Folder) -> String {
    let picture = folder.path().join("day.svg");
    picture.to_str().unwrap().to_owned()
}

/// That neither a picture nor a part of one is there.
#[track_caller]
fn assert_no_picture(folder: &Folder, what: &str) {
    for entry in fs::read_dir(folder.path()).unwrap() {
        let path = entry.unwrap().path();
        let is_plan = path
            .extension()
            .is_some_and(|extension| extension == "toml");
        assert!(is_plan, "{what}: {}", path.display());
    }
}

fn hangbar(args: &[String], input: &str) -> Output {
    Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .arg("day")
        .args(args)
        .env_remove("NO_COLOR")
        .write_stdin(input)
        .output()
        .unwrap()
}

/// Standard error of a day that is refused; nothing else is there.
#[track_caller]
fn refused(what: &str, args: &[String], input: &str) -> String {
    let output = hangbar(args, input);
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{what}: {stderr}");
    assert!(output.stdout.is_empty(), "{what}");
    let harmless = stderr.chars().all(|c| c == '\n' || !c.is_control());
    assert!(harmless, "{what}: {stderr:?}");
    stderr
}

/// The document of errors of a day that is refused.
#[track_caller]
fn document(what: &str, args: &[String], input: &str) -> Value {
    let args = [args, &["--format=json".to_owned()]].concat();
    let output = hangbar(&args, input);
    assert_eq!(output.status.code(), Some(2), "{what}");
    let document: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(document["schema"], "hangbar/errors/1", "{what}");
    assert_eq!(document["verdict"], "unusable", "{what}");
    assert_eq!(document["exit_status"], 2, "{what}");
    document
}

fn intervals(args: &[&str]) -> Vec<Time> {
    let given = args.iter().filter(|arg| arg.starts_with("--interval"));
    given.map(|_| Time::from_min(60.0)).collect()
}

/// What the library says against the plans, under the files' names.
fn by_the_library(fault: &Fault, files: &[String]) -> DayError {
    let plans = fault.plans.iter().zip(files).map(|(text, file)| DayPlan {
        file: file.clone(),
        plan: read(text).unwrap(),
    });
    plan_day(plans.collect(), &intervals(fault.args), None).expect_err(fault.what)
}

/// Status 2, the library's words on standard error, nothing on standard output, no picture; in
/// JSON the same message and the file that it is about.
#[test]
fn every_fault_of_a_day_is_refused_by_name() {
    for fault in faults() {
        let what = fault.what;
        let (folder, files) = written("refused-days", &fault.plans);
        let error = by_the_library(&fault, &files);
        let about = fault.about.map(|index| files[index].as_str());
        assert_eq!(error.file(), about, "{what}");
        let message = error.to_string();
        let accepted = error.accepted();
        let told = accepted.as_ref().map_or_else(
            || message.clone(),
            |accepted| format!("{message}; accepted: {accepted}"),
        );
        for words in fault.says {
            let mut words = (*words).to_owned();
            for (index, file) in files.iter().enumerate().take(2) {
                words = words.replace(&format!("FILE{index}"), file);
            }
            assert!(told.contains(&words), "{what}: {words}: {told}");
        }
        let drawn = vec!["--picture".to_owned(), picture(&folder)];
        let options = fault.args.iter().map(|arg| (*arg).to_owned()).collect();
        let args = [files.clone(), options, drawn].concat();
        let stderr = refused(what, &args, "");
        assert!(
            stderr.starts_with(&format!("error: {message}\n")),
            "{what}: {stderr}"
        );
        let line = accepted
            .as_ref()
            .map(|text| format!("\n  = accepted: {text}\n"));
        assert!(line.is_none_or(|line| stderr.ends_with(&line)), "{stderr}");
        assert_no_picture(&folder, what);
        let document = document(what, &args, "");
        assert_eq!(document["file"].as_str(), about, "{what}");
        let problem = &document["errors"][0];
        assert_eq!(problem["message"], message.as_str(), "{what}");
        assert_eq!(problem["accepted"].as_str(), accepted.as_deref(), "{what}");
        let key = error.key().map(|(_, key)| key);
        assert_eq!(problem["key"].as_str(), key, "{what}");
        assert_no_picture(&folder, what);
    }
}

/// What the plans are refused for is what is wrong with them: unbroken they make a day.
#[test]
fn the_unbroken_plans_are_a_day() {
    let (folder, files) = written("taken-days", &[MORNING.to_owned(), noon()]);
    let args = [files, vec!["--picture".to_owned(), picture(&folder)]].concat();
    assert_eq!(hangbar(&args, "").status.code(), Some(0));
    assert!(Path::new(&picture(&folder)).exists());
}

/// An interval from the library, which has no option to check it.
#[test]
fn an_interval_out_of_range_is_refused_by_the_library() {
    for minutes in [-1.0, 10_080.1, f64::NAN, f64::INFINITY] {
        let plan = |file: &str| DayPlan {
            file: file.to_owned(),
            plan: read(MORNING).unwrap(),
        };
        let plans = vec![plan("a.toml"), plan("b.toml")];
        let error = plan_day(plans, &[Time::from_min(minutes)], None).unwrap_err();
        assert!(
            matches!(error, DayError::OutOfRange(_)),
            "{minutes}: {error}"
        );
        assert!(error.to_string().contains("surface interval"), "{error}");
    }
    assert_eq!(
        plan_day(Vec::new(), &[], None),
        Err(DayError::Count { count: 0 })
    );
}

/// An option with a value that is none, beside plans that make a day.
#[test]
fn an_option_of_a_day_that_cannot_be_used_is_refused_with_what_is_accepted() {
    let (folder, files) = written("refused-day-options", &[MORNING.to_owned(), noon()]);
    for (options, says) in [
        (
            &["--interval=soon"][..],
            &["--interval", "plain number", "accepted: 0 min to 10080 min"][..],
        ),
        (
            &["--interval=60"],
            &["--interval", "no unit", "accepted: 0 min to 10080 min"],
        ),
        (
            &["--interval=-1min"],
            &["--interval", "accepted: 0 min to 10080 min"],
        ),
        (
            &["--interval=10081min"],
            &["--interval", "accepted: 0 min to 10080 min"],
        ),
        (
            &["--interval=60 m"],
            &["--interval", "unit of depth", "accepted: 0 min"],
        ),
        (
            &["--home-by=late"],
            &["--home-by", "`late`", "from 00:00 to 23:59"],
        ),
        (
            &["--home-by=24:00"],
            &["--home-by", "`24:00`", "from 00:00 to 23:59"],
        ),
        (
            &["--home-by=9:5"],
            &["--home-by", "`9:5`", "two digits of minutes"],
        ),
        (&["--brief=0"], &["--brief", "from 1"]),
        (&["--brief=two"], &["--brief", "two"]),
        (
            &["--brief=3"],
            &[
                "--> option --brief",
                "there is no dive 3 in this day",
                "accepted: 1 to 2",
            ],
        ),
        (
            &["--brief=9"],
            &[
                "--> option --brief",
                "there is no dive 9 in this day",
                "accepted: 1 to 2",
            ],
        ),
    ] {
        let what = options.join(" ");
        let drawn = vec!["--picture".to_owned(), picture(&folder)];
        let options = options.iter().map(|option| (*option).to_owned()).collect();
        let args = [files.clone(), options, drawn].concat();
        let stderr = refused(&what, &args, "");
        for words in says {
            assert!(stderr.contains(words), "{what}: {words}: {stderr}");
        }
        assert_no_picture(&folder, &what);
    }
}

/// What is wrong with an option is told under its name in JSON too, and no plan is blamed.
#[test]
fn an_option_of_a_day_is_named_in_json() {
    let plans = [MORNING.replace("splash = \"09:00\"", "")];
    let (_folder, files) = written("refused-day-option-json", &plans);
    for (option, accepted) in [
        (
            "--home-by=12:00",
            "--home-by where the first plan has a `splash`",
        ),
        ("--brief=9", "1 to 1"),
    ] {
        let args = [files.clone(), vec![option.to_owned()]].concat();
        let stderr = refused(option, &args, "");
        assert!(stderr.contains(accepted), "{stderr}");
        let document = document(option, &args, "");
        let row = &document["errors"][0];
        let name = option.split('=').next().unwrap();
        assert_eq!(row["option"], name);
        assert_eq!(row["accepted"], accepted);
        assert_eq!(document["file"], Value::Null);
    }
}

/// The second of three plans has a fault: text and JSON have its name, its line and its column.
#[test]
fn a_plan_that_cannot_be_read_is_named_with_its_line() {
    let broken = crate::plans::edited(&noon(), "depth = \"18 m\"", "depht = \"18 m\"");
    let plans = [MORNING.to_owned(), broken, noon()];
    let (folder, files) = written("refused-day-plan", &plans);
    let args = [
        files.clone(),
        vec!["--picture".to_owned(), picture(&folder)],
    ]
    .concat();
    let stderr = refused("a key", &args, "");
    assert!(stderr.contains("unknown key `depht`"), "{stderr}");
    assert!(
        stderr.contains(&format!("--> {}:4:1", files[1])),
        "{stderr}"
    );
    for other in [&files[0], &files[2]] {
        assert!(!stderr.contains(other), "{stderr}");
    }
    let document = document("a key", &args, "");
    assert_eq!(document["file"], files[1].as_str());
    assert_eq!(document["errors"][0]["line"], 4);
    assert_eq!(document["errors"][0]["column"], 1);
    assert_no_picture(&folder, "a key");
}

/// From standard input the file is `-` in JSON, as for the other commands.
#[test]
fn a_broken_plan_of_standard_input_is_named_as_such() {
    let (_folder, files) = written("refused-day-input", &[MORNING.to_owned()]);
    let args = [files, vec!["-".to_owned()]].concat();
    let stderr = refused("input", &args, "splash = 9\n");
    assert!(stderr.contains("--> standard input:1:"), "{stderr}");
    let document = document("input", &args, "splash = 9\n");
    assert_eq!(document["file"], "-");
    assert_eq!(document["errors"][0]["line"], 1);
}

/// A file that is not there, beside one that is.
#[test]
fn a_plan_that_is_not_there_is_named() {
    let (folder, files) = written("refused-day-nowhere", &[MORNING.to_owned()]);
    let nowhere = folder
        .path()
        .join("nowhere.toml")
        .to_str()
        .unwrap()
        .to_owned();
    let args = [files, vec![nowhere.clone()]].concat();
    let stderr = refused("nowhere", &args, "");
    assert!(
        stderr.contains(&format!("cannot read {nowhere}: ")),
        "{stderr}"
    );
    assert_eq!(document("nowhere", &args, "")["file"], nowhere.as_str());
}

/// Standard input has one plan, whatever is piped.
#[test]
fn standard_input_is_a_plan_of_the_day_once() {
    let twice = ["-".to_owned(), "-".to_owned()];
    let stderr = refused("twice", &twice, MORNING);
    assert!(
        stderr.contains("standard input can be read once; accepted: "),
        "{stderr}"
    );
    assert_eq!(document("twice", &twice, MORNING)["file"], "-");
    let (_folder, files) = written("taken-day-input", &[noon()]);
    let once = [vec!["-".to_owned()], files].concat();
    assert_eq!(hangbar(&once, MORNING).status.code(), Some(0));
}

/// The same file twice overlaps itself by its splash; with an interval it is the dive made again.
#[test]
fn the_same_file_twice_is_two_dives_where_an_interval_parts_them() {
    let (_folder, files) = written("same-file-days", &[MORNING.to_owned()]);
    let twice = [files.clone(), files.clone()].concat();
    let stderr = refused("twice", &twice, "");
    let says = format!(
        "{0} splashes at 09:00, and {0} is back at 09:25 only",
        files[0]
    );
    assert!(stderr.contains(&says), "{stderr}");
    let parted = [twice, vec!["--interval=120min".to_owned()]].concat();
    let output = hangbar(&parted, "");
    assert_eq!(output.status.code(), Some(0));
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(text.starts_with("GO  A day of 2 dives\n"), "{text}");
}

/// Told alone for who was not there, an earlier dive is taken.
#[test]
fn an_earlier_dive_of_who_was_not_there_is_taken() {
    let told = TOLD.to_owned() + "divers = [\"Bram\"]\n";
    let plan = noon()
        + "[[diver]]\nname = \"Bram\"\nsac = \"14 L/min\"\n\
                         cylinder = { size = \"12 L\", fill = \"200 bar\" }\n";
    let plans = [MORNING.to_owned(), plan + &told];
    let (_folder, files) = written("told-days", &plans);
    assert_eq!(hangbar(&files, "").status.code(), Some(0));
}
