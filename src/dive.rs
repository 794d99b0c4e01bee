//! The dive: down and along, up again, and how long it may last without stops.

mod ascent;
mod bottom;
mod factor;
mod flight;
mod limit_table;
mod no_stop;
mod schedule;
mod straight_up;
mod trace;

pub use ascent::{
    Ascent, DECOMPRESSION_PO2_BAR, ascend, ascend_with_safety_stop_alone, ascend_without_stops,
    is_no_stop, surfacing_direct, switch_depth,
};
pub use bottom::{Bottom, CeilingBreach, fly_bottom};
pub use factor::FactorInForce;
pub(crate) use flight::Flight;
pub use flight::{Moment, SAME_MOMENT_MIN, ScheduleError, Segment, SegmentKind};
pub use limit_table::{
    LimitCell, LimitColumn, LimitRow, NAVY_AIR_LIMITS, PublishedLimit, limit_table,
    published_limits,
};
pub use no_stop::{BOUND_MIN, no_stop_limit, time_until_stops};
pub use schedule::{Schedule, fly};
pub use straight_up::{NotStraightUp, not_straight_up};
pub use trace::{CompartmentSample, STEP_MIN, Sample, TraceError, inspired_inert, trace};
