//! The straight way up.

use super::error::ScheduleError;
use super::flight::Flight;
use super::segment::{Moment, Segment, SegmentKind};
use crate::quantity::Depth;
use crate::rules::{DiveRules, SafetyStop};
use crate::tissue::{Exchange, Leg, Tissues};

/// The straight ascent from one depth on the bottom gas, ready for many tissues.
pub(crate) struct StraightUp<'a> {
    rules: &'a DiveRules,
    pub(super) exchange: Exchange,
    pub(super) leg: Leg,
}

impl<'a> StraightUp<'a> {
    /// From a depth; helium is left out where none is in play.
    pub(crate) fn from(rules: &'a DiveRules, depth: Depth, helium: bool) -> Self {
        let environment = &rules.environment;
        let time = rules.ascent.time_up(depth, Depth::SURFACE);
        Self {
            rules,
            exchange: Exchange::over(&rules.compartments, time, helium),
            leg: Leg {
                mix: rules.bottom_gas,
                from: environment.ambient(depth),
                to: environment.surface(),
            },
        }
    }

    /// From where a diver is.
    fn of(rules: &'a DiveRules, from: &Moment) -> Self {
        let helium = !from.tissues.know_nitrogen_alone(rules.bottom_gas);
        Self::from(rules, from.depth, helium)
    }

    /// Tissues on surfacing.
    pub(crate) fn surfacing(&self, leaving: &Tissues) -> Tissues {
        self.exchange.after(leaving, &self.leg)
    }

    /// Whether every compartment surfaces within the high factor.
    pub(crate) fn is_open(&self, leaving: &Tissues) -> bool {
        self.surfacing(leaving).are_within(
            &self.rules.compartments,
            self.rules.environment.surface(),
            self.rules.factors.high(),
        )
    }
}

/// Tissues on surfacing after a straight ascent on the bottom gas.
pub(crate) fn surfacing_direct(rules: &DiveRules, from: &Moment) -> Tissues {
    StraightUp::of(rules, from).surfacing(&from.tissues)
}

/// Whether a straight ascent surfaces with every compartment within the high factor.
pub(crate) fn is_no_stop(rules: &DiveRules, from: &Moment) -> bool {
    StraightUp::of(rules, from).is_open(&from.tissues)
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
