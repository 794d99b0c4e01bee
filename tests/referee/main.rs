//! The referee: that it agrees with every plan, and that it sees what is wrong.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test fails by panicking"
)]

mod census;
#[path = "../consistency/drawing.rs"]
mod drawing;
#[path = "../consistency/drawn.rs"]
#[allow(dead_code, reason = "not all of a drawn plan is asked for here")]
mod drawn;
#[path = "../consistency/random.rs"]
#[allow(dead_code, reason = "not every way of drawing is asked for here")]
mod random;
mod seen;
#[path = "../support/spelling.rs"]
#[allow(dead_code, reason = "plans are written in metres here")]
mod spelling;
