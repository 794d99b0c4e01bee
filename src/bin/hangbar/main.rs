//! The `hangbar` command: parses, calls the library, prints once.

use std::fs;
use std::io::{self, IsTerminal, Read, Write};
use std::path::Path;
use std::process::ExitCode;

use clap::Parser;
use hangbar::briefing::{Briefing, BriefingError, brief};
use hangbar::finding::Verdict;
use hangbar::plan::Plan;
use hangbar::plan_file::{Overrides, PlanErrors, read_with};
use hangbar::report;

mod args;
mod check;
mod errors_json;
mod explain;
mod json;
mod limits;
mod picture;
mod screen;
mod trace;
mod trouble_json;
mod whatif;
mod whatif_json;

use args::{BriefArgs, Cli, Color, Command, Format};
use errors_json::{ErrorRow, JsonWanted};
use screen::Screen;

/// Every way to end, from best to worst.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
enum Status {
    /// No no-go finding.
    #[default]
    Go,
    /// At least one.
    NoGo,
    /// The plan or the command cannot be used.
    Unusable,
    /// An internal check failed.
    Internal,
}

impl Status {
    const fn code(self) -> u8 {
        match self {
            Self::Go => 0,
            Self::NoGo => 1,
            Self::Unusable => 2,
            Self::Internal => 3,
        }
    }
}

/// What a command prints and how it ends.
#[derive(Debug, Default)]
struct Outcome {
    output: String,
    errors: String,
    status: Status,
    /// The errors once more, for a document of them; empty where there is a result.
    told: Vec<ErrorRow>,
}

impl Outcome {
    /// No result, for a reason that has no place in a plan.
    fn failed(status: Status, message: &str) -> Self {
        Self {
            errors: format!("error: {message}\n"),
            status,
            told: vec![ErrorRow::without_place(message.to_owned())],
            ..Self::default()
        }
    }
}

/// Why a plan has no briefing.
#[derive(Debug)]
enum Refusal {
    /// The file cannot be read.
    Unreadable(String),
    /// A folder in which no plan is.
    NoPlan,
    /// The plan is refused.
    Plan(PlanErrors),
    /// An option does not fit.
    Option {
        option: &'static str,
        message: String,
        accepted: Option<String>,
    },
    /// The dive cannot be scheduled.
    Dive(String),
    /// The result contradicts itself.
    Check(String),
}

impl Refusal {
    const fn status(&self) -> Status {
        match self {
            Self::Unreadable(_)
            | Self::NoPlan
            | Self::Plan(_)
            | Self::Option { .. }
            | Self::Dive(_) => Status::Unusable,
            Self::Check(_) => Status::Internal,
        }
    }

    /// Each error by itself, for scripts.
    fn rows(&self, file: &str) -> Vec<ErrorRow> {
        match self {
            Self::Plan(errors) => errors.problems().iter().map(ErrorRow::of).collect(),
            Self::Option {
                option,
                message,
                accepted,
            } => vec![ErrorRow::of_option(
                option,
                screen::harmless(message),
                accepted.clone(),
            )],
            Self::Unreadable(_) | Self::NoPlan | Self::Dive(_) | Self::Check(_) => {
                vec![ErrorRow::without_place(self.message(file))]
            }
        }
    }

    /// The error of a refusal that is only one.
    fn message(&self, file: &str) -> String {
        match self {
            Self::Unreadable(message) => format!("cannot read {file}: {message}"),
            Self::NoPlan => format!("no plan (.toml file) in folder {file}"),
            Self::Plan(errors) => errors.to_string(),
            Self::Option { message, .. } | Self::Dive(message) | Self::Check(message) => {
                screen::harmless(message)
            }
        }
    }

    fn render(&self, file: &str) -> String {
        match self {
            Self::Plan(errors) => errors.render(file),
            Self::Unreadable(_) | Self::NoPlan => format!("error: {}\n", self.message(file)),
            Self::Dive(_) | Self::Check(_) => {
                format!("error: {}\n --> {file}\n", self.message(file))
            }
            Self::Option {
                option, accepted, ..
            } => {
                let accepted = accepted.as_ref();
                let accepted = accepted.map(|accepted| format!("  = accepted: {accepted}\n"));
                format!(
                    "error: {}\n --> option {option}\n{}",
                    self.message(file),
                    accepted.unwrap_or_default()
                )
            }
        }
    }
}

