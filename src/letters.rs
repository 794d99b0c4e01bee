//! Text from outside: what of it may be shown, and how little of it; names that are spelled alike.

use unicode_normalization::UnicodeNormalization as _;

/// Whether a character may stand in a name or a title, and on a screen as it is.
///
/// None that a terminal acts on, that turns the text around it, that nobody sees, or that may not
/// stand in XML.
///
/// # Example
/// ```
/// use hangbar::letters::may_be_shown;
/// assert!("Zoë 海 🤿".chars().all(may_be_shown));
/// assert!(!['\u{1b}', '\u{202e}', '\u{200b}', '\u{feff}', '\u{ffff}'].into_iter().any(may_be_shown));
/// ```
#[must_use]
pub fn may_be_shown(c: char) -> bool {
    !(c.is_control() || turns(c) || is_unseen(c) || is_no_character(c))
}

/// Direction marks, and separators that end a line or a paragraph.
const fn turns(c: char) -> bool {
    matches!(
        c,
        '\u{61c}'
            | '\u{200e}'
            | '\u{200f}'
            | '\u{2028}'..='\u{202e}'
            | '\u{2066}'..='\u{206f}'
    )
}

/// What takes no room: with it two names look like one.
const fn is_unseen(c: char) -> bool {
    matches!(
        c,
        '\u{ad}'
            | '\u{34f}'
            | '\u{115f}'
            | '\u{1160}'
            | '\u{17b4}'
            | '\u{17b5}'
            | '\u{180b}'..='\u{180f}'
            | '\u{200b}'..='\u{200d}'
            | '\u{2060}'..='\u{2065}'
            | '\u{3164}'
            | '\u{feff}'
            | '\u{ffa0}'
            | '\u{fff9}'..='\u{fffb}'
            | '\u{e0000}'..='\u{e0fff}'
    )
}

/// The last two of each plane, and 32 more: no characters, and two of them not allowed in XML.
const fn is_no_character(c: char) -> bool {
    matches!(c, '\u{fdd0}'..='\u{fdef}') || c as u32 & 0xfffe == 0xfffe
}

/// A text with each character that may not be shown written out: `\u{202e}`, `\n`.
///
/// # Example
/// ```
/// use hangbar::letters::harmless;
/// assert_eq!(harmless("Ines\u{1b}[2J\u{202e}\n"), "Ines\\u{1b}[2J\\u{202e}\\n");
/// ```
#[must_use]
pub fn harmless(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for c in text.chars() {
        if may_be_shown(c) {
            shown.push(c);
        } else {
            shown.extend(c.escape_default());
        }
    }
    shown
}

/// A text with each letter and its accents as one character where there is one (NFC): `e` and an
/// accent behind it is `é`, as most keyboards write it.
///
/// Two writers who mean one name write one name, whatever their machines make of the accents. Only
/// spellings that look alike become one; letters that merely resemble each other stay apart.
///
/// # Example
/// ```
/// use hangbar::letters::composed;
/// assert_eq!(composed("Zoe\u{308}"), "Zo\u{eb}");
/// assert_eq!(composed("Zoe"), "Zoe");
/// ```
#[must_use]
pub fn composed(text: &str) -> String {
    text.nfc().collect()
}

/// So many characters of a text, and `…` where there are more.
pub(crate) fn shortened(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_owned(),
    }
}

/// What was found, as a message quotes it: harmless and short.
pub(crate) fn quotable(text: &str) -> String {
    const MOST: usize = 60;
    harmless(&shortened(text.trim(), MOST))
}

#[cfg(test)]
mod tests {
    use super::{harmless, may_be_shown, quotable, shortened};

    #[test]
    fn letters_of_many_people_may_be_shown() {
        for name in [
            "Zoë",
            "Zoe\u{308}",
            "Ørjan",
            "Łucja",
            "海斗",
            "ประเสริฐ",
            "محمد",
            "❤\u{fe0f}",
        ] {
            assert_eq!(harmless(name), name);
        }
    }

    #[test]
    fn what_moves_hides_or_breaks_is_written_out() {
        for (c, written) in [
            ('\0', "\\u{0}"),
            ('\t', "\\t"),
            ('\u{7f}', "\\u{7f}"),
            ('\u{9b}', "\\u{9b}"),
            ('\u{ad}', "\\u{ad}"),
            ('\u{200b}', "\\u{200b}"),
            ('\u{200f}', "\\u{200f}"),
            ('\u{2029}', "\\u{2029}"),
            ('\u{202a}', "\\u{202a}"),
            ('\u{2069}', "\\u{2069}"),
            ('\u{fdd0}', "\\u{fdd0}"),
            ('\u{fffe}', "\\u{fffe}"),
            ('\u{10ffff}', "\\u{10ffff}"),
            ('\u{e0041}', "\\u{e0041}"),
        ] {
            assert!(!may_be_shown(c), "{written}");
            assert_eq!(harmless(&format!("a{c}b")), format!("a{written}b"));
        }
    }

    #[test]
    fn a_text_is_cut_between_characters() {
        assert_eq!(shortened("Zoë", 3), "Zoë");
        assert_eq!(shortened("Zoë!", 3), "Zoë…");
        assert_eq!(quotable(&" é".repeat(200)).chars().count(), 61);
    }
}
