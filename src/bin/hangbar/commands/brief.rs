//! `hangbar brief`: a dive, read out at the rail.

use hangbar::report::{self, chart, document};

use crate::args::{BriefArgs, Format};
use crate::input::work_out;
use crate::outcome::Outcome;
use crate::paper::{columns, wants_colour};
use crate::picture;
use crate::refusal::Refusal;
use crate::render::json;
use crate::render::terminal::Terminal;

pub(super) fn run(args: &BriefArgs) -> Result<Outcome, Refusal> {
    let briefing = work_out(&args.plan, &args.overrides())?;
    let units = args.shown.units.map_or(briefing.plan.units(), Into::into);
    let output = match args.shown.format {
        Format::Text => {
            let report = if args.short {
                report::short(&briefing, units)
            } else {
                report::brief(&briefing, units)
            };
            let colour = wants_colour(args.shown.color);
            Ok(Terminal::draw(&report, colour, columns(&args.shown.width)))
        }
        Format::Json => json::pretty(document::Briefing::try_from(&briefing)),
    };
    let status = briefing.verdict().into();
    Ok(picture::finish(output, status, &args.drawn, || {
        chart::cylinders(&briefing, units)
    }))
}
