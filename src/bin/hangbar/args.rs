//! The command line: its words and nothing else.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use hangbar::plan_file::Overrides;
use hangbar::quantity::Kind;
use hangbar::units::{Depth, Time, UnitSystem};

const AFTER_HELP: &str = "\
Exit status:
  0  go: no no-go finding
  1  no-go: at least one
  2  the plan or the command cannot be used
  3  an internal check failed: do not dive on it, report it

A plan is only as good as its figures. Plan with your own training and tables;
local rules and licensed practice come first.";

#[derive(Debug, Parser)]
#[command(
    name = "hangbar",
    version,
    about = "Works out a dive from a plan file and reads it out as a briefing for the rail",
    before_help = "Examples:\n  hangbar brief plans/kittiwake-wall.toml\n  \
                   hangbar brief plans/kittiwake-wall.toml --bottom-time \"20 min\" --fill \"Mara=190 bar\"",
    after_help = AFTER_HELP,
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
    Brief(BriefArgs),
    /// What if they stay longer, go deeper, breathe harder, lose gas
    #[command(name = "whatif")]
    WhatIf(WhatIfArgs),
    /// Check plans: a line each, worst exit status of all
    Check(CheckArgs),
}

#[derive(Debug, Args)]
#[command(after_help = AFTER_HELP)]
pub(crate) struct BriefArgs {
    /// Plan file, or - for standard input
    #[arg(value_name = "PLAN")]
    pub(crate) plan: PathBuf,

    #[command(flatten)]
    pub(crate) on_the_day: OnTheDay,

    #[command(flatten)]
    pub(crate) shown: Shown,
}

/// How one plan is shown.
#[derive(Debug, Args)]
#[command(next_help_heading = "Output")]
pub(crate) struct Shown {
    /// Text for people, or JSON for scripts (always SI units, unrounded)
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(crate) format: Format,

    /// Show figures in these units instead of the plan's; the dive stays the same
    #[arg(long, value_enum)]
    pub(crate) units: Option<Units>,

    /// Colour: on a terminal, always, or never
    #[arg(long, value_enum, default_value_t = Color::Auto)]
    pub(crate) color: Color,
}

/// What differs from the plan on the day.
#[derive(Debug, Args)]
#[command(next_help_heading = "What differs from the plan on the day")]
pub(crate) struct OnTheDay {
    /// Depth, as "26 m" or "85 ft" (plans with one level)
    #[arg(long, value_name = "DEPTH")]
    depth: Option<String>,

    /// Bottom time, as "20 min"; stretches or cuts the last level
    #[arg(long, value_name = "TIME")]
    bottom_time: Option<String>,

    /// Time of day of leaving the surface, as "09:40"
    #[arg(long, value_name = "TIME OF DAY")]
    splash: Option<String>,

    /// A diver's fill, as "Mara=190 bar" or "Mara=2800 psi"; once for each diver
    #[arg(long, value_name = "NAME=PRESSURE", value_parser = name_and_pressure)]
    fill: Vec<(String, String)>,
}

fn name_and_pressure(text: &str) -> Result<(String, String), String> {
    match text.rsplit_once('=') {
        Some((name, pressure)) if !name.trim().is_empty() => {
            Ok((name.trim().to_owned(), pressure.trim().to_owned()))
        }
        _ => Err("accepted: a diver's name, =, and a pressure, as \"Mara=190 bar\"".to_owned()),
    }
}

impl OnTheDay {
    pub(crate) fn overrides(self) -> Overrides {
        Overrides {
            depth: self.depth,
            bottom_time: self.bottom_time,
            splash: self.splash,
            fills: self.fill,
            ..Overrides::default()
        }
    }
}

#[derive(Debug, Args)]
#[command(after_help = AFTER_HELP)]
pub(crate) struct WhatIfArgs {
    /// Plan file, or - for standard input
    #[arg(value_name = "PLAN")]
    pub(crate) plan: PathBuf,

    /// Leaving the bottom so much late, as "4 min" or 4min,8min [default: 2, 5 and 10 min]
    #[arg(long, value_name = "TIMES", value_delimiter = ',', value_parser = late, help_heading = "What differs")]
    pub(crate) late: Vec<Time>,

    /// Going so much deeper, as 5m or "10 ft"; with every --late too [default: 3 m or 10 ft]
    #[arg(long, value_name = "DEPTHS", value_delimiter = ',', value_parser = deeper, help_heading = "What differs")]
    pub(crate) deeper: Vec<Depth>,

    /// Breathing so much harder, as 25% [default: 25%]
    #[arg(long, value_name = "PERCENT", value_delimiter = ',', value_parser = harder, help_heading = "What differs")]
    pub(crate) harder: Vec<f64>,

    #[command(flatten)]
    pub(crate) on_the_day: OnTheDay,

    #[command(flatten)]
    pub(crate) shown: Shown,
}

/// A quantity in a range, both ends included.
fn quantity(kind: Kind, text: &str, least: f64, greatest: f64) -> Result<f64, String> {
    let accepted = || format!("accepted: {}", kind.range(least, greatest));
    let value = kind
        .parse(text)
        .map_err(|error| format!("{error}; {}", accepted()))?;
    if (least..=greatest).contains(&value) {
        Ok(value)
    } else {
        Err(accepted())
    }
}

fn late(text: &str) -> Result<Time, String> {
    quantity(Kind::Time, text, 0.5, 240.0).map(Time::from_min)
}

fn deeper(text: &str) -> Result<Depth, String> {
    quantity(Kind::Depth, text, 0.1, 50.0).map(Depth::from_m)
}

fn harder(text: &str) -> Result<f64, String> {
    let digits = text.trim().trim_end_matches('%').trim_end();
    let plain = digits.chars().all(|c| c.is_ascii_digit() || c == '.');
    let value = digits
        .parse()
        .ok()
        .filter(|value| plain && (1.0..=300.0).contains(value));
    value.ok_or_else(|| "accepted: 1% to 300%".to_owned())
}

#[derive(Debug, Args)]
#[command(after_help = AFTER_HELP)]
pub(crate) struct CheckArgs {
    /// Plan files, and folders whose .toml files are all taken
    #[arg(value_name = "PATH", required = true)]
    pub(crate) paths: Vec<PathBuf>,

    /// A line of text for each plan, or one JSON object a line
    #[arg(long, value_enum, default_value_t = Format::Text, help_heading = "Output")]
    pub(crate) format: Format,

    /// Colour: on a terminal, always, or never
    #[arg(long, value_enum, default_value_t = Color::Auto, help_heading = "Output")]
    pub(crate) color: Color,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    Text,
    Json,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    Metric,
    Imperial,
}

impl From<Units> for UnitSystem {
    fn from(units: Units) -> Self {
        match units {
            Units::Metric => Self::Metric,
            Units::Imperial => Self::Imperial,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Color {
    Auto,
    Always,
    Never,
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    #[test]
    fn the_command_line_is_well_formed() {
        super::Cli::command().debug_assert();
    }
}
