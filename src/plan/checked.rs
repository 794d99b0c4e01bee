//! The plan itself.

use super::builder::{PlanBuilder, PlanError};
use super::clock::TimeOfDay;
use super::profile::{Level, level_travel};
use super::reserve::ReserveRules;
use super::rules::DiveRules;
use super::site::{Site, Surface};
use super::start::Start;
use super::team::Diver;
use crate::quantity::{Depth, Time, UnitSystem};
use crate::site::{GasConditions, GasLaw};
use serde::Serialize;

/// A plan in which everything has been checked: only a [`PlanBuilder`] makes one.
///
/// # Example
/// ```
/// use hangbar::plan::{Plan, PlanBuilder, PlanError};
/// use hangbar::quantity::{Depth, Time, UnitSystem};
///
/// let plan = PlanBuilder::new(UnitSystem::Metric)
///     .level(Depth::from_m(18.0), Time::from_min(40.0))
///     .build()?;
/// assert_eq!(plan.levels().len(), 1);
///
/// let refused = PlanBuilder::new(UnitSystem::Metric)
///     .level(Depth::from_m(f64::NAN), Time::from_min(40.0))
///     .build();
/// assert!(matches!(refused, Err(PlanError::OutOfRange(_))));
/// # Ok::<(), PlanError>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Plan {
    parts: PlanBuilder,
}

impl PlanBuilder {
    /// Checks all of it together.
    ///
    /// # Errors
    /// [`PlanError`], the first that is found: every quantity is held to the range that a plan file
    /// is held to.
    pub fn build(mut self) -> Result<Plan, PlanError> {
        self.check()?;
        Ok(Plan { parts: self })
    }
}

impl Plan {
    /// Title, for people.
    #[must_use]
    pub fn title(&self) -> Option<&str> {
        self.parts.title.as_deref()
    }

    /// Units that the plan is written in.
    #[must_use]
    pub const fn units(&self) -> UnitSystem {
        self.parts.units
    }

    /// Time of day of leaving the surface.
    #[must_use]
    pub const fn splash(&self) -> Option<TimeOfDay> {
        self.parts.splash
    }

    /// The site.
    #[must_use]
    pub const fn site(&self) -> &Site {
        &self.parts.site
    }

    /// Levels of the profile, in order; at least one.
    #[must_use]
    pub fn levels(&self) -> &[Level] {
        &self.parts.levels
    }

    /// Whether the plan says that stops are meant.
    #[must_use]
    pub const fn staged(&self) -> bool {
        self.parts.staged
    }

    /// Everything that decides the schedule.
    #[must_use]
    pub const fn rules(&self) -> &DiveRules {
        &self.parts.rules
    }

    /// How cylinder contents are worked out.
    #[must_use]
    pub const fn gas_law(&self) -> GasLaw {
        self.parts.gas_law
    }

    /// The reserve.
    #[must_use]
    pub const fn reserve(&self) -> &ReserveRules {
        &self.parts.reserve
    }

    /// The team on leaving the surface.
    #[must_use]
    pub fn start(&self) -> Start {
        let clean = || Start::clean(self.parts.rules.environment.surface());
        self.parts.start.unwrap_or_else(clean)
    }

    /// The boat above.
    #[must_use]
    pub const fn surface(&self) -> &Surface {
        &self.parts.surface
    }

    /// The team; may be empty.
    #[must_use]
    pub fn divers(&self) -> &[Diver] {
        &self.parts.divers
    }

    /// The same plan with other levels: for dives that are tried out.
    pub(crate) fn with_levels(&self, levels: Vec<Level>) -> Self {
        let mut plan = self.clone();
        plan.parts.levels = levels;
        plan
    }

    /// The same plan with its divers changed: for dives that are tried out.
    pub(crate) fn with_divers(&self, change: impl FnOnce(&mut [Diver])) -> Self {
        let mut plan = self.clone();
        change(&mut plan.parts.divers);
        plan
    }

    /// What all cylinders have in common.
    #[must_use]
    pub fn gas_conditions(&self) -> GasConditions {
        GasConditions {
            law: self.gas_law(),
            temperature: self.site().temperature,
            surface: self.rules().environment.surface(),
        }
    }

    /// The time of day at a whole minute of run time, past midnight if need be; `None` where the
    /// plan gives no splash.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a run time is some thousands of minutes at most and never negative"
    )]
    pub fn time_of_day(&self, minute: f64) -> Option<TimeOfDay> {
        self.splash().map(|splash| splash.after(minute as u32))
    }

    /// Whether the plan asks for stops: it says so, or it brings a gas for them.
    #[must_use]
    pub fn asks_for_stops(&self) -> bool {
        self.staged() || !self.rules().decompression.is_empty()
    }

    /// The plan left at another bottom time: one beyond the plan's stretches the last level; a
    /// shorter one cuts the profile where it falls, and the later levels are dropped. `None`
    /// where it falls into the travel to a level, or is no time to dive.
    #[must_use]
    pub fn left_at(&self, bottom_time: Time) -> Option<Self> {
        if !(bottom_time.as_min().is_finite() && bottom_time > Time::from_min(0.0)) {
            return None;
        }
        let mut levels = Vec::with_capacity(self.levels().len());
        let (mut start, mut from) = (Time::from_min(0.0), Depth::from_m(0.0));
        for (index, level) in self.levels().iter().enumerate() {
            let left = bottom_time - start;
            let is_last = index + 1 == self.levels().len();
            if is_last || !left.is_over(level.time) {
                let (down, up) = (self.rules().descent_rate, self.rules().ascent.rate);
                let travel = level_travel(from, level.depth, down, up);
                if travel.is_over(left) {
                    return None;
                }
                levels.push(Level {
                    time: left,
                    ..*level
                });
                break;
            }
            levels.push(*level);
            start = start + level.time;
            from = level.depth;
        }
        Some(self.with_levels(levels))
    }

    /// Planned bottom time: from leaving the surface to leaving the last level.
    #[must_use]
    pub fn bottom_time(&self) -> Time {
        self.levels().iter().map(|level| level.time).sum()
    }
}
