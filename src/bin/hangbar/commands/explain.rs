//! `hangbar explain`: why each figure is what it is.

use hangbar::explain::{ExplainError, Topic, explain};
use hangbar::report::{self, document};

use crate::args::{ExplainArgs, Format};
use crate::input::work_out;
use crate::outcome::Outcome;
use crate::paper::{columns, wants_colour};
use crate::refusal::Refusal;
use crate::render::json;
use crate::render::terminal::Terminal;

pub(super) fn run(args: &ExplainArgs) -> Result<Outcome, Refusal> {
    let briefing = work_out(&args.plan, &args.overrides())?;
    let units = args.shown.units.map_or(briefing.plan.units(), Into::into);
    let explanations = explain(&briefing, &topics(args), units).map_err(|error| refusal(&error))?;
    let output = match args.shown.format {
        Format::Text => {
            let report = report::explain(&briefing, &explanations, units);
            let colour = wants_colour(args.shown.color);
            Ok(Terminal::draw(&report, colour, columns(&args.shown.width)))
        }
        Format::Json => json::pretty(document::Explain::new(&briefing, &explanations)),
    };
    Ok(Outcome::of(output, briefing.verdict().into()))
}

fn topics(args: &ExplainArgs) -> Vec<Topic> {
    let interval = args.interval.then_some(Topic::Interval);
    let limit = args.limit.then_some(Topic::Limit);
    let stops = args.stop.iter().copied().map(Topic::Stop);
    let names = args.gas.iter().map(|name| name.trim().to_owned());
    interval
        .into_iter()
        .chain(limit)
        .chain(stops)
        .chain(names.map(Topic::Gas))
        .chain(args.fly.then_some(Topic::Flying))
        .collect()
}

/// Which option asked for what is not there.
fn refusal(error: &ExplainError) -> Refusal {
    let message = error.to_string();
    let option = match error {
        ExplainError::NoInterval => "--interval",
        ExplainError::NoStop { .. } => "--stop",
        ExplainError::NoDiver { .. } => "--gas",
        _ => return Refusal::Dive(message),
    };
    Refusal::Option {
        option,
        message,
        accepted: None,
    }
}
