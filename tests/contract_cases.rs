//! Whole briefings against a second implementation of the same numerical contract.
//!
//! The expected documents in `data/contract_cases.jsonl` were worked out in another language by
//! somebody who had the contract's text and had not seen this code: one case a line, the plan as
//! it would stand in its file and the document without its findings, or null where the plan
//! cannot be used. Where the two disagreed, the text decided; one case differs on purpose, see
//! [`BEYOND_THE_CONTRACT`].

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use assert_cmd::Command;
use serde_json::Value;

#[path = "support/second.rs"]
mod second;

const CASES: &str = include_str!("data/contract_cases.jsonl");

/// No-gos that the contract leaves open and this program gives for safety: a gas too lean to be
/// breathed at the surface, and a whole oxygen limit used up.
const BEYOND_THE_CONTRACT: [&str; 2] = ["oxygen-too-low", "oxygen-dose-over-limit"];

#[test]
fn every_case_of_the_contract_comes_out_as_the_second_implementation_has_it() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for line in CASES.lines() {
        let case: Value = serde_json::from_str(line).unwrap();
        let name = case["name"].as_str().unwrap();
        let plan = case["plan"].as_str().unwrap();
        count += 1;
        let before = wrong.len();
        compare_case(plan, &case["want"], &mut wrong);
        for difference in &mut wrong[before..] {
            *difference = format!("{name}: {difference}");
        }
    }
    assert!(count > 150, "only {count} cases were read");
    assert!(
        wrong.is_empty(),
        "{} differences:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

fn compare_case(plan: &str, want: &Value, wrong: &mut Vec<String>) {
    let output = Command::cargo_bin("hangbar")
        .unwrap()
        .args(["brief", "-", "--format", "json"])
        .write_stdin(plan)
        .output()
        .unwrap();
    let status = output.status.code();
    if want.is_null() {
        if status != Some(2) || !output.stdout.is_empty() {
            wrong.push(format!(
                "exit status {status:?} for a plan that cannot be used"
            ));
        }
        return;
    }
    let Ok(got) = serde_json::from_slice::<Value>(&output.stdout) else {
        wrong.push(String::from_utf8_lossy(&output.stderr).into_owned());
        return;
    };
    let mut asked = want.clone();
    let status = asked
        .as_object_mut()
        .unwrap()
        .remove("exit_status")
        .unwrap();
    second::compare("", &asked, &got, wrong);
    let no_go = got["findings"].as_array().unwrap().iter().any(|finding| {
        let code = finding["code"].as_str().unwrap();
        finding["level"] == "no-go" && !BEYOND_THE_CONTRACT.contains(&code)
    });
    if u64::from(no_go) != status.as_u64().unwrap() {
        wrong.push(format!("no-go: {no_go}, findings {}", got["findings"]));
    }
}
