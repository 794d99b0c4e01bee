//! What is wrong with a plan or a pencil log, and where.

use std::fmt;
use std::ops::Range;

/// Where a value came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// Bytes of the plan's text.
    Span(Range<usize>),
    /// A command-line option or another override, by its name.
    Override(&'static str),
}

/// One thing wrong, before it is looked up in the text.
#[derive(Clone, Debug)]
pub(super) struct Raw {
    pub(super) place: Place,
    pub(super) table: String,
    pub(super) key: Option<String>,
    pub(super) message: String,
    pub(super) accepted: Option<String>,
    pub(super) meant: Option<String>,
}

/// One thing wrong with a plan or a pencil log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Line and column from 1, columns counted in characters; `None` for an override.
    pub position: Option<Position>,
    /// The override that the value came from, such as `--depth`.
    pub overridden_by: Option<&'static str>,
    /// The table, such as `[[diver]] 2`; empty at the top of the file.
    pub table: String,
    /// The key, where one is meant.
    pub key: Option<String>,
    /// What was found.
    pub message: String,
    /// What is accepted.
    pub accepted: Option<String>,
    /// The word that was probably meant.
    pub meant: Option<String>,
}

/// A place in the text of a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Position {
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1, in characters.
    pub column: usize,
    /// Characters that are meant, at least 1, on this line.
    pub width: usize,
    /// The whole line.
    pub text: String,
}

/// All that is wrong with a plan or a pencil log, in the order of the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanErrors {
    problems: Vec<Problem>,
}

impl PlanErrors {
    pub(super) fn new(text: &str, mut raw: Vec<Raw>) -> Self {
        raw.sort_by_key(|problem| match &problem.place {
            Place::Span(span) => span.start,
            Place::Override(_) => usize::MAX,
        });
        let problems = raw.into_iter().map(|raw| raw.locate(text)).collect();
        Self { problems }
    }

    /// The problems, in the order of the text; overrides last. Never empty.
    #[must_use]
    pub fn problems(&self) -> &[Problem] {
        &self.problems
    }

    /// The problems as text for a person, each with its place in the file of that name.
    #[must_use]
    pub fn render(&self, file: &str) -> String {
        let each = self.problems.iter().map(|problem| problem.render(file));
        each.collect::<Vec<_>>().join("\n")
    }
}

/// One line: the first problem, and how many more there are. [`PlanErrors::render`] shows all.
impl fmt::Display for PlanErrors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.problems.as_slice() {
            [] => f.write_str("the plan is incomplete"),
            [only] => write!(f, "{only}"),
            [first, _] => write!(f, "{first} (and 1 more problem)"),
            [first, rest @ ..] => write!(f, "{first} (and {} more problems)", rest.len()),
        }
    }
}

impl std::error::Error for PlanErrors {}

impl Raw {
    fn locate(self, text: &str) -> Problem {
        let (position, overridden_by) = match self.place {
            Place::Span(span) => (Some(locate(text, span)), None),
            Place::Override(name) => (None, Some(name)),
        };
        Problem {
            position,
            overridden_by,
            table: harmless(&self.table),
            key: self.key,
            message: harmless(&self.message),
            accepted: self.accepted.as_deref().map(harmless),
            meant: self.meant.as_deref().map(harmless),
        }
    }
}

/// What was found is quoted in messages: nothing in it may move a terminal.
fn harmless(text: &str) -> String {
    let shown = |c: char| if c.is_control() { '\u{fffd}' } else { c };
    text.chars().map(shown).collect()
}

/// The line, from 1, in which a byte of a text stands.
pub(super) fn line_of(text: &str, at: usize) -> usize {
    let before = &text.as_bytes()[..at.min(text.len())];
    before.iter().filter(|byte| **byte == b'\n').count() + 1
}

