//! `hangbar limits`: no-stop limits over a range of depths.

use hangbar::plan_file::without_file;
use hangbar::report::{self, LimitSheet, LimitsAsked, LimitsError, chart, document};

use crate::args::{LimitsArgs, TableFormat};
use crate::input::read_plan;
use crate::outcome::{Outcome, Status};
use crate::paper::{columns, wants_colour};
use crate::picture;
use crate::refusal::Refusal;
use crate::render::terminal::Terminal;
use crate::render::{csv, json};

pub(super) fn run(args: &LimitsArgs) -> Result<Outcome, Refusal> {
    let overrides = args.overrides();
    let asked = LimitsAsked {
        gases: args.gas.clone(),
        factors: args.factors.clone(),
        from: args.from,
        to: args.to,
        step: args.step,
        oxygen_limit: args.oxygen_limit,
    };
    let shown = args.shown.units.map(Into::into);
    // Metric rates without a plan, whatever the units shown: a way of showing must not change a
    // dive.
    let (units, sheet) = if let Some(path) = &args.plan {
        let plan = read_plan(path, &overrides)?;
        let units = shown.unwrap_or(plan.units());
        (units, LimitSheet::work_out(&plan, &asked, units))
    } else {
        let without = without_file(&overrides).map_err(Refusal::Plan)?;
        let units = shown.unwrap_or_default();
        let sheet = LimitSheet::by_rules(&without.rules, without.arrival, &asked, units);
        (units, sheet)
    };
    let sheet = sheet.map_err(refusal)?;
    let output = match args.shown.format {
        TableFormat::Text => {
            let report = report::limits(&sheet, units);
            let colour = wants_colour(args.shown.color);
            Ok(Terminal::draw(&report, colour, columns(&args.shown.width)))
        }
        TableFormat::Csv => csv::limits(document::Limits::try_from(&sheet)),
        TableFormat::Json => json::pretty(document::Limits::try_from(&sheet)),
    };
    Ok(picture::finish(output, Status::Go, &args.drawn, || {
        chart::limits(&sheet, units)
    }))
}

/// Which option asked for what there is no table of.
fn refusal(error: LimitsError) -> Refusal {
    let (option, message, accepted) = match error {
        LimitsError::FromBelowTo => (
            "--from",
            "--from is deeper than --to".to_owned(),
            "a --from no deeper than --to",
        ),
        LimitsError::TooManyDepths => (
            "--step",
            error.to_string(),
            "a larger --step, or --from and --to closer together",
        ),
        _ => return Refusal::Dive(error.to_string()),
    };
    Refusal::Option {
        option,
        message,
        accepted: Some(accepted.to_owned()),
    }
}
