//! Waits before a flight against a second implementation.
//!
//! `data/flying_cases.jsonl` was worked out in another language by somebody who had the definitions
//! and had not seen this code: one case a line, a plan, and for two cabin altitudes in metres the
//! model's wait of each diver in whole minutes. The team's wait here is that of the most that any
//! diver holds in each compartment: never shorter than the longest of them.

use serde_json::Value;

use crate::documents;

const CASES: &str = include_str!("../data/flying_cases.jsonl");

#[test]
fn every_wait_comes_out_as_the_second_implementation_has_it() {
    let mut wrong = Vec::new();
    let count = documents::each_case(CASES, &mut wrong, compare_case);
    assert_eq!(count, 15);
    assert!(
        wrong.is_empty(),
        "{} differences:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

fn compare_case(_: &str, plan: &str, want: &Value, wrong: &mut Vec<String>) {
    for (metres, waits) in want.as_object().unwrap() {
        let cabin = format!("{metres} m");
        let (status, got) = documents::run_with("brief", plan, &["--cabin-altitude", &cabin]);
        if got.is_null() {
            wrong.push(format!("no document, exit status {status:?}"));
            continue;
        }
        let flying = &got["flying"];
        let divers = flying["divers"].as_array().unwrap().iter();
        let own: Vec<Value> = divers.map(|own| own["model_wait_min"].clone()).collect();
        if Value::from(own.clone()) != *waits {
            wrong.push(format!("{cabin}: got {own:?}, want {waits}"));
        }
        let longest = own.iter().filter_map(Value::as_u64).max();
        if flying["model_wait_min"].as_u64() < longest {
            wrong.push(format!(
                "{cabin}: the team's wait is shorter than a diver's"
            ));
        }
    }
}
