//! `hangbar check`: a line a plan, for scripts and for a quick look.

use std::fs;
use std::path::{Path, PathBuf};

use hangbar::briefing::Briefing;
use hangbar::finding::Finding;
use hangbar::plan_file::Overrides;
use hangbar::report::Tone;
use hangbar::units::UnitSystem;
use serde::Serialize;

use crate::args::Format;
use crate::json::FindingRow;
use crate::screen::{Screen, harmless};
use crate::{Outcome, Refusal, Status, work_out};

/// Folders nested deeper than this are not looked into.
const DEEPEST_FOLDER: usize = 16;

/// What is printed, and the worst status.
pub(crate) fn run(paths: &[PathBuf], format: Format, colour: bool) -> Outcome {
    let mut outcome = Outcome::default();
    let mut screen = Screen::new(colour);
    for path in paths {
        let mut found = Found::default();
        found.look(path, 0);
        if found.entries.is_empty() {
            let message = "no plan (.toml file) in folder".to_owned();
            found.entries.push((path.clone(), Some(message)));
        }
        for (path, trouble) in found.entries {
            let result = match trouble {
                None => work_out(&path, &Overrides::default()),
                Some(message) => Err(Refusal::Unreadable(message)),
            };
            one(&path, &result, format, &mut screen, &mut outcome);
        }
    }
    outcome.output.push_str(&screen.finish());
    outcome
}

/// Plans, and folders that cannot be read, in the order of their names.
#[derive(Default)]
struct Found {
    entries: Vec<(PathBuf, Option<String>)>,
    /// Folders that have been looked into, by their real names: a link back up is not followed.
    folders: Vec<PathBuf>,
}

impl Found {
    /// A file itself, or every plan in a folder and the folders in it.
    fn look(&mut self, path: &Path, depth: usize) {
        if !path.is_dir() {
            self.entries.push((path.to_path_buf(), None));
            return;
        }
        if let Err(error) = self.look_into(path, depth) {
            self.entries
                .push((path.to_path_buf(), Some(error.to_string())));
        }
    }

    fn look_into(&mut self, folder: &Path, depth: usize) -> std::io::Result<()> {
        let real = folder.canonicalize()?;
        if self.folders.contains(&real) || depth > DEEPEST_FOLDER {
            return Ok(());
        }
        self.folders.push(real);
        let mut entries = Vec::new();
        for entry in fs::read_dir(folder)? {
            entries.push(entry?.path());
        }
        entries.sort();
        for entry in entries {
            let name = entry.file_name().unwrap_or_default().to_string_lossy();
            let is_plan = entry
                .extension()
                .is_some_and(|extension| extension == "toml");
            if !name.starts_with('.') && (is_plan || entry.is_dir()) {
                self.look(&entry, depth + 1);
            }
        }
        Ok(())
    }
}

#[derive(Serialize)]
struct Row {
    schema: &'static str,
    file: String,
    verdict: &'static str,
    exit_status: u8,
    findings: Vec<FindingRow>,
    errors: Vec<ErrorRow>,
}

#[derive(Serialize)]
struct ErrorRow {
    line: Option<usize>,
    column: Option<usize>,
    table: Option<String>,
    key: Option<String>,
    message: String,
    accepted: Option<String>,
    meant: Option<String>,
}

fn one(
    path: &Path,
    result: &Result<Briefing, Refusal>,
    format: Format,
    screen: &mut Screen,
    outcome: &mut Outcome,
) {
    let file = path.to_string_lossy();
    let (status, units, findings) = match result {
        Ok(briefing) => (
            crate::verdict_status(briefing),
            briefing.plan.units,
            &briefing.findings[..],
        ),
        Err(refusal) => (refusal.status(), UnitSystem::Metric, &[][..]),
    };
    outcome.status = outcome.status.max(status);
    if let Err(refusal) = result {
        outcome.errors.push_str(&refusal.render(&harmless(&file)));
    }
    match format {
        Format::Text => line(screen, &file, status, findings, result),
        Format::Json => {
            let row = Row {
                schema: "hangbar/check/1",
                file: file.into_owned(),
                verdict: verdict(status, result.as_ref().ok()),
                exit_status: status.code(),
                findings: findings
                    .iter()
                    .map(|one| FindingRow::new(one, units))
                    .collect(),
                errors: result.as_ref().err().map(errors).unwrap_or_default(),
            };
            match serde_json::to_string(&row) {
                Ok(row) => screen.line(&row),
                Err(error) => {
                    outcome.errors.push_str(&format!("error: {error}\n"));
                    outcome.status = Status::Internal;
                }
            }
        }
    }
}

fn verdict(status: Status, briefing: Option<&Briefing>) -> &'static str {
    match status {
        Status::Go | Status::NoGo => briefing.map_or("failed", |one| one.verdict().word()),
        Status::Unusable => "unusable",
        Status::Internal => "failed",
    }
}

/// `go     plans/reef.toml  caution: pony-short (Tom); note: alone (Tom)`
fn line(
    screen: &mut Screen,
    file: &str,
    status: Status,
    findings: &[Finding],
    result: &Result<Briefing, Refusal>,
) {
    let refusal = result.as_ref().err();
    let verdict = verdict(status, result.as_ref().ok());
    let tone = match status {
        Status::Go => Tone::Go,
        Status::NoGo | Status::Unusable | Status::Internal => Tone::NoGo,
    };
    let word = screen.paint(tone, verdict);
    let pad = " ".repeat(15_usize.saturating_sub(verdict.len()));
    let mut words = Vec::new();
    let mut weight = None;
    for finding in findings {
        let mut word = String::new();
        if weight != Some(finding.weight()) {
            weight = Some(finding.weight());
            word = format!("{}: ", finding.weight().word());
        }
        word.push_str(finding.code());
        if let Some(diver) = &finding.diver {
            word.push_str(&format!(" ({diver})"));
        }
        words.push(word);
    }
    if let Some(refusal) = refusal {
        words.push(match refusal.count() {
            1 => "1 error".to_owned(),
            count => format!("{count} errors"),
        });
    }
    screen.line(&format!(
        "{word}{pad}{}  {}",
        harmless(file),
        words.join(", ")
    ));
}

fn errors(refusal: &Refusal) -> Vec<ErrorRow> {
    match refusal {
        Refusal::Plan(errors) => errors
            .problems()
            .iter()
            .map(|problem| ErrorRow {
                line: problem.position.as_ref().map(|at| at.line),
                column: problem.position.as_ref().map(|at| at.column),
                table: (!problem.table.is_empty()).then(|| problem.table.clone()),
                key: problem.key.clone(),
                message: problem.message.clone(),
                accepted: problem.accepted.clone(),
                meant: problem.meant.clone(),
            })
            .collect(),
        Refusal::Unreadable(message) | Refusal::Dive(message) | Refusal::Check(message) => {
            vec![ErrorRow {
                line: None,
                column: None,
                table: None,
                key: None,
                message: message.clone(),
                accepted: None,
                meant: None,
            }]
        }
    }
}
