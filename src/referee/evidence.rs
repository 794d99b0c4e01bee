//! What the referee is shown.

use crate::dive::{NoStopLimit, Schedule};
use crate::gas::{DiverBudget, DiverLimits, LevelEnd};
use crate::oxygen::OxygenExposure;
use crate::plan::Plan;
use crate::surface::Own;

/// The figures of a briefing that are gone over, and the plan that they are of.
#[derive(Clone, Copy, Debug)]
pub struct Evidence<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// Its dive.
    pub schedule: &'a Schedule,
    /// The team's no-stop limit at the deepest level.
    pub no_stop_limit: &'a NoStopLimit,
    /// The same with clean tissues.
    pub clean_limit: &'a NoStopLimit,
    /// Each diver apart from the team.
    pub own: &'a [Own],
    /// Oxygen of the day.
    pub oxygen: &'a OxygenExposure,
    /// Emergencies at the levels' ends.
    pub level_ends: &'a [LevelEnd],
    /// The divers' gas.
    pub divers: &'a [DiverBudget],
    /// For how long it lasts.
    pub limits: &'a [DiverLimits],
}
