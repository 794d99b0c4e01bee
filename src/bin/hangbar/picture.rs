//! Pictures beside a result: where they go.

use std::io::{self, IsTerminal};
use std::path::Path;

use hangbar::report::chart::Chart;

use crate::args::Drawn;
use crate::outcome::{Outcome, Status};
use crate::render::names::harmless;
use crate::render::{characters, svg};
use crate::written::replace;

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

fn write(path: &Path, chart: &Chart) -> Result<(), String> {
    if path.extension().is_none_or(|extension| extension != "svg") {
        let shown = harmless(&path.to_string_lossy());
        return Err(format!(
            "{shown} is no name for a picture; accepted: a name that ends in .svg"
        ));
    }
    replace(path, &svg::render(chart)?)
}
