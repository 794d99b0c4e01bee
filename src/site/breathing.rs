//! What a gas is like to breathe at a depth: oxygen pressure, operating depth, equivalent depths,
//! density.

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

/// The richest nitrox for a depth: the greatest whole per cent of oxygen, 21 to 100, whose oxygen
/// pressure there is at most a limit; `None` where that of air is above it.
///
/// # Example
/// ```
/// use hangbar::quantity::{Depth, Pressure};
/// use hangbar::site::{Environment, Mix, richest_nitrox};
/// let (sea, limit) = (Environment::default(), Pressure::from_bar(1.4));
/// // 1.4 bar / 4.0288 bar = 0.3475
/// let best = richest_nitrox(&sea, Depth::from_m(30.0), limit);
/// assert_eq!(best, Some(Mix::nitrox(34.0)?));
/// assert_eq!(richest_nitrox(&sea, Depth::from_m(57.0), limit), None);
/// # Ok::<(), hangbar::site::MixError>(())
/// ```
#[must_use]
pub fn richest_nitrox(environment: &Environment, depth: Depth, limit: Pressure) -> Option<Mix> {
    let mixes = (AIR_PCT + 1..PURE_PCT).rev().map(f64::from);
    let mixes = mixes.filter_map(|oxygen_pct| Mix::nitrox(oxygen_pct).ok());
    let mut mixes = std::iter::once(Mix::OXYGEN).chain(mixes).chain([Mix::AIR]);
    mixes.find(|gas| oxygen_pressure(environment, *gas, depth).is_within(limit))
}

/// Whole per cents of oxygen in air and in pure oxygen.
const AIR_PCT: u8 = 21;
const PURE_PCT: u8 = 100;

/// Equivalent air depth: where air has the nitrogen pressure that a gas has at a depth.
///
/// ```text
/// EAD = (P·f_N2/0.79 − P_surface)/(ρ·g), not above the surface
/// ```
/// # Source
/// The formula of nitrox courses, there with ten metres or 33 feet of water to an atmosphere.
///
/// # Example
/// ```
/// use hangbar::quantity::Depth;
/// use hangbar::site::{Environment, Mix, equivalent_air_depth};
/// let sea = Environment::default();
/// let (air, ean) = (Mix::AIR, Mix::nitrox(32.0)?);
/// let depth = Depth::from_m(30.0);
/// assert!(equivalent_air_depth(&sea, air, depth).is_at(depth));
/// assert!(equivalent_air_depth(&sea, ean, depth).as_m() < 24.5);
/// # Ok::<(), hangbar::site::MixError>(())
/// ```
#[must_use]
pub fn equivalent_air_depth(environment: &Environment, gas: Mix, depth: Depth) -> Depth {
    let share = gas.nitrogen() / Mix::AIR.nitrogen();
    depth_of_share(environment, share, depth)
}

/// Which gases are taken to be narcotic.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Narcotic {
    /// Oxygen as much as nitrogen: all but helium.
    #[default]
    OxygenToo,
    /// Nitrogen alone.
    NitrogenAlone,
}

/// Equivalent narcotic depth: where air is as narcotic as a gas is at a depth.
///
/// ```text
/// oxygen counted:   END = (P·(1 − f_He) − P_surface)/(ρ·g), not above the surface
/// nitrogen alone:   END = EAD
/// ```
/// # Source
/// Published notes on trimix, there with ten metres of water to a bar.
#[must_use]
pub fn equivalent_narcotic_depth(
    environment: &Environment,
    gas: Mix,
    depth: Depth,
    narcotic: Narcotic,
) -> Depth {
    match narcotic {
        Narcotic::OxygenToo => depth_of_share(environment, 1.0 - gas.helium(), depth),
        Narcotic::NitrogenAlone => equivalent_air_depth(environment, gas, depth),
    }
}

/// Where the ambient pressure is such a share of what it is at a depth; the surface where that is
/// less than the pressure there.
fn depth_of_share(environment: &Environment, share: f64, depth: Depth) -> Depth {
    let pressure = Pressure::from_bar(environment.ambient(depth).as_bar() * share);
    environment.depth_at(pressure).max(Depth::SURFACE)
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

/// Depth at which a gas has a density, g/L: the inverse of [`gas_density_g_l`].
#[must_use]
pub fn depth_of_density(environment: &Environment, gas: Mix, density_g_l: f64) -> Depth {
    let at_one_bar = gas.molar_mass_g_mol() * KPA_PER_BAR / (MOLAR_GAS_CONSTANT * CELSIUS_ZERO_K);
    environment.depth_at(Pressure::from_bar(density_g_l / at_one_bar))
}
