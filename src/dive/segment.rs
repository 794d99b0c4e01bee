//! A dive as plain data: moments, and the segments between them.

use crate::quantity::{ATM_BAR, AtmMinutes, Depth, DepthChange, RunTime, Time};
use crate::site::{Environment, Mix};
use crate::tissue::Tissues;
use serde::Serialize;

/// What happens during a segment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
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
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Segment {
    /// What happens.
    pub kind: SegmentKind,
    /// Depth at its start.
    pub from: Depth,
    /// Depth at its end.
    pub to: Depth,
    /// Run time at its start.
    pub start: RunTime,
    /// Run time at its end.
    pub end: RunTime,
    /// Gas breathed.
    pub gas: Mix,
}

impl Segment {
    /// How long it lasts.
    #[must_use]
    pub fn time(&self) -> Time {
        self.end - self.start
    }

    /// How far it goes down; on the way up less than nothing.
    #[must_use]
    pub fn change(&self) -> DepthChange {
        self.to - self.from
    }

    /// Depth at a run time between its ends.
    #[must_use]
    pub fn depth_at(&self, run_time: RunTime) -> Depth {
        let share = (run_time - self.start).as_min() / self.time().as_min();
        self.from + self.change() * share
    }

    /// The segment in equal pieces no longer than a time.
    pub(crate) fn pieces(&self, longest: Time) -> Vec<Self> {
        let count = (self.time().as_min() / longest.as_min()).ceil().max(1.0);
        let at = |share: f64| {
            (
                self.start + self.time() * share,
                self.from + self.change() * share,
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
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Moment {
    /// Run time.
    pub run_time: RunTime,
    /// Depth.
    pub depth: Depth,
    /// Deepest depth so far.
    pub deepest: Depth,
    /// Tissues.
    pub tissues: Tissues,
}

impl Moment {
    /// On leaving the surface.
    #[must_use]
    pub const fn splash(tissues: Tissues) -> Self {
        Self {
            run_time: RunTime::SPLASH,
            depth: Depth::from_m(0.0),
            deepest: Depth::from_m(0.0),
            tissues,
        }
    }
}
