//! The levels of a profile.

use crate::quantity::{Depth, Speed, Time};
use serde::Serialize;

/// A depth and how long it is held, the travel to it included.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Level {
    /// Depth of the level.
    pub depth: Depth,
    /// Time from leaving the level before (or the surface) to leaving this one.
    pub time: Time,
}

/// Time to get from one depth to another: down at the descent rate, up at the ascent rate.
#[must_use]
pub fn level_travel(from: Depth, to: Depth, descent_rate: Speed, ascent_rate: Speed) -> Time {
    let down = (to - from).as_m();
    let rate = if down < 0.0 {
        ascent_rate
    } else {
        descent_rate
    };
    Time::from_min(down.abs() / rate.as_m_min())
}
