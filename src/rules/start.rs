//! What a team brings along on leaving the surface.

use super::ranges::{DOSE, OutOfRange, TISSUE, check_number};
use crate::quantity::{Pressure, UnitSystem};
use crate::tissue::Tissues;
use serde::Serialize;

/// The team on leaving the surface.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Start {
    /// Tissues.
    pub tissues: Tissues,
    /// Share of the single-exposure oxygen limits used up before, per cent.
    pub cns_pct: f64,
    /// Oxygen tolerance units from before.
    pub otu: f64,
}

impl Start {
    /// Refuses what no diver can bring along.
    pub(crate) fn check(&self) -> Result<(), OutOfRange> {
        check_tissues(&self.tissues)?;
        check_number("CNS share before the dive", self.cns_pct, &DOSE)?;
        check_number("OTU before the dive", self.otu, &DOSE)
    }

    /// Nobody has dived before.
    #[must_use]
    pub fn clean(surface: Pressure) -> Self {
        Self {
            tissues: Tissues::clean(surface),
            cns_pct: 0.0,
            otu: 0.0,
        }
    }
}

/// Refuses tissues that no dive leads to.
pub(crate) fn check_tissues(tissues: &Tissues) -> Result<(), OutOfRange> {
    for loading in tissues.loadings() {
        TISSUE.check(loading.n2_bar, UnitSystem::Metric)?;
        TISSUE.check(loading.he_bar, UnitSystem::Metric)?;
    }
    Ok(())
}
