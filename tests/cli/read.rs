//! Reads what the command prints.

use serde_json::Value;

/// The codes of a document's findings of one level.
pub(crate) fn codes(document: &Value, level: &str) -> Vec<String> {
    let findings = document["findings"].as_array().unwrap().iter();
    findings
        .filter(|finding| finding["level"] == level)
        .map(|finding| finding["code"].as_str().unwrap().to_owned())
        .collect()
}

pub(crate) fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

/// A text with its line ends and indents as single blanks.
pub(crate) fn flowing(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The lines under a heading.
pub(crate) fn section<'t>(text: &'t str, heading: &str) -> Vec<&'t str> {
    let from_heading = text.lines().skip_while(|line| *line != heading);
    from_heading
        .skip(1)
        .take_while(|line| !line.is_empty())
        .collect()
}

/// The lines that take more than 80 columns.
pub(crate) fn too_wide(text: &str) -> Vec<String> {
    let wide = |line: &&str| line.chars().map(columns).sum::<usize>() > 80;
    text.lines().filter(wide).map(str::to_owned).collect()
}

/// Columns of a character on a terminal, as far as these tests go.
fn columns(c: char) -> usize {
    let wide = matches!(c, '\u{1100}'..='\u{115f}' | '\u{2e80}'..='\u{a4cf}' | '\u{ac00}'..='\u{d7a3}'
        | '\u{f900}'..='\u{faff}' | '\u{fe30}'..='\u{fe6f}' | '\u{ff00}'..='\u{ff60}');
    if wide { 2 } else { 1 }
}

/// A text without what colours it.
pub(crate) fn without_colour(text: &str) -> String {
    let mut parts = text.split("\u{1b}[");
    let mut plain = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let (figures, rest) = part.split_once('m').expect("every sequence is a colour");
        let is_colour = figures.chars().all(|c| c.is_ascii_digit() || c == ';');
        assert!(is_colour, "{figures} is no colour");
        plain.push_str(rest);
    }
    plain
}
