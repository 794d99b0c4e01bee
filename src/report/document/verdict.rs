//! What a dive comes to and why, as every document says it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::codes::these_or_later;
use super::nullable::nullable;
use crate::finding::{self, MEANINGS};
use crate::quantity::UnitSystem;

/// What a plan comes to. A document says which of them it may hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// No no-go was found.
    Go,
    /// At least one was.
    NoGo,
    /// None was, but there is no team.
    ScheduleOnly,
    /// The plan or the command cannot be used, or the dive cannot be scheduled.
    Unusable,
    /// An internal check failed.
    Failed,
    /// It was not looked at.
    Skipped,
}

impl Verdict {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Go => finding::Verdict::Go.word(),
            Self::NoGo => finding::Verdict::NoGo.word(),
            Self::ScheduleOnly => finding::Verdict::ScheduleOnly.word(),
            Self::Unusable => "unusable",
            Self::Failed => "failed",
            Self::Skipped => "skipped",
        }
    }
}

impl From<finding::Verdict> for Verdict {
    fn from(verdict: finding::Verdict) -> Self {
        match verdict {
            finding::Verdict::Go => Self::Go,
            finding::Verdict::NoGo => Self::NoGo,
            finding::Verdict::ScheduleOnly => Self::ScheduleOnly,
        }
    }
}

/// Something found in a dive.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Finding {
    /// How much it weighs: `no-go`, `caution` or `note`.
    pub level: FindingLevel,
    /// The code of what was found; a later version may have others.
    #[schemars(extend("anyOf" = these_or_later(MEANINGS)))]
    pub code: String,
    /// About whom; null for the whole team.
    #[serde(deserialize_with = "nullable")]
    pub diver: Option<String>,
    /// A sentence with its figures.
    pub message: String,
}

/// How much a finding weighs.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum FindingLevel {
    /// The dive is off as planned.
    NoGo,
    /// The dive may go, but somebody must know this.
    Caution,
    /// Good to know.
    Note,
}

impl Finding {
    /// A finding, its sentence in these units.
    #[must_use]
    pub fn new(finding: &finding::Finding, units: UnitSystem) -> Self {
        Self {
            level: match finding.weight() {
                finding::Weight::NoGo => FindingLevel::NoGo,
                finding::Weight::Caution => FindingLevel::Caution,
                finding::Weight::Note => FindingLevel::Note,
            },
            code: finding.code().to_owned(),
            diver: finding.diver.clone(),
            message: finding.message(units),
        }
    }
}
