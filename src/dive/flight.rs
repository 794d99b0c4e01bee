//! A dive under way: moments, the segments between them, and how one is flown.

use crate::plan::DiveRules;
use crate::quantity::{ATM_BAR, AtmMinutes, Depth, Speed, Time};
use crate::site::Environment;
use crate::site::Mix;
use crate::tissue::{Excess, Tissues};

/// Run times closer than this are the same moment: minutes.
pub const SAME_MOMENT_MIN: f64 = 1e-9;

/// What happens during a segment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SegmentKind {
    /// Going deeper.
    Descent,
    /// Holding a level of the profile.
    Level,
    /// Going shallower.
    Ascent,
    /// Held because the tissues bar the way up.
    Stop,
    /// Held for the safety stop alone.
    SafetyStop,
    /// The pause in which a gas is switched.
    Switch,
}

/// A stretch of the dive with one gas and a depth that is constant or changes linearly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// What happens.
    pub kind: SegmentKind,
    /// Depth at its start.
    pub from: Depth,
    /// Depth at its end.
    pub to: Depth,
    /// Run time at its start.
    pub start: Time,
    /// Run time at its end.
    pub end: Time,
    /// Gas breathed.
    pub gas: Mix,
}

impl Segment {
    /// How long it lasts.
    #[must_use]
    pub fn time(&self) -> Time {
        self.end - self.start
    }

    /// The segment in equal pieces no longer than a time.
    pub(crate) fn pieces(&self, longest: Time) -> Vec<Self> {
        let count = (self.time().as_min() / longest.as_min()).ceil().max(1.0);
        let at = |share: f64| {
            (
                self.start + self.time() * share,
                self.from + (self.to - self.from) * share,
            )
        };
        let mut pieces = Vec::new();
        let mut piece = 0.0;
        while piece < count {
            let ((start, from), (end, to)) = (at(piece / count), at((piece + 1.0) / count));
            pieces.push(Self {
                from,
                to,
                start,
                end,
                ..*self
            });
            piece += 1.0;
        }
        pieces
    }

    /// Ambient pressure in atmospheres integrated over the segment.
    ///
    /// ```text
    /// (P_from + P_to)/2 / 1.01325 · minutes
    /// ```
    #[must_use]
    pub fn exposure(&self, environment: &Environment) -> AtmMinutes {
        let ends = environment.ambient(self.from).as_bar() + environment.ambient(self.to).as_bar();
        AtmMinutes::from_atm_min(ends / 2.0 / ATM_BAR * self.time().as_min())
    }
}

/// The diver at one moment of a dive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// Run time.
    pub run_time: Time,
    /// Depth.
    pub depth: Depth,
    /// Deepest depth so far.
    pub deepest: Depth,
    /// Tissues.
    pub tissues: Tissues,
}

/// Why a dive cannot be scheduled.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ScheduleError {
    /// There is no level to dive to.
    #[error("a dive needs at least one level")]
    NoLevel,
    /// A level ends before it is reached.
    #[error(
        "level {number} lasts {:.1} min, but the travel to it alone takes {:.1} min",
        .time.as_min(), .travel.as_min()
    )]
    LevelTooShort {
        /// Number of the level, from 1.
        number: usize,
        /// Time it was given.
        time: Time,
        /// Time that the travel takes.
        travel: Time,
    },
    /// The tissues never let the diver go on.
    #[error(
        "the stop at {:.1} m does not clear within {bound_min} min: compartment {} holds {:.3} bar \
         of inert gas and may arrive at {:.1} m with {:.3} bar",
        .depth.as_m(), .excess.index + 1, .excess.total_bar, .next.as_m(), .excess.limit_bar
    )]
    StopCannotClear {
        /// Depth of the stop.
        depth: Depth,
        /// Depth that cannot be gone on to.
        next: Depth,
        /// The compartment that bars the way, on arrival at `next`.
        excess: Excess,
        /// Minutes after which the hold is given up.
        bound_min: u32,
    },
    /// A no-stop dive whose safety stop takes up too much gas.
    #[error(
        "the safety stop at {:.1} m takes up gas: compartment {} would surface with {:.3} bar of \
         inert gas where the high gradient factor allows {:.3} bar",
        .depth.as_m(), .excess.index + 1, .excess.total_bar, .excess.limit_bar
    )]
    SafetyStopOverloads {
        /// Depth of the safety stop.
        depth: Depth,
        /// The compartment over its limit at the surface.
        excess: Excess,
    },
}

