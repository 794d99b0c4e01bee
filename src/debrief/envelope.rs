//! Profiles of one dive as the levels of an earlier dive that nobody comes out of fresher.

use super::bins::{Bins, Point};
use super::left::{After, Real};
use super::steps::{Staircase, Step, as_levels};
use crate::dive::{Schedule, ScheduleError, fly};
use crate::quantity::{Depth, RunTime, Time};
use crate::rules::DiveRules;
use crate::rules::Level;
use crate::tissue::Tissues;

/// More levels than this are no description of a dive.
pub const MOST_LEVELS: usize = 6;
/// A plan may say a day of a level and no more.
const LONGEST_MIN: f64 = 1440.0;
/// What one level less is worth in inert gas that nobody holds, bar.
const LEVEL_WORTH_BAR: f64 = 0.02;
/// The deepest level is made longer by so much at a time where tissues lag, minutes.
const LENGTHEN_MIN: f64 = 0.5;
/// After so many times it is given up.
const LENGTHENED_AT_MOST: u32 = 64;

/// Levels whose dive leaves at least as much as the profiles that they cover.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Covering {
    /// The levels, in order: whole tenths of a minute, and of a metre or whole feet as the stops
    /// are spaced.
    pub levels: Vec<Level>,
    /// The dive flown from them.
    pub schedule: Schedule,
    /// How much more it leaves than the profile that leaves most, when all are back: the greatest
    /// of the compartments, bar.
    pub excess_bar: f64,
    /// How much less it leaves then in a compartment that holds no more nitrogen than the surface's
    /// air gives: the greatest of them, bar. 0 on air, and nearly always on nitrox.
    pub under_balance_bar: f64,
}

/// Why there are no such levels.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CoverError {
    /// There is no profile, or one of no moment.
    #[error("there is no profile to cover")]
    NoProfile,
    /// A time that goes back, or a figure that is none.
    #[error(
        "moment {moment} of profile {profile} is not a depth from the surface down, at a time that \
         is not before the last one"
    )]
    NoMoment {
        /// Number of the profile, from 1.
        profile: usize,
        /// Number of the moment, from 1.
        moment: usize,
    },
    /// Longer than a plan can say.
    #[error("the dive lasts longer than a day")]
    TooLong,
    /// Levels that cover it cannot be flown.
    #[error(transparent)]
    Schedule(#[from] ScheduleError),
    /// However long the deepest level is made, a compartment holds less than really.
    #[error(
        "no levels leave as much inert gas as the dive did: compartment {} lacks {short_bar:.3} bar",
        .index + 1
    )]
    Fresher {
        /// The compartment, 0 to 15, fastest first.
        index: usize,
        /// What it lacks, bar.
        short_bar: f64,
    },
}

/// Levels of one dive, flown by the plan's own rules, from which nobody comes out fresher than from
/// any of the profiles of it. All of it is on the bottom gas of the rules alone, as an earlier dive
/// of a plan is flown.
///
/// What holds of them:
/// * From the moment when the flown dive has come to its first level it is at every instant at
///   least as deep as every profile. Before that it is on the plan's own way down, and somebody who
///   really went down faster is below it.
/// * When all are back, every compartment holds of each gas at least as much as after each profile,
///   but for 1e-9 bar; so it does at any later moment at the surface.
/// * Where a gas with less nitrogen than air washes some out below what the surface's air gives, a
///   dive that surfaces later leaves less of it, and there may be no such levels. Then that much is
///   asked alone of the compartments that really hold more, and of helium;
///   [`Covering::under_balance_bar`] says what the others lack.
/// * It surfaces no sooner than anybody did.
///
/// A profile is straight lines between moments from the splash on; where it says that somebody is at
/// the surface, and after its end, air is breathed. The levels are one to [`MOST_LEVELS`]: of those
/// that are tried the ones that leave least.
///
/// # Errors
/// [`CoverError`].
///
/// # Example
/// ```
/// use hangbar::debrief::{CoverError, covering_levels};
/// use hangbar::quantity::{Depth, RunTime};
/// use hangbar::rules::DiveRules;
/// use hangbar::tissue::Tissues;
///
/// let rules = DiveRules::default();
/// let clean = Tissues::clean(rules.environment.surface());
/// let points = [(0.0, 0.0), (2.0, 24.0), (20.0, 21.0), (24.0, 5.0), (28.0, 5.0), (29.0, 0.0)];
/// let profile = points.map(|(at, depth)| (RunTime::from_min(at), Depth::from_m(depth)));
/// let covering = covering_levels(&rules, &clean, &[profile.to_vec()])?;
/// assert!(covering.levels.len() <= 4 && covering.excess_bar < 0.1, "{covering:?}");
/// assert!(covering.schedule.run_time() >= RunTime::from_min(29.0));
/// assert_eq!(covering_levels(&rules, &clean, &[]), Err(CoverError::NoProfile));
/// # Ok::<(), CoverError>(())
/// ```
pub fn covering_levels(
    rules: &DiveRules,
    start: &Tissues,
    profiles: &[Vec<(RunTime, Depth)>],
) -> Result<Covering, CoverError> {
    check(profiles)?;
    let rules = DiveRules {
        decompression: Vec::new(),
        ..rules.clone()
    };
    let bins = Bins::deepest(profiles);
    let real = profiles.iter();
    let cover = Cover {
        rules: &rules,
        start,
        bins: &bins,
        real: real.map(|line| Real::of(&rules, start, line)).collect(),
    };
    match cover.best(Asked::EachCompartment) {
        Err(CoverError::Fresher { .. }) => cover.best(Asked::AboveBalance),
        found => found,
    }
}

