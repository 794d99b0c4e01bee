//! `hangbar check`: a line a plan, for scripts and for a quick look.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use hangbar::briefing::Briefing;
use hangbar::finding::Finding;
use hangbar::plan_file::Overrides;
use hangbar::report::Tone;
use serde::Serialize;

use crate::args::Format;
use crate::errors_json::{ErrorRow, bytes_hex, refused_word};
use crate::json::FindingRow;
use crate::screen::{Screen, harmless};
use crate::{Outcome, Refusal, Status, shown, verdict_status, work_out};

/// Folders nested deeper than this are not looked into.
const DEEPEST_FOLDER: usize = 16;
/// Columns of the verdict and the gap behind it: `schedule-only` is the longest.
const VERDICT_COLUMNS: usize = 15;

/// What is printed, and the worst status.
pub(crate) fn run(paths: &[PathBuf], format: Format, colour: bool) -> Outcome {
    let mut outcome = Outcome::default();
    let mut screen = Screen::new(colour);
    for path in paths {
        for (path, found) in look(path) {
            let row = match found {
                Found::Plan => Row::of(&path, &work_out(&path, &Overrides::default())),
                Found::Refused(refusal) => Row::of(&path, &Err(refusal)),
                Found::Skipped(reason) => Row::skipped(&path, reason),
            };
            outcome.status = outcome.status.max(row.status);
            outcome.errors.push_str(&row.errors_text);
            match format {
                Format::Text => row.line(&mut screen),
                Format::Json => match serde_json::to_string(&row.json) {
                    Ok(row) => screen.line(&row),
                    Err(error) => {
                        outcome.errors.push_str(&format!("error: {error}\n"));
                        outcome.status = Status::Internal;
                    }
                },
            }
        }
    }
    outcome.output.push_str(&screen.finish());
    outcome
}

/// What a name in a folder, or on the command line, is to the check.
#[derive(Debug)]
enum Found {
    Plan,
    Refused(Refusal),
    Skipped(Skipped),
}

/// Why something that may be or hold a plan is not checked.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Skipped {
    HiddenFile,
    HiddenFolder,
    /// A folder below the depth bound.
    TooDeep,
    /// A folder that a link, or a loop of links, leads to once more.
    LookedIntoAs(PathBuf),
    LinkToNowhere,
    /// A pipe or a device: reading it might never end.
    NoFile,
}

impl Skipped {
    /// The word for scripts.
    const fn word(&self) -> &'static str {
        match self {
            Self::HiddenFile => "hidden-file",
            Self::HiddenFolder => "hidden-folder",
            Self::TooDeep => "too-deep",
            Self::LookedIntoAs(_) => "looked-into-already",
            Self::LinkToNowhere => "link-to-nowhere",
            Self::NoFile => "no-file",
        }
    }

    fn sentence(&self) -> String {
        match self {
            Self::HiddenFile => "a hidden file; name it to have it checked".to_owned(),
            Self::HiddenFolder => "a hidden folder; name it to have it checked".to_owned(),
            Self::TooDeep => {
                format!("more than {DEEPEST_FOLDER} folders deep; name it to have it checked")
            }
            Self::LookedIntoAs(path) => {
                format!("the same folder as {}", harmless(&path.to_string_lossy()))
            }
            Self::LinkToNowhere => "a link to nothing that is there".to_owned(),
            Self::NoFile => "neither a file nor a folder".to_owned(),
        }
    }
}

/// A file itself, whatever its name; or every plan in a folder and the folders in it, and what is
/// passed over there, in the order of their names.
fn look(path: &Path) -> Vec<(PathBuf, Found)> {
    if !path.is_dir() {
        return vec![(path.to_path_buf(), Found::Plan)];
    }
    let mut walk = Walk::default();
    walk.look_into(path, 0);
    // Links last: a folder in the tree is found under its own name.
    let mut next = 0;
    while let Some((link, depth)) = walk.links.get(next).cloned() {
        walk.look_into(&link, depth);
        next += 1;
    }
    let skipped = |found: &Found| matches!(found, Found::Skipped(_));
    if walk.found.iter().all(|(_, found)| skipped(found)) {
        walk.found
            .push((path.to_path_buf(), Found::Refused(Refusal::NoPlan)));
    }
    walk.found.sort_by(|one, other| one.0.cmp(&other.0));
    walk.found
}

#[derive(Debug, Default)]
struct Walk {
    found: Vec<(PathBuf, Found)>,
    /// Links to folders that are still to be followed, and how deep they are.
    links: Vec<(PathBuf, usize)>,
    /// Folders that have been looked into: their real names, and the names used.
    folders: BTreeMap<PathBuf, PathBuf>,
}

impl Walk {
    fn look_into(&mut self, folder: &Path, depth: usize) {
        if depth > DEEPEST_FOLDER {
            self.skip(folder, Skipped::TooDeep);
        } else if let Err(error) = self.read(folder, depth) {
            let refusal = Refusal::Unreadable(error.to_string());
            self.found
                .push((folder.to_path_buf(), Found::Refused(refusal)));
        }
    }

