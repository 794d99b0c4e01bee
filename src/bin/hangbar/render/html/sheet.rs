//! The sheet of a dive or a day: one page, a second one for more than eight divers.

use hangbar::report::chart::Chart;
use hangbar::report::{Block, Part, Report, Table, Topic};

use super::block::{Drawn, LINE, Room, report};
use super::calls::{calling, calls};
use super::escape::escaped;
use super::flow::columns;
use super::headline::{Headline, Sizes, foot, head, headlines};
use super::large;
use super::measure::{BOLD, Face, lines};
use super::profile::{self, profile};
use super::shell::Section;

pub(in crate::render) const MM: f64 = 72.0 / 25.4;
/// A page is as narrow as A4 and as low as Letter, without margins of 8 mm; points.
pub(in crate::render) const WIDE: f64 = 194.0 * MM;
const HIGH: f64 = 263.4 * MM;
/// What of it is counted on: another face of the browser's takes a little more.
pub(in crate::render) const SURE: f64 = 0.98;
/// Between two columns.
pub(in crate::render) const GAP: f64 = 12.0;

const HEADLINE: Sizes = Sizes {
    go: 26.0,
    no_go: 36.0,
    title: 14.0,
    foot: 9.0,
};
/// So many divers have their figures as large as a page has room for; more than the last have a
/// second page.
const FEW_DIVERS: usize = 4;
const SOME_DIVERS: usize = 7;
const MOST_ON_ONE_PAGE: usize = 8;

/// How large what is written is; points.
#[derive(Clone, Copy)]
struct Scale {
    text: f64,
    large: large::Sizes,
    /// A row that is written into by hand.
    written: f64,
    /// Whether divers are called by their first names where they can be.
    called: bool,
    columns: usize,
}

/// Letters of the text, from the largest on. Where none fit the text goes on on another page, in
/// letters that are read easily.
const TEXT: [f64; 17] = [
    9.5, 9.25, 9.0, 8.75, 8.5, 8.25, 8.0, 7.75, 7.5, 7.25, 7.0, 6.75, 6.5, 6.25, 6.0, 5.75, 5.5,
];
const EASY: f64 = 8.0;
/// With letters smaller than these everything else is made smaller first.
const FULL: f64 = 7.5;
/// And with letters smaller than these a page has three columns, if they may be larger in them.
const WIDE_COLUMNS: f64 = 7.0;

impl Scale {
    fn full(text: f64, divers: usize) -> Self {
        let (first, names) = if divers <= FEW_DIVERS {
            (24.0, 14.0)
        } else if divers <= SOME_DIVERS {
            (20.0, 12.0)
        } else if divers <= MOST_ON_ONE_PAGE {
            (17.0, 11.0)
        } else {
            (15.0, 10.5)
        };
        Self {
            text,
            large: large::Sizes {
                first,
                names,
                others: text.max(8.0),
            },
            written: 17.0,
            called: false,
            columns: 2,
        }
    }

    fn dense(text: f64, divers: usize, columns: usize) -> Self {
        let (first, names) = if divers <= SOME_DIVERS {
            (18.5, 11.0)
        } else {
            (14.5, 10.0)
        };
        Self {
            text,
            large: large::Sizes {
                first,
                names,
                others: 7.5,
            },
            written: 15.0,
            called: true,
            columns,
        }
    }

    /// From the one that is wished for on.
    fn all(divers: usize) -> impl Iterator<Item = Self> {
        let full = TEXT.into_iter().filter(|text| *text >= FULL);
        let dense = TEXT.into_iter().filter(|text| *text <= EASY);
        let wide = dense.clone().filter(|text| *text >= WIDE_COLUMNS);
        let each = |columns: &'static [usize]| {
            move |text: f64| {
                let columns = columns.iter();
                columns.map(move |columns| Self::dense(text, divers, *columns))
            }
        };
        full.map(move |text| Self::full(text, divers))
            .chain(wide.flat_map(each(&[2])))
            .chain(dense.flat_map(each(&[2, 3])))
    }
}

/// What a sheet is drawn from.
#[derive(Clone, Copy)]
pub(crate) struct Drawing<'a> {
    pub(crate) parts: &'a [Part],
    pub(crate) chart: &'a Chart,
    /// Which dive of a day it is, where it is one of several.
    pub(crate) place: &'a str,
}

