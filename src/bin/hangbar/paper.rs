//! What text is written on: how wide, and in colour or not.

use std::env;
use std::io::{self, IsTerminal};

use crate::args::{Color, Width};
use crate::render::terminal::WIDEST;

/// Columns asked for, those of the terminal that the text goes to, or 80.
///
/// A pipe and a file are no terminal, whatever window the command was started in: what is kept of a
/// plan is the same for everybody.
pub(crate) fn columns(width: &Width) -> usize {
    let terminal = || terminal_size::terminal_size_of(io::stdout()).map(|(width, _)| width.0);
    width.columns.or_else(terminal).map_or(WIDEST, usize::from)
}

/// Colour on standard output: asked for, or a terminal that does not ask for none.
pub(crate) fn wants_colour(choice: Color) -> bool {
    let set = |name: &str| env::var_os(name).is_some_and(|value| !value.is_empty());
    match choice {
        Color::Always => true,
        Color::Never => false,
        Color::Auto => {
            let dumb = env::var_os("TERM").is_some_and(|term| term == "dumb");
            io::stdout().is_terminal() && !set("NO_COLOR") && !dumb
        }
    }
}
