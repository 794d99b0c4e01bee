//! Text as HTML has it.

/// Whether a letter is written from right to left.
const fn is_from_right(c: char) -> bool {
    matches!(
        c,
        '\u{590}'..='\u{8ff}'
            | '\u{fb1d}'..='\u{fdff}'
            | '\u{fe70}'..='\u{fefe}'
            | '\u{10800}'..='\u{10fff}'
            | '\u{1e800}'..='\u{1efff}'
    )
}

/// A text with every character escaped that HTML acts on. Words written from right to left stand by
/// themselves, so that they turn no figure beside them around.
pub(in crate::render) fn escaped(text: &str) -> String {
    let mut html = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(start) = rest.find(is_from_right) {
        let from = &rest[start..];
        let end = end_of_run(from);
        push(&mut html, &rest[..start]);
        html.push_str("<bdi>");
        push(&mut html, &from[..end]);
        html.push_str("</bdi>");
        rest = &from[end..];
    }
    push(&mut html, rest);
    html
}

/// Where words written from right to left end, those behind a blank included.
fn end_of_run(text: &str) -> usize {
    let mut end = 0;
    for (at, c) in text.char_indices() {
        if is_from_right(c) {
            end = at + c.len_utf8();
        } else if c != ' ' {
            break;
        }
    }
    end
}

/// A text escaped, where no tags may be: in a title, in a drawing.
pub(in crate::render) fn plain(text: &str) -> String {
    let mut html = String::with_capacity(text.len());
    push(&mut html, text);
    html
}

fn push(html: &mut String, text: &str) {
    for c in text.chars() {
        match c {
            '&' => html.push_str("&amp;"),
            '<' => html.push_str("&lt;"),
            '>' => html.push_str("&gt;"),
            '"' => html.push_str("&quot;"),
            '\'' => html.push_str("&#39;"),
            c => html.push(c),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{escaped, plain};

    #[test]
    fn nothing_is_left_that_html_acts_on() {
        let name = "</td><script>alert('x')</script>&amp;\"";
        assert_eq!(
            escaped(name),
            "&lt;/td&gt;&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;&amp;amp;&quot;"
        );
    }

    #[test]
    fn words_from_right_to_left_stand_by_themselves() {
        assert_eq!(
            escaped("Tove 50 bar, محمد علي 60 bar, דנה 55 bar"),
            "Tove 50 bar, <bdi>محمد علي</bdi> 60 bar, <bdi>דנה</bdi> 55 bar"
        );
        assert_eq!(escaped("محمد"), "<bdi>محمد</bdi>");
        assert_eq!(plain("<محمد>"), "&lt;محمد&gt;");
    }
}
