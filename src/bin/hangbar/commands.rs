//! The commands: each reads, calls the library, and has the result drawn.

use std::path::Path;

use crate::args::Command;
use crate::outcome::Outcome;

mod brief;
mod check;
mod completions;
mod day;
mod debrief;
mod explain;
mod keys;
mod limits;
mod manual;
mod mix;
mod new;
mod schema;
mod sheet;
mod trace;
mod whatif;

/// Runs the command that is asked for.
pub(crate) fn run(command: &Command) -> Outcome {
    let nowhere = Path::new("the command line");
    let (result, plan) = match command {
        Command::Brief(args) => (brief::run(args), args.plan.as_path()),
        Command::WhatIf(args) => (whatif::run(args), args.plan.as_path()),
        Command::Limits(args) => {
            let plan = args.plan.as_deref();
            (limits::run(args), plan.unwrap_or(nowhere))
        }
        Command::Mix(args) => {
            let plan = args.plan.as_deref();
            (mix::run(args), plan.unwrap_or(nowhere))
        }
        Command::Trace(args) => (trace::run(args), args.plan.as_path()),
        Command::Explain(args) => (explain::run(args), args.plan.as_path()),
        Command::New(args) => (new::run(args), nowhere),
        Command::Keys(args) => (keys::run(args), nowhere),
        Command::Schema(args) => return schema::run(args),
        Command::Check(args) => return check::run(args),
        Command::Completions(args) => return completions::run(args),
        Command::Manual(args) => (manual::run(args), nowhere),
        Command::Day(args) => return day::run(args),
        Command::Sheet(args) => return sheet::run(args),
        Command::Debrief(args) => return debrief::run(args),
    };
    result.unwrap_or_else(|refusal| refusal.outcome(plan))
}
