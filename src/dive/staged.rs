//! The way up level by level, where the tissues bar a straight one.

use super::error::ScheduleError;
use super::factor::FactorLine;
use super::flight::Flight;
use super::prepared::Prepared;
use super::segment::{Moment, SegmentKind};
use crate::quantity::{Depth, Pressure, RunTime, Time};
use crate::rules::DiveRules;
use crate::site::{GREATEST_PO2_BAR, Mix, oxygen_pressure};
use crate::tissue::{Climb, Excess, Leg};

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
    /// The diver on arriving at the next level, as it is tried.
    ahead: Moment,
}

impl<'a, 'p> Staged<'a, 'p> {
    pub(super) fn from(prepared: &'p mut Prepared<'a>, mut flight: Flight<'a>) -> Self {
        flight.expect(EXPECTED_SEGMENTS);
        let rules = prepared.rules();
        Self {
            rules,
            factors: FactorLine::staged(rules.factors),
            prepared,
            ahead: flight.now,
            flight,
        }
    }

    /// Level by level to the surface. Each turn goes one level up, so the number of turns is
    /// bounded by the number of levels.
    pub(super) fn fly(mut self) -> Result<(Flight<'a>, FactorLine), ScheduleError> {
        let mut level = None; // the bottom is no level, even where it is as deep as one
        while self.flight.now.depth > Depth::SURFACE {
            let arrived = self.flight.now.run_time;
            if let Some(level) = level {
                self.switch_gas(level);
            }
            let least = self.safety_hold_ends(arrived, level);
            let next = self.rules.ascent.next_level(self.flight.now.depth);
            self.leave(next, least)?;
            self.flight.take(SegmentKind::Ascent, &self.ahead);
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
    fn safety_hold_ends(&self, arrived: RunTime, level: Option<u32>) -> Option<RunTime> {
        let (safety_level, time) = self.rules.ascent.safety_level()?;
        let deepest = self.flight.now.deepest;
        let went_deeper = deepest.as_m() > self.rules.ascent.safety_stop?.depth.as_m();
        (level == Some(safety_level) && went_deeper).then(|| {
            let least = arrived + time;
            least.max(self.flight.now.run_time).whole_minute_up()
        })
    }

    /// Holds at the anchor, where the way up is barred, or where the safety stop asks for it; the
    /// arrival at the next level is then `ahead`.
    fn leave(
        &mut self,
        next: Option<u32>,
        safety_hold_ends: Option<RunTime>,
    ) -> Result<(), ScheduleError> {
        let next = next.map_or(Depth::SURFACE, |level| self.rules.ascent.level(level));
        let had_anchor = self.factors.anchor().is_some();
        let is_open = self.ask(next);
        // The anchor is always a stop, even where the factor that it sets would open the way at
        // once: the low factor is worth nothing unless somebody stops where it bars.
        let is_anchor = self.factors.anchor().is_some() && !had_anchor;
        let kind = if is_open && !is_anchor {
            SegmentKind::SafetyStop
        } else {
            SegmentKind::Stop
        };
        let now = self.flight.now.run_time;
        let safety_hold = safety_hold_ends.is_some_and(|end| end.is_after(now));
        if is_open && !is_anchor && !safety_hold {
            return Ok(());
        }
        let next_minute = now.next_whole_minute();
        let first = next_minute.max(safety_hold_ends.unwrap_or(next_minute));
        self.hold(kind, next, first)
    }

    /// Holds from `first`, a whole minute, to the first whole minute from which the way on is
    /// open; the arrival at the next level is then `ahead`.
    ///
    /// A minute at which the way is barred is followed by those at which it surely is, see
    /// [`WholeMinutes::surely_barred`]; every other one is tried.
    fn hold(
        &mut self,
        kind: SegmentKind,
        next: Depth,
        first: RunTime,
    ) -> Result<(), ScheduleError> {
        let Moment {
            run_time, depth, ..
        } = self.flight.now;
        let climb_time = self.rules.ascent.time_up(depth, next);
        let leg = self.leg_to(next);
        let stay = Leg {
            to: leg.from,
            ..leg
        };
        let until_first = self.prepared.over(first - run_time);
        let climb = self.prepared.over(climb_time);
        let began = &self.flight.now.tissues;
        let mut tissues = self.prepared.get(until_first).after(began, &stay);
        let mut held = 0;
        loop {
            let leave = first + Time::from_min(f64::from(held));
            let exchange = self.prepared.get(climb);
            exchange.after_into(&tissues, &leg, &mut self.ahead.tissues);
            (self.ahead.run_time, self.ahead.depth) = (leave + climb_time, next);
            let barred = self.is_barred(next);
            let Some(excess) = barred.then(|| self.excess(next)).flatten() else {
                self.flight.has_held(kind, leave, &tissues);
                return Ok(());
            };
            let left = HOLD_BOUND_MIN - held;
            if left == 0 {
                return Err(ScheduleError::StopCannotClear {
                    depth,
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
            minutes.stay(&mut tissues, leg.mix, leg.from, on);
            held += on;
        }
    }

    /// May the diver go on to the next level? The arrival there is then `ahead`.
    fn ask(&mut self, next: Depth) -> bool {
        let climb_time = self.rules.ascent.time_up(self.flight.now.depth, next);
        let climb = self.prepared.over(climb_time);
        let leg = self.leg_to(next);
        let (now, exchange) = (&self.flight.now, self.prepared.get(climb));
        exchange.after_into(&now.tissues, &leg, &mut self.ahead.tissues);
        (self.ahead.run_time, self.ahead.depth) = (now.run_time + climb_time, next);
        !self.is_barred(next)
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

    /// Whether anything bars the way to the next level, given the tissues on arrival there, `ahead`.
    /// The first depth from which something does becomes the anchor, and the question is asked again
    /// with the factor that then holds.
    fn is_barred(&mut self, next: Depth) -> bool {
        let (rules, tissues) = (self.rules, &self.ahead.tissues);
        let ambient = rules.environment.ambient(next);
        let within = |factor| tissues.are_within(&rules.compartments, ambient, factor);
        if within(self.factors.at(next)) {
            return false;
        }
        if self.factors.anchor().is_some() {
            return true;
        }
        self.factors = self.factors.anchored(self.flight.now.depth);
        !within(self.factors.at(next))
    }

    /// What bars it by most.
    fn excess(&self, next: Depth) -> Option<Excess> {
        let (rules, factor) = (self.rules, self.factors.at(next));
        let ambient = rules.environment.ambient(next);
        let tissues = &self.ahead.tissues;
        tissues.worst_excess(&rules.compartments, ambient, factor)
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
