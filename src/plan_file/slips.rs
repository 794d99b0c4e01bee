//! Slips in the TOML, in words for who never heard of TOML: by what stands at the place, and by what
//! the parser says only where that tells nothing.

use std::ops::Range;

use super::lines::Lines;
use crate::letters::{may_be_shown, quotable};

/// Quotation marks that a word processor or a telephone puts in the place of straight ones.
const CURLY: [char; 10] = ['“', '”', '„', '‟', '‘', '’', '‚', '«', '»', '″'];

/// What is wrong at a place; `said` is the parser's word for it.
pub(super) fn in_words(said: &str, text: &str, span: &Range<usize>, lines: &Lines<'_>) -> String {
    let place = Place::of(text, span.start);
    by_the_text(&place)
        .or_else(|| by_the_parser(said, &place, lines))
        .unwrap_or_else(|| format!("not TOML: {}", said.replace('\n', " ")))
}

/// Whether what comes after a slip is noise: a bracket that was meant to be closed before it.
pub(super) fn spoils_the_rest(said: &str) -> bool {
    let spoils = [
        "missing comma between",
        "missing key for inline",
        "unclosed array",
    ];
    spoils.iter().any(|begin| said.starts_with(begin)) && !said.starts_with("unclosed array table")
}

/// A place and its line.
struct Place<'t> {
    /// Where the line begins.
    from: usize,
    /// The line before the place, and from the place on.
    before: &'t str,
    rest: &'t str,
    text: &'t str,
}

impl<'t> Place<'t> {
    fn of(text: &'t str, at: usize) -> Self {
        let mut at = at.min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        let (before, rest) = text.split_at(at);
        let from = before.rfind('\n').map_or(0, |end| end + 1);
        let end = rest.find('\n').unwrap_or(rest.len());
        Self {
            from,
            before: &before[from..],
            rest: &rest[..end],
            text,
        }
    }

    fn line(&self) -> String {
        format!("{}{}", self.before, self.rest)
    }

    /// The rest up to a comment or a comma, for a message.
    fn piece(&self) -> String {
        let piece = self.rest.split(['#', ',', '}', ']']).next();
        quotable(piece.unwrap_or_default())
    }
}

fn by_the_text(place: &Place<'_>) -> Option<String> {
    let first = place.rest.chars().next()?;
    let line = place.line();
    let trimmed = line.trim();
    if first == '\r' && place.rest.len() > 1 || place.before.contains('\r') {
        let message =
            "a line ends with a carriage return alone: save the file with usual line ends";
        return Some(message.to_owned());
    }
    if !may_be_shown(first) && first != '\t' && first != '\r' {
        let written = first.escape_default();
        return Some(format!(
            "a character that cannot be shown stands here, {written}"
        ));
    }
    if ["<<<<<<<", "=======", ">>>>>>>"]
        .iter()
        .any(|mark| trimmed.starts_with(mark))
    {
        return Some("a merge of two versions has left its mark here".to_owned());
    }
    if ["//", ";", "/*"]
        .iter()
        .any(|mark| trimmed.starts_with(mark))
    {
        return Some("a comment begins with #".to_owned());
    }
    CURLY
        .contains(&first)
        .then(|| format!("{first} is no quotation mark of a plan; a straight one is \""))
}

fn by_the_parser(said: &str, place: &Place<'_>, lines: &Lines<'_>) -> Option<String> {
    let begins = |begin: &str| said.starts_with(begin);
    let piece = place.piece();
    let message = if begins("duplicate key") {
        twice(place, lines)
    } else if begins("string values must be quoted") && piece.is_empty() {
        "nothing stands behind =".to_owned()
    } else if begins("string values must be quoted") {
        format!("`{piece}` has no quotes")
    } else if begins("invalid boolean") {
        format!("`{piece}` is neither true nor false: both are written small")
    } else if begins("key with no value") {
        let before = place.before.trim();
        let key = before.trim_end_matches(':').trim_end();
        match (key, quotable(key)) {
            ("", _) => return None,
            (_, shown) if key.len() < before.len() || place.rest.trim_start().starts_with(':') => {
                format!("a colon stands behind `{shown}`, where = belongs")
            }
            (_, shown) => format!("`{shown}` has no ="),
        }
    } else if begins("unexpected key or value") {
        let is_comma = place.rest.starts_with(',');
        let advice = if is_comma {
            ": decimals have a point, and a unit in quotes"
        } else {
            ", where the line should end"
        };
        format!("`{}` stands behind a value{advice}", quotable(place.rest))
    } else if begins("unclosed table") || begins("unclosed array table") {
        "the bracket of a table is not closed".to_owned()
    } else if begins("unclosed array") {
        "the bracket of a list is not closed".to_owned()
    } else if begins("unclosed inline table") {
        "a brace is not closed".to_owned()
    } else if begins("missing comma between key-value pairs") {
        "a comma is missing before this, or a brace before it is not closed".to_owned()
    } else if begins("missing comma between array elements") {
        "a comma is missing before this, or a bracket before it is not closed".to_owned()
    } else if begins("missing key for inline table") {
        "a brace before this is not closed".to_owned()
    } else if begins("invalid basic string, expected `\"`") {
        "a text is not closed: its \" is missing".to_owned()
    } else if begins("missing escaped value") {
        "a backslash in a text begins an escape: two of them make one, and text in single quotes \
         has none"
            .to_owned()
    } else {
        return None;
    };
    Some(message)
}

/// A key or a table that is there already, and where.
fn twice(place: &Place<'_>, lines: &Lines<'_>) -> String {
    let line = place.line();
    let line = line.trim();
    let before = &place.text[..place.from];
    if let Some(inner) = line.strip_prefix("[[") {
        let name = inner.split(']').next().unwrap_or_default();
        let first = first_line(before, lines, |line| line.starts_with(&format!("[{name}]")));
        let name = quotable(name);
        return if first.is_empty() {
            format!("`{name}` is in double brackets here, and is something else before")
        } else {
            format!("`{name}` is in double brackets here; in single ones{first}")
        };
    }
    if line.starts_with('[') {
        let name = line.split(']').next().unwrap_or_default();
        let first = first_line(before, lines, |line| line.starts_with(&format!("{name}]")));
        return format!("`{}]` stands twice{first}", quotable(name));
    }
    let ends_key = |c: char| c == '=' || c == '.' || c.is_whitespace();
    let key = place.rest.split(ends_key).next().unwrap_or_default();
    // In the same table, which begins with the last header before it.
    let begin = before.rfind("\n[").map_or(0, |at| at + 1);
    let is_key = |line: &str| {
        line.strip_prefix(key)
            .is_some_and(|rest| rest.trim_start().starts_with('='))
    };
    let first = first_line_from(before, begin, lines, is_key);
    format!("`{}` stands twice{first}", quotable(key))
}

fn first_line(text: &str, lines: &Lines<'_>, is_it: impl Fn(&str) -> bool) -> String {
    first_line_from(text, 0, lines, is_it)
}

/// `, on line 9 already`, or nothing.
fn first_line_from(
    text: &str,
    begin: usize,
    lines: &Lines<'_>,
    is_it: impl Fn(&str) -> bool,
) -> String {
    let mut at = begin;
    for line in text[begin..].split_inclusive('\n') {
        if is_it(line.trim()) {
            return format!(", on line {} already", lines.line_of(at));
        }
        at += line.len();
    }
    String::new()
}
