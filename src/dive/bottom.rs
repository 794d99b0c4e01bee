//! The way down and along.

use super::error::ScheduleError;
use super::flight::Flight;
use super::segment::{Moment, Segment, SegmentKind};
use crate::quantity::{Depth, RunTime, UnitSystem};
use crate::rules::ranges::{DEPTH, STAY};
use crate::rules::{DiveRules, Level, OutOfRange, check_tissues, level_travel};
use crate::tissue::{Excess, Tissues};
use serde::Serialize;

/// A rise between levels is looked at in so many steps.
const RISE_STEPS: u32 = 32;

/// A rise between two levels that passes the low-factor ceiling.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CeilingBreach {
    /// Level that the rise starts from.
    pub from: Depth,
    /// Level that it goes to.
    pub to: Depth,
    /// Depth at which the limit is passed by most.
    pub at: Depth,
    /// The compartment and its figures there.
    pub excess: Excess,
}

/// The way down and along, up to leaving the last level.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Bottom {
    /// Segments in order of time.
    pub segments: Vec<Segment>,
    /// The diver at the end of each segment.
    pub ends: Vec<Moment>,
    /// The diver on arriving at each level, in order.
    pub arrivals: Vec<Moment>,
    /// The diver on leaving each level, in order.
    pub level_ends: Vec<Moment>,
    /// Rises that pass the low-factor ceiling.
    pub breaches: Vec<CeilingBreach>,
}

/// Refuses what the model is not asked for.
pub(super) fn check(
    rules: &DiveRules,
    start: &Tissues,
    levels: &[Level],
) -> Result<(), OutOfRange> {
    rules.check(UnitSystem::Metric)?;
    check_tissues(start)?;
    for level in levels {
        DEPTH.check(level.depth.as_m(), UnitSystem::Metric)?;
        STAY.check(level.time.as_min(), UnitSystem::Metric)?;
    }
    Ok(())
}

/// Flies the levels: the way down and along, up to leaving the last level.
///
/// Down at the descent rate, up at the ascent rate; each level's time includes the travel to it.
///
/// # Errors
/// [`ScheduleError::NoLevel`]; [`ScheduleError::LevelTooShort`] unless each level's time is at
/// least its travel.
pub(super) fn fly_bottom(
    rules: &DiveRules,
    start: &Tissues,
    levels: &[Level],
) -> Result<Bottom, ScheduleError> {
    let mut breaches = Vec::new();
    let bottom = fly_levels(rules, start, levels, |from, to| {
        breaches.extend(breach(rules, from, to));
    })?;
    Ok(Bottom { breaches, ..bottom })
}

/// Whether a rise between levels passes the low-factor ceiling.
pub(crate) fn passes_a_ceiling(rules: &DiveRules, start: &Tissues, levels: &[Level]) -> bool {
    let mut passes = false;
    // A rise passes by most at its end, or near it.
    let flown = fly_levels(rules, start, levels, |from, to| {
        passes = passes
            || may_pass(rules, from, to)
                && (1..=RISE_STEPS)
                    .rev()
                    .any(|step| excess_at(rules, from, risen(from, to, step)).is_some());
    });
    flown.is_ok() && passes
}

/// Flies the levels; `rise` is shown every rise between two, and who begins it. Breaches are left to it.
fn fly_levels(
    rules: &DiveRules,
    start: &Tissues,
    levels: &[Level],
    mut rise: impl FnMut(&Moment, Depth),
) -> Result<Bottom, ScheduleError> {
    let mut flight = Flight::start(rules, start);
    let mut arrivals = Vec::with_capacity(levels.len());
    let mut level_ends = Vec::with_capacity(levels.len());
    let mut end = RunTime::SPLASH;
    for (index, level) in levels.iter().enumerate() {
        let from = flight.now;
        let rises = level.depth < from.depth;
        let (kind, rate) = if rises {
            (SegmentKind::Ascent, rules.ascent.rate)
        } else {
            (SegmentKind::Descent, rules.descent_rate)
        };
        let travel = level_travel(
            from.depth,
            level.depth,
            rules.descent_rate,
            rules.ascent.rate,
        );
        if travel.is_over(level.time) {
            return Err(ScheduleError::LevelTooShort {
                number: index + 1,
                time: level.time,
                travel,
            });
        }
        end = end + level.time;
        flight.travel(kind, level.depth, rate);
        if rises {
            rise(&from, level.depth);
        }
        arrivals.push(flight.now);
        flight.hold_until(SegmentKind::Level, end);
        level_ends.push(flight.now);
    }
    if level_ends.is_empty() {
        return Err(ScheduleError::NoLevel);
    }
    Ok(Bottom {
        segments: flight.segments,
        ends: flight.ends,
        arrivals,
        level_ends,
        breaches: Vec::new(),
    })
}

/// Whether a rise may pass the low-factor limit: no more than a bound that costs little.
///
/// On the way nobody holds more than on leaving, or than the gas breathed there would give in the
/// end; who is within with that where the rise ends is so all the way, as limits grow with depth.
fn may_pass(rules: &DiveRules, from: &Moment, to: Depth) -> bool {
    let ambient = |depth| rules.environment.ambient(depth);
    let in_balance = Tissues::in_balance(rules.bottom_gas, ambient(from.depth));
    let most = from.tissues.most(&in_balance);
    !most.are_within(&rules.compartments, ambient(to), rules.factors.low())
}

/// Where a rise is at one of its steps.
fn risen(from: &Moment, to: Depth, step: u32) -> Depth {
    from.depth - (from.depth - to) * (f64::from(step) / f64::from(RISE_STEPS))
}

/// What is over the low-factor limit at a depth of a rise.
fn excess_at(rules: &DiveRules, from: &Moment, at: Depth) -> Option<Excess> {
    let mut trial = Flight::resume(rules, from, rules.bottom_gas);
    trial.travel(SegmentKind::Ascent, at, rules.ascent.rate);
    let ambient = rules.environment.ambient(at);
    let tissues = trial.now.tissues;
    tissues.worst_excess(&rules.compartments, ambient, rules.factors.low())
}

/// The worst passing of the low-factor limit on a rise that starts from `from`.
fn breach(rules: &DiveRules, from: &Moment, to: Depth) -> Option<CeilingBreach> {
    if !may_pass(rules, from, to) {
        return None;
    }
    let mut worst: Option<CeilingBreach> = None;
    for step in 1..=RISE_STEPS {
        let at = risen(from, to, step);
        if let Some(excess) = excess_at(rules, from, at) {
            let over = |e: &Excess| e.total_bar - e.limit_bar;
            if worst.is_none_or(|known| over(&known.excess) < over(&excess)) {
                worst = Some(CeilingBreach {
                    from: from.depth,
                    to,
                    at,
                    excess,
                });
            }
        }
    }
    worst
}
