//! The next dive of the day: what it takes over from the one that was.

use super::dive::{Kept, RealDive};
use super::envelope::{CoverError, covering_levels};
use super::held::LITTLE_SHARE;
use super::whole::Debrief;
use crate::dive::{ScheduleError, fly_checked};
use crate::finding::Weight;
use crate::letters::composed;
use crate::plan::{DayTime, EarlierDive, Plan, TimeOfDay};
use crate::plan_file::{NextPlan, NextPlanError, next_plan, read};
use crate::quantity::show::{list, whole_up};
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
    /// Who begins with more CNS than the plan says, per cent really: an earlier dive is told on one
    /// gas, the leanest.
    pub more_oxygen: Vec<(String, f64)>,
    /// Who keeps the planned consumption, because what was breathed is too little to believe.
    pub kept: Vec<String>,
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
    /// Somebody is not to dive.
    #[error("there is a no-go finding about {}", list(.names))]
    NoGo {
        /// Who.
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
    #[error("{file} does not say at what time of day it begins")]
    NoClock {
        /// The first record that does not.
        file: String,
    },
    /// The next splash is before they are back, or what is told of the dive is not over by then.
    #[error(
        "the next dive begins before this one is over: they were back after {} min, and as a plan tells \
         the dive it lasts {} min",
        .back.as_min().ceil(),
        .told.as_min().ceil()
    )]
    TooSoon {
        /// When the last of them was back.
        back: RunTime,
        /// When the dive is over as it is told.
        told: RunTime,
    },
    /// The dive cannot be told as levels.
    #[error(transparent)]
    Cover(#[from] CoverError),
    /// Several gases, one of them with helium, and none of them leaves as much of each as all did.
    #[error(
        "{name} breathed several gases, one of them with helium; a plan tells a dive on one gas, and on \
         {gas} it would leave less than it did"
    )]
    OneGas {
        /// Whose dive.
        name: String,
        /// The leanest gas, on which a plan tells the dive.
        gas: Mix,
    },
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
            Self::NoGo { .. } => Some(
                "a plan and records without them: they do not dive again before that is settled"
                    .to_owned(),
            ),
            Self::NoClock { .. } => Some(
                "--interval \"75 min\", from the last of them being back to the next splash"
                    .to_owned(),
            ),
            Self::TooSoon { .. } => Some("a later splash, or a longer interval".to_owned()),
            Self::Cover(_) | Self::OneGas { .. } => Some(
                "no next plan of this dive: nothing that a plan can tell is as hard as it was"
                    .to_owned(),
            ),
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
    nobody_hurt(debrief)?;
    let absent = absent(debrief, &asked.absent)?;
    for dive in &debrief.dives {
        whole(debrief, dive)?;
    }
    let clock = Clock::of(debrief)?;
    let gas = leanest(debrief);
    // As an earlier dive is flown: on one gas.
    let rules = DiveRules {
        bottom_gas: gas,
        decompression: Vec::new(),
        ..debrief.plan().rules().clone()
    };
    let next = Next {
        debrief,
        clock: &clock,
        wait: asked.wait,
        absent: &absent,
        rules: &rules,
    };
    // Pencil logs that all say the same are the levels that they were flown by. Rounded up they are
    // back some seconds later, and on a gas with less nitrogen than air that may leave a hair less.
    if let Some(levels) = one_pencil(debrief) {
        match next.written(as_flown(&rules, debrief, levels)?, text) {
            Err(NextError::TooFresh { .. }) => {}
            written => return written,
        }
    }
    next.written(covered(debrief, &clock, &rules)?, text)
}

/// What the next plan is written from.
struct Next<'a> {
    debrief: &'a Debrief,
    clock: &'a Clock,
    wait: Wait,
    absent: &'a [String],
    /// By which a plan flies the dive that it tells.
    rules: &'a DiveRules,
}

