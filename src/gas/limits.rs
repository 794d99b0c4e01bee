//! The same dive for every whole bottom time: up to which of them does a supply of gas last?

use super::bottom_times::{BottomTimes, Cut, Left};
use crate::dive::{BOUND_MIN, ScheduleError};
use crate::quantity::RunTime;
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

impl BottomTimes<'_> {
    /// The greatest whole minute up to which every bottom time passes; a minute in the travel
    /// between two levels is passed over.
    pub(super) fn limit(&mut self, passes: impl Fn(&Cut<'_>) -> bool) -> BottomTimeLimit {
        let mut minutes = 0;
        for minute in self.first()..=GREATEST_BOTTOM_TIME_MIN {
            let ended_by = match self.left_at(RunTime::from_min(f64::from(minute))) {
                Left::Travelling => continue,
                Left::Unschedulable(why) => LimitEnd::Schedule {
                    at_min: minute,
                    cause: why.emergency,
                },
                Left::At(cut) if passes(&cut) => {
                    minutes = minute;
                    continue;
                }
                Left::At(_) => LimitEnd::Gas { at_min: minute },
            };
            return BottomTimeLimit { minutes, ended_by };
        }
        BottomTimeLimit {
            minutes,
            ended_by: LimitEnd::Bound,
        }
    }

    /// The runs of whole bottom times before the planned one that do not pass.
    pub(super) fn shorter_failures(
        &mut self,
        passes: impl Fn(&Cut<'_>) -> bool,
    ) -> Vec<ShorterIsWorse> {
        let mut runs: Vec<ShorterIsWorse> = Vec::new();
        let mut joins = false;
        for minute in self.first()..=GREATEST_BOTTOM_TIME_MIN {
            let leave = RunTime::from_min(f64::from(minute));
            if !self.planned().is_after(leave) {
                break;
            }
            let planned_switch = self.planned_switch();
            let cause = match self.left_at(leave) {
                Left::Travelling => continue,
                Left::Unschedulable(why) => WorseBecause::Schedule(why.emergency),
                Left::At(cut) if passes(&cut) => {
                    joins = false;
                    continue;
                }
                Left::At(cut) => match (planned_switch, cut.way_up.switched_to) {
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
}

impl WorseBecause {
    /// The same cause, whatever its figures.
    fn is_like(self, other: Self) -> bool {
        std::mem::discriminant(&self) == std::mem::discriminant(&other)
    }
}

#[cfg(test)]
mod tests {
    use super::WorseBecause;
    use crate::site::Mix;

    #[test]
    fn minutes_of_two_reasons_are_two_stretches() {
        let (switch, minutes) = (
            WorseBecause::NoSwitch(Mix::OXYGEN),
            WorseBecause::WholeMinutes,
        );
        assert!(switch.is_like(WorseBecause::NoSwitch(Mix::AIR)) && minutes.is_like(minutes));
        assert!(!switch.is_like(minutes) && !minutes.is_like(switch));
    }
}
