//! The program, and the plans of the demo charter.

use std::fs;
use std::path::PathBuf;

use assert_cmd::Command;

/// What comes before the text of standard error.
pub(crate) const STANDARD_ERROR: &str = "--- standard error\n";

pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The names of the plans, without their ending.
pub(crate) fn plans() -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(root().join("plans"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter_map(|name| name.strip_suffix(".toml").map(str::to_owned))
        .collect();
    names.sort();
    assert!(names.len() >= 8, "the demo charter lost plans");
    names
}

/// Standard output, with status and standard error where they are not 0 and empty.
pub(crate) fn run(arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .current_dir(root())
        .args(arguments)
        .output()
        .unwrap();
    let mut text = String::from_utf8(output.stdout).unwrap();
    let errors = String::from_utf8(output.stderr).unwrap();
    if !errors.is_empty() {
        text.push_str(&format!("{STANDARD_ERROR}{errors}"));
    }
    match output.status.code().unwrap() {
        0 => {}
        status => text.push_str(&format!("--- exit status {status}\n")),
    }
    text
}
