//! Whole briefings with a day before them, with gases that differ, and after an arrival from
//! another altitude, against a second implementation.
//!
//! `data/day_cases.jsonl` was worked out in another language by somebody who had the definitions
//! and had not seen this code: one case a line, the plan and the document as far as the definitions
//! reach. Where they can be read in two ways these are its results with `arrived` counted to the
//! first dive of the day, a team's oxygen as the highest of its divers' own, a pony that names no
//! gas filled with that of `[gas]`, and the leanest gas looked for among what divers breathe.
//! `least_interval_min` is the least whole surface interval before the dive.

use serde_json::{Value, json};

use crate::documents;

const CASES: &str = include_str!("../data/day_cases.jsonl");

#[test]
fn every_day_comes_out_as_the_second_implementation_has_it() {
    let mut wrong = Vec::new();
    let count = documents::each_case(CASES, &mut wrong, compare_case);
    assert!(count > 100, "only {count} cases were read");
    assert!(
        wrong.is_empty(),
        "{} differences:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

fn compare_case(_: &str, plan: &str, want: &Value, wrong: &mut Vec<String>) {
    let (status, mut got) = documents::run("brief", plan);
    if got.is_null() {
        wrong.push(format!("no document, exit status {status:?}"));
        return;
    }
    let least = got["least_interval"]["interval_min"].clone();
    got["least_interval_min"] = json!(least);
    documents::compare("", want, &got, wrong);
}
