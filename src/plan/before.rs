//! Earlier dives of the day, and how the divers came to the site.

use crate::quantity::{Altitude, Time};
use crate::rules::{DiveRules, Level, Start};
use crate::site::{Mix, standard_atmosphere};
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

impl Arrival {
    /// Who came so, before leaving: in balance with the air at home.
    ///
    /// ```text
    /// p = (P_home − 0.0627)·0.79      P_home: bar, by the standard atmosphere
    /// ```
    #[must_use]
    pub fn at_home(&self) -> Start {
        Start::clean(standard_atmosphere(self.home_altitude))
    }

    /// Who came so, at the first dive of the day: in balance with the air at home, then so long at
    /// the surface of the site.
    ///
    /// # Example
    /// ```
    /// use hangbar::plan::Arrival;
    /// use hangbar::quantity::{Altitude, Time};
    /// use hangbar::rules::DiveRules;
    /// let lake = DiveRules::default();
    /// let from = |minutes| Arrival {
    ///     before_first_dive: Time::from_min(minutes),
    ///     home_altitude: Altitude::from_m(2000.0),
    /// };
    /// let slowest = |minutes| from(minutes).at_the_site(&lake).tissues.loading(15).n2_bar;
    /// // Down from the mountains it still takes nitrogen up.
    /// assert!(slowest(0.0) < slowest(90.0));
    /// ```
    #[must_use]
    pub fn at_the_site(&self, rules: &DiveRules) -> Start {
        let surface = rules.environment.surface();
        let home = self.at_home();
        home.rested(&rules.compartments, surface, self.before_first_dive)
    }
}
