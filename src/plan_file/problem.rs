//! What is wrong with a plan or a pencil log, and where.

use std::fmt;
use std::ops::Range;

use super::lines::{Lines, Position};
use crate::letters::{harmless, shortened};
use textwrap::core::display_width;

/// So many problems are told; of the rest only how many there are.
const MOST_TOLD: usize = 20;
/// So many are kept to find the first of the text among them.
const MOST_KEPT: usize = 1000;
/// Longest text of a message, in characters.
const LONGEST_MESSAGE: usize = 400;

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

/// What is wrong, as it is found: the first of it, and how much there is.
#[derive(Debug, Default)]
pub(super) struct Found {
    kept: Vec<Raw>,
    count: usize,
}

impl Found {
    /// One more; nobody makes words of what is only counted.
    pub(super) fn note(&mut self, raw: impl FnOnce() -> Raw) {
        self.count += 1;
        if self.kept.len() < MOST_KEPT {
            self.kept.push(raw());
        }
    }

    pub(super) const fn is_empty(&self) -> bool {
        self.count == 0
    }

    pub(super) fn kept(&self) -> &[Raw] {
        &self.kept
    }
}

impl From<Raw> for Found {
    fn from(raw: Raw) -> Self {
        let mut found = Self::default();
        found.note(|| raw);
        found
    }
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

/// What is wrong with a plan or a pencil log, in the order of the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanErrors {
    problems: Vec<Problem>,
    untold: usize,
}

impl PlanErrors {
    pub(super) fn new(text: &str, found: impl Into<Found>) -> Self {
        let Found {
            kept: mut raw,
            count,
        } = found.into();
        raw.sort_by_key(|problem| match &problem.place {
            Place::Span(span) => span.start,
            Place::Override(_) => usize::MAX,
        });
        let lines = Lines::new(text);
        let told = raw.into_iter().take(MOST_TOLD);
        let problems: Vec<Problem> = told.map(|raw| raw.locate(&lines)).collect();
        Self {
            untold: count - problems.len(),
            problems,
        }
    }

    /// The problems that are told, the first of the text; overrides last. Never empty.
    #[must_use]
    pub fn problems(&self) -> &[Problem] {
        &self.problems
    }

    /// How many more there are.
    #[must_use]
    pub const fn untold(&self) -> usize {
        self.untold
    }

    /// The problems as text for a person, each with its place in the file of that name.
    #[must_use]
    pub fn render(&self, file: &str) -> String {
        let each = self.problems.iter().map(|problem| problem.render(file));
        let mut text = each.collect::<Vec<_>>().join("\n");
        if self.untold > 0 {
            let errors = if self.untold == 1 { "error" } else { "errors" };
            text.push_str(&format!(
                "\nand {} more {errors}: put these right first\n",
                self.untold
            ));
        }
        text
    }
}

/// One line: the first problem, and how many more there are. [`PlanErrors::render`] shows them.
impl fmt::Display for PlanErrors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Some(first) = self.problems.first() else {
            return f.write_str("the plan is incomplete");
        };
        match self.problems.len() - 1 + self.untold {
            0 => write!(f, "{first}"),
            1 => write!(f, "{first} (and 1 more problem)"),
            more => write!(f, "{first} (and {more} more problems)"),
        }
    }
}

impl std::error::Error for PlanErrors {}

impl Raw {
    fn locate(self, lines: &Lines<'_>) -> Problem {
        let (position, overridden_by) = match self.place {
            Place::Span(span) => (Some(lines.position(span)), None),
            Place::Override(name) => (None, Some(name)),
        };
        // What was found is quoted: nothing in it may move a terminal or fill it.
        let told = |text: &str| harmless(&shortened(text, LONGEST_MESSAGE));
        Problem {
            position,
            overridden_by,
            table: told(&self.table),
            key: self.key,
            message: told(&self.message),
            accepted: self.accepted.as_deref().map(told),
            meant: self.meant.as_deref().map(told),
        }
    }
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
                let (lead, rest) = parted(&at.text, at.lead);
                let (marked, rest) = parted(rest, at.width);
                let [lead, marked, rest] = [lead, marked, rest].map(visible);
                out.push_str(&format!("\n{gutter} | {lead}{marked}{rest}\n"));
                let blank = " ".repeat(display_width(&lead));
                let carets = "^".repeat(display_width(&marked).max(1));
                out.push_str(&format!("{pad} | {blank}{carets}\n"));
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

/// A text before and after so many of its characters.
fn parted(text: &str, characters: usize) -> (&str, &str) {
    let at = text.char_indices().nth(characters);
    text.split_at(at.map_or(text.len(), |(at, _)| at))
}

/// A part of a line with nothing in it that moves a terminal.
fn visible(part: &str) -> String {
    harmless(&part.replace('\t', " "))
}
