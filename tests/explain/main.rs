//! `hangbar explain` as a student with a calculator takes it: every line in numbers is read off
//! the screen, worked out by a small calculator of this test's own, and must give the result that is
//! shown. The last results must be those of the briefing.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::expect_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

// What the others read and explain.
mod calculator;
mod document;
mod plans;
mod reader;

// What is explained.
mod choosing;
mod flights;
mod gas;
mod intervals;
mod limits;
mod screen;
mod stops;
