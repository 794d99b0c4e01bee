//! What must hold of everything that is shown.

use hangbar::letters::may_be_shown;
use hangbar::plan_file::PlanErrors;
use hangbar::report::document::NotFinite;
use serde::Serialize;
use serde::de::DeserializeOwned;
use textwrap::core::display_width;

/// Nothing in it that a terminal acts on, that turns text around or that nobody sees.
pub fn shown(text: &str) {
    let wrong = text.chars().find(|c| *c != '\n' && !may_be_shown(*c));
    assert!(wrong.is_none(), "{wrong:?} is shown in {text:?}");
}

/// A screen no wider than asked for, with nothing on it that is no number.
pub fn screen(text: &str, width: usize) {
    shown(text);
    for line in text.lines() {
        let columns = display_width(line);
        assert!(columns <= width, "{columns} of {width} columns: {line:?}");
    }
}

/// No figure that is none: `NaN` or `inf` as a word by itself, where no name says so.
pub fn figures(text: &str, names: &str) {
    for none in ["NaN", "inf", "-inf", "-0"] {
        if names.contains(none) {
            continue;
        }
        let found = text
            .split(|c: char| c.is_whitespace() || "(),;:<>=\"".contains(c))
            .any(|word| word == none);
        assert!(!found, "{none} as a figure in {text}");
    }
}

/// A document that can be built, reads back as itself, and has no more than its own form.
pub fn document<D: Serialize + DeserializeOwned>(document: Result<D, NotFinite>) -> String {
    let document = document.expect("every figure is finite");
    let text = serde_json::to_string(&document).expect("a document can be written");
    let read: D = serde_json::from_str(&text).expect("a document can be read");
    let again = serde_json::to_string(&read).expect("a document can be written");
    assert_eq!(text, again, "a document reads back as another one");
    text
}

/// Refusals with places inside the text, in its order, in words that may be shown.
pub fn refusals(text: &str, errors: &PlanErrors) {
    let lines: Vec<&str> = text
        .strip_prefix('\u{feff}')
        .unwrap_or(text)
        .split('\n')
        .collect();
    assert!(!errors.problems().is_empty(), "refused for nothing");
    let mut last = (0, 0);
    for problem in errors.problems() {
        assert!(!problem.message.is_empty());
        let Some(at) = &problem.position else {
            continue;
        };
        let line = lines.get(at.line - 1).expect("a line of the text");
        assert!(
            at.column <= line.chars().count() + 1,
            "column {} of {line:?}",
            at.column
        );
        assert!(
            at.width >= 1 && (at.line, at.column) >= last,
            "not in the order of the text"
        );
        last = (at.line, at.column);
    }
    let rendered = errors.render("plan.toml");
    shown(&rendered);
    assert!(
        rendered.len() < 64 << 10,
        "{} bytes of refusals",
        rendered.len()
    );
}