fn locate(text: &str, span: Range<usize>) -> Position {
    let start = floor_boundary(text, span.start.min(text.len()));
    let end = floor_boundary(text, span.end.clamp(start, text.len()));
    let line_start = text[..start].rfind('\n').map_or(0, |newline| newline + 1);
    let rest = &text[line_start..];
    let line = rest.split('\n').next().unwrap_or_default();
    let line_end = line_start + line.len();
    Position {
        line: line_of(text, start),
        column: text[line_start..start].chars().count() + 1,
        width: text[start..end.min(line_end).max(start)]
            .chars()
            .count()
            .max(1),
        text: line.trim_end_matches('\r').to_owned(),
    }
}

fn floor_boundary(text: &str, mut index: usize) -> usize {
    while !text.is_char_boundary(index) {
        index -= 1;
    }
    index
}

/// One line: the place, what was found, what is accepted.
impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (&self.position, self.overridden_by) {
            (Some(at), _) => write!(f, "line {}, column {}", at.line, at.column)?,
            (None, Some(option)) => write!(f, "option {option}")?,
            (None, None) => f.write_str("plan")?,
        }
        let table_and_key = self.table_and_key();
        if !table_and_key.is_empty() {
            write!(f, ", {table_and_key}")?;
        }
        write!(f, ": {}", self.message)?;
        match self.advice() {
            Some(advice) => write!(f, "; {advice}"),
            None => Ok(()),
        }
    }
}

impl std::error::Error for Problem {}

impl Problem {
    fn table_and_key(&self) -> String {
        let key = self.key.as_ref().map(|key| format!("key `{key}`"));
        let table = Some(self.table.clone()).filter(|table| !table.is_empty());
        let both: Vec<String> = table.into_iter().chain(key).collect();
        both.join(", ")
    }

    /// What to write instead.
    fn advice(&self) -> Option<String> {
        match (&self.accepted, &self.meant) {
            (Some(accepted), Some(meant)) => {
                Some(format!("did you mean `{meant}`? accepted: {accepted}"))
            }
            (Some(accepted), None) => Some(format!("accepted: {accepted}")),
            (None, Some(meant)) => Some(format!("did you mean `{meant}`?")),
            (None, None) => None,
        }
    }

    fn render(&self, file: &str) -> String {
        let mut out = format!("error: {}\n", self.message);
        let table_and_key = self.table_and_key();
        let pad = match &self.position {
            Some(at) => {
                let gutter = at.line.to_string();
                let pad = " ".repeat(gutter.len());
                out.push_str(&format!("{pad}--> {file}:{}:{}", at.line, at.column));
                if !table_and_key.is_empty() {
                    out.push_str(&format!("  {table_and_key}"));
                }
                let (line, lead) = visible(&at.text, at.column - 1);
                out.push_str(&format!("\n{gutter} | {line}\n"));
                let carets = "^".repeat(at.width);
                out.push_str(&format!("{pad} | {}{carets}\n", " ".repeat(lead)));
                pad
            }
            None => {
                let option = self.overridden_by.unwrap_or_default();
                out.push_str(&format!(" --> option {option}"));
                if !table_and_key.is_empty() {
                    out.push_str(&format!(" in place of {table_and_key}"));
                }
                out.push('\n');
                " ".to_owned()
            }
        };
        if let Some(advice) = self.advice() {
            out.push_str(&format!("{pad} = {advice}\n"));
        }
        out
    }
}

/// A line with its control characters made visible, and the width of its first characters.
fn visible(line: &str, lead: usize) -> (String, usize) {
    let mut shown = String::new();
    let mut lead_width = 0;
    for (index, c) in line.chars().enumerate() {
        if index == lead {
            lead_width = shown.chars().count();
        }
        match c {
            '\t' => shown.push(' '),
            c if c.is_control() => shown.extend(c.escape_default()),
            c => shown.push(c),
        }
    }
    if lead >= line.chars().count() {
        lead_width = shown.chars().count();
    }
    (shown, lead_width)
}
