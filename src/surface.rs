//! At the surface: what each diver brings and takes along, what time there leaves of it, how long to
//! wait for the next dive, and how long before flying.

mod flying;
mod interval;
mod own;
mod rest;

pub use flying::{
    DayDived, Exposure, Flying, GUIDANCE_FROM, GUIDANCE_TO, GuidanceReach, LONGEST_WAIT_MIN,
    ModelWait, WaitDecidedBy, WaitReach, flying, model_wait,
};
pub(crate) use flying::{day_dived, flying_after, flying_without, rested};
pub use interval::{
    IntervalReach, IntervalTrial, LONGEST_INTERVAL_MIN, LeastInterval, least_interval,
};
pub use own::{LimitSetBy, Own};
pub(crate) use own::{each, limit_set_by};
pub use rest::{Rest, Since, rests};
