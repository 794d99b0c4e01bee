//! What is printed for the rail: the file by itself, and the pages that a browser makes of it.
//!
//! The browser is Chromium, its pages are read by `pdfinfo` and `pdftotext` (poppler). Where one of
//! them is missing these tests say so in capitals; `HANGBAR_BROWSER=1` demands them.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

mod alone;
mod browser;
mod commands;
#[path = "../support/folder.rs"]
mod folder;
mod made;
mod pages;
mod teams;
