//! A dive as plain data: levels in, timed segments out; and the way down and along.

use super::ascent;
use super::bottom::CeilingBreach;
use super::bottom::fly_bottom;
use super::flight::Moment;
use super::flight::ScheduleError;
use super::flight::Segment;
use super::flight::SegmentKind;
use super::flight::push;
use crate::plan::DiveRules;
use crate::plan::Level;
use crate::quantity::{Depth, Time};
use crate::tissue::{Gradient, Tissues};

/// A finished dive from the surface back to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Schedule {
    /// Segments in order of time, without gaps.
    pub segments: Vec<Segment>,
    /// The part before leaving the last level.
    pub way_down: Vec<Segment>,
    /// The part after it. Where a rise to the last level goes straight on, `segments` holds both
    /// as one.
    pub way_up: Vec<Segment>,
    /// Run time of leaving the last level.
    pub bottom_time: Time,
    /// The diver on arriving at each level, in order.
    pub arrivals: Vec<Moment>,
    /// The diver on leaving each level, in order.
    pub level_ends: Vec<Moment>,
    /// Rises between levels that pass the low-factor ceiling.
    pub breaches: Vec<CeilingBreach>,
    /// Whether stops are compulsory: the direct ascent does not pass the high factor.
    pub staged: bool,
    /// First depth from which the way up was barred.
    pub anchor: Option<Depth>,
    /// Tissues on surfacing.
    pub tissues: Tissues,
    /// Greatest gradient in use on surfacing.
    pub surfacing: Gradient,
}

impl Schedule {
    /// Run time of surfacing.
    #[must_use]
    pub fn run_time(&self) -> Time {
        self.segments.last().map_or(Time::from_min(0.0), |s| s.end)
    }

    /// Deepest depth.
    #[must_use]
    pub fn deepest(&self) -> Depth {
        let ends = self.level_ends.iter();
        ends.fold(Depth::from_m(0.0), |deepest, end| deepest.max(end.deepest))
    }

    /// The last level of the profile.
    #[must_use]
    pub fn last_depth(&self) -> Depth {
        let last = self.level_ends.last();
        last.map_or(Depth::from_m(0.0), |end| end.depth)
    }

    /// The pauses of the way up: stops, safety stops and gas switches.
    pub fn pauses(&self) -> impl Iterator<Item = &Segment> + Clone {
        let pauses = self.way_up.iter();
        pauses.filter(|segment| segment.kind != SegmentKind::Ascent)
    }

    /// Time of all pauses of the way up.
    #[must_use]
    pub fn stop_time(&self) -> Time {
        self.pauses().map(Segment::time).sum()
    }

    /// Depth of the first stop of any kind; `None` where there is none but a gas switch.
    #[must_use]
    pub fn first_stop(&self) -> Option<Depth> {
        let mut pauses = self.pauses();
        let stop = pauses.find(|pause| pause.kind != SegmentKind::Switch);
        stop.map(|stop| stop.from)
    }
}

/// Flies a whole dive from the surface back to it.
///
/// # Errors
/// As [`fly_bottom`]; [`ScheduleError::StopCannotClear`] where a stop would last longer than
/// 9,999 min; [`ScheduleError::SafetyStopOverloads`].
///
/// # Example
/// ```
/// use hangbar::plan::{DiveRules, Level};
/// use hangbar::dive::fly;
/// use hangbar::tissue::Tissues;
/// use hangbar::quantity::{Depth, Time};
///
/// let rules = DiveRules::default();
/// let clean = Tissues::clean(rules.environment.surface());
/// let level = Level { depth: Depth::from_m(18.0), time: Time::from_min(40.0) };
/// let dive = fly(&rules, &clean, &[level])?;
/// assert!(!dive.staged);
/// # Ok::<(), hangbar::dive::ScheduleError>(())
/// ```
pub fn fly(
    rules: &DiveRules,
    start: &Tissues,
    levels: &[Level],
) -> Result<Schedule, ScheduleError> {
    let bottom = fly_bottom(rules, start, levels)?;
    let leaving = bottom.level_ends.last().ok_or(ScheduleError::NoLevel)?;
    let way_up = ascent::ascend(rules, leaving)?;
    let mut segments = bottom.segments.clone();
    for segment in &way_up.segments {
        push(&mut segments, *segment);
    }
    let surfacing = way_up
        .tissues
        .gradient(&rules.compartments, rules.environment.surface());
    Ok(Schedule {
        segments,
        way_down: bottom.segments,
        way_up: way_up.segments,
        bottom_time: leaving.run_time,
        arrivals: bottom.arrivals,
        level_ends: bottom.level_ends,
        breaches: bottom.breaches,
        staged: way_up.staged,
        anchor: way_up.anchor,
        tissues: way_up.tissues,
        surfacing,
    })
}
