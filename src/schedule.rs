//! A dive as plain data: levels in, timed segments out; and the way down and along.

use crate::ascent::{self, AscentRules};
use crate::environment::Environment;
use crate::mix::Mix;
use crate::tissue::{CompartmentSet, Excess, Gradient, GradientFactors, Tissues};
use crate::units::{ATM_BAR, AtmMinutes, Depth, Speed, Time};

/// Run times closer than this are the same moment: minutes.
pub const SAME_MOMENT_MIN: f64 = 1e-9;
/// A rise between levels is looked at in so many steps.
const RISE_STEPS: u32 = 32;

/// A depth and how long it is held, the travel to it included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// Depth of the level.
    pub depth: Depth,
    /// Time from leaving the level before (or the surface) to leaving this one.
    pub time: Time,
}

/// Everything but the levels that decides a schedule.
#[derive(Clone, Debug, PartialEq)]
pub struct DiveRules {
    /// Water and air.
    pub environment: Environment,
    /// Tissue model.
    pub compartments: CompartmentSet,
    /// Gradient factors.
    pub factors: GradientFactors,
    /// Speed on the way down.
    pub descent_rate: Speed,
    /// The way up.
    pub ascent: AscentRules,
    /// Gas breathed down and along.
    pub bottom_gas: Mix,
    /// Gases that may be switched to on a staged ascent.
    pub decompression: Vec<Mix>,
}

impl Default for DiveRules {
    /// Air in sea water at sea level, factors 40/85, metric ascent rules.
    fn default() -> Self {
        Self {
            environment: Environment::default(),
            compartments: CompartmentSet::default(),
            factors: GradientFactors::default(),
            descent_rate: Speed::from_m_min(18.0),
            ascent: AscentRules::metric(),
            bottom_gas: Mix::AIR,
            decompression: Vec::new(),
        }
    }
}

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

/// A rise between two levels that passes the low-factor ceiling.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CeilingBreach {
    /// Level that the rise starts from.
    pub from: Depth,
    /// Level that it goes to.
    pub to: Depth,
    /// Depth at which the limit is passed by most.
    pub at: Depth,
    /// The compartment and its figures there.
    pub excess: Excess,
}

/// The way down and along, up to leaving the last level.
#[derive(Clone, Debug, PartialEq)]
pub struct Bottom {
    /// Segments in order of time.
    pub segments: Vec<Segment>,
    /// The diver on arriving at each level, in order.
    pub arrivals: Vec<Moment>,
    /// The diver on leaving each level, in order.
    pub level_ends: Vec<Moment>,
    /// Rises that pass the low-factor ceiling.
    pub breaches: Vec<CeilingBreach>,
}

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

/// Time to get from one depth to another: down at the descent rate, up at the ascent rate.
#[must_use]
pub fn level_travel(from: Depth, to: Depth, descent_rate: Speed, ascent_rate: Speed) -> Time {
    let down = to.as_m() - from.as_m();
    let rate = if down < 0.0 {
        ascent_rate
    } else {
        descent_rate
    };
    Time::from_min(down.abs() / rate.as_m_min())
}

/// Flies the levels: the way down and along, up to leaving the last level.
///
/// Down at the descent rate, up at the ascent rate; each level's time includes the travel to it.
///
/// # Errors
/// [`ScheduleError::NoLevel`]; [`ScheduleError::LevelTooShort`] unless each level's time is at
/// least its travel.
pub fn fly_bottom(
    rules: &DiveRules,
    start: &Tissues,
    levels: &[Level],
) -> Result<Bottom, ScheduleError> {
    let mut flight = Flight::start(rules, start);
    let mut arrivals = Vec::with_capacity(levels.len());
    let mut level_ends = Vec::with_capacity(levels.len());
    let mut breaches = Vec::new();
    let mut end_min = 0.0;
    for (index, level) in levels.iter().enumerate() {
        let from = flight.now;
        let rises = level.depth.as_m() < from.depth.as_m();
        let (kind, rate) = if rises {
            (SegmentKind::Ascent, rules.ascent.rate)
        } else {
            (SegmentKind::Descent, rules.descent_rate)
        };
        let travel = level_travel(
            from.depth,
            level.depth,
            rules.descent_rate,
            rules.ascent.rate,
        );
        if travel.as_min() > level.time.as_min() + SAME_MOMENT_MIN {
            return Err(ScheduleError::LevelTooShort {
                number: index + 1,
                time: level.time,
                travel,
            });
        }
        end_min += level.time.as_min();
        flight.travel(kind, level.depth, rate);
        if rises {
            breaches.extend(breach(rules, &from, level.depth));
        }
        arrivals.push(flight.now);
        flight.hold_until(SegmentKind::Level, Time::from_min(end_min));
        level_ends.push(flight.now);
    }
    if level_ends.is_empty() {
        return Err(ScheduleError::NoLevel);
    }
    Ok(Bottom {
        segments: flight.segments,
        arrivals,
        level_ends,
        breaches,
    })
}

/// Flies a whole dive from the surface back to it.
///
/// # Errors
/// As [`fly_bottom`]; [`ScheduleError::StopCannotClear`] where a stop would last longer than
/// 9,999 min; [`ScheduleError::SafetyStopOverloads`].
///
/// # Example
/// ```
/// use hangbar::schedule::{DiveRules, Level, fly};
/// use hangbar::tissue::Tissues;
/// use hangbar::units::{Depth, Time};
///
/// let rules = DiveRules::default();
/// let clean = Tissues::clean(rules.environment.surface());
/// let level = Level { depth: Depth::from_m(18.0), time: Time::from_min(40.0) };
/// let dive = fly(&rules, &clean, &[level])?;
/// assert!(!dive.staged);
/// # Ok::<(), hangbar::schedule::ScheduleError>(())
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

/// The worst passing of the low-factor limit on a rise that starts from `from`.
fn breach(rules: &DiveRules, from: &Moment, to: Depth) -> Option<CeilingBreach> {
    let rise = from.depth - to;
    let steps = (1..=RISE_STEPS).map(|step| rise * (f64::from(step) / f64::from(RISE_STEPS)));
    let mut worst: Option<CeilingBreach> = None;
    for risen in steps {
        let at = from.depth - risen;
        let mut trial = Flight::resume(rules, from, rules.bottom_gas);
        trial.travel(SegmentKind::Ascent, at, rules.ascent.rate);
        let ambient = rules.environment.ambient(at);
        let excess =
            trial
                .now
                .tissues
                .worst_excess(&rules.compartments, ambient, rules.factors.low());
        if let Some(excess) = excess {
            let over = |e: &Excess| e.total_bar - e.limit_bar;
            if worst.is_none_or(|known| over(&known.excess) < over(&excess)) {
                worst = Some(CeilingBreach {
                    from: from.depth,
                    to,
                    at,
                    excess,
                });
            }
        }
    }
    worst
}

/// Adds a segment; neighbouring ascents on one gas with no pause between them become one.
fn push(segments: &mut Vec<Segment>, segment: Segment) {
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
    fn start(rules: &'a DiveRules, tissues: &Tissues) -> Self {
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
