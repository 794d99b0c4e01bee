//! Decompression gases and the stage cylinders that they are carried in.

use super::case::Case;
use super::kind::{Help, Subject, Weight, Wording, kinds};
use crate::gas::{DiverBudget, StageBudget};
use crate::plan::Diver;
use crate::quantity::FreeVolume;
use crate::site::Mix;
use serde::Serialize;

/// What can be found about decompression gases.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum StageFact {
    /// A stage cylinder holds less than the plan needs.
    Short {
        /// The gas.
        gas: Mix,
        /// What must be in it.
        need: FreeVolume,
        /// What is in it.
        have: FreeVolume,
    },
    /// The plan breathes a gas that the diver does not carry.
    Missing {
        /// The gas.
        gas: Mix,
    },
    /// A decompression gas is planned but never breathed.
    NotBreathed {
        /// The gas.
        gas: Mix,
    },
}

impl Subject for StageFact {
    kinds! {
        Self::Short { .. } =>
            "stage-short", "stage short",
            "a stage cylinder holds less than must be in it",
            Weight::NoGo, Help::TimeOrDepth;
        Self::Missing { .. } =>
            "stage-missing", "stage missing",
            "the plan breathes a gas that the diver does not carry",
            Weight::NoGo, Help::Other;
        Self::NotBreathed { .. } =>
            "gas-not-breathed", "gas not breathed",
            "a decompression gas that the dive never switches to",
            Weight::Note, Help::Other;
    }

    fn message(&self, wording: &Wording<'_>) -> String {
        let who = wording.who();
        match self {
            Self::Short { gas, need, have } => format!(
                "{who} needs {} of {gas} in the stage cylinder and has {}.",
                wording.show.volume_up(*need),
                wording.show.volume_down(*have),
            ),
            Self::Missing { gas } => {
                format!("{who} carries no {gas}, which the way up is planned with.")
            }
            Self::NotBreathed { gas } => {
                format!("{gas} is planned for the way up, but this dive never switches to it.")
            }
        }
    }

    fn of_team(case: &Case<'_>) -> Vec<Self> {
        let segments = &case.schedule.segments;
        let is_breathed = |gas: Mix| segments.iter().any(|segment| segment.gas.is_same_gas(gas));
        let planned = case.plan.rules().decompression.iter().copied();
        planned
            .filter(|gas| !is_breathed(*gas))
            .map(|gas| Self::NotBreathed { gas })
            .collect()
    }

    fn of_diver(_: &Case<'_>, _: &Diver, budget: &DiverBudget) -> Vec<Self> {
        budget.stages.iter().filter_map(not_enough).collect()
    }
}

fn not_enough(stage: &StageBudget) -> Option<StageFact> {
    let gas = stage.gas;
    if !stage.carried {
        Some(StageFact::Missing { gas })
    } else if stage.have < stage.need {
        Some(StageFact::Short {
            gas,
            need: stage.need,
            have: stage.have,
        })
    } else {
        None
    }
}
