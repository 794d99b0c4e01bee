//! Compares documents with those of a second implementation.

use assert_cmd::Command;
use serde_json::Value;

pub(crate) use crate::compare::compare;

/// Runs a command on a plan from standard input: exit status and the document, null without one.
pub(crate) fn run(command: &str, plan: &str) -> (Option<i32>, Value) {
    run_with(command, plan, &[])
}

/// The same with more options.
pub(crate) fn run_with(command: &str, plan: &str, more: &[&str]) -> (Option<i32>, Value) {
    let output = Command::cargo_bin("hangbar")
        .unwrap()
        .args([command, "-", "--format", "json"])
        .args(more)
        .write_stdin(plan)
        .output()
        .unwrap();
    let document = serde_json::from_slice(&output.stdout).unwrap_or_default();
    (output.status.code(), document)
}

/// Every case of a file, one JSON object a line; each difference gets its case's name. Gives the
/// number of cases.
pub(crate) fn each_case(
    cases: &str,
    wrong: &mut Vec<String>,
    compare: impl Fn(&str, &str, &Value, &mut Vec<String>),
) -> usize {
    let mut count = 0;
    for line in cases.lines() {
        let case: Value = serde_json::from_str(line).unwrap();
        let name = case["name"].as_str().unwrap();
        let plan = case["plan"].as_str().unwrap();
        let before = wrong.len();
        compare(name, plan, &case["want"], wrong);
        for difference in &mut wrong[before..] {
            *difference = format!("{name}: {difference}");
        }
        count += 1;
    }
    count
}
