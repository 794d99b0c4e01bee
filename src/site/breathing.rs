//! What a gas is like to breathe at a depth: oxygen pressure, operating depth, density.

use super::environment::Environment;
use super::mix::Mix;
use crate::quantity::{CELSIUS_ZERO_K, Depth, KPA_PER_BAR, MOLAR_GAS_CONSTANT, Pressure};

/// Oxygen pressure of a gas at a depth: `P·f`.
#[must_use]
pub fn oxygen_pressure(environment: &Environment, gas: Mix, depth: Depth) -> Pressure {
    Pressure::from_bar(environment.ambient(depth).as_bar() * gas.oxygen())
}

/// Maximum operating depth: where the oxygen pressure of a gas reaches a limit.
#[must_use]
pub fn operating_depth(environment: &Environment, gas: Mix, limit: Pressure) -> Depth {
    environment.depth_at(Pressure::from_bar(limit.as_bar() / gas.oxygen()))
}

/// Oxygen pressure up to which a bottom gas is breathed without a second thought, and for which a
/// label names the operating depth: bar.
///
/// Source: common practice; BSAC's nitrox notes give operating depths at it.
pub const ADVISED_PO2_BAR: f64 = 1.4;
/// Greatest oxygen pressure of any gas, bar.
///
/// 1.6 ata and a gauge's width: the trade breathes oxygen at 6 m and 20 ft.
pub const GREATEST_PO2_BAR: f64 = 1.63;

/// Density of a gas as it is breathed at a depth, g/L, at 0 °C.
///
/// ```text
/// Σ fraction·M · P/(R·T)      M: g/mol   P: kPa   R: J/(mol·K)   T: 273.15 K
/// ```
/// # Source
/// Ideal gas law.
#[must_use]
pub fn gas_density_g_l(environment: &Environment, gas: Mix, depth: Depth) -> f64 {
    let ambient_kpa = environment.ambient(depth).as_bar() * KPA_PER_BAR;
    gas.molar_mass_g_mol() * ambient_kpa / (MOLAR_GAS_CONSTANT * CELSIUS_ZERO_K)
}
