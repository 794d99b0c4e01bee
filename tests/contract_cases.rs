//! Whole briefings against a second implementation of the same numerical contract.
//!
//! The expected documents in `data/contract_cases.jsonl` were worked out in another language by
//! somebody who had the contract's text and had not seen this code: one case a line, the plan as
//! it would stand in its file and the document without its findings, or null where the plan
//! cannot be used. Where the two disagreed, the text decided; one case differs on purpose, see
//! [`BEYOND_THE_CONTRACT`].

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

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
    let count = second::each_case(CASES, &mut wrong, compare_case);
    assert!(count > 150, "only {count} cases were read");
    assert!(
        wrong.is_empty(),
        "{} differences:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

fn compare_case(_: &str, plan: &str, want: &Value, wrong: &mut Vec<String>) {
    let (status, got) = second::run("brief", plan);
    if want.is_null() {
        if status != Some(2) || !got.is_null() {
            wrong.push(format!(
                "exit status {status:?} for a plan that cannot be used"
            ));
        }
        return;
    }
    if got.is_null() {
        wrong.push(format!("no document, exit status {status:?}"));
        return;
    }
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
