//! Dives that differ from the plan: later, deeper, harder; the nearest go; the longest one.

mod deviation;
mod late;
mod longest_go;
mod nearest_go;
mod trial;

pub(crate) use deviation::deviate_with;
pub use deviation::{Deviation, DiverOutcome, Ending, Outcome, deviate};
pub(crate) use late::late_table;
pub use late::{BadFrom, DiverLate, LATE_BOUND_MIN, LateTable};
pub(crate) use longest_go::longest_go;
pub use longest_go::{LongestEnd, LongestGo};
pub(crate) use nearest_go::{Known, nearest_go};
pub use nearest_go::{LongerWait, NearestGo};
