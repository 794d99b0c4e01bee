//! One recorded dive of one diver, worked out.

use super::breathing::{Breathed, Gauge, breathed, gauge_at};
use super::climb::{Rise, fastest, too_fast};
use super::error::DebriefError;
use super::flight::{Breach, Peak, flown};
use super::profile::Profile;
use crate::briefing::Briefing;
use crate::dive::{Schedule, Segment, fly_checked};
use crate::gas::main_exposure;
use crate::oxygen::OxygenExposure;
use crate::plan::{Plan, TimeOfDay, through};
use crate::quantity::{
    ATM_BAR, AtmMinutes, Depth, DepthChange, GaugePressure, Pressure, RunTime, Speed, Time,
};
use crate::record::{PencilLog, ReadingFault, SampledLog};
use crate::rules::{Level, Start};
use crate::site::{Charge, Environment, Mix};
use crate::tissue::Gradient;
use serde::Serialize;

/// Readings so far apart, or further, are a gap.
const GAP: Time = Time::from_min(5.0);
/// A pencil writes whole minutes.
pub(super) const WHOLE_MINUTES: Time = Time::from_min(1.0);
/// An average deeper by more is another dive than the planned one.
const DEEPER_ON_AVERAGE: DepthChange = DepthChange::from_m(0.5);
/// The bottom is left where it is left for good by more than this.
const BOTTOM_BAND: DepthChange = DepthChange::from_m(3.0);
/// Nobody sinks or rises faster, by so much at once: the logger jumps.
const JUMP_RATE: Speed = Speed::from_m_min(60.0);
const JUMP: DepthChange = DepthChange::from_m(3.0);

/// Where a recorded dive stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[non_exhaustive]
pub struct Source {
    /// The file as it was named.
    pub file: String,
    /// Line of its first moment, or of its table.
    pub line: u64,
    /// Which dive of the file, from 1.
    pub number: usize,
}

/// What was not recorded for a while.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Gap {
    /// Run time of the reading before it.
    pub start: RunTime,
    /// Run time of the reading after it.
    pub end: RunTime,
    /// Line of the reading after it.
    pub line: u64,
}

/// A depth that nobody travels to so fast.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Jump {
    /// Run time of the reading after it.
    pub run_time: RunTime,
    /// Depth before it.
    pub from: Depth,
    /// Depth after it.
    pub to: Depth,
    /// Line of the reading after it.
    pub line: u64,
}

/// A moment of a recorded dive with its ceiling.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Drawn {
    /// Run time.
    pub run_time: RunTime,
    /// Depth.
    pub depth: Depth,
    /// The ceiling, with the high factor.
    pub ceiling: Depth,
}

/// What only a logger tells.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Sampled {
    /// The dive over time.
    pub moments: Vec<Drawn>,
    /// Whether the record has the splash.
    pub has_splash: bool,
    /// Whether the record has the surfacing.
    pub has_surfacing: bool,
    /// The greatest gradient on the way up; `None` where no reading lies there.
    pub way_up: Option<Peak>,
    /// The fastest rise; `None` of a dive that never goes up.
    pub fastest: Option<Rise>,
    /// Rises that were too fast.
    pub too_fast: Vec<Rise>,
    /// Stretches above the ceiling.
    pub breaches: Vec<Breach>,
    /// Long gaps between readings.
    pub gaps: Vec<Gap>,
    /// Depths that jump.
    pub jumps: Vec<Jump>,
    /// The gauge on leaving the bottom, where it is known.
    pub left_bottom_at: Option<GaugePressure>,
    /// Whether the record says which gas was breathed.
    pub says_gas: bool,
    /// When the main cylinder is taken to have been left for another one, where the record does not
    /// say so.
    pub switch_taken_at: Option<RunTime>,
    /// What was mended on reading it.
    pub faults: Vec<ReadingFault>,
}

/// How a pencil log was flown.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Pencilled {
    /// The levels: the plan's, as deep as the log says and as long.
    pub levels: Vec<Level>,
    /// The dive.
    pub schedule: Schedule,
    /// Run time as it is written down; `None` where it is not.
    pub run_time: Option<Time>,
    /// Average depth as it is written down; `None` where it is not.
    pub average_depth: Option<Depth>,
    /// Mean depth of the dive as flown.
    pub flown_average: Depth,
}

