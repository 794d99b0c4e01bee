//! What the fuzz targets share: the files of the binary, what must hold of everything that is shown,
//! and mutations that keep the form of a text.

pub mod checks;
pub mod dives;
pub mod mutate;
pub mod slow;
mod words;

// The binary's files as they are. They go to each other by `crate::`, so their names stand at the
// root of this crate too.
#[path = "../../../src/bin/hangbar"]
mod program {
    pub(crate) mod args;
    pub(crate) mod commands;
    pub(crate) mod errors;
    pub(crate) mod folders;
    pub(crate) mod input;
    pub(crate) mod outcome;
    pub(crate) mod paper;
    pub(crate) mod picture;
    pub(crate) mod refusal;
    pub(crate) mod run;
    pub(crate) mod side_by_side;
    pub(crate) mod written;
}
pub(crate) use program::{
    args, commands, errors, folders, input, outcome, paper, picture, refusal, run, side_by_side,
    written,
};

/// Its files say `pub(in crate::render)`, so it stands at the root.
#[path = "../../../src/bin/hangbar/render"]
mod render {
    pub(crate) mod characters;
    pub(crate) mod csv;
    mod figures;
    pub(crate) mod html;
    pub(crate) mod json;
    mod layout;
    pub(crate) mod names;
    pub(crate) mod svg;
    pub(crate) mod terminal;
}

use std::ffi::OsString;

use hangbar::report::Report;
use hangbar::report::chart::Chart;

/// What a command line came to.
pub struct Ended {
    /// Standard output, and the text of help.
    pub output: String,
    /// Standard error.
    pub errors: String,
    /// Exit status.
    pub status: u8,
}

/// Runs a command line as the program does, and prints nothing but what `check` prints row by row.
#[must_use]
pub fn command(words: &[OsString]) -> Ended {
    match run::run(words) {
        Ok(outcome) => Ended {
            status: outcome.status.code(),
            output: outcome.output,
            errors: outcome.errors,
        },
        Err(error) => Ended {
            output: String::new(),
            errors: error.render().to_string(),
            status: u8::try_from(error.exit_code()).expect("0 or 2"),
        },
    }
}

/// A report as a screen without colour shows it.
#[must_use]
pub fn screen(report: &Report, width: usize) -> String {
    render::terminal::Terminal::draw(report, false, width)
}

/// A chart as the file of a picture.
#[must_use]
pub fn picture_of(chart: &Chart) -> String {
    render::svg::render(chart).expect("a chart that can be drawn")
}

/// A chart in characters.
#[must_use]
pub fn characters_of(chart: &Chart) -> String {
    render::characters::render(chart)
}
