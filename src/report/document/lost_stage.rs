//! What a briefing says about a decompression gas that is lost.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::nullable::nullable;
use super::team::Stage;
use crate::gas;

/// A decompression gas that the schedule breathes, lost with every cylinder of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct LostStage {
    /// The gas.
    pub gas: String,
    /// Found lost on leaving each level, in order.
    pub moments: Vec<LossMoment>,
    /// Each diver at the moment that is worst.
    pub divers: Vec<DiverWithoutStage>,
}

/// A moment at which a gas is found lost, and the way up without it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct LossMoment {
    /// Run time of finding it lost, min.
    pub lost_min: f64,
    /// Where, m.
    pub lost_m: f64,
    /// Run time of surfacing without it, every stop made, min; null where no way up can be
    /// worked out.
    #[serde(deserialize_with = "nullable")]
    pub run_time_min: Option<f64>,
    /// Time at stops, the safety stop and gas switches included, min; null likewise.
    #[serde(deserialize_with = "nullable")]
    pub stop_time_min: Option<f64>,
    /// Why no way up can be worked out; null where one can.
    #[serde(deserialize_with = "nullable")]
    pub error: Option<String>,
}

/// A diver on the way up without a gas.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct DiverWithoutStage {
    /// The diver.
    pub name: String,
    /// Run time of finding it lost, min.
    pub lost_min: f64,
    /// Where, m.
    pub lost_m: f64,
    /// How far the main cylinder goes: `every-stop`, `stops-missed`, `not-enough` (for a
    /// straight ascent) or `no-way-up`.
    pub main: MainOutcome,
    /// What is left in it at the surface, bar; null unless every stop is made.
    #[serde(deserialize_with = "nullable")]
    pub left_bar: Option<f64>,
    /// Run time at which it is empty, min; null unless stops are missed.
    #[serde(deserialize_with = "nullable")]
    pub empty_min: Option<f64>,
    /// Depth at which it is empty, m; null where every stop is made or there is no way up.
    #[serde(deserialize_with = "nullable")]
    pub empty_m: Option<f64>,
    /// Time of the stops missed, min; null unless stops are missed.
    #[serde(deserialize_with = "nullable")]
    pub missed_stops_min: Option<f64>,
    /// The other decompression gases that the way up breathes.
    pub stages: Vec<Stage>,
    /// Whether main cylinder and stage cylinders are enough for every stop.
    pub covered: bool,
}

/// How far a main cylinder goes without a gas.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MainOutcome {
    /// Every stop is made.
    EveryStop,
    /// The gas ends at a stop.
    StopsMissed,
    /// It does not even last for a straight ascent.
    NotEnough,
    /// No way up can be worked out.
    NoWayUp,
}

impl From<&gas::LostStage> for LostStage {
    fn from(lost: &gas::LostStage) -> Self {
        let divers = lost.divers.iter();
        let divers = divers.filter_map(|diver| {
            let moment = lost.moments.get(diver.moment)?;
            Some(DiverWithoutStage::new(diver, moment))
        });
        Self {
            gas: lost.gas.to_string(),
            moments: lost.moments.iter().map(LossMoment::from).collect(),
            divers: divers.collect(),
        }
    }
}

impl From<&gas::LossMoment> for LossMoment {
    fn from(moment: &gas::LossMoment) -> Self {
        Self {
            lost_min: moment.run_time.as_min(),
            lost_m: moment.depth.as_m(),
            run_time_min: moment.surfacing().map(|time| time.as_min()),
            stop_time_min: moment.stop_time().map(|time| time.as_min()),
            error: moment.way_up.as_ref().err().map(ToString::to_string),
        }
    }
}

impl DiverWithoutStage {
    fn new(diver: &gas::DiverWithoutStage, moment: &gas::LossMoment) -> Self {
        let no_way_up = Self {
            name: diver.name.clone(),
            lost_min: moment.run_time.as_min(),
            lost_m: moment.depth.as_m(),
            main: MainOutcome::NoWayUp,
            left_bar: None,
            empty_min: None,
            empty_m: None,
            missed_stops_min: None,
            stages: Vec::new(),
            covered: diver.ending.is_covered(),
        };
        let gas::WithoutStage::OnOwnGas { main, stages } = &diver.ending else {
            return no_way_up;
        };
        let on_own_gas = Self {
            stages: stages.iter().map(Stage::from).collect(),
            ..no_way_up
        };
        match *main {
            gas::RescueOutcome::EveryStop { left } => Self {
                main: MainOutcome::EveryStop,
                left_bar: Some(left.as_bar()),
                ..on_own_gas
            },
            gas::RescueOutcome::StopsMissed {
                empty_at,
                empty_depth,
                missed,
            } => Self {
                main: MainOutcome::StopsMissed,
                empty_min: Some(empty_at.as_min()),
                empty_m: Some(empty_depth.as_m()),
                missed_stops_min: Some(missed.as_min()),
                ..on_own_gas
            },
            gas::RescueOutcome::NotEnough { empty_depth } => Self {
                main: MainOutcome::NotEnough,
                empty_m: Some(empty_depth.as_m()),
                ..on_own_gas
            },
        }
    }
}
