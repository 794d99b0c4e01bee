//! The water and the air above it: depth to ambient pressure and back.

use serde::Serialize;
use std::fmt;
use std::str::FromStr;

use crate::letters::quotable;
use crate::quantity::{
    ATM_BAR, Altitude, Depth, GRAVITY_M_S2, Kind, Pressure, QuantityError, serde_as_text,
};

const PA_PER_BAR: f64 = 1e5;
/// Sites above it are at altitude.
const HIGH_SITE: Altitude = Altitude::from_m(300.0);
/// ISO 2533 troposphere: lapse rate, K/m.
pub(crate) const LAPSE_K_M: f64 = 0.0065;
/// ISO 2533: heights of the layer, m.
const TROPOSPHERE_M: std::ops::RangeInclusive<f64> = -5000.0..=11_000.0;
/// ISO 2533: temperature at sea level, K.
pub(crate) const SEA_LEVEL_K: f64 = 288.15;
/// ISO 2533: exponent g·M/(R·L).
pub(crate) const TROPOSPHERE_EXPONENT: f64 = 5.255_876_1;

/// What the site is filled with.
///
/// As text, `sea`, `fresh`, `en13319`, or a density as `1030 kg/m3`; serde takes and gives the same.
///
/// # Example
/// ```
/// use hangbar::site::Water;
/// let lake: Water = "fresh".parse()?;
/// assert_eq!(lake, Water::Fresh);
/// assert_eq!(serde_json::to_string(&lake)?, "\"fresh\"");
/// assert_eq!("1.03 kg/L".parse::<Water>()?.to_string(), "1030 kg/m3");
/// assert!("0 kg/m3".parse::<Water>().is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Water {
    /// Sea water of 1025 kg/m³.
    #[default]
    Sea,
    /// Fresh water of 1000 kg/m³.
    Fresh,
    /// The calibration of depth gauges: 0.1 bar a metre exactly (EN 13319).
    En13319,
    /// Water of a density that the plan gives, kg/m³.
    Density {
        /// Density in kg/m³.
        kg_per_m3: f64,
    },
}

/// Why a text is no water.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum WaterError {
    /// Neither a name nor a density.
    #[error(
        "`{}` is not a kind of water; accepted: sea, fresh, en13319 or a density in kg/m3",
        quotable(.0)
    )]
    Name(String),
    /// The density cannot be read.
    #[error(transparent)]
    Density(#[from] QuantityError),
    /// A density of nothing.
    #[error("`{}` is not a density above 0 kg/m3", quotable(.0))]
    NoDensity(String),
}

impl Water {
    /// The kinds that have a name.
    const NAMED: [Self; 3] = [Self::Sea, Self::Fresh, Self::En13319];

    /// The kind of that name.
    pub(crate) fn named(name: &str) -> Option<Self> {
        let mut named = Self::NAMED.into_iter();
        named.find(|water| water.name() == Some(name))
    }

    /// The names, for messages.
    pub(crate) fn names() -> impl Iterator<Item = &'static str> {
        Self::NAMED.into_iter().filter_map(Self::name)
    }

    const fn name(self) -> Option<&'static str> {
        match self {
            Self::Sea => Some("sea"),
            Self::Fresh => Some("fresh"),
            Self::En13319 => Some("en13319"),
            Self::Density { .. } => None,
        }
    }

    /// Pressure that a metre of this water adds.
    ///
    /// ```text
    /// ρ·g / 10⁵      bar/m      ρ: kg/m³   g: 9.80665 m/s²
    /// ```
    #[must_use]
    pub fn bar_per_m(self) -> f64 {
        let kg_per_m3 = match self {
            Self::Sea => 1025.0,
            Self::Fresh => 1000.0,
            Self::En13319 => return 0.1,
            Self::Density { kg_per_m3 } => kg_per_m3,
        };
        kg_per_m3 * GRAVITY_M_S2 / PA_PER_BAR
    }
}

impl fmt::Display for Water {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Self::Density { kg_per_m3 } = self {
            write!(f, "{kg_per_m3} kg/m3")
        } else {
            f.write_str(self.name().unwrap_or_default())
        }
    }
}

impl FromStr for Water {
    type Err = WaterError;

    fn from_str(text: &str) -> Result<Self, WaterError> {
        let trimmed = text.trim();
        if let Some(water) = Self::named(trimmed) {
            return Ok(water);
        }
        if !trimmed.starts_with(|c: char| c.is_ascii_digit()) {
            return Err(WaterError::Name(text.to_owned()));
        }
        let kg_per_m3 = Kind::Density.parse(trimmed)?;
        if kg_per_m3 > 0.0 {
            Ok(Self::Density { kg_per_m3 })
        } else {
            Err(WaterError::NoDensity(text.to_owned()))
        }
    }
}

serde_as_text!(
    Water,
    "the name of a water or its density, as \"1030 kg/m3\""
);

