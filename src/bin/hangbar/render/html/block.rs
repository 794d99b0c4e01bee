//! A report as HTML, and how high it is.

use hangbar::report::{Align, Block, Column, Grid, GridColumn, Report, Table, Tone};

use super::super::figures::keep_units;
use super::escape::escaped;
use super::measure::{Face, lines, width};

/// A line of text, in heights of its letters.
pub(in crate::render) const LINE: f64 = 1.17;
/// Above a heading, and below a paragraph.
const ABOVE_HEADING: f64 = 0.5;
const BELOW_PARAGRAPH: f64 = 0.15;
/// Letters of a heading beside those of the text.
const HEADING: f64 = 1.08;
/// Left of a box to tick, and from there to the words.
const TICK: f64 = 1.7;
/// Above and below the words of a row, together, and left and right of those of a cell.
const ROW_AIR: f64 = 0.2;
const CELL_AIR: f64 = 0.8;
/// A column of words gets so much, at least.
const LEAST_WORDS: f64 = 8.5;
/// A table of so many rows is not parted.
const FEW_ROWS: usize = 10;

/// HTML, and the heights in points of what stays together in it, from the top.
#[derive(Clone, Debug, Default)]
pub(in crate::render) struct Drawn {
    pub(in crate::render) html: String,
    pub(in crate::render) heights: Vec<f64>,
    /// Whether a table in it has smaller letters, so that it fits.
    pub(in crate::render) squeezed: bool,
}

impl Drawn {
    pub(in crate::render) fn height(&self) -> f64 {
        self.heights.iter().sum()
    }

    pub(in crate::render) fn push(&mut self, other: &Self) {
        self.html.push_str(&other.html);
        self.heights.extend(&other.heights);
        self.squeezed |= other.squeezed;
    }
}

/// The room that text has.
#[derive(Clone, Copy, Debug)]
pub(in crate::render) struct Room {
    /// Points from left to right.
    pub(in crate::render) width: f64,
    /// Points that letters are high.
    pub(in crate::render) letters: f64,
    /// Points that a row is high which is written into by hand, at least.
    pub(in crate::render) written: f64,
}

/// A report without the headings of pages.
pub(in crate::render) fn report(report: &Report, room: Room) -> Drawn {
    let mut drawn = Drawn::default();
    let mut glued = 0.0;
    for block in &report.blocks {
        let (html, mut heights) = block_of(block, room);
        if let Block::Table(table) = block {
            drawn.squeezed |= layout(table, room.width / room.letters).share < 1.0;
        }
        drawn.html.push_str(&html);
        if let Block::Heading(_) = block {
            glued += heights.iter().sum::<f64>();
            continue;
        }
        if let Some(first) = heights.first_mut() {
            *first += glued;
            glued = 0.0;
        }
        drawn.heights.extend(heights);
    }
    if glued > 0.0 {
        drawn.heights.push(glued);
    }
    drawn
}

fn block_of(block: &Block, room: Room) -> (String, Vec<f64>) {
    match block {
        Block::Heading(text) | Block::Title { text, .. } => {
            let text = &keep_units(text);
            let html = format!("<h2>{}</h2>\n", escaped(text));
            let rows = lines(text, Face::Bold, room.width / (HEADING * room.letters));
            let height = (rows * HEADING * LINE + ABOVE_HEADING) * room.letters;
            (html, vec![height])
        }
        Block::Paragraph(text) => {
            let text = &keep_units(text);
            let html = format!("<p>{}</p>\n", escaped(text));
            (html, vec![paragraph(text, room.width, room.letters)])
        }
        Block::Marked { tone, mark, text } => marked(*tone, mark.trim(), &keep_units(text), room),
        Block::Table(table) => table_of(table, room),
        Block::Grid(grid) => table_of(&as_table(grid), room),
        Block::Equation(lines) => {
            let equation = format!("{} = {} = {}", lines.symbol, lines.numbers, lines.result);
            block_of(&Block::Paragraph(equation), room)
        }
        Block::Space => (String::new(), Vec::new()),
    }
}

