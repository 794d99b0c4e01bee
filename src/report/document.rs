//! The JSON documents: SI units, unrounded, their field names fixed by a schema's number.
//!
//! Each is a plain value that serde writes and reads: the fields in the order of the text, every
//! one of them demanded, null only where an [`Option`] stands. Within a schema's number fields and words
//! may be added, so others are passed over, and none changes its meaning. Pressures of cylinders
//! are gauge pressures, others absolute; litres are free litres at 1 atm.
//!
//! A document that is built from results holds finite numbers alone, see [`NotFinite`]: JSON would
//! turn any other into null, and null has a meaning here.
//!
//! ```
//! use hangbar::{briefing, plan_file, report::document};
//!
//! let plan = plan_file::read("[profile]\ndepth = \"18 m\"\nbottom_time = \"40 min\"")?;
//! let briefing = briefing::brief(plan)?;
//! let written = serde_json::to_string(&document::Briefing::try_from(&briefing)?)?;
//! let read: document::Briefing = serde_json::from_str(&written)?;
//! assert_eq!(read.schema, document::Briefing::SCHEMA);
//! assert_eq!(read.verdict, document::Verdict::ScheduleOnly);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod before;
mod briefing;
mod check;
mod codes;
mod day;
mod debrief;
mod errors;
mod explain;
mod finite;
mod flying;
mod keys;
mod limits;
mod lost_stage;
mod mix;
mod nullable;
mod state;
mod team;
mod trace;
mod trouble;
mod verdict;
mod what_if;

pub use before::{Before, LeastInterval, LeastIntervalState, LimitSetBy};
pub use briefing::{
    Briefing, Environment, Moment, NotStraightUp, Segment, SegmentKind, Surface, Surfacing,
};
pub use check::{Check, SkipReason};
pub use day::{Day, DayDive, DayDiver, Home};
pub use debrief::{
    AboveCeiling, Debrief, DebriefedDiver, Found, Gap, Planned, RealDive, RecordKind, Rise,
    Surfaced, WayUp,
};
pub use errors::{Errors, Problem, file_bytes_hex};
pub use explain::{Explain, Explanation, Meaning, Step, Topic};
pub use finite::NotFinite;
pub use flying::{
    BookedFlight, DiverWait, Exposure, Flying, GuidanceReach, WaitDecidedBy, WaitState,
};
pub use keys::{Key, KeyHolds, KeyRange, KeyTable, Keys, KeysOf};
pub use limits::{Limit, LimitState, Limits};
pub use lost_stage::{DiverWithoutStage, LossMoment, LostStage, MainOutcome};
pub use mix::{Blend, BlendStep, Filled, GasAtDepth, GasLimitState, Mix, OperatingDepth};
pub use state::{Oxygen, Start, Tissue};
pub use team::{
    Diver, DiverHang, EndedBy, Fill, Gauge, Hang, LargerCylinder, LevelEnd, NearestGo, Pony,
    PonyVerdict, ShorterNeedsMore, Stage, Team, WorseBecause,
};
pub use trace::{Compartment, Leading, Sample, Trace};
pub use trouble::{Late, LateDiver, LateState, LostGas, Rescue, RescueOutcome, Unknown};
pub use verdict::{Finding, FindingLevel, Verdict};
pub use what_if::{Change, DiverOutcome, NoGo, Outcome, WhatIf};
