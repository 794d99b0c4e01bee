//! `hangbar explain` as a student with a calculator takes it: every line in numbers is read off
//! the screen, reckoned by a small calculator of this test's own, and must give the result that is
//! shown. The last results must be those of the briefing.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::expect_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::PathBuf;

use assert_cmd::Command;
use hangbar::briefing::{Briefing, brief};
use hangbar::dive::{Sample, trace};
use hangbar::dive::{Segment, SegmentKind};
use hangbar::explain::{ExplainError, Explanation, STRAY_UNITS, Step, Topic, explain};
use hangbar::gas::{NeedBy, PonyVerdict};
use hangbar::plan_file;
use hangbar::quantity::show::{Show, minutes_down};
use hangbar::quantity::{Depth, FreeVolume, GaugePressure, Time, UnitSystem};
use hangbar::tissue::Tissues;
use serde::Deserialize;

/// A result is shown to half a unit of its last decimal; a tie may go either way, and what two
/// calculators differ by in their sixteenth digit is far below this part of a unit.
const HALF_A_UNIT: f64 = 0.5 + 1e-6;
/// A result with fewer decimals than its unit usually has is exact, as `t = 2 min`.
const EXACT: f64 = 1e-9;
/// One screen.
const COLUMNS: usize = 80;
/// Closing figures, of two decimals at least, against the model: one in the last of them.
const CLOSING: f64 = 0.01;
/// Litres: what [`STRAY_UNITS`] leaves of the last of two decimals.
const LITRES: f64 = 0.01 * STRAY_UNITS;

/// Plans beside those of `plans/`: (what they are for, text, the words that show it).
const CASES: &[(&str, &str, &str)] = &[
    (
        "trimix at altitude, two gases to switch to, a hang, a pony, a diver alone",
        r#"
[site]
altitude = "400 m"
[profile]
depth = "55 m"
bottom_time = "25 min"
[gas]
bottom = "18/45"
decompression = ["EAN50", "oxygen"]
[reserve]
hang = { depth = "24 m", time = "5 min" }
[[diver]]
name = "Orsolya"
sac = "17 L/min"
cylinder = { size = "24 L", fill = "230 bar" }
pony = { size = "7 L", fill = "200 bar" }
stage = [
    { gas = "EAN50", size = "11 L", fill = "200 bar" },
    { gas = "oxygen", size = "7 L", fill = "200 bar" },
]
"#,
        "With two inert gases there is no formula",
    ),
    (
        "trimix: touching the depth is too much",
        "[profile]\ndepth = \"70 m\"\nbottom_time = \"6 min\"\n[gas]\nbottom = \"18/45\"\n\
         [model]\ngradient_factors = [10, 10]\n",
        "Above 0: over the limit, so the no-stop limit is 0 minutes.",
    ),
    (
        "trimix: no limit",
        "[profile]\ndepth = \"4 m\"\nbottom_time = \"40 min\"\n[gas]\nbottom = \"21/20\"\n",
        "Not above 0: still within the limit.",
    ),
    (
        "air: touching the depth is too much, ideal gas, the cylinder runs out",
        r#"
[profile]
depth = "60 m"
bottom_time = "20 min"
[model]
gradient_factors = [20, 20]
gas_law = "ideal"
[[diver]]
name = "Ines"
sac = "20 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
pony = { size = "2 L", fill = "8 bar" }
"#,
        "Above 0: over the limit, so the no-stop limit is 0 minutes.",
    ),
    (
        "air: it never holds more than it may; the floor decides; fresh water, 4-minute compartment",
        r#"
[site]
water = "fresh"
surface_pressure = "0.93 bar"
[profile]
depth = "5 m"
bottom_time = "50 min"
[model]
first_compartment = "1"
[[diver]]
name = "Ines"
sac = "12 L/min"
cylinder = { size = "15 L", fill = "200 bar" }
"#,
        "No limit.",
    ),
    (
        "air: a limit past 999 minutes",
        "[profile]\ndepth = \"7.4 m\"\nbottom_time = \"50 min\"\n",
        "Past 999 minutes: that counts as no limit.",
    ),
    (
        "feet and psi, staged, the pony short of the stops, a gauge in bar",
        r#"
units = "imperial"
[profile]
depth = "105 ft"
bottom_time = "22 min"
[[diver]]
name = "Ruan"
sac = "0.6 cuft/min"
cylinder = { rated = "100 cuft", at = "3442 psi", fill = "3300 psi" }
pony = { rated = "19 cuft", at = "3000 psi", fill = "2900 psi" }
[[diver]]
name = "Hanne"
sac = "20 psi/min"
cylinder = { rated = "80 cuft", at = "3000 psi", fill = "2900 psi" }
gauge = "bar"
"#,
        "It covers a straight ascent, but not the stops.",
    ),
    (
        "a minimum that no cylinder holds",
        "units = \"imperial\"\n[profile]\ndepth = \"150 ft\"\nbottom_time = \"40 min\"\n[[diver]]\n\
         name = \"Ines\"\nsac = \"30 L/min\"\ncylinder = { size = \"10 L\", fill = \"200 bar\" }\n",
        "more than any cylinder is filled to, and not worked out. The briefing says >9000 psi.",
    ),
    (
        "three levels, one above the other, out with a current",
        r#"
[site]
current = "0.4 kn"
[[profile.level]]
depth = "32 m"
time = "12 min"
[[profile.level]]
depth = "18 m"
time = "15 min"
[[profile.level]]
depth = "24 m"
time = "6 min"
[profile]
swim_speed = "0.9 kn"
out = "with"
[gas]
bottom = "EAN30"
[[diver]]
name = "Ines"
sac = "14 L/min"
cylinder = { size = "15 L", fill = "230 bar" }
pony = { size = "3 L", fill = "200 bar" }
[[diver]]
name = "Kai"
sac = "19 L/min"
cylinder = { size = "18 L", fill = "230 bar" }
"#,
        "Share to go out with",
    ),
];

