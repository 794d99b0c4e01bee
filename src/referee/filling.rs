//! Cylinders by the referee: GERG-2008 as pressure from density, with its own copy of the table.

use super::body::Gas;

/// Factor, power of the reduced density, power of the reduced temperature, power in the exponential
/// (0: none).
type Term = (f64, i32, f64, i32);

/// R of GERG-2008, J/(mol K).
const R: f64 = 8.314_472;
/// One atmosphere, bar.
const ATM_BAR: f64 = 1.013_25;
/// kPa in a bar.
const KPA: f64 = 100.0;
/// Rounds of the search for a density; a dozen are more than it ever takes.
const ROUNDS: u32 = 60;

/// Critical densities (mol/L) and temperatures (K) of nitrogen, oxygen and helium.
const CRITICAL: [(f64, f64); 3] = [(11.1839, 126.192), (13.63, 154.595), (17.399, 5.1953)];

/// Mixing: the two gases, then β_v², G_v, β_T², G_T.
const PAIRS: [(usize, usize, [f64; 4]); 3] = [
    (
        0,
        1,
        [
            0.999_043_768_703_932_9,
            0.080_851_216_033_617_49,
            0.994_389_070_790_166_9,
            138.606_445_425_442_1,
        ],
    ),
    (
        0,
        2,
        [
            0.939_932_295_646_112_9,
            0.065_347_633_141_440_51,
            0.480_067_112_551_262_5,
            26.111_410_211_921_85,
        ],
    ),
    (
        1,
        2,
        [1.0, 0.065_098_083_417_719_75, 1.0, 28.340_208_247_294_16],
    ),
];

/// Terms of nitrogen.
const NITROGEN: [Term; 24] = [
    (0.598_897_118_012_01, 1, 0.125, 0),
    (-1.694_155_748_073_1, 1, 1.125, 0),
    (0.245_797_361_917_18, 2, 0.375, 0),
    (-0.237_224_567_551_75, 2, 1.125, 0),
    (0.017_954_918_715_141, 4, 0.625, 0),
    (0.014_592_875_720_215, 4, 1.5, 0),
    (0.100_080_659_362_06, 1, 0.625, 1),
    (0.731_571_153_855_3, 1, 2.625, 1),
    (-0.883_722_723_363_66, 1, 2.75, 1),
    (0.318_876_602_467_08, 2, 2.125, 1),
    (0.207_664_917_287_99, 3, 2.0, 1),
    (-0.019_379_315_454_158, 6, 1.75, 1),
    (-0.169_366_415_549_83, 2, 4.5, 2),
    (0.135_468_460_417_01, 3, 4.75, 2),
    (-0.033_066_712_095_307, 3, 5.0, 2),
    (-0.060_690_817_018_557, 4, 4.0, 2),
    (0.012_797_548_292_871, 4, 4.5, 2),
    (0.005_874_366_410_729_9, 2, 7.5, 3),
    (-0.018_451_951_971_969, 3, 14.0, 3),
    (0.004_722_662_204_247_2, 4, 11.5, 3),
    (-0.005_202_407_968_059_9, 5, 26.0, 6),
    (0.043_563_505_956_635, 6, 28.0, 6),
    (-0.036_251_690_750_939, 6, 30.0, 6),
    (-0.002_897_402_686_654_3, 7, 16.0, 6),
];
/// Terms of oxygen.
const OXYGEN: [Term; 12] = [
    (0.888_782_863_697_01, 1, 0.25, 0),
    (-2.487_943_331_214_8, 1, 1.125, 0),
    (0.597_501_907_758_86, 1, 1.5, 0),
    (0.009_650_181_706_188_1, 2, 1.375, 0),
    (0.071_970_428_712_77, 3, 0.25, 0),
    (0.000_223_374_430_001_95, 7, 0.875, 0),
    (0.185_586_863_914_74, 2, 0.625, 1),
    (-0.038_129_368_035_76, 5, 1.75, 1),
    (-0.153_522_453_830_06, 1, 3.625, 2),
    (-0.026_726_814_910_919, 4, 3.625, 2),
    (-0.025_675_298_677_127, 3, 14.5, 3),
    (0.009_571_430_212_366_8, 4, 12.0, 3),
];
/// Terms of helium.
const HELIUM: [Term; 12] = [
    (-0.455_790_240_067_37, 1, 0.0, 0),
    (1.251_639_075_492_5, 1, 0.125, 0),
    (-1.543_823_165_062_1, 1, 0.75, 0),
    (0.020_467_489_707_221, 4, 1.0, 0),
    (-0.344_762_123_807_81, 1, 0.75, 1),
    (-0.020_858_459_512_787, 3, 2.625, 1),
    (0.016_227_414_711_778, 5, 0.125, 1),
    (-0.057_471_818_200_892, 5, 1.25, 1),
    (0.019_462_416_430_715, 5, 2.0, 1),
    (-0.033_295_680_123_02, 2, 1.0, 2),
    (-0.010_863_577_372_367, 1, 4.5, 3),
    (-0.022_173_365_245_954, 2, 5.0, 3),
];
/// A gas in cylinders of one temperature.
#[derive(Clone, Debug)]
pub(super) struct Filling {
    law: Law,
    surface_bar: f64,
    /// Density at the surface's pressure and at one atmosphere, mol/L.
    at_surface: f64,
    at_one_atm: f64,
}

