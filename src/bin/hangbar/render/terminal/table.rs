//! Tables: columns where they fit, otherwise each row as a paragraph.

use hangbar::report::{Align, NO_BREAK, Table};
use textwrap::core::display_width;

use super::super::figures::keep_units;
use super::{GAP, Terminal, aligned};

/// Columns that a name gets in a table at least, before the table becomes lines.
const NAME_COLUMNS: usize = 14;
/// Columns that the words at the end of a row get at least.
const LEAST_WORDS: usize = 16;

impl Terminal {
    /// A table where it fits; otherwise each row as a paragraph.
    pub(super) fn table(&mut self, table: &Table) {
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
