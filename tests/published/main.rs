//! Figures from books, tables, manuals and other programs, each beside its source.
//!
//! Every source here was at hand, itself or quoted in another text that is named. What could only
//! be remembered, and the customs that nobody wrote down, stand in `tests/remembered`. Expected
//! values never come from the code under test: they are printed in the source, or worked out here
//! by hand from its formula.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a helper of a test may fail the test"
)]

#[path = "../support/checks.rs"]
mod checks;
#[path = "../support/csv.rs"]
mod csv;
#[path = "../support/dives.rs"]
mod dives;
#[path = "../support/navy.rs"]
mod navy;
#[path = "../support/zh_l16c.rs"]
mod zh_l16c;

mod altitude;
mod blending;
mod coefficients;
mod consumption;
mod cylinders;
mod density;
mod emergency_gas;
mod equivalent_depths;
mod flying;
mod histories;
mod no_stop;
mod oxygen;
mod pressures;
mod real_gas;
mod repetitive;
mod stops;
mod tissues;
mod units;
