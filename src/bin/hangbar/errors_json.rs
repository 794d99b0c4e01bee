//! What is wrong, as JSON: one document for every command, rows of it for the check.

use std::path::{Path, PathBuf};

use hangbar::plan_file::Problem;
use serde::Serialize;

use crate::args::{Command, Format, TableFormat};
use crate::{Outcome, Status};

/// One thing wrong. Its message is what standard error says after `error: `.
#[derive(Debug, Serialize)]
pub(crate) struct ErrorRow {
    line: Option<usize>,
    column: Option<usize>,
    table: Option<String>,
    key: Option<String>,
    option: Option<&'static str>,
    message: String,
    accepted: Option<String>,
    meant: Option<String>,
}

impl ErrorRow {
    /// A problem of a plan or of what is given in its place on the command line.
    pub(crate) fn of(problem: &Problem) -> Self {
        Self {
            line: problem.position.as_ref().map(|at| at.line),
            column: problem.position.as_ref().map(|at| at.column),
            table: (!problem.table.is_empty()).then(|| problem.table.clone()),
            key: problem.key.clone(),
            option: problem.overridden_by,
            message: problem.message.clone(),
            accepted: problem.accepted.clone(),
            meant: problem.meant.clone(),
        }
    }

    /// An error without a place in the plan.
    pub(crate) const fn without_place(message: String) -> Self {
        Self {
            line: None,
            column: None,
            table: None,
            key: None,
            option: None,
            message,
            accepted: None,
            meant: None,
        }
    }

    /// An error of an option.
    pub(crate) fn of_option(
        option: &'static str,
        message: String,
        accepted: Option<String>,
    ) -> Self {
        Self {
            option: Some(option),
            accepted,
            ..Self::without_place(message)
        }
    }
}

#[derive(Serialize)]
struct Document<'a> {
    schema: &'static str,
    verdict: &'static str,
    exit_status: u8,
    file: Option<String>,
    file_bytes_hex: Option<String>,
    errors: &'a [ErrorRow],
}

/// A command that gives JSON, and so its errors too.
pub(crate) struct JsonWanted {
    /// The plan; `limits` may have none.
    plan: Option<PathBuf>,
}

impl JsonWanted {
    /// Of a command that is to give one document; the check gives a row for each plan by itself.
    pub(crate) fn by(command: &Command) -> Option<Self> {
        let (wanted, plan) = match command {
            Command::Brief(args) => (args.shown.format == Format::Json, Some(&args.plan)),
            Command::WhatIf(args) => (args.shown.format == Format::Json, Some(&args.plan)),
            Command::Explain(args) => (args.shown.format == Format::Json, Some(&args.plan)),
            Command::Trace(args) => (args.shown.format == TableFormat::Json, Some(&args.plan)),
            Command::Limits(args) => (args.shown.format == TableFormat::Json, args.plan.as_ref()),
            Command::Check(_) => return None,
        };
        wanted.then(|| Self {
            plan: plan.cloned(),
        })
    }

    /// Puts the document of errors in the place of the output that there is none of.
    pub(crate) fn add_to(&self, outcome: &mut Outcome) {
        if outcome.told.is_empty() {
            return;
        }
        let plan = self.plan.as_deref();
        let document = Document {
            schema: "hangbar/errors/1",
            verdict: refused_word(outcome.status),
            exit_status: outcome.status.code(),
            file: plan.map(|plan| plan.to_string_lossy().into_owned()),
            file_bytes_hex: plan.and_then(bytes_hex),
            errors: &outcome.told,
        };
        match serde_json::to_string_pretty(&document) {
            Ok(text) => outcome.output = text + "\n",
            Err(error) => outcome.errors.push_str(&format!("error: {error}\n")),
        }
    }
}

/// The word for a plan without a verdict.
pub(crate) const fn refused_word(status: Status) -> &'static str {
    match status {
        Status::Internal => "failed",
        Status::Go | Status::NoGo | Status::Unusable => "unusable",
    }
}

/// The bytes of a file name that is not UTF-8, two hexadecimal digits each; `None` where the name
/// itself says all.
pub(crate) fn bytes_hex(path: &Path) -> Option<String> {
    let name = path.as_os_str();
    let hex = || {
        let bytes = name.as_encoded_bytes().iter();
        bytes.map(|byte| format!("{byte:02x}")).collect()
    };
    name.to_str().is_none().then(hex)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

    use super::{JsonWanted, Outcome, Status};

    /// No plan is known that fails a check of the program itself.
    #[test]
    fn a_failed_check_is_told_as_failed_with_status_3() {
        let mut outcome = Outcome::failed(Status::Internal, "internal check failed: a gap");
        let wanted = JsonWanted { plan: None };
        wanted.add_to(&mut outcome);
        let document: serde_json::Value = serde_json::from_str(&outcome.output).unwrap();
        assert_eq!(document["verdict"], "failed");
        assert_eq!(document["exit_status"], 3);
        assert_eq!(
            document["errors"][0]["message"],
            "internal check failed: a gap"
        );
        assert_eq!(outcome.errors, "error: internal check failed: a gap\n");
    }

    #[test]
    fn a_result_stays_the_output() {
        let mut outcome = Outcome {
            output: "{}\n".to_owned(),
            ..Outcome::default()
        };
        JsonWanted { plan: None }.add_to(&mut outcome);
        assert_eq!(outcome.output, "{}\n");
    }
}
