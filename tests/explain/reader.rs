//! Reads equations off the screen as a student does.

use std::collections::{BTreeMap, BTreeSet};

use crate::calculator::Calculator;
use crate::document::{Row, equations};

/// A result is shown to half a unit of its last decimal; a tie may go either way, and what two
/// calculators differ by in their sixteenth digit is far below this part of a unit.
const HALF_A_UNIT: f64 = 0.5 + 1e-6;
/// A result with fewer decimals than its unit usually has is exact, as `t = 2 min`.
const EXACT: f64 = 1e-9;

/// One equation as the screen shows it; no symbols where the line above had the same form.
#[derive(Debug)]
pub(crate) struct Shown {
    pub(crate) symbol: String,
    pub(crate) symbols: Option<String>,
    pub(crate) numbers: String,
    pub(crate) result: String,
    pub(crate) unit: String,
}

/// The equations of the text output, wrapped lines put together again.
pub(crate) fn equations_on_screen(text: &str) -> Vec<Shown> {
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

pub(crate) fn decimals(digits: &str) -> usize {
    digits
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len())
}

/// Decimals that a result of a unit has unless it is exact with fewer.
pub(crate) fn usual_decimals(unit: &str) -> usize {
    match unit {
        "bar" | "L" | "min" | "%" => 2,
        "psi" => 1,
        "cuft" => 2,
        "atm min" => 4,
        "bar/min" => 5,
        "" => 4,
        other => panic!("what is {other}?"),
    }
}

pub(crate) fn unit_of_last_place(decimals: usize) -> f64 {
    10.0_f64.powi(-i32::try_from(decimals).unwrap())
}

/// Whether a student gets the result from the line in numbers.
pub(crate) fn student_agrees(numbers: &str, result: &str, unit: &str) -> Result<(), String> {
    let value = Calculator::value_of(numbers)?;
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
pub(crate) fn pieces(line: &str) -> Vec<String> {
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
pub(crate) fn check_substitution(row: &Row) {
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
