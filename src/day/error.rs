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
    #[error("{count} plans; accepted: 1 to {MOST_DIVES}")]
    Count {
        /// How many.
        count: usize,
    },
    /// A plan of a day whose order the splashes should give.
    #[error(
        "{file} says no splash: nobody knows how long they wait; accepted: `splash` in every plan, \
         or --interval for plans in their order"
    )]
    NoSplash {
        /// The plan.
        file: String,
    },
    /// A flight that leaves at a time of a day whose splashes nobody knows.
    #[error("a flight leaves at a time of day, and the first plan does not say when it splashes")]
    FlightUnclocked,
    /// Not one interval between each two dives.
    #[error("{intervals} intervals for {plans} plans; accepted: {}", .plans - 1)]
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
    #[error(
        "{file} splashes at {splash}, and {before} is back at {back} only; accepted: a later \
         splash, or two days"
    )]
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
        "{name} breathed {was} in {before}, and {file} says nothing of gas, which would be {now}; \
         accepted: `bottom` in [gas], or `gas` of the diver"
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
        "the air at {file} has {:.3} bar and that of the dive before {:.3} bar: `arrived` in [site] \
         must say how long before the splash {name} came there", .now.as_bar(), .was.as_bar()
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
        "`arrived` of {file} is {} min, and {name} surfaced {} min before that splash, elsewhere; \
         accepted: no longer than that, or a later splash", minutes_up(*.arrived), minutes_down(*.interval)
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
    #[error(
        "{file} has [[before]] for {name}, whose earlier dives are the plans before it; accepted: no \
         [[before]], or `divers` in it with those alone who were not there"
    )]
    ToldTwice {
        /// The plan.
        file: String,
        /// The diver.
        name: String,
    },
    /// A plan without divers beside others that have some.
    #[error(
        "{file} has no [[diver]]: nobody knows which of the others dive it; accepted: divers in \
         every plan of the day, or in none"
    )]
    NoDiver {
        /// The plan.
        file: String,
    },
    /// Plans of different compartments: tissues of one are none of the other.
    #[error("{file} has another `first_compartment` than {first}; accepted: one for the whole day")]
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

impl DayError {
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
