//! What was found in a record, made fit for a message.

use crate::letters::{harmless, shortened};

/// So many characters of what was found are quoted.
const MOST_QUOTED: usize = 40;
/// So many characters of what another part says are passed on.
const MOST_TOLD: usize = 160;

/// What was found between quotes: nothing in it moves a terminal, and it is never long.
pub(super) fn quoted(text: &str) -> String {
    format!("`{}`", cut(text.trim(), MOST_QUOTED))
}

/// What a parser or the system says, one line of it.
pub(super) fn told(text: &str) -> String {
    cut(text, MOST_TOLD)
}

fn cut(text: &str, most: usize) -> String {
    harmless(&shortened(text, most))
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn what_is_quoted_is_short_and_moves_no_terminal() {
        assert_eq!(quoted(" 12 m "), "`12 m`");
        assert_eq!(
            quoted("\u{1b}[2J\u{202e}\n\u{61c}"),
            "`\\u{1b}[2J\\u{202e}\\n\\u{61c}`"
        );
        let long = quoted(&"é".repeat(41));
        assert_eq!(long, format!("`{}…`", "é".repeat(40)));
        assert_eq!(quoted(&"é".repeat(40)), format!("`{}`", "é".repeat(40)));
    }
}
