//! Oxygen by the referee: pressure and doses, by quadrature over the pressure.

use super::body::Gas;
use super::course::Rules;
use super::evidence::Evidence;
use super::objection::{Judged, Question, same};
use crate::dive::Segment;
use crate::oxygen::OxygenExposure;
use crate::rules::Start;

/// Doses agree to this, per cent and units.
const DOSE: f64 = 1e-8;
/// Pressures agree to this, bar.
const PRESSURE_BAR: f64 = 1e-9;
/// Gauss-Legendre quadrature of six points, those above the middle: place and weight. Source: Abramowitz
/// and Stegun, *Handbook of Mathematical Functions*, table 25.4.
const GAUSS: [(f64, f64); 3] = [
    (0.238_619_186_083_197, 0.467_913_934_572_691),
    (0.661_209_386_466_265, 0.360_761_573_048_139),
    (0.932_469_514_203_152, 0.171_324_492_379_170),
];

/// NOAA single-exposure limits: oxygen pressure (atm), minutes. Source: NOAA Diving Manual.
const LIMITS: [(f64, f64); 11] = [
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

/// Greatest pressure (bar), share of the single-exposure limits (per cent) and OTU.
#[derive(Clone, Copy, Debug)]
pub(super) struct Dose {
    peak_bar: f64,
    pub(super) cns_pct: f64,
    pub(super) otu: f64,
}

pub(super) fn judge(rules: &Rules<'_>, evidence: &Evidence<'_>) -> Judged {
    let plan = evidence.plan;
    let segments = &evidence.schedule.segments;
    let mut known: Vec<(Gas, Dose)> = Vec::new();
    let mut dose_on = |gas: Gas| {
        let found = known.iter().find(|(known, _)| known.is(gas));
        found.map(|(_, dose)| *dose).unwrap_or_else(|| {
            let dose = dose(rules, segments, gas);
            known.push((gas, dose));
            dose
        })
    };
    if plan.divers().is_empty() {
        let dose = dose_on(rules.bottom);
        return judge_dose(evidence.oxygen, dose, plan.start(), "the dive");
    }
    let mut most = Dose {
        peak_bar: 0.0,
        cns_pct: 0.0,
        otu: 0.0,
    };
    for (index, own) in evidence.own.iter().enumerate() {
        let start = plan.starts().get(index).unwrap_or(plan.start());
        let dose = dose_on(plan.gas_of(index).into());
        judge_dose(&own.oxygen, dose, start, &plan.divers()[index].name)?;
        most.peak_bar = most.peak_bar.max(dose.peak_bar);
        most.cns_pct = most.cns_pct.max(dose.cns_pct + start.cns_pct);
        most.otu = most.otu.max(dose.otu + start.otu);
    }
    let nothing = Start {
        tissues: plan.start().tissues,
        cns_pct: 0.0,
        otu: 0.0,
    };
    judge_dose(evidence.oxygen, most, &nothing, "the team")
}

fn judge_dose(said: &OxygenExposure, found: Dose, start: &Start, whose: &str) -> Judged {
    let pairs = [
        (
            "oxygen pressure",
            said.max_po2_bar,
            found.peak_bar,
            PRESSURE_BAR,
        ),
        (
            "CNS share",
            said.cns_pct,
            found.cns_pct + start.cns_pct,
            DOSE,
        ),
        ("OTU", said.otu, found.otu + start.otu, DOSE),
    ];
    pairs
        .into_iter()
        .try_for_each(|(what, said, found, distance)| {
            let distance = distance * said.abs().max(1.0);
            same(Question::Oxygen, said, found, distance, || {
                format!("{what} of {whose}")
            })
        })
}

/// Of segments, with another gas for the bottom gas.
pub(super) fn dose(rules: &Rules<'_>, segments: &[Segment], own: Gas) -> Dose {
    let mut sum = Dose {
        peak_bar: 0.0,
        cns_pct: 0.0,
        otu: 0.0,
    };
    for segment in segments {
        let gas = Gas::from(segment.gas);
        let gas = if gas.is(rules.bottom) { own } else { gas };
        let bar = |depth_m: f64| rules.ambient(depth_m) * gas.oxygen;
        let (from, to) = (bar(segment.from.as_m()), bar(segment.to.as_m()));
        let minutes = segment.end.as_min() - segment.start.as_min();
        let (from_atm, to_atm) = (from / 1.013_25, to / 1.013_25);
        sum.peak_bar = sum.peak_bar.max(from).max(to);
        sum.cns_pct += 100.0 * minutes * mean_cns(from_atm, to_atm);
        sum.otu += minutes * mean_otu(from_atm, to_atm);
    }
    sum
}

/// Share per minute.
fn cns(atm: f64) -> f64 {
    let mut below = (0.5, 0.0);
    if atm <= below.0 {
        return 0.0;
    }
    for (at, minutes) in LIMITS {
        let here = (at, 1.0 / minutes);
        if atm <= here.0 {
            return below.1 + (here.1 - below.1) * ((atm - below.0) / (here.0 - below.0));
        }
        below = here;
    }
    below.1
}

/// Mean over an even change of pressure: trapezia between the rows of the table, exact as the rate is
/// even between them.
fn mean_cns(from: f64, to: f64) -> f64 {
    let (low, high) = (from.min(to), from.max(to));
    if high - low < 1e-9 {
        return cns(f64::midpoint(low, high));
    }
    let knots = std::iter::once(0.5).chain(LIMITS.iter().map(|(at, _)| *at));
    let mut sum = 0.0;
    let mut here = low;
    for knot in knots.chain([high]) {
        let next = knot.clamp(here, high);
        sum += (next - here) * f64::midpoint(cns(here), cns(next));
        here = next;
    }
    sum / (high - low)
}

/// Mean over an even change of pressure. The rate `u^(5/6)` with `u = (PO2 − 0.5)/0.5` is steep
/// where it begins; with `u = s⁶` it is smooth: `∫ u^(5/6) du = ∫ 6·s¹⁰ ds`, exact by six points of Gauss.
fn mean_otu(from: f64, to: f64) -> f64 {
    let above = |atm: f64| ((atm - 0.5) / 0.5).max(0.0);
    let (low, high) = (from.min(to), from.max(to));
    if high - low < 1e-9 {
        return above(f64::midpoint(low, high)).powf(5.0 / 6.0);
    }
    let root = |atm: f64| above(atm).powf(1.0 / 6.0);
    let (first, last) = (root(low), root(high));
    let (middle, half) = (f64::midpoint(first, last), (last - first) / 2.0);
    let sum = GAUSS.iter().map(|(at, weight)| {
        let on = |at: f64| 6.0 * (middle + half * at).powi(10);
        weight * (on(*at) + on(-at))
    });
    sum.sum::<f64>() * half * 0.5 / (high - low)
}
