//! The dive: down and along, up again, and how long it may last without stops.

mod ascent;
mod bottom;
mod ceiling;
mod error;
mod factor;
mod flight;
mod limit_table;
mod no_stop;
mod prepared;
mod schedule;
mod segment;
mod staged;
mod stop;
mod straight;
mod straight_up;
mod trace;

pub(crate) use ascent::{Ascent, ascend, ascend_without_ends};
pub use bottom::CeilingBreach;
pub(crate) use bottom::passes_a_ceiling;
pub(crate) use ceiling::high_factor_ceiling;
pub use error::ScheduleError;
pub use factor::FactorLine;
pub(crate) use flight::Flight;
pub use limit_table::{
    LimitCell, LimitColumn, LimitRow, NAVY_AIR_LIMITS, PublishedLimit, limit_table,
    published_limits,
};
pub(crate) use no_stop::limit_at;
pub(crate) use no_stop::time_until_stops;
pub use no_stop::{BOUND_MIN, NoStopLimit, Reach, no_stop_limit};
pub(crate) use prepared::Prepared;
pub use schedule::{Pause, Schedule, fly};
pub(crate) use schedule::{ends_straight_up, fly_checked, fly_straight_up, time_at_stops};
pub use segment::{Moment, Segment, SegmentKind};
pub use staged::switch_depth;
pub use stop::{Departure, Stop, StopReason, stops};
pub(crate) use straight::{ascend_with_safety_stop_alone, ascend_without_stops};
pub use straight_up::NotStraightUp;
pub(crate) use straight_up::not_straight_up;
pub use trace::{CompartmentSample, STEP_MIN, Sample, TraceError, inspired_inert, trace};
