//! What holds where a key is left out, as a file has it.

use crate::quantity::{Depth, Kind, Time, UnitSystem};

/// A stored value in quotes, in a unit of the system.
pub(super) fn quoted(kind: Kind, value: f64, units: UnitSystem) -> String {
    format!("\"{}\"", kind.written(value, units))
}

pub(super) fn minutes(time: Time, units: UnitSystem) -> String {
    quoted(Kind::Time, time.as_min(), units)
}

pub(super) fn depth(depth: Depth, units: UnitSystem) -> String {
    quoted(Kind::Depth, depth.as_m(), units)
}
