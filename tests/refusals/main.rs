//! What a plan file or an option of the day can have wrong: each fault is refused where it stands,
//! with the words that help, by the library and by the binary alike.
//!
//! Good plans are broken one edit at a time. Lines and columns are those of the broken text, from
//! 1, columns in characters. A new key gets its rows in the file of its table: its faults, and its
//! limits with one step past them.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::expect_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

mod any_text;
mod ascent;
mod built;
#[path = "../support/compare.rs"]
mod compare;
mod counts;
mod cylinders;
mod day_refused;
mod day_taken;
mod days;
mod faults;
mod flight;
#[path = "../support/folder.rs"]
mod folder;
mod gases;
mod good_plans;
mod keys;
mod limits;
mod many;
mod model;
mod pencil;
mod plans;
mod profile;
mod records;
mod reserve;
mod site;
mod starter;
mod team;
mod toml;
mod top;
mod twins;
mod values;
mod whole_file;
