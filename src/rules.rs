//! By what is dived: rates, gases, way up, levels, what a team starts with, and what is accepted.

mod dive;
mod profile;
pub(crate) mod ranges;
mod start;

pub use dive::{AscentRules, DiveRules, LastStop, SafetyStop, StopSpacing};
pub use profile::{Level, level_travel};
pub use ranges::{OutOfRange, TooMany};
pub(crate) use start::check_tissues;
pub use start::{CNS_HALF_TIME, Start};
