//! `hangbar trace`: the tissues through a dive.

use hangbar::report::chart::{self, TraceChart};
use hangbar::report::{self, CompartmentChoice, TracedDive, document};

use crate::args::{Against, TableFormat, TraceArgs};
use crate::input::work_out;
use crate::outcome::Outcome;
use crate::paper::{columns, wants_colour};
use crate::picture;
use crate::refusal::Refusal;
use crate::render::terminal::Terminal;
use crate::render::{csv, json};

pub(super) fn run(args: &TraceArgs) -> Result<Outcome, Refusal> {
    let (choice, drawn) = chosen(args)?;
    let briefing = work_out(&args.plan, &args.on_the_day.overrides())?;
    let dive = TracedDive::new(&briefing, args.step, choice)
        .map_err(|error| Refusal::Dive(error.to_string()))?;
    let units = args.shown.units.map_or(briefing.plan.units(), Into::into);
    let document = || document::Trace::new(&briefing, dive.samples());
    let output = match args.shown.format {
        TableFormat::Text => {
            let report = report::trace(&dive, units);
            let colour = wants_colour(args.shown.color);
            Ok(Terminal::draw(&report, colour, columns(&args.shown.width)))
        }
        TableFormat::Csv => csv::trace(document()),
        TableFormat::Json => json::pretty(document()),
    };
    let status = briefing.verdict().into();
    Ok(picture::finish(output, status, &args.drawn, || {
        chart::trace(&dive.finely(), drawn, units)
    }))
}

/// The compartments to show, and what a picture is of.
fn chosen(args: &TraceArgs) -> Result<(CompartmentChoice, TraceChart), Refusal> {
    let asked = args.compartment.as_slice();
    if asked.is_empty() {
        return Ok((CompartmentChoice::usual(), TraceChart::Profile));
    }
    let choice = CompartmentChoice::of(asked).map_err(|error| Refusal::Dive(error.to_string()))?;
    let drawn = match args.against {
        None | Some(Against::Time) => TraceChart::OverTime,
        Some(Against::Ambient) => TraceChart::AgainstAmbient,
    };
    if args.drawn.is_wanted()
        && let Err(error) = drawn.check(&choice)
    {
        return Err(Refusal::Dive(match drawn {
            TraceChart::AgainstAmbient => format!(
                "--against ambient draws one compartment under its own lines; {} are asked for",
                error.asked
            ),
            TraceChart::Profile | TraceChart::OverTime => error.to_string(),
        }));
    }
    Ok((choice, drawn))
}
