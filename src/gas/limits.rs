//! The same dive for every whole bottom time: up to which of them does a supply of gas last?

use super::need::{Emergency, EmergencyExposure, LevelEnd, exposure_until, main_exposure};
use crate::dive::{
    BOUND_MIN, Flight, Moment, Schedule, ScheduleError, Segment, SegmentKind, ascend,
};
use crate::quantity::{AtmMinutes, RunTime, Time};
use crate::rules::DiveRules;
use crate::site::Mix;
use serde::Serialize;

/// Bottom times are looked at up to this whole minute.
pub const GREATEST_BOTTOM_TIME_MIN: u32 = BOUND_MIN;

/// The greatest whole bottom time up to which something holds, and why it is no greater.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct BottomTimeLimit {
    /// Greatest whole bottom time such that it holds for each one up to it; 0 if for none.
    pub minutes: u32,
    /// What ends it.
    pub ended_by: LimitEnd,
}

/// What ends the search for a bottom time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum LimitEnd {
    /// The gas is not enough.
    Gas {
        /// The first bottom time for which it is not, whole minutes.
        at_min: u32,
    },
    /// No way up can be worked out: the gas may still be enough, nobody knows.
    Schedule {
        /// The first such bottom time, whole minutes.
        at_min: u32,
        /// Why there is no way up.
        cause: ScheduleError,
    },
    /// [`GREATEST_BOTTOM_TIME_MIN`]: nothing.
    Bound,
}

/// Bottom times shorter than the planned one for which the gas is not enough, although it is for
/// the planned one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ShorterIsWorse {
    /// The first of them, whole minutes.
    pub from_min: u32,
    /// The last of them, whole minutes; every one between belongs to them.
    pub to_min: u32,
    /// Why a shorter dive asks for more.
    pub cause: WorseBecause,
}

/// Why a shorter dive asks for more gas than the planned one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum WorseBecause {
    /// The planned dive switches to a decompression gas on its way up; the shorter one has no
    /// stop at which it would, and breathes the bottom gas all the way.
    NoSwitch(Mix),
    /// Stops end on whole minutes of run time: the shorter dive waits longer for one.
    WholeMinutes,
    /// No way up can be worked out from there.
    Schedule(ScheduleError),
}

/// For how long one diver's gas lasts.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct DiverLimits {
    /// The bottom time up to which what must be left at each level's end is.
    pub gas_limit: BottomTimeLimit,
    /// Where the plan leaves enough: shorter bottom times that do not.
    pub shorter_is_worse: Vec<ShorterIsWorse>,
    /// The bottom time up to which the pony covers every stop; `None` without one.
    pub pony_covers_until: Option<BottomTimeLimit>,
}

impl DiverLimits {
    /// The least of the gas limits, of equal ones the first; `None` without a team.
    #[must_use]
    pub fn least(limits: &[Self]) -> Option<BottomTimeLimit> {
        let limits = limits.iter().map(|limits| limits.gas_limit);
        limits.min_by_key(|limit| limit.minutes)
    }

    /// Those whose gas limit is the least, as indices into the team.
    #[must_use]
    pub fn limiting(limits: &[Self]) -> Vec<usize> {
        let least = Self::least(limits).map(|least| least.minutes);
        let each = limits.iter().enumerate();
        let limiting = each.filter(|(_, limits)| Some(limits.gas_limit.minutes) == least);
        limiting.map(|(index, _)| index).collect()
    }
}

/// What the main cylinder is exposed to up to leaving a level, and in an emergency there.
#[derive(Clone, Copy)]
pub(crate) struct EndExposure {
    pub(crate) used: AtmMinutes,
    pub(crate) emergency: EmergencyExposure,
}

impl From<&LevelEnd> for EndExposure {
    fn from(end: &LevelEnd) -> Self {
        Self {
            used: end.used,
            emergency: end.emergency.exposure,
        }
    }
}

/// A dive that is left at one whole bottom time.
pub(crate) struct Cut<'s> {
    /// The level ends before, as planned.
    pub(crate) before: &'s [EndExposure],
    /// Where it is left.
    pub(crate) here: EndExposure,
    /// What the planned way up from there takes of the main cylinder.
    pub(crate) way_up: AtmMinutes,
}

impl Cut<'_> {
    /// The worst emergency over all its level ends.
    pub(crate) fn worst_emergency(&self) -> EmergencyExposure {
        let before = self.before.iter().map(|end| &end.emergency);
        EmergencyExposure::worst(before.chain([&self.here.emergency]))
    }
}

#[derive(Clone, Copy)]
enum Row {
    /// In the travel between two levels: no dive ends there.
    Travelling,
    Unschedulable(ScheduleError),
    Left {
        level: usize,
        here: EndExposure,
        way_up: AtmMinutes,
        switched_to: Option<Mix>,
    },
}

struct Span {
    start: RunTime,
    arrival: Moment,
    used_on_arrival: AtmMinutes,
}

/// The dive left at every whole bottom time, worked out once for the team and only as far as
/// somebody asks. A bottom time beyond the plan's stretches the last level; a shorter one cuts
/// the profile where it falls: in a level, that level ends there and the later ones are dropped.
pub(crate) struct BottomTimes<'a> {
    rules: &'a DiveRules,
    sort_out: Time,
    spans: Vec<Span>,
    ends: Vec<EndExposure>,
    /// First whole minute not before the arrival at the first level.
    first: u32,
    planned: RunTime,
    planned_switch: Option<Mix>,
    rows: Vec<Row>,
}

