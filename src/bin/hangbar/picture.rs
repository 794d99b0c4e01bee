//! Pictures beside a result: where they go.

use std::fs;
use std::io::{self, IsTerminal};
use std::path::Path;

use hangbar::report::chart::Chart;

use crate::args::Drawn;
use crate::outcome::{Outcome, Status};
use crate::render::names::harmless;
use crate::render::{characters, svg};

/// Writes the picture that is asked for, adds the characters, and ends the command.
pub(crate) fn finish(
    output: Result<String, String>,
    status: Status,
    drawn: &Drawn,
    chart: impl FnOnce() -> Chart,
) -> Outcome {
    let mut outcome = Outcome::of(output, status);
    let has_result = outcome.told.is_empty();
    if !has_result || !drawn.is_wanted() {
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
