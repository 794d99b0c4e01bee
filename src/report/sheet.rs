//! What a report is made of: headings, paragraphs, marked paragraphs, tables and equations.

use crate::finding::Verdict;

/// Said once on every screen that somebody might dive by.
pub const CAUTIONS: &str = "\
These figures come from a model and from the plan; they know nothing of cold, work, age or health. \
They are for divers trained for this dive. Plan with your own training and tables, and defer to \
local rules and licensed practice. A gauge and a diver who wants to go up are always right.";

/// Said besides at altitude, where a limit stands.
///
/// Source: *U.S. Navy Diving Manual* Rev 4 Change A, Table 9-3 with its air table: 60 fsw at 8,000 ft
/// have 30 min there and 34 by this model with factors 40/85, 40 fsw 60 and 85.
pub(super) const THIN_AIR: &str = "\
In thin air this model takes less off a limit than the altitude tables of the U.S. Navy do: keep to the \
shorter of both.";

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
    /// What the whole is about, behind a mark: a heading with nothing above it.
    Title {
        /// The mark, the blank at its end included; may be empty.
        mark: String,
        /// The text.
        text: String,
    },
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
    /// A table whose columns may stand in groups.
    Grid(Grid),
    /// An equation.
    Equation(EquationLines),
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
    /// Whether it is what somebody wet looks for first.
    pub read_first: bool,
}

/// Rows of cells; the first column names the row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows: as many cells as there are columns.
    pub rows: Vec<Vec<String>>,
    /// The unit of each row's figures that have none with them; empty where there are no such.
    pub units: Vec<String>,
}

impl Table {
    pub(super) fn new(columns: &[(&str, Align)]) -> Self {
        let columns = columns.iter().map(|(heading, align)| Column {
            heading: (*heading).to_owned(),
            align: *align,
            read_first: false,
        });
        Self {
            columns: columns.collect(),
            rows: Vec::new(),
            units: Vec::new(),
        }
    }

    /// The same, with the columns that are read first by their headings.
    pub(super) fn read_first(mut self, headings: &[&str]) -> Self {
        for column in &mut self.columns {
            column.read_first = headings.contains(&column.heading.as_str());
        }
        self
    }
}

/// Columns of figures. Where they do not all stand beside each other, they stand in groups one below
/// the other, each group behind the leading columns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Grid {
    /// What every group begins with. The first of them names the rows: where there is no room for
    /// more it alone begins a group.
    pub leading: Vec<GridColumn>,
    /// The others; as many cells in each as in the leading ones.
    pub columns: Vec<GridColumn>,
    /// Blanks between the leading columns and the others, beside the one before every column.
    pub air: Air,
}

/// Blanks that part columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Air {
    /// So many.
    Always(usize),
    /// So many where there is room for them, otherwise none.
    WhereItFits(usize),
}

/// A column of figures, on the right side of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GridColumn {
    /// Its heading; a line break where it is broken.
    pub heading: String,
    /// Its cells.
    pub cells: Vec<String>,
    /// Characters that it is wide, at least.
    pub least_width: usize,
}

/// An equation line by line: symbols, numbers, result, and what its symbols mean.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EquationLines {
    /// Symbol of the result.
    pub symbol: String,
    /// The right-hand side in symbols; `None` where the equation above has the same.
    pub symbols: Option<String>,
    /// The right-hand side with the numbers put in.
    pub numbers: String,
    /// The result, with its unit.
    pub result: String,
    /// What symbols stand for that are new here.
    pub meanings: Vec<String>,
}

/// What is said, in order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Report {
    /// The pieces.
    pub blocks: Vec<Block>,
}

impl Report {
    pub(super) fn title(&mut self, mark: &str, text: impl Into<String>) {
        self.blocks.push(Block::Title {
            mark: mark.to_owned(),
            text: text.into(),
        });
    }

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

    pub(super) fn grid(&mut self, grid: Grid) {
        self.blocks.push(Block::Grid(grid));
    }

    pub(super) fn equation(&mut self, lines: EquationLines) {
        self.blocks.push(Block::Equation(lines));
    }
}

/// A space that lines are not broken at.
pub const NO_BREAK: &str = "\u{a0}";

/// A name and its figure, never parted by the end of a line; a name of several words may be.
pub(super) fn together(name: &str, figure: &str) -> String {
    format!("{name}{NO_BREAK}{}", figure.replace(' ', NO_BREAK))
}
