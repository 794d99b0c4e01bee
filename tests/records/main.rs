//! Records of loggers that are read: tables and UDDF, in every form that they have, and whatever
//! else somebody may hand over.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::expect_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

mod any_bytes;
mod endless;
mod format;
mod tables;
mod uddf;
