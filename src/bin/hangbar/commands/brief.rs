//! `hangbar brief`: a dive, read out at the rail.

use std::path::Path;

use hangbar::briefing::Briefing;
use hangbar::letters::composed;
use hangbar::plan::Plan;
use hangbar::plan_file::pencil_form;
use hangbar::quantity::{UnitSystem, nearest};
use hangbar::report::{self, Report, chart, document};

use crate::args::{BriefArgs, Format};
use crate::input::work_out;
use crate::outcome::Outcome;
use crate::paper::{columns, wants_colour};
use crate::picture;
use crate::refusal::Refusal;
use crate::render::json;
use crate::render::names::{harmless, is_standard_input};
use crate::render::terminal::Terminal;
use crate::written::{is_free, write_new};

pub(super) fn run(args: &BriefArgs) -> Result<Outcome, Refusal> {
    let briefing = work_out(&args.plan, &args.overrides())?;
    let units = args.shown.units.map_or(briefing.plan.units(), Into::into);
    let output = match args.shown.format {
        Format::Json if args.only.is_some() => {
            let message = "one diver's part is text alone".to_owned();
            let accepted = "--format json has every diver under `divers`, each with its name";
            return Err(refused("--only", message, accepted));
        }
        Format::Text => {
            let report = match &args.only {
                Some(name) => part_of(&briefing, name, units)?,
                None if args.short => report::short(&briefing, units),
                None => report::brief(&briefing, units),
            };
            let colour = wants_colour(args.shown.color);
            Ok(Terminal::draw(&report, colour, columns(&args.shown.width)))
        }
        Format::Json => json::pretty(document::Briefing::try_from(&briefing)),
    };
    let form = args.record.as_deref();
    let form = form.map(|path| form_of(&briefing.plan, path)).transpose()?;
    let status = briefing.verdict().into();
    let mut outcome = picture::finish(output, status, &args.drawn, || {
        chart::cylinders(&briefing, units)
    });
    // Last of all: what is there already cannot be written a second time.
    let has_result = outcome.told.is_empty();
    if let Some((path, form)) = form.filter(|_| has_result) {
        write_new(path, &form)
            .map_err(|message| refused("--record", message, "the name of a new file"))?;
        let shown = harmless(&path.to_string_lossy());
        let note = format!("note: wrote the record form to {shown}\n");
        outcome.errors.push_str(&note);
    }
    Ok(outcome)
}

/// One diver's part of the briefing.
fn part_of(briefing: &Briefing, name: &str, units: UnitSystem) -> Result<Report, Refusal> {
    let name = composed(name.trim());
    report::only(briefing, &name, units).ok_or_else(|| {
        let shown = harmless(&name);
        let divers = briefing.plan.divers();
        if divers.is_empty() {
            let message = format!("nobody is called \"{shown}\": the plan has no diver");
            return refused("--only", message, "a plan with a [[diver]]");
        }
        let names: Vec<&str> = divers.iter().map(|diver| diver.name.as_str()).collect();
        let meant = nearest(&name, names.iter().copied());
        let meant = meant.map_or_else(String::new, |meant| format!("did you mean {meant}? "));
        let message = format!("nobody is called \"{shown}\"");
        refused(
            "--only",
            message,
            &format!("{meant}one of {}", names.join(", ")),
        )
    })
}

/// The record's form, where there are people to fill it in and a file to hold it.
fn form_of<'p>(plan: &Plan, path: &'p Path) -> Result<(&'p Path, String), Refusal> {
    let accepted = "the name of a new file that ends in .toml";
    if is_standard_input(path) {
        let message = "the record form cannot go to standard output, where the briefing goes";
        return Err(refused("--record", message.to_owned(), accepted));
    }
    let ending = path.extension();
    if ending.is_none_or(|ending| !ending.eq_ignore_ascii_case("toml")) {
        let shown = harmless(&path.to_string_lossy());
        let message = format!("{shown} is no name for a record form");
        return Err(refused("--record", message, accepted));
    }
    if plan.divers().is_empty() {
        let message = "the plan has no [[diver]], so nobody to fill in a record";
        return Err(refused(
            "--record",
            message.to_owned(),
            "a plan with the divers who dive",
        ));
    }
    is_free(path).map_err(|message| refused("--record", message, "the name of a new file"))?;
    Ok((path, pencil_form(plan)))
}

fn refused(option: &'static str, message: String, accepted: &str) -> Refusal {
    Refusal::Option {
        option,
        message,
        accepted: Some(accepted.to_owned()),
    }
}
