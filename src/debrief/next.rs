//! The next dive of the day: what it takes over from the one that was.

use super::dive::{Kept, RealDive};
use super::envelope::{CoverError, covering_levels};
use super::whole::Debrief;
use crate::dive::{ScheduleError, fly_checked};
use crate::plan::{DayTime, EarlierDive, Plan, TimeOfDay};
use crate::plan_file::{NextPlan, NextPlanError, next_plan, read};
use crate::quantity::show::list;
use crate::quantity::{BreathingRate, Depth, Pressure, RunTime, Time};
use crate::rules::{DiveRules, Level};
use crate::site::Mix;
use crate::tissue::{Tissues, WITHIN_BAR};

/// When the next dive begins.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Wait {
    /// So long after the last of them was back.
    Interval(Time),
    /// At a time of day.
    Splash(TimeOfDay),
}

/// What somebody wants to know of the next dive.
#[derive(Clone, Debug, PartialEq)]
pub struct NextAsked {
    /// When it begins.
    pub wait: Wait,
    /// Divers of the plan who have no record because they did not dive.
    pub absent: Vec<String>,
}

/// The plan of the next dive.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct NextWritten {
    /// The plan file.
    pub text: String,
    /// The most that it holds against somebody beyond what the records leave, over all compartments:
    /// a plan tells of levels, and they are as deep as any of the records at every moment.
    pub beyond: Pressure,
    /// Time at the surface before it, from the last surfacing.
    pub interval: Time,
    /// Whose doses of oxygen are told too low, because the dive is told on a leaner gas.
    pub leaner_for: Vec<String>,
}

