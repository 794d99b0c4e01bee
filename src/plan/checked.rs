//! A checked plan: everything that a briefing is worked out from.

use super::clock::TimeOfDay;
use super::profile::{Level, level_travel};
use super::reserve::ReserveRules;
use super::rules::DiveRules;
use super::start::Start;
use super::team::Diver;
use crate::quantity::{Altitude, Depth, Speed, Temperature, Time, UnitSystem};
use crate::site::Water;
use crate::site::{GasConditions, GasLaw};

/// The site, as far as the rules do not already hold it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Site {
    /// The water.
    pub water: Water,
    /// Altitude, where the plan gives one.
    pub altitude: Option<Altitude>,
    /// Temperature of the cylinders.
    pub temperature: Temperature,
    /// Current, where the plan gives one.
    pub current: Option<Speed>,
}

impl Default for Site {
    /// Sea water, cylinders of 15 °C, no altitude and no current given.
    fn default() -> Self {
        Self {
            water: Water::default(),
            altitude: None,
            temperature: Temperature::from_celsius(15.0),
            current: None,
        }
    }
}

/// What the boat above must know.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// The team is overdue so long after the planned surfacing.
    pub overdue_after: Time,
    /// Whom to call and how, printed as given.
    pub emergency: Option<String>,
}

impl Default for Surface {
    /// Overdue 10 min after the planned surfacing, no emergency line.
    fn default() -> Self {
        Self {
            overdue_after: Time::from_min(10.0),
            emergency: None,
        }
    }
}

/// A plan in which everything has been checked.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Title, for people.
    pub title: Option<String>,
    /// Units that the plan is written in.
    pub units: UnitSystem,
    /// Time of day of leaving the surface.
    pub splash: Option<TimeOfDay>,
    /// The site.
    pub site: Site,
    /// Levels of the profile, in order; at least one.
    pub levels: Vec<Level>,
    /// Whether the plan says that stops are meant.
    pub staged: bool,
    /// Everything that decides the schedule.
    pub rules: DiveRules,
    /// How cylinder contents are reckoned.
    pub gas_law: GasLaw,
    /// The reserve.
    pub reserve: ReserveRules,
    /// The team on leaving the surface.
    pub start: Start,
    /// The boat above.
    pub surface: Surface,
    /// The team; may be empty.
    pub divers: Vec<Diver>,
}

impl Plan {
    /// What all cylinders have in common.
    #[must_use]
    pub fn gas_conditions(&self) -> GasConditions {
        GasConditions {
            law: self.gas_law,
            temperature: self.site.temperature,
            surface: self.rules.environment.surface(),
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
        self.splash.map(|splash| splash.after(minute as u32))
    }

    /// Whether the plan asks for stops: it says so, or it brings a gas for them.
    #[must_use]
    pub fn asks_for_stops(&self) -> bool {
        self.staged || !self.rules.decompression.is_empty()
    }

    /// The plan left at another bottom time: one beyond the plan's stretches the last level; a
    /// shorter one cuts the profile where it falls, and the later levels are dropped. `None`
    /// where it falls into the travel to a level.
    #[must_use]
    pub fn left_at(&self, bottom_time: Time) -> Option<Self> {
        let mut levels = Vec::with_capacity(self.levels.len());
        let (mut start, mut from) = (Time::from_min(0.0), Depth::from_m(0.0));
        for (index, level) in self.levels.iter().enumerate() {
            let left = bottom_time - start;
            let is_last = index + 1 == self.levels.len();
            if is_last || !left.is_over(level.time) {
                let (down, up) = (self.rules.descent_rate, self.rules.ascent.rate);
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
        Some(Self {
            levels,
            ..self.clone()
        })
    }

    /// Planned bottom time: from leaving the surface to leaving the last level.
    #[must_use]
    pub fn bottom_time(&self) -> Time {
        self.levels.iter().map(|level| level.time).sum()
    }
}