/// Adds a segment; neighbouring ascents on one gas with no pause between them become one.
pub(super) fn push(segments: &mut Vec<Segment>, segment: Segment) {
    if let Some(last) = segments.last_mut()
        && last.kind == SegmentKind::Ascent
        && segment.kind == SegmentKind::Ascent
        && last.gas.is_same_gas(segment.gas)
    {
        last.to = segment.to;
        last.end = segment.end;
    } else {
        segments.push(segment);
    }
}

/// A dive under way: where the diver is, and the segments flown so far.
#[derive(Clone, Debug)]
pub(crate) struct Flight<'a> {
    rules: &'a DiveRules,
    pub(crate) now: Moment,
    pub(crate) gas: Mix,
    pub(crate) segments: Vec<Segment>,
}

impl<'a> Flight<'a> {
    pub(crate) fn start(rules: &'a DiveRules, tissues: &Tissues) -> Self {
        let surface = Moment {
            run_time: Time::from_min(0.0),
            depth: Depth::from_m(0.0),
            deepest: Depth::from_m(0.0),
            tissues: *tissues,
        };
        Self::resume(rules, &surface, rules.bottom_gas)
    }

    pub(crate) fn resume(rules: &'a DiveRules, from: &Moment, gas: Mix) -> Self {
        Self {
            rules,
            now: *from,
            gas,
            segments: Vec::new(),
        }
    }

    /// Where the diver would be after travelling to a depth; nothing is flown yet.
    pub(crate) fn trial(&self, to: Depth, rate: Speed) -> Moment {
        let distance = (to.as_m() - self.now.depth.as_m()).abs();
        let time = Time::from_min(distance / rate.as_m_min());
        self.moment_after(to, self.now.run_time + time, time)
    }

    /// Travels to a depth.
    pub(crate) fn travel(&mut self, kind: SegmentKind, to: Depth, rate: Speed) {
        let arrival = self.trial(to, rate);
        self.take(kind, arrival);
    }

    /// Flies to a moment that [`Flight::trial`] gave.
    pub(crate) fn take(&mut self, kind: SegmentKind, arrival: Moment) {
        let segment = Segment {
            kind,
            from: self.now.depth,
            to: arrival.depth,
            start: self.now.run_time,
            end: arrival.run_time,
            gas: self.gas,
        };
        self.now = arrival;
        if segment.time().as_min() > SAME_MOMENT_MIN {
            push(&mut self.segments, segment);
        }
    }

    /// Holds the depth until a run time; does nothing where that is now or past.
    pub(crate) fn hold_until(&mut self, kind: SegmentKind, end: Time) {
        self.go(kind, self.now.depth, end);
    }

    /// Goes to a depth, arriving at a run time.
    pub(crate) fn go(&mut self, kind: SegmentKind, to: Depth, end: Time) {
        let time = end - self.now.run_time;
        let arrival = self.moment_after(to, end, time);
        self.take(kind, arrival);
    }

    fn moment_after(&self, to: Depth, run_time: Time, time: Time) -> Moment {
        let environment = &self.rules.environment;
        let tissues = self.now.tissues.after(
            &self.rules.compartments,
            self.gas,
            environment.ambient(self.now.depth),
            environment.ambient(to),
            time,
        );
        Moment {
            run_time,
            depth: to,
            deepest: self.now.deepest.max(to),
            tissues,
        }
    }
}
