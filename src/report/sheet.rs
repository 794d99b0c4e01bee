//! What a report is made of: headings, paragraphs, marked paragraphs and tables.

use crate::finding::Verdict;

/// Said once on every screen that somebody might dive by.
pub const CAUTIONS: &str = "\
These figures come from a model and from the plan; they know nothing of cold, work, age or health. \
They are for divers trained for this dive. Plan with your own training and tables, and defer to \
local rules and licensed practice. A gauge and a diver who wants to go up are always right.";

/// What a piece of text means; a colour only repeats what its words say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// Nothing special.
    Plain,
    /// A go.
    Go,
    /// A no-go.
    NoGo,
    /// A caution.
    Caution,
}

impl From<Verdict> for Tone {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Go => Self::Go,
            Verdict::NoGo => Self::NoGo,
            Verdict::ScheduleOnly => Self::Caution,
        }
    }
}

/// A piece of a report.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Block {
    /// A heading.
    Heading(String),
    /// A paragraph.
    Paragraph(String),
    /// A paragraph behind a mark that its further lines stand beside.
    Marked {
        /// What the mark means.
        tone: Tone,
        /// The mark: a word, a box to tick, or nothing.
        mark: String,
        /// The text.
        text: String,
    },
    /// A table.
    Table(Table),
    /// An empty line.
    Space,
}

/// Which side of a column its figures stand on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Figures.
    Right,
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its heading; a line break where it may be broken. May be empty.
    pub heading: String,
    /// Which side its cells stand on.
    pub align: Align,
}

/// Rows of cells; the first column names the row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows: as many cells as there are columns.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    pub(super) fn new(columns: &[(&str, Align)]) -> Self {
        let columns = columns.iter().map(|(heading, align)| Column {
            heading: (*heading).to_owned(),
            align: *align,
        });
        Self {
            columns: columns.collect(),
            rows: Vec::new(),
        }
    }
}

/// What is said, in order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Report {
    /// The pieces.
    pub blocks: Vec<Block>,
}

impl Report {
    pub(super) fn heading(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Heading(text.into()));
    }

    pub(super) fn space(&mut self) {
        self.blocks.push(Block::Space);
    }

    pub(super) fn paragraph(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Paragraph(text.into()));
    }

    pub(super) fn marked(&mut self, tone: Tone, mark: impl Into<String>, text: impl Into<String>) {
        self.blocks.push(Block::Marked {
            tone,
            mark: mark.into(),
            text: text.into(),
        });
    }

    pub(super) fn table(&mut self, table: Table) {
        self.blocks.push(Block::Table(table));
    }
}

/// A space that lines are not broken at.
pub const NO_BREAK: &str = "\u{a0}";

/// A name and its figure, never parted by the end of a line; a name of several words may be.
pub(super) fn together(name: &str, figure: &str) -> String {
    format!("{name}{NO_BREAK}{}", figure.replace(' ', NO_BREAK))
}
