//! Whole briefings against a second implementation of the same numerical contract.
//!
//! The expected documents in `data/contract_cases.jsonl` were worked out in another language by
//! somebody who had the contract's text and had not seen this code: one case a line, the plan as
//! it would stand in its file and the document without its findings, or null where the plan
//! cannot be used. Where the text can be read in two ways the second implementation has a switch:
//! these are its results with the hang drawn from the main cylinder, and with no safety stop asked
//! for at the bottom itself. In three cases of a pony that the straight ascent decides, where it
//! would be gone is left out: the definitions did not say along which way up.

use serde_json::Value;

use crate::documents;

const CASES: &str = include_str!("../data/contract_cases.jsonl");

#[test]
fn every_case_of_the_contract_comes_out_as_the_second_implementation_has_it() {
    let mut wrong = Vec::new();
    let count = documents::each_case(CASES, &mut wrong, compare_case);
    assert!(count > 220, "only {count} cases were read");
    assert!(
        wrong.is_empty(),
        "{} differences:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

fn compare_case(_: &str, plan: &str, want: &Value, wrong: &mut Vec<String>) {
    let (status, got) = documents::run("brief", plan);
    if want.is_null() {
        if status != Some(2) || got["schema"] != "hangbar/errors/1" {
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
    let asked_status = asked
        .as_object_mut()
        .unwrap()
        .remove("exit_status")
        .unwrap();
    let got_status = status.map(i64::from);
    documents::compare("", &asked, &got, wrong);
    if got_status != asked_status.as_i64() {
        let findings = &got["findings"];
        wrong.push(format!("exit status {got_status:?}, findings {findings}"));
    }
}
