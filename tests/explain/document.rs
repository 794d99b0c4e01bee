//! Runs the command and reads its JSON.

use std::path::PathBuf;

use assert_cmd::Command;
use hangbar::briefing::{Briefing, brief};
use hangbar::plan_file;
use serde::Deserialize;

use crate::reader::pieces;

/// Closing figures, of two decimals at least, against the model: one in the last of them.
pub(crate) const CLOSING: f64 = 0.01;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Document {
    pub(crate) schema: String,
    pub(crate) title: Option<String>,
    pub(crate) verdict: String,
    pub(crate) how_to_read: String,
    pub(crate) explanations: Vec<Row>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Row {
    pub(crate) topic: String,
    pub(crate) depth_m: Option<f64>,
    pub(crate) diver: Option<String>,
    pub(crate) title: String,
    pub(crate) steps: Vec<StepRow>,
}

#[derive(Debug, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) enum StepRow {
    Words { text: String },
    Equation(Line),
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Line {
    pub(crate) title: String,
    pub(crate) symbol: String,
    pub(crate) symbols: String,
    pub(crate) numbers: String,
    pub(crate) result: String,
    pub(crate) unit: String,
    pub(crate) model: f64,
    pub(crate) meanings: Vec<MeaningRow>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct MeaningRow {
    pub(crate) symbol: String,
    pub(crate) meaning: String,
}

pub(crate) fn equations(row: &Row) -> impl DoubleEndedIterator<Item = &Line> {
    row.steps.iter().filter_map(|step| match step {
        StepRow::Equation(line) => Some(line),
        StepRow::Words { .. } => None,
    })
}

pub(crate) fn all_words(row: &Row) -> String {
    let words = row.steps.iter().filter_map(|step| match step {
        StepRow::Words { text } => Some(text.as_str()),
        StepRow::Equation(_) => None,
    });
    words.collect::<Vec<_>>().join(" ")
}

/// The last value of a symbol.
pub(crate) fn last(row: &Row, symbol: &str) -> Option<f64> {
    let line = equations(row).rfind(|line| line.symbol == symbol)?;
    Some(line.result.parse().unwrap())
}

pub(crate) fn number_of(line: &Line, symbol: &str) -> Option<f64> {
    let at = pieces(&line.symbols)
        .iter()
        .position(|piece| piece == symbol)?;
    Some(pieces(&line.numbers)[at].parse().unwrap())
}

pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

pub(crate) fn run(arguments: &[&str], stdin: &str) -> (String, String, i32) {
    let output = Command::cargo_bin("hangbar")
        .unwrap()
        .current_dir(root())
        .arg("explain")
        .args(arguments)
        .write_stdin(stdin)
        .output()
        .unwrap();
    (
        String::from_utf8(output.stdout).unwrap(),
        String::from_utf8(output.stderr).unwrap(),
        output.status.code().unwrap(),
    )
}

pub(crate) fn rows_of(plan: &str) -> Vec<Row> {
    let (json, errors, _) = run(&["-", "--format", "json"], plan);
    assert!(errors.is_empty(), "{errors}");
    serde_json::from_str::<Document>(&json)
        .unwrap()
        .explanations
}

pub(crate) fn briefing_of(text: &str) -> Briefing {
    brief(plan_file::read(text).unwrap()).unwrap()
}
