//! What is wrong, as a document, where a command is to give one.

use std::path::{Path, PathBuf};

use hangbar::report::document::Errors;

use crate::args::{Command, Format, TableFormat};
use crate::outcome::Outcome;
use crate::render::json;

/// A command that gives JSON, and so its errors too.
pub(crate) struct JsonWanted {
    /// The plan; `limits` and `mix` may have none, and of a day the outcome knows which it is.
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
            Command::Day(args) => (args.shown.format == Format::Json, None),
            Command::Debrief(args) => (args.shown.format == Format::Json, None),
            Command::Mix(args) => (args.shown.format == Format::Json, args.plan.as_ref()),
            Command::Keys(args) => (args.format == Format::Json, None),
            Command::Check(_)
            | Command::New(_)
            | Command::Schema(_)
            | Command::Sheet(_)
            | Command::Completions(_)
            | Command::Manual(_) => return None,
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
        let plan = outcome.plan.as_deref().or(self.plan.as_deref());
        let document = Errors::new(
            outcome.status.without_result(),
            i32::from(outcome.status.code()),
            plan.map(Path::as_os_str),
            (outcome.told.clone(), outcome.untold),
        );
        match json::pretty(Ok(document)) {
            Ok(text) => outcome.output = text,
            Err(error) => outcome.errors.push_str(&format!("error: {error}\n")),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

    use super::{JsonWanted, Outcome};
    use crate::outcome::Status;

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
