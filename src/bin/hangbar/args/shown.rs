//! What several commands ask: the day, the screen, the picture.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use hangbar::plan_file::Overrides;
use hangbar::quantity::UnitSystem;

use super::values::name_and_pressure;

/// How high it goes after the dive.
#[derive(Debug, Args)]
#[command(next_help_heading = "Flying, or driving up, after the dive")]
pub(crate) struct Cabin {
    /// Altitude that the cabin is kept at, or that of the pass, as "8000 ft" [default: 2438 m]
    #[arg(long, allow_hyphen_values = true, value_name = "HEIGHT")]
    pub(super) cabin_altitude: Option<String>,
}

/// Going up after a dive.
#[derive(Debug, Args)]
#[command(next_help_heading = "Flying, or driving up, after the dive")]
pub(crate) struct Flight {
    #[command(flatten)]
    pub(super) cabin: Cabin,

    /// When a flight leaves, as 18:00 (the first such time after surfacing) or 18:00+1 (the day
    /// after the splash's); needs a splash
    #[arg(long, allow_hyphen_values = true, value_name = "TIME OF DAY")]
    pub(crate) fly_at: Option<String>,
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

    #[command(flatten)]
    pub(crate) width: Width,
}

/// How wide text is.
#[derive(Debug, Args)]
pub(crate) struct Width {
    /// Columns of the text, 40 to 80 [default: those of the terminal, or 80]
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(40..=80), help_heading = "Output")]
    pub(crate) columns: Option<u16>,
}

/// What differs from the plan on the day.
#[derive(Debug, Args)]
#[command(next_help_heading = "What differs from the plan on the day")]
pub(crate) struct OnTheDay {
    /// Depth, as "26 m" or "85 ft" (plans with one level)
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTH")]
    pub(super) depth: Option<String>,

    /// Bottom time, as "20 min"; stretches the last level or cuts the profile where it falls
    #[arg(long, allow_hyphen_values = true, value_name = "TIME")]
    pub(super) bottom_time: Option<String>,

    /// Time of day of leaving the surface, as "09:40"
    #[arg(long, allow_hyphen_values = true, value_name = "TIME OF DAY")]
    pub(super) splash: Option<String>,

    /// A diver's fill, as "Mara=190 bar" or "Mara=2800 psi"; once for each diver
    #[arg(long, allow_hyphen_values = true, value_name = "NAME=PRESSURE", value_parser = name_and_pressure)]
    pub(super) fill: Vec<(String, String)>,

    #[command(flatten)]
    pub(super) arrival: Arrival,
}

/// How the divers came to the site.
#[derive(Debug, Args)]
pub(super) struct Arrival {
    /// How long before the first dive of the day the divers came to the site's altitude, as
    /// "90 min" [default: long enough to be adapted]
    #[arg(long, allow_hyphen_values = true, value_name = "TIME")]
    pub(super) arrived: Option<String>,

    /// The altitude that they came from, as "20 m"; with --arrived or `arrived` of the plan [default:
    /// sea level]
    #[arg(long, allow_hyphen_values = true, value_name = "HEIGHT")]
    pub(super) home_altitude: Option<String>,
}

impl OnTheDay {
    /// The first option that is given, or the first that there is.
    pub(crate) fn first_given(&self) -> &'static str {
        let given = [
            (self.depth.is_some(), "--depth"),
            (self.bottom_time.is_some(), "--bottom-time"),
            (self.splash.is_some(), "--splash"),
            (!self.fill.is_empty(), "--fill"),
            (self.arrival.arrived.is_some(), "--arrived"),
            (self.arrival.home_altitude.is_some(), "--home-altitude"),
        ];
        let first = given.into_iter().find(|(is_given, _)| *is_given);
        first.map_or("--depth", |(_, option)| option)
    }

    pub(crate) fn overrides(&self) -> Overrides {
        Overrides {
            depth: self.depth.clone(),
            bottom_time: self.bottom_time.clone(),
            splash: self.splash.clone(),
            arrived: self.arrival.arrived.clone(),
            home_altitude: self.arrival.home_altitude.clone(),
            fills: self.fill.clone(),
            ..Overrides::default()
        }
    }
}

/// How a table is shown.
#[derive(Debug, Args)]
#[command(next_help_heading = "Output")]
pub(crate) struct ShownTable {
    /// Text for people; CSV or JSON for scripts (SI units, unrounded)
    #[arg(long, value_enum, default_value_t = TableFormat::Text)]
    pub(crate) format: TableFormat,

    /// Show depths in these units
    #[arg(long, value_enum)]
    pub(crate) units: Option<Units>,

    #[command(flatten)]
    pub(crate) width: Width,

    /// Colour of the text: on a terminal, always, or never
    #[arg(long, value_enum, default_value_t = Color::Auto)]
    pub(crate) color: Color,
}

/// Pictures beside the figures.
#[derive(Debug, Args)]
#[command(next_help_heading = "Pictures")]
pub(crate) struct Drawn {
    /// Write the picture to this SVG file, 1280 by 800 for a projector
    #[arg(long, value_name = "FILE.svg")]
    pub(crate) picture: Option<PathBuf>,

    /// Draw it in characters too, where standard output is a terminal
    #[arg(long)]
    pub(crate) chart: bool,
}

impl Drawn {
    /// Whether there is to be one.
    pub(crate) const fn is_wanted(&self) -> bool {
        self.picture.is_some() || self.chart
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum TableFormat {
    Text,
    Csv,
    Json,
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
