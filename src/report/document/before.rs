//! What a briefing says of the day before the dive.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::nullable::nullable;
use crate::briefing;
use crate::surface;

/// An earlier dive of the day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Before {
    /// What was breathed.
    pub gas: String,
    /// Run time of surfacing, min.
    pub run_time_min: f64,
    /// Whether it had compulsory stops.
    pub staged: bool,
    /// Time at the surface until the next dive, min.
    pub surface_interval_min: f64,
    /// Who dived it; empty where the plan has no diver.
    pub divers: Vec<String>,
}

impl Before {
    pub(super) fn each(briefing: &briefing::Briefing) -> Vec<Self> {
        let dives = briefing.plan.history().dives.iter();
        let dives = dives.map(|dive| {
            let divers = briefing.plan.divers().iter().zip(&dive.dived);
            let divers = divers.filter(|(_, dived)| **dived);
            Self {
                gas: dive.gas.to_string(),
                run_time_min: dive.schedule.run_time().as_min(),
                staged: dive.had_stops(),
                surface_interval_min: dive.surface_interval.as_min(),
                divers: divers.map(|(diver, _)| diver.name.clone()).collect(),
            }
        });
        dives.collect()
    }
}

/// The least surface interval before the dive from which it is a no-stop dive.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct LeastInterval {
    /// Whole minutes, 0 where it is one at once, min; null unless the state is `minutes`.
    #[serde(deserialize_with = "nullable")]
    pub interval_min: Option<u32>,
    /// What it comes to: `minutes`, `not-even-clean` or `not-within` (2,880 min).
    pub state: LeastIntervalState,
}

/// What the least surface interval comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LeastIntervalState {
    /// So many minutes.
    Minutes,
    /// Not even from clean tissues.
    NotEvenClean,
    /// Clean tissues would do, but no interval up to 2,880 min does.
    NotWithin,
}

impl From<&surface::LeastInterval> for LeastInterval {
    fn from(least: &surface::LeastInterval) -> Self {
        Self {
            interval_min: least.minutes(),
            state: match least.reach {
                surface::IntervalReach::Minutes(_) => LeastIntervalState::Minutes,
                surface::IntervalReach::NotEvenClean => LeastIntervalState::NotEvenClean,
                surface::IntervalReach::NotWithinBound => LeastIntervalState::NotWithin,
            },
        }
    }
}

/// Whose own no-stop limit is the least.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct LimitSetBy {
    /// The diver.
    pub diver: String,
    /// What that diver's limit would be with clean tissues, min; null where 999 min do not reach
    /// it.
    #[serde(deserialize_with = "nullable")]
    pub clean_limit_min: Option<f64>,
}

impl LimitSetBy {
    pub(super) fn new(briefing: &briefing::Briefing) -> Option<Self> {
        let set_by = briefing.limit_set_by?;
        let diver = briefing.plan.divers().get(set_by.diver)?;
        Some(Self {
            diver: diver.name.clone(),
            clean_limit_min: set_by.clean.time().map(|limit| limit.as_min()),
        })
    }
}
