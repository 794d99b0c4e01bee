//! How long to wait between two dives for the second to be a no-stop dive.

use crate::dive::ends_without_stops;
use crate::plan::Plan;
use crate::quantity::Time;
use crate::rules::Start;
use serde::Serialize;

/// No interval longer than this is looked at, min.
pub const LONGEST_INTERVAL_MIN: u32 = 2880;

/// The least surface interval before a dive.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LeastInterval {
    /// So many whole minutes; 0 where it is a no-stop dive at once.
    Minutes(u32),
    /// Not even from clean tissues.
    NotEvenClean,
    /// Clean tissues would do, but [`LONGEST_INTERVAL_MIN`] do not.
    NotWithinBound,
}

impl LeastInterval {
    /// The minutes, where any number of them does.
    #[must_use]
    pub const fn minutes(self) -> Option<u32> {
        match self {
            Self::Minutes(minutes) => Some(minutes),
            Self::NotEvenClean | Self::NotWithinBound => None,
        }
    }
}

/// The least whole minute of the surface interval before a dive, up to [`LONGEST_INTERVAL_MIN`],
/// from which it is a no-stop dive; `None` of a first dive. Each minute is tried: who has breathed
/// much oxygen takes nitrogen up at the surface, so a longer interval is not always the better one.
#[must_use]
pub fn least_interval(plan: &Plan) -> Option<LeastInterval> {
    let last = plan.history().dives.last()?;
    let rules = plan.rules();
    let surface = rules.environment.surface();
    let passes = |start: &Start| ends_without_stops(rules, &start.tissues, plan.levels());
    if !passes(&Start::clean(surface)) {
        return Some(LeastInterval::NotEvenClean);
    }
    let after = |minute: u32| {
        let longer = Time::from_min(f64::from(minute)) - last.surface_interval;
        let rested = plan.history().waited(rules, longer)?;
        Start::most(&rested)
    };
    let found = (0..=LONGEST_INTERVAL_MIN)
        .find(|minute| after(*minute).is_some_and(|start| passes(&start)));
    Some(found.map_or(LeastInterval::NotWithinBound, LeastInterval::Minutes))
}
