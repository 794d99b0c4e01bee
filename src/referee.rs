//! The referee: a second engine that goes over a finished briefing.
//!
//! It shares no kinetics, no limit and no gas code with the first. It has its own table of the
//! model, steps the differential equation of gas exchange numerically (Taylor steps of eleven terms,
//! none longer than a quarter of a time constant) where the first engine solves it, goes up minute by
//! minute where the first one leaves minutes out, has its own equation of state for cylinders, and
//! sums volumes and doses up by quadrature. What it takes from the briefing are figures to be judged,
//! what it takes from the plan are numbers.
//!
//! # What it goes over
//! * The coefficients of the model: those of its own table.
//! * Earlier dives that the plan tells: each flown again, and what is left in each diver, after the time
//!   at the surface too.
//! * Segments: they join, and are those that the rules ask for; tissues and the gradient at every
//!   one's end; no instant over the plain M-value (but a rise between levels that is reported as too
//!   fast for the tissues). With it that every arrival is within its factor, and that every stop is
//!   needed: a minute less would not do.
//! * The team's no-stop limit and each diver's own: open up to it, barred behind it.
//! * Emergencies at every level's end, and what they take of the main cylinder.
//! * Each diver's contents, use, reserve, minimum, turn, hang, pony and stages, in litres and bar.
//! * Gas limits and how far ponies cover: it holds at the limit and fails where it is said to.
//! * Oxygen pressure and doses.
//!
//! # What it does not
//! Earlier dives of a day of several plans (each is gone over as the dive of its own plan), the time
//! before flying, what is said of dives that are late, deeper or short of a cylinder, masses, and
//! words.
//!
//! An answer that hangs on less than 2·10⁻¹⁰ bar is accepted either way.

mod ascent;
mod body;
mod course;
mod court;
mod dive;
mod emergency;
mod evidence;
mod examine;
mod filling;
mod gas;
mod gas_limit;
mod history;
mod limit;
mod objection;
mod oxygen;
mod table;

pub use evidence::Evidence;
pub use examine::examine;
pub use objection::{Objection, Question};