impl<'a> BottomTimes<'a> {
    pub(crate) fn new(
        rules: &'a DiveRules,
        sort_out: Time,
        schedule: &Schedule,
        ends: &[LevelEnd],
    ) -> Self {
        let starts = schedule.level_ends.iter().map(|end| end.run_time);
        let starts = std::iter::once(RunTime::SPLASH).chain(starts);
        let spans: Vec<Span> = starts
            .zip(&schedule.arrivals)
            .map(|(start, arrival)| Span {
                start,
                arrival: *arrival,
                used_on_arrival: exposure_until(rules, &schedule.way_down, arrival.run_time),
            })
            .collect();
        let first = spans
            .first()
            .map_or(RunTime::SPLASH, |span| span.arrival.run_time);
        Self {
            rules,
            sort_out,
            first: first_whole_minute(first),
            spans,
            ends: ends.iter().map(EndExposure::from).collect(),
            planned: schedule.leave_bottom(),
            planned_switch: switched_to(rules, &schedule.way_up),
            rows: Vec::new(),
        }
    }

    /// The greatest whole minute up to which every bottom time passes; a minute in the travel
    /// between two levels is passed over.
    pub(crate) fn limit(&mut self, passes: impl Fn(&Cut<'_>) -> bool) -> BottomTimeLimit {
        let mut minutes = 0;
        for minute in self.first..=GREATEST_BOTTOM_TIME_MIN {
            let ended_by = match self.row(minute) {
                Row::Travelling => continue,
                Row::Unschedulable(cause) => LimitEnd::Schedule {
                    at_min: minute,
                    cause,
                },
                row if self.passes(row, &passes) => {
                    minutes = minute;
                    continue;
                }
                _ => LimitEnd::Gas { at_min: minute },
            };
            return BottomTimeLimit { minutes, ended_by };
        }
        BottomTimeLimit {
            minutes,
            ended_by: LimitEnd::Bound,
        }
    }

    /// The runs of whole bottom times before the planned one that do not pass.
    pub(crate) fn shorter_failures(
        &mut self,
        passes: impl Fn(&Cut<'_>) -> bool,
    ) -> Vec<ShorterIsWorse> {
        let mut runs: Vec<ShorterIsWorse> = Vec::new();
        let mut joins = false;
        for minute in self.first..=GREATEST_BOTTOM_TIME_MIN {
            if !self.planned.is_after(RunTime::from_min(f64::from(minute))) {
                break;
            }
            let cause = match self.row(minute) {
                Row::Travelling => continue,
                Row::Unschedulable(error) => WorseBecause::Schedule(error),
                row if self.passes(row, &passes) => {
                    joins = false;
                    continue;
                }
                Row::Left { switched_to, .. } => match (self.planned_switch, switched_to) {
                    (Some(gas), None) => WorseBecause::NoSwitch(gas),
                    _ => WorseBecause::WholeMinutes,
                },
            };
            match runs.last_mut() {
                Some(run) if joins && run.cause.is_like(cause) => run.to_min = minute,
                _ => runs.push(ShorterIsWorse {
                    from_min: minute,
                    to_min: minute,
                    cause,
                }),
            }
            joins = true;
        }
        runs
    }

    fn passes(&self, row: Row, passes: &impl Fn(&Cut<'_>) -> bool) -> bool {
        let Row::Left {
            level,
            here,
            way_up,
            ..
        } = row
        else {
            return false;
        };
        passes(&Cut {
            before: &self.ends[..level],
            here,
            way_up,
        })
    }

    fn row(&mut self, minute: u32) -> Row {
        let index = minute.saturating_sub(self.first) as usize;
        let mut next = self.first + u32::try_from(self.rows.len()).unwrap_or(u32::MAX);
        while self.rows.len() <= index {
            let row = self.fly(RunTime::from_min(f64::from(next)));
            self.rows.push(row.unwrap_or_else(Row::Unschedulable));
            next += 1;
        }
        self.rows[index]
    }

    fn fly(&self, leave: RunTime) -> Result<Row, ScheduleError> {
        let begun = |span: &Span| leave.is_after(span.start);
        let level = self.spans.iter().rposition(begun).unwrap_or(0);
        let span = self.spans.get(level).ok_or(ScheduleError::NoLevel)?;
        if span.arrival.run_time.is_after(leave) {
            return Ok(Row::Travelling);
        }
        let rules = self.rules;
        let mut flight = Flight::resume(rules, &span.arrival, rules.bottom_gas);
        flight.hold_until(SegmentKind::Level, leave);
        let used = span.used_on_arrival + main_exposure(rules, &flight.segments);
        let emergency = Emergency::from(rules, &flight.now, self.sort_out)?.exposure;
        let way_up = ascend(rules, &flight.now)?.segments;
        Ok(Row::Left {
            level,
            here: EndExposure { used, emergency },
            way_up: main_exposure(rules, &way_up),
            switched_to: switched_to(rules, &way_up),
        })
    }
}

impl WorseBecause {
    /// The same cause, whatever its figures.
    fn is_like(self, other: Self) -> bool {
        std::mem::discriminant(&self) == std::mem::discriminant(&other)
    }
}

fn switched_to(rules: &DiveRules, way_up: &[Segment]) -> Option<Mix> {
    let mut gases = way_up.iter().map(|segment| segment.gas);
    gases.find(|gas| !gas.is_same_gas(rules.bottom_gas))
}

/// The first whole minute not before a run time.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "run times are non-negative; one past u32 saturates, which is past every limit"
)]
fn first_whole_minute(run_time: RunTime) -> u32 {
    run_time.whole_minute_up().as_min() as u32
}
