//! The built command as a guide, a class and a script use it; a file a subject. What the screens
//! say must be what happens: many of these are plans on which they once did not.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::expect_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

// What the others run, read and dive.
#[path = "../support/document.rs"]
mod document;
#[path = "../support/folder.rs"]
mod folder;
mod plans;
mod read;
mod run;
mod svg;
#[cfg(target_os = "linux")]
#[path = "../support/terminal.rs"]
mod terminal;

// The command itself.
mod check;
mod colour;
mod help;
mod json;
mod keys;
mod overrides;
mod starter;
mod status;

// What a briefing and a what-if say.
mod buddies;
mod clock;
mod day_before;
mod day_flying;
mod days;
mod debrief;
mod flying;
mod gas;
mod gas_switches;
mod go_screens;
mod lost_stage;
mod no_go_screens;
mod only;
mod record_form;
mod rounding;
mod stops;
mod units;
mod whatif;

// How wide it is.
mod narrow;
mod width;
mod written;

// The classroom.
mod characters;
mod drawing;
mod lesson;
mod limits;
mod mix;
mod pictures;
mod trace;
