//! `hangbar debrief`: a dive as it was, from what was written down of it.

use std::path::{Path, PathBuf};

use hangbar::debrief::{
    Debrief, DebriefError, Debriefing, NextAsked, NextWritten, Wait, write_next,
};
use hangbar::plan_file::{Overrides, read_pencil, read_with};
use hangbar::quantity::show::{list, minutes_down, whole_up};
use hangbar::record::{RecordFormat, read_csv, read_uddf};
use hangbar::report::{self, chart, document};

use crate::args::{DebriefArgs, DrawnOf, Format};
use crate::input::{Opened, read_text};
use crate::outcome::{Outcome, Status};
use crate::paper::{columns, wants_colour};
use crate::picture;
use crate::refusal::Refusal;
use crate::render::json;
use crate::render::names::{file_name, harmless};
use crate::render::terminal::Terminal;
use crate::written::{is_free, write_new};

pub(super) fn run(args: &DebriefArgs) -> Outcome {
    match run_on(args) {
        Ok(outcome) => outcome,
        Err((refusal, file)) => {
            let outcome = refusal.outcome(Path::new(&file));
            let plan = Some(file.into());
            Outcome { plan, ..outcome }
        }
    }
}

/// Why there is no result, and in which file.
type Refused = (Refusal, String);

fn run_on(args: &DebriefArgs) -> Result<Outcome, Refused> {
    let plan_name = args.plan.to_string_lossy().into_owned();
    let of_the_plan = |refusal| (refusal, plan_name.clone());
    let asked = next_asked(args).map_err(of_the_plan)?;
    let text = read_text(&args.plan).map_err(of_the_plan)?;
    let debrief = debriefed(args, &text)?;
    let next = match &asked {
        Some((path, asked)) => {
            let next = write_next(&debrief, asked, &text);
            let next = next.map_err(|error| of_the_plan(Refusal::from(error)))?;
            Some((path, next))
        }
        None => None,
    };
    let mut outcome = shown(args, &debrief);
    if let Some((path, next)) = next.filter(|_| outcome.told.is_empty()) {
        let written = write_new(path, &next.text);
        written.map_err(|message| of_the_plan(of_next(&message, NEW_FILE)))?;
        outcome.errors.push_str(&words(path, &next));
    }
    Ok(outcome)
}

/// What is said of the plan that was written.
fn words(path: &Path, next: &NextWritten) -> String {
    let file = file_name(path);
    let minutes = minutes_down(next.interval);
    let mut words = format!(
        "note: wrote {file}, {minutes} min after the last of them was back. Depth, time and fills \
         are those of this dive: put them right, then brief it.\n"
    );
    for (name, cns_pct) in &next.more_oxygen {
        words.push_str(&format!(
            "caution: {} begins with {} % CNS, more than the next plan knows: a dive is told there on \
             its leanest gas.\n",
            harmless(name),
            whole_up(*cns_pct)
        ));
    }
    if !next.kept.is_empty() {
        let names = harmless(&list(&next.kept));
        words.push_str(&format!(
            "caution: {names}: the planned sac stays, what was breathed is too little to believe.\n"
        ));
    }
    words
}

/// What `--write-next` takes.
const NEW_FILE: &str = "the name of a file that is not there yet";

fn of_next(message: &str, accepted: &str) -> Refusal {
    Refusal::Option {
        option: "--write-next",
        message: message.to_owned(),
        accepted: Some(accepted.to_owned()),
    }
}

fn next_asked(args: &DebriefArgs) -> Result<Option<(PathBuf, NextAsked)>, Refusal> {
    let Some(path) = &args.write_next else {
        return Ok(None);
    };
    if path
        .extension()
        .is_none_or(|extension| !extension.eq_ignore_ascii_case("toml"))
    {
        let message = format!("{} is no name for a plan", file_name(path));
        return Err(of_next(&message, "a name that ends in .toml"));
    }
    is_free(path).map_err(|message| of_next(&message, NEW_FILE))?;
    let wait = match (args.interval, args.next_splash) {
        (Some(interval), _) => Wait::Interval(interval),
        (None, Some(splash)) => Wait::Splash(splash),
        (None, None) => {
            let message = "nobody says when the next dive begins";
            let accepted = "--interval \"75 min\", or --next-splash 13:50";
            return Err(of_next(message, accepted));
        }
    };
    let absent = args.absent.clone();
    Ok(Some((path.clone(), NextAsked { wait, absent })))
}

fn shown(args: &DebriefArgs, debrief: &Debrief) -> Outcome {
    let units = debrief.plan().units();
    let units = args.shown.units.map_or(units, Into::into);
    let output = match args.shown.format {
        Format::Text => {
            let report = report::debrief(debrief, units);
            let colour = wants_colour(args.shown.color);
            Ok(Terminal::draw(&report, colour, columns(&args.shown.width)))
        }
        Format::Json => json::pretty(document::Debrief::new(debrief)),
    };
    let status = if debrief.is_no_go() {
        Status::NoGo
    } else {
        Status::Go
    };
    picture::finish(output, status, &args.drawn, || match args.draw {
        DrawnOf::Profile => chart::debriefed(debrief, units),
        DrawnOf::Breathing => chart::breathing(debrief, units),
    })
}

/// The debrief, or why there is none and in which file.
fn debriefed(args: &DebriefArgs, text: &str) -> Result<Debrief, Refused> {
    let plan_name = args.plan.to_string_lossy().into_owned();
    let plan = read_with(text, &Overrides::default());
    let plan = plan.map_err(|errors| (Refusal::Plan(errors), plan_name.clone()))?;
    let refused = |error: DebriefError| {
        let file = error
            .file()
            .map_or_else(|| plan_name.clone(), str::to_owned);
        (Refusal::from(error), file)
    };
    let mut debriefing = Debriefing::of(plan).map_err(refused)?;
    for (index, record) in args.records.iter().enumerate() {
        if args.records[..index]
            .iter()
            .any(|other| other.path == record.path)
        {
            let message = "the record is named twice".to_owned();
            let file = record.path.to_string_lossy().into_owned();
            return Err((Refusal::Dive(message), file));
        }
    }
    for record in &args.records {
        let file = file_name(&record.path);
        let taken = take(&mut debriefing, record.name.as_deref(), &record.path, &file);
        taken.map_err(|refusal| (refusal, record.path.to_string_lossy().into_owned()))?;
    }
    debriefing.end().map_err(refused)
}

fn take(
    debriefing: &mut Debriefing,
    name: Option<&str>,
    path: &Path,
    file: &str,
) -> Result<(), Refusal> {
    let opened = Opened::new(path)?;
    let logs = match opened.format()? {
        RecordFormat::Pencil => {
            if name.is_some() {
                return Err(Refusal::Dive(
                    "a pencil log names its divers itself; accepted: the file alone".to_owned(),
                ));
            }
            let text = opened.text()?;
            let logs = read_pencil(&text, debriefing.plan()).map_err(Refusal::Plan)?;
            for log in &logs {
                debriefing.pencilled(file, log)?;
            }
            return Ok(());
        }
        RecordFormat::Csv => read_csv(opened.stream()),
        RecordFormat::Uddf => read_uddf(opened.stream()),
    };
    for log in &logs.map_err(|error| Refusal::Record(Box::new(error)))? {
        debriefing.sampled(file, name, log)?;
    }
    Ok(())
}
