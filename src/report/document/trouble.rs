//! What a briefing and a what-if both say about lost gas and leaving late.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::nullable::nullable;
use crate::gas;
use crate::whatif::{BadFrom, DiverLate, LATE_BOUND_MIN, LateTable};

/// From which whole minute of leaving late things are bad.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Late {
    /// Up to so many minutes late it was looked, min.
    pub bound_min: u32,
    /// From when on it is no no-stop dive, min; null where not within the bound.
    #[serde(deserialize_with = "nullable")]
    pub stops_from_min: Option<u32>,
    /// What the minute is: `as-planned`, `from` that minute, `not-within` the bound, or
    /// `unknown` from that minute on.
    pub stops_state: LateState,
    /// At most one: from when on no way up can be worked out.
    pub unknown: Vec<Unknown>,
    /// Each diver.
    pub divers: Vec<LateDiver>,
}

/// What a minute of leaving late is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LateState {
    /// It is bad as planned already.
    AsPlanned,
    /// It is bad from that minute on.
    From,
    /// It is not bad within the bound.
    NotWithin,
    /// Nobody knows from that minute on.
    Unknown,
}

/// Why something is not known from a minute on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Unknown {
    /// Minutes late, min.
    pub from_min: u32,
    /// Why.
    pub because: String,
}

/// From which whole minute of leaving late things are bad for one diver. Every minute is null where
/// it is not within the bound.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct LateDiver {
    /// The diver.
    pub name: String,
    /// From when on a level is left with less than the minimum, min; null where not within the
    /// bound.
    #[serde(deserialize_with = "nullable")]
    pub reserve_gone_from_min: Option<u32>,
    /// What that minute is: `as-planned`, `from`, `not-within` or `unknown`.
    pub reserve_gone_state: LateState,
    /// From when on the cylinder is empty before the surface, min; null where not within the
    /// bound.
    #[serde(deserialize_with = "nullable")]
    pub empty_from_min: Option<u32>,
    /// What that minute is: `as-planned`, `from`, `not-within` or `unknown`.
    pub empty_state: LateState,
    /// From when on a stage cylinder holds less than the dive needs, or is not carried, min;
    /// null where not within the bound, or where the plan switches to no gas.
    #[serde(deserialize_with = "nullable")]
    pub stage_short_from_min: Option<u32>,
    /// What that minute is: `as-planned`, `from`, `not-within` or `unknown`.
    pub stage_short_state: LateState,
    /// From when on the pony does not cover every stop, min; null where not within the bound,
    /// or without one.
    #[serde(deserialize_with = "nullable")]
    pub pony_stops_from_min: Option<u32>,
    /// What that minute is: `as-planned`, `from`, `not-within` or `unknown`; null without a
    /// pony.
    #[serde(deserialize_with = "nullable")]
    pub pony_stops_state: Option<LateState>,
}

impl From<BadFrom> for LateState {
    fn from(answer: BadFrom) -> Self {
        match answer {
            BadFrom::AsPlanned => Self::AsPlanned,
            BadFrom::Minute(_) => Self::From,
            BadFrom::NotWithinBound => Self::NotWithin,
            BadFrom::Unknown { .. } => Self::Unknown,
        }
    }
}

impl From<&LateTable> for Late {
    fn from(late: &LateTable) -> Self {
        // The first minute that cannot be scheduled is the same for every question that meets it.
        let unknown = late.answers().filter_map(|answer| match answer {
            BadFrom::Unknown { from, cause, .. } => Some(Unknown {
                from_min: from,
                because: cause.to_string(),
            }),
            BadFrom::AsPlanned | BadFrom::Minute(_) | BadFrom::NotWithinBound => None,
        });
        Self {
            bound_min: LATE_BOUND_MIN,
            stops_from_min: late.stops.first_minute(),
            stops_state: late.stops.into(),
            unknown: unknown.take(1).collect(),
            divers: late.divers.iter().map(LateDiver::from).collect(),
        }
    }
}