/// Every column of figures beside the others.
fn as_table(grid: &Grid) -> Table {
    let columns: Vec<&GridColumn> = grid.leading.iter().chain(&grid.columns).collect();
    let rows = columns.iter().map(|column| column.cells.len()).max();
    let cell = |column: &GridColumn, row: usize| column.cells.get(row).cloned().unwrap_or_default();
    Table {
        columns: columns
            .iter()
            .map(|column| Column {
                heading: column.heading.clone(),
                align: Align::Right,
                read_first: false,
            })
            .collect(),
        rows: (0..rows.unwrap_or(0))
            .map(|row| columns.iter().map(|column| cell(column, row)).collect())
            .collect(),
        units: Vec::new(),
    }
}

fn paragraph(text: &str, width: f64, letters: f64) -> f64 {
    (lines(text, Face::Regular, width / letters) * LINE + BELOW_PARAGRAPH) * letters
}

fn marked(tone: Tone, mark: &str, text: &str, room: Room) -> (String, Vec<f64>) {
    if mark == "[ ]" {
        let html = format!(
            "<p class=\"tick\"><span class=\"box\"></span>{}</p>\n",
            escaped(text)
        );
        let left = room.width - TICK * room.letters;
        return (html, vec![paragraph(text, left, room.letters)]);
    }
    let class = match tone {
        Tone::NoGo => " class=\"no-go\"",
        Tone::Caution => " class=\"caution\"",
        Tone::Go | Tone::Plain => "",
    };
    let words = if mark.is_empty() {
        escaped(text)
    } else {
        format!("<b>{}</b> {}", escaped(mark), escaped(text))
    };
    let html = format!("<p{class}>{words}</p>\n");
    let text = format!("{} {text}", mark.repeat(2));
    let face = if tone == Tone::NoGo {
        Face::Bold
    } else {
        Face::Regular
    };
    let rows = lines(&text, face, room.width / room.letters);
    let height = (rows * LINE + BELOW_PARAGRAPH) * room.letters;
    (html, vec![height])
}

/// Widths of the columns in heights of the letters, and by how much those are smaller than the text
/// so that all of it fits.
struct Layout {
    widths: Vec<f64>,
    share: f64,
}

/// Whether it is to be filled in by hand.
fn is_written(table: &Table) -> bool {
    let mut cells = table.rows.iter().flatten();
    cells.any(|cell| cell.contains("..."))
}

fn face(table: &Table, index: usize) -> Face {
    if table.columns[index].read_first {
        Face::Bold
    } else {
        Face::Regular
    }
}

/// Figures get what they need and words what is left.
fn layout(table: &Table, room: f64) -> Layout {
    let (mut widths, mut wishes): (Vec<f64>, Vec<f64>) = (Vec::new(), Vec::new());
    for (index, column) in table.columns.iter().enumerate() {
        let face = face(table, index);
        let cells = || table.rows.iter().map(move |row| row[index].as_str());
        let heading = column.heading.lines();
        let heading = heading
            .map(|line| width(line, Face::Regular))
            .fold(0.0, f64::max);
        let whole = cells()
            .map(|cell| width(cell, face))
            .fold(heading, f64::max);
        let least = match column.align {
            Align::Right => whole,
            Align::Left => whole.min(LEAST_WORDS),
        };
        widths.push(least + CELL_AIR);
        wishes.push(whole - least);
    }
    let needed: f64 = widths.iter().sum();
    let share = (room / needed).min(1.0);
    let mut free = (room / share - needed).max(0.0);
    let wished: f64 = wishes.iter().sum();
    if wished > 0.0 {
        let part = (free / wished).min(1.0);
        for (width, wish) in widths.iter_mut().zip(wishes) {
            *width += wish * part;
        }
        free -= wished * part;
    }
    if is_written(table) {
        let (written, count) =
            widths
                .split_first_mut()
                .map_or((&mut [][..], 1.0), |(_, written)| {
                    let count = f64::from(u8::try_from(written.len()).unwrap_or(1));
                    (written, count)
                });
        written.iter_mut().for_each(|width| *width += free / count);
    }
    Layout { widths, share }
}