fn main() -> ExitCode {
    let cli = Cli::parse();
    let json = JsonWanted::by(&cli.command);
    let mut outcome = match cli.command {
        Command::Brief(args) => run_brief(args),
        Command::WhatIf(args) => whatif::run(args),
        Command::Limits(args) => limits::run(args),
        Command::Trace(args) => trace::run(args),
        Command::Explain(args) => explain::run(args),
        Command::Check(args) => {
            let colour = wants_colour(args.color);
            check::run(&args.paths, args.format, colour)
        }
    };
    if let Some(json) = json {
        json.add_to(&mut outcome);
    }
    let mut status = outcome.status;
    // Nobody is left to tell where standard error itself is gone.
    let _ = io::stderr().write_all(outcome.errors.as_bytes());
    if let Err(error) = print(&outcome.output)
        && error.kind() != io::ErrorKind::BrokenPipe
    {
        let _ = writeln!(io::stderr(), "error: cannot write the result: {error}");
        status = status.max(Status::Unusable);
    }
    ExitCode::from(status.code())
}

fn print(text: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()
}

fn run_brief(args: BriefArgs) -> Outcome {
    let colour = wants_colour(args.shown.color);
    let overrides = args.on_the_day.overrides();
    let briefing = match work_out(&args.plan, &overrides) {
        Ok(briefing) => briefing,
        Err(refusal) => return refused(&refusal, &args.plan),
    };
    let units = args.shown.units.map_or(briefing.plan.units(), Into::into);
    let output = match args.shown.format {
        Format::Text => {
            let report = if args.short {
                report::short(&briefing, units)
            } else {
                report::brief(&briefing, units)
            };
            Ok(Screen::draw(&report, colour, args.shown.width.columns()))
        }
        Format::Json => json::render(&briefing),
    };
    picture::finish(output, verdict_status(&briefing), &args.drawn, || {
        picture::cylinder_chart(&briefing, units)
    })
}

fn refused(refusal: &Refusal, plan: &Path) -> Outcome {
    let file = shown(plan);
    Outcome {
        errors: refusal.render(&file),
        status: refusal.status(),
        told: refusal.rows(&file),
        ..Outcome::default()
    }
}

fn verdict_status(briefing: &Briefing) -> Status {
    match briefing.verdict() {
        Verdict::Go | Verdict::ScheduleOnly => Status::Go,
        Verdict::NoGo => Status::NoGo,
    }
}

/// The outcome of a command that has worked out one plan.
fn finished(briefing: &Briefing, output: Result<String, serde_json::Error>) -> Outcome {
    match output {
        Ok(output) => Outcome {
            output,
            status: verdict_status(briefing),
            ..Outcome::default()
        },
        Err(error) => Outcome::failed(Status::Internal, &error.to_string()),
    }
}

/// Reads a plan file, or standard input for `-`.
fn read_plan(path: &Path, overrides: &Overrides) -> Result<Plan, Refusal> {
    let text = read(path).map_err(|error| Refusal::Unreadable(error.to_string()))?;
    read_with(&text, overrides).map_err(Refusal::Plan)
}

/// Reads a plan file (or standard input for `-`) and works out its briefing.
fn work_out(path: &Path, overrides: &Overrides) -> Result<Briefing, Refusal> {
    let plan = read_plan(path, overrides)?;
    brief(plan).map_err(|error| match error {
        BriefingError::Check(_) => Refusal::Check(error.to_string()),
        other => Refusal::Dive(other.to_string()),
    })
}

fn read(path: &Path) -> io::Result<String> {
    // A little more than a plan may have: whatever never ends is refused by its length.
    const MOST: u64 = (1 << 20) + 1;
    let mut bytes = Vec::new();
    if is_standard_input(path) {
        io::stdin().lock().take(MOST).read_to_end(&mut bytes)?;
    } else {
        fs::File::open(path)?.take(MOST).read_to_end(&mut bytes)?;
    }
    if bytes.len() as u64 == MOST {
        let message = "the file is longer than 1 MiB; a plan is not";
        return Err(io::Error::new(io::ErrorKind::InvalidData, message));
    }
    String::from_utf8(bytes).map_err(|_| {
        let message = "the file is not UTF-8 text";
        io::Error::new(io::ErrorKind::InvalidData, message)
    })
}

fn is_standard_input(path: &Path) -> bool {
    path.as_os_str() == "-"
}

fn shown(path: &Path) -> String {
    if is_standard_input(path) {
        "standard input".to_owned()
    } else {
        screen::harmless(&path.to_string_lossy())
    }
}

/// Colour on standard output: asked for, or a terminal that does not ask for none.
fn wants_colour(choice: Color) -> bool {
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    match choice {
        Color::Always => true,
        Color::Never => false,
        Color::Auto => {
            let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
            io::stdout().is_terminal() && !set("NO_COLOR") && !dumb
        }
    }
}