// ---------------------------------------------------------------------------------------------
// A calculator

/// Reads `+ - * / ^ ( ) ln` and plain decimal numbers; anything else is an error.
struct Calculator<'a> {
    rest: &'a [u8],
}

impl Calculator<'_> {
    fn reckon(text: &str) -> Result<f64, String> {
        let squeezed: String = text.split_whitespace().collect();
        let mut calculator = Calculator {
            rest: squeezed.as_bytes(),
        };
        let value = calculator.sum()?;
        match calculator.rest {
            [] => Ok(value),
            rest => Err(format!("`{}` is left over", String::from_utf8_lossy(rest))),
        }
    }

    fn take(&mut self, sign: u8) -> bool {
        let found = self.rest.first() == Some(&sign);
        if found {
            self.rest = &self.rest[1..];
        }
        found
    }

    fn sum(&mut self) -> Result<f64, String> {
        let mut value = self.product()?;
        loop {
            if self.take(b'+') {
                value += self.product()?;
            } else if self.take(b'-') {
                value -= self.product()?;
            } else {
                return Ok(value);
            }
        }
    }

    fn product(&mut self) -> Result<f64, String> {
        let mut value = self.signed()?;
        loop {
            if self.take(b'*') {
                value *= self.signed()?;
            } else if self.take(b'/') {
                value /= self.signed()?;
            } else {
                return Ok(value);
            }
        }
    }

    fn signed(&mut self) -> Result<f64, String> {
        if self.take(b'-') {
            Ok(-self.signed()?)
        } else {
            self.power()
        }
    }

    fn power(&mut self) -> Result<f64, String> {
        let base = self.plain()?;
        if self.take(b'^') {
            Ok(base.powf(self.signed()?))
        } else {
            Ok(base)
        }
    }

    fn plain(&mut self) -> Result<f64, String> {
        if self.rest.starts_with(b"ln(") {
            self.rest = &self.rest[2..];
            return Ok(self.plain()?.ln());
        }
        if self.take(b'(') {
            let value = self.sum()?;
            return if self.take(b')') {
                Ok(value)
            } else {
                Err("a parenthesis is not closed".to_owned())
            };
        }
        let digits = self
            .rest
            .iter()
            .take_while(|c| c.is_ascii_digit() || **c == b'.')
            .count();
        let (number, rest) = self.rest.split_at(digits);
        self.rest = rest;
        let number = String::from_utf8_lossy(number);
        number.parse().map_err(|_| format!("no number: `{number}`"))
    }
}

