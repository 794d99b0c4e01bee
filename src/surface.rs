//! At the surface: what each diver brings and takes along, what time there leaves of it, and how
//! long to wait.

mod interval;
mod own;
mod rest;

pub use interval::{
    IntervalReach, IntervalTrial, LONGEST_INTERVAL_MIN, LeastInterval, least_interval,
};
pub use own::{LimitSetBy, Own};
pub(crate) use own::{each, limit_set_by};
pub use rest::{Rest, Since, rests};
