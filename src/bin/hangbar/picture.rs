//! Pictures: one description of a chart, drawn as an SVG file or in characters.

use std::fs;
use std::io::{self, IsTerminal};
use std::path::Path;

mod characters;
mod charts;
mod svg;

pub(crate) use charts::{compartment_chart, cylinder_chart, limits_chart, profile_chart};

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

/// Points in order, joined by a line, marked, or both.
#[derive(Debug)]
pub(crate) struct Curve {
    pub(crate) name: String,
    pub(crate) points: Vec<(f64, f64)>,
    pub(crate) line: Option<Line>,
    pub(crate) mark: Option<Mark>,
    /// Every how many points the mark stands.
    pub(crate) mark_every: usize,
    /// Index of the shade; lines and marks tell curves apart without it.
    pub(crate) shade: usize,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Line {
    Solid,
    Thin,
    LongDash,
    ShortDash,
    Dots,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Mark {
    Circle,
    Triangle,
    Cross,
    Ring,
}

#[derive(Debug)]
pub(crate) struct Label {
    pub(crate) at: (f64, f64),
    pub(crate) text: String,
    pub(crate) side: Side,
}

/// Where words stand beside their point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    Right,
    Left,
}

/// Line styles in the order in which curves of one kind get them.
pub(crate) const LINES: [Line; 4] = [Line::Solid, Line::LongDash, Line::Dots, Line::ShortDash];
/// Marks in the order in which curves of one kind get them.
pub(crate) const MARKS: [Mark; 4] = [Mark::Circle, Mark::Triangle, Mark::Cross, Mark::Ring];

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