/// Why there is no plan of a next dive.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NextError {
    /// Nobody knows whether somebody dived.
    #[error("there is no record of {}", list(.names))]
    Unrecorded {
        /// Who has no record.
        names: Vec<String>,
    },
    /// Somebody who did not dive is not in the plan, or has a record.
    #[error("{name} is not a diver of the plan without a record")]
    NotAbsent {
        /// The name.
        name: String,
        /// Who could be absent.
        names: Vec<String>,
    },
    /// The records of a diver are of two dives.
    #[error("{name} has records of two dives")]
    TwoDives {
        /// The name.
        name: String,
    },
    /// A record lacks an end of the dive.
    #[error("{file} lacks a part of {name}'s dive")]
    Unfinished {
        /// Whose.
        name: String,
        /// The record.
        file: String,
    },
    /// Nobody knows when they were back.
    #[error("no record says at what time of day it begins")]
    NoClock,
    /// The next splash is before they are back, or what is told of the dive is not over by then.
    #[error("the next dive begins before this one is over as it is told")]
    TooSoon,
    /// The dive cannot be told as levels.
    #[error(transparent)]
    Cover(#[from] CoverError),
    /// The levels cannot be flown.
    #[error(transparent)]
    Schedule(#[from] ScheduleError),
    /// The plan file cannot be written so.
    #[error(transparent)]
    Plan(#[from] NextPlanError),
    /// The plan would start somebody fresher than the records leave: a defect of this program.
    #[error("internal check failed: the next plan starts {name} too fresh")]
    TooFresh {
        /// Whom.
        name: String,
    },
}

impl NextError {
    /// Whether it is a defect of this program.
    #[must_use]
    pub const fn is_internal(&self) -> bool {
        matches!(
            self,
            Self::TooFresh { .. } | Self::Plan(NextPlanError::NotAsMeant { .. })
        )
    }

    /// What is accepted instead.
    #[must_use]
    pub fn accepted(&self) -> Option<String> {
        match self {
            Self::Unrecorded { .. } => {
                Some("a record of each diver, or --absent NAME for who did not dive".to_owned())
            }
            Self::NotAbsent { names, .. } if names.is_empty() => {
                Some("no --absent: every diver of the plan has a record".to_owned())
            }
            Self::NotAbsent { names, .. } => Some(names.join(", ")),
            Self::TwoDives { .. } => Some("the records of one dive".to_owned()),
            Self::Unfinished { .. } => {
                Some("a record from the surface back to it, or a pencil log".to_owned())
            }
            Self::NoClock => Some(
                "--interval \"75 min\", from the last of them being back to the next splash"
                    .to_owned(),
            ),
            Self::TooSoon => Some("a later splash, or a longer interval".to_owned()),
            Self::Cover(_) => Some("a [[before]] of your own in the next plan".to_owned()),
            Self::Schedule(_) | Self::Plan(_) | Self::TooFresh { .. } => None,
        }
    }
}

/// Writes the plan again for the next dive of the day: what was breathed, and the dive as it was
/// among the earlier ones. `text` is the plan file of the debrief.
///
/// # Errors
/// [`NextError`] where nobody knows enough.
pub fn write_next(
    debrief: &Debrief,
    asked: &NextAsked,
    text: &str,
) -> Result<NextWritten, NextError> {
    let absent = absent(debrief, &asked.absent)?;
    for dive in &debrief.dives {
        whole(debrief, dive)?;
    }
    let clock = Clock::of(debrief)?;
    let (interval, splash) = clock.next(asked.wait)?;
    let gas = leanest(debrief);
    let told = told(debrief, &clock, gas)?;
    // What is told may end later than anybody was back, never sooner.
    let late = (told.surfaces - clock.back).max(Time::from_min(0.0));
    let waits = interval - late;
    if waits.as_min() < 0.0 {
        return Err(NextError::TooSoon);
    }
    let differs = |dive: &&RealDive| gas.is_some_and(|gas| dive.gas.oxygen() > gas.oxygen());
    let leaner_for = debrief
        .dives
        .iter()
        .filter(differs)
        .map(|dive| name(debrief, dive));
    let mut leaner_for: Vec<String> = leaner_for.collect();
    leaner_for.dedup();
    let before = EarlierDive {
        levels: told.levels,
        gas,
        surface_interval: waits,
        divers: (!absent.is_empty()).then(|| dived(debrief)),
    };
    let next = NextPlan::new(breathing(debrief), vec![before], splash);
    let text = next_plan(text, &next)?;
    let beyond = beyond(debrief, &text, &clock, interval)?;
    Ok(NextWritten {
        text,
        beyond,
        interval,
        leaner_for,
    })
}

fn name(debrief: &Debrief, dive: &RealDive) -> String {
    debrief.plan().divers()[dive.diver].name.clone()
}

/// Who did not dive; everybody else must have a record.
fn absent(debrief: &Debrief, said: &[String]) -> Result<Vec<String>, NextError> {
    let unrecorded: Vec<String> = debrief.unrecorded().map(str::to_owned).collect();
    if let Some(name) = said.iter().find(|name| !unrecorded.contains(name)) {
        return Err(NextError::NotAbsent {
            name: name.clone(),
            names: unrecorded,
        });
    }
    let unsaid = unrecorded.iter().filter(|name| !said.contains(name));
    let names: Vec<String> = unsaid.cloned().collect();
    if names.is_empty() {
        Ok(unrecorded)
    } else {
        Err(NextError::Unrecorded { names })
    }
}

fn dived(debrief: &Debrief) -> Vec<String> {
    let divers = debrief.plan().divers().iter().enumerate();
    let dived = divers.filter(|(index, _)| debrief.dives_of(*index).next().is_some());
    dived.map(|(_, diver)| diver.name.clone()).collect()
}

/// Refuses a dive of which a part is missing.
fn whole(debrief: &Debrief, dive: &RealDive) -> Result<(), NextError> {
    let is_whole = dive
        .sampled()
        .is_none_or(|sampled| sampled.has_splash && sampled.has_surfacing);
    if is_whole {
        return Ok(());
    }
    Err(NextError::Unfinished {
        name: name(debrief, dive),
        file: dive.source.file.clone(),
    })
}

/// The records beside each other in time.
struct Clock {
    /// Time of day of the first splash, where every record says when it begins.
    splash: Option<TimeOfDay>,
    /// When each dive begins, from the first splash on.
    begins: Vec<Time>,
    /// When the last of them is back.
    back: RunTime,
}

impl Clock {
    /// Where one record has no time of day, all begin together: a plan is one dive of a team.
    fn of(debrief: &Debrief) -> Result<Self, NextError> {
        let dives = &debrief.dives;
        let each: Option<Vec<TimeOfDay>> = dives.iter().map(|dive| dive.splash).collect();
        let minutes = |at: TimeOfDay| f64::from(at.hour()) * 60.0 + f64::from(at.minute());
        let first = each.as_ref().and_then(|each| {
            each.iter().copied().reduce(|first, at| {
                if minutes(at) < minutes(first) {
                    at
                } else {
                    first
                }
            })
        });
        let begins: Vec<Time> = match (&each, first) {
            (Some(each), Some(first)) => each
                .iter()
                .map(|at| Time::from_min(minutes(*at) - minutes(first)))
                .collect(),
            _ => vec![Time::from_min(0.0); dives.len()],
        };
        let ends = dives
            .iter()
            .zip(&begins)
            .map(|(dive, begin)| *begin + dive.run_time);
        let ends: Vec<Time> = ends.collect();
        for (index, dive) in dives.iter().enumerate() {
            let others = (0..dives.len()).filter(|other| dives[*other].diver == dive.diver);
            for other in others {
                if begins[other].is_over(ends[index]) {
                    let name = name(debrief, dive);
                    return Err(NextError::TwoDives { name });
                }
            }
        }
        let back = ends.into_iter().fold(Time::from_min(0.0), Time::max);
        Ok(Self {
            splash: first,
            begins,
            back: RunTime::SPLASH + back,
        })
    }

    /// The time at the surface, and the next splash where the time of day is known.
    fn next(&self, wait: Wait) -> Result<(Time, Option<TimeOfDay>), NextError> {
        match wait {
            Wait::Interval(interval) => {
                let splash = self.splash.map(|first| {
                    let later = self.back + interval;
                    first.after(whole_minutes_up(later))
                });
                Ok((interval, splash))
            }
            Wait::Splash(splash) => {
                let first = self.splash.ok_or(NextError::NoClock)?;
                let on_the_day = |time| DayTime {
                    days_later: 0,
                    time,
                };
                let minutes = on_the_day(splash).minutes_since(on_the_day(first));
                let minutes = i32::try_from(minutes).map_or(0.0, f64::from);
                let interval = RunTime::from_min(minutes) - self.back;
                if interval.as_min() < 0.0 {
                    return Err(NextError::TooSoon);
                }
                Ok((interval, Some(splash)))
            }
        }
    }
}

/// Whole minutes, not less.
fn whole_minutes_up(time: RunTime) -> u32 {
    crate::quantity::show::whole_minutes_up(time.elapsed())
}

/// The dive as a plan tells it.
struct Told {
    levels: Vec<Level>,
    surfaces: RunTime,
}

/// Pencil logs that all say the same are the levels that they were flown by; everything else is
/// levels as deep as any record at every moment.
fn told(debrief: &Debrief, clock: &Clock, gas: Option<Mix>) -> Result<Told, NextError> {
    let plan = debrief.plan();
    // As an earlier dive is flown: on one gas.
    let rules = &DiveRules {
        bottom_gas: gas.unwrap_or(plan.gas()),
        decompression: Vec::new(),
        ..plan.rules().clone()
    };
    let start = &plan.start().tissues;
    if let Some(levels) = one_pencil(debrief) {
        let schedule = fly_checked(rules, start, &levels)?;
        let surfaces = schedule.run_time();
        return Ok(Told { levels, surfaces });
    }
    let profiles = debrief
        .dives
        .iter()
        .zip(&clock.begins)
        .map(|(dive, begins)| {
            let moments = dive.profile();
            // A pencil log is flown by the plan; who was longer under water was back later.
            let flown = moments.last().map_or(RunTime::SPLASH, |last| last.0);
            let longer = (dive.run_time - flown.elapsed()).max(Time::from_min(0.0));
            let begins = *begins + longer;
            let before = (begins.as_min() > 0.0).then_some((RunTime::SPLASH, Depth::SURFACE));
            let moved = moments.into_iter().map(|(at, depth)| (at + begins, depth));
            before.into_iter().chain(moved).collect::<Vec<_>>()
        });
    let profiles: Vec<_> = profiles.collect();
    let covering = covering_levels(rules, start, &profiles)?;
    Ok(Told {
        surfaces: covering.schedule.run_time(),
        levels: covering.levels,
    })
}

fn one_pencil(debrief: &Debrief) -> Option<Vec<Level>> {
    let mut each = debrief.dives.iter().map(|dive| match &dive.kept {
        Kept::Pencilled(flown) => Some(&flown.levels),
        Kept::Sampled(_) => None,
    });
    let first = each.next()??;
    let told = first.iter().map(|level| Level {
        depth: Depth::from_m(tenths_up(level.depth.as_m())),
        time: Time::from_min(tenths_up(level.time.as_min())),
    });
    each.all(|levels| levels == Some(first))
        .then(|| told.collect())
}

/// Up to the next tenth, as a plan tells it.
fn tenths_up(value: f64) -> f64 {
    const SAME: f64 = 1e-9;
    (value * 10.0 - SAME).ceil() / 10.0
}

/// The leanest that was breathed, where it is not the plan's own gas for everybody.
fn leanest(debrief: &Debrief) -> Option<Mix> {
    let gases = debrief.dives.iter().map(|dive| dive.gas);
    let leanest = gases.reduce(|leanest, gas| {
        if leanest.is_richer_than(gas) {
            gas
        } else {
            leanest
        }
    })?;
    let plan = debrief.plan();
    let is_plain = plan.gas().is_same_gas(leanest) && !plan.gases_differ();
    (!is_plain).then_some(leanest)
}

fn breathing(debrief: &Debrief) -> Vec<(String, BreathingRate)> {
    let divers = debrief.plan().divers().iter().zip(&debrief.consumptions);
    let each = divers.filter_map(|(diver, of)| Some((diver.name.clone(), of.as_ref()?.suggested)));
    each.collect()
}

/// How much more the next plan holds against each than the record leaves; nobody may start fresher.
fn beyond(
    debrief: &Debrief,
    text: &str,
    clock: &Clock,
    interval: Time,
) -> Result<Pressure, NextError> {
    let rules = debrief.plan().rules();
    let next: Plan = read(text).map_err(NextPlanError::from)?;
    let mut most = 0.0_f64;
    for (dive, begins) in debrief.dives.iter().zip(&clock.begins) {
        let waited = clock.back - (RunTime::SPLASH + *begins + dive.run_time);
        let surface = rules.environment.surface();
        let real = dive
            .after
            .rested(&rules.compartments, surface, waited + interval);
        let told = next.starts()[dive.diver];
        // What is under the balance of the surface's air comes back to it by itself.
        let balance = Tissues::clean(surface).loadings()[0].n2_bar + WITHIN_BAR;
        for (real, told) in real.tissues.loadings().iter().zip(told.tissues.loadings()) {
            let more = told.total_bar() - real.total_bar();
            let lacks = |told: f64, real: f64| told < real - WITHIN_BAR;
            let is_fresher = real.n2_bar > balance && lacks(told.n2_bar, real.n2_bar);
            if is_fresher || lacks(told.he_bar, real.he_bar) {
                let name = name(debrief, dive);
                return Err(NextError::TooFresh { name });
            }
            most = most.max(more);
        }
    }
    Ok(Pressure::from_bar(most))
}
