//! Dive planning for guides: from a plan to a briefing.
//!
//! A plan says where, how deep, how long, on what, and who dives. The library works out the
//! tissues (Bühlmann ZH-L16C with gradient factors), the no-stop limit or the staged ascent, each
//! diver's gas with its reserve and turn pressure, what a pony bottle covers, the oxygen doses,
//! and every reason for which the dive should not go.
//!
//! ```
//! use hangbar::briefing::brief;
//! use hangbar::plan_file;
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
//! Rooms, from the ground up; each uses only those before it.
//! * [`letters`]: what of a text from outside may be shown.
//! * [`quantity`]: quantities as types, as text, and rounded for people.
//! * [`site`]: water and air, gases, cylinders. [`tissue`]: ZH-L16C and gradient factors.
//! * [`rules`]: by what is dived. [`dive`]: down, along and up again; no-stop limits; the tissues
//!   through a dive. [`oxygen`]: the doses.
//! * [`plan`]: the checked plan, the dives before it flown. [`plan_file`] reads one from text.
//! * [`record`]: what was written down of a dive.
//! * [`surface`]: each diver's own tissues, gas and oxygen; how long to wait.
//! * [`gas`]: needs, reserves, turns, ponies, lost gas, blends.
//! * [`finding`]: the rules by which a dive is a go, and what there is to say against it.
//! * [`whatif`]: dives that differ from the plan.
//! * [`referee`]: a second engine that goes over what the first one found.
//! * [`briefing`]: the one value that every output reads.
//! * [`day`]: several plans of a day.
//! * [`debrief`]: the dive as it was.
//! * [`report`] puts it into words, [`explain`] into equations.
//!
//! Tissues are a value that a dive can start from, a schedule is plain data, and a briefing is
//! one value that every output reads. The library never prints, exits, reads a file or a clock.
//!
//! # What it is not
//! Not a dive computer and not a substitute for training. The model knows nothing of cold, work,
//! age or health.

#![warn(clippy::print_stdout, clippy::print_stderr)]

pub mod briefing;
pub mod day;
pub mod debrief;
pub mod dive;
pub mod explain;
pub mod finding;
pub mod gas;
pub mod letters;
pub mod oxygen;
pub mod plan;
pub mod plan_file;
pub mod quantity;
pub mod record;
pub mod referee;
pub mod report;
pub mod rules;
pub mod site;
pub mod surface;
pub mod tissue;
pub mod whatif;
