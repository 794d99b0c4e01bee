//! Hang, current, buddies, lost gas, lateness and changes against a second implementation.
//!
//! The expected figures in `data/deviation_cases.jsonl` were worked out in another language from
//! the definitions alone, by somebody who had not seen this code: one case a line, the plan and
//! the parts of the documents that are about deviations, or null for a plan that cannot be used.
//!
//! Where the definitions can be read in two ways the second implementation has a switch; these are
//! its results with the hang always drawn from the main cylinder. In the case of a pony that the
//! straight ascent decides, where it would be gone is left out: the definitions did not say. Nor did they
//! say which of two moments with as much to spare is told: where there are two, its run time is left out.

use serde_json::Value;

use crate::documents;

const CASES: &str = include_str!("../data/deviation_cases.jsonl");

#[test]
fn every_deviation_comes_out_as_the_second_implementation_has_it() {
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
    let (status, briefing) = documents::run("brief", plan);
    if want.is_null() {
        if status != Some(2) {
            wrong.push(format!(
                "exit status {status:?} for a plan that cannot be used"
            ));
        }
        return;
    }
    let mut want = want.clone();
    let parts = want.as_object_mut().unwrap();
    let changes = parts.remove("changes").unwrap();
    let no_go = parts.remove("exit_status").unwrap();
    documents::compare("", &want, &briefing, wrong);
    if status.map(i64::from) != no_go.as_i64() {
        let findings = &briefing["findings"];
        wrong.push(format!("exit status {status:?}, findings {findings}"));
    }
    let (_, what_if) = documents::run("whatif", plan);
    documents::compare("/changes", &changes, &what_if["changes"], wrong);
}