fn cost(covering: &Covering) -> f64 {
    covering.excess_bar + LEVEL_WORTH_BAR * covering.levels.len() as f64
}

fn check(profiles: &[Vec<Point>]) -> Result<(), CoverError> {
    if profiles.is_empty() || profiles.iter().any(Vec::is_empty) {
        return Err(CoverError::NoProfile);
    }
    for (profile, points) in profiles.iter().enumerate() {
        let mut last = RunTime::SPLASH;
        for (moment, (at, depth)) in points.iter().enumerate() {
            let is_one = at.as_min().is_finite() && *at >= last;
            if !(is_one && depth.as_m().is_finite() && *depth >= Depth::SURFACE) {
                return Err(CoverError::NoMoment {
                    profile: profile + 1,
                    moment: moment + 1,
                });
            }
            last = *at;
        }
        if last.as_min() > LONGEST_MIN {
            return Err(CoverError::TooLong);
        }
    }
    Ok(())
}

/// What is to be covered.
struct Cover<'a> {
    rules: &'a DiveRules,
    start: &'a Tissues,
    bins: &'a Bins,
    real: Vec<Real>,
}

/// Where the flown dive must leave as much as the profiles did.
#[derive(Clone, Copy, PartialEq)]
enum Asked {
    EachCompartment,
    /// In those alone that really hold more than in balance with the surface's air.
    AboveBalance,
}

