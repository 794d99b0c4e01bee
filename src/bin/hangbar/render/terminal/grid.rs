//! Grids: columns beside each other, in groups where there is no room for all.

use hangbar::report::{Air, Align, Grid, GridColumn};
use textwrap::core::display_width;

use super::{Terminal, aligned};

impl Terminal {
    /// The leading columns beside as many others as there is room for, group below group.
    pub(super) fn grid(&mut self, grid: &Grid) {
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
        let widths: Vec<usize> = every().map(|column| grid_width(column)).collect();
        for line in 0..heading_lines + cells {
            let mut text = String::new();
            for (index, (column, width)) in every().zip(&widths).enumerate() {
                let cell = match line.checked_sub(heading_lines) {
                    Some(row) => column.cells.get(row).map(String::as_str),
                    None => column.heading.lines().nth(line),
                };
                if index == leading.len() {
                    text.push_str(&" ".repeat(air));
                }
                let cell = cell.unwrap_or_default();
                text.push(' ');
                text.push_str(&aligned(cell, *width, Align::Right));
            }
            self.line(&text);
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

#[cfg(test)]
mod tests {
    use super::{Air, Grid, GridColumn, Terminal};

    fn column(heading: &str, cell: &str, least_width: usize) -> GridColumn {
        GridColumn {
            heading: heading.to_owned(),
            cells: vec![cell.to_owned()],
            least_width,
        }
    }

    fn drawn(width: usize, grid: &Grid) -> String {
        let mut terminal = Terminal::with_width(false, width);
        terminal.grid(grid);
        terminal.finish()
    }

    #[test]
    fn headings_longer_than_their_figures_keep_apart() {
        let grid = Grid {
            leading: vec![column("depth", "30 m", 6)],
            columns: vec![
                column("EAN32 40/85", "23 (4)", 12),
                column("EAN32 100/100", "over 999", 12),
            ],
            air: Air::Always(3),
        };
        let wide =
            "\n  depth     EAN32 40/85 EAN32 100/100\n   30 m          23 (4)      over 999\n";
        assert_eq!(drawn(80, &grid), wide);
    }

    #[test]
    fn groups_stand_below_each_other_behind_the_leading_columns() {
        let figures = ["one", "two", "three", "four"].map(|name| column(name, "1.00 / 2.00", 0));
        let grid = Grid {
            leading: vec![column("minute", "0.00", 0), column("depth", "0 m", 0)],
            columns: figures.to_vec(),
            air: Air::WhereItFits(2),
        };
        // 13 for minute and depth; two columns of 12 and the air beside them in 40.
        let narrow = "\n minute depth           one         two\n   0.00   0 m   1.00 / 2.00 1.00 / 2.00\n\
                      \n minute depth         three        four\n   0.00   0 m   1.00 / 2.00 1.00 / 2.00\n";
        assert_eq!(drawn(40, &grid), narrow);
    }
}