#[derive(Clone, Debug)]
enum Law {
    /// `ρ = p/(R·T)`, in units in which R·T is 1.
    Ideal,
    Real(State),
}

#[derive(Clone, Debug)]
struct State {
    kelvin: f64,
    reducing_density: f64,
    /// Share of the species · factor · τ^t, with the two other powers.
    terms: Vec<(f64, i32, i32)>,
}

impl Filling {
    /// By the ideal law.
    pub(super) const fn ideal(surface_bar: f64) -> Self {
        Self {
            law: Law::Ideal,
            surface_bar,
            at_surface: surface_bar,
            at_one_atm: ATM_BAR,
        }
    }

    /// As a real gas.
    pub(super) fn real(gas: Gas, kelvin: f64, surface_bar: f64) -> Self {
        let mut filling = Self {
            law: Law::Real(State::of(gas, kelvin)),
            surface_bar,
            at_surface: 0.0,
            at_one_atm: 1.0,
        };
        filling.at_surface = filling.density(surface_bar);
        filling.at_one_atm = filling.density(ATM_BAR);
        filling
    }

    /// Free litres above ambient that a litre of cylinder holds at a gauge pressure.
    pub(super) fn litres(&self, gauge_bar: f64) -> f64 {
        (self.density(gauge_bar + self.surface_bar) - self.at_surface) / self.at_one_atm
    }

    /// The gauge pressure at which it holds so many.
    pub(super) fn gauge(&self, litres: f64) -> f64 {
        self.pressure(litres * self.at_one_atm + self.at_surface) - self.surface_bar
    }

    fn pressure(&self, density: f64) -> f64 {
        match &self.law {
            Law::Ideal => density,
            Law::Real(state) => state.pressure(density),
        }
    }

    /// By the secant between two densities, from that of an ideal gas on.
    fn density(&self, bar: f64) -> f64 {
        let Law::Real(state) = &self.law else {
            return bar;
        };
        let ideal = bar * KPA / (R * state.kelvin);
        let (mut one, mut other) = (ideal * 0.95, ideal);
        let (mut of_one, mut of_other) = (self.pressure(one) - bar, self.pressure(other) - bar);
        for _ in 0..ROUNDS {
            let next = other - of_other * (other - one) / (of_other - of_one);
            // Two that cannot be told apart: it is found.
            if !next.is_finite() || (next - other).abs() <= 1e-15 * other {
                break;
            }
            (one, of_one) = (other, of_other);
            (other, of_other) = (next, self.pressure(next) - bar);
        }
        other
    }
}

impl State {
    fn of(gas: Gas, kelvin: f64) -> Self {
        let shares = [gas.nitrogen, gas.oxygen, gas.helium];
        let (mut volume, mut temperature) = (0.0, 0.0);
        for (share, (density, critical)) in shares.iter().zip(CRITICAL) {
            volume += share * share / density;
            temperature += share * share * critical;
        }
        for (one, other, [bv, gv, bt, gt]) in PAIRS {
            let (one, other) = (shares[one], shares[other]);
            if one > 0.0 && other > 0.0 {
                let both = 2.0 * one * other * (one + other);
                volume += both * gv / (bv * one + other);
                temperature += both * gt / (bt * one + other);
            }
        }
        let tau = temperature / kelvin;
        let tables: [&[Term]; 3] = [&NITROGEN, &OXYGEN, &HELIUM];
        let mut terms = Vec::new();
        for (share, table) in shares.iter().zip(tables) {
            if *share > 0.0 {
                for (factor, of_density, of_tau, inner) in table {
                    terms.push((share * factor * tau.powf(*of_tau), *of_density, *inner));
                }
            }
        }
        Self {
            kelvin,
            reducing_density: 1.0 / volume,
            terms,
        }
    }

    /// `p = ρ·R·T·Z`, bar, with `Z = 1 + Σ n·δ^d·τ^t·e^(−δ^c)·(d − c·δ^c)`.
    fn pressure(&self, density: f64) -> f64 {
        let delta = density / self.reducing_density;
        let mut inner = [0.0; 8];
        let mut damped = [1.0; 8];
        let mut power = 1.0;
        for (inner, damped) in inner.iter_mut().zip(&mut damped).skip(1) {
            power *= delta;
            *inner = power;
            *damped = (-power).exp();
        }
        let mut z = 1.0;
        for (factor, of_density, c) in &self.terms {
            let index = usize::try_from(*c).unwrap_or_default();
            let (d, c) = (f64::from(*of_density), f64::from(*c));
            z += factor * delta.powi(*of_density) * damped[index] * (d - c * inner[index]);
        }
        density * R * self.kelvin * z / KPA
    }
}
