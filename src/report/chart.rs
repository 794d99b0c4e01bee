//! Charts as plain data: what curves, marks and words there are, over which axes.
//!
//! Whoever draws one decides on pixels or characters, and on where exactly words stand.

mod axes;
mod compartments;
mod cylinders;
mod day;
mod debrief;
mod limits;
mod parts;
mod profile;
mod trace;

pub use cylinders::cylinders;
pub use day::day;
pub use debrief::{breathing, debriefed};
pub use limits::limits;
pub use parts::{Axis, Chart, Curve, Label, Line, Mark, Marks, Point, Shade, Side, Ticks};
pub use trace::{TooManyCompartments, TraceChart, trace};
