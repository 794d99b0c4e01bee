//! Of a day, of paper, of records, of many plans.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use hangbar::plan::{FlightTime, TimeOfDay};
use hangbar::plan_file::Overrides;
use hangbar::quantity::Time;

use super::examples::{self, AFTER_HELP};
use super::shown::{Cabin, Color, Drawn, Flight, Format, OnTheDay, Shown, Units};
use super::values::{RecordOf, dive_number, interval, record_of};

/// The hours of a day of several plans.
#[derive(Debug, Args)]
#[command(next_help_heading = "A day of several plans")]
pub(crate) struct Hours {
    /// Time at the surface between two dives, as "75 min"; once for each, in place of the splashes
    #[arg(long, allow_hyphen_values = true, value_name = "TIME", value_parser = interval)]
    pub(crate) interval: Vec<Time>,

    /// Back from the last dive by this hour, as "16:30": how late may it splash
    #[arg(long, value_name = "TIME OF DAY")]
    pub(crate) home_by: Option<TimeOfDay>,
}

#[derive(Debug, Args)]
#[command(before_help = examples::DAY, after_help = AFTER_HELP)]
pub(crate) struct DayArgs {
    /// Plan files of one day, in the order of their splashes or, with --interval, as they are named
    #[arg(value_name = "PLAN", required = true)]
    pub(crate) plans: Vec<PathBuf>,

    #[command(flatten)]
    pub(crate) hours: Hours,

    #[command(flatten)]
    cabin: Cabin,

    /// When a flight leaves, as 18:00 (the first such time after the last surfacing) or 18:00+1 (the
    /// day after that of the first splash); needs a splash
    #[arg(
        long,
        allow_hyphen_values = true,
        value_name = "TIME OF DAY",
        help_heading = "Flying, or driving up, after the day"
    )]
    pub(crate) fly_at: Option<FlightTime>,

    /// What the published guidance says in full, and what the model asks of each diver
    #[arg(
        long,
        conflicts_with = "brief",
        help_heading = "Flying, or driving up, after the day"
    )]
    pub(crate) fly: bool,

    /// The whole briefing of this dive of the day, by its number
    #[arg(long, value_name = "NUMBER", value_parser = dive_number, help_heading = "Output")]
    pub(crate) brief: Option<u8>,

    #[command(flatten)]
    pub(crate) shown: Shown,

    #[command(flatten)]
    pub(crate) drawn: Drawn,
}

impl DayArgs {
    /// What is laid over each plan.
    pub(crate) fn overrides(&self) -> Overrides {
        Overrides {
            cabin_altitude: self.cabin.cabin_altitude.clone(),
            ..Overrides::default()
        }
    }
}

#[derive(Debug, Args)]
#[command(before_help = examples::SHEET, after_help = AFTER_HELP)]
pub(crate) struct SheetArgs {
    /// Plan file, or - for standard input; several are a day, a page for it and one for each dive
    #[arg(value_name = "PLAN", required = true)]
    pub(crate) plans: Vec<PathBuf>,

    /// Write it to this file instead of standard output
    #[arg(short, long, value_name = "FILE.html", help_heading = "Output")]
    pub(crate) output: Option<PathBuf>,

    /// Half a page for the wheelhouse instead: the clock, the way up, who is in and out
    #[arg(long, help_heading = "Output")]
    pub(crate) skipper: bool,

    /// The way up alone instead, on A6, to be laminated
    #[arg(long, conflicts_with = "skipper", help_heading = "Output")]
    pub(crate) slate: bool,

    /// Paper to ask the printer for [default: what it has; all fits A4 and Letter]
    #[arg(
        long,
        value_enum,
        value_name = "SIZE",
        conflicts_with = "slate",
        help_heading = "Output"
    )]
    pub(crate) paper: Option<PaperSize>,

    /// Show figures in these units instead of the plan's; the dive stays the same
    #[arg(long, value_enum, help_heading = "Output")]
    pub(crate) units: Option<Units>,

    #[command(flatten)]
    pub(crate) on_the_day: OnTheDay,

    #[command(flatten)]
    pub(crate) hours: Hours,

    #[command(flatten)]
    pub(crate) flight: Flight,
}

impl SheetArgs {
    /// What is laid over one plan.
    pub(crate) fn overrides(&self) -> Overrides {
        Overrides {
            cabin_altitude: self.flight.cabin.cabin_altitude.clone(),
            fly_at: self.flight.fly_at.clone(),
            ..self.on_the_day.overrides()
        }
    }

    /// What is laid over each of several plans; a flight is after all of them.
    pub(crate) fn overrides_of_each(&self) -> Overrides {
        Overrides {
            cabin_altitude: self.flight.cabin.cabin_altitude.clone(),
            ..Overrides::default()
        }
    }
}

/// A size of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperSize {
    A4,
    Letter,
}

/// What a picture of a debrief is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum DrawnOf {
    /// Depth and ceiling over run time, beside the plan
    Profile,
    /// What each diver breathed, beside the plan
    Breathing,
}

#[derive(Debug, Args)]
#[command(before_help = examples::DEBRIEF, after_help = AFTER_HELP)]
pub(crate) struct DebriefArgs {
    /// Plan file of the dive, or - for standard input
    #[arg(value_name = "PLAN")]
    pub(crate) plan: PathBuf,

    /// What was written down: a pencil log (TOML, as brief --record writes it), readings of a logger
    /// as CSV (columns time, depth, pressure with their units) or UDDF; NAME=FILE says whose
    #[arg(value_name = "RECORD", required = true, value_parser = record_of)]
    pub(crate) records: Vec<RecordOf>,

    /// Write the plan again for the next dive: what was breathed as sac, this dive as it was among the
    /// earlier ones. Depth, time and fill stay: put them right. Writes over nothing
    #[arg(long, value_name = "FILE.toml", help_heading = "The next dive")]
    pub(crate) write_next: Option<PathBuf>,

    /// From the last of them being back to the next splash, as "75 min"
    #[arg(long, allow_hyphen_values = true, value_name = "TIME", value_parser = interval, requires = "write_next", help_heading = "The next dive")]
    pub(crate) interval: Option<Time>,

    /// When the next dive splashes, as 13:50, where every record says when it began
    #[arg(
        long,
        value_name = "TIME OF DAY",
        requires = "write_next",
        conflicts_with = "interval",
        help_heading = "The next dive"
    )]
    pub(crate) next_splash: Option<TimeOfDay>,

    /// Who of the plan has no record because of not diving; once for each
    #[arg(
        long,
        value_name = "NAME",
        requires = "write_next",
        help_heading = "The next dive"
    )]
    pub(crate) absent: Vec<String>,

    #[command(flatten)]
    pub(crate) shown: Shown,

    /// What the picture shows
    #[arg(long, value_enum, default_value_t = DrawnOf::Profile, help_heading = "Pictures")]
    pub(crate) draw: DrawnOf,

    #[command(flatten)]
    pub(crate) drawn: Drawn,
}

#[derive(Debug, Args)]
#[command(before_help = examples::CHECK, after_help = AFTER_HELP)]
pub(crate) struct CheckArgs {
    /// Plan files of any name, and folders: every .toml file in them, except hidden ones
    #[arg(value_name = "PATH", required = true)]
    pub(crate) paths: Vec<PathBuf>,

    /// A line of text for each plan, or one JSON object a line
    #[arg(long, value_enum, default_value_t = Format::Text, help_heading = "Output")]
    pub(crate) format: Format,

    /// Colour: on a terminal, always, or never
    #[arg(long, value_enum, default_value_t = Color::Auto, help_heading = "Output")]
    pub(crate) color: Color,
}
