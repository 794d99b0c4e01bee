//! The screen and the JSON hold the same lines, and each gives its result.

use hangbar::explain::{STRAY_UNITS, Step, explain};
use hangbar::quantity::UnitSystem;

use crate::document::{Document, Line, Row, StepRow, briefing_of, equations, rows_of, run};
use crate::plans::every_plan;
use crate::reader::{
    check_substitution, decimals, equations_on_screen, student_agrees, unit_of_last_place,
    usual_decimals,
};

/// One screen.
const COLUMNS: usize = 80;

/// Takes the words off the front of a text on one line.
fn taken<'t>(text: &'t str, words: &str) -> Option<&'t str> {
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    text.trim_start().strip_prefix(&*words)
}

/// Whether every title, every paragraph and every equation with its meanings stands in a screen
/// that is one line, in order and with nothing in between.
fn check_every_step(screen: &str, rows: &[Row]) -> Result<(), String> {
    let mut rest = screen;
    let mut take = |words: &str| match taken(rest, words) {
        Some(behind) => {
            rest = behind;
            Ok(())
        }
        None => {
            let found: String = rest.chars().take(120).collect();
            Err(format!("`{words}` is not there, but `{found}`"))
        }
    };
    for row in rows {
        take(&row.title)?;
        let mut form = "";
        for step in &row.steps {
            match step {
                StepRow::Words { text } => {
                    take(text)?;
                    form = "";
                }
                StepRow::Equation(line) => {
                    take(&line.title)?;
                    // Lines of one form in a row show their symbols once.
                    if line.symbols == form {
                        take(&format!("{} =", line.symbol))?;
                    } else {
                        take(&format!("{} = {} =", line.symbol, line.symbols))?;
                    }
                    take(&format!("{} = {} {}", line.numbers, line.result, line.unit))?;
                    form = &line.symbols;
                    let mut mark = "where ";
                    for meaning in &line.meanings {
                        take(&format!("{mark}{}: {}", meaning.symbol, meaning.meaning))?;
                        mark = "";
                    }
                }
            }
        }
    }
    take("Cautions")
}

#[test]
fn a_step_that_is_missing_changed_or_out_of_order_is_noticed() {
    let plan = "[profile]\ndepth = \"24 m\"\nbottom_time = \"20 min\"\n";
    let rows = || rows_of(plan);
    let (text, _, _) = run(&["-"], plan);
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let first = &rows()[0].title;
    let screen = &flat[flat.find(first.as_str()).unwrap()..];
    check_every_step(screen, &rows()).unwrap();
    let steps = rows()[0].steps.len();
    assert!(steps > 5, "{steps}");
    for index in 0..steps - 1 {
        let mut without = rows();
        without[0].steps.remove(index);
        assert!(check_every_step(screen, &without).is_err(), "{index}");
        let mut swapped = rows();
        swapped[0].steps.swap(index, index + 1);
        assert!(check_every_step(screen, &swapped).is_err(), "{index}");
    }
    assert!(check_every_step(screen, &rows()[1..]).is_err());
}

#[test]
fn a_student_gets_every_result_of_every_plan_off_the_screen_and_out_of_the_json() {
    let mut lines = 0;
    for (name, plan) in every_plan() {
        let (text, errors, status) = run(&["-"], &plan);
        assert!(errors.is_empty() && status <= 1, "{name}: {errors}");
        let (json, _, json_status) = run(&["-", "--format", "json"], &plan);
        let document: Document = serde_json::from_str(&json).unwrap();
        assert_eq!(document.schema, "hangbar/explain/1");
        assert_eq!(
            document.title,
            briefing_of(&plan).plan.title().map(str::to_owned),
            "{name}"
        );
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
            check_substitution(row);
        }
        let (_, below) = flat.split_once(&document.how_to_read).unwrap();
        check_every_step(below, &document.explanations)
            .unwrap_or_else(|error| panic!("{name}: {error}"));
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
