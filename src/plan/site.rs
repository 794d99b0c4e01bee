//! Where the dive is, and the boat above it.

use super::before::Arrival;
use crate::quantity::{ATM_BAR, Altitude, Pressure, Speed, Temperature, Time};
use crate::site::{Environment, Water, standard_atmosphere};
use serde::Serialize;

/// The site.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Site {
    /// The water.
    pub water: Water,
    /// Altitude, where the plan gives one.
    pub altitude: Option<Altitude>,
    /// Pressure of the air, where the plan gives it instead of an altitude.
    pub surface_pressure: Option<Pressure>,
    /// Temperature of the cylinders.
    pub temperature: Temperature,
    /// Current, where the plan gives one.
    pub current: Option<Speed>,
    /// How the divers came, where they are not adapted to the pressure of the air.
    pub arrival: Option<Arrival>,
}

impl Default for Site {
    /// Sea water, cylinders of 15 °C, no altitude and no current given.
    fn default() -> Self {
        Self {
            water: Water::default(),
            altitude: None,
            surface_pressure: None,
            temperature: Temperature::from_celsius(15.0),
            current: None,
            arrival: None,
        }
    }
}

impl Site {
    /// Water and air as the model sees them: the pressure given, or that of the standard
    /// atmosphere at the altitude, or one atmosphere.
    #[must_use]
    pub fn environment(&self) -> Environment {
        let by_altitude = self.altitude.map(standard_atmosphere);
        let surface = self.surface_pressure.or(by_altitude);
        Environment::new(surface.unwrap_or(Pressure::from_bar(ATM_BAR)), self.water)
    }
}

/// What the boat above must know.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Surface {
    /// The team is overdue so long after the planned surfacing.
    pub overdue_after: Time,
    /// Whom to call and how, printed as given.
    pub emergency: Option<String>,
}

impl Default for Surface {
    /// Overdue 10 min after the planned surfacing, no emergency line.
    fn default() -> Self {
        Self {
            overdue_after: Time::from_min(10.0),
            emergency: None,
        }
    }
}
