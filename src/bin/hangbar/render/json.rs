//! Documents as JSON.

use std::fmt::Write;

use hangbar::letters::may_be_shown;
use hangbar::report::document::NotFinite;
use serde::Serialize;

/// A document over many lines, a newline at its end.
pub(crate) fn pretty(document: Result<impl Serialize, NotFinite>) -> Result<String, String> {
    let document = document.map_err(|error| error.to_string())?;
    let text = serde_json::to_string_pretty(&document).map_err(|error| error.to_string())?;
    Ok(escaped(text) + "\n")
}

/// A document on one line.
pub(crate) fn line(document: &impl Serialize) -> Result<String, String> {
    let text = serde_json::to_string(document).map_err(|error| error.to_string())?;
    Ok(escaped(text))
}

/// The same document with `\u202e` for what a terminal would act on: names of files have anything.
fn escaped(text: String) -> String {
    let is_plain = |c: char| c == '\n' || may_be_shown(c);
    if text.chars().all(is_plain) {
        return text;
    }
    let mut shown = String::with_capacity(text.len());
    for c in text.chars() {
        if is_plain(c) {
            shown.push(c);
            continue;
        }
        for unit in c.encode_utf16(&mut [0; 2]) {
            // A text takes whatever is written into it.
            let _ = write!(shown, "\\u{unit:04x}");
        }
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::line;

    #[test]
    fn what_moves_a_terminal_is_escaped_and_reads_the_same() {
        let name = "a\u{1b}[2J\u{202e}\u{9b}\u{e0001}é\n";
        let text = line(&name).unwrap();
        assert_eq!(text, r#""a\u001b[2J\u202e\u009b\udb40\udc01é\n""#);
        assert_eq!(serde_json::from_str::<String>(&text).unwrap(), name);
    }
}