    fn read(&mut self, folder: &Path, depth: usize) -> std::io::Result<()> {
        let real = folder.canonicalize()?;
        if let Some(known) = self.folders.get(&real) {
            let known = known.clone();
            self.skip(folder, Skipped::LookedIntoAs(known));
            return Ok(());
        }
        self.folders.insert(real, folder.to_path_buf());
        let mut entries = Vec::new();
        for entry in fs::read_dir(folder)? {
            entries.push(entry?.path());
        }
        entries.sort();
        for entry in entries {
            self.sort_out(entry, depth + 1);
        }
        Ok(())
    }

    fn sort_out(&mut self, entry: PathBuf, depth: usize) {
        let name = entry.file_name().unwrap_or_default().as_encoded_bytes();
        let hidden = name.starts_with(b".");
        let is_link = entry.is_symlink();
        let is_plan = name.len() >= PLAN_ENDING.len()
            && name[name.len() - PLAN_ENDING.len()..].eq_ignore_ascii_case(PLAN_ENDING);
        match fs::metadata(&entry) {
            Ok(there) if there.is_dir() && hidden => self.skip(&entry, Skipped::HiddenFolder),
            Ok(there) if there.is_dir() && is_link => self.links.push((entry, depth)),
            Ok(there) if there.is_dir() => self.look_into(&entry, depth),
            // A plan that is linked to and gone is a plan that cannot be read.
            Err(_) if is_link && !hidden && !is_plan => self.skip(&entry, Skipped::LinkToNowhere),
            _ if !is_plan => {}
            _ if hidden => self.skip(&entry, Skipped::HiddenFile),
            Ok(there) if !there.is_file() => self.skip(&entry, Skipped::NoFile),
            // What cannot be read says so when it is.
            Ok(_) | Err(_) => self.found.push((entry, Found::Plan)),
        }
    }

    fn skip(&mut self, path: &Path, why: Skipped) {
        self.found.push((path.to_path_buf(), Found::Skipped(why)));
    }
}

/// How the name of a plan ends, whatever the case.
const PLAN_ENDING: &[u8] = b".toml";

/// A plan that was checked, or something that was not.
struct Row {
    status: Status,
    errors_text: String,
    /// The words behind the file's name; `None` where standard error says it all.
    words: Option<String>,
    tone: Tone,
    json: JsonRow,
}

#[derive(Serialize)]
struct JsonRow {
    schema: &'static str,
    file: String,
    file_bytes_hex: Option<String>,
    title: Option<String>,
    verdict: &'static str,
    exit_status: Option<u8>,
    reason: Option<&'static str>,
    findings: Vec<FindingRow>,
    errors: Vec<ErrorRow>,
}

impl JsonRow {
    fn new(path: &Path, verdict: &'static str) -> Self {
        Self {
            schema: "hangbar/check/1",
            file: path.to_string_lossy().into_owned(),
            file_bytes_hex: bytes_hex(path),
            title: None,
            verdict,
            exit_status: None,
            reason: None,
            findings: Vec::new(),
            errors: Vec::new(),
        }
    }
}

impl Row {
    fn of(path: &Path, result: &Result<Briefing, Refusal>) -> Self {
        match result {
            Ok(briefing) => Self::briefed(path, briefing),
            Err(refusal) => Self::refused(path, refusal),
        }
    }

    fn briefed(path: &Path, briefing: &Briefing) -> Self {
        let status = verdict_status(briefing);
        let units = briefing.plan.units();
        let findings = briefing.findings.iter();
        Self {
            status,
            errors_text: String::new(),
            words: Some(finding_words(&briefing.findings)),
            tone: match status {
                Status::Go => Tone::Go,
                Status::NoGo | Status::Unusable | Status::Internal => Tone::NoGo,
            },
            json: JsonRow {
                title: briefing.plan.title().map(str::to_owned),
                exit_status: Some(status.code()),
                findings: findings.map(|one| FindingRow::new(one, units)).collect(),
                ..JsonRow::new(path, briefing.verdict().word())
            },
        }
    }

    fn refused(path: &Path, refusal: &Refusal) -> Self {
        let status = refusal.status();
        let file = shown(path);
        let errors = refusal.rows(&file);
        let words = match errors.len() {
            1 => "1 error".to_owned(),
            count => format!("{count} errors"),
        };
        Self {
            status,
            errors_text: refusal.render(&file),
            words: Some(words),
            tone: Tone::NoGo,
            json: JsonRow {
                exit_status: Some(status.code()),
                errors,
                ..JsonRow::new(path, refused_word(status))
            },
        }
    }

    /// A skip is no fault of anybody: it leaves the exit status alone.
    fn skipped(path: &Path, reason: Skipped) -> Self {
        Self {
            status: Status::default(),
            errors_text: format!("note: skipped {}: {}\n", shown(path), reason.sentence()),
            words: None,
            tone: Tone::Plain,
            json: JsonRow {
                reason: Some(reason.word()),
                ..JsonRow::new(path, "skipped")
            },
        }
    }

    /// `go             plans/reef.toml  caution: pony-short (Tom); note: alone (Tom)`
    fn line(&self, screen: &mut Screen) {
        let Some(words) = &self.words else {
            return;
        };
        let verdict = self.json.verdict;
        let painted = screen.paint(self.tone, verdict);
        let pad = " ".repeat(VERDICT_COLUMNS.saturating_sub(verdict.len()));
        let file = harmless(&self.json.file);
        screen.line(&format!("{painted}{pad}{file}  {words}"));
    }
}

fn finding_words(findings: &[Finding]) -> String {
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
    words.join(", ")
}
