//! The way up level by level, where the tissues bar a straight one.

use super::error::ScheduleError;
use super::factor::FactorLine;
use super::flight::Flight;
use super::prepared::Prepared;
use super::segment::{Moment, SegmentKind};
use crate::quantity::{Depth, Pressure, RunTime, Time};
use crate::rules::DiveRules;
use crate::site::{GREATEST_PO2_BAR, Mix, oxygen_pressure};
use crate::tissue::{Climb, Excess, Leg, Tissues};

/// A hold longer than this many minutes is given up.
const HOLD_BOUND_MIN: u32 = 9_999;

/// A stop and a climb at each of a dozen levels.
const EXPECTED_SEGMENTS: usize = 24;

/// More levels than any dive has: 400 × 3 m.
const MOST_LEVELS: u32 = 400;

/// A staged ascent under way.
pub(super) struct Staged<'a, 'p> {
    rules: &'a DiveRules,
    flight: Flight<'a>,
    factors: FactorLine,
    prepared: &'p mut Prepared<'a>,
}

impl<'a, 'p> Staged<'a, 'p> {
    pub(super) fn from(prepared: &'p mut Prepared<'a>, mut flight: Flight<'a>) -> Self {
        flight.expect(EXPECTED_SEGMENTS);
        let rules = prepared.rules();
        Self {
            rules,
            factors: FactorLine::staged(rules.factors),
            prepared,
            flight,
        }
    }

    /// Level by level to the surface. Each turn goes one level up, so the number of turns is
    /// bounded by the number of levels.
    pub(super) fn fly(mut self) -> Result<(Flight<'a>, FactorLine), ScheduleError> {
        let mut level = None; // the bottom is no level, even where it is as deep as one
        while self.flight.now.depth > Depth::SURFACE {
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
        Ok((self.flight, self.factors))
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
    fn safety_hold_ends(&self, arrival: &Moment, level: Option<u32>) -> Option<RunTime> {
        let (safety_level, time) = self.rules.ascent.safety_level()?;
        let went_deeper = arrival.deepest.as_m() > self.rules.ascent.safety_stop?.depth.as_m();
        (level == Some(safety_level) && went_deeper).then(|| {
            let least = arrival.run_time + time;
            least.max(self.flight.now.run_time).whole_minute_up()
        })
    }

    /// Holds at the anchor, where the way up is barred, or where the safety stop asks for it; gives
    /// the arrival at the next level.
    fn leave(
        &mut self,
        next: Option<u32>,
        safety_hold_ends: Option<RunTime>,
    ) -> Result<Moment, ScheduleError> {
        let next = next.map_or(Depth::SURFACE, |level| self.rules.ascent.level(level));
        let had_anchor = self.factors.anchor().is_some();
        let on_arrival = self.ask(next);
        // The anchor is always a stop, even where the factor that it sets would open the way at
        // once: the low factor is worth nothing unless somebody stops where it bars.
        let is_anchor = self.factors.anchor().is_some() && !had_anchor;
        let kind = if on_arrival.is_ok() && !is_anchor {
            SegmentKind::SafetyStop
        } else {
            SegmentKind::Stop
        };
        let now = self.flight.now.run_time;
        let safety_hold = safety_hold_ends.is_some_and(|end| end.is_after(now));
        if let Ok(arrival) = on_arrival
            && !is_anchor
            && !safety_hold
        {
            return Ok(arrival);
        }
        let next_minute = now.next_whole_minute();
        let first = next_minute.max(safety_hold_ends.unwrap_or(next_minute));
        self.hold(kind, next, first)
    }

    /// Holds from `first`, a whole minute, to the first whole minute from which the way on is
    /// open; gives the arrival at the next level.
    ///
    /// A minute at which the way is barred is followed by those at which it surely is, see
    /// [`WholeMinutes::surely_barred`]; every other one is tried.
    fn hold(
        &mut self,
        kind: SegmentKind,
        next: Depth,
        first: RunTime,
    ) -> Result<Moment, ScheduleError> {
        let began = self.flight.now;
        let climb_time = self.rules.ascent.time_up(began.depth, next);
        let leg = self.leg_to(next);
        let stay = Leg {
            to: leg.from,
            ..leg
        };
        let until_first = self.prepared.over(first - began.run_time);
        let climb = self.prepared.over(climb_time);
        let mut tissues = self.prepared.get(until_first).after(&began.tissues, &stay);
        let mut held = 0;
        loop {
            let arriving = self.prepared.get(climb).after(&tissues, &leg);
            let Some(excess) = self.barred_by(&arriving, next) else {
                let leave = first + Time::from_min(f64::from(held));
                self.flight.take(
                    kind,
                    Moment {
                        run_time: leave,
                        tissues,
                        ..began
                    },
                );
                return Ok(Moment {
                    run_time: leave + climb_time,
                    depth: next,
                    tissues: arriving,
                    ..began
                });
            };
            let left = HOLD_BOUND_MIN - held;
            if left == 0 {
                return Err(ScheduleError::StopCannotClear {
                    depth: began.depth,
                    next,
                    excess,
                    bound_min: HOLD_BOUND_MIN,
                });
            }
            let factor = self.factors.at(next);
            let (exchange, minutes) = self.prepared.with_minutes(climb);
            let tried = Climb {
                leg,
                exchange,
                factor,
            };
            let barred = minutes.surely_barred(&tissues, excess.index, &tried, left);
            let on = left.min(barred + 1);
            tissues = minutes.stay(&tissues, leg.mix, leg.from, on);
            held += on;
        }
    }

    /// May the diver go on to the next level?
    fn ask(&mut self, next: Depth) -> Result<Moment, Excess> {
        let now = self.flight.now;
        let climb_time = self.rules.ascent.time_up(now.depth, next);
        let climb = self.prepared.over(climb_time);
        let leg = self.leg_to(next);
        let tissues = self.prepared.get(climb).after(&now.tissues, &leg);
        match self.barred_by(&tissues, next) {
            None => Ok(Moment {
                run_time: now.run_time + climb_time,
                depth: next,
                tissues,
                ..now
            }),
            Some(excess) => Err(excess),
        }
    }

    /// From here to a depth on the gas in use.
    fn leg_to(&self, depth: Depth) -> Leg {
        let environment = &self.rules.environment;
        Leg {
            mix: self.flight.gas,
            from: environment.ambient(self.flight.now.depth),
            to: environment.ambient(depth),
        }
    }

    /// What bars the way to the next level, given the tissues on arrival there. The first depth
    /// from which something does becomes the anchor, and the question is asked again with the
    /// factor that then holds.
    fn barred_by(&mut self, on_arrival: &Tissues, next: Depth) -> Option<Excess> {
        let ambient = self.rules.environment.ambient(next);
        let excess = |factor| on_arrival.worst_excess(&self.rules.compartments, ambient, factor);
        let barred = excess(self.factors.at(next));
        if barred.is_some() && self.factors.anchor().is_none() {
            self.factors = self.factors.anchored(self.flight.now.depth);
            return excess(self.factors.at(next));
        }
        barred
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
        let depth = rules.ascent.level(level);
        let po2 = oxygen_pressure(&rules.environment, gas, depth);
        po2.is_within(Pressure::from_bar(GREATEST_PO2_BAR))
    };
    let first = rules.ascent.last_level();
    // Oxygen pressure grows with depth: the levels that pass are the shallowest ones.
    (first..first + MOST_LEVELS)
        .take_while(|level| breathable(*level))
        .last()
}
