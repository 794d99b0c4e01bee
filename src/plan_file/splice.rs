//! Changes in the text of a plan file that leave every other byte as it is.

use std::ops::Range;

/// Changes of one text, each in a place of its own.
pub(super) struct Splices<'t> {
    text: &'t str,
    changes: Vec<(Range<usize>, String)>,
}

impl<'t> Splices<'t> {
    pub(super) const fn of(text: &'t str) -> Self {
        Self {
            text,
            changes: Vec::new(),
        }
    }

    /// How the file ends its lines.
    pub(super) fn line_end(&self) -> &'static str {
        if self.text.contains("\r\n") {
            "\r\n"
        } else {
            "\n"
        }
    }

    /// Puts other text in a place.
    pub(super) fn replace(&mut self, place: Range<usize>, with: impl Into<String>) {
        self.changes.push((place, with.into()));
    }

    /// Puts text between two bytes.
    pub(super) fn insert(&mut self, at: usize, text: impl Into<String>) {
        self.replace(at..at, text);
    }

    /// Puts another value in place of one, and says beside it where it comes from, as far as a
    /// comment may stand there; what the writer said of the old value goes on saying it.
    pub(super) fn replace_saying(&mut self, value: Range<usize>, with: &str, said: &str) {
        let rest = self.rest_of_line(value.end);
        let old = &self.text[value.clone()];
        let comment = match rest.trim_start() {
            "" => format!(" # {said}"),
            comment if comment == format!("# {said}") => String::new(),
            comment if comment.starts_with(&format!("# {said}, was ")) => String::new(),
            comment if comment.starts_with('#') && !old.contains('\n') => {
                format!(" # {said}, was {old}")
            }
            _ => String::new(),
        };
        self.replace(value, format!("{with}{comment}"));
    }

    /// Takes the line of a key and its value out; a comment at its end stays as a line.
    pub(super) fn take_out(&mut self, key: usize, value: Range<usize>) {
        let from = self.text[..key].rfind('\n').map_or(0, |end| end + 1);
        let rest = self.rest_of_line(value.end);
        let comment = rest.trim_start();
        let to = if comment.is_empty() {
            self.after_line(value.end)
        } else {
            value.end + rest.len() - comment.len()
        };
        self.replace(from..to, "");
    }

    /// What stands on a line from a byte on, without its end.
    fn rest_of_line(&self, from: usize) -> &'t str {
        let rest = &self.text[from..];
        rest.split('\n').next().unwrap_or_default().trim_end()
    }

    /// Where the next line begins; the end of the text where there is none.
    pub(super) fn after_line(&self, from: usize) -> usize {
        let next = self.text[from..].find('\n');
        next.map_or(self.text.len(), |end| from + end + 1)
    }

    /// The text with all changes.
    pub(super) fn apply(mut self) -> String {
        self.changes.sort_by_key(|(place, _)| place.start);
        let mut changed = String::with_capacity(self.text.len());
        let mut at = 0;
        for (place, with) in &self.changes {
            changed.push_str(&self.text[at..place.start]);
            changed.push_str(with);
            at = place.end;
        }
        changed.push_str(&self.text[at..]);
        changed
    }
}
