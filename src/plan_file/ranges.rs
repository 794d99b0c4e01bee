//! What a plan may ask for: one table that the checks and their messages read.

use crate::quantity::Kind;
use crate::quantity::{CELSIUS_ZERO_K, PSI_BAR};

/// An accepted range, both ends included, in the kind's stored unit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Accepted {
    pub(super) kind: Kind,
    pub(super) least: f64,
    pub(super) greatest: f64,
    /// A value to show how it is written.
    pub(super) example: &'static str,
}

const fn accepted(kind: Kind, least: f64, greatest: f64, example: &'static str) -> Accepted {
    Accepted {
        kind,
        least,
        greatest,
        example,
    }
}

/// The model and the trade end well before 200 m.
pub(super) const DEPTH: Accepted = accepted(Kind::Depth, 0.3, 200.0, "28 m");
/// A day.
pub(super) const LEVEL_TIME: Accepted = accepted(Kind::Time, 0.1, 1440.0, "22 min");
pub(super) const DESCENT_RATE: Accepted = accepted(Kind::VerticalSpeed, 1.0, 60.0, "18 m/min");
pub(super) const ASCENT_RATE: Accepted = accepted(Kind::VerticalSpeed, 1.0, 30.0, "9 m/min");
pub(super) const SAFETY_DEPTH: Accepted = accepted(Kind::Depth, 1.0, 20.0, "5 m");
pub(super) const SAFETY_TIME: Accepted = accepted(Kind::Time, 0.5, 60.0, "3 min");
pub(super) const SWITCH_TIME: Accepted = accepted(Kind::Time, 0.0, 30.0, "1 min");
pub(super) const SORT_OUT: Accepted = accepted(Kind::Time, 0.0, 30.0, "1 min");
pub(super) const FLOOR: Accepted = accepted(Kind::GaugePressure, 0.0, 150.0, "50 bar");
/// 5,000 psi is the highest that cylinders are filled to.
pub(super) const FILL: Accepted = accepted(Kind::GaugePressure, 1.0, 5000.0 * PSI_BAR, "200 bar");
pub(super) const WORKING: Accepted =
    accepted(Kind::GaugePressure, 50.0, 5000.0 * PSI_BAR, "3000 psi");
/// From a pocket bottle to a bank.
pub(super) const WATER_VOLUME: Accepted = accepted(Kind::WaterVolume, 0.2, 100.0, "12 L");
pub(super) const CAPACITY: Accepted = accepted(Kind::Capacity, 10.0, 30_000.0, "80 cuft");
pub(super) const BREATHING: Accepted = accepted(Kind::BreathingRate, 2.0, 150.0, "16 L/min");
pub(super) const PRESSURE_RATE: Accepted = accepted(Kind::PressureRate, 0.01, 100.0, "25 psi/min");
/// As the model's contract says.
pub(super) const ALTITUDE: Accepted = accepted(Kind::Altitude, -430.0, 4500.0, "1500 m");
/// The altitudes above and the highest weather at sea level.
pub(super) const AIR_PRESSURE: Accepted = accepted(Kind::AirPressure, 0.577, 1.1, "0.85 bar");
pub(super) const WATER_TEMPERATURE: Accepted = accepted(
    Kind::Temperature,
    CELSIUS_ZERO_K - 5.0,
    CELSIUS_ZERO_K + 45.0,
    "14 C",
);
/// Fresh water to the saltiest lakes.
pub(super) const DENSITY: Accepted = accepted(Kind::Density, 950.0, 1300.0, "1030 kg/m3");
pub(super) const CURRENT: Accepted = accepted(Kind::WaterSpeed, 0.0, 154.4, "0.5 kn");

pub(super) const HANG_DEPTH: Accepted = accepted(Kind::Depth, 1.0, 60.0, "5 m");
pub(super) const HANG_TIME: Accepted = accepted(Kind::Time, 0.5, 120.0, "10 min");
pub(super) const SWIM_SPEED: Accepted = accepted(Kind::WaterSpeed, 3.0, 92.6, "0.7 kn");
pub(super) const OVERDUE_AFTER: Accepted = accepted(Kind::Time, 1.0, 240.0, "10 min");

/// A stress factor below 1 would make trouble cheaper than calm.
pub(super) const STRESS: std::ops::RangeInclusive<f64> = 1.0..=5.0;

/// A fill may be above the cylinder's working pressure by this share.
pub(super) const OVERFILL: f64 = 0.10;

impl Accepted {
    pub(super) fn contains(&self, value: f64) -> bool {
        // A limit written in another unit may land a last bit outside.
        let slack = 1e-9 * self.greatest.abs();
        (self.least - slack..=self.greatest + slack).contains(&value)
    }

    /// `1 m to 200 m (3.3 ft to 656.1 ft), as "28 m"`
    pub(super) fn describe(&self) -> String {
        let range = self.kind.range(self.least, self.greatest);
        format!("{range}, as \"{}\"", self.example)
    }
}
