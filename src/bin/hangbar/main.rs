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

/// The allocator of a static build: that of its C library asks the system again and again.
#[cfg(target_env = "musl")]
#[global_allocator]
static ALLOCATOR: dlmalloc::GlobalDlmalloc = dlmalloc::GlobalDlmalloc;

fn main() -> ExitCode {
    let words: Vec<OsString> = std::env::args_os().collect();
    let outcome = run::run(&words).unwrap_or_else(|error| error.exit());
    ExitCode::from(outcome.print().code())
}
