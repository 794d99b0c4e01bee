//! Dives that differ from the plan: later, deeper, harder; the nearest go; the longest one.

mod deviation;
mod late;
mod longest_go;
mod nearest_go;
mod trial;

pub use deviation::{Deviation, DiverOutcome, Ending, Outcome, deviate};
pub use late::{BadFrom, DiverLate, LATE_BOUND_MIN, LateTable, late_table};
pub(crate) use longest_go::longest_go;
pub use longest_go::{LongestEnd, LongestGo};
pub use nearest_go::{LongerWait, NearestGo, nearest_go};
