//! `hangbar debrief`: a dive as it was, from what was written down of it.

use std::path::Path;

use hangbar::debrief::{Debrief, DebriefError, Debriefing};
use hangbar::plan_file::{Overrides, read_pencil};
use hangbar::record::{RecordFormat, read_csv, read_uddf};
use hangbar::report::{self, chart, document};

use crate::args::{DebriefArgs, DrawnOf, Format};
use crate::input::{Opened, read_plan};
use crate::outcome::{Outcome, Status};
use crate::paper::{columns, wants_colour};
use crate::picture;
use crate::refusal::Refusal;
use crate::render::json;
use crate::render::names::file_name;
use crate::render::terminal::Terminal;

pub(super) fn run(args: &DebriefArgs) -> Outcome {
    let debrief = match debriefed(args) {
        Ok(debrief) => debrief,
        Err((refusal, file)) => {
            let outcome = refusal.outcome(Path::new(&file));
            let plan = Some(file.into());
            return Outcome { plan, ..outcome };
        }
    };
    let units = debrief.plan().units();
    let units = args.shown.units.map_or(units, Into::into);
    let output = match args.shown.format {
        Format::Text => {
            let report = report::debrief(&debrief, units);
            let colour = wants_colour(args.shown.color);
            Ok(Terminal::draw(&report, colour, columns(&args.shown.width)))
        }
        Format::Json => json::pretty(document::Debrief::new(&debrief)),
    };
    let status = if debrief.is_no_go() {
        Status::NoGo
    } else {
        Status::Go
    };
    picture::finish(output, status, &args.drawn, || match args.draw {
        DrawnOf::Profile => chart::debriefed(&debrief, units),
        DrawnOf::Breathing => chart::breathing(&debrief, units),
    })
}

/// The debrief, or why there is none and in which file.
fn debriefed(args: &DebriefArgs) -> Result<Debrief, (Refusal, String)> {
    let plan_name = args.plan.to_string_lossy().into_owned();
    let of_the_plan = |refusal| (refusal, plan_name.clone());
    let plan = read_plan(&args.plan, &Overrides::default()).map_err(of_the_plan)?;
    let refused = |error: DebriefError| {
        let file = error
            .file()
            .map_or_else(|| plan_name.clone(), str::to_owned);
        (Refusal::from(error), file)
    };
    let mut debriefing = Debriefing::of(plan).map_err(refused)?;
    for record in &args.records {
        let file = file_name(&record.path);
        take(&mut debriefing, record.name.as_deref(), &record.path, &file).map_err(|refusal| {
            match refusal {
                Refusal::Debrief(error) => refused(*error),
                refusal => (refusal, record.path.to_string_lossy().into_owned()),
            }
        })?;
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