#[test]
fn the_calculator_of_this_test_knows_the_order_of_things() {
    for (text, want) in [
        ("1 + 2 * 3", 7.0),
        ("(1 + 2) * 3", 9.0),
        ("8 - 2 - 1", 5.0),
        ("8 / 2 / 2", 2.0),
        ("1 - 2^(-4 / 2)", 0.75),
        ("-2 * 3 + (-0.5) * 4", -8.0),
        ("2 * 3^2", 18.0),
        ("ln(1) + 2", 2.0),
        ("3 * ln((8 - 2) / 6) + 1", 1.0),
    ] {
        assert!(
            (Calculator::reckon(text).unwrap() - want).abs() < 1e-15,
            "{text}"
        );
    }
    for text in [
        "", "1 +", "(1", "1)", "1 2 x", "P * 2", "1e5", "2,5", "exp(1)",
    ] {
        assert!(Calculator::reckon(text).is_err(), "{text}");
    }
}

// ---------------------------------------------------------------------------------------------
// What is printed

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Document {
    schema: String,
    title: Option<String>,
    verdict: String,
    how_to_read: String,
    explanations: Vec<Row>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    topic: String,
    depth_m: Option<f64>,
    diver: Option<String>,
    title: String,
    steps: Vec<StepRow>,
}

#[derive(Debug, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
enum StepRow {
    Words { text: String },
    Equation(Line),
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    title: String,
    symbol: String,
    symbols: String,
    numbers: String,
    result: String,
    unit: String,
    model: f64,
    meanings: Vec<MeaningRow>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MeaningRow {
    symbol: String,
    meaning: String,
}

/// One equation as the screen shows it; no symbols where the line above had the same form.
#[derive(Debug)]
struct Shown {
    symbol: String,
    symbols: Option<String>,
    numbers: String,
    result: String,
    unit: String,
}

/// The equations of the text output, wrapped lines put together again.
fn equations_on_screen(text: &str) -> Vec<Shown> {
    let mut blocks: Vec<String> = Vec::new();
    let mut open = false;
    for line in text.lines() {
        let indent = line.len() - line.trim_start().len();
        let meaning = line.trim_start().starts_with("where ");
        if indent < 4 || meaning {
            open = false;
        } else if indent == 4 {
            blocks.push(line.trim().to_owned());
            open = true;
        } else if open {
            let block = blocks.last_mut().unwrap();
            block.push(' ');
            block.push_str(line.trim());
        }
    }
    let read = |block: &String| {
        let parts: Vec<&str> = block.split(" = ").map(str::trim).collect();
        let (symbol, symbols, numbers, result) = match parts[..] {
            [symbol, numbers, result] => (symbol, None, numbers, result),
            [symbol, symbols, numbers, result] => (symbol, Some(symbols), numbers, result),
            _ => panic!("no equation: {block}"),
        };
        let (result, unit) = result.split_once(' ').unwrap_or((result, ""));
        Shown {
            symbol: symbol.to_owned(),
            symbols: symbols.map(str::to_owned),
            numbers: numbers.to_owned(),
            result: result.to_owned(),
            unit: unit.to_owned(),
        }
    };
    blocks.iter().map(read).collect()
}

fn decimals(digits: &str) -> usize {
    digits
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len())
}

/// Decimals that a result of a unit has unless it is exact with fewer.
fn usual_decimals(unit: &str) -> usize {
    match unit {
        "bar" | "L" | "min" => 2,
        "psi" => 1,
        "cuft" => 2,
        "atm min" => 4,
        "bar/min" => 5,
        "" => 4,
        other => panic!("what is {other}?"),
    }
}

fn unit_of_last_place(decimals: usize) -> f64 {
    10.0_f64.powi(-i32::try_from(decimals).unwrap())
}

/// Whether a student gets the result from the line in numbers.
fn student_agrees(numbers: &str, result: &str, unit: &str) -> Result<(), String> {
    let value = Calculator::reckon(numbers)?;
    let shown: f64 = result.parse().map_err(|_| format!("no result: {result}"))?;
    let off = (value - shown).abs();
    let enough = decimals(result) >= usual_decimals(unit);
    let right = off <= HALF_A_UNIT * unit_of_last_place(decimals(result)) && enough;
    if right || off <= EXACT {
        Ok(())
    } else {
        Err(format!("{numbers} is {value}, shown is {result} {unit}"))
    }
}

