//! Why each figure is what it is, as a report.

use super::rail::Rail;
use super::sheet::{CAUTIONS, EquationLines, Report};
use crate::briefing::Briefing;
use crate::explain::{Equation, Explanation, HOW_TO_READ, Step};
use crate::quantity::UnitSystem;

/// Explanations of a dive, in order.
#[must_use]
pub fn explain(briefing: &Briefing, explanations: &[Explanation], units: UnitSystem) -> Report {
    let rail = Rail::new(briefing, units);
    let mut report = Report::default();
    report.title("Why: ", rail.title());
    rail.no_go_line(&mut report);
    report.paragraph(HOW_TO_READ);
    for explanation in explanations {
        report.heading(&explanation.title);
        // Lines of one form in a row show their symbols once.
        let mut form = String::new();
        for step in &explanation.steps {
            match step {
                Step::Words(words) => {
                    form.clear();
                    report.paragraph(words);
                }
                Step::Equation(equation) => {
                    let symbols = equation.expression.symbols();
                    let lines = lines(equation, (symbols != form).then(|| symbols.clone()));
                    report.paragraph(&equation.title);
                    report.equation(lines);
                    form = symbols;
                }
            }
        }
    }
    report.heading("Cautions");
    report.paragraph(CAUTIONS);
    report
}

fn lines(equation: &Equation, symbols: Option<String>) -> EquationLines {
    let result = &equation.result;
    let meanings = equation.meanings.iter();
    EquationLines {
        symbol: result.symbol().unwrap_or_default().to_owned(),
        symbols,
        numbers: equation.expression.numbers(),
        result: format!("{} {}", result.digits(), equation.unit)
            .trim_end()
            .to_owned(),
        meanings: meanings
            .map(|meaning| format!("{}: {}", meaning.symbol, meaning.meaning))
            .collect(),
    }
}
