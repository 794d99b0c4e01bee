//! The half page for the wheelhouse: the clock, the way up by time of day, who is in and out.

use hangbar::report::{Report, Topic};

use super::block::{Drawn, Room, report};
use super::headline::{Sizes, foot, head, headlines};
use super::measure::BOLD;
use super::sheet::{Drawing, GAP, MM, SURE, WIDE, without_first};
use super::shell::Section;

/// Half of a Letter page, less the margin above and the line to cut along.
const HIGH: f64 = 123.0 * MM;

const HEADLINE: Sizes = Sizes {
    go: 22.0,
    no_go: 36.0,
    title: 13.0,
    foot: 9.0,
};
/// Letters of the clock and of the rest, points, from the largest on; what is too long for the least
/// takes more of the page.
const TEXT: [(f64, f64); 12] = [
    (20.0, 11.0),
    (20.0, 10.0),
    (18.0, 10.0),
    (18.0, 9.0),
    (16.0, 9.0),
    (16.0, 8.5),
    (16.0, 8.0),
    (14.0, 7.5),
    (14.0, 7.0),
    (13.0, 6.5),
    (12.0, 6.0),
    (11.0, 6.0),
];
const EASY: (f64, f64) = (16.0, 8.0);

/// The half page of a dive.
pub(in crate::render) fn section(drawing: Drawing<'_>) -> Section {
    let mut all = TEXT.into_iter().map(|sizes| page(drawing, sizes));
    let fits = all.find(|(_, high)| *high <= HIGH * SURE);
    fits.map_or_else(|| page(drawing, EASY).0, |(section, _)| section)
}

fn page(drawing: Drawing<'_>, (clock, text): (f64, f64)) -> (Section, f64) {
    let titles = headlines(drawing.parts);
    let (head, head_high) = head(&titles, drawing.place, WIDE, HEADLINE);
    let (foot, foot_high) = foot(&titles, WIDE, HEADLINE);
    let is_no_go = titles.iter().any(|title| title.is_no_go);
    let whole = Room {
        width: WIDE,
        letters: text,
        written: 17.0,
    };
    let half = Room {
        width: (WIDE - GAP) / 2.0 - 2.0,
        ..whole
    };
    let mut top = Drawn::default();
    let of = |topic: Topic| -> Vec<&Report> {
        let parts = drawing.parts.iter().filter(|part| part.topic == topic);
        parts.map(|part| &part.report).collect()
    };
    for part in of(Topic::Skipper) {
        let drawn = report(
            part,
            Room {
                width: WIDE / BOLD,
                letters: clock,
                ..whole
            },
        );
        let html = format!(
            "<div class=\"clock\" style=\"font-size:{clock:.2}pt\">{}</div>\n",
            drawn.html
        );
        top.push(&Drawn { html, ..drawn });
    }
    for topic in [Topic::DayVerdict, Topic::Verdict] {
        for part in of(topic) {
            top.push(&report(&without_first(part), whole));
        }
    }
    for part in of(Topic::NearestGo) {
        top.push(&report(part, whole));
    }
    let mut halves = Vec::new();
    if !is_no_go || !of(Topic::Skipper).is_empty() {
        for topic in [Topic::WayUp, Topic::RollCall] {
            halves.extend(of(topic).into_iter().map(|part| report(part, half)));
        }
    }
    let beside = halves.iter().map(Drawn::height).fold(0.0, f64::max);
    let high = head_high + foot_high + top.height() + beside;
    let each = halves
        .iter()
        .map(|half| format!("<div>{}</div>\n", half.html));
    let body = format!(
        "{}<div class=\"halves\">\n{}</div>\n",
        top.html,
        each.collect::<String>()
    );
    let foot = format!("{foot}<p class=\"cut\">cut here</p>");
    let section = Section {
        head,
        body,
        foot,
        letters: text,
    };
    (section, high)
}
