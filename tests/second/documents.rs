//! Compares documents with those of a second implementation.

use assert_cmd::Command;
use serde_json::Value;

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

/// The contract asks for pressures to 1e-9 bar; relative above 100 bar, where a double's own
/// steps and the density search come near it.
const PRESSURE_BAR: f64 = 1e-9;
/// The contract asks for run times to 1e-6 min.
const RUN_TIME_MIN: f64 = 1e-6;
/// Volumes follow from pressures: 1e-9 of the whole.
const VOLUME_SHARE: f64 = 1e-9;
/// Depths at which a gas runs out follow from run times.
const DEPTH_M: f64 = 1e-5;
/// Per cents and doses: sums of many segments.
const DOSE: f64 = 1e-7;

/// Notes every place at which `got` has not what `want` has. What `want` leaves out is not asked.
pub(crate) fn compare(path: &str, want: &Value, got: &Value, wrong: &mut Vec<String>) {
    match (want, got) {
        (Value::Object(want), Value::Object(got)) => {
            for (key, value) in want {
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
    } else if path.ends_with("_m") {
        DEPTH_M
    } else {
        DOSE
    }
}
