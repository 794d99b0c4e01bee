//! The tissues through a dive: what each compartment holds, may hold, and how shallow it lets
//! the diver go.

use super::ceiling::compartment_ceiling;
use super::factor::FactorLine;
use super::flight::Flight;
use super::schedule::Schedule;
use super::segment::Moment;
use crate::quantity::{Depth, Pressure, RunTime, Time};
use crate::rules::DiveRules;
use crate::site::Mix;
use crate::tissue::{COMPARTMENTS, Gradient, WATER_VAPOUR_BAR};
use serde::Serialize;

/// One compartment at one moment.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct CompartmentSample {
    /// Inert gas in it.
    pub inert_bar: f64,
    /// What it may hold here under the factor in force.
    pub limit_bar: f64,
    /// Its M-value here.
    pub m_value_bar: f64,
    /// Its M-value at the surface, with the gases held now.
    pub surface_m_value_bar: f64,
    /// What it may hold at the surface under the high factor, with the gases held now.
    pub surface_limit_bar: f64,
    /// Gradient in use, a fraction: `(p − P)/(M(P) − P)`.
    pub gradient: f64,
    /// The shallowest depth that it lets the diver go to at once; 0 where that is the surface.
    pub ceiling: Depth,
}

/// The diver at one moment.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Sample {
    /// Run time.
    pub run_time: RunTime,
    /// Depth.
    pub depth: Depth,
    /// Gas breathed up to this moment.
    pub gas: Mix,
    /// Ambient pressure.
    pub ambient: Pressure,
    /// Inert gas in what is breathed; see [`inspired_inert`].
    pub inspired: Pressure,
    /// 16 compartments, fastest first.
    pub compartments: [CompartmentSample; COMPARTMENTS],
    /// The deepest of the compartments' ceilings.
    pub ceiling: Depth,
    /// The greatest gradient in use and where.
    pub leading: Gradient,
}

/// Inert gas in the lung, nitrogen and helium together: what every compartment tends to.
///
/// ```text
/// p_in = (P − 0.0627)·(f_N2 + f_He)      p_in, P: bar
/// ```
/// `P`: ambient pressure; 0.0627 bar is the lung's water vapour, [`WATER_VAPOUR_BAR`]; `f`: share
/// of the gas in the mix.
///
/// # Example
/// ```
/// use hangbar::site::Mix;
/// use hangbar::dive::inspired_inert;
/// use hangbar::quantity::Pressure;
/// let trimix: Mix = "21/35".parse()?;
/// let inspired = inspired_inert(trimix, Pressure::from_bar(2.0627));
/// assert!((inspired.as_bar() - 1.58).abs() < 1e-12);
/// # Ok::<(), hangbar::site::MixError>(())
/// ```
#[must_use]
pub fn inspired_inert(mix: Mix, ambient: Pressure) -> Pressure {
    let inert = mix.nitrogen() + mix.helium();
    Pressure::from_bar((ambient.as_bar() - WATER_VAPOUR_BAR) * inert)
}

/// Why there is no trace.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum TraceError {
    /// The step is nothing, or makes more samples than anybody wants.
    #[error("a step of {0} min gives no trace; accepted: 0.1 min to 60 min")]
    Step(f64),
    /// No dive lasts so long.
    #[error("a run time of {0} min is none of a dive; accepted: 0 min to 1,000,000 min")]
    RunTime(f64),
}

/// No dive lasts longer, min.
const MOST_MINUTES: f64 = 1e6;

/// Least and greatest step, min.
pub const STEP_MIN: std::ops::RangeInclusive<f64> = 0.1..=60.0;

/// Samples a dive from the surface on, at every multiple of a step and at the end of every
/// segment.
///
/// # Errors
/// [`TraceError::Step`] unless the step is in [`STEP_MIN`].
///
/// # Example
/// ```
/// use hangbar::rules::{DiveRules, Level};
/// use hangbar::dive::fly;
/// use hangbar::tissue::Tissues;
/// use hangbar::dive::trace;
/// use hangbar::quantity::{Depth, Time};
///
/// let rules = DiveRules::default();
/// let clean = Tissues::clean(rules.environment.surface());
/// let level = Level { depth: Depth::from_m(18.0), time: Time::from_min(20.0) };
/// let dive = fly(&rules, &clean, &[level])?;
/// let samples = trace(&rules, &dive, Time::from_min(1.0))?;
/// assert_eq!(samples[0].depth, Depth::from_m(0.0));
/// assert!(samples.iter().all(|sample| sample.ceiling <= sample.depth));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn trace(
    rules: &DiveRules,
    schedule: &Schedule,
    step: Time,
) -> Result<Vec<Sample>, TraceError> {
    if !STEP_MIN.contains(&step.as_min()) {
        return Err(TraceError::Step(step.as_min()));
    }
    let minutes = schedule.run_time().as_min();
    if !(0.0..=MOST_MINUTES).contains(&minutes) {
        return Err(TraceError::RunTime(minutes));
    }
    let factor = schedule.factors;
    let mut samples = vec![sample(rules, factor, &schedule.start, rules.bottom_gas)];
    // Multiples, not sums, so that the steps do not drift.
    let mut steps_taken = 0_u32;
    for (segment, start, end) in schedule.flown() {
        loop {
            let next = RunTime::SPLASH + step * f64::from(steps_taken + 1);
            let inside = segment.end.is_after(next);
            let target = if inside { next } else { segment.end };
            let mut flight = Flight::resume(rules, start, segment.gas);
            if inside {
                flight.go(segment.kind, segment.depth_at(target), target);
            }
            let now = if inside { &flight.now } else { end };
            samples.push(sample(rules, factor, now, segment.gas));
            if !next.is_after(target) {
                steps_taken += 1;
            }
            if !inside {
                break;
            }
        }
    }
    Ok(samples)
}

fn sample(rules: &DiveRules, factor: FactorLine, now: &Moment, gas: Mix) -> Sample {
    let set = &rules.compartments;
    let ambient = rules.environment.ambient(now.depth);
    let surface = rules.environment.surface();
    let in_force = factor.at(now.depth);
    let compartments = std::array::from_fn(|index| {
        let inert_bar = now.tissues.loading(index).total_bar();
        let m_value_bar = now.tissues.limit_bar(set, index, ambient, 1.0);
        CompartmentSample {
            inert_bar,
            limit_bar: now.tissues.limit_bar(set, index, ambient, in_force),
            m_value_bar,
            surface_m_value_bar: now.tissues.limit_bar(set, index, surface, 1.0),
            surface_limit_bar: now.tissues.limit_bar(set, index, surface, factor.high()),
            gradient: (inert_bar - ambient.as_bar()) / (m_value_bar - ambient.as_bar()),
            ceiling: compartment_ceiling(rules, factor, &now.tissues, index),
        }
    });
    let deepest = |deepest: Depth, row: &CompartmentSample| deepest.max(row.ceiling);
    Sample {
        run_time: now.run_time,
        depth: now.depth,
        gas,
        ambient,
        inspired: inspired_inert(gas, ambient),
        ceiling: compartments.iter().fold(Depth::from_m(0.0), deepest),
        leading: now.tissues.gradient(set, ambient),
        compartments,
    }
}
