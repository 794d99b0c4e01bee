//! `hangbar check` on folders: every plan in them is checked, or it is named and why it was not.

use std::process::Output;

use assert_cmd::Command;
use serde_json::Value;

use crate::folder::Folder;
use crate::program::REEF;

/// Nobody dives: a schedule only, and without a title.
const UNTITLED: &str = "[profile]\ndepth = \"15 m\"\nbottom_time = \"20 min\"\n";

/// More folders in each other than these are not looked into.
const DEEPEST: usize = 16;

/// `hangbar check`, run in the folder.
pub(crate) fn check(folder: &Folder, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .current_dir(folder.path())
        .arg("check")
        .args(args)
        .output()
        .unwrap()
}

/// File, verdict and reason of each row, the exit status, and standard error.
pub(crate) fn rows(folder: &Folder, args: &[&str]) -> (Vec<[String; 3]>, i32, String) {
    let mut all = vec!["--format", "json"];
    all.extend(args);
    let output = check(folder, &all);
    let word = |value: &Value| value.as_str().unwrap_or("-").to_owned();
    let rows = String::from_utf8(output.stdout)
        .unwrap()
        .lines()
        .map(|line| {
            let row: Value = serde_json::from_str(line).unwrap();
            let skipped = row["verdict"] == "skipped";
            assert_eq!(skipped, row["reason"].is_string(), "{line}");
            assert_eq!(skipped, row["exit_status"].is_null(), "{line}");
            ["file", "verdict", "reason"].map(|key| word(&row[key]))
        })
        .collect();
    let errors = String::from_utf8(output.stderr).unwrap();
    (rows, output.status.code().unwrap(), errors)
}

#[test]
fn a_plan_is_a_plan_whatever_the_case_of_its_ending() {
    let folder = Folder::new("folders-case");
    for name in ["a.toml", "b.TOML", "c.Toml", "sub/d.tOmL"] {
        folder.write(name, REEF);
    }
    // What else lies in such a folder is not worth a word.
    for name in ["README.md", "wall.svg", "toml", "x.toml.bak", ".DS_Store"] {
        folder.write(name, "nothing");
    }
    let (rows, status, errors) = rows(&folder, &["."]);
    let files: Vec<&str> = rows.iter().map(|row| row[0].as_str()).collect();
    assert_eq!(files, ["./a.toml", "./b.TOML", "./c.Toml", "./sub/d.tOmL"]);
    assert!(rows.iter().all(|row| row[1] == "go"), "{rows:?}");
    assert_eq!((status, errors.as_str()), (0, ""));
}

#[test]
fn a_folder_called_like_a_plan_is_looked_into() {
    let folder = Folder::new("folders-called-like-a-plan");
    folder.write("wall.toml/inner.toml", REEF);
    let (rows, status, _) = rows(&folder, &["."]);
    assert_eq!(rows, [["./wall.toml/inner.toml", "go", "-"]]);
    assert_eq!(status, 0);
}

#[test]
fn hidden_plans_and_folders_are_named_and_do_not_count() {
    let folder = Folder::new("folders-hidden");
    folder.write("a.toml", REEF);
    folder.write(".b.toml", "no plan at all");
    folder.write(".toml", "no plan at all");
    folder.write(".old/c.toml", "no plan at all");
    let (rows, status, errors) = rows(&folder, &["."]);
    assert_eq!(
        rows,
        [
            ["./.b.toml", "skipped", "hidden-file"],
            ["./.old", "skipped", "hidden-folder"],
            ["./.toml", "skipped", "hidden-file"],
            ["./a.toml", "go", "-"],
        ]
    );
    assert_eq!(status, 0, "a skip is no fault");
    assert_eq!(
        errors,
        "note: skipped ./.b.toml: a hidden file; name it to have it checked\n\
         note: skipped ./.old: a hidden folder; name it to have it checked\n\
         note: skipped ./.toml: a hidden file; name it to have it checked\n"
    );
    // The text has a line for what was checked alone.
    let output = check(&folder, &["."]);
    let text = String::from_utf8(output.stdout).unwrap();
    assert_eq!(text.lines().count(), 1, "{text}");
    assert_eq!(String::from_utf8(output.stderr).unwrap(), errors);
}

