//! The `hangbar` command: parses, calls the library, prints once.

use std::ffi::OsString;
use std::process::ExitCode;

mod args;
mod commands;
mod errors;
mod folders;
mod input;
mod outcome;
mod paper;
mod picture;
mod refusal;
mod render;
mod run;
mod side_by_side;
mod written;

fn main() -> ExitCode {
    let words: Vec<OsString> = std::env::args_os().collect();
    let outcome = run::run(&words).unwrap_or_else(|error| error.exit());
    ExitCode::from(outcome.print().code())
}
