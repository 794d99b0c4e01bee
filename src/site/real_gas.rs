//! Density of breathing gases by GERG-2008, the part that nitrogen, oxygen and helium need.

use std::ops::RangeInclusive;

use super::mix::Mix;
use crate::quantity::{KPA_PER_BAR, Pressure, Temperature};

mod coefficients;
use coefficients::{CRITICAL, PAIRS, Pair, SPECIES, TERMS, Term};

/// Molar gas constant that GERG-2008 is fitted with, J/(mol·K).
const GERG_GAS_CONSTANT: f64 = 8.314_472;
/// Steps of the density search; a dozen are enough, the bound is for safety.
const DENSITY_STEPS: u32 = 100;
/// Relative step at which the density search ends.
const DENSITY_TOLERANCE: f64 = 4e-15;
/// Powers of δ from 0 to the greatest that a term has.
const POWERS: usize = 8;
/// Densities are looked for up to here, mol/L: beyond 40,000 bar for every breathing gas.
const GREATEST_DENSITY: f64 = 60.0;

/// Pressures that a density is looked for at, bar.
const PRESSURES_BAR: RangeInclusive<f64> = 0.0..=2000.0;
/// Temperatures that it is looked for at, K.
const TEMPERATURES_K: RangeInclusive<f64> = 150.0..=700.0;

/// Equation of state of one mix at one temperature.
///
/// ```text
/// p = ρ·R·T·Z      Z = 1 + Σᵢ xᵢ Σ n·δ^d·τ^t·exp(−δ^c)·(d − c·δ^c)
/// δ = ρ/ρ_r   τ = T_r/T      (no exponential where c = 0)
/// 1/ρ_r = Σᵢ xᵢ²/ρ_cᵢ + Σᵢ<ⱼ 2 xᵢ xⱼ (xᵢ + xⱼ)/(β_v² xᵢ + xⱼ) · G_v
/// T_r   = Σᵢ xᵢ²·T_cᵢ + Σᵢ<ⱼ 2 xᵢ xⱼ (xᵢ + xⱼ)/(β_T² xᵢ + xⱼ) · G_T
/// ```
/// `ρ`: mol/L; `T`: K; `p`: kPa; `x`: mole fractions. These three gases have no departure terms.
/// Made for gas in cylinders: 1 to 400 bar, −10 to 60 °C.
///
/// # Source
/// O. Kunz, W. Wagner, *The GERG-2008 wide-range equation of state*, J. Chem. Eng. Data 57 (2012)
/// 3032; ISO 20765-2.
///
/// # Example
/// ```
/// use hangbar::site::{Mix, RealGas};
/// use hangbar::quantity::{Pressure, Temperature};
/// let air = RealGas::new(Mix::AIR, Temperature::from_celsius(15.0));
/// let density = air.density(Pressure::from_bar(200.0));
/// assert!((air.pressure(density).as_bar() - 200.0).abs() < 1e-9);
/// ```
#[derive(Clone, Debug)]
pub struct RealGas {
    temperature: Temperature,
    /// 1/ρ_r, L/mol.
    reducing_volume: f64,
    /// Terms with `xᵢ·n·τ^t` already multiplied out.
    terms: Vec<PreparedTerm>,
}

#[derive(Clone, Copy, Debug)]
struct PreparedTerm {
    factor: f64,
    d: usize,
    c: usize,
    d_number: f64,
    c_number: f64,
}

/// Density of a gas, mol in a litre.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct MolarDensity(f64);

impl MolarDensity {
    /// From mol/L.
    #[must_use]
    pub const fn from_mol_per_l(value: f64) -> Self {
        Self(value)
    }

    /// In mol/L.
    #[must_use]
    pub const fn as_mol_per_l(self) -> f64 {
        self.0
    }
}

impl RealGas {
    /// The equation for a mix at a temperature.
    #[must_use]
    pub fn new(mix: Mix, temperature: Temperature) -> Self {
        Self::of_fractions([mix.nitrogen(), mix.oxygen(), mix.helium()], temperature)
    }