impl Next<'_> {
    fn written(&self, told: Told, text: &str) -> Result<NextWritten, NextError> {
        let Self {
            debrief,
            clock,
            absent,
            ..
        } = *self;
        let (interval, splash) = clock.next(self.wait)?;
        let gas = self.rules.bottom_gas;
        // What is told may end later than anybody was back, never sooner.
        let late = (told.surfaces - clock.back).max(Time::from_min(0.0));
        let waits = interval - late;
        if waits.as_min() < 0.0 {
            return Err(NextError::TooSoon {
                back: clock.back,
                told: told.surfaces,
            });
        }
        let before = EarlierDive {
            levels: told.levels,
            gas: Some(gas),
            surface_interval: waits,
            divers: (!absent.is_empty()).then(|| dived(debrief)),
        };
        let (rates, kept) = breathing(debrief);
        let next = NextPlan::new(rates, vec![before], splash);
        let text = next_plan(text, &next)?;
        let Beyond { most, more_oxygen } = beyond(debrief, &text, clock, (interval, gas))?;
        Ok(NextWritten {
            text: headed(debrief, &text, &more_oxygen),
            beyond: most,
            interval,
            more_oxygen,
            kept,
        })
    }
}

/// Who has a no-go finding gets no next plan.
fn nobody_hurt(debrief: &Debrief) -> Result<(), NextError> {
    let no_gos = debrief
        .findings
        .iter()
        .filter(|found| found.weight() == Weight::NoGo);
    let mut names: Vec<String> = no_gos.map(|found| found.diver.clone()).collect();
    names.dedup();
    if names.is_empty() {
        Ok(())
    } else {
        Err(NextError::NoGo { names })
    }
}

/// The plan file with a word before it of what it is.
fn headed(debrief: &Debrief, text: &str, more_oxygen: &[(String, f64)]) -> String {
    let (mark, rest) = match text.strip_prefix('\u{feff}') {
        Some(rest) => ("\u{feff}", rest),
        None => ("", text),
    };
    let end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let title = debrief.plan().title().unwrap_or("an untitled dive");
    let mut head = format!(
        "# The next dive after {title}: not briefed yet.{end}# What follows, comments and title among \
         it, is of that dive but for `splash`, `sac` and the last [[before]].{end}"
    );
    for (name, cns_pct) in more_oxygen {
        head.push_str(&format!(
            "# {name} begins with {} % CNS, more than this plan knows.{end}",
            whole_up(*cns_pct)
        ));
    }
    format!("{mark}{head}{rest}")
}

fn name(debrief: &Debrief, dive: &RealDive) -> String {
    debrief.plan().divers()[dive.diver].name.clone()
}

