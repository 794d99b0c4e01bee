//! The water and the air above it: depth to ambient pressure and back.

use crate::quantity::{ATM_BAR, Altitude, Depth, GRAVITY_M_S2, Pressure};

const PA_PER_BAR: f64 = 1e5;
/// ISO 2533 troposphere: lapse rate, K/m.
pub(crate) const LAPSE_K_M: f64 = 0.0065;
/// ISO 2533: temperature at sea level, K.
pub(crate) const SEA_LEVEL_K: f64 = 288.15;
/// ISO 2533: exponent g·M/(R·L).
pub(crate) const TROPOSPHERE_EXPONENT: f64 = 5.255_876_1;

/// What the site is filled with.
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

impl Water {
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

/// Pressure of the standard atmosphere at a height.
///
/// ```text
/// p = 1.01325 · (1 − 0.0065·h/288.15)^5.2558761      p: bar   h: m
/// ```
/// The height is used as it stands (the geopotential column of the published tables). Meant for
/// −430 m to 4,500 m, the range a plan may give.
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
    let base = 1.0 - LAPSE_K_M * altitude.as_m() / SEA_LEVEL_K;
    Pressure::from_bar(ATM_BAR * base.max(0.0).powf(TROPOSPHERE_EXPONENT))
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
#[derive(Clone, Copy, Debug, PartialEq)]
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