impl From<&DiverLate> for LateDiver {
    fn from(diver: &DiverLate) -> Self {
        Self {
            name: diver.name.clone(),
            reserve_gone_from_min: diver.reserve_gone.first_minute(),
            reserve_gone_state: diver.reserve_gone.into(),
            empty_from_min: diver.empty.first_minute(),
            empty_state: diver.empty.into(),
            stage_short_from_min: diver.stage_short.first_minute(),
            stage_short_state: diver.stage_short.into(),
            pony_stops_from_min: diver.pony_stops.and_then(BadFrom::first_minute),
            pony_stops_state: diver.pony_stops.map(LateState::from),
        }
    }
}

/// A diver whose gas is gone at the worst moment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct LostGas {
    /// Who has lost it.
    pub name: String,
    /// Up on the gas of the partner with least to spare; null for a diver alone.
    #[serde(deserialize_with = "nullable")]
    pub shared: Option<Rescue>,
    /// Up on the own pony; null without one.
    #[serde(deserialize_with = "nullable")]
    pub pony: Option<Rescue>,
}

/// A way up on other gas.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Rescue {
    /// Who gives; null on the own pony.
    #[serde(deserialize_with = "nullable")]
    pub donor: Option<String>,
    /// When it is lost, min.
    pub run_time_min: f64,
    /// Where, m.
    pub depth_m: f64,
    /// What comes of it: `every-stop`, `stops-missed` or `not-enough` (for a straight ascent).
    pub outcome: RescueOutcome,
    /// What is left at the surface, bar; null unless every stop is made.
    #[serde(deserialize_with = "nullable")]
    pub left_bar: Option<f64>,
    /// Run time at which the gas is gone, min; null unless stops are missed.
    #[serde(deserialize_with = "nullable")]
    pub empty_min: Option<f64>,
    /// Depth at which it is gone, m; null where every stop is made.
    #[serde(deserialize_with = "nullable")]
    pub empty_m: Option<f64>,
    /// Time of the stops missed, min; null unless stops are missed.
    #[serde(deserialize_with = "nullable")]
    pub missed_stops_min: Option<f64>,
}

/// What comes of a way up on other gas.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RescueOutcome {
    /// Every stop is made.
    EveryStop,
    /// The gas ends at a stop.
    StopsMissed,
    /// It does not even last for a straight ascent.
    NotEnough,
}

impl From<&gas::LostGas> for LostGas {
    fn from(lost: &gas::LostGas) -> Self {
        Self {
            name: lost.name.clone(),
            shared: lost.shared.as_ref().map(Rescue::from),
            pony: lost.pony.as_ref().map(Rescue::from),
        }
    }
}

impl From<&gas::Rescue> for Rescue {
    fn from(rescue: &gas::Rescue) -> Self {
        let every_stop = Self {
            donor: rescue.donor.clone(),
            run_time_min: rescue.run_time.as_min(),
            depth_m: rescue.depth.as_m(),
            outcome: RescueOutcome::EveryStop,
            left_bar: None,
            empty_min: None,
            empty_m: None,
            missed_stops_min: None,
        };
        match rescue.outcome {
            gas::RescueOutcome::EveryStop { left } => Self {
                left_bar: Some(left.as_bar()),
                ..every_stop
            },
            gas::RescueOutcome::StopsMissed {
                empty_at,
                empty_depth,
                missed,
            } => Self {
                outcome: RescueOutcome::StopsMissed,
                empty_min: Some(empty_at.as_min()),
                empty_m: Some(empty_depth.as_m()),
                missed_stops_min: Some(missed.as_min()),
                ..every_stop
            },
            gas::RescueOutcome::NotEnough { empty_depth } => Self {
                outcome: RescueOutcome::NotEnough,
                empty_m: Some(empty_depth.as_m()),
                ..every_stop
            },
        }
    }
}
