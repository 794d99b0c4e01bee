//! Whether the parts of the program say the same of the same dive: properties of plans drawn by
//! chance over all that a plan file may ask for.
//!
//! Plans are drawn from a seed by their number, so that a run is the same everywhere and a plan that
//! fails is known by both. `HANGBAR_CASES` asks for so many plans of the cheap properties, and for
//! the dear ones as many times more as they have less; `HANGBAR_SEED` asks for other plans.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test fails by panicking"
)]

mod cases;
mod checked;
#[path = "../support/compare.rs"]
mod compare;
mod deviations;
mod drawing;
mod drawn;
#[path = "../support/folder.rs"]
mod folder;
mod harder;
mod hungrier;
#[path = "../support/json_schema.rs"]
mod json_schema;
mod late;
mod limits;
mod lost;
mod named;
mod nearest;
mod random;
mod refereed;
mod refused;
mod schemas;
mod screen;
#[path = "../support/spelling.rs"]
mod spelling;
mod text;
mod twins;
mod waits;
mod what_if_text;