/// Words, numbers and signs of a line; a negative number in parentheses is one piece.
fn pieces(line: &str) -> Vec<String> {
    let mut pieces: Vec<String> = Vec::new();
    let mut word = false;
    for c in line.chars() {
        let of_word = c.is_ascii_alphanumeric() || c == '.' || c == '_';
        if of_word && word {
            pieces.last_mut().unwrap().push(c);
        } else if c != ' ' {
            pieces.push(c.to_string());
        }
        word = of_word;
    }
    let mut joined: Vec<String> = Vec::new();
    let mut index = 0;
    while index < pieces.len() {
        let negative = match pieces.get(index..index + 4) {
            Some([open, minus, number, close]) => {
                let number = number.starts_with(|c: char| c.is_ascii_digit());
                open == "(" && minus == "-" && number && close == ")"
            }
            _ => false,
        };
        if negative {
            joined.push(format!("-{}", pieces[index + 2]));
            index += 4;
        } else {
            joined.push(pieces[index].clone());
            index += 1;
        }
    }
    joined
}

/// The line in numbers is the line in symbols with each symbol's value put in: a result of a line
/// above with the digits that were printed there, anything else explained by then.
fn check_substitution(row: &Row) {
    let mut results: BTreeMap<&str, &str> = BTreeMap::new();
    let mut explained: BTreeSet<&str> = BTreeSet::new();
    for line in equations(row) {
        for meaning in &line.meanings {
            let new = explained.insert(&meaning.symbol);
            assert!(new, "{} is explained twice: {}", meaning.symbol, row.title);
            assert!(!meaning.meaning.is_empty());
            let used = pieces(&line.symbols).contains(&meaning.symbol);
            assert!(used, "{} is not in {}", meaning.symbol, line.symbols);
        }
        let (symbols, numbers) = (pieces(&line.symbols), pieces(&line.numbers));
        assert_eq!(
            symbols.len(),
            numbers.len(),
            "{} | {}",
            line.symbols,
            line.numbers
        );
        for (symbol, number) in symbols.iter().zip(&numbers) {
            let is_symbol = symbol.starts_with(|c: char| c.is_ascii_alphabetic()) && symbol != "ln";
            if !is_symbol {
                assert_eq!(symbol, number, "{} | {}", line.symbols, line.numbers);
            } else if let Some(printed) = results.get(symbol.as_str()) {
                assert_eq!(number, printed, "{symbol} in {}", line.numbers);
            } else {
                let known = explained.contains(symbol.as_str());
                assert!(known, "{symbol} is not explained: {}", row.title);
            }
        }
        results.insert(&line.symbol, &line.result);
    }
}

fn equations(row: &Row) -> impl DoubleEndedIterator<Item = &Line> {
    row.steps.iter().filter_map(|step| match step {
        StepRow::Equation(line) => Some(line),
        StepRow::Words { .. } => None,
    })
}

fn all_words(row: &Row) -> String {
    let words = row.steps.iter().filter_map(|step| match step {
        StepRow::Words { text } => Some(text.as_str()),
        StepRow::Equation(_) => None,
    });
    words.collect::<Vec<_>>().join(" ")
}

/// The last value of a symbol.
fn last(row: &Row, symbol: &str) -> Option<f64> {
    let line = equations(row).rfind(|line| line.symbol == symbol)?;
    Some(line.result.parse().unwrap())
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn run(arguments: &[&str], stdin: &str) -> (String, String, i32) {
    let output = Command::cargo_bin("hangbar")
        .unwrap()
        .current_dir(root())
        .arg("explain")
        .args(arguments)
        .write_stdin(stdin)
        .output()
        .unwrap();
    (
        String::from_utf8(output.stdout).unwrap(),
        String::from_utf8(output.stderr).unwrap(),
        output.status.code().unwrap(),
    )
}

/// Every plan of `plans/` and every case above: name and text.
fn every_plan() -> Vec<(String, String)> {
    let mut plans: Vec<(String, String)> = fs::read_dir(root().join("plans"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, fs::read_to_string(path).unwrap())
        })
        .collect();
    assert!(plans.len() >= 8, "the demo charter lost plans");
    plans.sort();
    plans.extend(
        CASES
            .iter()
            .map(|(name, text, _)| ((*name).to_owned(), (*text).to_owned())),
    );
    plans
}

