//! Earlier dives of the day, and how the divers came to the site.

use crate::quantity::{Altitude, Time};
use crate::rules::Level;
use crate::site::Mix;
use serde::Serialize;

/// An earlier dive of the day, as a plan tells it. It is flown by the rates, the water and air, the
/// factors and the way up of the plan that it belongs to, on its own gas alone.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EarlierDive {
    /// Its levels, in order; at least one.
    pub levels: Vec<Level>,
    /// What was breathed; the plan's bottom gas where nothing is said.
    pub gas: Option<Mix>,
    /// Time at the surface from its surfacing to the next dive.
    pub surface_interval: Time,
    /// Who dived it; everybody where nothing is said. Who did not was at the surface.
    pub divers: Option<Vec<String>>,
}

impl EarlierDive {
    /// A dive of everybody on the plan's bottom gas.
    #[must_use]
    pub fn new(levels: Vec<Level>, surface_interval: Time) -> Self {
        Self {
            levels,
            gas: None,
            surface_interval,
            divers: None,
        }
    }

    /// Whether a diver of that name dived it.
    #[must_use]
    pub fn was_dived_by(&self, name: &str) -> bool {
        let divers = self.divers.as_deref();
        divers.is_none_or(|divers| divers.iter().any(|diver| diver == name))
    }
}

/// Divers who are not adapted to the pressure of the air at the site.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Arrival {
    /// How long before the first dive of the day they came.
    pub before_first_dive: Time,
    /// Where from: the altitude that they are adapted to; sea level where nothing is said.
    pub home_altitude: Altitude,
}
