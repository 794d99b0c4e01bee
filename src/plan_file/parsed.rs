//! From text to TOML: what has no table or key of its own.

use toml::Spanned;
use toml::de::DeTable;

use super::keys::{pencil, top};
use super::lines::Lines;
use super::problem::{Found, Place, PlanErrors, Raw};
use super::slips::{in_words, spoils_the_rest};
use crate::record::{RecordFormat, format_of};

/// A file longer than this many bytes is nobody's.
const LONGEST: usize = 1 << 20;
/// After so many slips in the TOML the rest is noise.
const MOST_SYNTAX_PROBLEMS: usize = 3;

/// The file as TOML, and its text without a byte order mark, where its places are. `accepted`: what
/// a line of it looks like.
pub(super) fn parsed<'t>(
    text: &'t str,
    accepted: &str,
) -> Result<(Spanned<DeTable<'t>>, &'t str), PlanErrors> {
    if text.len() > LONGEST {
        let message = format!("the file has {} bytes", text.len());
        return Err(PlanErrors::new("", whole_file(message, "at most 1 MiB")));
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let (root, errors) = DeTable::parse_recoverable(text);
    if errors.is_empty() {
        Ok((root, text))
    } else if let Some(what) = other_kind(text) {
        Err(PlanErrors::new(text, whole_file(what, accepted)))
    } else {
        let problems = syntax_problems(text, &errors, accepted);
        Err(PlanErrors::new(text, problems))
    }
}

/// What a file is that is no TOML all along, where it is something that is known.
fn other_kind(text: &str) -> Option<&'static str> {
    const MERGED: &str = "<<<<<<<";
    match format_of(text.as_bytes()) {
        Ok(RecordFormat::Csv) => Some("this is a table, as a logger writes it"),
        Ok(RecordFormat::Uddf) if !text.trim_start().starts_with(MERGED) => {
            Some("this is XML or a web page")
        }
        _ => None,
    }
}

/// Something wrong with the file as a whole.
pub(super) fn whole_file(message: impl Into<String>, accepted: impl Into<String>) -> Raw {
    Raw {
        place: Place::Span(0..0),
        table: String::new(),
        key: None,
        message: message.into(),
        accepted: Some(accepted.into()),
        meant: None,
    }
}

/// One problem in the place of many, where a whole plan is given as the record of a dive.
pub(super) fn plan_for_record(root: &DeTable<'_>) -> Option<Raw> {
    let (key, _) = root.get_key_value(top::PROFILE_TABLE.name)?;
    Some(Raw {
        place: Place::Span(key.span()),
        ..whole_file(
            "this is a plan, not what divers wrote down of a dive",
            "the plan first, then the records",
        )
    })
}

/// One problem in the place of many, where the record of a dive is given as a plan.
pub(super) fn record_for_plan(root: &DeTable<'_>) -> Option<Raw> {
    let only_divers = root.len() == 1 && root.contains_key("diver");
    let divers = root.get("diver").filter(|_| only_divers)?;
    let divers = divers.get_ref().as_array()?;
    let after = [pencil::GREATEST.name, pencil::END.name];
    let mut tables = divers.iter().filter_map(|diver| diver.get_ref().as_table());
    let written = tables.find_map(|diver| after.iter().find_map(|key| diver.get_key_value(*key)));
    let (key, _) = written?;
    Some(Raw {
        place: Place::Span(key.span()),
        ..whole_file(
            "this is what divers wrote down of a dive, not a plan",
            "a plan; `debrief` takes the plan first, then the records",
        )
    })
}

/// What is wrong with the TOML itself. One slip makes the parser stumble over much that follows:
/// one problem a line is told, and not more than [`MOST_SYNTAX_PROBLEMS`].
fn syntax_problems(text: &str, errors: &[toml::de::Error], accepted: &str) -> Found {
    let lines = Lines::new(text);
    let mut told: Vec<usize> = Vec::new();
    let mut found = Found::default();
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        let line = lines.line_of(span.start);
        if told.len() == MOST_SYNTAX_PROBLEMS {
            break;
        }
        if told.contains(&line) {
            continue;
        }
        told.push(line);
        found.note(|| Raw {
            place: Place::Span(span.clone()),
            table: String::new(),
            key: None,
            message: in_words(error.message(), text, &span, &lines),
            accepted: Some(accepted.to_owned()),
            meant: None,
        });
        if spoils_the_rest(error.message()) {
            break;
        }
    }
    found
}
