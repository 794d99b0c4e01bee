//! The way up: straight with a safety stop on a no-stop dive, otherwise level by level.

use super::flight::{Flight, Moment, SAME_MOMENT_MIN, ScheduleError, Segment, SegmentKind};
use crate::plan::DiveRules;
use crate::plan::SafetyStop;
use crate::quantity::{Depth, Time};
use crate::site::Mix;
use crate::tissue::{Excess, Step, Tissues};

/// Greatest oxygen pressure of a gas that is switched to, bar.
///
/// 1.6 ata and a gauge's width: the trade breathes oxygen at 6 m and 20 ft.
pub const DECOMPRESSION_PO2_BAR: f64 = 1.63;
/// A hold longer than this many minutes is given up.
const HOLD_BOUND_MIN: u32 = 9_999;
/// Depths closer than this share of a stop level are the same level.
const SAME_LEVEL: f64 = 1e-9;
const SURFACE: Depth = Depth::from_m(0.0);

/// The way up from one moment to the surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Ascent {
    /// Segments in order of time.
    pub segments: Vec<Segment>,
    /// Whether it had to be staged.
    pub staged: bool,
    /// First depth from which the way up was barred.
    pub anchor: Option<Depth>,
    /// Tissues on surfacing.
    pub tissues: Tissues,
}

/// Tissues on surfacing after a straight ascent on the bottom gas.
#[must_use]
pub fn surfacing_direct(rules: &DiveRules, from: &Moment) -> Tissues {
    let flight = Flight::resume(rules, from, rules.bottom_gas);
    flight.trial(SURFACE, rules.ascent.rate).tissues
}

/// Whether a straight ascent surfaces with every compartment within the high factor.
#[must_use]
pub fn is_no_stop(rules: &DiveRules, from: &Moment) -> bool {
    surfacing_direct(rules, from).are_within(
        &rules.compartments,
        rules.environment.surface(),
        rules.factors.high(),
    )
}

/// A straight ascent on the bottom gas without any stop: an emergency, never a plan.
#[must_use]
pub fn ascend_without_stops(rules: &DiveRules, from: &Moment) -> Vec<Segment> {
    let mut flight = Flight::resume(rules, from, rules.bottom_gas);
    flight.travel(SegmentKind::Ascent, SURFACE, rules.ascent.rate);
    flight.segments
}

/// The way up as it is planned: straight with the safety stop where the straight ascent passes
/// the high factor, otherwise staged.
///
/// # Errors
/// [`ScheduleError::StopCannotClear`], [`ScheduleError::SafetyStopOverloads`].
pub fn ascend(rules: &DiveRules, from: &Moment) -> Result<Ascent, ScheduleError> {
    let flight = Flight::resume(rules, from, rules.bottom_gas);
    if is_no_stop(rules, from) {
        straight(rules, flight)
    } else {
        Staged {
            rules,
            flight,
            anchor: None,
        }
        .fly()
    }
}

/// A straight ascent on the bottom gas with the safety stop alone, whatever the tissues say: the
/// least that a reserve must hold where stage cylinders are planned, never a plan.
#[must_use]
pub fn ascend_with_safety_stop_alone(rules: &DiveRules, from: &Moment) -> Vec<Segment> {
    let mut flight = Flight::resume(rules, from, rules.bottom_gas);
    make_safety_stop(rules, &mut flight);
    flight.travel(SegmentKind::Ascent, SURFACE, rules.ascent.rate);
    flight.segments
}

/// Goes to the safety stop and stays its time; gives the stop, unless the dive is too shallow for
/// it.
fn make_safety_stop(rules: &DiveRules, flight: &mut Flight<'_>) -> Option<SafetyStop> {
    let stop = rules.ascent.safety_stop?;
    let went_deeper = flight.now.deepest.as_m() > stop.depth.as_m() + SAME_LEVEL;
    let is_below = flight.now.depth.as_m() > stop.depth.as_m() - SAME_LEVEL;
    (went_deeper && is_below).then(|| {
        flight.travel(SegmentKind::Ascent, stop.depth, rules.ascent.rate);
        let leave = flight.now.run_time + stop.time;
        flight.hold_until(SegmentKind::SafetyStop, leave);
        stop
    })
}

