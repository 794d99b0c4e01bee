//! What scripts rely on: documents of errors, verdicts, colour only where it is wanted, the tables of
//! fields and codes in DEVELOPERS.md, and what a check of folders takes and names.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::expect_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

mod codes;
mod colour;
mod errors;
mod fields;
#[path = "../support/folder.rs"]
mod folder;
mod folders;
mod generated;
#[path = "../support/json_schema.rs"]
mod json_schema;
#[cfg(unix)]
mod links;
mod program;
mod schemas;
#[path = "../support/tables.rs"]
mod tables;
#[path = "../support/terminal.rs"]
mod terminal;
mod verdicts;