fn table_of(table: &Table, room: Room) -> (String, Vec<f64>) {
    let layout = layout(table, room.width / room.letters);
    let letters = room.letters * layout.share;
    let is_written = is_written(table);
    let whole: f64 = layout.widths.iter().sum();
    let is_whole = table.rows.len() <= FEW_ROWS;
    let written = if is_written {
        format!(";--row:{:.1}pt", room.written)
    } else {
        String::new()
    };
    let mut html = format!(
        "<table class=\"figures{}\" style=\"font-size:{:.3}em;width:{whole:.2}em{written}\">\n<colgroup>",
        [
            if is_written { " written" } else { "" },
            if is_whole { " whole" } else { "" }
        ]
        .concat(),
        layout.share,
    );
    for width in &layout.widths {
        html.push_str(&format!("<col style=\"width:{width:.2}em\">"));
    }
    html.push_str("</colgroup>\n");
    let heading_lines = table
        .columns
        .iter()
        .map(|column| column.heading.lines().count());
    let heading_lines = heading_lines.max().unwrap_or(0);
    html.push_str(&format!("<thead>{}</thead>\n<tbody>\n", headings(table)));
    #[expect(clippy::cast_precision_loss, reason = "a line or two")]
    let mut glued = (heading_lines as f64 * LINE + ROW_AIR) * letters;
    let mut heights = Vec::new();
    for row in &table.rows {
        html.push_str(&row_of(table, row));
        let cells = row.iter().enumerate().map(|(index, cell)| {
            let room = layout.widths[index] - CELL_AIR;
            match table.columns[index].align {
                Align::Left => lines(cell, face(table, index), room + 0.01),
                Align::Right => 1.0,
            }
        });
        let rows = cells.fold(1.0, f64::max);
        let mut height = (rows * LINE + ROW_AIR) * letters;
        if is_written {
            height = height.max(room.written);
        }
        heights.push(height + std::mem::take(&mut glued));
    }
    html.push_str("</tbody></table>\n");
    if is_whole {
        heights = vec![heights.iter().sum()];
    }
    (html, heights)
}

/// The row of headings.
pub(in crate::render) fn headings(table: &Table) -> String {
    let cells = table.columns.iter().map(|column| {
        let lines: Vec<String> = column.heading.lines().map(escaped).collect();
        format!(
            "<th{}>{}</th>",
            class(column.align, false),
            lines.join("<br>")
        )
    });
    format!("<tr>{}</tr>", cells.collect::<String>())
}

/// A row of cells.
fn row_of(table: &Table, row: &[String]) -> String {
    row_with(
        table,
        row,
        &row.first().map_or_else(String::new, |cell| escaped(cell)),
        None,
    )
}

/// A row of cells, the first of which is HTML already; what is read first has its unit beside it.
pub(in crate::render) fn row_with(
    table: &Table,
    row: &[String],
    first: &str,
    unit: Option<&str>,
) -> String {
    let cells = row.iter().zip(&table.columns).enumerate();
    let cells = cells.map(|(index, (cell, column))| {
        let class = class(column.align, column.read_first);
        let cell = if index == 0 {
            first.to_owned()
        } else {
            let unit = unit.filter(|_| column.read_first);
            let unit = unit.map(|unit| format!("<span class=\"rest\"> {}</span>", escaped(unit)));
            escaped(cell) + &unit.unwrap_or_default()
        };
        format!("<td{class}>{cell}</td>")
    });
    format!("<tr>{}</tr>\n", cells.collect::<String>())
}

const fn class(align: Align, read_first: bool) -> &'static str {
    match (align, read_first) {
        (Align::Left, false) => "",
        (Align::Right, false) => " class=\"n\"",
        (Align::Left, true) => " class=\"first\"",
        (Align::Right, true) => " class=\"n first\"",
    }
}
