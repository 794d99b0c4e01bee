//! Any text: a plan, or faults with places inside it; never a panic, and nothing that a terminal
//! acts on.

use hangbar::plan_file::{Overrides, PlanErrors, read, read_pencil, read_with};
use proptest::prelude::*;

use crate::pencil::SLATE;
use crate::plans::{DRIFT, PIER, WALL, edited};

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// A good plan with a piece cut out and something else put there: a plan or faults with
    /// places inside the text, never a panic, and nothing that a terminal acts on.
    #[test]
    fn any_edit_of_a_good_plan_gives_a_plan_or_faults_with_places_in_it(
        which in prop::sample::select(vec![WALL, DRIFT, PIER]),
        at in 0.0..1.0_f64,
        cut in 0..40_usize,
        put in prop_oneof![
            prop::sample::select(vec![
                "", "\"", "'", "\"\"\"", "[", "[[", "]", "{", "}", "=", ".", ",", "#", "\n",
                "\r\n", "\r", "\t", "\0", "\u{1b}[31m", "\u{9b}", "\u{feff}", "\u{202e}", "é",
                "海", "𝛑", "nan", "inf", "-inf", "1e999", "-0.0", "0x7f", "9999999999999999999",
                "\\u001b", "\\ud800", "true", "1979-05-27", "[diver]", "[[before]]", "a.b.c = 1",
            ]).prop_map(str::to_owned),
            "\\PC{0,12}",
        ],
    ) {
        let chars: Vec<char> = which.chars().collect();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "a share of a short text"
        )]
        let start = (at * chars.len() as f64) as usize;
        let end = (start + cut).min(chars.len());
        let text: String =
            chars[..start].iter().copied().chain(put.chars()).chain(chars[end..].iter().copied()).collect();
        if let Err(errors) = read(&text) {
            check_places(&text, &errors)?;
        }
    }

    /// Any text at all.
    #[test]
    fn any_text_gives_a_plan_or_faults_with_places_in_it(text in "(?s).{0,200}") {
        if let Err(errors) = read(&text) {
            check_places(&text, &errors)?;
        }
    }

    /// Any text where a quantity, a name or a gas is wanted.
    #[test]
    fn any_text_as_a_value_gives_a_plan_or_faults_with_places_in_it(
        old in prop::sample::select(vec![
            "\"18 m\"", "\"16 L/min\"", "\"25 psi/min\"", "\"fresh\"", "\"09:40\"", "\"EAN32\"",
            "\"Juno\"", "\"Lantern Wall\"", "\"3000 psi\"", "[45, 80]", "1.8",
        ]),
        value in "[0-9.,eE+\u{2212}-]{0,6} ?(m|ft|min|bar|psi|L/min|psi/min|EAN|/|:|\\PC){0,3}",
    ) {
        let quoted = basic_string(&value);
        let text = edited(WALL, old, &quoted);
        if let Err(errors) = read(&text) {
            check_places(&text, &errors)?;
        }
        let overrides = Overrides {
            depth: Some(value.clone()),
            bottom_time: Some(value.clone()),
            fills: vec![("Juno".to_owned(), value.clone()), (value.clone(), "200 bar".to_owned())],
            splash: Some(value),
            ..Overrides::default()
        };
        prop_assert!(read_with(WALL, &overrides).is_err());
    }

    /// Any text where a value of a pencil log is wanted, and any text as one.
    #[test]
    fn any_text_gives_a_pencil_log_or_faults_with_places_in_it(
        old in prop::sample::select(vec![
            "\"Juno\"", "\"17.5 m\"", "\"38 min\"", "\"09:42\"", "\"10:28\"", "\"46.5 min\"",
            "\"210 bar\"", "\"1200 psi\"", "\"11 m\"",
        ]),
        value in "[0-9.,:eE+\u{2212}-]{0,6} ?(m|ft|min|bar|psi|h|/|:|\\PC){0,3}",
        text in "(?s).{0,200}",
    ) {
        let plan = read(WALL).unwrap();
        let broken = edited(SLATE, old, &basic_string(&value));
        for text in [&broken, &text] {
            if let Err(errors) = read_pencil(text, &plan) {
                check_places(text, &errors)?;
            }
        }
    }
}

/// A text in quotes as TOML has it: what may stand there as it is does.
fn basic_string(text: &str) -> String {
    let escaped = text.replace('\\', "\\\\").replace('"', "\\\"");
    format!("\"{escaped}\"")
}

fn check_places(text: &str, errors: &PlanErrors) -> Result<(), TestCaseError> {
    let lines: Vec<&str> = text
        .strip_prefix('\u{feff}')
        .unwrap_or(text)
        .split('\n')
        .collect();
    prop_assert!(!errors.problems().is_empty());
    let mut last = (0, 0);
    for problem in errors.problems() {
        let at = problem.position.as_ref().expect("no override was given");
        let line = lines.get(at.line - 1);
        prop_assert!(line.is_some(), "line {} of {}", at.line, lines.len());
        let length = line.unwrap().chars().count();
        prop_assert!(at.column <= length + 1, "column {} of {length}", at.column);
        prop_assert!(at.width >= 1);
        prop_assert!((at.line, at.column) >= last, "not in the order of the text");
        last = (at.line, at.column);
        prop_assert!(!problem.message.is_empty());
    }
    let rendered = errors.render("plan.toml");
    let acted_on = |c: char| c != '\n' && c.is_control();
    prop_assert!(!rendered.contains(acted_on), "{rendered:?}");
    Ok(())
}
