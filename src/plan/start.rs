//! What a team brings along on leaving the surface.

use crate::quantity::Pressure;
use crate::tissue::Tissues;

/// The team on leaving the surface.
#[derive(Clone, Copy, Debug, PartialEq)]
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
