//! Why a stop ends when it does: the way on from it a minute early, and as planned.

use super::schedule::Schedule;
use super::segment::{Moment, Segment, SegmentKind};
use crate::quantity::{Depth, RunTime, Time};
use crate::rules::DiveRules;
use crate::tissue::{Excess, Tissues};

const MINUTE: Time = Time::from_min(1.0);

/// Leaving a stop at some minute: what would be there on arriving at the next level.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Departure {
    /// Run time of leaving.
    pub leave: RunTime,
    /// Tissues then.
    pub leaving: Tissues,
    /// Tissues on arriving at the next level.
    pub arriving: Tissues,
    /// What bars the way up; `None` where it is open.
    pub barred_by: Option<Excess>,
    /// The compartment that bars it, 0 to 15; where none does, the one nearest to its limit.
    pub compartment: usize,
}

/// Why a stop lasts as long as it does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum StopReason {
    /// A minute earlier the way up is barred.
    Barred,
    /// It is the anchor: the low factor barred the way up here first, and somebody has to stop
    /// where it does.
    Anchor,
    /// The tissues would let go earlier; the plan's safety stop holds.
    SafetyStop,
    /// The way up was open on arriving: it is made for the plan's safety stop alone.
    Chosen,
}

/// A stop of a finished dive and what decides when it ends.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Stop {
    /// Its segment.
    pub segment: Segment,
    /// The diver when it begins.
    pub start: Moment,
    /// Depth of the next level up.
    pub next: Depth,
    /// The gradient factor there.
    pub factor: f64,
    /// Why it lasts as long as it does.
    pub reason: StopReason,
    /// Leaving a minute early, or at once where the stop is shorter.
    pub early: Departure,
    /// Leaving as planned.
    pub planned: Departure,
}

/// The stops of a dive flown by these rules, safety stops included, in order.
#[must_use]
pub fn stops(rules: &DiveRules, schedule: &Schedule) -> Vec<Stop> {
    let flown = schedule.flown();
    let stops = flown.filter(|(segment, ..)| segment.kind.is_stop());
    stops
        .map(|(segment, start, _)| stop(rules, schedule, *segment, *start))
        .collect()
}

fn stop(rules: &DiveRules, schedule: &Schedule, segment: Segment, start: Moment) -> Stop {
    let next = rules.ascent.next_depth(segment.from);
    let factor = schedule.factors.at(next);
    let (set, gas) = (&rules.compartments, segment.gas);
    let ambient = |depth| rules.environment.ambient(depth);
    let (here, there) = (ambient(segment.from), ambient(next));
    let climb = rules.ascent.time_up(segment.from, next);
    let departure = |leave: RunTime| {
        let held = leave - segment.start;
        let leaving = start.tissues.after(set, gas, here, here, held);
        let arriving = leaving.after(set, gas, here, there, climb);
        let barred_by = arriving.worst_excess(set, there, factor);
        Departure {
            leave,
            leaving,
            arriving,
            barred_by,
            compartment: barred_by.map_or_else(
                || arriving.gradient(set, there).index,
                |excess| excess.index,
            ),
        }
    };
    let early = departure((segment.end - MINUTE).max(segment.start));
    let is_anchor = schedule
        .anchor()
        .is_some_and(|anchor| anchor.is_at(segment.from));
    let reason = if segment.kind == SegmentKind::SafetyStop {
        StopReason::Chosen
    } else if early.barred_by.is_some() {
        StopReason::Barred
    } else if is_anchor && !segment.time().is_over(MINUTE) {
        StopReason::Anchor
    } else {
        StopReason::SafetyStop
    };
    Stop {
        segment,
        start,
        next,
        factor,
        reason,
        early,
        planned: departure(segment.end),
    }
}