/// Who did not dive; everybody else must have a record.
fn absent(debrief: &Debrief, said: &[String]) -> Result<Vec<String>, NextError> {
    let unrecorded: Vec<String> = debrief.unrecorded().map(str::to_owned).collect();
    let said: Vec<String> = said.iter().map(|name| composed(name.trim())).collect();
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
    /// A record that does not say when it begins.
    unsaid: Option<String>,
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
        let unsaid = dives.iter().find(|dive| dive.splash.is_none());
        Ok(Self {
            splash: first,
            unsaid: unsaid.map(|dive| dive.source.file.clone()),
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
                let unsaid = || NextError::NoClock {
                    file: self.unsaid.clone().unwrap_or_default(),
                };
                let first = self.splash.ok_or_else(unsaid)?;
                let on_the_day = |time| DayTime {
                    days_later: 0,
                    time,
                };
                let minutes = on_the_day(splash).minutes_since(on_the_day(first));
                let minutes = i32::try_from(minutes).map_or(0.0, f64::from);
                let interval = RunTime::from_min(minutes) - self.back;
                if interval.as_min() < 0.0 {
                    return Err(NextError::TooSoon {
                        back: self.back,
                        told: self.back,
                    });
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

/// Levels by which a pencil log was flown.
fn as_flown(rules: &DiveRules, debrief: &Debrief, levels: Vec<Level>) -> Result<Told, NextError> {
    let schedule = fly_checked(rules, &debrief.plan().start().tissues, &levels)?;
    let surfaces = schedule.run_time();
    Ok(Told { levels, surfaces })
}

/// Levels as deep as any record at every moment.
fn covered(debrief: &Debrief, clock: &Clock, rules: &DiveRules) -> Result<Told, NextError> {
    let start = &debrief.plan().start().tissues;
    let profiles = debrief
        .dives
        .iter()
        .zip(&clock.begins)
        .map(|(dive, begins)| {
            let moments = hardest(dive);
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

/// The profile of a dive; where a pencil log's average depth says that it was deeper than flown, all of
/// its bottom time at the greatest depth.
fn hardest(dive: &RealDive) -> Vec<(RunTime, Depth)> {
    let profile = dive.profile();
    match (&dive.kept, dive.bottom_time) {
        (Kept::Pencilled(flown), Some(bottom_time)) if flown.was_deeper() => {
            let leaves = RunTime::SPLASH + bottom_time;
            let deepest = dive.greatest_depth;
            let bottom = [
                (RunTime::SPLASH, Depth::SURFACE),
                (RunTime::SPLASH, deepest),
                (leaves, deepest),
            ];
            let up = profile.into_iter().filter(|(at, _)| at.is_after(leaves));
            bottom.into_iter().chain(up).collect()
        }
        _ => profile,
    }
}

fn one_pencil(debrief: &Debrief) -> Option<Vec<Level>> {
    let mut each = debrief.dives.iter().map(|dive| match &dive.kept {
        Kept::Pencilled(flown) if !flown.was_deeper() => Some(&flown.levels),
        Kept::Pencilled(_) | Kept::Sampled(_) => None,
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

/// The leanest of everything that was breathed.
fn leanest(debrief: &Debrief) -> Mix {
    let gases = debrief
        .dives
        .iter()
        .flat_map(|dive| dive.gases.iter().copied());
    let leanest = gases.reduce(|leanest, gas| {
        if leanest.is_richer_than(gas) {
            gas
        } else {
            leanest
        }
    });
    leanest.unwrap_or(debrief.plan().gas())
}

/// What each is planned with, and who keeps the planned figure.
fn breathing(debrief: &Debrief) -> (Vec<(String, BreathingRate)>, Vec<String>) {
    let (mut rates, mut kept) = (Vec::new(), Vec::new());
    for (diver, of) in debrief.plan().divers().iter().zip(&debrief.consumptions) {
        match of {
            Some(of) if of.suggested < diver.breathing * LITTLE_SHARE => {
                kept.push(diver.name.clone())
            }
            Some(of) => rates.push((diver.name.clone(), of.suggested)),
            None => {}
        }
    }
    (rates, kept)
}

/// CNS that is more by this is told, per cent.
const CNS_TOLD_PCT: f64 = 0.5;

/// What the next plan holds beside what the records leave.
struct Beyond {
    most: Pressure,
    more_oxygen: Vec<(String, f64)>,
}

/// How much more the next plan, which tells the dive on a gas, holds against each than the record
/// leaves; nobody may start fresher.
fn beyond(
    debrief: &Debrief,
    text: &str,
    clock: &Clock,
    (interval, gas): (Time, Mix),
) -> Result<Beyond, NextError> {
    let rules = debrief.plan().rules();
    let mut more_oxygen: Vec<(String, f64)> = Vec::new();
    let next: Plan = read(text).map_err(NextPlanError::from)?;
    let mut most = 0.0_f64;
    for (dive, begins) in debrief.dives.iter().zip(&clock.begins) {
        let waited = clock.back - (RunTime::SPLASH + *begins + dive.run_time);
        let surface = rules.environment.surface();
        let real = dive
            .after
            .rested(&rules.compartments, surface, waited + interval);
        let told = next.starts()[dive.diver];
        if real.cns_pct > told.cns_pct + CNS_TOLD_PCT {
            let name = name(debrief, dive);
            more_oxygen.retain(|(known, cns)| *known != name || *cns > real.cns_pct);
            if !more_oxygen.iter().any(|(known, _)| *known == name) {
                more_oxygen.push((name, real.cns_pct));
            }
        }
        // What is under the balance of the surface's air comes back to it by itself.
        let balance = Tissues::clean(surface).loading(0).n2_bar + WITHIN_BAR;
        for (real, told) in real
            .tissues
            .loadings()
            .into_iter()
            .zip(told.tissues.loadings())
        {
            let more = told.total_bar() - real.total_bar();
            let lacks = |told: f64, real: f64| told < real - WITHIN_BAR;
            let is_fresher = real.n2_bar > balance && lacks(told.n2_bar, real.n2_bar);
            if is_fresher || lacks(told.he_bar, real.he_bar) {
                let name = name(debrief, dive);
                let has_helium = dive.gases.iter().any(|gas| gas.helium() > 0.0);
                return Err(if has_helium && dive.gases.len() > 1 {
                    NextError::OneGas { name, gas }
                } else {
                    NextError::TooFresh { name }
                });
            }
            most = most.max(more);
        }
    }
    Ok(Beyond {
        most: Pressure::from_bar(most),
        more_oxygen,
    })
}
