//! The `hangbar` command: parses, calls the library, prints once.

use std::process::ExitCode;

use clap::Parser;
use hangbar::letters::harmless;

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
mod side_by_side;
mod written;

use args::Cli;
use errors::JsonWanted;

fn main() -> ExitCode {
    let cli = Cli::try_parse().unwrap_or_else(|error| harmlessly(error).exit());
    let json = JsonWanted::by(&cli.command);
    let mut outcome = commands::run(&cli.command);
    if let Some(json) = json {
        json.add_to(&mut outcome);
    }
    ExitCode::from(outcome.print().code())
}

/// A command line that does not parse, quoted with nothing in it that a terminal acts on.
fn harmlessly(error: clap::Error) -> clap::Error {
    let given = std::env::args_os().map(|word| harmless(&word.to_string_lossy()));
    Cli::try_parse_from(given).err().unwrap_or(error)
}