impl Pencilled {
    /// Whether somebody was back over a minute sooner than the dive takes.
    #[must_use]
    pub fn is_cut_short(&self) -> bool {
        let takes = self.schedule.run_time().elapsed();
        self.run_time
            .is_some_and(|run_time| takes.is_over(run_time + WHOLE_MINUTES))
    }

    /// Whether the average depth says that the dive was deeper than it is flown.
    #[must_use]
    pub fn was_deeper(&self) -> bool {
        let average = self.average_depth;
        average.is_some_and(|average| average.is_below(self.flown_average + DEEPER_ON_AVERAGE))
    }
}

/// How a dive was written down.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Kept {
    /// By a logger.
    Sampled(Box<Sampled>),
    /// With a pencil.
    Pencilled(Box<Pencilled>),
}

/// A recorded dive of one diver, worked out.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct RealDive {
    /// Index of the diver in the team.
    pub diver: usize,
    /// Where it stands.
    pub source: Source,
    /// How it was written down, and what only that tells.
    pub kept: Kept,
    /// Time of day of the splash, where it is known.
    pub splash: Option<TimeOfDay>,
    /// Its date, where it is known.
    pub date: Option<String>,
    /// Greatest depth.
    pub greatest_depth: Depth,
    /// Mean depth over the run time.
    pub average_depth: Depth,
    /// From the splash to leaving the bottom; `None` of a logger's dive that never came near it.
    pub bottom_time: Option<Time>,
    /// From the splash to being back.
    pub run_time: Time,
    /// What was in the main cylinder.
    pub gas: Mix,
    /// Everything that was breathed, the main cylinder's first.
    pub gases: Vec<Mix>,
    /// What was breathed from it.
    pub breathed: Breathed,
    /// Greatest oxygen pressure of this dive, and the doses of the day with it.
    pub oxygen: OxygenExposure,
    /// Tissues and doses at its last moment.
    pub after: Start,
    /// The greatest gradient at the surface; `None` of a record without the surfacing.
    pub surfacing: Option<Gradient>,
}

impl RealDive {
    /// What only a logger tells.
    #[must_use]
    pub const fn sampled(&self) -> Option<&Sampled> {
        match &self.kept {
            Kept::Sampled(sampled) => Some(sampled),
            Kept::Pencilled(_) => None,
        }
    }

    /// The profile, as run times and depths.
    #[must_use]
    pub fn profile(&self) -> Vec<(RunTime, Depth)> {
        match &self.kept {
            Kept::Sampled(sampled) => {
                let moments = sampled.moments.iter();
                moments.map(|at| (at.run_time, at.depth)).collect()
            }
            Kept::Pencilled(flown) => {
                let splash = std::iter::once((RunTime::SPLASH, Depth::SURFACE));
                let segments = flown.schedule.segments.iter();
                splash
                    .chain(segments.map(|segment| (segment.end, segment.to)))
                    .collect()
            }
        }
    }
}

/// The plan that records are held against.
pub(super) struct Against<'a> {
    pub(super) plan: &'a Plan,
    pub(super) briefing: &'a Briefing,
}

