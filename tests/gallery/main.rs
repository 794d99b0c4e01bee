//! What comes in from outside and what goes out again: broken plans and records with their whole
//! messages, letters that do harm, names in two spellings, files without an end, the same bytes
//! everywhere. `HANGBAR_REWRITE=1 cargo test --test gallery` writes the messages anew; read the diff.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::expect_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

mod broken;
mod dependencies;
#[path = "../support/folder.rs"]
mod folder;
#[cfg(target_os = "linux")]
mod inputs;
#[path = "../support/json_schema.rs"]
mod json_schema;
mod letters;
mod names;
mod options;
mod plans;
mod program;
mod records;
mod same_bytes;
