//! Runs the built command.

use std::process::Output;

use assert_cmd::Command;
use assert_cmd::assert::Assert;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::document::Briefing;

/// The command at the root of the package, in surroundings that ask for nothing.
pub(crate) fn hangbar() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hangbar"));
    command
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env_remove("NO_COLOR")
        .env_remove("CLICOLOR_FORCE");
    command
}

/// The command with a plan on standard input, whatever it comes to.
pub(crate) fn tried(arguments: &[&str], plan: &str) -> Assert {
    hangbar().args(arguments).write_stdin(plan).assert()
}

/// Exit status and standard output of a command that gives a result, go or no-go.
pub(crate) fn run(arguments: &[&str], plan: &str) -> (i32, String) {
    let assert = tried(arguments, plan);
    let output = assert.get_output();
    let status = output.status.code().unwrap();
    assert!(
        status <= 1 && !output.stdout.is_empty(),
        "{arguments:?} ended with {status}: {}",
        text_of(&output.stderr)
    );
    (status, text_of(&output.stdout))
}

/// The result of a command that needs no plan, or names a file.
pub(crate) fn stdout(arguments: &[&str]) -> String {
    run(arguments, "").1
}

/// The same, of a command that asks for JSON.
pub(crate) fn json_of(arguments: &[&str]) -> Value {
    parsed(stdout(arguments).as_bytes())
}

/// The JSON of a command on a plan.
pub(crate) fn json(command: &str, plan: &str, more: &[&str]) -> Value {
    let arguments = [&[command, "-", "--format", "json"], more].concat();
    parsed(run(&arguments, plan).1.as_bytes())
}

/// The JSON of a briefing, every field demanded and no other allowed.
pub(crate) fn json_briefing(plan: &str, more: &[&str]) -> Briefing {
    let (_, json) = screen(plan, &[more, &["--format", "json"]].concat());
    parsed(json.as_bytes())
}

/// All that `brief` gives for a plan, whatever it comes to.
pub(crate) fn brief(plan: &str, more: &[&str]) -> Output {
    let assert = tried(&[&["brief", "-"], more].concat(), plan);
    assert.get_output().clone()
}

/// Exit status and text of a briefing that there is.
pub(crate) fn screen(plan: &str, more: &[&str]) -> (i32, String) {
    run(&[&["brief", "-"], more].concat(), plan)
}

/// The text of a briefing that there is.
pub(crate) fn text(plan: &str, more: &[&str]) -> String {
    screen(plan, more).1
}

pub(crate) fn parsed<T: DeserializeOwned>(json: &[u8]) -> T {
    match serde_json::from_slice(json) {
        Ok(document) => document,
        Err(error) => panic!("{error}:\n{}", text_of(json)),
    }
}

pub(crate) fn text_of(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}
