//! What a briefing says of flying, or driving up, after the dive.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::nullable::nullable;
use crate::briefing;
use crate::plan::DayTime;
use crate::surface;

/// How long to wait after surfacing before flying or driving up.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Flying {
    /// Altitude that the cabin is kept at, or that of the pass, m.
    pub cabin_altitude_m: f64,
    /// Pressure of the standard atmosphere there, bar.
    pub cabin_bar: f64,
    /// What the model asks of the team, whole minutes after surfacing, min; null unless the
    /// state is `minutes`.
    #[serde(deserialize_with = "nullable")]
    pub model_wait_min: Option<u32>,
    /// What the model's wait comes to: `minutes` or `not-within` (4,320 min).
    pub model_state: WaitState,
    /// The compartment that decides it, 1 to 16; where it asks for no wait, the nearest to its
    /// limit.
    pub model_compartment: usize,
    /// The published minimum, whole minutes after surfacing, min.
    pub published_wait_min: u32,
    /// What it counts the day as: `one-no-stop-dive`, `several-dives` or `compulsory-stops`.
    pub published_for: Exposure,
    /// Whether it is for such a cabin: `covered` (610 to 2,438 m), `cabin-below` or `cabin-above`; it is
    /// held to all the same.
    pub published_reach: GuidanceReach,
    /// Whether it is for what was breathed: air alone.
    pub published_covers_gas: bool,
    /// The longer of the two, min; null where the model finds no end.
    #[serde(deserialize_with = "nullable")]
    pub advised_wait_min: Option<u32>,
    /// Which that is: `published` or `model`.
    pub decided_by: WaitDecidedBy,
    /// Time of day at which it is over, `HH:MM`, in whole minutes toward safety; null without a
    /// splash or an end.
    #[serde(deserialize_with = "nullable")]
    pub not_before: Option<String>,
    /// Days from that of the splash to it; null likewise.
    #[serde(deserialize_with = "nullable")]
    pub not_before_days_later: Option<u32>,
    /// The flight of `--fly-at`; null without one.
    #[serde(deserialize_with = "nullable")]
    pub flight: Option<BookedFlight>,
    /// Each diver apart, in the order of the plan.
    pub divers: Vec<DiverWait>,
}

/// A flight that is booked.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct BookedFlight {
    /// Time of day at which it leaves, `HH:MM`.
    pub leaves: String,
    /// Days from that of the splash to it, assumed where the option has none.
    pub days_later: u32,
}

/// What the model asks of one diver.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct DiverWait {
    /// The diver.
    pub name: String,
    /// What the model asks of this diver, min; null unless the state is `minutes`.
    #[serde(deserialize_with = "nullable")]
    pub model_wait_min: Option<u32>,
    /// What it comes to: `minutes` or `not-within`.
    pub model_state: WaitState,
}

/// What the model's wait comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WaitState {
    /// So many minutes.
    Minutes,
    /// 4,320 min are not enough.
    NotWithin,
}

/// What the published guidance counts a day as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Exposure {
    /// One no-stop dive.
    OneNoStopDive,
    /// Several dives, none with compulsory stops.
    SeveralDives,
    /// A dive with compulsory stops among them.
    CompulsoryStops,
}

/// How a cabin altitude stands to those that the published guidance is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum GuidanceReach {
    /// It is among them.
    Covered,
    /// It is below them.
    CabinBelow,
    /// It is above them.
    CabinAbove,
}

/// What decides the wait.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WaitDecidedBy {
    /// The published guidance, also where the model asks for as much.
    Published,
    /// The model.
    Model,
}

impl Flying {
    pub(super) fn new(briefing: &briefing::Briefing) -> Self {
        let names = briefing.plan.divers().iter();
        Self::of(&briefing.flying, names.map(|diver| diver.name.as_str()))
    }

    /// The wait of divers of these names, in the same order.
    pub(super) fn of<'a>(flying: &surface::Flying, names: impl Iterator<Item = &'a str>) -> Self {
        let not_before = flying.not_before;
        let divers = names.zip(&flying.divers).map(|(name, wait)| DiverWait {
            name: name.to_owned(),
            model_wait_min: wait.minutes(),
            model_state: wait.reach.into(),
        });
        Self {
            cabin_altitude_m: flying.cabin_altitude.as_m(),
            cabin_bar: flying.cabin.as_bar(),
            model_wait_min: flying.model.minutes(),
            model_state: flying.model.reach.into(),
            model_compartment: flying.model.compartment + 1,
            published_wait_min: flying.exposure.wait_min(),
            published_for: flying.exposure.into(),
            published_reach: flying.reach.into(),
            published_covers_gas: flying.on_air,
            advised_wait_min: flying.advised_min(),
            decided_by: flying.decided_by().into(),
            not_before: not_before.map(|at| at.time.to_string()),
            not_before_days_later: not_before.map(|at| at.days_later),
            flight: flying.leaves.map(BookedFlight::from),
            divers: divers.collect(),
        }
    }
}

impl From<DayTime> for BookedFlight {
    fn from(leaves: DayTime) -> Self {
        Self {
            leaves: leaves.time.to_string(),
            days_later: leaves.days_later,
        }
    }
}

impl From<surface::WaitReach> for WaitState {
    fn from(reach: surface::WaitReach) -> Self {
        match reach {
            surface::WaitReach::Minutes(_) => Self::Minutes,
            surface::WaitReach::NotWithinBound => Self::NotWithin,
        }
    }
}

impl From<surface::Exposure> for Exposure {
    fn from(exposure: surface::Exposure) -> Self {
        match exposure {
            surface::Exposure::OneNoStopDive => Self::OneNoStopDive,
            surface::Exposure::SeveralDives => Self::SeveralDives,
            surface::Exposure::CompulsoryStops => Self::CompulsoryStops,
        }
    }
}

impl From<surface::GuidanceReach> for GuidanceReach {
    fn from(reach: surface::GuidanceReach) -> Self {
        match reach {
            surface::GuidanceReach::Covered => Self::Covered,
            surface::GuidanceReach::CabinBelow => Self::CabinBelow,
            surface::GuidanceReach::CabinAbove => Self::CabinAbove,
        }
    }
}

impl From<surface::WaitDecidedBy> for WaitDecidedBy {
    fn from(decided_by: surface::WaitDecidedBy) -> Self {
        match decided_by {
            surface::WaitDecidedBy::Published => Self::Published,
            surface::WaitDecidedBy::Model => Self::Model,
        }
    }
}