impl Cover<'_> {
    /// The levels that leave least, of those tried.
    fn best(&self, asked: Asked) -> Result<Covering, CoverError> {
        let staircase = Staircase {
            bins: self.bins,
            rules: self.rules,
        };
        let mut best: Result<Covering, CoverError> = Err(CoverError::NoProfile);
        for steps in staircase.choices(MOST_LEVELS) {
            for count in 1..=steps.len() {
                let tried = self.with_way_up(&staircase, &steps[..count], asked);
                best = match (best, tried) {
                    (best, None) => best,
                    (Ok(best), Some(Err(_))) => Ok(best),
                    (Ok(best), Some(Ok(found))) if cost(&best) <= cost(&found) => Ok(best),
                    (_, Some(tried)) => tried,
                };
            }
        }
        best
    }

    /// The levels with the last one left as soon as the flown way up covers the rest; `None` where
    /// the rest is deeper than that level.
    fn with_way_up(
        &self,
        staircase: &Staircase<'_>,
        steps: &[Step],
        asked: Asked,
    ) -> Option<Result<Covering, CoverError>> {
        let (last, earlier) = steps.split_last()?;
        let left_at = |leave| {
            let last = Step {
                depth: last.depth,
                leave,
            };
            [earlier, &[last]].concat()
        };
        let covers = |leave| match self.fly(&left_at(leave)) {
            Ok(schedule) => Ok(self.bins.are_covered_by(&schedule)),
            Err(error) => Err(CoverError::from(error)),
        };
        let tenths = |at: RunTime| (at.as_min() * 10.0).round();
        let at = |tenths: f64| RunTime::from_min(tenths / 10.0);
        let soonest = staircase.soonest(earlier.last(), last.depth);
        let (mut too_soon, mut enough) = (
            tenths(soonest) - 1.0,
            tenths(soonest.max(self.bins.ends())).ceil(),
        );
        match covers(at(enough)) {
            Ok(true) => {}
            Ok(false) => return None,
            Err(error) => return Some(Err(error)),
        }
        // Halved at most some fourteen times: a day has 14,400 tenths.
        while enough - too_soon > 1.5 {
            let middle = ((too_soon + enough) / 2.0).floor();
            match covers(at(middle)) {
                Ok(true) => enough = middle,
                Ok(false) | Err(_) => too_soon = middle,
            }
        }
        Some(self.with_all_tissues(staircase, &left_at(at(enough)), asked))
    }

    /// The levels with the deepest one as little longer as it takes that no compartment lags.
    fn with_all_tissues(
        &self,
        staircase: &Staircase<'_>,
        steps: &[Step],
        asked: Asked,
    ) -> Result<Covering, CoverError> {
        let longer = |times: u32| {
            let steps = with_deepest_longer(staircase, steps, times);
            self.if_covering(&steps, asked)
        };
        let mut enough = match longer(0)? {
            Tried::Covers(covering) => return Ok(*covering),
            Tried::Lags { .. } => 1,
        };
        let mut too_short = 0;
        let mut best = loop {
            match longer(enough)? {
                Tried::Covers(covering) => break covering,
                Tried::Lags { index, short_bar } if enough >= LENGTHENED_AT_MOST => {
                    return Err(CoverError::Fresher { index, short_bar });
                }
                Tried::Lags { .. } => (too_short, enough) = (enough, enough * 2),
            }
        };
        while enough - too_short > 1 {
            let middle = too_short.midpoint(enough);
            match longer(middle)? {
                Tried::Covers(covering) => (best, enough) = (covering, middle),
                Tried::Lags { .. } => too_short = middle,
            }
        }
        Ok(*best)
    }

    /// The dive flown from levels, if it covers what is to be covered.
    fn if_covering(&self, steps: &[Step], asked: Asked) -> Result<Tried, CoverError> {
        let schedule = self.fly(steps)?;
        let after = After::of(self.rules, &schedule, &self.real);
        let balance = match asked {
            Asked::EachCompartment => 0.0,
            Asked::AboveBalance => self.balance_bar(),
        };
        let lag = after.lag(balance);
        if lag.is_some() || !self.bins.are_covered_by(&schedule) {
            // Without a lag a later level has been pushed back, and with it a way down.
            let (index, short_bar) = lag.unwrap_or((0, 0.0));
            return Ok(Tried::Lags { index, short_bar });
        }
        Ok(Tried::Covers(Box::new(Covering {
            levels: as_levels(steps),
            excess_bar: after.excess_bar(),
            under_balance_bar: after.lag(0.0).map_or(0.0, |(_, short_bar)| short_bar),
            schedule,
        })))
    }

    /// Nitrogen in balance with the air at the surface.
    fn balance_bar(&self) -> f64 {
        let clean = Tissues::clean(self.rules.environment.surface());
        clean.loading(0).n2_bar
    }

    fn fly(&self, steps: &[Step]) -> Result<Schedule, ScheduleError> {
        fly(self.rules, self.start, &as_levels(steps))
    }
}

/// What became of levels that were tried.
enum Tried {
    Covers(Box<Covering>),
    /// The compartment that lacks most, and how much.
    Lags {
        index: usize,
        short_bar: f64,
    },
}

/// The last of the deepest levels is left later by so many times [`LENGTHEN_MIN`]; those after it
/// no later than they must be.
fn with_deepest_longer(staircase: &Staircase<'_>, steps: &[Step], times: u32) -> Vec<Step> {
    let mut steps = steps.to_vec();
    let depths = steps.iter().map(|step| step.depth);
    let deepest = depths.fold(Depth::SURFACE, Depth::max);
    let Some(index) = steps.iter().rposition(|step| step.depth >= deepest) else {
        return steps;
    };
    let longer = Time::from_min(LENGTHEN_MIN * f64::from(times));
    steps[index].leave = steps[index].leave + longer;
    for index in index + 1..steps.len() {
        let soonest = staircase.soonest(Some(&steps[index - 1]), steps[index].depth);
        steps[index].leave = steps[index].leave.max(soonest);
    }
    steps
}
