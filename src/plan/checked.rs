//! The plan itself.

use super::before::EarlierDive;
use super::builder::{PlanBuilder, PlanError};
use super::clock::{DayTime, TimeOfDay};
use super::flight::{Flight, FlightTime};
use super::history::History;
use super::reserve::ReserveRules;
use super::site::{Site, Surface};
use super::team::Diver;
use crate::dive::{Schedule, ScheduleError, ends_straight_up, fly_checked, passes_a_ceiling};
use crate::quantity::{Depth, Time, UnitSystem};
use crate::rules::DiveRules;
use crate::rules::Start;
use crate::rules::{Level, level_travel};
use crate::site::{GasConditions, GasLaw, Mix};
use serde::Serialize;
use std::sync::Arc;

/// No dive lasts so many minutes.
const MOST_MINUTES: f64 = 1e6;

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
    #[serde(flatten)]
    parts: PlanBuilder,
    /// The team on leaving the surface.
    start: Start,
    #[serde(skip)]
    history: Arc<History>,
}

impl PlanBuilder {
    /// Checks all of it together.
    ///
    /// # Errors
    /// [`PlanError`], the first that is found: every quantity is held to the range that a plan file
    /// is held to, but for the time of a level, which on the day may end at any moment of it.
    pub fn build(mut self) -> Result<Plan, PlanError> {
        self.check()?;
        let history = self.history()?;
        Ok(Plan::with(self, history))
    }

    /// The day before the dive, flown on the plan's own bottom gas where an earlier dive has none.
    fn history(&self) -> Result<History, PlanError> {
        let rules = DiveRules {
            bottom_gas: self.gas,
            ..self.rules.clone()
        };
        let clean = Start::clean(rules.environment.surface());
        let arrival = self.site.arrival.filter(|_| self.start.is_none());
        let arrived = arrival.map(|arrival| arrival.at_the_site(&rules));
        let first = self.start.or(arrived).unwrap_or(clean);
        let names = self.divers.iter().map(|diver| diver.name.as_str());
        let names = names.collect::<Vec<_>>();
        History::of(&rules, (first, arrival), &self.before, &names)
    }
}

impl Plan {
    fn with(parts: PlanBuilder, history: History) -> Self {
        let clean = Start::clean(parts.rules.environment.surface());
        Self {
            start: history.team().unwrap_or(clean),
            history: Arc::new(history),
            parts,
        }
    }

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
    pub const fn start(&self) -> &Start {
        &self.start
    }

    /// The day before the dive: how the divers came, and the earlier dives.
    #[must_use]
    pub fn history(&self) -> &History {
        &self.history
    }

    /// Each diver on leaving the surface, in the order of the plan.
    #[must_use]
    pub fn starts(&self) -> &[Start] {
        // A plan without divers has one member of no name.
        &self.history.starts[..self.divers().len()]
    }

    /// Whether the divers differ in what they bring along.
    #[must_use]
    pub fn histories_differ(&self) -> bool {
        self.starts().iter().any(|start| *start != self.start)
    }

    /// The plan's bottom gas: what is breathed where a diver or an earlier dive says nothing else.
    /// The schedule is flown on [`DiveRules::bottom_gas`], the leanest that a diver breathes.
    #[must_use]
    pub const fn gas(&self) -> Mix {
        self.parts.gas
    }

    /// The earlier dives, as the plan tells them.
    #[must_use]
    pub fn before(&self) -> &[EarlierDive] {
        &self.parts.before
    }

    /// Whether the team starts as if nobody had dived before.
    #[must_use]
    pub fn starts_clean(&self) -> bool {
        self.start == Start::clean(self.rules().environment.surface())
    }

    /// The boat above.
    #[must_use]
    pub const fn surface(&self) -> &Surface {
        &self.parts.surface
    }

    /// Going up after the dive.
    #[must_use]
    pub const fn flight(&self) -> &Flight {
        &self.parts.flight
    }

    /// The team; may be empty.
    #[must_use]
    pub fn divers(&self) -> &[Diver] {
        &self.parts.divers
    }

    /// The dive from the surface back to it, from what the team starts with.
    pub(crate) fn fly(&self) -> Result<Schedule, ScheduleError> {
        fly_checked(self.rules(), &self.start().tissues, self.levels())
    }

    /// Whether it rises between levels through the low-factor ceiling.
    pub(crate) fn passes_a_ceiling(&self) -> bool {
        let rises = |pair: &[Level]| pair[1].depth < pair[0].depth;
        self.levels().windows(2).any(rises)
            && passes_a_ceiling(self.rules(), &self.start().tissues, self.levels())
    }

    /// Whether its dive ends with a straight ascent; not where there is no way down and along.
    pub(crate) fn goes_straight_up(&self) -> bool {
        ends_straight_up(self.rules(), &self.start().tissues, self.levels())
    }

    /// The same plan as one dive of a day: with what its divers bring, and when it splashes.
    pub(crate) fn in_a_day(&self, history: History, splash: Option<TimeOfDay>) -> Self {
        let parts = PlanBuilder {
            splash,
            ..self.parts.clone()
        };
        Self::with(parts, history)
    }

    /// The same plan with a flight after it. For a plan that has a splash.
    pub(crate) fn before_a_flight(&self, leaves: FlightTime) -> Self {
        let mut plan = self.clone();
        plan.parts.flight.leaves = Some(leaves);
        plan
    }

    /// Whether the plan says what is breathed on the bottom; where it does not, it is air.
    #[must_use]
    pub const fn says_gas(&self) -> bool {
        self.parts.gas_is_said
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
    /// plan gives no splash, or the minute is none of a dive.
    #[must_use]
    pub fn time_of_day(&self, minute: f64) -> Option<TimeOfDay> {
        self.day_time(minute).map(|at| at.time)
    }

    /// As [`Plan::time_of_day`], with the day.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "not negative, and far below the bound of u32"
    )]
    pub fn day_time(&self, minute: f64) -> Option<DayTime> {
        let splash = self.splash()?;
        (0.0..=MOST_MINUTES)
            .contains(&minute)
            .then(|| splash.day_time_after(minute as u32))
    }

    /// Whether the plan asks for stops: it says so, or it brings a gas for them.
    #[must_use]
    pub fn asks_for_stops(&self) -> bool {
        self.staged() || !self.rules().decompression.is_empty()
    }

    /// The plan left at another bottom time: one beyond the plan's stretches the last level; a
    /// shorter one cuts the profile where it falls, and the later levels are dropped. `None`
    /// where it falls into the travel to a level, or is no time to dive.
    pub(crate) fn left_at(&self, bottom_time: Time) -> Option<Self> {
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
