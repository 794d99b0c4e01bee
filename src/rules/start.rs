//! What divers bring along on leaving the surface: tissues and oxygen doses, and what surface time
//! does to them.

use super::ranges::{DOSE, OutOfRange, TISSUE, check_number};
use crate::quantity::{Pressure, Time, UnitSystem};
use crate::site::Mix;
use crate::tissue::{CompartmentSet, Tissues};
use serde::Serialize;

/// Half-time at the surface of the share of the single-exposure oxygen limits (common practice, no
/// source).
pub const CNS_HALF_TIME: Time = Time::from_min(90.0);

/// A diver, or a team, on leaving the surface or on reaching it.
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

    /// Nobody has dived before, and all are adapted to the pressure of the air.
    #[must_use]
    pub fn clean(surface: Pressure) -> Self {
        Self {
            tissues: Tissues::clean(surface),
            cns_pct: 0.0,
            otu: 0.0,
        }
    }

    /// After time at the surface on air: tissues give off, and CNS falls by half every
    /// [`CNS_HALF_TIME`]; OTU stay, for they add up over the day.
    ///
    /// ```text
    /// cns(t) = cns · 2^(−t/90)      t: min
    /// ```
    /// # Example
    /// ```
    /// use hangbar::quantity::{Pressure, Time};
    /// use hangbar::rules::Start;
    /// use hangbar::tissue::CompartmentSet;
    /// let air = Pressure::from_bar(1.01325);
    /// let mut tired = Start::clean(air);
    /// tired.cns_pct = 40.0;
    /// let rested = tired.rested(&CompartmentSet::default(), air, Time::from_min(90.0));
    /// assert!((rested.cns_pct - 20.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn rested(&self, set: &CompartmentSet, surface: Pressure, time: Time) -> Self {
        let half_times = time.as_min() / CNS_HALF_TIME.as_min();
        Self {
            tissues: self.tissues.after(set, Mix::AIR, surface, surface, time),
            cns_pct: self.cns_pct * (-half_times).exp2(),
            otu: self.otu,
        }
    }

    /// The most that any of several brings: in every compartment and for each gas apart, and of
    /// either dose. `None` of nobody.
    #[must_use]
    pub fn most<'a>(members: impl IntoIterator<Item = &'a Self>) -> Option<Self> {
        members.into_iter().copied().reduce(|most, other| Self {
            tissues: most.tissues.most(&other.tissues),
            cns_pct: most.cns_pct.max(other.cns_pct),
            otu: most.otu.max(other.otu),
        })
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