impl Against<'_> {
    fn charge(&self, diver: usize, gas: Mix) -> Charge {
        let water = self.plan.divers()[diver].cylinder.water;
        Charge::new(water, gas, &self.plan.gas_conditions())
    }

    /// The depth at which the plan first leaves the main cylinder on the way up.
    fn switch_depth(&self) -> Option<Depth> {
        let mut pauses = self.briefing.schedule.pauses_by_depth();
        pauses
            .find(|pause| pause.switched_to().is_some())
            .map(|pause| pause.depth)
    }

    /// What parts the bottom from the way up: 3 m above the last level, or above the greatest depth
    /// where nobody was so deep; no more than halfway to the first pause above it, or to the surface.
    fn bottom_ends_at(&self, greatest: Depth) -> Depth {
        let schedule = &self.briefing.schedule;
        let last = schedule.last_depth().min(greatest);
        let pause = schedule
            .pauses()
            .map(|pause| pause.from)
            .find(|depth| depth.is_above(last));
        let next = pause.unwrap_or(Depth::SURFACE);
        (next + (last - next) * 0.5).max(last - BOTTOM_BAND)
    }

    /// A logger's dive.
    pub(super) fn sampled(
        &self,
        diver: usize,
        file: &str,
        log: &SampledLog,
    ) -> Result<RealDive, DebriefError> {
        let profile = Profile::of(log).ok_or_else(|| DebriefError::NoDive {
            file: file.to_owned(),
            number: log.number,
        })?;
        let rules = self.plan.rules();
        let environment = &rules.environment;
        let gas = profile.points[0].gas.unwrap_or(self.plan.gas_of(diver));
        let flown = flown(rules, &self.plan.starts()[diver], &profile, gas);
        let says_gas = profile.points.iter().any(|point| point.gas.is_some());
        let switch_taken_at = match self.switch_depth() {
            Some(depth) if !says_gas => taken_switch(&profile, depth),
            _ => None,
        };
        let main = |from: RunTime, to: RunTime| {
            let until = switch_taken_at.map_or(to, |switch| to.min(switch));
            if says_gas {
                on_main(environment, &flown.segments, gas, (from, to))
            } else {
                profile.exposure(environment, from, until)
            }
        };
        // After another gas was taken the gauge may be another cylinder's.
        let until = if says_gas {
            main_ends(&flown.segments, gas).filter(|end| profile.run_time().is_after(*end))
        } else {
            None
        };
        let breathed = breathed(&self.charge(diver, gas), log, (&profile, until), main);
        let leaves = profile.leaves_for_good(self.bottom_ends_at(profile.deepest().1));
        let line = profile.points[0].line;
        let oxygen = OxygenExposure {
            max_po2_bar: OxygenExposure::of(environment, &flown.segments).max_po2_bar,
            cns_pct: flown.after.cns_pct,
            otu: flown.after.otu,
        };
        let moments = profile.points.iter().zip(&flown.ceilings);
        Ok(RealDive {
            diver,
            source: Source {
                file: file.to_owned(),
                line,
                number: log.number,
            },
            splash: log.begins.as_ref().map(|begins| {
                let waited = profile.splash - log.readings[0].time;
                begins.time.after(whole_minutes(waited))
            }),
            date: log.begins.as_ref().map(|begins| begins.date.clone()),
            greatest_depth: profile.deepest().1,
            average_depth: profile.average_depth(),
            bottom_time: leaves.map(RunTime::elapsed),
            run_time: profile.run_time().elapsed(),
            gas,
            gases: breathed_gases(gas, &flown.segments),
            oxygen,
            after: flown.after,
            surfacing: flown.surfacing,
            kept: Kept::Sampled(Box::new(Sampled {
                moments: moments
                    .map(|(point, ceiling)| Drawn {
                        run_time: point.run_time,
                        depth: point.depth,
                        ceiling: *ceiling,
                    })
                    .collect(),
                has_splash: profile.has_splash,
                has_surfacing: profile.has_surfacing,
                way_up: flown.way_up,
                fastest: fastest(&profile),
                too_fast: too_fast(&profile, rules.ascent.rate),
                breaches: flown.breaches,
                gaps: gaps(&profile),
                jumps: jumps(&profile),
                left_bottom_at: leaves.and_then(|at| gauge_at(log, &profile, at)),
                says_gas,
                switch_taken_at,
                faults: log.faults.clone(),
            })),
            breathed,
        })
    }

    /// A pencil log: the plan's levels as deep as it says, the last one as long, flown from what
    /// the diver brings on the own gas.
    pub(super) fn pencilled(
        &self,
        diver: usize,
        file: &str,
        log: &PencilLog,
    ) -> Result<RealDive, DebriefError> {
        let plan = self.plan;
        let rules = plan.rules();
        let share = log.greatest_depth.as_m() / self.briefing.schedule.deepest().as_m();
        let scaled = plan.levels().iter().map(|level| Level {
            depth: Depth::from_m(level.depth.as_m() * share),
            ..*level
        });
        let refused = |why: String| DebriefError::Pencil {
            file: file.to_owned(),
            line: log.line,
            name: log.diver.clone(),
            why,
        };
        let dived = plan.with_levels(scaled.collect()).left_at(log.bottom_time);
        let dived = dived.ok_or_else(|| {
            refused("the bottom time ends in the planned travel between two levels".to_owned())
        })?;
        let (own_rules, start) = (plan.rules_of(diver), &plan.starts()[diver]);
        let schedule = fly_checked(&own_rules, &start.tissues, dived.levels());
        let schedule = schedule.map_err(|cause| refused(cause.to_string()))?;
        let after = through(&own_rules, start, &schedule.segments);
        let flown_min = schedule.run_time().elapsed();
        let run_time = log.run_time.unwrap_or(flown_min);
        let all: AtmMinutes = schedule
            .segments
            .iter()
            .map(|one| one.exposure(&rules.environment))
            .sum();
        let main = main_exposure(&own_rules, &schedule.segments);
        let bar = all.as_atm_min() * ATM_BAR / flown_min.as_min();
        let flown_average = rules.environment.depth_at(Pressure::from_bar(bar));
        let kept = Pencilled {
            levels: dived.levels().to_vec(),
            run_time: log.run_time,
            average_depth: log.average_depth,
            flown_average,
            schedule,
        };
        let schedule = &kept.schedule;
        let whole = match log.average_depth {
            Some(average) => {
                let atm = rules.environment.ambient(average).as_atm();
                AtmMinutes::from_atm_min(atm * run_time.as_min()) - (all - main)
            }
            None => main,
        };
        let gauge = Gauge {
            start: log.start,
            end: log.end,
        };
        let gas = plan.gas_of(diver);
        let charge = self.charge(diver, gas);
        let none = Time::from_min(0.0);
        Ok(RealDive {
            diver,
            source: Source {
                file: file.to_owned(),
                line: log.line,
                number: 1,
            },
            splash: log.time_in,
            date: None,
            greatest_depth: log.greatest_depth,
            average_depth: log.average_depth.unwrap_or(flown_average),
            bottom_time: Some(log.bottom_time),
            run_time,
            gas,
            breathed: Breathed::between(&charge, gauge, (whole, whole), none),
            oxygen: OxygenExposure::of(&rules.environment, &schedule.segments).on_top_of(start),
            surfacing: Some(
                after
                    .tissues
                    .gradient(&rules.compartments, rules.environment.surface()),
            ),
            after,
            gases: breathed_gases(gas, &schedule.segments),
            kept: Kept::Pencilled(Box::new(kept)),
        })
    }
}