/// The pages of a dive or a day.
pub(in crate::render) fn sections(drawing: Drawing<'_>) -> Vec<Section> {
    let divers = names(drawing.parts).count();
    if divers <= MOST_ON_ONE_PAGE
        && let Some(section) = fitting(drawing, |_| true, "")
    {
        return vec![section];
    }
    // What is said before the water, and what is written, ticked and read where things go wrong.
    let sides: [(&dyn Fn(Topic) -> bool, &str); 2] = [
        (&|topic| !is_overleaf(topic), "page 1 of 2"),
        (&is_overleaf, "page 2 of 2"),
    ];
    let fits: Vec<Option<Section>> = sides
        .iter()
        .map(|(shown, page)| fitting(drawing, *shown, page))
        .collect();
    if fits.iter().all(Option::is_some) {
        return fits.into_iter().flatten().collect();
    }
    // Nobody knows how many pages there will be.
    let names = ["first part", "second part"];
    let scale = Scale::dense(EASY, divers, 2);
    let flows = sides.iter().zip(names);
    flows
        .map(|((shown, _), name)| page(drawing, *shown, name, scale, true).0)
        .collect()
}

fn is_overleaf(topic: Topic) -> bool {
    matches!(
        topic,
        Topic::Late
            | Topic::LostGas
            | Topic::LostStages
            | Topic::RollCall
            | Topic::RailCheck
            | Topic::Cautions
    )
}

/// Whom the gas is worked out for.
fn names(parts: &[Part]) -> impl Iterator<Item = &str> + Clone {
    let gas = parts
        .iter()
        .find(|part| matches!(part.topic, Topic::Gas | Topic::GasAskedFor));
    let rows = gas
        .and_then(|part| first_table(&part.report))
        .map_or(&[][..], |table| &table.rows);
    rows.iter()
        .filter_map(|row| row.first())
        .map(String::as_str)
}

fn first_table(report: &Report) -> Option<&Table> {
    report.blocks.iter().find_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    })
}

/// The page in the largest letters that fit; `None` where none do.
fn fitting(drawing: Drawing<'_>, shown: impl Fn(Topic) -> bool, page_of: &str) -> Option<Section> {
    let fits = |scale: &Scale| page(drawing, &shown, page_of, *scale, false).1 <= HIGH * SURE;
    let scale = Scale::all(names(drawing.parts).count()).find(fits)?;
    Some(page(drawing, &shown, page_of, scale, true).0)
}

