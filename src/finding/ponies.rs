//! Pony bottles.

use super::case::Case;
use super::kind::{Help, Subject, Weight, Wording, kinds};
use crate::gas::{DiverBudget, PonyBudget, PonyVerdict};
use crate::plan::Diver;
use crate::quantity::FreeVolume;
use serde::Serialize;

/// What can be found about a pony bottle.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum PonyFact {
    /// It covers a straight ascent but not the stops.
    AscentOnly {
        /// What every stop needs.
        need: FreeVolume,
        /// What it holds.
        have: FreeVolume,
    },
    /// It does not even cover a straight ascent.
    Short {
        /// What a straight ascent needs.
        need: FreeVolume,
        /// What it holds.
        have: FreeVolume,
    },
}

impl Subject for PonyFact {
    kinds! {
        Self::AscentOnly { .. } =>
            "pony-ascent-only", "pony misses stops",
            "a pony covers a straight ascent but not the stops",
            Weight::Caution, Help::TimeOrDepth;
        Self::Short { .. } =>
            "pony-short", "pony short",
            "a pony does not even cover a straight ascent",
            Weight::Caution, Help::TimeOrDepth;
    }

    fn message(&self, wording: &Wording<'_>) -> String {
        let (who, show) = (wording.who(), wording.show);
        match self {
            Self::AscentOnly { need, have } => format!(
                "{who}'s pony covers a straight ascent but not the stops: they need {}, it gives \
                 {}.",
                show.volume_up(*need),
                show.volume_down(*have),
            ),
            Self::Short { need, have } => format!(
                "{who}'s pony does not even cover a straight ascent: that needs {}, it gives {}.",
                show.volume_up(*need),
                show.volume_down(*have),
            ),
        }
    }

    fn of_diver(_: &Case<'_>, _: &Diver, budget: &DiverBudget) -> Vec<Self> {
        let pony = budget.pony.as_ref();
        pony.and_then(not_enough).into_iter().collect()
    }
}

fn not_enough(pony: &PonyBudget) -> Option<PonyFact> {
    let have = pony.have;
    match pony.verdict {
        PonyVerdict::CoversAll => None,
        PonyVerdict::CoversAscentOnly => Some(PonyFact::AscentOnly {
            need: pony.need_full,
            have,
        }),
        PonyVerdict::Short => Some(PonyFact::Short {
            need: pony.need_ascent,
            have,
        }),
    }
}
