//! `hangbar/what-if/1`: a dive that does not go to plan.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::change;
use super::codes::these_or_later;
use super::finite::{NotFinite, finite};
use super::nullable::nullable;
use super::team::PonyVerdict;
use super::trouble::{Late, LostGas};
use super::verdict::Verdict;
use crate::briefing::Briefing;
use crate::finding::MEANINGS;
use crate::whatif;

/// The dive as planned, and each change with what comes of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct WhatIf {
    /// Name and number of the document's form.
    #[schemars(extend("const" = WhatIf::SCHEMA))]
    pub schema: String,
    /// The plan's title; null where it has none.
    #[serde(deserialize_with = "nullable")]
    pub title: Option<String>,
    /// Of the plan itself: `go`, `no-go` or `schedule-only`.
    pub verdict: Verdict,
    /// The dive as planned.
    pub planned: Outcome,
    /// Each change.
    pub changes: Vec<Change>,
    /// From which whole minute of leaving late things are bad; the dive as planned.
    pub late: Late,
    /// Each diver's gas gone at the worst moment; the dive as planned.
    pub lost_gas: Vec<LostGas>,
}

/// A change of a plan and what comes of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Change {
    /// So much longer at the last level, min.
    pub late_min: f64,
    /// So much deeper, m.
    pub deeper_m: f64,
    /// Breathing so much harder, %.
    pub harder_pct: f64,
    /// What comes of it; null where no way up can be worked out, or no plan may ask for it.
    #[serde(deserialize_with = "nullable")]
    pub outcome: Option<Outcome>,
    /// Why it is not worked out; null where it is.
    #[serde(deserialize_with = "nullable")]
    pub error: Option<String>,
}

/// A dive that differs from its plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Outcome {
    /// `go`, `no-go` or `schedule-only`.
    pub verdict: Verdict,
    /// The reasons for a no-go.
    pub no_gos: Vec<NoGo>,
    /// Whether it is a no-stop dive.
    pub no_stop: bool,
    /// Depth of the first stop of any kind, m; null where there is none but a gas switch.
    #[serde(deserialize_with = "nullable")]
    pub first_stop_m: Option<f64>,
    /// Time at stops, the safety stop and gas switches included, min.
    pub stop_time_min: f64,
    /// Run time of surfacing, min.
    pub run_time_min: f64,
    /// Each diver.
    pub divers: Vec<DiverOutcome>,
}

/// Why a change is a no-go; its message is in the briefing of that dive.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct NoGo {
    /// The code of what was found; a later version may have others.
    #[schemars(extend("anyOf" = these_or_later(MEANINGS)))]
    pub code: String,
    /// About whom; null for the whole team.
    #[serde(deserialize_with = "nullable")]
    pub diver: Option<String>,
}

/// One diver in a dive that differs from its plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct DiverOutcome {
    /// The diver.
    pub name: String,
    /// Whether every level is left with the minimum gas.
    pub reserve_holds: bool,
    /// What is left at the surface, bar; null where the cylinder is empty before.
    #[serde(deserialize_with = "nullable")]
    pub end_bar: Option<f64>,
    /// Run time at which it is empty, min; null where it is not.
    #[serde(deserialize_with = "nullable")]
    pub empty_min: Option<f64>,
    /// Depth at which it is empty, m; null where it is not.
    #[serde(deserialize_with = "nullable")]
    pub empty_m: Option<f64>,
    /// What the pony covers: `covers-all`, `covers-ascent-only` or `short`; null without a
    /// pony.
    #[serde(deserialize_with = "nullable")]
    pub pony: Option<PonyVerdict>,
}

impl WhatIf {
    /// Name and number of the document's form.
    pub const SCHEMA: &'static str = "hangbar/what-if/1";

    /// A plan, the same dive unchanged, and its changes.
    ///
    /// # Errors
    /// [`NotFinite`] where a figure is not a finite number.
    pub fn new(
        briefing: &Briefing,
        planned: &whatif::Outcome,
        changes: &[change::Change],
    ) -> Result<Self, NotFinite> {
        finite(Self {
            schema: Self::SCHEMA.to_owned(),
            title: briefing.plan.title().map(str::to_owned),
            verdict: briefing.verdict().into(),
            planned: planned.into(),
            changes: changes.iter().map(Change::from).collect(),
            late: Late::from(&briefing.late),
            lost_gas: briefing.lost_gas.iter().map(LostGas::from).collect(),
        })
    }
}

impl From<&change::Change> for Change {
    fn from(change: &change::Change) -> Self {
        let whatif::Deviation {
            late,
            deeper,
            harder_pct,
        } = change.deviation;
        let (outcome, error) = match &change.outcome {
            Ok(outcome) => (Some(outcome.into()), None),
            Err(error) => (None, Some(error.to_string())),
        };
        Self {
            late_min: late.as_min(),
            deeper_m: deeper.as_m(),
            harder_pct,
            outcome,
            error,
        }
    }
}

impl From<&whatif::Outcome> for Outcome {
    fn from(outcome: &whatif::Outcome) -> Self {
        let no_gos = outcome.no_gos.iter().map(|finding| NoGo {
            code: finding.code().to_owned(),
            diver: finding.diver.clone(),
        });
        Self {
            verdict: outcome.verdict.into(),
            no_gos: no_gos.collect(),
            no_stop: outcome.no_stop,
            first_stop_m: outcome.first_stop.map(|depth| depth.as_m()),
            stop_time_min: outcome.stop_time.as_min(),
            run_time_min: outcome.run_time.as_min(),
            divers: outcome.divers.iter().map(DiverOutcome::from).collect(),
        }
    }
}

impl From<&whatif::DiverOutcome> for DiverOutcome {
    fn from(diver: &whatif::DiverOutcome) -> Self {
        let (end_bar, empty_min, empty_m) = match diver.ending {
            whatif::Ending::Left(left) => (Some(left.as_bar()), None, None),
            whatif::Ending::Empty { run_time, depth } => {
                (None, Some(run_time.as_min()), Some(depth.as_m()))
            }
        };
        Self {
            name: diver.name.clone(),
            reserve_holds: diver.reserve_holds,
            end_bar,
            empty_min,
            empty_m,
            pony: diver.pony.map(PonyVerdict::from),
        }
    }
}
