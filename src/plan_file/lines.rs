//! Places in a text: lines and columns of bytes.

use std::ops::Range;

use crate::letters::shortened;

/// Longest part of a line that is shown, in characters.
const MOST_SHOWN: usize = 120;
/// So many characters before a place are shown where the line is longer than that.
const BEFORE: usize = 40;

/// A place in the text of a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Position {
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1, in characters.
    pub column: usize,
    /// Characters that are meant, at least 1, on this line.
    pub width: usize,
    /// The line; of a long one the part around the place, with `…` where it is cut.
    pub text: String,
    /// Characters of that text before the place.
    pub lead: usize,
}

/// A text and where its lines begin, so that nobody has to count them for each place.
pub(super) struct Lines<'t> {
    text: &'t str,
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        let newlines = text.match_indices('\n').map(|(at, _)| at + 1);
        let starts = std::iter::once(0).chain(newlines).collect();
        Self { text, starts }
    }

    /// The line, from 1, in which a byte stands.
    pub(super) fn line_of(&self, at: usize) -> usize {
        self.starts.partition_point(|start| *start <= at).max(1)
    }

    pub(super) fn position(&self, span: Range<usize>) -> Position {
        let start = floor_boundary(self.text, span.start);
        let end = floor_boundary(self.text, span.end).max(start);
        let line = self.line_of(start);
        let line_start = self.starts.get(line - 1).copied().unwrap_or_default();
        let rest = &self.text[line_start..];
        let whole = rest.split('\n').next().unwrap_or_default();
        let marked_end = end.min(line_start + whole.len()).max(start);
        let before = self.text[line_start..start].chars().count();
        let (text, lead) = around(whole.trim_end_matches('\r'), before);
        Position {
            line,
            column: before + 1,
            width: self.text[start..marked_end].chars().count().max(1),
            text,
            lead,
        }
    }
}

fn floor_boundary(text: &str, index: usize) -> usize {
    let mut index = index.min(text.len());
    while !text.is_char_boundary(index) {
        index -= 1;
    }
    index
}

/// As much of a line around a place as is shown, and how many characters of it are before the place.
fn around(line: &str, before: usize) -> (String, usize) {
    if line.char_indices().nth(MOST_SHOWN).is_none() {
        return (line.to_owned(), before);
    }
    let left_out = before.saturating_sub(BEFORE);
    let begin = line
        .char_indices()
        .nth(left_out)
        .map_or(line.len(), |(at, _)| at);
    let part = shortened(&line[begin..], MOST_SHOWN);
    match left_out {
        0 => (part, before),
        _ => (format!("…{part}"), BEFORE + 1),
    }
}

#[cfg(test)]
mod tests {
    use super::Lines;

    #[test]
    fn a_byte_is_in_the_line_that_it_ends_or_stands_in() {
        let lines = Lines::new("ab\n\ncé\n");
        let found: Vec<usize> = (0..9).map(|at| lines.line_of(at)).collect();
        assert_eq!(found, [1, 1, 1, 2, 3, 3, 3, 3, 4]);
        assert_eq!(Lines::new("").line_of(7), 1);
    }

    #[test]
    fn a_place_past_the_end_or_inside_a_character_is_moved_to_one() {
        let lines = Lines::new("é = 1");
        let at = lines.position(1..2);
        assert_eq!((at.line, at.column, at.width), (1, 1, 1));
        let at = lines.position(90..99);
        assert_eq!((at.line, at.column, at.width), (1, 6, 1));
    }

    #[test]
    fn a_long_line_is_shown_around_the_place() {
        let text = format!("{}here{}", "<".repeat(300), ">".repeat(300));
        let at = Lines::new(&text).position(300..304);
        assert_eq!((at.column, at.width), (301, 4));
        let shown = format!("…{}here{}…", "<".repeat(40), ">".repeat(76));
        assert_eq!((at.text.as_str(), at.lead), (shown.as_str(), 41));
        let at = Lines::new(&text).position(10..12);
        assert_eq!((at.column, at.lead), (11, 10));
        assert_eq!(at.text, format!("{}…", "<".repeat(120)));
        let at = Lines::new(&text).position(604..604);
        assert_eq!((at.column, at.lead), (605, 41));
        assert_eq!(at.text, format!("…{}", ">".repeat(40)));
    }
}
