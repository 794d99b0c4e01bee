//! A whole dive: levels in, timed segments out.

use super::ascent::ascend;
use super::bottom::{CeilingBreach, check, fly_bottom};
use super::error::ScheduleError;
use super::factor::FactorLine;
use super::flight::Flight;
use super::segment::{Moment, Segment, SegmentKind};
use super::straight::{ascend_without_stops, is_no_stop, surfacing_direct};
use crate::quantity::{Depth, RunTime, Time};
use crate::rules::{DiveRules, Level};
use crate::site::Mix;
use crate::tissue::{Gradient, Tissues};
use serde::Serialize;

/// A finished dive from the surface back to it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Schedule {
    /// The diver on leaving the surface.
    pub start: Moment,
    /// Segments in order of time, without gaps.
    pub segments: Vec<Segment>,
    /// The diver at the end of each segment.
    pub ends: Vec<Moment>,
    /// The part before leaving the last level.
    pub way_down: Vec<Segment>,
    /// The part after it. Where a rise to the last level goes straight on, `segments` holds both
    /// as one.
    pub way_up: Vec<Segment>,
    /// From leaving the surface to leaving the last level.
    pub bottom_time: Time,
    /// The diver on arriving at each level, in order.
    pub arrivals: Vec<Moment>,
    /// The diver on leaving each level, in order.
    pub level_ends: Vec<Moment>,
    /// Rises between levels that pass the low-factor ceiling.
    pub breaches: Vec<CeilingBreach>,
    /// Whether stops are compulsory: the direct ascent does not pass the high factor.
    pub staged: bool,
    /// The gradient factor over the depths.
    pub factors: FactorLine,
    /// Tissues on surfacing.
    pub tissues: Tissues,
    /// Greatest gradient in use on surfacing.
    pub surfacing: Gradient,
}

/// Everything that is done at one depth of the way up without moving.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pause<'s> {
    /// Its depth.
    pub depth: Depth,
    /// Run time at which it begins.
    pub arrive: RunTime,
    /// Run time at which it ends.
    pub leave: RunTime,
    /// Its segments, in order; at least one.
    pub segments: &'s [Segment],
}

impl Pause<'_> {
    /// The gas that is switched to there.
    #[must_use]
    pub fn switched_to(&self) -> Option<Mix> {
        let mut segments = self.segments.iter();
        let switch = segments.find(|segment| segment.kind == SegmentKind::Switch);
        switch.map(|switch| switch.gas)
    }

    /// How long it lasts.
    #[must_use]
    pub fn time(&self) -> Time {
        self.leave - self.arrive
    }
}

impl Schedule {
    /// Run time of leaving the last level.
    #[must_use]
    pub fn leave_bottom(&self) -> RunTime {
        RunTime::SPLASH + self.bottom_time
    }

    /// Run time of surfacing.
    #[must_use]
    pub fn run_time(&self) -> RunTime {
        self.segments.last().map_or(RunTime::SPLASH, |s| s.end)
    }

    /// First depth from which the way up was barred.
    #[must_use]
    pub const fn anchor(&self) -> Option<Depth> {
        self.factors.anchor()
    }

    /// Deepest depth.
    #[must_use]
    pub fn deepest(&self) -> Depth {
        let ends = self.level_ends.iter();
        ends.fold(Depth::SURFACE, |deepest, end| deepest.max(end.deepest))
    }

    /// The last level of the profile.
    #[must_use]
    pub fn last_depth(&self) -> Depth {
        let last = self.level_ends.last();
        last.map_or(Depth::SURFACE, |end| end.depth)
    }

    /// Each segment with the diver at its start and at its end.
    pub fn flown(&self) -> impl Iterator<Item = (&Segment, &Moment, &Moment)> {
        let starts = std::iter::once(&self.start).chain(&self.ends);
        let flown = self.segments.iter().zip(starts).zip(&self.ends);
        flown.map(|((segment, start), end)| (segment, start, end))
    }

    /// The pauses of the way up: stops, safety stops and gas switches.
    pub fn pauses(&self) -> impl Iterator<Item = &Segment> + Clone {
        self.way_up.iter().filter(|segment| segment.kind.is_pause())
    }

    /// The pauses of the whole dive, levels included, each depth's together.
    pub fn pauses_by_depth(&self) -> impl Iterator<Item = Pause<'_>> {
        let bottom = self.leave_bottom();
        // Leaving the bottom is a moment of its own, even where the stop is as deep.
        let together = move |one: &Segment, next: &Segment| {
            one.kind.is_level() && next.kind.is_level() && !one.end.is_at(bottom)
        };
        let runs = self.segments.chunk_by(together);
        runs.filter_map(|segments| {
            let (first, last) = segments.first().zip(segments.last())?;
            first.kind.is_level().then_some(Pause {
                depth: first.from,
                arrive: first.start,
                leave: last.end,
                segments,
            })
        })
    }

    /// Time of the stops of the way up, safety stops included, gas switches not.
    #[must_use]
    pub fn time_at_stops(&self) -> Time {
        time_at_stops(&self.way_up)
    }

    /// Time of all pauses of the way up.
    #[must_use]
    pub fn stop_time(&self) -> Time {
        self.pauses().map(Segment::time).sum()
    }

    /// Depth of the first stop of any kind; `None` where there is none but a gas switch.
    #[must_use]
    pub fn first_stop(&self) -> Option<Depth> {
        let stop = self.way_up.iter().find(|segment| segment.kind.is_stop());
        stop.map(|stop| stop.from)
    }

    /// When the last pause of the way up ends; surfacing where there is none.
    #[must_use]
    pub fn last_pause_ends(&self) -> RunTime {
        let last = self.pauses().last();
        last.map_or(self.run_time(), |pause| pause.end)
    }
}