fn straight(rules: &DiveRules, mut flight: Flight<'_>) -> Result<Ascent, ScheduleError> {
    let rate = rules.ascent.rate;
    if let Some(stop) = make_safety_stop(rules, &mut flight) {
        let arrival = flight.trial(SURFACE, rate);
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
    flight.travel(SegmentKind::Ascent, SURFACE, rate);
    Ok(Ascent {
        staged: false,
        anchor: None,
        tissues: flight.now.tissues,
        segments: flight.segments,
    })
}

/// A staged ascent under way.
struct Staged<'a> {
    rules: &'a DiveRules,
    flight: Flight<'a>,
    /// First depth from which the way was barred.
    anchor: Option<Depth>,
}

impl Staged<'_> {
    /// Level by level to the surface. Each turn goes one level up, so the number of turns is
    /// bounded by the number of levels.
    fn fly(mut self) -> Result<Ascent, ScheduleError> {
        let mut level = None; // the bottom is no level, even where it is as deep as one
        while self.flight.now.depth.as_m() > 0.0 {
            let arrival = self.flight.now;
            if let Some(level) = level {
                self.switch_gas(level);
            }
            let least = self.safety_hold_ends(&arrival, level);
            let next = self.rules.ascent.next_level(arrival.depth);
            let on_arrival = self.leave(next, least)?;
            self.flight.take(SegmentKind::Ascent, on_arrival);
            level = next;
        }
        Ok(Ascent {
            staged: true,
            anchor: self.anchor,
            tissues: self.flight.now.tissues,
            segments: self.flight.segments,
        })
    }

    /// Switches to the richest gas that may be breathed at a level, if it is richer than the one
    /// in use.
    fn switch_gas(&mut self, level: u32) {
        let richest = self
            .rules
            .decompression
            .iter()
            .filter(|gas| switch_level(self.rules, **gas).is_some_and(|deepest| level <= deepest))
            .fold(self.flight.gas, |best, gas| {
                if gas.is_richer_than(best) { *gas } else { best }
            });
        if richest.is_richer_than(self.flight.gas) {
            self.flight.gas = richest;
            let end = self.flight.now.run_time + self.rules.ascent.switch_time;
            self.flight.hold_until(SegmentKind::Switch, end);
        }
    }

    /// The whole minute before which the safety stop's level is not left.
    fn safety_hold_ends(&self, arrival: &Moment, level: Option<u32>) -> Option<f64> {
        let (safety_level, time) = self.rules.ascent.safety_level()?;
        let went_deeper = arrival.deepest.as_m() > self.rules.ascent.safety_stop?.depth.as_m();
        (level == Some(safety_level) && went_deeper).then(|| {
            let least = arrival.run_time + time;
            let now = self.flight.now.run_time;
            (least.max(now).as_min() - SAME_MOMENT_MIN).ceil()
        })
    }

    /// Holds at the anchor, where the way up is barred, or where the safety stop asks for it; gives
    /// the arrival at the next level.
    fn leave(
        &mut self,
        next: Option<u32>,
        safety_hold_ends: Option<f64>,
    ) -> Result<Moment, ScheduleError> {
        let next = next.map_or(SURFACE, |level| self.rules.ascent.level(level));
        let had_anchor = self.anchor.is_some();
        let on_arrival = self.ask(next);
        // The anchor is always a stop, even where the factor that it sets would open the way at
        // once: the low factor is worth nothing unless somebody stops where it bars.
        let is_anchor = self.anchor.is_some() && !had_anchor;
        let kind = if on_arrival.is_ok() && !is_anchor {
            SegmentKind::SafetyStop
        } else {
            SegmentKind::Stop
        };
        let now = self.flight.now.run_time.as_min();
        let safety_hold = safety_hold_ends.is_some_and(|end| end > now + SAME_MOMENT_MIN);
        if let Ok(arrival) = on_arrival
            && !is_anchor
            && !safety_hold
        {
            return Ok(arrival);
        }
        let next_minute = (now + SAME_MOMENT_MIN).floor() + 1.0;
        let first = next_minute.max(safety_hold_ends.unwrap_or(next_minute));
        self.hold(kind, next, first)
    }

    /// Holds from `first`, a whole minute, to the first whole minute from which the way on is
    /// open; gives the arrival at the next level.
    ///
    /// Minutes are tried with prepared steps, 9,999 of them at most; the one that passes is flown
    /// with the exact equation and asked again, and the search goes on should that say no.
    fn hold(
        &mut self,
        kind: SegmentKind,
        next: Depth,
        first: f64,
    ) -> Result<Moment, ScheduleError> {
        let rules = self.rules;
        let set = &rules.compartments;
        let hold_start = self.flight.clone();
        let here = rules.environment.ambient(hold_start.now.depth);
        let there = rules.environment.ambient(next);
        let climb_time = rules.ascent.direct_time(hold_start.now.depth - next);
        let gas = hold_start.gas;
        let minute = Step::new(set, gas, here, here, Time::from_min(1.0));
        let climb = Step::new(set, gas, here, there, climb_time);
        let until_first = Time::from_min(first) - hold_start.now.run_time;
        let mut tissues = hold_start
            .now
            .tissues
            .after(set, gas, here, here, until_first);
        let mut held = 0;
        loop {
            let excess = match self.barred_by(&climb.apply(&tissues), next) {
                Some(excess) => excess,
                None => {
                    self.flight = hold_start.clone();
                    let end = Time::from_min(first + f64::from(held));
                    self.flight.hold_until(kind, end);
                    match self.ask(next) {
                        Ok(arrival) => return Ok(arrival),
                        Err(excess) => excess,
                    }
                }
            };
            if held == HOLD_BOUND_MIN {
                return Err(ScheduleError::StopCannotClear {
                    depth: hold_start.now.depth,
                    next,
                    excess,
                    bound_min: HOLD_BOUND_MIN,
                });
            }
            held += 1;
            tissues = minute.apply(&tissues);
        }
    }

    /// May the diver go on to the next level?
    fn ask(&mut self, next: Depth) -> Result<Moment, Excess> {
        let arrival = self.flight.trial(next, self.rules.ascent.rate);
        match self.barred_by(&arrival.tissues, next) {
            None => Ok(arrival),
            Some(excess) => Err(excess),
        }
    }

    /// What bars the way to the next level, given the tissues on arrival there. The first depth
    /// from which something does becomes the anchor, and the question is asked again with the
    /// factor that then holds.
    fn barred_by(&mut self, on_arrival: &Tissues, next: Depth) -> Option<Excess> {
        let ambient = self.rules.environment.ambient(next);
        let excess = |factor| on_arrival.worst_excess(&self.rules.compartments, ambient, factor);
        let barred = excess(self.factor_at(next));
        if barred.is_some() && self.anchor.is_none() {
            self.anchor = Some(self.flight.now.depth);
            return excess(self.factor_at(next));
        }
        barred
    }

    /// ```text
    /// G(d) = high + (low − high)·d/anchor      low everywhere until there is an anchor
    /// ```
    fn factor_at(&self, depth: Depth) -> f64 {
        let (low, high) = (self.rules.factors.low(), self.rules.factors.high());
        self.anchor.map_or(low, |anchor| {
            high + (low - high) * depth.as_m() / anchor.as_m()
        })
    }
}

/// The deepest level at which a decompression gas may be breathed; `None` where no level is
/// shallow enough.
#[must_use]
pub fn switch_depth(rules: &DiveRules, gas: Mix) -> Option<Depth> {
    switch_level(rules, gas).map(|level| rules.ascent.level(level))
}

fn switch_level(rules: &DiveRules, gas: Mix) -> Option<u32> {
    let breathable = |level: u32| {
        let ambient = rules.environment.ambient(rules.ascent.level(level));
        ambient.as_bar() * gas.oxygen() <= DECOMPRESSION_PO2_BAR
    };
    let first = rules.ascent.last_level();
    // Oxygen pressure grows with depth: the levels that pass are the shallowest ones.
    (first..first + MOST_LEVELS)
        .take_while(|level| breathable(*level))
        .last()
}

/// More levels than any dive has: 400 × 3 m.
const MOST_LEVELS: u32 = 400;
