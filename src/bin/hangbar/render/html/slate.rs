//! The slate: the way up alone, on A6, to be laminated.

use hangbar::report::{Block, Report, Table, Topic};

use super::block::{Drawn, LINE, Room, report};
use super::escape::escaped;
use super::headline::{Sizes, foot, head, headlines};
use super::measure::{Face, lines, width};
use super::sheet::{Drawing, without_first};
use super::shell::Section;

const MM: f64 = 72.0 / 25.4;
/// A6 without margins of 6 mm.
const WIDE: f64 = 93.0 * MM;
const HIGH: f64 = 136.0 * MM;
/// What of it is counted on.
const SURE: f64 = 0.96;

pub(in crate::render) const PAGE: &str = "size:105mm 148mm;margin:6mm";
pub(in crate::render) const SECTION: &str = "93mm";

const HEADLINE: Sizes = Sizes {
    go: 14.0,
    no_go: 26.0,
    title: 11.0,
    foot: 7.0,
};
/// Letters from the largest on, points; a way up too long for the least goes on on another slate.
const TEXT: [f64; 15] = [
    19.0, 18.0, 17.0, 16.0, 15.0, 14.0, 13.0, 12.0, 11.0, 10.5, 10.0, 9.5, 9.0, 8.5, 8.0,
];
const LEAST: f64 = 9.0;
/// What is said of the way up; words below a row and headings beside
/// its figures; left and right of a figure.
const SMALL: f64 = 11.0;
const WORDS: f64 = 0.75;
const HEADING: f64 = 0.7;
const CELL_AIR: f64 = 0.8;

/// The slate of a dive.
pub(in crate::render) fn section(drawing: Drawing<'_>) -> Section {
    let mut all = TEXT.into_iter().map(|text| page(drawing, text));
    let fits = all.find(|(_, fits)| *fits);
    fits.map_or_else(|| page(drawing, LEAST).0, |(section, _)| section)
}

/// The slate in such letters, and whether it fits.
fn page(drawing: Drawing<'_>, letters: f64) -> (Section, bool) {
    let room = Room {
        width: WIDE,
        letters,
        written: 17.0,
    };
    let titles = headlines(drawing.parts);
    let (head, head_high) = head(&titles, drawing.place, WIDE, HEADLINE);
    let (foot, foot_high) = foot(&titles, WIDE, HEADLINE);
    let is_no_go = titles.iter().any(|title| title.is_no_go);
    let mut body = Drawn::default();
    for part in drawing.parts {
        match part.topic {
            // Nobody gets stops to follow on a day or a dive that may not go.
            Topic::DayVerdict | Topic::Verdict if is_no_go => {
                body.push(&report(&without_first(&part.report), room));
            }
            Topic::NearestGo => body.push(&report(&part.report, room)),
            Topic::WayUp if !is_no_go => body.push(&way_up(&part.report, room)),
            _ => {}
        }
    }
    let fits = head_high + foot_high + body.height() <= HIGH * SURE && !body.squeezed;
    let section = Section {
        head,
        body: body.html,
        foot,
        letters,
    };
    (section, fits)
}

/// The table, and what is said of it in small letters.
fn way_up(part: &Report, room: Room) -> Drawn {
    let small = Room {
        letters: SMALL.min(room.letters),
        ..room
    };
    let mut drawn = Drawn::default();
    for block in &part.blocks {
        if let Block::Table(table) = block {
            drawn.push(&stops(table, room));
            continue;
        }
        let alone = Report {
            blocks: vec![block.clone()],
        };
        let said = report(&alone, small);
        let html = format!(
            "<div style=\"font-size:{:.2}pt\">{}</div>\n",
            small.letters, said.html
        );
        drawn.push(&Drawn { html, ..said });
    }
    drawn
}

/// The columns of figures that are read first over the whole width, and below each row its words.
fn stops(table: &Table, room: Room) -> Drawn {
    let kept: Vec<usize> = (0..table.columns.len())
        .filter(|index| table.columns[*index].read_first)
        .collect();
    let cells = |index: usize| table.rows.iter().map(move |row| row[index].as_str());
    let needs = |index: &usize| {
        let heading = width(&table.columns[*index].heading, Face::Regular) * HEADING;
        let cells = cells(*index).map(|cell| width(cell, Face::Bold));
        cells.fold(heading, f64::max) + CELL_AIR
    };
    let widths: Vec<f64> = kept.iter().map(needs).collect();
    let whole: f64 = widths.iter().sum();
    let squeezed = whole * room.letters > room.width;
    let columns = widths.iter().map(|width| {
        let share = 100.0 * width / whole;
        format!("<col style=\"width:{share:.2}%\">")
    });
    let heads = kept.iter().map(|index| &table.columns[*index].heading);
    let heads = heads.map(|heading| format!("<th>{}</th>", escaped(heading)));
    let mut html = format!(
        "<table class=\"stops\">\n<colgroup>{}</colgroup>\n<thead><tr>{}</tr></thead>\n",
        columns.collect::<String>(),
        heads.collect::<String>()
    );
    let mut heights = vec![HEADING * LINE * room.letters];
    for row in &table.rows {
        let figures = kept
            .iter()
            .map(|index| format!("<td>{}</td>", escaped(&row[*index])));
        html.push_str(&format!(
            "<tbody class=\"whole\"><tr>{}</tr>",
            figures.collect::<String>()
        ));
        let mut high = LINE + 0.12;
        if let Some(words) = row.last().filter(|words| !words.is_empty()) {
            let columns = kept.len();
            html.push_str(&format!(
                "<tr><td class=\"words\" colspan=\"{columns}\">{}</td></tr>",
                escaped(words)
            ));
            let room = room.width / (WORDS * room.letters) - CELL_AIR;
            high += WORDS * LINE * lines(words, Face::Regular, room);
        }
        html.push_str("</tbody>\n");
        heights.push(high * room.letters);
    }
    html.push_str("</table>\n");
    Drawn {
        html,
        heights,
        squeezed,
    }
}