/// Each gas once, the first one first.
fn breathed_gases(first: Mix, segments: &[Segment]) -> Vec<Mix> {
    let mut gases = vec![first];
    for segment in segments {
        if !gases.iter().any(|gas| gas.is_same_gas(segment.gas)) {
            gases.push(segment.gas);
        }
    }
    gases
}

/// When the main cylinder was breathed last.
fn main_ends(segments: &[Segment], gas: Mix) -> Option<RunTime> {
    let mut on_it = segments.iter().rev();
    let last = on_it.find(|segment| segment.gas.is_same_gas(gas));
    last.map(|segment| segment.end)
}

/// What was breathed of a gas between two run times.
fn on_main(
    environment: &Environment,
    segments: &[Segment],
    gas: Mix,
    (from, to): (RunTime, RunTime),
) -> AtmMinutes {
    let band = SampledLog::SURFACE_BAND;
    let on_it = segments.iter().filter(|segment| {
        let is_under = segment.from.is_below(band) || segment.to.is_below(band);
        is_under && segment.gas.is_same_gas(gas)
    });
    let cut = on_it.filter_map(|segment| {
        let (start, end) = (segment.start.max(from), segment.end.min(to));
        (start < end).then(|| Segment {
            from: segment.depth_at(start),
            to: segment.depth_at(end),
            start,
            end,
            ..*segment
        })
    });
    cut.map(|segment| segment.exposure(environment)).sum()
}

/// The first moment after the greatest depth at which a depth is reached.
fn taken_switch(profile: &Profile, depth: Depth) -> Option<RunTime> {
    let (deepest, _) = profile.deepest();
    let mut up = profile.points[deepest..].iter();
    up.find(|point| !point.depth.is_below(depth))
        .map(|point| point.run_time)
}

fn gaps(profile: &Profile) -> Vec<Gap> {
    let legs = profile.legs().map(|(from, to)| Gap {
        start: from.run_time,
        end: to.run_time,
        line: to.line,
    });
    legs.filter(|gap| !GAP.is_over(gap.end - gap.start))
        .collect()
}

fn jumps(profile: &Profile) -> Vec<Jump> {
    let legs = profile.legs().filter(|(from, to)| {
        let moved = (to.depth - from.depth).as_m().abs();
        let rate = moved / (to.run_time - from.run_time).as_min();
        moved > JUMP.as_m() && rate > JUMP_RATE.as_m_min()
    });
    legs.map(|(from, to)| Jump {
        run_time: to.run_time,
        from: from.depth,
        to: to.depth,
        line: to.line,
    })
    .collect()
}

/// Whole minutes of a time that is not negative.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a time of at most a few days, not negative"
)]
fn whole_minutes(time: Time) -> u32 {
    time.as_min().max(0.0) as u32
}
