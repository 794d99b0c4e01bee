//! The current.

use super::case::Case;
use super::kind::{Help, Subject, Weight, Wording, kinds};
use crate::plan::TurnRule;
use crate::quantity::Speed;
use crate::quantity::show::{hundredths_down, hundredths_up};
use serde::Serialize;

/// What can be found about the current.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum CurrentFact {
    /// A current that must be swum against cannot be.
    TooStrong {
        /// The current.
        current: Speed,
        /// The team's swim speed.
        swim: Speed,
    },
    /// There is a current, and the turn pressures do not allow for it.
    NotInTurn {
        /// The current.
        current: Speed,
    },
}

impl Subject for CurrentFact {
    kinds! {
        Self::TooStrong { .. } =>
            "current-too-strong", "current too strong",
            "a current that must be swum against and cannot be",
            Weight::NoGo, Help::Other;
        Self::NotInTurn { .. } =>
            "current-not-in-turn", "current not in turn",
            "there is a current, and the turn pressures do not allow for it",
            Weight::Caution, Help::Other;
    }

    fn message(&self, _: &Wording<'_>) -> String {
        match self {
            Self::TooStrong { current, swim } => format!(
                "The current of {} kn cannot be swum against at {} kn, and this dive has to.",
                hundredths_up(current.as_knots()),
                hundredths_down(swim.as_knots()),
            ),
            Self::NotInTurn { current } => format!(
                "There is a current of {} kn; the turn pressures do not allow for it. Go out \
                 against it, or turn earlier.",
                hundredths_up(current.as_knots()),
            ),
        }
    }

    fn of_team(case: &Case<'_>) -> Vec<Self> {
        too_strong(case)
            .into_iter()
            .chain(not_in_turn(case))
            .collect()
    }
}

fn too_strong(case: &Case<'_>) -> Option<CurrentFact> {
    let reserve = case.plan.reserve();
    let swim = reserve.swim.filter(|_| reserve.current_is_too_strong())?;
    Some(CurrentFact::TooStrong {
        current: swim.current,
        swim: swim.swim,
    })
}

/// A team that must come back, in a current that the plan does not say how to swim in.
fn not_in_turn(case: &Case<'_>) -> Option<CurrentFact> {
    let plan = case.plan;
    let must_come_back = plan.reserve().turn != TurnRule::All && !plan.divers().is_empty();
    let current = plan.site().current.filter(|current| {
        plan.reserve().swim.is_none() && must_come_back && current.as_m_min() > 0.0
    })?;
    Some(CurrentFact::NotInTurn { current })
}
