//! `hangbar whatif`: the long form of what happens when the dive does not go to plan.

use hangbar::report::{Change, what_if};
use hangbar::whatif::{Deviation, deviate};

use crate::args::{Format, WhatIfArgs};
use crate::screen::Screen;
use crate::{Outcome as Ended, Refusal, finished, refused, wants_colour, whatif_json, work_out};

/// More rows than this are no table.
const MOST_ROWS: usize = 30;

pub(crate) fn run(args: WhatIfArgs) -> Ended {
    let colour = wants_colour(args.shown.color);
    let chosen = chosen(&args);
    let overrides = args.on_the_day.overrides();
    let briefing = match work_out(&args.plan, &overrides) {
        Ok(briefing) => briefing,
        Err(refusal) => return refused(&refusal, &args.plan),
    };
    let plan = &briefing.plan;
    let deviations = match chosen {
        Some(deviations) => deviations,
        None => Deviation::usual(plan.units()).to_vec(),
    };
    if deviations.len() > MOST_ROWS {
        let message = format!(
            "{} changes are asked for; at most {MOST_ROWS}",
            deviations.len()
        );
        return refused(&Refusal::Dive(message), &args.plan);
    }
    let rows: Vec<Change> = deviations
        .into_iter()
        .map(|deviation| Change {
            deviation,
            outcome: deviate(plan, &deviation),
        })
        .collect();
    let planned = match deviate(plan, &Deviation::NONE) {
        Ok(planned) => planned,
        Err(error) => return refused(&Refusal::Check(error.to_string()), &args.plan),
    };
    let units = args.shown.units.map_or(plan.units(), Into::into);
    let output = match args.shown.format {
        Format::Text => {
            let report = what_if(&briefing, &planned, &rows, units);
            Ok(Screen::draw(&report, colour, args.shown.width.columns()))
        }
        Format::Json => whatif_json::render(&briefing, &planned, &rows),
    };
    finished(&briefing, output)
}

/// What the command line asks for; late and deeper also together.
fn chosen(args: &WhatIfArgs) -> Option<Vec<Deviation>> {
    if args.late.is_empty() && args.deeper.is_empty() && args.harder.is_empty() {
        return None;
    }
    let mut deviations: Vec<Deviation> = args.late.iter().copied().map(Deviation::late).collect();
    for deeper in args.deeper.iter().copied().map(Deviation::deeper) {
        deviations.push(deeper);
        let both = args.late.iter().map(|late| Deviation {
            late: *late,
            ..deeper
        });
        deviations.extend(both);
    }
    deviations.extend(args.harder.iter().copied().map(Deviation::harder));
    Some(deviations)
}
