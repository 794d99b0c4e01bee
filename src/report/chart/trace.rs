//! Which chart of the tissues through a dive.

use super::super::trace::{CompartmentChoice, TracedDive};
use super::parts::{Chart, with_start};
use super::{compartments, profile};
use crate::quantity::UnitSystem;

/// So many compartments can be told apart in a picture.
const MOST_OVER_TIME: usize = 6;

/// What a chart of the tissues shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TraceChart {
    /// Depth and ceiling over run time, the stops labelled.
    Profile,
    /// Inert gas in the compartments over run time, with the inspired pressure that each tends to
    /// and, where there is room, what each may hold at the surface. At most 6 of them.
    OverTime,
    /// Inert gas against ambient pressure in one compartment, under the lines of what it may hold.
    AgainstAmbient,
}

/// More compartments are asked for than a chart holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{asked} compartments are asked for; a picture holds at most {most}")]
pub struct TooManyCompartments {
    /// How many are asked for.
    pub asked: usize,
    /// How many it holds.
    pub most: usize,
}

impl TraceChart {
    /// Whether the chart holds the compartments chosen.
    ///
    /// # Errors
    /// [`TooManyCompartments`] for more than one against the ambient pressure, or more than 6 over
    /// run time.
    pub fn check(self, choice: &CompartmentChoice) -> Result<(), TooManyCompartments> {
        let asked = choice.indices().len();
        let most = match self {
            Self::Profile => return Ok(()),
            Self::OverTime => MOST_OVER_TIME,
            Self::AgainstAmbient => 1,
        };
        if asked > most {
            return Err(TooManyCompartments { asked, most });
        }
        Ok(())
    }
}

/// A chart of the tissues, of the samples as they are (see [`TracedDive::finely`]). One against the
/// ambient pressure shows the first of the compartments chosen.
#[must_use]
pub fn trace(dive: &TracedDive<'_>, shown: TraceChart, units: UnitSystem) -> Chart {
    let chart = match shown {
        TraceChart::Profile => profile::profile(dive, units),
        TraceChart::OverTime => compartments::over_time(dive),
        TraceChart::AgainstAmbient => compartments::against_ambient(dive),
    };
    with_start(chart, dive.briefing(), units)
}
