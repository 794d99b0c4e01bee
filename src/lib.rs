//! Dive planning for guides: from a plan to a briefing.
//!
//! A plan says where, how deep, how long, on what, and who dives. The library works out the
//! tissues (Bühlmann ZH-L16C with gradient factors), the no-stop limit or the staged ascent, each
//! diver's gas with its reserve and turn pressure, what a pony bottle covers, the oxygen doses,
//! and every reason for which the dive should not go.
//!
//! ```
//! use hangbar::{briefing::brief, plan_file};
//!
//! let plan = plan_file::read(
//!     r#"
//!     [profile]
//!     depth = "24 m"
//!     bottom_time = "22 min"
//!
//!     [[diver]]
//!     name = "Ines"
//!     sac = "15 L/min"
//!     cylinder = { size = "12 L", fill = "200 bar" }
//!     "#,
//! )?;
//! let briefing = brief(plan)?;
//! assert!(briefing.is_go() && !briefing.schedule.staged);
//! assert!(briefing.divers[0].minimum_gas.as_bar() >= 50.0);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # How it is laid out
//! * Quantities: [`units`] (types), [`quantity`] (as text), [`show`] (rounded for people).
//! * The site and what is breathed: [`environment`], [`mix`], [`real_gas`], [`cylinder`].
//! * The model: [`tissue`], [`no_stop`], [`ascent`], [`schedule`], [`oxygen`], [`emergency`],
//!   [`gas_budget`], [`lost_gas`], [`deviation`].
//! * The classroom: [`limit_table`], [`trace`], [`explain`].
//! * From file to result: [`plan_file`] reads text into a [`plan`]; [`briefing`] works it out;
//!   [`finding`] says what is wrong with it.
//!
//! Tissues are a value that a dive can start from, a schedule is plain data, and a briefing is
//! one value that every output reads. The library never prints, exits, reads a file or a clock.
//!
//! # What it is not
//! Not a dive computer and not a substitute for training. The model knows nothing of cold, work,
//! age or health.

#![warn(clippy::print_stdout, clippy::print_stderr)]

pub mod ascent;
pub mod bottom_times;
pub mod briefing;
pub mod cylinder;
pub mod deviation;
pub mod emergency;
pub mod environment;
pub mod explain;
pub mod finding;
pub mod gas_budget;
pub mod judge;
pub mod limit_table;
pub mod longest_go;
pub mod lost_gas;
pub mod mix;
pub mod nearest_go;
pub mod no_stop;
pub mod oxygen;
pub mod plan;
pub mod plan_file;
pub mod quantity;
pub mod real_gas;
pub mod report;
pub mod schedule;
pub mod show;
pub mod straight_up;
pub mod tissue;
pub mod trace;
pub mod units;
