//! Whole documents against a second implementation, written in another language by somebody who
//! had the definitions and had not seen this code.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod briefings;
#[path = "../support/compare.rs"]
mod compare;
mod days;
mod debriefs;
mod deviations;
mod documents;
mod flights;
