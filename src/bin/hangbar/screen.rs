//! Lines of text for a screen of so many columns, with colour where it is wanted.

use clap::builder::styling::{AnsiColor, Style};
use hangbar::briefing::Briefing;
use hangbar::finding::Verdict;
use hangbar::report::{
    Air, Align, Block, EquationLines, Grid, GridColumn, NO_BREAK, Report, Table, Tone,
};
use textwrap::core::display_width;

/// Wider than this no line gets, and where nobody knows the width everything fits into it.
pub(crate) const WIDEST: usize = 80;
/// A narrower screen is treated as one of so many columns.
pub(crate) const NARROWEST: usize = 40;
/// Columns that a name gets in a table at least, before the table becomes lines.
const NAME_COLUMNS: usize = 14;
/// Columns that the words at the end of a row get at least.
const LEAST_WORDS: usize = 16;
/// Blanks before the lines of an equation.
const EQUATION_INDENT: &str = "    ";
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
pub(crate) struct Screen {
    text: String,
    colour: bool,
    width: usize,
}

impl Screen {
    /// A screen of 80 columns.
    pub(crate) const fn new(colour: bool) -> Self {
        Self {
            text: String::new(),
            colour,
            width: WIDEST,
        }
    }

    /// A screen of so many columns, 40 to 80.
    pub(crate) fn with_width(colour: bool, width: usize) -> Self {
        Self {
            width: width.clamp(NARROWEST, WIDEST),
            ..Self::new(colour)
        }
    }

    /// Columns that a line has.
    pub(crate) const fn width(&self) -> usize {
        self.width
    }

