//! Why several plans are no day.

use crate::briefing::BriefingError;
use crate::quantity::show::{minutes_down, minutes_up};
use crate::quantity::{Pressure, Time};
use crate::site::Mix;

/// More dives than this were never made in a day.
pub const MOST_DIVES: usize = 20;

/// Why several plans are no day. `file` is what a plan was called by.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum DayError {
    /// No plan, or more than a day holds.
    #[error("{count} plans")]
    Count {
        /// How many.
        count: usize,
    },
    /// A plan of a day whose order the splashes should give.
    #[error("{file} says no splash: nobody knows how long they wait")]
    NoSplash {
        /// The plan.
        file: String,
    },
    /// A flight that leaves at a time of a day whose splashes nobody knows.
    #[error("a flight leaves at a time of day, and the first plan does not say when it splashes")]
    FlightUnclocked,
    /// Not one interval between each two dives.
    #[error("{} for {}", counted(*.intervals, "interval"), counted(*.plans, "plan"))]
    Intervals {
        /// Intervals given.
        intervals: usize,
        /// Plans given.
        plans: usize,
    },
    /// An interval out of range.
    #[error(transparent)]
    OutOfRange(#[from] crate::rules::OutOfRange),
    /// A dive begins before the one before it is over.
    #[error("{file} splashes at {splash}, and {before} is back at {back} only")]
    Overlap {
        /// The later plan.
        file: String,
        /// Its splash.
        splash: String,
        /// The earlier plan.
        before: String,
        /// When it is back.
        back: String,
    },
    /// A name that breathes another gas than before, by a plan that does not say so.
    #[error(
        "{name} breathed {was} in {before}, and {file} says nothing of gas, which would be {now}"
    )]
    GasUnsaid {
        /// The diver.
        name: String,
        /// Gas before.
        was: Mix,
        /// Where.
        before: String,
        /// The plan that does not say.
        file: String,
        /// What it would be.
        now: Mix,
    },
    /// Sites of different air, and nobody says when they came up or down.
    #[error(
        "the air at {file} has {:.3} bar and that of the dive before {:.3} bar: nobody knows when \
         {name} came there", .now.as_bar(), .was.as_bar()
    )]
    Unarrived {
        /// The plan.
        file: String,
        /// A diver who was there before.
        name: String,
        /// Air before.
        was: Pressure,
        /// Air now.
        now: Pressure,
    },
    /// Somebody who came to the site before surfacing from the last dive elsewhere.
    #[error(
        "`arrived` of {file} is {} min, and {name} surfaced {} min before that splash, elsewhere", minutes_up(*.arrived), minutes_down(*.interval)
    )]
    ArrivedTooEarly {
        /// The plan.
        file: String,
        /// The diver.
        name: String,
        /// How long before the splash.
        arrived: Time,
        /// Time since surfacing.
        interval: Time,
    },
    /// An earlier dive told by a plan, of somebody whose day is known from the plans before it.
    #[error("{file} has [[before]] for {name}, whose earlier dives are the plans before it")]
    ToldTwice {
        /// The plan.
        file: String,
        /// The diver.
        name: String,
    },
    /// A plan without divers beside others that have some.
    #[error("{file} has no [[diver]]: nobody knows which of the others dive it")]
    NoDiver {
        /// The plan.
        file: String,
    },
    /// Plans of different compartments: tissues of one are none of the other.
    #[error("{file} has another `first_compartment` than {first}")]
    OtherModel {
        /// The plan.
        file: String,
        /// The first plan.
        first: String,
    },
    /// A dive that has no briefing.
    #[error("{file}: {cause}")]
    Dive {
        /// The plan.
        file: String,
        /// Why.
        cause: BriefingError,
    },
}

/// `1 plan`, `2 plans`
fn counted(count: usize, noun: &str) -> String {
    match count {
        1 => format!("1 {noun}"),
        count => format!("{count} {noun}s"),
    }
}

impl DayError {
    /// What is accepted in its place, where that can be said.
    #[must_use]
    pub fn accepted(&self) -> Option<String> {
        let accepted = match self {
            Self::Count { .. } => return Some(format!("1 to {MOST_DIVES}")),
            Self::Intervals { plans: 1, .. } => "none for one plan",
            Self::Intervals { plans, .. } => {
                return Some(format!("{}, one between each two plans", plans - 1));
            }
            Self::NoSplash { .. } => {
                "`splash` in every plan, or --interval for plans in their order"
            }
            Self::FlightUnclocked => "--fly-at where the first plan has a `splash`",
            Self::Overlap { .. } => "a later splash, or two days",
            Self::GasUnsaid { .. } => "`bottom` in [gas], or `gas` of the diver",
            Self::Unarrived { .. } => {
                "how long before the splash they came to the site, as \"90 min\""
            }
            Self::ArrivedTooEarly { .. } => {
                "no longer than since that surfacing, or a later splash"
            }
            Self::ToldTwice { .. } => {
                "no [[before]], or `divers` in it with those alone who were not there"
            }
            Self::NoDiver { .. } => "divers in every plan of the day, or in none",
            Self::OtherModel { .. } => "one for the whole day",
            Self::OutOfRange(_) | Self::Dive { .. } => return None,
        };
        Some(accepted.to_owned())
    }

    /// The table and the key of the plan that it is about, where it is about one.
    #[must_use]
    pub const fn key(&self) -> Option<(&'static str, &'static str)> {
        match self {
            Self::NoSplash { .. } | Self::Overlap { .. } => Some(("", "splash")),
            Self::GasUnsaid { .. } => Some(("[gas]", "bottom")),
            Self::Unarrived { .. } | Self::ArrivedTooEarly { .. } => Some(("[site]", "arrived")),
            Self::ToldTwice { .. } => Some(("[[before]]", "divers")),
            Self::NoDiver { .. } => Some(("[[diver]]", "name")),
            Self::OtherModel { .. } => Some(("[model]", "first_compartment")),
            Self::Count { .. }
            | Self::Intervals { .. }
            | Self::OutOfRange(_)
            | Self::FlightUnclocked
            | Self::Dive { .. } => None,
        }
    }

    /// The plan that it is about, as it is called: of two the later one, `None` where it is about
    /// all of them.
    #[must_use]
    pub fn file(&self) -> Option<&str> {
        match self {
            Self::Count { .. }
            | Self::Intervals { .. }
            | Self::OutOfRange(_)
            | Self::FlightUnclocked => None,
            Self::NoSplash { file }
            | Self::Overlap { file, .. }
            | Self::GasUnsaid { file, .. }
            | Self::Unarrived { file, .. }
            | Self::ArrivedTooEarly { file, .. }
            | Self::ToldTwice { file, .. }
            | Self::NoDiver { file }
            | Self::OtherModel { file, .. }
            | Self::Dive { file, .. } => Some(file),
        }
    }
}
