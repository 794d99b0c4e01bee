//! When on the way down and along nobody may go straight up.

use super::flight::Flight;
use super::schedule::Schedule;
use super::segment::{Moment, Segment};
use super::straight::is_no_stop;
use crate::quantity::{Depth, RunTime};
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
        for change in changes(rules, segment, &now, open) {
            if open {
                found.push(begin(change));
            } else if let Some(last) = found.last_mut() {
                last.to = change.run_time;
            }
            open = !open;
        }
        now = at(rules, segment, &now, segment.end);
    }
    if !open && let Some(last) = found.last_mut() {
        last.to = now.run_time;
    }
    found
}

/// The diver at a run time of a segment.
fn at(rules: &DiveRules, segment: &Segment, start: &Moment, run_time: RunTime) -> Moment {
    let mut flight = Flight::resume(rules, start, segment.gas);
    flight.go(segment.kind, segment.depth_at(run_time), run_time);
    flight.now
}

/// The moments of a segment at which the answer changes.
fn changes(rules: &DiveRules, segment: &Segment, start: &Moment, mut open: bool) -> Vec<Moment> {
    let end = at(rules, segment, start, segment.end);
    let level = segment.from == segment.to;
    let one_gas = start.tissues.know_nitrogen_alone(segment.gas);
    let open_at_end = is_no_stop(rules, &end);
    // On a level with one inert gas each compartment goes one way: it is over its limit from some
    // moment on, or up to one, or never.
    let pieces = if level && one_gas && open {
        1.0
    } else {
        (segment.time().as_min() / PIECE_MIN)
            .ceil()
            .clamp(1.0, MOST_PIECES)
    };
    if level && one_gas && open && open_at_end {
        return Vec::new();
    }
    let mut changes = Vec::new();
    let mut from = segment.start;
    let mut piece = 1.0;
    while piece <= pieces {
        let to = segment.start + segment.time() * (piece / pieces);
        let here = at(rules, segment, start, to);
        if is_no_stop(rules, &here) != open {
            let (mut same, mut other) = (from, to);
            for _ in 0..HALVINGS {
                let middle = same.halfway_to(other);
                if is_no_stop(rules, &at(rules, segment, start, middle)) == open {
                    same = middle;
                } else {
                    other = middle;
                }
            }
            changes.push(at(rules, segment, start, other));
            open = !open;
        }
        from = to;
        piece += 1.0;
    }
    changes
}
