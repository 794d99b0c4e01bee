//! At the surface: what each diver brings and takes along, and how long to wait.

mod interval;
mod own;

pub use interval::{LONGEST_INTERVAL_MIN, LeastInterval, least_interval};
pub use own::{LimitSetBy, Own};
pub(crate) use own::{each, limit_set_by};
