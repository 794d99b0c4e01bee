//! Whole outputs as files: every plan of the demo charter as a guide reads it, what the other
//! commands say, and the README's copies. `HANGBAR_REWRITE=1 cargo test --test golden` writes the
//! files anew; read the diff.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

mod charter;
mod files;
mod outputs;
mod program;
mod readme;
