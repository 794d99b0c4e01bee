//! The command line: its words and nothing else.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use hangbar::gas::CylinderGas;
use hangbar::plan::{FlightTime, TimeOfDay};
use hangbar::plan_file::Overrides;
use hangbar::quantity::{Depth, DepthChange, Pressure, Temperature, Time, UnitSystem};
use hangbar::report::SchemaOf;
use hangbar::site::Mix;
use hangbar::tissue::GradientFactors;

mod examples;
mod later;
mod values;

use examples::{A_PLAN, AFTER_HELP};
use later::Later;
use values::{
    FillTo, RecordOf, cylinder_gas, cylinder_temperature, deeper, dive_number, factors, fill, gas,
    harder, interval, late, name_and_pressure, oxygen_limit, record_of, schema_of, table_depth,
    table_step, trace_step,
};

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
    cabin: Cabin,

    /// When a flight leaves, as 18:00 (the first such time after surfacing) or 18:00+1 (the day
    /// after the splash's); needs a splash
    #[arg(
        long,
        allow_hyphen_values = true,
        value_name = "TIME OF DAY",
        help_heading = "Flying, or driving up, after the dive"
    )]
    fly_at: Option<String>,

    #[command(flatten)]
    pub(crate) shown: Shown,

    #[command(flatten)]
    pub(crate) drawn: Drawn,
}

impl BriefArgs {
    pub(crate) fn overrides(&self) -> Overrides {
        Overrides {
            cabin_altitude: self.cabin.cabin_altitude.clone(),
            fly_at: self.fly_at.clone(),
            ..self.on_the_day.overrides()
        }
    }
}

/// How high it goes after the dive.
#[derive(Debug, Args)]
#[command(next_help_heading = "Flying, or driving up, after the dive")]
pub(crate) struct Cabin {
    /// Altitude that the cabin is kept at, or that of the pass, as "8000 ft" [default: 2438 m]
    #[arg(long, allow_hyphen_values = true, value_name = "HEIGHT")]
    cabin_altitude: Option<String>,
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
    depth: Option<String>,

    /// Bottom time, as "20 min"; stretches the last level or cuts the profile where it falls
    #[arg(long, allow_hyphen_values = true, value_name = "TIME")]
    bottom_time: Option<String>,

    /// Time of day of leaving the surface, as "09:40"
    #[arg(long, allow_hyphen_values = true, value_name = "TIME OF DAY")]
    splash: Option<String>,

    /// A diver's fill, as "Mara=190 bar" or "Mara=2800 psi"; once for each diver
    #[arg(long, allow_hyphen_values = true, value_name = "NAME=PRESSURE", value_parser = name_and_pressure)]
    fill: Vec<(String, String)>,

    #[command(flatten)]
    arrival: Arrival,
}

/// How the divers came to the site.
#[derive(Debug, Args)]
struct Arrival {
    /// How long before the first dive of the day the divers came to the site's altitude, as
    /// "90 min" [default: long enough to be adapted]
    #[arg(long, allow_hyphen_values = true, value_name = "TIME")]
    arrived: Option<String>,

    /// The altitude that they came from, as "20 m"; with --arrived or `arrived` of the plan [default:
    /// sea level]
    #[arg(long, allow_hyphen_values = true, value_name = "HEIGHT")]
    home_altitude: Option<String>,
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
#[command(before_help = examples::LIMITS, after_help = AFTER_HELP)]
pub(crate) struct LimitsArgs {
    /// Plan file that gives water, air, rates, gas and factors, or - for standard input
    #[arg(value_name = "PLAN")]
    pub(crate) plan: Option<PathBuf>,

    /// Gases side by side, as air,EAN32 [default: the plan's, or air]
    #[arg(
        long,
        value_name = "GASES",
        value_delimiter = ',',
        help_heading = "Columns and rows"
    )]
    pub(crate) gas: Vec<Mix>,

    /// Gradient factors side by side, as 40/85,30/70; only the high one decides a no-stop limit
    #[arg(long, value_name = "LOW/HIGH", value_delimiter = ',', value_parser = factors, help_heading = "Columns and rows")]
    pub(crate) factors: Vec<GradientFactors>,

    /// Shallowest depth [default: 10 m or 30 ft]
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTH", value_parser = table_depth, help_heading = "Columns and rows")]
    pub(crate) from: Option<Depth>,

    /// Deepest depth [default: 40 m or 130 ft]
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTH", value_parser = table_depth, help_heading = "Columns and rows")]
    pub(crate) to: Option<Depth>,

    /// Depth between two rows [default: 2 m or 10 ft]
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTH", value_parser = table_step, help_heading = "Columns and rows")]
    pub(crate) step: Option<DepthChange>,

    /// Oxygen pressure above which a depth gets no number, as "1.4 bar"
    #[arg(long, allow_hyphen_values = true, value_name = "PRESSURE", default_value = "1.4 bar", value_parser = oxygen_limit, help_heading = "Columns and rows")]
    pub(crate) oxygen_limit: Pressure,

    #[command(flatten)]
    arrival: Arrival,

    #[command(flatten)]
    site: SiteAndRates,

    #[command(flatten)]
    pub(crate) shown: ShownTable,

    #[command(flatten)]
    pub(crate) drawn: Drawn,
}

