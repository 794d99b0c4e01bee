//! The charts: profile with ceiling, what compartments hold, limits against depth, cylinders.

use hangbar::briefing::Briefing;
use hangbar::quantity::{Depth, UnitSystem};
use textwrap::core::display_width;

use super::{Axis, Curve, LINES, Line, Mark, Marks, Point, Shade};

pub(super) mod cylinders;
pub(super) mod limits;
pub(super) mod profile;
pub(super) mod tissues;

/// Columns that the plan's title gets in a picture's.
const TITLE_COLUMNS: usize = 42;
/// Marks of the curves for which no line style is left, in their order.
const MARKS: [Mark; 3] = [Mark::Circle, Mark::Square, Mark::Diamond];

/// Depths as an axis shows them.
fn in_units(depth: Depth, units: UnitSystem) -> f64 {
    match units {
        UnitSystem::Metric => depth.as_m(),
        UnitSystem::Imperial => depth.as_ft(),
    }
}

const fn depth_unit(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Metric => "m",
        UnitSystem::Imperial => "ft",
    }
}

/// The next multiple of a round step that is not less.
fn round_up(value: f64, step: f64) -> f64 {
    (value / step - 1e-9).ceil() * step
}

/// The next multiple of a round step that is not more.
fn round_down(value: f64, step: f64) -> f64 {
    (value / step + 1e-9).floor() * step
}

fn axis(title: impl Into<String>, least: f64, greatest: f64) -> Axis {
    Axis {
        title: title.into(),
        least,
        greatest,
        downward: false,
    }
}

/// An axis of inert gas that has room for the greatest pressure.
fn pressure_axis(title: &str, greatest_bar: f64) -> Axis {
    let step = match greatest_bar {
        low if low <= 4.0 => 0.5,
        middling if middling <= 10.0 => 1.0,
        _ => 2.0,
    };
    axis(title, 0.0, round_up(greatest_bar * 1.04, step))
}

fn run_time_axis(greatest_min: f64) -> Axis {
    axis("run time, minutes", 0.0, round_up(greatest_min, 5.0))
}

/// A name cut to so many columns.
fn short(name: &str, columns: usize) -> String {
    if display_width(name) <= columns {
        return name.to_owned();
    }
    let mut cut = String::new();
    for c in name.chars() {
        if display_width(&cut) + display_width(c.encode_utf8(&mut [0; 4])) >= columns {
            break;
        }
        cut.push(c);
    }
    cut + "…"
}

fn title_of(briefing: &Briefing) -> String {
    let title = briefing.plan.title().unwrap_or("Untitled dive");
    short(title, TITLE_COLUMNS)
}

/// A line without marks.
fn line(name: impl Into<String>, points: Vec<Point>, line: Line, shade: Shade) -> Curve {
    Curve {
        name: name.into(),
        points,
        line: Some(line),
        marks: None,
        shade,
    }
}

/// The n-th curve of a kind: own line and shade, and where the lines are used up marks too.
fn curve(name: String, points: Vec<Point>, index: usize) -> Curve {
    const POINTS_TO_A_MARK: usize = 10;
    let round = index / LINES.len();
    let marks = round.checked_sub(1).map(|round| Marks {
        mark: MARKS[round % MARKS.len()],
        at: points.iter().copied().step_by(POINTS_TO_A_MARK).collect(),
    });
    Curve {
        name,
        points,
        line: Some(LINES[index % LINES.len()]),
        marks,
        shade: Shade::Curve(index),
    }
}

/// Marks without a line.
fn marks(name: impl Into<String>, at: Vec<Point>, mark: Mark, shade: Shade) -> Curve {
    Curve {
        name: name.into(),
        points: Vec::new(),
        line: None,
        marks: Some(Marks { mark, at }),
        shade,
    }
}
