//! After the dive: what it was, and how a plan tells of it.

mod bins;
mod envelope;
mod left;
mod steps;

pub use envelope::{CoverError, Covering, MOST_LEVELS, covering_levels};