/// A page, and how high it is. The chart takes long to draw: where the height alone is asked for it is
/// left out.
fn page(
    drawing: Drawing<'_>,
    shown: impl Fn(Topic) -> bool,
    page_of: &str,
    scale: Scale,
    is_drawn: bool,
) -> (Section, f64) {
    let calls = if scale.called {
        calls(names(drawing.parts))
    } else {
        Vec::new()
    };
    let parts = drawing.parts.iter().filter(|part| shown(part.topic));
    let parts: Vec<&Part> = parts.collect();
    let called = |part: &Part| calling(&part.report, &calls);
    let titles: Vec<Headline> = headlines(drawing.parts);
    let place = [drawing.place, page_of].into_iter();
    let place: Vec<&str> = place.filter(|place| !place.is_empty()).collect();
    let (head, head_high) = head(&titles, &place.join(", "), WIDE, HEADLINE);
    let (foot, foot_high) = foot(&titles, WIDE, HEADLINE);
    let whole = Room {
        width: WIDE,
        letters: scale.text,
        written: scale.written,
    };
    let mut top = Drawn::default();
    #[expect(clippy::cast_precision_loss, reason = "two or three")]
    let count = scale.columns as f64;
    let mut beside = Columns {
        drawn: Drawn::default(),
        room: Room {
            width: (WIDE - GAP * (count - 1.0)) / count - 1.0,
            ..whole
        },
    };
    let of = |topic: Topic| parts.iter().filter(move |part| part.topic == topic);
    for topic in [Topic::DayVerdict, Topic::Verdict] {
        of(topic).for_each(|part| top.push(&report(&without_first(&called(part)), whole)));
    }
    of(Topic::NearestGo).for_each(|part| top.push(&report(&called(part), whole)));
    of(Topic::Order).for_each(|part| top.push(&report(&called(part), whole)));
    for part in of(Topic::Gas) {
        if let Some(table) = first_table(&part.report) {
            top.push(&large::table(table, WIDE, scale.large, &calls));
        }
    }
    for part in of(Topic::Skipper) {
        let letters = (scale.text * 1.4).max(10.0);
        // Bold letters are wider.
        let room = Room {
            width: WIDE / BOLD,
            letters,
            ..whole
        };
        let drawn = report(&called(part), room);
        let html = format!(
            "<div class=\"clock\" style=\"font-size:{letters:.2}pt\">{}</div>\n",
            drawn.html
        );
        top.push(&Drawn { html, ..drawn });
    }
    // Of a no-go it is said first that it is not to be dived.
    let is_no_go = titles.iter().any(|title| title.is_no_go);
    let (first, second) = if is_no_go {
        (Topic::Dive, Topic::WayUp)
    } else {
        (Topic::WayUp, Topic::Dive)
    };
    for topic in [first, second].into_iter().chain(COLUMNS) {
        for part in of(topic) {
            if topic == Topic::Gas {
                beside.add(&without_table(&called(part)));
            } else {
                beside.add(&called(part));
            }
        }
        let drawn_here = topic == Topic::WayUp && of(topic).next().is_some();
        if drawn_here || topic == first && of(Topic::Order).next().is_some() {
            beside.figure(drawing.chart, is_drawn);
        }
    }
    let high = head_high + foot_high + top.height() + columns(&beside.drawn.heights, scale.columns);
    let body = format!(
        "{}<div class=\"columns\" style=\"columns:{}\">\n{}</div>\n",
        top.html, scale.columns, beside.drawn.html
    );
    let section = Section {
        head,
        body,
        foot,
        letters: scale.text,
    };
    (section, high)
}

/// What stands in columns behind the dive and its way up, in its order.
const COLUMNS: [Topic; 15] = [
    Topic::Before,
    Topic::EachDiver,
    Topic::Gas,
    Topic::GasAskedFor,
    Topic::Hang,
    Topic::Stages,
    Topic::Ponies,
    Topic::LostGas,
    Topic::LostStages,
    Topic::Late,
    Topic::RollCall,
    Topic::RailCheck,
    Topic::People,
    Topic::Flying,
    Topic::Cautions,
];

/// How high a plot is, in heights of the letters beside it.
const PLOT: f64 = 10.0;

struct Columns {
    drawn: Drawn,
    room: Room,
}

impl Columns {
    fn add(&mut self, part: &Report) {
        self.drawn.push(&report(part, self.room));
    }

    fn figure(&mut self, chart: &Chart, is_drawn: bool) {
        let Room { width, letters, .. } = self.room;
        let caption = lines(&chart.caption, Face::Regular, width / (letters * 0.85));
        let title = lines(&chart.title, Face::Bold, width / (letters * 1.08));
        let words = caption * letters * 0.85 * LINE + title * letters * 1.08 * LINE;
        let drawn: String = chart
            .plots()
            .filter(|_| is_drawn)
            .map(|plot| profile(plot, width, letters * PLOT))
            .collect();
        let high: f64 = chart
            .plots()
            .map(|plot| profile::height(plot, width, letters * PLOT))
            .sum();
        let html = format!(
            "<figure><h2>{}</h2>\n{}<figcaption>{}</figcaption></figure>\n",
            escaped(&chart.title),
            drawn,
            escaped(&chart.caption)
        );
        let heights = vec![high + words + 0.5 * letters];
        let squeezed = false;
        self.drawn.push(&Drawn {
            html,
            heights,
            squeezed,
        });
    }
}

/// The head of the page has it.
pub(in crate::render) fn without_first(report: &Report) -> Report {
    Report {
        blocks: report.blocks.iter().skip(1).cloned().collect(),
    }
}

/// What is said about a table that stands above.
fn without_table(report: &Report) -> Report {
    let blocks = report.blocks.iter();
    let blocks = blocks.filter(|block| !matches!(block, Block::Table(_)));
    Report {
        blocks: blocks.cloned().collect(),
    }
}
