//! `check` says of a plan what `brief` says, and every command ends with the status of it.

use std::fs;

use assert_cmd::Command;
use hangbar::report::document;
use serde_json::Value;

use crate::cases::{Wrong, drawn_plans, json, same};
use crate::folder::Folder;

/// Exit status and the document on standard output of a command; null without one.
fn run(arguments: &[&str]) -> (i32, Value) {
    let output = Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .args(arguments)
        .output()
        .unwrap();
    let document = serde_json::from_slice(&output.stdout).unwrap_or_default();
    (output.status.code().unwrap(), document)
}

/// A slip of the pen in some of the plans.
fn with_a_slip(text: &str, number: usize) -> String {
    match number % 12 {
        3 => text.replacen("descent_rate", "decent_rate", 1),
        7 => text.replacen("temperature = \"", "temperature = \"9", 1),
        11 => text.replacen("floor = \"", "floor = \"-", 1),
        _ => text.to_owned(),
    }
}

/// A row of a check beside what the library and `brief` make of the same plan.
fn compare(row: &Value, text: &str, path: &str, wrong: &mut Wrong) {
    let (status, document) = run(&["brief", path, "--format", "json"]);
    if row["exit_status"] != status {
        wrong.push(format!(
            "{path}: brief ends with {status}, the row is {row}"
        ));
    }
    same(path, &row["verdict"], &document["verdict"], wrong);
    if status == 2 {
        same(path, &row["errors"], &document["errors"], wrong);
        same(path, &row["more_errors"], &document["more_errors"], wrong);
        return;
    }
    same(path, &row["findings"], &document["findings"], wrong);
    same(path, &row["title"], &document["title"], wrong);
    let Some(briefing) = crate::cases::briefed(text) else {
        wrong.push(format!("{path}: the library has no briefing"));
        return;
    };
    same(path, &json(&briefing), &document, wrong);
    let no_go = i32::from(briefing.verdict() == hangbar::finding::Verdict::NoGo);
    if status != no_go {
        wrong.push(format!("{path}: status {status}, {:?}", briefing.verdict()));
    }
}

#[test]
fn check_has_the_verdict_the_findings_and_the_status_of_brief() {
    const PLANS: u64 = 36;
    let folder = Folder::new("checked-beside-briefed");
    let mut wrong = Wrong::new();
    let mut plans = Vec::new();
    for (number, drawn) in drawn_plans(PLANS).enumerate() {
        let name = format!("plan-{number:05}.toml");
        let text = with_a_slip(&drawn.metric(), number);
        folder.write(&name, &text);
        plans.push((name, text));
    }
    let root = folder.path().to_str().unwrap().to_owned();
    let output = Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .args(["check", &root, "--format", "json"])
        .output()
        .unwrap();
    let rows = String::from_utf8(output.stdout).unwrap();
    let rows: Vec<Value> = rows
        .lines()
        .map(|row| serde_json::from_str(row).unwrap())
        .collect();
    assert_eq!(rows.len(), plans.len());
    let mut worst = 0;
    let mut statuses = std::collections::BTreeSet::new();
    for (row, (name, text)) in rows.iter().zip(&plans) {
        let path = format!("{root}/{name}");
        assert_eq!(row["file"], path.as_str());
        assert_eq!(row["schema"], document::Check::SCHEMA);
        compare(row, text, &path, &mut wrong);
        let status = row["exit_status"].as_i64().unwrap();
        worst = worst.max(status);
        statuses.insert(status);
    }
    assert_eq!(output.status.code().map(i64::from), Some(worst));
    assert_eq!(statuses.into_iter().collect::<Vec<_>>(), [0, 1, 2]);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    fs::remove_dir_all(folder.path()).unwrap();
}

#[test]
fn a_what_if_a_trace_and_an_explanation_end_with_the_status_of_the_plan() {
    let folder = Folder::new("status-of-every-command");
    for (number, drawn) in drawn_plans(12).enumerate() {
        let text = with_a_slip(&drawn.metric(), number);
        let name = format!("{number}.toml");
        folder.write(&name, &text);
        let path = folder.path().join(&name);
        let path = path.to_str().unwrap();
        let (status, briefed) = run(&["brief", path, "--format", "json"]);
        for command in ["whatif", "trace", "explain"] {
            let (other, document) = run(&[command, path, "--format", "json"]);
            assert_eq!(status, other, "{command} of\n{text}");
            if command == "whatif" && status < 2 {
                assert_eq!(document["verdict"], briefed["verdict"]);
                assert_eq!(document["late"], briefed["late"]);
                assert_eq!(document["lost_gas"], briefed["lost_gas"]);
            }
        }
    }
}
