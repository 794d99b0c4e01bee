//! The `hangbar` command: parses, calls the library, prints once.

use std::process::ExitCode;

use clap::Parser;

mod args;
mod commands;
mod errors;
mod folders;
mod input;
mod new_file;
mod outcome;
mod paper;
mod picture;
mod refusal;
mod render;

use args::Cli;
use errors::JsonWanted;

fn main() -> ExitCode {
    let cli = Cli::parse();
    let json = JsonWanted::by(&cli.command);
    let mut outcome = commands::run(&cli.command);
    if let Some(json) = json {
        json.add_to(&mut outcome);
    }
    ExitCode::from(outcome.print().code())
}