    /// A whole report.
    pub(crate) fn draw(report: &Report, colour: bool, width: usize) -> String {
        let mut screen = Self::with_width(colour, width);
        for block in &report.blocks {
            match block {
                Block::Title { mark, text } => screen.title(mark, text),
                Block::Heading(text) => screen.heading(text),
                Block::Paragraph(text) => screen.paragraph(text),
                Block::Marked { tone, mark, text } => {
                    // What a mark ends with already parts it from the text.
                    let gap = if mark.ends_with([':', ']']) { 1 } else { GAP };
                    screen.hanging_in(*tone, &format!("{mark}{}", " ".repeat(gap)), text);
                }
                Block::Table(table) => screen.table(table),
                Block::Grid(grid) => screen.grid(grid),
                Block::Equation(lines) => screen.equation(lines),
                Block::Space => screen.line(""),
            }
        }
        screen.finish()
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

    /// A no-go is one on every screen.
    pub(crate) fn no_go_line(&mut self, briefing: &Briefing) {
        if briefing.verdict() == Verdict::NoGo {
            let text = "as planned: these are the figures of a dive that may not go.";
            self.hanging_in(Tone::NoGo, "  NO-GO  ", text);
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
        let options = textwrap::Options::new(self.width)
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

    /// A table where it fits; otherwise each row as a paragraph.
    fn table(&mut self, table: &Table) {
        match self.layout(table) {
            Some(widths) => self.rows(table, &widths),
            None => self.rows_as_lines(table),
        }
    }

    /// The width of each column; `None` where they do not fit. Names are cut before that, and
    /// words at the end of a row are wrapped.
    fn layout(&self, table: &Table) -> Option<Vec<usize>> {
        let mut widths: Vec<usize> = table
            .columns
            .iter()
            .enumerate()
            .map(|(index, column)| {
                let heading = column.heading.lines().map(display_width);
                let cells = table.rows.iter().map(|row| display_width(&row[index]));
                heading.chain(cells).max().unwrap_or(0)
            })
            .collect();
        let room = self.width.checked_sub(GAP * table.columns.len())?;
        let over = |widths: &[usize]| widths.iter().sum::<usize>().saturating_sub(room);
        let last = widths.len().checked_sub(1)?;
        if last > 0 && table.columns[last].align == Align::Left {
            let words = table.rows.iter().flat_map(|row| row[last].split(' '));
            let longest_word = words.map(display_width).max().unwrap_or(0);
            let least = LEAST_WORDS.max(longest_word).min(widths[last]);
            widths[last] = widths[last].saturating_sub(over(&widths)).max(least);
        }
        // Names of divers may be cut; what a change is may not.
        if table.columns[0].heading == "diver" && widths[0] > NAME_COLUMNS {
            widths[0] = widths[0].saturating_sub(over(&widths)).max(NAME_COLUMNS);
        }
        (over(&widths) == 0).then_some(widths)
    }

    fn rows(&mut self, table: &Table, widths: &[usize]) {
        let lines = |heading: &str| heading.lines().count();
        let height = table
            .columns
            .iter()
            .map(|column| lines(&column.heading))
            .max();
        let height = height.unwrap_or(0);
        for line in 0..height {
            let cells = table.columns.iter().zip(widths).map(|(column, width)| {
                // Short headings stand at the bottom.
                let above = height - lines(&column.heading);
                let text = line
                    .checked_sub(above)
                    .and_then(|line| column.heading.lines().nth(line))
                    .unwrap_or_default();
                aligned(text, *width, column.align)
            });
            let cells: Vec<String> = cells.collect();
            self.line(&format!("  {}", cells.join(&" ".repeat(GAP))));
        }
        let last = widths.len() - 1;
        for row in &table.rows {
            let cells = row[..last].iter().zip(widths).zip(&table.columns);
            let cells: Vec<String> = cells
                .map(|((text, width), column)| aligned(text, *width, column.align))
                .collect();
            let mut start = format!("  {}", cells.join(&" ".repeat(GAP)));
            if last > 0 {
                start.push_str(&" ".repeat(GAP));
            }
            match table.columns[last].align {
                Align::Left if row[last].is_empty() => self.line(&start),
                Align::Left => self.hanging(&start, &row[last]),
                Align::Right => {
                    let text = aligned(&row[last], widths[last], Align::Right);
                    self.line(&format!("{start}{text}"));
                }
            }
        }
    }

    /// `Tove: fill 220 bar, turn at 140, minimum gas 70`; words without their heading.
    fn rows_as_lines(&mut self, table: &Table) {
        for row in &table.rows {
            let cells = row.iter().zip(&table.columns).skip(1);
            let cells: Vec<String> = cells
                .filter(|(text, _)| !text.is_empty())
                .map(|(text, column)| match column.align {
                    Align::Left => text.clone(),
                    Align::Right => {
                        let heading = column.heading.replace('\n', " ");
                        let text = text.replace(' ', NO_BREAK);
                        format!("{heading} {text}").trim_start().to_owned()
                    }
                })
                .collect();
            let name = row.first().map(String::as_str).unwrap_or_default();
            let options = textwrap::Options::new(self.width)
                .word_splitter(textwrap::WordSplitter::NoHyphenation)
                .initial_indent("  ")
                .subsequent_indent("    ");
            let text = format!("{name}: {}", cells.join(", "));
            let broken: Vec<String> = textwrap::wrap(&keep_units(&text), options)
                .into_iter()
                .map(|line| line.replace(NO_BREAK, " "))
                .collect();
            for line in broken {
                self.line(&line);
            }
        }
    }
}

/// Groups of columns.
impl Screen {
    /// The leading columns beside as many others as there is room for, group below group.
    fn grid(&mut self, grid: &Grid) {
        let lines = |column: &GridColumn| column.heading.lines().count();
        let every = grid.leading.iter().chain(&grid.columns);
        let columns = Columns {
            heading_lines: every.map(lines).max().unwrap_or(0),
            leading: grid.leading.iter().collect(),
            others: grid.columns.iter().collect(),
        };
        let (always, where_it_fits) = match grid.air {
            Air::Always(air) => (air, 0),
            Air::WhereItFits(air) => (0, air),
        };
        let room = self
            .width
            .saturating_sub(abreast(&columns.leading) + always);
        let widths = columns.others.iter().map(|column| grid_width(column));
        let widest = widths.max().unwrap_or(0);
        if room <= widest {
            return self.narrow_grid(columns);
        }
        let in_a_group = if abreast(&columns.others) <= room {
            columns.others.len().max(1)
        } else {
            room / (widest + 1)
        };
        for others in columns.others.chunks(in_a_group) {
            let fits = abreast(others) + where_it_fits <= room;
            let air = always + if fits { where_it_fits } else { 0 };
            self.group(&columns.leading, others, air, columns.heading_lines);
        }
    }

    /// Whatever fits beside the first column, group below group.
    fn narrow_grid(&mut self, columns: Columns<'_>) {
        let (first, rest) = columns.leading.split_at(columns.leading.len().min(1));
        let mut rest = [rest, &columns.others].concat();
        while !rest.is_empty() {
            let mut room = self.width.saturating_sub(abreast(first));
            let fitting = rest.iter().take_while(|column| {
                let width = grid_width(column);
                let fits = width < room;
                room = room.saturating_sub(width + 1);
                fits
            });
            let count = fitting.count().max(1);
            let group: Vec<&GridColumn> = rest.drain(..count).collect();
            self.group(first, &group, 0, columns.heading_lines);
        }
    }

    /// Columns beside each other, an empty line above them.
    fn group(
        &mut self,
        leading: &[&GridColumn],
        others: &[&GridColumn],
        air: usize,
        heading_lines: usize,
    ) {
        self.line("");
        let every = || leading.iter().chain(others);
        let cells = every().map(|column| column.cells.len()).max().unwrap_or(0);
        for line in 0..heading_lines + cells {
            let mut text = String::new();
            for (index, column) in every().enumerate() {
                let cell = match line.checked_sub(heading_lines) {
                    Some(row) => column.cells.get(row).map(String::as_str),
                    None => column.heading.lines().nth(line),
                };
                if index == leading.len() {
                    text.push_str(&" ".repeat(air));
                }
                let cell = cell.unwrap_or_default();
                text.push(' ');
                text.push_str(&aligned(cell, grid_width(column), Align::Right));
            }
            self.line(&text);
        }
    }

    /// Symbols, numbers and result, each behind its equals sign; then what is new.
    fn equation(&mut self, lines: &EquationLines) {
        let first = format!("{EQUATION_INDENT}{} = ", lines.symbol);
        let further = format!("{EQUATION_INDENT}  = ");
        match &lines.symbols {
            Some(symbols) => {
                self.hanging(&first, &at_operators(symbols));
                self.hanging(&further, &at_operators(&lines.numbers));
            }
            None => self.hanging(&first, &at_operators(&lines.numbers)),
        }
        self.hanging(&further, &lines.result);
        let mut mark = format!("{EQUATION_INDENT}where ");
        for meaning in &lines.meanings {
            self.hanging(&mark, meaning);
            mark = " ".repeat(mark.len());
        }
    }
}

/// The columns of a grid.
struct Columns<'a> {
    leading: Vec<&'a GridColumn>,
    others: Vec<&'a GridColumn>,
    heading_lines: usize,
}

fn grid_width(column: &GridColumn) -> usize {
    let lines = column.heading.lines().map(display_width);
    let cells = column.cells.iter().map(|cell| display_width(cell));
    lines.chain(cells).fold(column.least_width, usize::max)
}

/// Columns beside each other, a blank before each.
fn abreast(columns: &[&GridColumn]) -> usize {
    columns.iter().map(|column| grid_width(column) + 1).sum()
}

/// A line that is broken before an operator and nowhere else.
fn at_operators(line: &str) -> String {
    let mut kept = line.to_owned();
    for operator in ["+", "-", "*", "/"] {
        kept = kept.replace(&format!("{operator} "), &format!("{operator}{NO_BREAK}"));
    }
    kept
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
