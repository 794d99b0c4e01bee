//! Figures without a text at hand: from memory, or a custom of the trade that nobody wrote down.
//!
//! They are worth less than those of `tests/published`. Where one of these fails, the memory may be
//! wrong as well as the code: find the text before changing either. Where one passes, it shows that
//! the code has what the author remembers, and no more; two memories that agree are not two sources.
//! Each says "from memory" or "common practice, no source". A figure that turns up in print moves to
//! `tests/published`.

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

mod coefficients;
mod gas;
mod no_stop;
mod oxygen;
mod repetitive;
mod the_hang;
