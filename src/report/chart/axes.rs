//! Axes that end at round figures.

use super::parts::{Axis, Ticks};
use crate::quantity::{Depth, UnitSystem};

/// Depths as an axis shows them.
pub(super) fn in_units(depth: Depth, units: UnitSystem) -> f64 {
    match units {
        UnitSystem::Metric => depth.as_m(),
        UnitSystem::Imperial => depth.as_ft(),
    }
}

const fn depth_unit(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Metric => "m",
        UnitSystem::Imperial => "ft",
    }
}

/// Part of a step by which a value may be past a mark and still be that mark.
pub(super) const NOISE: f64 = 1e-9;

/// The next multiple of a round step that is not less.
pub(super) fn round_up(value: f64, step: f64) -> f64 {
    (value / step - NOISE).ceil() * step
}

/// The next multiple of a round step that is not more.
pub(super) fn round_down(value: f64, step: f64) -> f64 {
    (value / step + NOISE).floor() * step
}

impl Axis {
    pub(super) fn new(title: impl Into<String>, least: f64, greatest: f64) -> Self {
        Self {
            title: title.into(),
            least,
            greatest,
            downward: false,
            ticks: Ticks::Numbers,
        }
    }

    /// An axis of depths.
    pub(super) fn depth(units: UnitSystem, least: f64, greatest: f64) -> Self {
        Self::new(format!("depth, {}", depth_unit(units)), least, greatest)
    }

    /// An axis of inert gas that has room for the greatest pressure.
    pub(super) fn inert_gas(greatest_bar: f64) -> Self {
        let step = match greatest_bar {
            low if low <= 4.0 => 0.5,
            middling if middling <= 10.0 => 1.0,
            _ => 2.0,
        };
        let greatest = round_up(greatest_bar * 1.04, step);
        Self::new("inert gas, bar", 0.0, greatest)
    }

    pub(super) fn run_time(greatest_min: f64) -> Self {
        Self::new("run time, minutes", 0.0, round_up(greatest_min, 5.0))
    }

    /// The same axis, growing downward.
    pub(super) fn downward(self) -> Self {
        Self {
            downward: true,
            ..self
        }
    }
}
