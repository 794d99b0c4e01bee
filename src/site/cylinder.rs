//! Cylinders: how much gas a gauge reading means, and what reading an amount of gas gives.

use super::mix::Mix;
use super::real_gas::{MolarDensity, RealGas};
use crate::quantity::{
    ATM_BAR, FreeVolume, GaugePressure, KPA_PER_BAR, MOLAR_GAS_CONSTANT, Mass, Pressure,
    Temperature, WaterVolume,
};
use serde::Serialize;
use std::sync::Arc;

const G_PER_KG: f64 = 1000.0;

/// How cylinder contents are worked out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum GasLaw {
    /// Real gas, GERG-2008.
    #[default]
    Real,
    /// Ideal gas.
    Ideal,
}

/// A cylinder and its fill.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Cylinder {
    /// Inner volume.
    pub water: WaterVolume,
    /// What the gauge shows before the dive.
    pub fill: GaugePressure,
    /// What it is rated for, where that is known.
    pub working: Option<GaugePressure>,
}

/// Inner volume of a cylinder known by its rated capacity, as the trade's nominal sizes are.
///
/// ```text
/// V_w = capacity · 1 atm / working pressure      capacity: free L   working pressure: gauge
/// ```
/// # Source
/// Ideal gas law at 1 atm; the working pressure as the gauge shows it.
#[must_use]
pub fn water_volume_of_rating(capacity: FreeVolume, working: GaugePressure) -> WaterVolume {
    WaterVolume::from_l(capacity.as_l() * ATM_BAR / working.as_bar())
}

/// What all cylinders of a site have in common.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct GasConditions {
    /// Real or ideal.
    pub law: GasLaw,
    /// Temperature of the cylinders.
    pub temperature: Temperature,
    /// Pressure at the surface, which gauges read as zero.
    pub surface: Pressure,
}

/// Converts between gauge pressure and contents for one cylinder holding one mix.
///
/// ```text
/// V(p_g) = V_w·(ρ(p_g + P_surface) − ρ(P_surface))/ρ(1 atm)      free L above ambient
/// ```
/// `ρ`: molar density at the site's temperature, see [`RealGas`]; with the ideal law
/// `V = V_w·p_g/(1 atm)`.
///
/// # Example
/// ```
/// use hangbar::site::{Charge, GasConditions, GasLaw};
/// use hangbar::site::Mix;
/// use hangbar::quantity::{GaugePressure, Pressure, Temperature, WaterVolume};
///
/// let site = GasConditions {
///     law: GasLaw::Real,
///     temperature: Temperature::from_celsius(15.0),
///     surface: Pressure::from_atm(1.0),
/// };
/// let twelve = Charge::new(WaterVolume::from_l(12.0), Mix::AIR, &site);
/// let full = twelve.contents(GaugePressure::from_bar(200.0));
/// assert!((twelve.pressure(full).as_bar() - 200.0).abs() < 1e-9);
/// assert!(full.as_l() < 12.0 * 200.0 / 1.01325);
/// ```
#[derive(Clone, Debug)]
pub struct Charge {
    water: WaterVolume,
    mix: Mix,
    temperature: Temperature,
    surface: Pressure,
    density: Density,
}

#[derive(Clone, Debug)]
enum Density {
    Ideal,
    Real {
        gas: Arc<RealGas>,
        one_atm: f64,
        surface: f64,
    },
}

impl Charge {
    /// For a cylinder of some inner volume filled with a mix at a site.
    #[must_use]
    pub fn new(water: WaterVolume, mix: Mix, site: &GasConditions) -> Self {
        let density = match site.law {
            GasLaw::Ideal => Density::Ideal,
            GasLaw::Real => {
                let gas = RealGas::new(mix, site.temperature);
                Density::Real {
                    one_atm: gas.density(Pressure::from_bar(ATM_BAR)).as_mol_per_l(),
                    surface: gas.density(site.surface).as_mol_per_l(),
                    gas: Arc::new(gas),
                }
            }
        };
        Self {
            water,
            mix,
            temperature: site.temperature,
            surface: site.surface,
            density,
        }
    }

    /// The same gas at the same site in a cylinder of another inner volume.
    #[must_use]
    pub(crate) fn in_water(&self, water: WaterVolume) -> Self {
        Self {
            water,
            ..self.clone()
        }
    }

    /// Contents above ambient at a gauge pressure.
    #[must_use]
    pub fn contents(&self, gauge: GaugePressure) -> FreeVolume {
        let ratio = match &self.density {
            Density::Ideal => gauge.as_bar() / ATM_BAR,
            Density::Real {
                gas,
                one_atm,
                surface,
            } => {
                let absolute = Pressure::from_bar(gauge.as_bar() + self.surface.as_bar());
                (gas.density(absolute).as_mol_per_l() - surface) / one_atm
            }
        };
        FreeVolume::from_l(self.water.as_l() * ratio)
    }

    /// Gauge pressure at which the cylinder holds so much above ambient. Explicit: the equation
    /// of state gives pressure from density.
    #[must_use]
    pub fn pressure(&self, contents: FreeVolume) -> GaugePressure {
        let ratio = contents.as_l() / self.water.as_l();
        match &self.density {
            Density::Ideal => GaugePressure::from_bar(ratio * ATM_BAR),
            Density::Real {
                gas,
                one_atm,
                surface,
            } => {
                let density = MolarDensity::from_mol_per_l(ratio * one_atm + surface);
                GaugePressure::from_bar(gas.pressure(density).as_bar() - self.surface.as_bar())
            }
        }
    }

    /// Mass of an amount of this gas.
    ///
    /// ```text
    /// m = V · ρ(1 atm) · M/1000      m: kg   V: free L   ρ: mol/L   M: g/mol
    /// ```
    /// With the ideal law `ρ(1 atm) = 101.325 kPa/(R·T)`.
    #[must_use]
    pub fn mass(&self, volume: FreeVolume) -> Mass {
        let mol_per_l = match &self.density {
            Density::Ideal => {
                KPA_PER_BAR * ATM_BAR / (MOLAR_GAS_CONSTANT * self.temperature.as_kelvin())
            }
            Density::Real { one_atm, .. } => *one_atm,
        };
        Mass::from_kg(volume.as_l() * mol_per_l * self.mix.molar_mass_g_mol() / G_PER_KG)
    }
}

/// The cylinders of one site: what depends on a gas alone is worked out once.
pub(crate) struct Charges {
    site: GasConditions,
    known: Vec<Charge>,
}

impl Charges {
    pub(crate) const fn at(site: GasConditions) -> Self {
        Self {
            site,
            known: Vec::new(),
        }
    }

    /// As [`Charge::new`].
    pub(crate) fn new_charge(&mut self, water: WaterVolume, mix: Mix) -> Charge {
        if let Some(known) = self.known.iter().find(|known| known.mix == mix) {
            return known.in_water(water);
        }
        let charge = Charge::new(water, mix, &self.site);
        self.known.push(charge.clone());
        charge
    }
}
