//! Lines of text for a terminal of so many columns, with colour where it is wanted.

use clap::builder::styling::{AnsiColor, Style};
use hangbar::report::{Align, Block, NO_BREAK, Report, Tone};
use textwrap::core::display_width;

use super::figures::keep_units;

mod equation;
mod grid;
mod table;

/// Wider than this no line gets, and where nobody knows the width everything fits into it.
pub(crate) const WIDEST: usize = 80;
/// A narrower terminal is treated as one of so many columns.
pub(crate) const NARROWEST: usize = 40;
/// Between two columns of a table.
const GAP: usize = 2;

fn style(tone: Tone) -> Style {
    match tone {
        Tone::Plain => Style::new(),
        Tone::Go => AnsiColor::Green.on_default().bold(),
        Tone::NoGo => AnsiColor::Red.on_default().bold(),
        Tone::Caution => AnsiColor::Yellow.on_default(),
    }
}

/// Text under way.
#[derive(Debug)]
pub(crate) struct Terminal {
    text: String,
    colour: bool,
    width: usize,
}

impl Terminal {
    /// A terminal of 80 columns.
    pub(crate) const fn new(colour: bool) -> Self {
        Self {
            text: String::new(),
            colour,
            width: WIDEST,
        }
    }

    /// A terminal of so many columns, 40 to 80.
    pub(crate) fn with_width(colour: bool, width: usize) -> Self {
        Self {
            width: width.clamp(NARROWEST, WIDEST),
            ..Self::new(colour)
        }
    }

    /// A whole report.
    pub(crate) fn draw(report: &Report, colour: bool, width: usize) -> String {
        let mut terminal = Self::with_width(colour, width);
        for block in &report.blocks {
            match block {
                Block::Title { mark, text } => terminal.title(mark, text),
                Block::Heading(text) => terminal.heading(text),
                Block::Paragraph(text) => terminal.paragraph(text),
                Block::Marked { tone, mark, text } => {
                    // What a mark ends with already parts it from the text.
                    let gap = if mark.ends_with([':', ']']) { 1 } else { GAP };
                    terminal.hanging_in(*tone, &format!("{mark}{}", " ".repeat(gap)), text);
                }
                Block::Table(table) => terminal.table(table),
                Block::Grid(grid) => terminal.grid(grid),
                Block::Equation(lines) => terminal.equation(lines),
                Block::Space => terminal.line(""),
            }
        }
        terminal.finish()
    }

    pub(crate) fn finish(self) -> String {
        self.text
    }

    /// A word in its tone.
    pub(crate) fn paint(&self, tone: Tone, word: &str) -> String {
        self.styled(style(tone), word)
    }

    fn styled(&self, style: Style, word: &str) -> String {
        if self.colour {
            format!("{style}{word}{style:#}")
        } else {
            word.to_owned()
        }
    }

    /// A line as it is; trailing blanks go.
    pub(crate) fn line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    /// An empty line and a heading.
    pub(crate) fn heading(&mut self, heading: &str) {
        self.line("");
        for line in textwrap::wrap(&keep_units(heading), self.width) {
            let painted = self.styled(Style::new().bold(), &line.replace(NO_BREAK, " "));
            self.line(&painted);
        }
    }

    /// The first line of a table, behind its mark: a heading without an empty line above it.
    pub(crate) fn title(&mut self, mark: &str, title: &str) {
        let start = self.text.len();
        self.hanging(mark, title);
        let lines = self.text.split_off(start);
        for line in lines.lines() {
            let painted = self.styled(Style::new().bold(), line);
            self.line(&painted);
        }
    }

    /// A paragraph two columns in.
    pub(crate) fn paragraph(&mut self, text: &str) {
        self.hanging("  ", text);
    }

    /// A paragraph behind a mark; its further lines stand under its first word.
    pub(crate) fn hanging(&mut self, mark: &str, text: &str) {
        let indent = " ".repeat(display_width(mark));
        let text = keep_units(text);
        // No word is wider than it has bytes; to look for those that are takes long.
        let room = self.width.saturating_sub(indent.len());
        let breaks = text.split(' ').any(|word| word.len() > room);
        let options = textwrap::Options::new(self.width)
            .word_splitter(textwrap::WordSplitter::NoHyphenation)
            .break_words(breaks)
            .initial_indent(mark)
            .subsequent_indent(&indent);
        for line in textwrap::wrap(&text, options) {
            self.line(&line.replace(NO_BREAK, " "));
        }
    }

    /// As [`Terminal::hanging`], with a mark in a tone.
    pub(crate) fn hanging_in(&mut self, tone: Tone, mark: &str, text: &str) {
        let start = self.text.len();
        self.hanging(mark, text);
        if self.colour && tone != Tone::Plain {
            let end = start + mark.len();
            let word = mark.trim();
            if let Some(at) = self.text.get(start..end).and_then(|mark| mark.find(word)) {
                let painted = self.paint(tone, word);
                self.text
                    .replace_range(start + at..start + at + word.len(), &painted);
            }
        }
    }
}

fn aligned(text: &str, width: usize, align: Align) -> String {
    let text = &text.replace(NO_BREAK, " ");
    match align {
        Align::Left => cell(text, width),
        Align::Right => format!(
            "{}{text}",
            " ".repeat(width.saturating_sub(display_width(text)))
        ),
    }
}

/// A text cut or padded to so many columns.
pub(crate) fn cell(text: &str, width: usize) -> String {
    let mut shown = String::new();
    if display_width(text) > width {
        for c in text.chars() {
            let longer = format!("{shown}{c}");
            if display_width(&longer) + 1 > width {
                break;
            }
            shown = longer;
        }
        shown.push('…');
    } else {
        shown.push_str(text);
    }
    let pad = width.saturating_sub(display_width(&shown));
    shown + &" ".repeat(pad)
}