fn briefing_of(text: &str) -> Briefing {
    brief(plan_file::read(text).unwrap()).unwrap()
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
fn each_case_is_about_what_it_says() {
    for (name, plan, words) in CASES {
        let (text, _, _) = run(&["-"], plan);
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(words), "{name}: `{words}` is not in\n{text}");
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

// ---------------------------------------------------------------------------------------------
// Against the briefing

fn rows_of(plan: &str) -> Vec<Row> {
    let (json, errors, _) = run(&["-", "--format", "json"], plan);
    assert!(errors.is_empty(), "{errors}");
    serde_json::from_str::<Document>(&json)
        .unwrap()
        .explanations
}

#[test]
fn the_limit_explained_is_the_limit_briefed() {
    let (mut found, mut none, mut touched) = (0, 0, 0);
    for (name, plan) in every_plan() {
        let briefing = briefing_of(&plan);
        let rows = rows_of(&plan);
        let row = rows
            .iter()
            .find(|row| row.topic == "no-stop-limit")
            .unwrap();
        match briefing.no_stop_limit {
            Some(limit) if limit.as_min() > 0.0 => {
                let printed = last(row, "t_limit").unwrap();
                assert!(
                    (printed - limit.as_min()).abs() <= CLOSING,
                    "{name}: {printed}"
                );
                let whole = minutes_down(Time::from_min(printed));
                assert!((whole - minutes_down(limit)).abs() < 0.5, "{name}");
                assert!(
                    row.title.contains(&format!(": {whole} minute")),
                    "{}",
                    row.title
                );
                found += 1;
            }
            Some(_) => {
                assert!(last(row, "x").unwrap() > 0.0, "{name}");
                assert!(row.title.ends_with(": 0 minutes"));
                touched += 1;
            }
            None => {
                let past = last(row, "t_limit").is_some_and(|limit| limit > 999.0);
                let never = last(row, "x").is_some_and(|over| over <= 0.0);
                assert!(past || never, "{name}");
                assert!(row.title.ends_with(": none within 999 minutes"));
                none += 1;
            }
        }
    }
    assert!(
        found >= 10 && none >= 3 && touched >= 2,
        "{found} {none} {touched}"
    );
}

#[test]
fn the_gas_explained_is_the_gas_briefed() {
    let (mut floors, mut ponies, mut empty, mut beyond) = (0, BTreeSet::new(), 0, 0);
    for (name, plan) in every_plan() {
        let briefing = briefing_of(&plan);
        let rows = rows_of(&plan);
        for budget in &briefing.divers {
            let who = format!("{name}: {}", budget.name);
            let row = rows
                .iter()
                .find(|row| row.diver.as_deref() == Some(&budget.name))
                .unwrap();
            let words = all_words(row);
            let gauge = Show(budget.gauge.unwrap_or(briefing.plan.units));
            let close = |symbol: &str, model: f64, allowed: f64| {
                let printed = last(row, symbol).unwrap_or_else(|| panic!("{who}: no {symbol}"));
                let off = (printed - model).abs();
                assert!(off <= allowed, "{who}: {symbol} is {printed}, not {model}");
            };
            // The figure on the gauge follows from the printed one just as from the model's.
            let on_gauge = |symbol: &str| match gauge.0 {
                UnitSystem::Metric => GaugePressure::from_bar(last(row, symbol).unwrap()),
                UnitSystem::Imperial => {
                    let psi = last(row, &format!("{symbol}_psi")).unwrap();
                    GaugePressure::from_psi(psi)
                }
            };
            // With several levels each has a reserve of its own, and a hang may be more than
            // the last: the briefing's is the greatest.
            let needs = equations(row)
                .filter(|line| line.symbol.starts_with("V_res") || line.symbol == "V_hang");
            let greatest = needs
                .map(|line| line.result.parse::<f64>().unwrap())
                .fold(0.0, f64::max);
            let off = (greatest - budget.reserve.as_l()).abs();
            assert!(off <= LITRES, "{who}: {greatest}, not {:?}", budget.reserve);
            close("V_start", budget.start.as_l(), LITRES);
            let minimum = gauge.pressure_up(budget.minimum_gas);
            assert!(
                words.contains(&format!("The briefing says {minimum}")),
                "{who}: {words}"
            );
            // The greatest minimum is on one of the level ends.
            let floor = briefing.plan.reserve.floor;
            if budget
                .levels
                .iter()
                .all(|level| level.need_by == NeedBy::Floor)
            {
                assert_eq!(budget.minimum_gas, floor, "{who}");
                assert!(last(row, "p_min").is_none(), "{who}");
                floors += 1;
            } else if minimum.starts_with('>') {
                assert!(last(row, "p_min").is_none(), "{who}");
                beyond += 1;
            } else {
                close("p_min", budget.minimum_gas.as_bar(), CLOSING);
                assert_eq!(gauge.pressure_up(on_gauge("p_min")), minimum, "{who}");
            }
            let turn = gauge.pressure_up(budget.turn);
            if turn.starts_with('>') {
                assert!(last(row, "p_turn").is_none(), "{who}");
            } else {
                close("p_turn", budget.turn.as_bar(), CLOSING);
                assert_eq!(gauge.pressure_up(on_gauge("p_turn")), turn, "{who}");
            }
            assert!(
                words.contains(&format!("The briefing says {turn}")),
                "{who}"
            );
            let holds = words.contains("nothing is missing, the reserve holds");
            let all = !words.contains("the reserve does not hold");
            let empty_on_the_bottom = words.contains("is empty before that");
            assert_eq!(
                holds && all && !empty_on_the_bottom,
                budget.reserve_holds(),
                "{who}"
            );
            match budget.levels.last().unwrap().left {
                Some(left) => {
                    close("p_left", left.as_bar(), CLOSING);
                    let shown = gauge.pressure_down(left);
                    assert_eq!(gauge.pressure_down(on_gauge("p_left")), shown, "{who}");
                }
                None => {
                    assert!(words.contains("is empty before that"), "{who}");
                    empty += 1;
                }
            }
            if let Some(pony) = &budget.pony {
                close("N_ascent", pony.need_ascent.as_l(), LITRES);
                close("N_full", pony.need_full.as_l(), LITRES);
                if pony.have.as_l() > 0.0 {
                    close("H", pony.have.as_l(), LITRES);
                }
                let show = Show(briefing.plan.units);
                let needed = match show.0 {
                    UnitSystem::Metric => FreeVolume::from_l(last(row, "N_full").unwrap()),
                    UnitSystem::Imperial => {
                        FreeVolume::from_cuft(last(row, "N_full_cuft").unwrap())
                    }
                };
                assert_eq!(
                    show.volume_up(needed),
                    show.volume_up(pony.need_full),
                    "{who}"
                );
                let verdict = match pony.verdict {
                    PonyVerdict::CoversAll => "it covers the way up with every stop",
                    PonyVerdict::CoversAscentOnly => "It covers a straight ascent, but not",
                    PonyVerdict::Short => "It does not even cover a straight ascent",
                };
                assert!(words.contains(verdict), "{who}: {words}");
                ponies.insert(verdict);
            }
        }
    }
    assert!(
        floors > 0 && empty > 0 && beyond > 0 && ponies.len() == 3,
        "{ponies:?}"
    );
}

/// The pressure of the sample at a run time.
fn sample_at(samples: &[Sample], time: Time) -> &Sample {
    let at = |sample: &&Sample| (sample.run_time.as_min() - time.as_min()).abs() < 1e-6;
    samples.iter().rfind(at).unwrap()
}

fn number_of(line: &Line, symbol: &str) -> Option<f64> {
    let at = pieces(&line.symbols)
        .iter()
        .position(|piece| piece == symbol)?;
    Some(pieces(&line.numbers)[at].parse().unwrap())
}

#[test]
fn each_stop_is_barred_a_minute_early_and_open_as_planned() {
    /// Bar: usual decimals of a pressure, and what they stray by.
    const BAR: f64 = 1e-4 * (STRAY_UNITS + 0.5);
    let (mut barred, mut by_choice) = (0, 0);
    for (name, plan) in every_plan() {
        let briefing = briefing_of(&plan);
        let rules = &briefing.plan.rules;
        let clean = Tissues::clean(rules.environment.surface());
        let samples = trace(rules, &briefing.schedule, &clean, Time::from_min(1.0)).unwrap();
        let is_stop = |segment: &&Segment| {
            matches!(segment.kind, SegmentKind::Stop | SegmentKind::SafetyStop)
        };
        let stops: Vec<&Segment> = briefing.schedule.segments.iter().filter(is_stop).collect();
        let rows = rows_of(&plan);
        let rows: Vec<&Row> = rows.iter().filter(|row| row.topic == "stop").collect();
        assert_eq!(rows.len(), stops.len(), "{name}");
        for (row, stop) in rows.iter().zip(stops) {
            assert!((row.depth_m.unwrap() - stop.from.as_m()).abs() < 1e-12);
            let words = all_words(row);
            if stop.kind == SegmentKind::SafetyStop {
                assert!(row.steps.len() == 1, "{name}");
                // Nothing is by choice on a dive on which nobody may go straight up.
                assert_eq!(
                    words.starts_with("By choice:"),
                    !briefing.schedule.staged,
                    "{name}"
                );
                assert_eq!(
                    row.title.starts_with("Safety stop"),
                    !briefing.schedule.staged,
                    "{name}"
                );
                by_choice += usize::from(!briefing.schedule.staged);
                continue;
            }
            let overs: Vec<f64> = equations(row)
                .filter(|line| line.symbol == "x")
                .map(|line| line.result.parse().unwrap())
                .collect();
            assert!(*overs.last().unwrap() <= 0.0, "{name}: {}", row.title);
            if words.contains("is barred") {
                assert!(overs.len() == 2 && overs[0] > 0.0, "{name}: {}", row.title);
                barred += 1;
            } else {
                assert!(
                    words.contains("safety stop holds until then")
                        || words.contains("the stop lasts to the first whole minute"),
                    "{name}: {words}"
                );
            }
            // What the compartment holds when the stop begins and when it ends.
            let number: usize = words
                .split("ompartment ")
                .find_map(|rest| rest.split(' ').next().unwrap().parse().ok())
                .unwrap();
            let held = |time| sample_at(&samples, time).compartments[number - 1].inert_bar;
            if briefing.plan.rules.bottom_gas.helium() <= 0.0 {
                let first = equations(row)
                    .find_map(|line| number_of(line, "p_0"))
                    .unwrap();
                assert!(
                    (first - held(stop.start)).abs() <= BAR,
                    "{name}: {}",
                    row.title
                );
                if let Some(leaving) = last(row, "p_1") {
                    assert!(
                        (leaving - held(stop.end)).abs() <= BAR,
                        "{name}: {}",
                        row.title
                    );
                }
            }
        }
    }
    assert!(barred >= 12 && by_choice >= 5, "{barred} {by_choice}");
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

#[test]
fn a_minimum_just_past_a_mark_of_the_gauge_is_printed_past_it() {
    let plan = |sac: f64| {
        format!(
            "[profile]\ndepth = \"30 m\"\nbottom_time = \"15 min\"\n[[diver]]\nname = \"A\"\n\
             sac = \"{sac:.12} L/min\"\ncylinder = {{ size = \"12 L\", fill = \"220 bar\" }}\n"
        )
    };
    // A breathing rate for which the minimum is 0.0001 bar over 100 bar.
    let (mut low, mut high) = (10.0_f64, 100.0_f64);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let minimum = briefing_of(&plan(middle)).divers[0].minimum_gas.as_bar();
        if minimum > 100.0001 {
            high = middle;
        } else {
            low = middle;
        }
    }
    let briefing = briefing_of(&plan(high));
    let model = briefing.divers[0].minimum_gas;
    assert!((model.as_bar() - 100.0001).abs() < 1e-6);
    let topics = [Topic::Gas("A".to_owned())];
    let gas = &explain(&briefing, &topics, UnitSystem::Metric).unwrap()[0];
    let line = equation(gas, "p_min");
    let printed: f64 = line.result.digits().parse().unwrap();
    assert!(printed > 100.0, "{printed}");
    let show = Show(UnitSystem::Metric);
    assert_eq!(show.pressure_up(model), "105 bar");
    assert_eq!(
        show.pressure_up(GaugePressure::from_bar(printed)),
        "105 bar"
    );
    student_agrees(&line.expression.numbers(), line.result.digits(), line.unit).unwrap();
}

fn equation<'a>(explanation: &'a Explanation, symbol: &str) -> &'a hangbar::explain::Equation {
    let find = |step: &'a Step| match step {
        Step::Equation(line) if line.result.symbol() == Some(symbol) => Some(line),
        _ => None,
    };
    explanation.steps.iter().find_map(find).unwrap()
}