    /// The equation for mole fractions of nitrogen, oxygen and helium that need be no breathing
    /// gas, as in a cylinder that is being filled; together they are 1.
    pub(crate) fn of_fractions(fractions: [f64; SPECIES], temperature: Temperature) -> Self {
        let (mut reducing_volume, mut reducing_temperature) = (0.0, 0.0);
        for (x, critical) in fractions.iter().zip(&CRITICAL) {
            reducing_volume += x * x / critical.density_mol_l;
            reducing_temperature += x * x * critical.temperature_k;
        }
        for pair in &PAIRS {
            let (x, y) = (fractions[pair.first], fractions[pair.second]);
            if x > 0.0 && y > 0.0 {
                let Pair { bv, gv, bt, gt, .. } = pair;
                reducing_volume += 2.0 * x * y * (x + y) / (bv * x + y) * gv;
                reducing_temperature += 2.0 * x * y * (x + y) / (bt * x + y) * gt;
            }
        }
        let tau = reducing_temperature / temperature.as_kelvin();
        let mut terms = Vec::new();
        for index in 0..SPECIES {
            let x = fractions[index];
            let prepare = |term: &Term| PreparedTerm {
                factor: x * term.n * tau.powf(term.t),
                d: usize::from(term.d),
                c: usize::from(term.c),
                d_number: f64::from(term.d),
                c_number: f64::from(term.c),
            };
            if x > 0.0 {
                terms.extend(TERMS[index].iter().map(prepare));
            }
        }
        Self {
            temperature,
            reducing_volume,
            terms,
        }
    }

    /// Compressibility `Z = p/(ρRT)` at a density.
    #[must_use]
    pub fn compressibility(&self, density: MolarDensity) -> f64 {
        self.z_and_slope(density).0
    }

    /// `Z` and `δ·dZ/dδ`, which the density search needs.
    ///
    /// ```text
    /// Z        = 1 + Σ A·(d − s)                 A = x·n·τ^t·δ^d·exp(−δ^c)   s = c·δ^c
    /// δ·dZ/dδ  = Σ A·((d − s)² − c·s)
    /// ```
    fn z_and_slope(&self, density: MolarDensity) -> (f64, f64) {
        let delta = density.0 * self.reducing_volume;
        let mut powers = [1.0; POWERS];
        for index in 1..POWERS {
            powers[index] = powers[index - 1] * delta;
        }
        let mut decays = [1.0; POWERS];
        for c in [1, 2, 3, 6] {
            decays[c] = (-powers[c]).exp();
        }
        let (mut z, mut slope) = (1.0, 0.0);
        for term in &self.terms {
            let size = term.factor * powers[term.d] * decays[term.c];
            let c = term.c_number;
            let s = c * powers[term.c];
            let inner = term.d_number - s;
            z += size * inner;
            slope += size * (inner * inner - c * s);
        }
        (z, slope)
    }

    /// Absolute pressure at a density.
    #[must_use]
    pub fn pressure(&self, density: MolarDensity) -> Pressure {
        Pressure::from_bar(density.0 * self.ideal_slope() * self.compressibility(density))
    }

    /// `R·T`: pressure of an ideal gas by density, bar/(mol/L).
    fn ideal_slope(&self) -> f64 {
        GERG_GAS_CONSTANT * self.temperature.as_kelvin() / KPA_PER_BAR
    }

    /// Density at an absolute pressure.
    ///
    /// Newton steps, `dp/dρ = R·T·(Z + δ·dZ/dδ)`, kept inside a bracket from 0 to 60 mol/L:
    /// pressure grows with density all the way for these gases. Ends where a step is below
    /// 4·10⁻¹⁵ of the density or after 100 steps, by when the bracket alone has closed to
    /// rounding. Not a number outside 0 to 2,000 bar and 150 to 700 K: no other answer would be
    /// one.
    #[must_use]
    pub fn density(&self, pressure: Pressure) -> MolarDensity {
        let target = pressure.as_bar();
        let known = PRESSURES_BAR.contains(&target)
            && TEMPERATURES_K.contains(&self.temperature.as_kelvin());
        if !known {
            return MolarDensity(f64::NAN);
        }
        let ideal_slope = self.ideal_slope();
        let (mut low, mut high) = (0.0, GREATEST_DENSITY);
        let mut density = (target / ideal_slope).min(GREATEST_DENSITY / 2.0);
        for _ in 0..DENSITY_STEPS {
            let (z, slope) = self.z_and_slope(MolarDensity(density));
            let error = density * ideal_slope * z - target;
            if error > 0.0 {
                high = density;
            } else {
                low = density;
            }
            let newton = density - error / (ideal_slope * (z + slope));
            let next = if newton >= low && newton <= high {
                newton
            } else {
                f64::midpoint(low, high)
            };
            let step = (next - density).abs();
            density = next;
            if step <= DENSITY_TOLERANCE * density {
                break;
            }
        }
        MolarDensity(density)
    }
}
