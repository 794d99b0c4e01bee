//! A table whose first-read figures are large enough for arm's length.

use hangbar::report::{Align, Table};

use super::block::{Drawn, headings, row_with};
use super::calls::{Call, parted};
use super::escape::escaped;
use super::measure::{Face, lines, widest_word, width};

/// Left and right of the words of a cell, together; above and below those of a row. Points.
const CELL_AIR: f64 = 10.0;
const ROW_AIR: f64 = 3.0;
const LINE: f64 = 1.06;

/// Letters of a large table, in points.
#[derive(Clone, Copy, Debug)]
pub(in crate::render) struct Sizes {
    /// Of what is read first.
    pub(in crate::render) first: f64,
    /// Of the names.
    pub(in crate::render) names: f64,
    /// Of everything else.
    pub(in crate::render) others: f64,
}

/// The table over the whole width of a page.
pub(in crate::render) fn table(
    table: &Table,
    points_wide: f64,
    sizes: Sizes,
    calls: &[Call],
) -> Drawn {
    let letters = |index: usize| {
        if index == 0 {
            (sizes.names, Face::Bold)
        } else if table.columns[index].read_first {
            (sizes.first, Face::Bold)
        } else {
            (sizes.others, Face::Regular)
        }
    };
    let mut widths = Vec::new();
    for (index, column) in table.columns.iter().enumerate() {
        let (size, face) = letters(index);
        let heading = column.heading.lines();
        let heading = heading.map(|line| width(line, Face::Regular) * sizes.others);
        let cells = table.rows.iter().map(|row| match column.align {
            Align::Right => width(&row[index], face) * size,
            Align::Left => widest_word(&row[index], face) * size,
        });
        let units = table.units.iter().filter(|_| column.read_first);
        let units = units.map(|unit| width(&format!(" {unit}"), Face::Regular) * sizes.others);
        let unit = units.fold(0.0, f64::max);
        let cells = cells.map(|cell| cell + unit);
        widths.push(heading.chain(cells).fold(0.0, f64::max) + CELL_AIR);
    }
    let figures: f64 = widths.iter().skip(1).sum();
    let one_line = |row: &Vec<String>| {
        let (call, rest) = parted(&row[0], calls);
        width(call, Face::Bold) * sizes.names + width(rest, Face::Regular) * sizes.others
    };
    let wished = table.rows.iter().map(one_line).fold(widths[0], f64::max) + CELL_AIR;
    // Names have what the figures leave, though no more than twice what they ask for.
    widths[0] = (points_wide - figures).max(points_wide * 0.15).min(wished);
    let whole: f64 = widths.iter().sum();
    let share = (points_wide / whole).min(1.0);
    let mut html = format!(
        "<table class=\"large\" style=\"--first:{:.1}pt;--names:{:.1}pt;--others:{:.1}pt;width:{:.1}pt\">\n<colgroup>",
        sizes.first * share,
        sizes.names * share,
        sizes.others * share,
        points_wide,
    );
    let air = ((points_wide - whole * share) / count(&widths)).max(0.0);
    for width in &widths {
        html.push_str(&format!(
            "<col style=\"width:{:.1}pt\">",
            width * share + air
        ));
    }
    html.push_str(&format!(
        "</colgroup>\n<thead>{}</thead>\n<tbody>\n",
        headings(table)
    ));
    let mut heights = Vec::new();
    let mut glued = (2.0 * LINE * sizes.others + ROW_AIR) * share;
    for (index, row) in table.rows.iter().enumerate() {
        let (call, rest) = parted(&row[0], calls);
        let name = if rest.is_empty() {
            escaped(call)
        } else {
            format!(
                "{}<span class=\"rest\">{}</span>",
                escaped(call),
                escaped(rest)
            )
        };
        let unit = table.units.get(index).map(String::as_str);
        html.push_str(&row_with(table, row, &name, unit));
        let room = widths[0] - CELL_AIR;
        let name = if one_line(row) <= room {
            sizes.names
        } else {
            // As if all of it were as large as what they are called by.
            lines(&row[0], Face::Bold, room / sizes.names) * sizes.names
        };
        let height = (name.max(sizes.first) * LINE + ROW_AIR) * share;
        heights.push(height + std::mem::take(&mut glued));
    }
    html.push_str("</tbody></table>\n");
    Drawn {
        html,
        heights,
        squeezed: share < 1.0,
    }
}

#[expect(clippy::cast_precision_loss, reason = "a handful of columns")]
fn count(widths: &[f64]) -> f64 {
    widths.len() as f64
}
