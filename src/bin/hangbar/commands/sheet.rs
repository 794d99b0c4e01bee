//! `hangbar sheet`: what is printed and taken to the rail.

use std::path::{Path, PathBuf};

use hangbar::day::{Day, plan_day, verdict};
use hangbar::plan::FlightTime;
use hangbar::plan_file::Overrides;
use hangbar::quantity::{Time, UnitSystem};
use hangbar::report::chart::{self, Chart, TraceChart};
use hangbar::report::{self, CompartmentChoice, FlyingShown, Part, Report, Topic, TracedDive};

use super::day::{home_of, read_day};
use crate::args::{PaperSize, SheetArgs};
use crate::input::work_out;
use crate::outcome::{Outcome, Status};
use crate::refusal::Refusal;
use crate::render::html::{self, Drawing, Form, Paper};
use crate::render::names::harmless;
use crate::render::terminal::{Terminal, WIDEST};
use crate::written::replace;

/// Pieces that the profile is asked for in; it is drawn in finer ones.
const STEP: Time = Time::from_min(1.0);

pub(super) fn run(args: &SheetArgs) -> Outcome {
    match args.plans.as_slice() {
        [plan] => one(args, plan).unwrap_or_else(|refusal| refusal.outcome(plan)),
        plans => several(args, plans),
    }
}

/// A page, or what else is asked for of a dive.
struct Page {
    parts: Vec<Part>,
    chart: Chart,
    place: String,
}

fn one(args: &SheetArgs, plan: &Path) -> Result<Outcome, Refusal> {
    check_output(args)?;
    for (option, is_given) in [
        ("--interval", !args.hours.interval.is_empty()),
        ("--home-by", args.hours.home_by.is_some()),
    ] {
        if is_given {
            return Err(refused(
                option,
                "one plan is no day",
                "it with the plans of a day",
            ));
        }
    }
    let briefing = work_out(plan, &args.overrides())?;
    let units = args.units.map_or(briefing.plan.units(), Into::into);
    let page = Page {
        parts: report::brief_in_parts(&briefing, units),
        chart: profile(&briefing, units)?,
        place: String::new(),
    };
    finish(args, &[page], briefing.verdict().into())
}

fn several(args: &SheetArgs, plans: &[PathBuf]) -> Outcome {
    let checked = check_output(args).and_then(|()| of_a_day(args));
    let flight = match checked {
        Ok(flight) => flight,
        Err(refusal) => return refusal.of_the_day(),
    };
    let day = match read_day(plans, &args.overrides_of_each()) {
        Ok(day) => day,
        Err((refusal, plan)) => return refusal.outcome(&plan),
    };
    let told = plan_day(day, &args.hours.interval, flight)
        .map_err(Refusal::from)
        .and_then(|day| pages(args, &day));
    told.unwrap_or_else(|refusal| refusal.of_the_day())
}

/// The flight after a day, and that nothing is asked for which one plan alone takes.
fn of_a_day(args: &SheetArgs) -> Result<Option<FlightTime>, Refusal> {
    let one_plan = args.on_the_day.overrides();
    if one_plan != Overrides::default() {
        let message = "what differs on the day is said of one plan, and here are several";
        let accepted = "the plans of a day as their files have them";
        return Err(refused(args.on_the_day.first_given(), message, accepted));
    }
    let flight = args.flight.fly_at.as_deref().map(str::parse::<FlightTime>);
    flight.transpose().map_err(|error| Refusal::Option {
        option: "--fly-at",
        message: error.to_string(),
        accepted: Some("a time of day, as 18:00 or 18:00+1".to_owned()),
    })
}

fn pages(args: &SheetArgs, day: &Day) -> Result<Outcome, Refusal> {
    let home = home_of(args.hours.home_by, day)?;
    let home = home.as_ref();
    let units = day.dives[0].briefing.plan.units();
    let units = args.units.map_or(units, Into::into);
    let mut pages = Vec::new();
    if form(args) == Form::Sheet {
        pages.push(Page {
            parts: report::day_in_parts(day, home, FlyingShown::InShort, units),
            chart: chart::day(day, units),
            place: String::new(),
        });
    }
    for (number, dive) in (1_usize..).zip(&day.dives) {
        pages.push(Page {
            parts: report::brief_of_a_day_in_parts(day, dive, home, units),
            chart: profile(&dive.briefing, units)?,
            place: format!("dive {number} of {}", day.dives.len()),
        });
    }
    finish(args, &pages, verdict(day, home).into())
}

fn profile(briefing: &hangbar::briefing::Briefing, units: UnitSystem) -> Result<Chart, Refusal> {
    let dive = TracedDive::new(briefing, STEP, CompartmentChoice::usual())
        .map_err(|error| Refusal::Dive(error.to_string()))?;
    Ok(chart::trace(&dive.finely(), TraceChart::Profile, units))
}

const fn form(args: &SheetArgs) -> Form {
    if args.slate {
        Form::Slate
    } else if args.skipper {
        Form::Skipper
    } else {
        Form::Sheet
    }
}

fn finish(args: &SheetArgs, pages: &[Page], status: Status) -> Result<Outcome, Refusal> {
    let paper = match args.paper {
        None => Paper::Any,
        Some(PaperSize::A4) => Paper::A4,
        Some(PaperSize::Letter) => Paper::Letter,
    };
    let drawings: Vec<Drawing<'_>> = pages
        .iter()
        .map(|page| Drawing {
            parts: &page.parts,
            chart: &page.chart,
            place: &page.place,
        })
        .collect();
    let verdict = verdict_line(pages);
    let html = html::printed(verdict.trim_end(), form(args), paper, &drawings);
    let Some(path) = &args.output else {
        return Ok(Outcome::of(Ok(html), status));
    };
    replace(path, &html).map_err(|message| Refusal::Option {
        option: "--output",
        message,
        accepted: None,
    })?;
    let mut outcome = Outcome::of(Ok(verdict), status);
    let shown = harmless(&path.to_string_lossy());
    outcome.errors = format!("note: wrote the sheet to {shown}\n");
    Ok(outcome)
}

/// `GO  Kittiwake Wall, two ledges`, as every briefing ends; of a day the day's.
fn verdict_line(pages: &[Page]) -> String {
    let verdicts = pages.iter().flat_map(|page| &page.parts);
    let first = verdicts
        .filter(|part| matches!(part.topic, Topic::DayVerdict | Topic::Verdict))
        .find_map(|part| part.report.blocks.first().cloned());
    let report = Report {
        blocks: first.into_iter().collect(),
    };
    Terminal::draw(&report, false, WIDEST)
}

/// Before anything is worked out: what is printed is no other file by its name.
fn check_output(args: &SheetArgs) -> Result<(), Refusal> {
    let Some(path) = &args.output else {
        return Ok(());
    };
    let shown = harmless(&path.to_string_lossy());
    let accepted = "a name that ends in .html";
    let ending = path.extension();
    if ending.is_none_or(|ending| !ending.eq_ignore_ascii_case("html")) {
        let message = format!("{shown} is no name for a sheet");
        return Err(refused("--output", &message, accepted));
    }
    let there = path.canonicalize().ok();
    let is_plan = |plan: &PathBuf| there.is_some() && plan.canonicalize().ok() == there;
    if args.plans.iter().any(is_plan) {
        let message = format!("{shown} is the plan itself, and is left as it is");
        return Err(refused("--output", &message, accepted));
    }
    Ok(())
}

fn refused(option: &'static str, message: &str, accepted: &str) -> Refusal {
    Refusal::Option {
        option,
        message: message.to_owned(),
        accepted: Some(accepted.to_owned()),
    }
}
