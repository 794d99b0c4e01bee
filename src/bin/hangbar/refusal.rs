//! Why a plan has no result.

use std::path::Path;

use hangbar::briefing::BriefingError;
use hangbar::day::DayError;
use hangbar::debrief::{DebriefError, NextError};
use hangbar::plan_file::PlanErrors;
use hangbar::record::RecordError;
use hangbar::report::document::Problem;

use crate::outcome::{Outcome, Status};
use crate::render::names::{file_name, harmless};

/// Why a plan has no result.
#[derive(Debug)]
pub(crate) enum Refusal {
    /// The file cannot be read.
    Unreadable(String),
    /// The file can be read and is no text.
    NotText { message: String, line: Option<u64> },
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
    NoWayUp(String),
    /// The dive cannot be shown as it is asked for.
    Dive(String),
    /// A record cannot be used.
    Record(Box<RecordError>),
    /// Records are none of the plan; the error names them.
    Debrief(Box<DebriefError>),
    /// Several plans are no day; the error names them.
    Day(Box<DayError>),
    /// The result contradicts itself.
    Check(String),
}

impl From<DayError> for Refusal {
    fn from(error: DayError) -> Self {
        match &error {
            DayError::Dive {
                cause: BriefingError::Check(_),
                ..
            } => Self::Check(error.to_string()),
            DayError::FlightUnclocked => Self::Option {
                option: "--fly-at",
                message: error.to_string(),
                accepted: error.accepted(),
            },
            DayError::Intervals { .. } => Self::Option {
                option: "--interval",
                message: error.to_string(),
                accepted: error.accepted(),
            },
            _ => Self::Day(Box::new(error)),
        }
    }
}

impl From<DebriefError> for Refusal {
    fn from(error: DebriefError) -> Self {
        match &error {
            DebriefError::Plan(BriefingError::Check(_)) => Self::Check(error.to_string()),
            _ => Self::Debrief(Box::new(error)),
        }
    }
}

impl From<NextError> for Refusal {
    fn from(error: NextError) -> Self {
        if error.is_internal() {
            return Self::Check(error.to_string());
        }
        Self::Option {
            option: "--write-next",
            message: error.to_string(),
            accepted: error.accepted(),
        }
    }
}

impl Refusal {
    pub(crate) const fn status(&self) -> Status {
        match self {
            Self::Unreadable(_)
            | Self::NotText { .. }
            | Self::NoPlan
            | Self::Plan(_)
            | Self::Option { .. }
            | Self::Day(_)
            | Self::Record(_)
            | Self::Debrief(_)
            | Self::NoWayUp(_)
            | Self::Dive(_) => Status::Unusable,
            Self::Check(_) => Status::Internal,
        }
    }

    /// The end of a command whose plan is refused.
    pub(crate) fn outcome(&self, plan: &Path) -> Outcome {
        let file = file_name(plan);
        Outcome {
            errors: self.render(&file),
            status: self.status(),
            told: self.problems(&file),
            untold: self.untold(),
            ..Outcome::default()
        }
    }

    /// Each error by itself, for scripts.
    pub(crate) fn problems(&self, file: &str) -> Vec<Problem> {
        match self {
            Self::Plan(errors) => errors.problems().iter().map(Problem::from).collect(),
            Self::Option {
                option, accepted, ..
            } => vec![Problem::of_option(
                option,
                self.message(file),
                accepted.clone(),
            )],
            Self::Day(error) => vec![Problem::of_a_day(
                self.message(file),
                error.accepted(),
                error.key(),
            )],
            Self::Record(error) => vec![Problem::of_a_record(
                self.message(file),
                error.accepted.clone(),
                error.line,
                error.column.clone(),
            )],
            Self::Debrief(error) => {
                vec![Problem::of_a_day(
                    self.message(file),
                    error.accepted(),
                    None,
                )]
            }
            Self::NotText { line, .. } => {
                let message = self.message(file);
                vec![Problem::of_a_record(message, TEXT.to_owned(), *line, None)]
            }
            Self::NoWayUp(_) => {
                let message = self.message(file);
                vec![Problem::of_a_day(message, Some(WAY_UP.to_owned()), None)]
            }
            Self::Unreadable(_) | Self::NoPlan | Self::Dive(_) | Self::Check(_) => {
                vec![Problem::without_place(self.message(file))]
            }
        }
    }

    /// How many errors more there are.
    pub(crate) const fn untold(&self) -> usize {
        match self {
            Self::Plan(errors) => errors.untold(),
            _ => 0,
        }
    }

    /// The error of a refusal that is only one.
    fn message(&self, file: &str) -> String {
        match self {
            Self::Unreadable(message) | Self::NotText { message, .. } => {
                format!("cannot read {file}: {message}")
            }
            Self::NoPlan => format!("no plan (.toml file) in folder {file}"),
            Self::Plan(errors) => errors.to_string(),
            Self::Day(error) => harmless(&error.to_string()),
            Self::Debrief(error) => harmless(&error.to_string()),
            Self::Record(error) => harmless(&error.message),
            Self::Option { message, .. }
            | Self::NoWayUp(message)
            | Self::Dive(message)
            | Self::Check(message) => harmless(message),
        }
    }

    /// For people.
    pub(crate) fn render(&self, file: &str) -> String {
        match self {
            Self::Plan(errors) => errors.render(file),
            Self::Unreadable(_) | Self::NoPlan => format!("error: {}\n", self.message(file)),
            Self::NotText { line, .. } => {
                let message = self.message(file);
                format!(
                    "error: {message}\n --> {file}{}\n  = accepted: {TEXT}\n",
                    at(*line)
                )
            }
            Self::Day(error) => {
                let message = self.message(file);
                let accepted = error.accepted();
                let accepted = accepted.map(|accepted| format!("  = accepted: {accepted}\n"));
                format!(
                    "error: {message}\n{}{}",
                    of_key(error),
                    accepted.unwrap_or_default()
                )
            }
            Self::Record(error) => {
                let line = at(error.line);
                let column = error.column.as_ref();
                let column = column.map_or_else(String::new, |one| format!("  {}", harmless(one)));
                format!(
                    "error: {}\n --> {file}{line}{column}\n  = accepted: {}\n",
                    self.message(file),
                    harmless(&error.accepted)
                )
            }
            Self::Debrief(error) => {
                let accepted = error.accepted();
                let accepted = accepted.map(|it| format!("  = accepted: {}\n", harmless(&it)));
                format!(
                    "error: {}\n --> {file}\n{}",
                    self.message(file),
                    accepted.unwrap_or_default()
                )
            }
            Self::NoWayUp(_) => {
                let message = self.message(file);
                format!("error: {message}\n --> {file}\n  = accepted: {WAY_UP}\n")
            }
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

/// What every file must be.
const TEXT: &str = "plain text, saved as UTF-8";

/// What every dive must have.
const WAY_UP: &str = "a dive with a way up by its own rules: shorter, shallower, on another gas, or with \
                      other gradient factors or stops";

/// A line behind the name of its file.
fn at(line: Option<u64>) -> String {
    line.map_or_else(String::new, |line| format!(":{line}"))
}

/// The line that says which key of which plan of a day it is about.
fn of_key(error: &DayError) -> String {
    let Some((file, (table, key))) = error.file().zip(error.key()) else {
        return String::new();
    };
    let place = match table {
        "" => format!("key `{key}`"),
        table => format!("{table}, key `{key}`"),
    };
    format!(" --> {}  {place}\n", harmless(file))
}
