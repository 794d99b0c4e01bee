//! How long to wait between two dives for the second to be a no-stop dive.

use crate::dive::{Segment, fly_straight_up};
use crate::plan::Plan;
use crate::quantity::Time;
use crate::rules::Start;
use crate::tissue::{Excess, Tissues};
use serde::Serialize;

/// No interval longer than this is looked at, min.
pub const LONGEST_INTERVAL_MIN: u32 = 2880;

/// What the least surface interval before a dive comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum IntervalReach {
    /// So many whole minutes; 0 where it is a no-stop dive at once.
    Minutes(u32),
    /// Not even from clean tissues.
    NotEvenClean,
    /// Clean tissues would do, but [`LONGEST_INTERVAL_MIN`] do not.
    NotWithinBound,
}

/// The dive tried after one surface interval: down, along and straight up.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct IntervalTrial {
    /// The interval, whole minutes; `None` of clean tissues.
    pub minutes: Option<u32>,
    /// The team on leaving the surface.
    pub start: Start,
    /// Its tissues on surfacing.
    pub surfacing: Tissues,
    /// What bars the straight ascent; `None` where it is a no-stop dive.
    pub barred_by: Option<Excess>,
    /// The compartment that bars it, 0 to 15; where none does, the one nearest to its limit.
    pub compartment: usize,
}

/// The least surface interval before a dive, and what decides it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct LeastInterval {
    /// What it comes to.
    pub reach: IntervalReach,
    /// Down, along and straight up: the same in every trial.
    pub segments: Vec<Segment>,
    /// The dive after a minute less, where there is one, and after the least interval; where there
    /// is none, after the longest looked at, or from clean tissues where these do not do either.
    pub trials: Vec<IntervalTrial>,
}

impl LeastInterval {
    /// The minutes, where any number of them does.
    #[must_use]
    pub const fn minutes(&self) -> Option<u32> {
        match self.reach {
            IntervalReach::Minutes(minutes) => Some(minutes),
            IntervalReach::NotEvenClean | IntervalReach::NotWithinBound => None,
        }
    }
}

/// The least whole minute of the surface interval before a dive, up to [`LONGEST_INTERVAL_MIN`],
/// from which it is a no-stop dive; `None` of a first dive. Each minute is tried: who has breathed
/// much oxygen takes nitrogen up at the surface, so a longer interval is not always the better one.
#[must_use]
pub fn least_interval(plan: &Plan) -> Option<LeastInterval> {
    let last = plan.history().dives.last()?;
    let surface = plan.rules().environment.surface();
    // Nothing where somebody is not back by then.
    let after = |minute: u32| {
        let longer = Time::from_min(f64::from(minute)) - last.surface_interval;
        let rested = plan.history().waited(plan.rules(), longer)?;
        trial(plan, Some(minute), Start::most(&rested)?)
    };
    let (segments, clean) = trial(plan, None, Start::clean(surface))?;
    let (reach, trials) = if clean.barred_by.is_some() {
        (IntervalReach::NotEvenClean, vec![clean])
    } else {
        let mut barred = None;
        let mut found = None;
        for minute in 0..=LONGEST_INTERVAL_MIN {
            let Some((_, trial)) = after(minute) else {
                continue;
            };
            if trial.barred_by.is_none() {
                found = Some((minute, trial));
                break;
            }
            barred = Some(trial);
        }
        match found {
            Some((minute, enough)) => (
                IntervalReach::Minutes(minute),
                barred.into_iter().chain([enough]).collect(),
            ),
            None => (IntervalReach::NotWithinBound, barred.into_iter().collect()),
        }
    };
    Some(LeastInterval {
        reach,
        segments,
        trials,
    })
}

/// One trial and the dive that is tried; `None` where there is no way down and along.
fn trial(plan: &Plan, minutes: Option<u32>, start: Start) -> Option<(Vec<Segment>, IntervalTrial)> {
    let rules = plan.rules();
    let (set, surface) = (&rules.compartments, rules.environment.surface());
    let (segments, surfacing) = fly_straight_up(rules, &start.tissues, plan.levels())?;
    let barred_by = surfacing.worst_excess(set, surface, rules.factors.high());
    let compartment = barred_by.map_or_else(
        || surfacing.gradient(set, surface).index,
        |excess| excess.index,
    );
    let trial = IntervalTrial {
        minutes,
        start,
        surfacing,
        barred_by,
        compartment,
    };
    Some((segments, trial))
}