// ---------------------------------------------------------------------------------------------
// Choosing

fn titles(arguments: &[&str]) -> Vec<String> {
    let mut all = arguments.to_vec();
    all.extend(["--format", "json"]);
    let (json, errors, _) = run(&all, "");
    let document: Document = serde_json::from_str(&json).unwrap_or_else(|_| panic!("{errors}"));
    document
        .explanations
        .into_iter()
        .map(|row| row.title)
        .collect()
}

#[test]
fn one_thing_or_several_can_be_chosen_and_nothing_chosen_is_everything() {
    let anvil = "plans/anvil.toml";
    let all = titles(&[anvil]);
    assert_eq!(all.len(), 6, "{all:?}");
    assert_eq!(titles(&[anvil, "--limit"]), all[..1]);
    assert_eq!(titles(&[anvil, "--stop", "12 m"]), all[1..2]);
    assert_eq!(titles(&[anvil, "--stop", "6m"]), all[3..4]);
    assert_eq!(titles(&[anvil, "--gas", "Nils"]), all[5..]);
    let several = [
        anvil, "--gas", "Nils", "--stop", "9m", "--stop", "6m", "--limit",
    ];
    let want = [&all[0], &all[2], &all[3], &all[5]];
    assert!(titles(&several).iter().eq(want));
    // The figure that is shown chooses the stop, in either units.
    assert_eq!(
        titles(&[anvil, "--stop", "40ft", "--units", "imperial"]).len(),
        1
    );
    let wreck = titles(&["plans/orla-finch-stern.toml", "--stop", "20 ft"]);
    assert!(
        wreck.len() == 1 && wreck[0].starts_with("Stop at 20 ft, "),
        "{wreck:?}"
    );
}

