//! The straight way up.

use super::error::ScheduleError;
use super::flight::Flight;
use super::segment::{Moment, Segment, SegmentKind};
use crate::quantity::Depth;
use crate::rules::{DiveRules, SafetyStop};
use crate::tissue::Tissues;

/// Tissues on surfacing after a straight ascent on the bottom gas.
pub(crate) fn surfacing_direct(rules: &DiveRules, from: &Moment) -> Tissues {
    let flight = Flight::resume(rules, from, rules.bottom_gas);
    flight.trial(Depth::SURFACE, rules.ascent.rate).tissues
}

/// Whether a straight ascent surfaces with every compartment within the high factor.
pub(crate) fn is_no_stop(rules: &DiveRules, from: &Moment) -> bool {
    surfacing_direct(rules, from).are_within(
        &rules.compartments,
        rules.environment.surface(),
        rules.factors.high(),
    )
}

/// A straight ascent on the bottom gas without any stop: an emergency, never a plan.
pub(crate) fn ascend_without_stops(rules: &DiveRules, from: &Moment) -> Vec<Segment> {
    let mut flight = Flight::resume(rules, from, rules.bottom_gas);
    flight.travel(SegmentKind::Ascent, Depth::SURFACE, rules.ascent.rate);
    flight.segments
}

/// A straight ascent on the bottom gas with the safety stop alone, whatever the tissues say: the
/// least that a reserve must hold where stage cylinders are planned, never a plan.
pub(crate) fn ascend_with_safety_stop_alone(rules: &DiveRules, from: &Moment) -> Vec<Segment> {
    let mut flight = Flight::resume(rules, from, rules.bottom_gas);
    make_safety_stop(rules, &mut flight);
    flight.travel(SegmentKind::Ascent, Depth::SURFACE, rules.ascent.rate);
    flight.segments
}

/// Flies straight up with the safety stop.
pub(super) fn straight(rules: &DiveRules, flight: &mut Flight<'_>) -> Result<(), ScheduleError> {
    let rate = rules.ascent.rate;
    if let Some(stop) = make_safety_stop(rules, flight) {
        let arrival = flight.trial(Depth::SURFACE, rate);
        let surface = rules.environment.surface();
        let high = rules.factors.high();
        if let Some(excess) = arrival
            .tissues
            .worst_excess(&rules.compartments, surface, high)
        {
            return Err(ScheduleError::SafetyStopOverloads {
                depth: stop.depth,
                excess,
            });
        }
    }
    flight.travel(SegmentKind::Ascent, Depth::SURFACE, rate);
    Ok(())
}

/// Goes to the safety stop and stays its time; gives the stop, unless the dive is too shallow for
/// it.
fn make_safety_stop(rules: &DiveRules, flight: &mut Flight<'_>) -> Option<SafetyStop> {
    let stop = rules.ascent.safety_stop?;
    let went_deeper = flight.now.deepest.is_below(stop.depth);
    let is_above = flight.now.depth.is_above(stop.depth);
    (went_deeper && !is_above).then(|| {
        flight.travel(SegmentKind::Ascent, stop.depth, rules.ascent.rate);
        let leave = flight.now.run_time + stop.time;
        flight.hold_until(SegmentKind::SafetyStop, leave);
        stop
    })
}
