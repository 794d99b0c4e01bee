//! From which minute of overstaying something is bad.

use crate::dive::ScheduleError;
use crate::gas::{LateDive, LateGas, TeamTimes};
use crate::plan::Plan;
use crate::quantity::Time;
use serde::Serialize;

/// Overstaying is looked into up to so many whole minutes.
pub const LATE_BOUND_MIN: u32 = 60;

/// From which whole minute of overstaying something is bad. Nobody can tell where the dive cannot
/// be scheduled, and that is an answer of its own.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum BadFrom {
    /// As planned already.
    AsPlanned,
    /// From this minute late on; at every whole minute before it is fine.
    Minute(u32),
    /// At no whole minute up to [`LATE_BOUND_MIN`].
    NotWithinBound,
    /// At every whole minute before `from` it is fine; at that one no way up can be worked out.
    Unknown {
        /// Minutes late.
        from: u32,
        /// Why there is no way up.
        cause: ScheduleError,
        /// The first minute after it at which a way up can be worked out again and it is bad.
        bad_from: Option<u32>,
    },
}

impl BadFrom {
    /// The answer over the dives that are 0, 1, 2, … minutes late; `Err` where one cannot be
    /// scheduled.
    fn over<'d>(
        dives: impl IntoIterator<Item = &'d Result<LateDive, ScheduleError>>,
        is_bad: impl Fn(&LateDive) -> bool,
    ) -> Self {
        let mut unknown = None;
        for (late, dive) in (0_u32..).zip(dives) {
            match (dive, unknown) {
                (Err(cause), None) => unknown = Some((late, *cause)),
                (Ok(dive), None) if is_bad(dive) => {
                    return if late == 0 {
                        Self::AsPlanned
                    } else {
                        Self::Minute(late)
                    };
                }
                (Ok(dive), Some((from, cause))) if is_bad(dive) => {
                    return Self::Unknown {
                        from,
                        cause,
                        bad_from: Some(late),
                    };
                }
                (Ok(_) | Err(_), _) => {}
            }
        }
        match unknown {
            Some((from, cause)) => Self::Unknown {
                from,
                cause,
                bad_from: None,
            },
            None => Self::NotWithinBound,
        }
    }

    /// The first minute late at which it is not known to be fine; `None` where there is none.
    #[must_use]
    pub const fn first_minute(self) -> Option<u32> {
        match self {
            Self::AsPlanned => Some(0),
            Self::Minute(minute) | Self::Unknown { from: minute, .. } => Some(minute),
            Self::NotWithinBound => None,
        }
    }

    /// The word for scripts.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::AsPlanned => "as-planned",
            Self::Minute(_) => "from",
            Self::NotWithinBound => "not-within",
            Self::Unknown { .. } => "unknown",
        }
    }
}

/// From which whole minute of overstaying each thing is bad.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct LateTable {
    /// It is no longer a no-stop dive.
    pub stops: BadFrom,
    /// The divers, in the order of the plan.
    pub divers: Vec<DiverLate>,
}

/// From which whole minute of overstaying each thing is bad for one diver.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct DiverLate {
    /// The diver.
    pub name: String,
    /// Some level is left with less than its minimum gas.
    pub reserve_gone: BadFrom,
    /// The main cylinder is empty before the surface.
    pub empty: BadFrom,
    /// A stage cylinder holds less than that dive needs; not within the bound where the plan switches
    /// to no gas.
    pub stage_short: BadFrom,
    /// The pony does not cover every stop; `None` without one. What a straight ascent takes does
    /// not grow with time.
    pub pony_stops: Option<BadFrom>,
}

impl DiverLate {
    /// Every answer about this diver.
    pub fn answers(&self) -> impl Iterator<Item = BadFrom> {
        let gas = [self.reserve_gone, self.empty, self.stage_short];
        gas.into_iter().chain(self.pony_stops)
    }
}

impl LateTable {
    /// Every answer: each diver's, then that about the stops.
    pub fn answers(&self) -> impl Iterator<Item = BadFrom> {
        let divers = self.divers.iter().flat_map(DiverLate::answers);
        divers.chain([self.stops])
    }
}

/// Minute by minute of overstaying, past minutes that cannot be scheduled, until all that can go
/// bad has or [`LATE_BOUND_MIN`].
#[must_use]
pub(crate) fn late_table(plan: &Plan, times: &mut TeamTimes<'_>) -> LateTable {
    let stages = !plan.rules().decompression.is_empty();
    let mut dives = Vec::new();
    for minute in 0..=LATE_BOUND_MIN {
        let dive = times.late(Time::from_min(f64::from(minute)));
        let complete = dive.as_ref().is_ok_and(|dive| is_all_bad(dive, stages));
        dives.push(dive);
        if complete {
            break;
        }
    }
    let divers = plan.divers().iter().enumerate().map(|(index, diver)| {
        let over = |is_bad: fn(&LateGas) -> bool| {
            BadFrom::over(&dives, |dive| dive.divers.get(index).is_some_and(is_bad))
        };
        DiverLate {
            name: diver.name.clone(),
            reserve_gone: over(|diver| !diver.reserve_holds),
            empty: over(|diver| diver.is_empty),
            // Where no gas is switched to none is short, whatever else nobody can tell.
            stage_short: if stages {
                over(|diver| !diver.stages_hold)
            } else {
                BadFrom::NotWithinBound
            },
            pony_stops: diver
                .pony
                .map(|_| over(|diver| diver.pony_covers == Some(false))),
        }
    });
    LateTable {
        stops: BadFrom::over(&dives, |dive| !dive.no_stop),
        divers: divers.collect(),
    }
}

/// Whether everything is bad that can be: then the search is over, for whatever was bad earlier and
/// is not now has been seen.
fn is_all_bad(dive: &LateDive, stages: bool) -> bool {
    let all_bad = |diver: &LateGas| {
        let gas = !diver.reserve_holds && diver.is_empty;
        gas && diver.pony_covers != Some(true) && !(stages && diver.stages_hold)
    };
    !dive.no_stop && dive.divers.iter().all(all_bad)
}
