//! Changes of a plan that somebody asks about, and what comes of each.

use crate::dive::ScheduleError;
use crate::plan::Plan;
use crate::quantity::{DepthChange, Time, UnitSystem};
use crate::whatif::{Deviation, Outcome, deviate};

/// More changes than these are no table.
const MOST_CHANGES: usize = 30;

/// A change of a plan and what comes of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The change.
    pub deviation: Deviation,
    /// What comes of it, or why that cannot be worked out.
    pub outcome: Result<Outcome, ScheduleError>,
}

impl Change {
    /// Works out what comes of a change.
    #[must_use]
    pub fn of(plan: &Plan, deviation: Deviation) -> Self {
        Self {
            deviation,
            outcome: deviate(plan, &deviation),
        }
    }
}

/// What somebody asks about a plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ChangesAsked {
    /// Leaving the bottom so much late.
    pub late: Vec<Time>,
    /// Going so much deeper; with every lateness too.
    pub deeper: Vec<DepthChange>,
    /// Breathing so many per cent harder.
    pub harder_pct: Vec<f64>,
}

/// More changes are asked for than a table holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{asked} changes are asked for; at most {MOST_CHANGES}")]
pub struct TooManyChanges {
    /// How many are asked for.
    pub asked: usize,
}

impl ChangesAsked {
    /// Each change, in the order of the table; the usual ones where nothing is asked for.
    ///
    /// # Errors
    /// [`TooManyChanges`] for more than 30.
    pub fn deviations(&self, units: UnitSystem) -> Result<Vec<Deviation>, TooManyChanges> {
        let late = self.late.iter().copied();
        let mut deviations: Vec<Deviation> = late.clone().map(Deviation::late).collect();
        for deeper in self.deeper.iter().copied().map(Deviation::deeper) {
            deviations.push(deeper);
            deviations.extend(late.clone().map(|late| Deviation { late, ..deeper }));
        }
        deviations.extend(self.harder_pct.iter().copied().map(Deviation::harder));
        match deviations.len() {
            0 => Ok(Deviation::usual(units).to_vec()),
            asked if asked > MOST_CHANGES => Err(TooManyChanges { asked }),
            _ => Ok(deviations),
        }
    }
}
