//! Of one dive.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use hangbar::plan_file::Overrides;
use hangbar::quantity::{Depth, DepthChange, Time};

use super::examples::{self, AFTER_HELP};
use super::shown::{Cabin, Drawn, Flight, OnTheDay, Shown, ShownTable};
use super::values::{deeper, harder, late, table_depth, trace_step};

#[derive(Debug, Args)]
#[command(before_help = examples::BRIEF, after_help = AFTER_HELP)]
pub(crate) struct BriefArgs {
    /// Plan file, or - for standard input
    #[arg(value_name = "PLAN")]
    pub(crate) plan: PathBuf,

    /// One screen: verdict, limits, stops, turn and minimum of each diver, the clock
    #[arg(long, help_heading = "Output")]
    pub(crate) short: bool,

    /// One diver's part: limits, turn and minimum, pony, what leaving late does to that diver
    #[arg(
        long,
        value_name = "NAME",
        help_heading = "Output",
        conflicts_with = "short"
    )]
    pub(crate) only: Option<String>,

    /// Write the form of a record of this dive, to be filled in after it, to this new file
    #[arg(long, value_name = "FILE.toml", help_heading = "Output")]
    pub(crate) record: Option<PathBuf>,

    #[command(flatten)]
    pub(crate) on_the_day: OnTheDay,

    #[command(flatten)]
    flight: Flight,

    #[command(flatten)]
    pub(crate) shown: Shown,

    #[command(flatten)]
    pub(crate) drawn: Drawn,
}

impl BriefArgs {
    pub(crate) fn overrides(&self) -> Overrides {
        Overrides {
            cabin_altitude: self.flight.cabin.cabin_altitude.clone(),
            fly_at: self.flight.fly_at.clone(),
            ..self.on_the_day.overrides()
        }
    }
}

#[derive(Debug, Args)]
#[command(before_help = examples::WHATIF, after_help = AFTER_HELP)]
pub(crate) struct WhatIfArgs {
    /// Plan file, or - for standard input
    #[arg(value_name = "PLAN")]
    pub(crate) plan: PathBuf,

    /// Leaving the bottom so much late, as "4 min" or 4min,8min [default: 2, 5 and 10 min]
    #[arg(long, allow_hyphen_values = true, value_name = "TIMES", value_delimiter = ',', value_parser = late, help_heading = "What differs")]
    pub(crate) late: Vec<Time>,

    /// Going so much deeper, as 5m or "10 ft"; with every --late too [default: 3 m or 10 ft]
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTHS", value_delimiter = ',', value_parser = deeper, help_heading = "What differs")]
    pub(crate) deeper: Vec<DepthChange>,

    /// Breathing so much harder, as 25% [default: 25%]
    #[arg(long, allow_hyphen_values = true, value_name = "PERCENT", value_delimiter = ',', value_parser = harder, help_heading = "What differs")]
    pub(crate) harder: Vec<f64>,

    #[command(flatten)]
    pub(crate) on_the_day: OnTheDay,

    #[command(flatten)]
    pub(crate) shown: Shown,
}

#[derive(Debug, Args)]
#[command(before_help = examples::TRACE, after_help = AFTER_HELP)]
pub(crate) struct TraceArgs {
    /// Plan file, or - for standard input
    #[arg(value_name = "PLAN")]
    pub(crate) plan: PathBuf,

    /// Time between two samples; the end of every segment is one too
    #[arg(long, allow_hyphen_values = true, value_name = "TIME", default_value = "1 min", value_parser = trace_step)]
    pub(crate) step: Time,

    /// Compartments, 1 (fastest) to 16, as 1,4,16: those in the text [default: 1,8,16], and in a
    /// picture what they hold instead of the dive's profile (at most 6)
    #[arg(long, value_name = "NUMBERS", value_delimiter = ',', value_parser = clap::value_parser!(u8).range(1..=16))]
    pub(crate) compartment: Vec<u8>,

    /// What a picture of compartments runs along: the run time (with the inspired pressure that
    /// each tends to), or the ambient pressure (one compartment under its M-value line)
    /// [default: time]
    #[arg(
        long,
        value_enum,
        value_name = "AXIS",
        requires = "compartment",
        requires = "Drawn",
        help_heading = "Pictures"
    )]
    pub(crate) against: Option<Against>,

    #[command(flatten)]
    pub(crate) on_the_day: OnTheDay,

    #[command(flatten)]
    pub(crate) shown: ShownTable,

    #[command(flatten)]
    pub(crate) drawn: Drawn,
}

/// What a picture of compartments runs along.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Against {
    Time,
    Ambient,
}

#[derive(Debug, Args)]
#[command(before_help = examples::EXPLAIN, after_help = AFTER_HELP)]
pub(crate) struct ExplainArgs {
    /// Plan file, or - for standard input
    #[arg(value_name = "PLAN")]
    pub(crate) plan: PathBuf,

    /// What the surface interval, or the time since coming from another altitude, leaves; how long
    /// it must be for a no-stop dive
    #[arg(long, help_heading = "What is explained [default: all of it]")]
    pub(crate) interval: bool,

    /// The no-stop limit at the deepest level
    #[arg(long, help_heading = "What is explained [default: all of it]")]
    pub(crate) limit: bool,

    /// The stop at this depth, as 6m or "20 ft"; once for each
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTH", value_parser = table_depth, help_heading = "What is explained [default: all of it]")]
    pub(crate) stop: Vec<Depth>,

    /// The gas of this diver: minimum, turn, what is left, the pony; once for each
    #[arg(
        long,
        value_name = "NAME",
        help_heading = "What is explained [default: all of it]"
    )]
    pub(crate) gas: Vec<String>,

    /// How long not to fly or drive up after the dive
    #[arg(long, help_heading = "What is explained [default: all of it]")]
    pub(crate) fly: bool,

    #[command(flatten)]
    pub(crate) on_the_day: OnTheDay,

    #[command(flatten)]
    cabin: Cabin,

    #[command(flatten)]
    pub(crate) shown: Shown,
}

impl ExplainArgs {
    pub(crate) fn overrides(&self) -> Overrides {
        Overrides {
            cabin_altitude: self.cabin.cabin_altitude.clone(),
            ..self.on_the_day.overrides()
        }
    }
}
