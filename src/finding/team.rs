//! Who dives, and how deep each may.

use super::case::Case;
use super::kind::{Help, Subject, Weight, Wording, kinds};
use crate::gas::DiverBudget;
use crate::plan::Diver;
use crate::quantity::Depth;
use serde::Serialize;

/// What can be found about the team.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum TeamFact {
    /// The dive is deeper than the diver is qualified for.
    DepthLimit {
        /// The diver's limit.
        limit: Depth,
        /// The dive's deepest depth.
        deepest: Depth,
    },
    /// One diver alone: nobody else's breathing is in the reserve.
    Alone,
    /// There is no team, so nobody's gas was worked out.
    NoTeam,
}

impl Subject for TeamFact {
    kinds! {
        Self::DepthLimit { .. } =>
            "depth-limit", "too deep",
            "deeper than the diver may go",
            Weight::NoGo, Help::Depth;
        Self::Alone =>
            "alone", "alone",
            "one diver alone: nobody else's breathing is in the reserve",
            Weight::Note, Help::Other;
        Self::NoTeam =>
            "gas-not-reckoned", "gas not reckoned",
            "no team: nobody's gas was worked out",
            Weight::Note, Help::Other;
    }

    fn message(&self, wording: &Wording<'_>) -> String {
        match self {
            Self::DepthLimit { limit, deepest } => format!(
                "{} may dive to {}; this dive goes to {}.",
                wording.who(),
                wording.show.depth_limit(*limit),
                wording.show.depth(*deepest),
            ),
            Self::Alone => format!(
                "{} dives alone: the reserve counts nobody else's breathing.",
                wording.diver.unwrap_or("The diver")
            ),
            Self::NoTeam => "Gas not reckoned: the plan has no diver. Nobody knows whether \
                             anybody's gas is enough."
                .to_owned(),
        }
    }

    fn of_team(case: &Case<'_>) -> Vec<Self> {
        let no_team = case.plan.divers().is_empty().then_some(Self::NoTeam);
        no_team.into_iter().collect()
    }

    fn of_diver(case: &Case<'_>, diver: &Diver, _: &DiverBudget) -> Vec<Self> {
        let alone = (case.plan.divers().len() == 1).then_some(Self::Alone);
        too_deep(case, diver).into_iter().chain(alone).collect()
    }
}

fn too_deep(case: &Case<'_>, diver: &Diver) -> Option<TeamFact> {
    let deepest = case.schedule.deepest();
    let limit = diver.depth_limit.filter(|limit| deepest.is_below(*limit))?;
    Some(TeamFact::DepthLimit { limit, deepest })
}
