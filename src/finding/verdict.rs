//! What all findings of a dive come to.

use super::facts::Finding;
use super::kind::Weight;
use crate::plan::Plan;
use serde::Serialize;

/// What all findings of a dive come to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Nothing was found that forbids the dive.
    Go,
    /// Something was.
    NoGo,
    /// Nothing was, but there is no team: nobody's gas was worked out.
    ScheduleOnly,
}

impl Verdict {
    /// From the findings, and whether there is a team.
    #[must_use]
    pub fn of(findings: &[Finding], plan: &Plan) -> Self {
        let forbids = |finding: &Finding| finding.weight() == Weight::NoGo;
        if findings.iter().any(forbids) {
            Self::NoGo
        } else if plan.divers().is_empty() {
            Self::ScheduleOnly
        } else {
            Self::Go
        }
    }

    /// The word for scripts.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Go => "go",
            Self::NoGo => "no-go",
            Self::ScheduleOnly => "schedule-only",
        }
    }

    /// The word at the head of a screen.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Go => "GO",
            Self::NoGo => "NO-GO",
            Self::ScheduleOnly => "SCHEDULE ONLY",
        }
    }
}