#[test]
fn what_differs_on_the_day_is_explained_as_it_differs() {
    let anvil = "plans/anvil.toml";
    let longer = titles(&[anvil, "--bottom-time", "30 min"]);
    let planned = titles(&[anvil]);
    assert!(
        longer[4].starts_with("Stop at 6 m, minute 39.33 to "),
        "{longer:?}"
    );
    assert!(
        planned[3].starts_with("Stop at 6 m, minute 28.33 to "),
        "{planned:?}"
    );
    let (text, _, _) = run(&[anvil, "--gas", "Nils", "--fill", "Nils=205 bar"], "");
    assert!(text.contains("((205 + 1.01325)"), "{text}");
    let (text, _, _) = run(&[anvil, "--limit", "--depth", "24 m"], "");
    assert!(text.contains("No-stop limit at 24 m on air: "), "{text}");
}

#[test]
fn an_unknown_stop_or_name_is_refused_with_what_there_is() {
    let no_stop =
        "[profile]\ndepth = \"12 m\"\nbottom_time = \"20 min\"\n[ascent]\nsafety_stop = false\n";
    for (arguments, stdin, words) in [
        (
            vec!["plans/anvil.toml", "--stop", "15m"],
            "",
            "there is no stop at 15 m; this dive stops at 12 m, 9 m and 6 m",
        ),
        (
            vec!["plans/orla-finch.toml", "--gas", "Bob"],
            "",
            "nobody is called \"Bob\"; the plan has Pella, Ruan and Hanne",
        ),
        (
            vec!["-", "--stop", "5 m"],
            no_stop,
            "there is no stop at 5 m; this dive makes none",
        ),
        (
            vec!["-", "--gas", "A"],
            no_stop,
            "nobody is called \"A\"; the plan has no divers",
        ),
        (
            vec!["plans/anvil.toml", "--stop", "6"],
            "",
            "`6` has no unit; accepted: ",
        ),
        (
            vec!["plans/anvil.toml", "--stop=-6m"],
            "",
            "accepted: 0.3 m to 200 m",
        ),
        (
            vec!["plans/nowhere.toml"],
            "",
            "cannot read plans/nowhere.toml",
        ),
        (vec!["-"], "depth = 3", "unknown key `depth`"),
    ] {
        let (text, errors, status) = run(&arguments, stdin);
        assert_eq!(status, 2, "{arguments:?}: {errors}");
        assert!(text.is_empty(), "{text}");
        assert!(errors.contains(words), "{arguments:?}: {errors}");
    }
    let briefing = briefing_of(no_stop);
    let nowhere = explain(
        &briefing,
        &[Topic::Stop(Depth::from_m(5.0))],
        UnitSystem::Metric,
    );
    assert!(matches!(nowhere, Err(ExplainError::NoStop { .. })));
    let nobody = explain(&briefing, &[Topic::Gas("A".to_owned())], UnitSystem::Metric);
    assert!(matches!(nobody, Err(ExplainError::NoDiver { .. })));
}

#[test]
fn a_no_go_is_explained_too_and_says_so_by_its_status() {
    let (text, errors, status) = run(&["plans/orla-finch-stern.toml"], "");
    assert_eq!((errors.as_str(), status), ("", 1));
    assert!(
        text.contains("More than the fill: there is nothing to go out with."),
        "{text}"
    );
}
