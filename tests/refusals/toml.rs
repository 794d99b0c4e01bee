//! Slips in the TOML itself.

use hangbar::plan_file::read;

use crate::faults::{Fault, faults};
use crate::plans::{REEF, WALL, edited, only, refusal};

pub(crate) const FAULTS: &[Fault] = faults! {
    "a table that does not close": WALL "[site]" => "[site"
        | 5:6 "" "" | "the bracket of a table is not closed" | "all text in quotes" | "";
    "a quantity without quotes": WALL "\"18 m\"" => "18 m"
        | 12:9 "" "" | "`18 m` has no quotes" | "all text in quotes" | "";
    "a key without a value": WALL "depth = \"18 m\"" => "depth"
        | 12:6 "" "" | "`depth` has no =" | "all text in quotes" | "";
    "a key twice": WALL "depth = \"18 m\"" => "depth = \"18 m\"\ndepth = \"20 m\""
        | 13:1 "" "" | "`depth` stands twice, on line 12 already" | "all text in quotes" | "";
    "a time that is none": WALL "\"09:40\"" => "25:00:00"
        | 3:10 "" "" | "not TOML: invalid time" | "all text in quotes" | "";
    "a terminal's escape as it is": WALL "Lantern Wall" => "Lantern \u{1b}[31mWall"
        | 1:18 "" "" | "a character that cannot be shown stands here, \\u{1b}" | "all text in quotes" | "";
    "a nought byte": WALL "Lantern Wall" => "Lantern\0Wall"
        | 1:17 "" "" | "a character that cannot be shown stands here, \\u{0}" | "all text in quotes" | "";
};

#[test]
fn several_broken_lines_of_toml_are_all_reported() {
    let text = edited(WALL, "\"18 m\"", "18 m");
    let text = edited(&text, "\"210 bar\"", "210 bar");
    let text = edited(&text, "[model]", "[model");
    let errors = read(&text).unwrap_err();
    let lines: Vec<usize> = errors
        .problems()
        .iter()
        .map(|problem| problem.position.as_ref().unwrap().line)
        .collect();
    for line in [12, 22, 41] {
        assert!(
            lines.contains(&line),
            "line {line} is not among {lines:?}:\n{errors}"
        );
    }
    assert!(lines.is_sorted());
}

#[test]
fn a_text_that_does_not_close_is_refused_at_the_end_of_its_line() {
    let problem = refusal(WALL, "\"18 m\"", "\"18 m");
    let at = problem.position.unwrap();
    assert_eq!((at.line, at.column), (12, 14));
    assert_eq!(problem.message, "a text is not closed: its \" is missing");
}

#[test]
fn a_text_that_does_not_close_is_said_once_with_windows_line_ends() {
    let text = edited(WALL, "\"18 m\"", "\"18 m").replace('\n', "\r\n");
    assert_eq!(only(read(&text).unwrap_err()).position.unwrap().line, 12);
}

/// One bracket is missing on line 23.
#[test]
fn a_list_that_does_not_close_is_told_in_few_words() {
    let errors = read(&edited(WALL, "[45, 80]", "[45, 80")).unwrap_err();
    let first = errors.problems()[0].position.as_ref().unwrap().line;
    assert!((23..=24).contains(&first), "line {first}");
    assert!(
        errors.problems().len() <= 3,
        "{} problems",
        errors.problems().len()
    );
}

#[test]
fn a_slip_in_the_toml_is_told_what_a_line_looks_like() {
    for (old, new) in [
        ("\"18 m\"", "18 m"),
        ("[profile]", "[profile"),
        ("depth = \"18 m\"", "depth"),
        ("depth = \"18 m\"", "depth = \"18 m\"\ndepth = \"20 m\""),
    ] {
        let problem = refusal(REEF, old, new);
        let accepted = problem.accepted.unwrap();
        assert!(accepted.contains("as depth = \"28 m\" under a [profile]"));
    }
}
