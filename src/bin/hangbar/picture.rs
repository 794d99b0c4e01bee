//! Pictures: one description of a chart, drawn as an SVG file or in characters.

use std::fs;
use std::io::{self, IsTerminal};
use std::path::Path;

mod characters;
mod charts;
mod layout;
mod svg;

pub(crate) use charts::cylinders::cylinder_chart;
pub(crate) use charts::limits::limits_chart;
pub(crate) use charts::profile::profile_chart;
pub(crate) use charts::tissues::{path_chart, uptake_chart};

use crate::args::Drawn;
use crate::screen::harmless;
use crate::{Outcome, Status};

/// A chart: curves and marks over two axes with units in their titles.
#[derive(Debug)]
pub(crate) struct Chart {
    /// What is shown.
    pub(crate) title: String,
    /// What one must know to read it, and sources.
    pub(crate) caption: String,
    pub(crate) x: Axis,
    pub(crate) y: Axis,
    pub(crate) curves: Vec<Curve>,
    /// Words beside points.
    pub(crate) labels: Vec<Label>,
}

#[derive(Debug)]
pub(crate) struct Axis {
    pub(crate) title: String,
    pub(crate) least: f64,
    pub(crate) greatest: f64,
    /// Whether it grows downward, as depth does.
    pub(crate) downward: bool,
}

/// A point in the units of the axes.
pub(crate) type Point = (f64, f64);

/// Points in order joined by a line, marks, or both.
#[derive(Debug)]
pub(crate) struct Curve {
    pub(crate) name: String,
    pub(crate) points: Vec<Point>,
    pub(crate) line: Option<Line>,
    pub(crate) marks: Option<Marks>,
    pub(crate) shade: Shade,
}

/// One shape at some points, which need not lie on the line that they belong to.
#[derive(Debug)]
pub(crate) struct Marks {
    pub(crate) mark: Mark,
    pub(crate) at: Vec<Point>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Line {
    Solid,
    LongDash,
    Dots,
    ShortDash,
    DashDot,
    DashDotDot,
    /// Thinner than the others, for what a curve is held against.
    Thin,
    /// As [`Line::Thin`], dashed.
    ThinDash,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Mark {
    Circle,
    Triangle,
    Cross,
    Ring,
    Square,
    Diamond,
    Plus,
    Star,
}

/// Lines and marks tell curves apart; shades only help.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shade {
    /// The n-th of the curves of one kind.
    Curve(usize),
    /// What curves are held against.
    Grey,
}

/// Words that belong to a point; where exactly they stand is found out on drawing.
#[derive(Debug)]
pub(crate) struct Label {
    pub(crate) at: Point,
    pub(crate) text: String,
    pub(crate) side: Side,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    /// Wherever there is room around the point.
    Around,
    /// In a column behind the right ends of the curves, in the order of their heights.
    End,
}

/// Line styles in the order in which curves of one kind get them.
pub(crate) const LINES: [Line; 6] = [
    Line::Solid,
    Line::LongDash,
    Line::Dots,
    Line::ShortDash,
    Line::DashDot,
    Line::DashDotDot,
];

/// Writes the picture that is asked for, adds the characters, and ends the command.
pub(crate) fn finish(
    output: Result<String, serde_json::Error>,
    status: Status,
    drawn: &Drawn,
    chart: impl FnOnce() -> Chart,
) -> Outcome {
    let mut outcome = Outcome {
        status,
        ..Outcome::default()
    };
    match output {
        Ok(output) => outcome.output = output,
        Err(error) => return Outcome::failed(Status::Internal, &error.to_string()),
    }
    if drawn.picture.is_none() && !drawn.chart {
        return outcome;
    }
    let chart = chart();
    if let Some(path) = &drawn.picture
        && let Err(message) = write(path, &chart)
    {
        return Outcome::failed(Status::Unusable, &message);
    }
    if drawn.chart {
        if io::stdout().is_terminal() {
            outcome.output.push('\n');
            outcome.output.push_str(&characters::render(&chart));
        } else {
            let note = "note: no chart in characters: standard output is not a terminal\n";
            outcome.errors.push_str(note);
        }
    }
    outcome
}

/// The whole file or none: written beside it first, then put in its place.
fn write(path: &Path, chart: &Chart) -> Result<(), String> {
    let shown = harmless(&path.to_string_lossy());
    if path.extension().is_none_or(|extension| extension != "svg") {
        return Err(format!(
            "{shown} is no name for a picture; accepted: a name that ends in .svg"
        ));
    }
    let svg = svg::render(chart)?;
    let beside = path.with_extension("svg.part");
    let written = fs::write(&beside, svg).and_then(|()| fs::rename(&beside, path));
    written.map_err(|error| {
        // Nothing may be there to remove.
        let _ = fs::remove_file(&beside);
        format!("cannot write {shown}: {error}")
    })
}
