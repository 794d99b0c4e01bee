//! `hangbar check`: a line a plan, for scripts and for a quick look; batch by batch, so that a hundred
//! thousand plans are held no more than a hundred.

use std::path::Path;

use hangbar::briefing::Briefing;
use hangbar::plan_file::Overrides;
use hangbar::report::document::Check;
use hangbar::report::{Tone, codes_in_a_line};

use crate::args::{CheckArgs, Format};
use crate::folders::{Found, Skipped, look};
use crate::input::work_out;
use crate::outcome::{Outcome, Printed, Status};
use crate::paper::wants_colour;
use crate::refusal::Refusal;
use crate::render::json;
use crate::render::names::{file_name, harmless};
use crate::render::terminal::Terminal;
use crate::side_by_side::side_by_side;

/// Columns of the verdict and the gap behind it: `schedule-only` is the longest.
const VERDICT_COLUMNS: usize = 15;

/// So many plans are worked out side by side before they are printed: enough for many cores, few
/// enough to be held.
const BATCH: usize = 512;

/// What is printed, batch by batch in the order of the names, and the worst status.
pub(super) fn run(args: &CheckArgs) -> Outcome {
    let colour = wants_colour(args.color);
    let mut printed = Outcome::default();
    let mut is_read = true;
    for path in &args.paths {
        for batch in look(path).chunks(BATCH) {
            // Rows come back in the order of the names, whoever worked them out.
            let rows = side_by_side(batch, |(path, found)| {
                Row::of(path, found).outcome(args.format, colour)
            });
            let mut together = Outcome::default();
            for row in rows {
                together.status = together.status.max(row.status);
                together.output.push_str(&row.output);
                together.errors.push_str(&row.errors);
            }
            printed.status = printed.status.max(together.status);
            if !is_read {
                continue;
            }
            match together.print_on() {
                Printed::All => {}
                // The status is that of all rows, whoever reads them.
                Printed::NobodyReads => is_read = false,
                Printed::Failed => {
                    printed.status = printed.status.max(Status::Unusable);
                    return printed;
                }
            }
        }
    }
    printed
}

/// A plan that was checked, or something that was not.
struct Row {
    status: Status,
    errors_text: String,
    /// The words behind the file's name; `None` where standard error says it all.
    words: Option<String>,
    document: Check,
}

impl Row {
    fn of(path: &Path, found: &Found) -> Self {
        let result = match found {
            Found::Plan => work_out(path, &Overrides::default()),
            Found::Refused(refusal) => return Self::refused(path, refusal),
            Found::Skipped(reason) => return Self::skipped(path, reason),
        };
        match result {
            Ok(briefing) => Self::briefed(path, &briefing),
            Err(refusal) => Self::refused(path, &refusal),
        }
    }

    fn briefed(path: &Path, briefing: &Briefing) -> Self {
        let status = Status::from(briefing.verdict());
        let exit = i32::from(status.code());
        Self {
            status,
            errors_text: String::new(),
            words: Some(codes_in_a_line(&briefing.findings)),
            document: Check::briefed(path.as_os_str(), briefing, exit),
        }
    }

    fn refused(path: &Path, refusal: &Refusal) -> Self {
        let status = refusal.status();
        let exit = i32::from(status.code());
        let file = file_name(path);
        let (errors, more) = (refusal.problems(&file), refusal.untold());
        let words = match errors.len() + more {
            1 => "1 error".to_owned(),
            count => format!("{count} errors"),
        };
        Self {
            status,
            errors_text: refusal.render(&file),
            words: Some(words),
            document: Check::refused(
                path.as_os_str(),
                status.without_result(),
                exit,
                (errors, more),
            ),
        }
    }

    /// A skip is no fault of anybody: it leaves the exit status alone.
    fn skipped(path: &Path, reason: &Skipped) -> Self {
        let file = file_name(path);
        Self {
            status: Status::default(),
            errors_text: format!("note: skipped {file}: {}\n", reason.sentence()),
            words: None,
            document: Check::skipped(path.as_os_str(), reason.word()),
        }
    }

    /// What is printed of it.
    fn outcome(&self, format: Format, colour: bool) -> Outcome {
        let mut outcome = Outcome {
            status: self.status,
            errors: self.errors_text.clone(),
            ..Outcome::default()
        };
        let mut terminal = Terminal::new(colour);
        match format {
            Format::Text => self.draw(&mut terminal),
            Format::Json => match json::line(&self.document) {
                Ok(line) => terminal.line(&line),
                Err(error) => {
                    outcome.errors.push_str(&format!("error: {error}\n"));
                    outcome.status = Status::Internal;
                }
            },
        }
        outcome.output = terminal.finish();
        outcome
    }

    /// `go             plans/reef.toml  caution: pony-short (Tom); note: alone (Tom)`
    fn draw(&self, terminal: &mut Terminal) {
        let Some(words) = &self.words else {
            return;
        };
        let tone = match self.status {
            Status::Go => Tone::Go,
            Status::NoGo | Status::Unusable | Status::Internal => Tone::NoGo,
        };
        let verdict = self.document.verdict.word();
        let painted = terminal.paint(tone, verdict);
        let pad = " ".repeat(VERDICT_COLUMNS.saturating_sub(verdict.len()));
        let file = harmless(&self.document.file);
        terminal.line(&format!("{painted}{pad}{file}  {words}"));
    }
}
