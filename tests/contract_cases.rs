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

const CASES: &str = include_str!("data/contract_cases.jsonl");

/// The contract asks for pressures to 1e-9 bar; relative above 100 bar, where a double's own
/// steps and the density search come near it.
const PRESSURE_BAR: f64 = 1e-9;
/// The contract asks for run times to 1e-6 min.
const RUN_TIME_MIN: f64 = 1e-6;
/// Volumes follow from pressures: 1e-9 of the whole.
const VOLUME_SHARE: f64 = 1e-9;
/// Per cents and doses: sums of many segments.
const DOSE: f64 = 1e-7;

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
    compare("", want, &got, wrong);
    let no_go = got["findings"].as_array().unwrap().iter().any(|finding| {
        let code = finding["code"].as_str().unwrap();
        finding["level"] == "no-go" && !BEYOND_THE_CONTRACT.contains(&code)
    });
    if u64::from(no_go) != want["exit_status"].as_u64().unwrap() {
        wrong.push(format!("no-go: {no_go}, findings {}", got["findings"]));
    }
}

fn compare(path: &str, want: &Value, got: &Value, wrong: &mut Vec<String>) {
    match (want, got) {
        (Value::Object(want), Value::Object(got)) => {
            for (key, value) in want {
                if key == "exit_status" {
                    continue;
                }
                match got.get(key) {
                    Some(found) => compare(&format!("{path}/{key}"), value, found, wrong),
                    None => wrong.push(format!("{path}/{key} is missing")),
                }
            }
        }
        (Value::Array(want), Value::Array(got)) if want.len() == got.len() => {
            for (index, (value, found)) in want.iter().zip(got).enumerate() {
                compare(&format!("{path}/{index}"), value, found, wrong);
            }
        }
        (Value::Number(want), Value::Number(got)) => {
            let (want, got) = (want.as_f64().unwrap(), got.as_f64().unwrap());
            let allowed = tolerance(path, want);
            if (want - got).abs() > allowed {
                wrong.push(format!("{path}: got {got}, want {want} ± {allowed}"));
            }
        }
        _ if want == got => {}
        _ => wrong.push(format!("{path}: got {got}, want {want}")),
    }
}

fn tolerance(path: &str, want: f64) -> f64 {
    if path.ends_with("_min") {
        RUN_TIME_MIN
    } else if path.ends_with("_bar") {
        PRESSURE_BAR * (want.abs() / 100.0).max(1.0)
    } else if path.ends_with("_l") {
        VOLUME_SHARE * want.abs().max(1.0)
    } else {
        DOSE
    }
}
