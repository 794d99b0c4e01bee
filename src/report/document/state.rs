//! What somebody holds: inert gas and oxygen doses.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::oxygen;
use crate::rules;
use crate::tissue::Tissues;

/// What a compartment holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Tissue {
    /// Nitrogen held, bar.
    pub n2_bar: f64,
    /// Helium held, bar.
    pub he_bar: f64,
}

/// Oxygen of the day so far, this dive included.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Oxygen {
    /// Greatest oxygen pressure of this dive, bar.
    pub max_po2_bar: f64,
    /// Share of the single-exposure limits used up, %.
    pub cns_pct: f64,
    /// Oxygen tolerance units.
    pub otu: f64,
}

/// The team on leaving the surface.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Start {
    /// The 16 compartments before the dive, fastest first.
    pub tissues: Vec<Tissue>,
    /// Share of the oxygen limits used up before, %.
    pub cns_pct: f64,
    /// Oxygen tolerance units from before.
    pub otu: f64,
}

impl Tissue {
    pub(super) fn each(tissues: &Tissues) -> Vec<Self> {
        let rows = tissues.loadings().into_iter().map(|loading| Self {
            n2_bar: loading.n2_bar,
            he_bar: loading.he_bar,
        });
        rows.collect()
    }
}

impl From<&oxygen::OxygenExposure> for Oxygen {
    fn from(oxygen: &oxygen::OxygenExposure) -> Self {
        Self {
            max_po2_bar: oxygen.max_po2_bar,
            cns_pct: oxygen.cns_pct,
            otu: oxygen.otu,
        }
    }
}

impl From<&rules::Start> for Start {
    fn from(start: &rules::Start) -> Self {
        Self {
            tissues: Tissue::each(&start.tissues),
            cns_pct: start.cns_pct,
            otu: start.otu,
        }
    }
}