#[test]
fn what_is_named_is_checked_whatever_its_name() {
    let folder = Folder::new("folders-named");
    folder.write(".b.toml", REEF);
    folder.write("plan", REEF);
    folder.write("plan.txt", REEF);
    folder.write(".old/c.toml", REEF);
    let (rows, status, errors) = rows(&folder, &[".b.toml", "plan", "plan.txt", ".old"]);
    assert_eq!(
        rows,
        [
            [".b.toml", "go", "-"],
            ["plan", "go", "-"],
            ["plan.txt", "go", "-"],
            [".old/c.toml", "go", "-"],
        ]
    );
    assert_eq!((status, errors.as_str()), (0, ""));
}

#[test]
fn a_folder_with_nothing_but_skips_has_no_plan() {
    let folder = Folder::new("folders-only-skips");
    folder.write("empty/.b.toml", REEF);
    let (rows, status, errors) = rows(&folder, &["empty"]);
    assert_eq!(
        rows,
        [
            ["empty", "unusable", "-"],
            ["empty/.b.toml", "skipped", "hidden-file"],
        ]
    );
    assert_eq!(status, 2);
    assert!(
        errors.contains("error: no plan (.toml file) in folder empty\n"),
        "{errors}"
    );
}

#[test]
fn folders_too_deep_are_named_and_those_above_are_checked() {
    let folder = Folder::new("folders-deep");
    let below = |levels: usize| vec!["d"; levels].join("/");
    folder.write(&format!("{}/deepest.toml", below(DEEPEST)), REEF);
    folder.write(&format!("{}/deeper.toml", below(DEEPEST + 1)), "no plan");
    let (rows, status, errors) = rows(&folder, &["."]);
    let checked = format!("./{}/deepest.toml", below(DEEPEST));
    let skipped = format!("./{}", below(DEEPEST + 1));
    assert_eq!(
        rows,
        [
            [skipped.as_str(), "skipped", "too-deep"],
            [checked.as_str(), "go", "-"],
        ]
    );
    assert_eq!(status, 0);
    assert!(errors.contains("more than 16 folders deep"), "{errors}");
}

#[test]
fn a_plan_without_a_team_is_a_schedule_only_and_no_error() {
    let folder = Folder::new("folders-schedule-only");
    folder.write("a.toml", UNTITLED);
    folder.write("b.toml", REEF);
    let (rows, status, _) = rows(&folder, &["."]);
    assert_eq!(
        rows,
        [["./a.toml", "schedule-only", "-"], ["./b.toml", "go", "-"],]
    );
    assert_eq!(status, 0);
    let text = String::from_utf8(check(&folder, &["."]).stdout).unwrap();
    let places: Vec<Option<usize>> = text.lines().map(|line| line.find("./")).collect();
    assert_eq!(places[0], places[1], "{text}");
    assert!(
        text.starts_with("schedule-only  ./a.toml  note: "),
        "{text}"
    );
}

#[test]
fn each_row_has_the_title_of_its_plan() {
    let folder = Folder::new("folders-titles");
    folder.write("a.toml", REEF);
    folder.write("b.toml", UNTITLED);
    folder.write("c.toml", "title = \"Broken\"\n");
    let output = check(&folder, &["--format", "json", "."]);
    let titles: Vec<Value> = String::from_utf8(output.stdout)
        .unwrap()
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap()["title"].clone())
        .collect();
    assert_eq!(
        titles,
        [Value::from("Copper Reef"), Value::Null, Value::Null]
    );
    assert_eq!(output.status.code(), Some(2));
}