/// Pressure of the standard atmosphere at a height.
///
/// ```text
/// p = 1.01325 · (1 − 0.0065·h/288.15)^5.2558761      p: bar   h: m
/// ```
/// The height is used as it stands (the geopotential column of the published tables). Not a number
/// outside −5,000 m to 11,000 m, where the layer ends; a plan may give −430 m to 4,500 m.
///
/// # Source
/// ISO 2533, Standard Atmosphere, troposphere layer.
///
/// # Example
/// ```
/// use hangbar::site::standard_atmosphere;
/// use hangbar::quantity::Altitude;
/// let lake = standard_atmosphere(Altitude::from_m(1500.0));
/// assert!((lake.as_bar() - 0.84556).abs() < 1e-5);
/// ```
#[must_use]
pub fn standard_atmosphere(altitude: Altitude) -> Pressure {
    if !TROPOSPHERE_M.contains(&altitude.as_m()) {
        return Pressure::from_bar(f64::NAN);
    }
    let base = 1.0 - LAPSE_K_M * altitude.as_m() / SEA_LEVEL_K;
    Pressure::from_bar(ATM_BAR * base.powf(TROPOSPHERE_EXPONENT))
}

/// The altitude at which the standard atmosphere has a pressure.
///
/// ```text
/// h = (1 − (P/1.01325)^(1/5.2558761))·288.15/0.0065      P: bar   h: m
/// ```
///
/// # Source
/// That of [`standard_atmosphere`], turned round.
pub(crate) fn standard_altitude(pressure: Pressure) -> Altitude {
    let base = (pressure.as_bar() / ATM_BAR).powf(1.0 / TROPOSPHERE_EXPONENT);
    Altitude::from_m((1.0 - base) * SEA_LEVEL_K / LAPSE_K_M)
}

/// Pressure at the surface of the site and how fast it grows with depth.
///
/// # Example
/// ```
/// use hangbar::site::{Environment, Water};
/// use hangbar::quantity::{Depth, Pressure};
/// let sea = Environment::new(Pressure::from_atm(1.0), Water::Sea);
/// assert!((sea.ambient(Depth::from_m(30.0)).as_bar() - 4.028794875).abs() < 1e-12);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Environment {
    surface: Pressure,
    bar_per_m: f64,
}

impl Environment {
    /// An environment from the pressure at the surface and the water.
    #[must_use]
    pub fn new(surface: Pressure, water: Water) -> Self {
        Self {
            surface,
            bar_per_m: water.bar_per_m(),
        }
    }

    /// Pressure at the surface.
    #[must_use]
    pub const fn surface(&self) -> Pressure {
        self.surface
    }

    /// Pressure that a metre of depth adds, bar/m.
    #[must_use]
    pub const fn bar_per_m(&self) -> f64 {
        self.bar_per_m
    }

    /// Whether the site is at altitude: the air thinner than that of the standard atmosphere at
    /// 300 m. Above it a plan says how the divers came, or is told what is taken for granted
    /// (common practice: tables for altitude begin there, no source).
    #[must_use]
    pub fn is_at_altitude(&self) -> bool {
        self.surface.as_bar() < standard_atmosphere(HIGH_SITE).as_bar()
    }

    /// Density of the water, kg/m³.
    pub(crate) fn density_kg_m3(&self) -> f64 {
        self.bar_per_m * PA_PER_BAR / GRAVITY_M_S2
    }

    /// Ambient pressure at a depth.
    ///
    /// ```text
    /// P(d) = P_surface + ρ·g·d
    /// ```
    #[must_use]
    pub fn ambient(&self, depth: Depth) -> Pressure {
        Pressure::from_bar(self.surface.as_bar() + self.bar_per_m * depth.as_m())
    }

    /// Depth at which the ambient pressure is reached; negative above the surface's pressure.
    #[must_use]
    pub fn depth_at(&self, pressure: Pressure) -> Depth {
        Depth::from_m((pressure.as_bar() - self.surface.as_bar()) / self.bar_per_m)
    }
}

impl Default for Environment {
    /// Sea water under one standard atmosphere.
    fn default() -> Self {
        Self::new(Pressure::from_bar(ATM_BAR), Water::Sea)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

    use super::Water;

    #[test]
    fn every_water_reads_back_what_it_writes() {
        let salt = Water::Density { kg_per_m3: 1010.5 };
        for water in [Water::Sea, Water::Fresh, Water::En13319, salt] {
            assert_eq!(water.to_string().parse::<Water>().unwrap(), water);
        }
    }

    #[test]
    fn text_that_is_no_water_is_refused() {
        for text in ["", "Sea", "lake", "1030", "1030 m", "-1030 kg/m3", "0 kg/L"] {
            assert!(text.parse::<Water>().is_err(), "{text}");
        }
    }
}
