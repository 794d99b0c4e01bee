//! What decides a schedule but for its levels: the site, the model, the rates, the gases, the way up.

use super::ranges::{
    AIR_PRESSURE, ASCENT_RATE, DENSITY, DESCENT_RATE, OutOfRange, SAFETY_DEPTH, SAFETY_TIME,
    SWITCH_TIME,
};
use crate::quantity::{Depth, DepthChange, Speed, Time, UnitSystem};
use crate::site::Environment;
use crate::site::Mix;
use crate::tissue::{CompartmentSet, GradientFactors};
use serde::Serialize;

/// Depths closer than this share of a stop level are the same level.
const SAME_LEVEL: f64 = 1e-9;

/// Everything but the levels that decides a schedule.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DiveRules {
    /// Water and air.
    pub environment: Environment,
    /// Tissue model.
    pub compartments: CompartmentSet,
    /// Gradient factors.
    pub factors: GradientFactors,
    /// Speed on the way down.
    pub descent_rate: Speed,
    /// The way up.
    pub ascent: AscentRules,
    /// Gas breathed down and along.
    pub bottom_gas: Mix,
    /// Gases that may be switched to on a staged ascent.
    pub decompression: Vec<Mix>,
}

impl DiveRules {
    /// What holds where a plan in these units says nothing: air in sea water at sea level,
    /// factors 40/85, 18 m/min or 60 ft/min on the way down, [`AscentRules::metric`] or
    /// [`AscentRules::imperial`] on the way up.
    #[must_use]
    pub fn standard(units: UnitSystem) -> Self {
        let (descent_rate, ascent) = match units {
            UnitSystem::Metric => (Speed::from_m_min(18.0), AscentRules::metric()),
            UnitSystem::Imperial => (Speed::from_ft_min(60.0), AscentRules::imperial()),
        };
        Self {
            environment: Environment::default(),
            compartments: CompartmentSet::default(),
            factors: GradientFactors::default(),
            descent_rate,
            ascent,
            bottom_gas: Mix::AIR,
            decompression: Vec::new(),
        }
    }
}

impl DiveRules {
    /// Refuses rules that nobody dives by.
    ///
    /// # Errors
    /// [`OutOfRange`] unless every rate, time, depth and pressure is one that a plan file may give.
    pub fn check(&self, units: UnitSystem) -> Result<(), OutOfRange> {
        AIR_PRESSURE.check(self.environment.surface().as_bar(), units)?;
        DENSITY.check(self.environment.density_kg_m3(), units)?;
        DESCENT_RATE.check(self.descent_rate.as_m_min(), units)?;
        ASCENT_RATE.check(self.ascent.rate.as_m_min(), units)?;
        SWITCH_TIME.check(self.ascent.switch_time.as_min(), units)?;
        if let Some(stop) = self.ascent.safety_stop {
            SAFETY_DEPTH.check(stop.depth.as_m(), units)?;
            SAFETY_TIME.check(stop.time.as_min(), units)?;
        }
        Ok(())
    }
}

impl Default for DiveRules {
    /// [`DiveRules::standard`] in metric units.
    fn default() -> Self {
        Self::standard(UnitSystem::Metric)
    }
}

/// A stop that is made without the tissues asking for it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SafetyStop {
    /// Its depth.
    pub depth: Depth,
    /// How long it lasts.
    pub time: Time,
}

/// Distance between the levels of a staged ascent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StopSpacing {
    /// 3 m.
    ThreeMetres,
    /// 10 ft.
    TenFeet,
}

impl StopSpacing {
    /// The depth so many spacings below the surface.
    #[must_use]
    pub fn below(self, spacings: u32) -> Depth {
        Depth::SURFACE + self.change() * f64::from(spacings)
    }

    /// What lies between two levels.
    #[must_use]
    pub const fn change(self) -> DepthChange {
        match self {
            Self::ThreeMetres => DepthChange::from_m(3.0),
            Self::TenFeet => DepthChange::from_ft(10.0),
        }
    }
}

/// The shallowest level of a staged ascent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LastStop {
    /// One spacing: 3 m or 10 ft.
    OneSpacing,
    /// Two spacings: 6 m or 20 ft.
    TwoSpacings,
}

/// How the way up is made.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AscentRules {
    /// Speed on the way up.
    pub rate: Speed,
    /// Distance between stop levels.
    pub spacing: StopSpacing,
    /// Shallowest stop level.
    pub last_stop: LastStop,
    /// Safety stop, if one is made.
    pub safety_stop: Option<SafetyStop>,
    /// Pause for a gas switch.
    pub switch_time: Time,
}

impl AscentRules {
    /// 9 m/min, stops every 3 m up to 3 m, safety stop at 5 m for 3 min, switches of 1 min.
    #[must_use]
    pub const fn metric() -> Self {
        Self {
            rate: Speed::from_m_min(9.0),
            spacing: StopSpacing::ThreeMetres,
            last_stop: LastStop::OneSpacing,
            safety_stop: Some(SafetyStop {
                depth: Depth::from_m(5.0),
                time: Time::from_min(3.0),
            }),
            switch_time: Time::from_min(1.0),
        }
    }

    /// 30 ft/min, stops every 10 ft up to 10 ft, safety stop at 15 ft for 3 min, switches of 1 min.
    #[must_use]
    pub const fn imperial() -> Self {
        Self {
            rate: Speed::from_ft_min(30.0),
            spacing: StopSpacing::TenFeet,
            last_stop: LastStop::OneSpacing,
            safety_stop: Some(SafetyStop {
                depth: Depth::from_ft(15.0),
                time: Time::from_min(3.0),
            }),
            switch_time: Time::from_min(1.0),
        }
    }

    /// Time of going up from one depth to another.
    #[must_use]
    pub fn time_up(&self, from: Depth, to: Depth) -> Time {
        Time::from_min((from - to).as_m() / self.rate.as_m_min())
    }

    pub(crate) fn level(&self, number: u32) -> Depth {
        self.spacing.below(number)
    }

    pub(crate) fn last_level(&self) -> u32 {
        match self.last_stop {
            LastStop::OneSpacing => 1,
            LastStop::TwoSpacings => 2,
        }
    }

    /// Number of the shallowest level that is not shallower than a depth.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "depths are 0 to some hundred metres, a level number is small"
    )]
    pub(crate) fn level_not_above(&self, depth: Depth) -> u32 {
        (depth.as_m() / self.spacing.change().as_m() - SAME_LEVEL)
            .ceil()
            .max(0.0) as u32
    }

    /// The next level up from a depth, or `None` where the surface comes next.
    pub(crate) fn next_level(&self, depth: Depth) -> Option<u32> {
        let above = self.level_not_above(depth).saturating_sub(1);
        (above >= self.last_level()).then_some(above)
    }

    /// Depth of the next level up from a depth; that of the surface where no level is left.
    pub(crate) fn next_depth(&self, depth: Depth) -> Depth {
        self.next_level(depth)
            .map_or(Depth::SURFACE, |level| self.level(level))
    }

    /// The level on which a staged ascent makes its safety stop.
    pub(crate) fn safety_level(&self) -> Option<(u32, Time)> {
        self.safety_stop.map(|stop| {
            let level = self.level_not_above(stop.depth).max(self.last_level());
            (level, stop.time)
        })
    }
}
