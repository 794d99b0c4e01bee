//! `hangbar completions`: what a shell is told of the command line.

use clap::CommandFactory;

use crate::args::{Cli, CompletionsArgs};
use crate::outcome::{Outcome, Status};

pub(super) fn run(args: &CompletionsArgs) -> Outcome {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "hangbar", &mut script);
    let script = String::from_utf8(script).map_err(|error| error.to_string());
    Outcome::of(script, Status::Go)
}
