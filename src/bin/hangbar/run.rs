//! From the words of a command line to what is printed and how it ends.

use std::ffi::OsString;

use clap::Parser;
use hangbar::letters::harmless;

use crate::args::Cli;
use crate::commands;
use crate::errors::JsonWanted;
use crate::outcome::Outcome;

/// Runs the command that the words ask for, the first of them the program's own name; or why they
/// ask for none.
pub(crate) fn run(words: &[OsString]) -> Result<Outcome, clap::Error> {
    let cli = Cli::try_parse_from(words).map_err(|error| harmlessly(words, error))?;
    let json = JsonWanted::by(&cli.command);
    let mut outcome = commands::run(&cli.command);
    if let Some(json) = json {
        json.add_to(&mut outcome);
    }
    Ok(outcome)
}

/// A command line that does not parse, quoted with nothing in it that a terminal acts on.
fn harmlessly(words: &[OsString], error: clap::Error) -> clap::Error {
    let given = words.iter().map(|word| harmless(&word.to_string_lossy()));
    Cli::try_parse_from(given).err().unwrap_or(error)
}