impl LimitsArgs {
    pub(crate) fn overrides(&self) -> Overrides {
        Overrides {
            arrived: self.arrival.arrived.clone(),
            home_altitude: self.arrival.home_altitude.clone(),
            ..self.site.overrides()
        }
    }
}

/// Where, and how fast.
#[derive(Debug, Args)]
#[command(next_help_heading = "The site and the rates")]
pub(crate) struct SiteAndRates {
    /// Water: sea, fresh, en13319 or a density, as "1030 kg/m3"
    #[arg(long, allow_hyphen_values = true, value_name = "WATER")]
    water: Option<String>,

    /// Altitude of the site, as "1500 m"
    #[arg(long, allow_hyphen_values = true, value_name = "HEIGHT")]
    altitude: Option<String>,

    /// Speed on the way down, as "18 m/min"
    #[arg(long, allow_hyphen_values = true, value_name = "SPEED")]
    descent_rate: Option<String>,

    /// Speed on the way up, as "9 m/min"
    #[arg(long, allow_hyphen_values = true, value_name = "SPEED")]
    ascent_rate: Option<String>,
}

impl SiteAndRates {
    pub(crate) fn overrides(&self) -> Overrides {
        Overrides {
            water: self.water.clone(),
            altitude: self.altitude.clone(),
            descent_rate: self.descent_rate.clone(),
            ascent_rate: self.ascent_rate.clone(),
            ..Overrides::default()
        }
    }
}

#[derive(Debug, Args)]
#[command(before_help = examples::MIX, after_help = AFTER_HELP)]
pub(crate) struct MixArgs {
    /// The gas: air, EAN32, 18/45, oxygen
    #[arg(value_name = "GAS", value_parser = gas, required_unless_present = "best_for")]
    pub(crate) gas: Option<Mix>,

    /// At this depth, as "30 m" or "100 ft"
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTH", value_parser = table_depth)]
    pub(crate) depth: Option<Depth>,

    /// The richest nitrox for this depth instead of a gas
    #[arg(long, allow_hyphen_values = true, value_name = "DEPTH", value_parser = table_depth, conflicts_with_all = ["gas", "depth"])]
    pub(crate) best_for: Option<Depth>,

    /// Oxygen pressure up to which it is a bottom gas, as "1.4 bar"
    #[arg(long, allow_hyphen_values = true, value_name = "PRESSURE", default_value = "1.4 bar", value_parser = oxygen_limit)]
    pub(crate) oxygen_limit: Pressure,

    /// Gradient factors of the no-stop limit, as 40/85 [default: the plan's, or 40/85]
    #[arg(long, value_name = "LOW/HIGH", value_parser = factors)]
    pub(crate) factors: Option<GradientFactors>,

    /// Plan file that gives water, air, rates, factors and temperature, or - for standard input
    #[arg(long, value_name = "PLAN")]
    pub(crate) plan: Option<PathBuf>,

    /// Blend a cylinder of it by partial pressures, up to "200 bar" or "3000 psi"
    #[arg(long, allow_hyphen_values = true, value_name = "PRESSURE", value_parser = fill, help_heading = "Blending")]
    pub(crate) blend: Option<FillTo>,

    /// What the cylinder holds before, as "60 bar EAN28" [default: 0 bar air]
    #[arg(long, allow_hyphen_values = true, value_name = "PRESSURE GAS", value_parser = cylinder_gas, requires = "blend", help_heading = "Blending")]
    pub(crate) from: Option<CylinderGas>,

    /// What is filled on top, after helium and oxygen
    #[arg(
        long,
        value_name = "GAS",
        value_parser = gas,
        default_value = "air",
        requires = "blend",
        help_heading = "Blending"
    )]
    pub(crate) top: Mix,

    /// Temperature of the cylinder, as "15 C" [default: the plan's, or 15 C]
    #[arg(long, allow_hyphen_values = true, value_name = "TEMPERATURE", value_parser = cylinder_temperature, requires = "blend", help_heading = "Blending")]
    pub(crate) temperature: Option<Temperature>,

    #[command(flatten)]
    pub(crate) site: SiteAndRates,

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

