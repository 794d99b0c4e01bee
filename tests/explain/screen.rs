//! The screen and the JSON hold the same lines, and each gives its result.

use hangbar::explain::{STRAY_UNITS, Step, explain};
use hangbar::units::UnitSystem;

use crate::document::{Document, Line, all_words, briefing_of, equations, run};
use crate::plans::every_plan;
use crate::reader::{
    check_substitution, decimals, equations_on_screen, student_agrees, unit_of_last_place,
    usual_decimals,
};

/// One screen.
const COLUMNS: usize = 80;

#[test]
fn a_student_gets_every_result_of_every_plan_off_the_screen_and_out_of_the_json() {
    let mut lines = 0;
    for (name, plan) in every_plan() {
        let (text, errors, status) = run(&["-"], &plan);
        assert!(errors.is_empty() && status <= 1, "{name}: {errors}");
        let (json, _, json_status) = run(&["-", "--format", "json"], &plan);
        let document: Document = serde_json::from_str(&json).unwrap();
        assert_eq!(document.schema, "hangbar/explain/1");
        assert_eq!(document.title, briefing_of(&plan).plan.title, "{name}");
        assert_eq!(
            (status, json_status),
            if document.verdict != "no-go" {
                (0, 0)
            } else {
                (1, 1)
            }
        );
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(&document.how_to_read));
        let shown = equations_on_screen(&text);
        let rows: Vec<&Line> = document.explanations.iter().flat_map(equations).collect();
        assert_eq!(shown.len(), rows.len(), "{name}");
        for (shown, row) in shown.iter().zip(rows) {
            if let Some(symbols) = &shown.symbols {
                assert_eq!(*symbols, row.symbols, "{name}");
            }
            let on_screen = [&shown.symbol, &shown.numbers, &shown.result, &shown.unit];
            assert_eq!(
                on_screen,
                [&row.symbol, &row.numbers, &row.result, &row.unit],
                "{name}"
            );
            student_agrees(&shown.numbers, &shown.result, &shown.unit)
                .unwrap_or_else(|error| panic!("{name}, {}: {error}", row.title));
            lines += 1;
        }
        for line in text.lines() {
            assert!(line.chars().count() <= COLUMNS, "{name}: {line}");
        }
        for row in &document.explanations {
            assert!(
                text.contains(&row.title) || flat.contains(&row.title),
                "{name}"
            );
            assert!(
                flat.contains(&all_words(row)) || row.steps.len() > 1,
                "{name}"
            );
            check_substitution(row);
        }
    }
    assert!(lines > 1000, "only {lines} lines were found on the screens");
}

#[test]
fn a_wrong_digit_anywhere_in_a_line_is_noticed() {
    let (text, _, _) = run(&["plans/anvil.toml", "--limit", "--stop", "6m"], "");
    let mut tampered = 0;
    for line in equations_on_screen(&text) {
        let unit = &line.unit;
        student_agrees(&line.numbers, &line.result, unit).unwrap();
        let up = |digits: &str| {
            let last = digits.pop_char();
            format!("{}{}", &digits[..digits.len() - 1], (last + 1) % 10)
        };
        assert!(student_agrees(&line.numbers, &up(&line.result), unit).is_err());
        // The first digit of the first number in the line.
        let at = line
            .numbers
            .find(|c: char| ('1'..='8').contains(&c))
            .unwrap();
        let digit = line.numbers.as_bytes()[at] - b'0' + 1;
        let mut numbers = line.numbers.clone();
        numbers.replace_range(at..=at, &digit.to_string());
        tampered += usize::from(student_agrees(&numbers, &line.result, unit).is_err());
    }
    assert!(tampered > 30, "only {tampered} lines notice");
}

trait LastDigit {
    fn pop_char(&self) -> u32;
}

impl LastDigit for str {
    fn pop_char(&self) -> u32 {
        self.chars().last().unwrap().to_digit(10).unwrap()
    }
}

#[test]
fn every_result_is_the_models_own_but_for_the_rounding_on_the_way() {
    for (name, plan) in every_plan() {
        let (json, _, _) = run(&["-", "--format", "json"], &plan);
        let document: Document = serde_json::from_str(&json).unwrap();
        for line in document.explanations.iter().flat_map(equations) {
            let decimals = decimals(&line.result).max(usual_decimals(&line.unit));
            let off = (line.result.parse::<f64>().unwrap() - line.model).abs();
            let allowed = (STRAY_UNITS + 0.5) * unit_of_last_place(decimals);
            assert!(
                off <= allowed,
                "{name}, {}: {} for {}",
                line.title,
                line.result,
                line.model
            );
        }
    }
}

/// A staged dive in which each way of ending a stop turns up, over many bottom times; in the
/// library, because a process a dive would take long.
#[test]
fn results_hold_over_many_depths_and_times() {
    let (mut equations, mut held_by_safety, mut more_digits) = (0, 0, 0);
    for depth in [18, 27, 33, 39, 45] {
        for minutes in [12, 17, 23, 26, 31] {
            let plan = format!(
                "[profile]\ndepth = \"{depth} m\"\nbottom_time = \"{minutes} min\"\n[[diver]]\n\
                 name = \"A\"\nsac = \"{minutes}.7 L/min\"\ncylinder = {{ size = \"24 L\", fill = \
                 \"220 bar\" }}\npony = {{ size = \"7 L\", fill = \"200 bar\" }}\n"
            );
            let briefing = briefing_of(&plan);
            for explanation in explain(&briefing, &[], UnitSystem::Metric).unwrap() {
                for step in &explanation.steps {
                    match step {
                        Step::Words(words) => {
                            held_by_safety += usize::from(words.contains("holds until then"));
                        }
                        Step::Equation(line) => {
                            let (numbers, result) =
                                (line.expression.numbers(), line.result.digits());
                            student_agrees(&numbers, result, line.unit).unwrap();
                            equations += 1;
                            let long = line.unit == "bar" && decimals(result) > 5;
                            more_digits += usize::from(long);
                        }
                    }
                }
            }
        }
    }
    assert!(
        equations > 2000 && held_by_safety > 0,
        "{equations} {held_by_safety}"
    );
    // Digits are added where a result needs them, and not as a habit.
    assert!(more_digits * 20 < equations, "{more_digits} of {equations}");
}