/// Time of the stops of a way up, safety stops included, gas switches not.
pub(crate) fn time_at_stops(way_up: &[Segment]) -> Time {
    let stops = way_up.iter().filter(|segment| segment.kind.is_stop());
    stops.map(Segment::time).sum()
}

impl SegmentKind {
    /// Whether it is a stop or a safety stop; a gas switch is none.
    #[must_use]
    pub const fn is_stop(self) -> bool {
        matches!(self, Self::Stop | Self::SafetyStop)
    }

    /// Whether it is a pause of a way up: a stop, a safety stop or a gas switch.
    #[must_use]
    pub const fn is_pause(self) -> bool {
        self.is_stop() || matches!(self, Self::Switch)
    }

    /// Whether the depth stays the same.
    #[must_use]
    pub const fn is_level(self) -> bool {
        !matches!(self, Self::Ascent | Self::Descent)
    }
}

/// Flies a whole dive from the surface back to it.
///
/// # Errors
/// [`ScheduleError::OutOfRange`] unless every level is 0.3 m to 200 m deep and lasts at most a day,
/// the rules are such as a plan may have, and the tissues are those of a diver;
/// [`ScheduleError::NoLevel`]; [`ScheduleError::LevelTooShort`] unless each level's time is at least
/// its travel; [`ScheduleError::StopCannotClear`] where a stop would last longer than 9,999 min;
/// [`ScheduleError::SafetyStopOverloads`].
///
/// # Example
/// ```
/// use hangbar::dive::{ScheduleError, fly};
/// use hangbar::rules::{DiveRules, Level};
/// use hangbar::quantity::{Depth, Time};
/// use hangbar::tissue::Tissues;
///
/// let rules = DiveRules::default();
/// let clean = Tissues::clean(rules.environment.surface());
/// let level = Level { depth: Depth::from_m(18.0), time: Time::from_min(40.0) };
/// let dive = fly(&rules, &clean, &[level])?;
/// assert!(!dive.staged);
/// # Ok::<(), ScheduleError>(())
/// ```
pub fn fly(
    rules: &DiveRules,
    start: &Tissues,
    levels: &[Level],
) -> Result<Schedule, ScheduleError> {
    check(rules, start, levels)?;
    fly_checked(rules, start, levels)
}

/// Down, along and straight up without a stop, whatever the tissues say: the segments, and the
/// tissues on surfacing. A trial, never a plan; `None` where there is no way down and along.
pub(crate) fn fly_straight_up(
    rules: &DiveRules,
    start: &Tissues,
    levels: &[Level],
) -> Option<(Vec<Segment>, Tissues)> {
    let bottom = fly_bottom(rules, start, levels).ok()?;
    let leaving = bottom.level_ends.last()?;
    let surfacing = surfacing_direct(rules, leaving);
    let mut segments = bottom.segments;
    segments.extend(ascend_without_stops(rules, leaving));
    Some((segments, surfacing))
}

/// Whether nobody has to stop on the way up from the last level.
pub(crate) fn ends_straight_up(rules: &DiveRules, start: &Tissues, levels: &[Level]) -> bool {
    let bottom = fly_bottom(rules, start, levels);
    bottom.is_ok_and(|bottom| {
        let leaving = bottom.level_ends.last();
        leaving.is_some_and(|leaving| is_no_stop(rules, leaving))
    })
}

/// As [`fly`], for what has been checked.
pub(crate) fn fly_checked(
    rules: &DiveRules,
    start: &Tissues,
    levels: &[Level],
) -> Result<Schedule, ScheduleError> {
    let bottom = fly_bottom(rules, start, levels)?;
    let leaving = bottom.level_ends.last().ok_or(ScheduleError::NoLevel)?;
    let way_up = ascend(rules, leaving)?;
    let mut whole = Flight::start(rules, start);
    whole.expect(bottom.segments.len() + way_up.segments.len());
    whole.append(&bottom.segments, &bottom.ends);
    whole.append(&way_up.segments, &way_up.ends);
    let tissues = whole.now.tissues;
    let surface = rules.environment.surface();
    Ok(Schedule {
        start: Moment::splash(*start),
        segments: whole.segments,
        ends: whole.ends,
        way_down: bottom.segments,
        way_up: way_up.segments,
        bottom_time: leaving.run_time.elapsed(),
        arrivals: bottom.arrivals,
        level_ends: bottom.level_ends,
        breaches: bottom.breaches,
        staged: way_up.staged,
        factors: way_up.factors,
        surfacing: tissues.gradient(&rules.compartments, surface),
        tissues,
    })
}
