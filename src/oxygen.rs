//! What the dive does with oxygen: the doses.

use crate::dive::Segment;
use crate::rules::Start;
use crate::site::{Environment, oxygen_pressure};
use serde::Serialize;

/// Oxygen pressure below which neither dose grows, atm.
const THRESHOLD_ATM: f64 = 0.5;
/// Exponent of the lung dose.
const OTU_EXPONENT: f64 = 5.0 / 6.0;
/// Ramps shorter than this are taken at their middle: the closed form would divide by nearly
/// nothing. atm.
const LEVEL_RAMP_ATM: f64 = 1e-6;

/// Oxygen pressure in atm and the minutes that a single exposure to it may last.
///
/// Source: NOAA Diving Manual, normal exposure oxygen limits (Table 15.1).
pub const SINGLE_EXPOSURE: [(f64, f64); 11] = [
    (0.6, 720.0),
    (0.7, 570.0),
    (0.8, 450.0),
    (0.9, 360.0),
    (1.0, 300.0),
    (1.1, 240.0),
    (1.2, 210.0),
    (1.3, 180.0),
    (1.4, 150.0),
    (1.5, 120.0),
    (1.6, 45.0),
];

/// Share of the single-exposure limit used up in a minute at an oxygen pressure in atm.
///
/// `1/limit` at each row of [`SINGLE_EXPOSURE`], linear in between, falling from the first row to
/// 0 at 0.5 atm, and the last row's above it.
#[must_use]
pub fn cns_rate_per_min(po2_atm: f64) -> f64 {
    if po2_atm.is_nan() {
        return f64::NAN;
    }
    for ((low, low_rate), (high, high_rate)) in cns_pieces() {
        if po2_atm < low {
            return 0.0;
        }
        if po2_atm <= high {
            return low_rate + (high_rate - low_rate) * (po2_atm - low) / (high - low);
        }
    }
    1.0 / SINGLE_EXPOSURE[SINGLE_EXPOSURE.len() - 1].1
}

/// The straight pieces of the rate below the last row, as (pressure, rate) at both ends.
fn cns_pieces() -> impl Iterator<Item = ((f64, f64), (f64, f64))> {
    let knot = |index: usize| {
        let (po2, limit) = SINGLE_EXPOSURE[index];
        (po2, 1.0 / limit)
    };
    let first = std::iter::once(((THRESHOLD_ATM, 0.0), knot(0)));
    first.chain((1..SINGLE_EXPOSURE.len()).map(move |index| (knot(index - 1), knot(index))))
}

/// Integral of the CNS rate from 0 to an oxygen pressure, exactly: trapezoids.
fn cns_integral(po2_atm: f64) -> f64 {
    let mut sum = 0.0;
    let mut last = (0.0, 0.0);
    for ((low, low_rate), (high, high_rate)) in cns_pieces() {
        let top = po2_atm.clamp(low, high);
        let top_rate = low_rate + (high_rate - low_rate) * (top - low) / (high - low);
        sum += (top - low) * f64::midpoint(low_rate, top_rate);
        last = (high, high_rate);
    }
    sum + (po2_atm - last.0).max(0.0) * last.1
}

/// Lung dose of a minute at an oxygen pressure in atm.
///
/// ```text
/// ((PO2 − 0.5)/0.5)^(5/6)      OTU/min   PO2: atm; nothing at or below 0.5 atm
/// ```
/// # Source
/// J. M. Clark, C. J. Lambertsen (1970/71), as printed in Asakura, *Textbook of Internal
/// Medicine*, 12th ed., digital appendix, figure 2-1-2.
#[must_use]
pub fn otu_rate_per_min(po2_atm: f64) -> f64 {
    if po2_atm.is_nan() {
        return f64::NAN;
    }
    ((po2_atm - THRESHOLD_ATM).max(0.0) / THRESHOLD_ATM).powf(OTU_EXPONENT)
}

/// `∫ ((p − 0.5)/0.5)^(5/6) dp = 3/11 · ((p − 0.5)/0.5)^(11/6)`
fn otu_integral(po2_atm: f64) -> f64 {
    let above = (po2_atm - THRESHOLD_ATM).max(0.0) / THRESHOLD_ATM;
    THRESHOLD_ATM / (OTU_EXPONENT + 1.0) * above.powf(OTU_EXPONENT + 1.0)
}

/// Mean of a rate over a linear ramp of oxygen pressure, from the rate and its integral.
fn ramp_mean(from: f64, to: f64, rate: fn(f64) -> f64, integral: fn(f64) -> f64) -> f64 {
    if (to - from).abs() < LEVEL_RAMP_ATM {
        rate(f64::midpoint(from, to))
    } else {
        (integral(to) - integral(from)) / (to - from)
    }
}

/// Oxygen doses of a dive.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
#[non_exhaustive]
pub struct OxygenExposure {
    /// Greatest oxygen pressure on any gas, bar.
    pub max_po2_bar: f64,
    /// Share of the single-exposure limits used, per cent.
    pub cns_pct: f64,
    /// Lung dose, OTU.
    pub otu: f64,
}

impl OxygenExposure {
    /// With what the day has brought before.
    #[must_use]
    pub fn on_top_of(self, start: &Start) -> Self {
        Self {
            cns_pct: start.cns_pct + self.cns_pct,
            otu: start.otu + self.otu,
            ..self
        }
    }

    /// Of each figure the higher of two.
    #[must_use]
    pub fn most(self, other: Self) -> Self {
        Self {
            max_po2_bar: self.max_po2_bar.max(other.max_po2_bar),
            cns_pct: self.cns_pct.max(other.cns_pct),
            otu: self.otu.max(other.otu),
        }
    }

    /// Both doses integrated along the segments, ramps in closed form.
    #[must_use]
    pub fn of(environment: &Environment, segments: &[Segment]) -> Self {
        let mut sum = Self::default();
        for segment in segments {
            let po2 = |depth| oxygen_pressure(environment, segment.gas, depth).as_atm();
            let (from, to) = (po2(segment.from), po2(segment.to));
            let minutes = segment.time().as_min();
            sum.cns_pct += 100.0 * minutes * ramp_mean(from, to, cns_rate_per_min, cns_integral);
            sum.otu += minutes * ramp_mean(from, to, otu_rate_per_min, otu_integral);
            let deepest = segment.from.max(segment.to);
            let peak = oxygen_pressure(environment, segment.gas, deepest).as_bar();
            sum.max_po2_bar = sum.max_po2_bar.max(peak);
        }
        sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ramp_integrals_match_a_fine_sum() {
        const SLICES: u32 = 200_000;
        const SLICE_ERROR: f64 = 1e-9;
        for (from, to) in [
            (0.21, 1.7),
            (1.7, 0.3),
            (0.55, 0.58),
            (1.2, 1.65),
            (0.1, 0.4),
        ] {
            for (rate, integral) in [
                (
                    cns_rate_per_min as fn(f64) -> f64,
                    cns_integral as fn(f64) -> f64,
                ),
                (otu_rate_per_min, otu_integral),
            ] {
                let slice = |i: u32| from + (to - from) * (f64::from(i) + 0.5) / f64::from(SLICES);
                let sum: f64 = (0..SLICES).map(|i| rate(slice(i))).sum();
                let want = sum / f64::from(SLICES);
                let got = ramp_mean(from, to, rate, integral);
                assert!(
                    (got - want).abs() < SLICE_ERROR,
                    "{from} to {to}: {got}, want {want}"
                );
            }
        }
    }
}
