//! When on the way down and along nobody may go straight up.

use super::flight::Flight;
use super::schedule::Schedule;
use super::segment::{Moment, Segment};
use super::straight::{StraightUp, is_no_stop};
use crate::quantity::{Depth, RunTime, Time};
use crate::rules::DiveRules;
use serde::Serialize;

/// A stretch is looked at in pieces no longer than this, minutes.
const PIECE_MIN: f64 = 0.25;
/// And in no more pieces than this.
const MOST_PIECES: f64 = 400.0;
/// Halvings of a piece in which the answer changes: 2⁻⁴⁰ of it is far below a second.
const HALVINGS: u32 = 40;

/// Run times between which a straight ascent would surface above the high gradient factor.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct NotStraightUp {
    /// From when on.
    pub from: RunTime,
    /// Until when; the end of the bottom time where the dive ends so.
    pub to: RunTime,
    /// Depth at which it begins.
    pub depth: Depth,
}

/// Every stretch of the way down and along from which nobody may go straight up, in order.
///
/// A dive that is a no-stop dive at its end may hold one: a deep level stayed at too long, before
/// a shallow one that lets the gas off again. Changes are found to a small part of a second;
/// with two inert gases a stretch shorter than a quarter of a minute (or than a 400th of its
/// segment) may be missed.
pub(crate) fn not_straight_up(rules: &DiveRules, schedule: &Schedule) -> Vec<NotStraightUp> {
    let mut now = schedule.start;
    let mut open = is_no_stop(rules, &now);
    let mut found: Vec<NotStraightUp> = Vec::new();
    let begin = |at: Moment| NotStraightUp {
        from: at.run_time,
        to: at.run_time,
        depth: at.depth,
    };
    if !open {
        found.push(begin(now));
    }
    for segment in &schedule.way_down {
        let stretch = Stretch::new(rules, *segment, now);
        for change in stretch.changes(open) {
            if open {
                found.push(begin(change));
            } else if let Some(last) = found.last_mut() {
                last.to = change.run_time;
            }
            open = !open;
        }
        now = stretch.at(segment.end);
    }
    if !open && let Some(last) = found.last_mut() {
        last.to = now.run_time;
    }
    found
}

/// A segment in which the answer may change.
struct Stretch<'a> {
    rules: &'a DiveRules,
    segment: Segment,
    start: Moment,
    /// The way up from it, where it is a level.
    level: Option<StraightUp<'a>>,
}

impl<'a> Stretch<'a> {
    fn new(rules: &'a DiveRules, segment: Segment, start: Moment) -> Self {
        let gases = [segment.gas, rules.bottom_gas];
        let helium = gases.map(|gas| !start.tissues.know_nitrogen_alone(gas));
        let straight_up = || StraightUp::from(rules, segment.from, helium.contains(&true));
        Self {
            rules,
            segment,
            start,
            level: (segment.from == segment.to).then(straight_up),
        }
    }

    /// The diver at a run time.
    fn at(&self, run_time: RunTime) -> Moment {
        let mut flight = Flight::resume(self.rules, &self.start, self.segment.gas);
        flight.go(self.segment.kind, self.segment.depth_at(run_time), run_time);
        flight.now
    }

    fn is_open(&self, at: &Moment) -> bool {
        match &self.level {
            Some(straight_up) => straight_up.is_open(&at.tissues),
            None => is_no_stop(self.rules, at),
        }
    }

    /// The moments at which the answer changes, given the one at the start.
    fn changes(&self, mut open: bool) -> Vec<Moment> {
        let segment = &self.segment;
        // On a level with one inert gas each compartment goes one way: it is over its limit from
        // some moment on, or up to one, or never.
        let one_way = self.level.is_some() && self.start.tissues.know_nitrogen_alone(segment.gas);
        let pieces = if one_way && open {
            1
        } else {
            pieces_of(segment.time())
        };
        let piece_ends =
            |piece: u32| segment.start + segment.time() * (f64::from(piece) / f64::from(pieces));
        let mut changes = Vec::new();
        let (mut known, mut here, mut stride) = (0, self.start, 1);
        while known < pieces {
            let piece = pieces.min(known + stride);
            let there = self.at(piece_ends(piece));
            if stride > 1 && !self.surely(open, &here, &there) {
                stride /= 2;
                continue;
            }
            if stride == 1 && self.is_open(&there) != open {
                changes.push(self.change(here.run_time, there.run_time, open));
                open = !open;
            }
            (known, here) = (piece, there);
            stride = if self.level.is_some() { stride * 2 } else { 1 };
        }
        changes
    }

    /// Whether the answer is surely the same all the way between two moments of a level: between
    /// them each gas of a compartment lies between those of the two.
    fn surely(&self, open: bool, from: &Moment, to: &Moment) -> bool {
        let Some(straight_up) = &self.level else {
            return false;
        };
        let (set, high) = (&self.rules.compartments, self.rules.factors.high());
        let surface = self.rules.environment.surface();
        let [from, to] = [from, to].map(|moment| straight_up.surfacing(&moment.tissues));
        if open {
            return from.most(&to).are_within(set, surface, high);
        }
        let excess = from.worst_excess(set, surface, high);
        excess.is_some_and(|excess| from.are_over_between(&to, excess.index, set, surface, high))
    }

    /// Where the answer changes between two moments.
    fn change(&self, mut same: RunTime, mut other: RunTime, open: bool) -> Moment {
        for _ in 0..HALVINGS {
            let middle = same.halfway_to(other);
            if self.is_open(&self.at(middle)) == open {
                same = middle;
            } else {
                other = middle;
            }
        }
        self.at(other)
    }
}

/// In how many pieces a stretch is looked at.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to a few hundred"
)]
fn pieces_of(time: Time) -> u32 {
    (time.as_min() / PIECE_MIN).ceil().clamp(1.0, MOST_PIECES) as u32
}