/// What a picture of compartments runs along.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Against {
    Time,
    Ambient,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum TableFormat {
    Text,
    Csv,
    Json,
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

#[derive(Debug, Args)]
#[command(before_help = examples::DAY, after_help = AFTER_HELP)]
pub(crate) struct DayArgs {
    /// Plan files of one day, in the order of their splashes or, with --interval, as they are named
    #[arg(value_name = "PLAN", required = true)]
    pub(crate) plans: Vec<PathBuf>,

    /// Time at the surface between two dives, as "75 min"; once for each, in place of the splashes
    #[arg(long, allow_hyphen_values = true, value_name = "TIME", value_parser = interval, help_heading = "The day")]
    pub(crate) interval: Vec<Time>,

    /// Back from the last dive by this hour, as "16:30": how late may it splash
    #[arg(long, value_name = "TIME OF DAY", help_heading = "The day")]
    pub(crate) home_by: Option<TimeOfDay>,

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

    /// Time at the surface between two dives, as "75 min"; once for each, in place of the splashes
    #[arg(long, allow_hyphen_values = true, value_name = "TIME", value_parser = interval, help_heading = "A day of several plans")]
    pub(crate) interval: Vec<Time>,

    /// Back from the last dive by this hour, as "16:30": how late may it splash
    #[arg(
        long,
        value_name = "TIME OF DAY",
        help_heading = "A day of several plans"
    )]
    pub(crate) home_by: Option<TimeOfDay>,

    #[command(flatten)]
    cabin: Cabin,

    /// When a flight leaves, as 18:00 or 18:00+1 (the day after the splash's); needs a splash
    #[arg(
        long,
        allow_hyphen_values = true,
        value_name = "TIME OF DAY",
        help_heading = "Flying, or driving up, after the dive"
    )]
    pub(crate) fly_at: Option<String>,
}

impl SheetArgs {
    /// What is laid over one plan.
    pub(crate) fn overrides(&self) -> Overrides {
        Overrides {
            cabin_altitude: self.cabin.cabin_altitude.clone(),
            fly_at: self.fly_at.clone(),
            ..self.on_the_day.overrides()
        }
    }

    /// What is laid over each of several plans; a flight is after all of them.
    pub(crate) fn overrides_of_each(&self) -> Overrides {
        Overrides {
            cabin_altitude: self.cabin.cabin_altitude.clone(),
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
#[command(before_help = examples::COMPLETIONS)]
pub(crate) struct CompletionsArgs {
    /// The shell
    #[arg(value_enum)]
    pub(crate) shell: clap_complete::Shell,
}

#[derive(Debug, Args)]
#[command(before_help = examples::MANUAL)]
pub(crate) struct ManualArgs {
    /// The command whose page it is; left out: that of hangbar itself
    #[arg(value_name = "COMMAND", conflicts_with = "into")]
    pub(crate) command: Option<String>,

    /// Write every page into this folder, in the place of older ones
    #[arg(long, value_name = "FOLDER")]
    pub(crate) into: Option<PathBuf>,
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

#[derive(Debug, Args)]
#[command(before_help = examples::NEW, after_help = AFTER_HELP)]
pub(crate) struct NewArgs {
    /// The plan's new file, or - for standard output. Writes over nothing
    #[arg(value_name = "FILE.toml")]
    pub(crate) file: PathBuf,

    /// A plan in feet, psi and cubic feet
    #[arg(long)]
    pub(crate) imperial: bool,

    /// How many divers, 1 to 50
    #[arg(long, value_name = "NUMBER", default_value_t = 2)]
    pub(crate) divers: usize,
}

#[derive(Debug, Args)]
#[command(before_help = examples::SCHEMA, after_help = AFTER_HELP)]
pub(crate) struct SchemaArgs {
    /// Of which file or document
    #[arg(value_name = "NAME", value_parser = schema_of())]
    pub(crate) of: SchemaOf,
}

#[derive(Debug, Args)]
#[command(before_help = examples::KEYS, after_help = AFTER_HELP)]
pub(crate) struct KeysArgs {
    /// One table and those in it, as site or diver.cylinder; top: the keys above every table
    #[arg(value_name = "TABLE")]
    pub(crate) table: Option<String>,

    /// The keys of what divers write down of a dive, as brief --record lays it out
    #[arg(long)]
    pub(crate) record: bool,

    /// Text for people, or JSON for scripts
    #[arg(long, value_enum, default_value_t = Format::Text, help_heading = "Output")]
    pub(crate) format: Format,

    /// Colour: on a terminal, always, or never
    #[arg(long, value_enum, default_value_t = Color::Auto, help_heading = "Output")]
    pub(crate) color: Color,

    #[command(flatten)]
    pub(crate) width: Width,
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
