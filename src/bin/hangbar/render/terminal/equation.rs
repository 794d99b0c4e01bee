//! Equations, line by line.

use hangbar::report::{EquationLines, NO_BREAK};

use super::Terminal;

/// Blanks before the lines of an equation.
const INDENT: &str = "    ";

impl Terminal {
    /// Symbols, numbers and result, each behind its equals sign; then what is new.
    pub(super) fn equation(&mut self, lines: &EquationLines) {
        let first = format!("{INDENT}{} = ", lines.symbol);
        let further = format!("{INDENT}  = ");
        match &lines.symbols {
            Some(symbols) => {
                self.hanging(&first, &at_operators(symbols));
                self.hanging(&further, &at_operators(&lines.numbers));
            }
            None => self.hanging(&first, &at_operators(&lines.numbers)),
        }
        self.hanging(&further, &lines.result);
        let mut mark = format!("{INDENT}where ");
        for meaning in &lines.meanings {
            self.hanging(&mark, meaning);
            mark = " ".repeat(mark.len());
        }
    }
}

/// A line that is broken before an operator and nowhere else.
fn at_operators(line: &str) -> String {
    let mut kept = line.to_owned();
    for operator in ["+", "-", "*", "/"] {
        kept = kept.replace(&format!("{operator} "), &format!("{operator}{NO_BREAK}"));
    }
    kept
}
