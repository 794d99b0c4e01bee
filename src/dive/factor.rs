//! Which gradient factor holds at which depth.

use crate::quantity::Depth;
use crate::tissue::GradientFactors;
use serde::Serialize;

/// The gradient factor over the depths of one dive.
///
/// ```text
/// G(d) = high + (low − high)·d/anchor      above the anchor; low from there down
/// ```
/// On a staged ascent it is low everywhere until something bars the way up; the first depth at
/// which it does is the anchor. High everywhere on a no-stop dive.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FactorLine {
    low: f64,
    high: f64,
    anchor: Option<Depth>,
}

impl FactorLine {
    /// Of a no-stop dive.
    pub(super) const fn no_stop(factors: GradientFactors) -> Self {
        Self {
            low: factors.high(),
            high: factors.high(),
            anchor: None,
        }
    }

    /// Of a staged ascent that nothing has barred yet.
    pub(super) const fn staged(factors: GradientFactors) -> Self {
        Self {
            low: factors.low(),
            high: factors.high(),
            anchor: None,
        }
    }

    /// The same line from a depth at which the way up was barred first.
    pub(super) const fn anchored(self, anchor: Depth) -> Self {
        Self {
            anchor: Some(anchor),
            ..self
        }
    }

    /// The factor from the anchor down, a fraction.
    #[must_use]
    pub const fn low(&self) -> f64 {
        self.low
    }

    /// The factor at the surface, a fraction.
    #[must_use]
    pub const fn high(&self) -> f64 {
        self.high
    }

    /// First depth from which the way up was barred.
    #[must_use]
    pub const fn anchor(&self) -> Option<Depth> {
        self.anchor
    }

    /// The factor at a depth, a fraction.
    #[must_use]
    pub fn at(&self, depth: Depth) -> f64 {
        match self.anchor {
            None => self.low,
            Some(anchor) if depth >= anchor => self.low,
            Some(anchor) => self.high + (self.low - self.high) * depth.as_m() / anchor.as_m(),
        }
    }
}
