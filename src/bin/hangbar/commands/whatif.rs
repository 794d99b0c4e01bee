//! `hangbar whatif`: what happens when the dive does not go to plan.

use hangbar::report::{self, Change, ChangesAsked, document};

use crate::args::{Format, WhatIfArgs};
use crate::input::work_out;
use crate::outcome::Outcome;
use crate::paper::{columns, wants_colour};
use crate::refusal::Refusal;
use crate::render::json;
use crate::render::terminal::Terminal;

pub(super) fn run(args: &WhatIfArgs) -> Result<Outcome, Refusal> {
    let briefing = work_out(&args.plan, &args.on_the_day.overrides())?;
    let plan = &briefing.plan;
    let asked = ChangesAsked {
        late: args.late.clone(),
        deeper: args.deeper.clone(),
        harder_pct: args.harder.clone(),
    };
    let deviations = asked
        .deviations(plan.units())
        .map_err(|error| Refusal::Dive(error.to_string()))?;
    let changes = deviations.into_iter();
    let changes: Vec<Change> = changes.map(|one| Change::of(plan, one)).collect();
    let planned = briefing.outcome();
    let output = match args.shown.format {
        Format::Text => {
            let units = args.shown.units.map_or(plan.units(), Into::into);
            let report = report::what_if(&briefing, &planned, &changes, units);
            let colour = wants_colour(args.shown.color);
            Ok(Terminal::draw(&report, colour, columns(&args.shown.width)))
        }
        Format::Json => json::pretty(document::WhatIf::new(&briefing, &planned, &changes)),
    };
    Ok(Outcome::of(output, briefing.verdict().into()))
}
