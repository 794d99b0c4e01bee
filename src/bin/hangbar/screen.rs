//! Lines of text for a screen of 80 columns, with colour where it is wanted.

use clap::builder::styling::{AnsiColor, Style};
use textwrap::core::display_width;

/// Everything fits into this many columns.
pub(crate) const WIDTH: usize = 80;
/// Columns that a name gets in a table.
pub(crate) const NAME_COLUMNS: usize = 14;

/// A space that lines are not broken at.
const NO_BREAK: &str = "\u{a0}";

/// What a piece of text means; colour only repeats what its words say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Tone {
    Go,
    NoGo,
    Caution,
    Heading,
}

impl Tone {
    const fn style(self) -> Style {
        match self {
            Self::Go => AnsiColor::Green.on_default().bold(),
            Self::NoGo => AnsiColor::Red.on_default().bold(),
            Self::Caution => AnsiColor::Yellow.on_default(),
            Self::Heading => Style::new().bold(),
        }
    }
}

/// Text under way.
#[derive(Debug)]
pub(crate) struct Screen {
    text: String,
    colour: bool,
}

impl Screen {
    pub(crate) const fn new(colour: bool) -> Self {
        Self {
            text: String::new(),
            colour,
        }
    }

    pub(crate) fn finish(self) -> String {
        self.text
    }

    /// A word in its tone.
    pub(crate) fn paint(&self, tone: Tone, word: &str) -> String {
        if self.colour {
            let style = tone.style();
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
        for line in textwrap::wrap(heading, WIDTH) {
            let painted = self.paint(Tone::Heading, &line);
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
        let options = textwrap::Options::new(WIDTH)
            .word_splitter(textwrap::WordSplitter::NoHyphenation)
            .initial_indent(mark)
            .subsequent_indent(&indent);
        for line in textwrap::wrap(&keep_units(text), options) {
            self.line(&line.replace(NO_BREAK, " "));
        }
    }

    /// As [`Screen::hanging`], with a mark in a tone.
    pub(crate) fn hanging_in(&mut self, tone: Tone, mark: &str, text: &str) {
        let start = self.text.len();
        self.hanging(mark, text);
        if self.colour {
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

/// A figure and its unit stay on one line.
fn keep_units(text: &str) -> String {
    const UNITS: &[&str] = &[
        "m", "ft", "bar", "psi", "L", "cuft", "min", "minute", "minutes", "kg", "lb", "kn", "g/L",
        "%", "m/min", "ft/min",
    ];
    let mut kept = String::with_capacity(text.len());
    let mut after_figure = false;
    for (index, word) in text.split(' ').enumerate() {
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
        if index > 0 {
            let joined = after_figure && UNITS.contains(&bare);
            kept.push_str(if joined { NO_BREAK } else { " " });
        }
        kept.push_str(word);
        after_figure = word.ends_with(|c: char| c.is_ascii_digit());
    }
    kept
}

/// A name and its figure, never parted by the end of a line.
pub(crate) fn together(name: &str, figure: &str) -> String {
    format!("{name} {figure}").replace(' ', NO_BREAK)
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

/// A text with nothing in it that a terminal would act on.
pub(crate) fn harmless(text: &str) -> String {
    let harmless = |c: char| {
        !c.is_control() && !matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    text.chars()
        .map(|c| if harmless(c) { c } else { '\u{fffd}' })
        .collect()
}

/// `Ines`, `Ines and Tom`, `Ines, Tom and Kai`.
pub(crate) fn list(names: &[&str]) -> String {
    match names.split_last() {
        Some((last, [])) => (*last).to_owned(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    }
}
