//! The command line: its words and nothing else.

use clap::{Parser, Subcommand};

mod days;
mod dives;
mod examples;
mod gases;
mod later;
mod set_up;
mod shown;
mod values;

pub(crate) use days::{CheckArgs, DayArgs, DebriefArgs, DrawnOf, PaperSize, SheetArgs};
pub(crate) use dives::{Against, BriefArgs, ExplainArgs, TraceArgs, WhatIfArgs};
pub(crate) use gases::{LimitsArgs, MixArgs};
pub(crate) use set_up::{CompletionsArgs, KeysArgs, ManualArgs, NewArgs, SchemaArgs};
pub(crate) use shown::{Color, Drawn, Format, TableFormat, Width};

use examples::{A_PLAN, AFTER_HELP};
use later::Later;

#[derive(Debug, Parser)]
#[command(
    name = "hangbar",
    version,
    about = "Works out a dive from a plan file and reads it out as a briefing for the rail",
    before_help = examples::FIRST,
    after_help = AFTER_HELP,
    after_long_help = format!("{AFTER_HELP}\n\n{A_PLAN}"),
    arg_required_else_help = true,
    max_term_width = 80
)]
pub(crate) struct Cli {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Brief a dive: verdict, way up, each diver's gas
    Brief(Later<BriefArgs>),
    /// What if they stay longer, go deeper, breathe harder, lose gas
    #[command(name = "whatif")]
    WhatIf(Later<WhatIfArgs>),
    /// No-stop limits over a range of depths, gases and factors side by side
    Limits(Later<LimitsArgs>),
    /// One gas: how deep, what it is like there, how it is blended
    Mix(Later<MixArgs>),
    /// The tissues through a dive
    Trace(Later<TraceArgs>),
    /// Why: the equations behind the limit, the stops, the gas, the surface interval and the wait
    /// before a flight, with their numbers
    Explain(Later<ExplainArgs>),
    /// A day of several plans: intervals, waits, each diver through it
    Day(Later<DayArgs>),
    /// The paper for the rail: a page to print for a dive, or for each dive of a day
    Sheet(Later<SheetArgs>),
    /// After the dive: what the records say, beside the plan
    Debrief(Later<DebriefArgs>),
    /// Check plans: a line each, worst exit status of all
    Check(Later<CheckArgs>),
    /// Write a plan to begin with, every key explained
    New(Later<NewArgs>),
    /// Every key of a plan file: what it may hold, and what holds without it
    Keys(Later<KeysArgs>),
    /// JSON Schema of the plan file, of a record, or of a JSON document
    Schema(Later<SchemaArgs>),
    /// What a shell completes as it is typed, for its own set-up
    Completions(Later<CompletionsArgs>),
    /// Manual pages: one to read, or all of them into a folder
    Manual(Later<ManualArgs>),
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    #[test]
    fn the_command_line_is_well_formed() {
        super::Cli::command().debug_assert();
    }
}
