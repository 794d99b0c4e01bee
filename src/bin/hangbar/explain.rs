//! `hangbar explain`: why each figure is what it is, on the screen and as JSON.

use hangbar::briefing::Briefing;
use hangbar::explain::{Equation, ExplainError, Explanation, HOW_TO_READ, Step, Topic, explain};
use hangbar::report::CAUTIONS;
use serde::Serialize;

use crate::args::{ExplainArgs, Format};
use crate::screen::Screen;
use crate::{Outcome, Refusal, finished, refused, wants_colour, work_out};

/// Columns that lines of an equation stand in by.
const EQUATION_INDENT: &str = "    ";

pub(crate) fn run(args: ExplainArgs) -> Outcome {
    let colour = wants_colour(args.shown.color);
    let mut topics = Vec::new();
    if args.limit {
        topics.push(Topic::Limit);
    }
    topics.extend(args.stop.iter().copied().map(Topic::Stop));
    topics.extend(
        args.gas
            .iter()
            .map(|name| Topic::Gas(name.trim().to_owned())),
    );
    let overrides = args.on_the_day.overrides();
    let briefing = match work_out(&args.plan, &overrides) {
        Ok(briefing) => briefing,
        Err(refusal) => return refused(&refusal, &args.plan),
    };
    let units = args.shown.units.map_or(briefing.plan.units(), Into::into);
    let explanations = match explain(&briefing, &topics, units) {
        Ok(explanations) => explanations,
        Err(error) => return refused(&refusal(&error), &args.plan),
    };
    let output = match args.shown.format {
        Format::Text => {
            let screen = Screen::with_width(colour, args.shown.width.columns());
            Ok(text(&briefing, &explanations, screen))
        }
        Format::Json => json(&briefing, &explanations),
    };
    finished(&briefing, output)
}

/// Which option asked for what is not there.
fn refusal(error: &ExplainError) -> Refusal {
    let message = error.to_string();
    let option = match error {
        ExplainError::NoStop { .. } => "--stop",
        ExplainError::NoDiver { .. } => "--gas",
        _ => return Refusal::Dive(message),
    };
    Refusal::Option {
        option,
        message,
        accepted: None,
    }
}

fn text(briefing: &Briefing, explanations: &[Explanation], mut screen: Screen) -> String {
    let title = briefing.plan.title().unwrap_or("Untitled dive");
    screen.title("Why: ", title);
    screen.no_go_line(briefing);
    screen.paragraph(HOW_TO_READ);
    for explanation in explanations {
        screen.heading(&explanation.title);
        // Lines of one form in a row show their symbols once.
        let mut form = String::new();
        for step in &explanation.steps {
            match step {
                Step::Words(words) => {
                    form.clear();
                    screen.paragraph(words);
                }
                Step::Equation(equation) => {
                    let symbols = equation.expression.symbols();
                    write(&mut screen, equation, (symbols != form).then_some(&symbols));
                    form = symbols;
                }
            }
        }
    }
    screen.heading("Cautions");
    screen.paragraph(CAUTIONS);
    screen.finish()
}

/// An equation: its title, symbols, numbers, result, and what new symbols mean.
fn write(screen: &mut Screen, equation: &Equation, symbols: Option<&String>) {
    screen.paragraph(&equation.title);
    let result = &equation.result;
    let first = format!(
        "{EQUATION_INDENT}{} = ",
        result.symbol().unwrap_or_default()
    );
    let numbers = equation.expression.numbers();
    let further = format!("{EQUATION_INDENT}  = ");
    match symbols {
        Some(symbols) => {
            screen.hanging(&first, &at_operators(symbols));
            screen.hanging(&further, &at_operators(&numbers));
        }
        None => screen.hanging(&first, &at_operators(&numbers)),
    }
    screen.hanging(
        &further,
        format!("{} {}", result.digits(), equation.unit).trim_end(),
    );
    let mut mark = format!("{EQUATION_INDENT}where ");
    for meaning in &equation.meanings {
        screen.hanging(&mark, &format!("{}: {}", meaning.symbol, meaning.meaning));
        mark = " ".repeat(mark.len());
    }
}

/// A line that is broken before an operator and nowhere else.
fn at_operators(line: &str) -> String {
    let mut kept = line.to_owned();
    for operator in ["+", "-", "*", "/"] {
        kept = kept.replace(&format!("{operator} "), &format!("{operator}\u{a0}"));
    }
    kept
}

#[derive(Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: Option<&'a str>,
    verdict: &'static str,
    how_to_read: &'static str,
    explanations: Vec<ExplanationRow<'a>>,
}

#[derive(Serialize)]
struct ExplanationRow<'a> {
    topic: &'static str,
    depth_m: Option<f64>,
    diver: Option<&'a str>,
    title: &'a str,
    steps: Vec<StepRow<'a>>,
}

#[derive(Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
enum StepRow<'a> {
    Words {
        text: &'a str,
    },
    Equation {
        title: &'a str,
        symbol: &'a str,
        symbols: String,
        numbers: String,
        /// The digits as they are shown: text, so that the last nought stays.
        result: &'a str,
        unit: &'a str,
        /// The model's own value, unrounded.
        model: f64,
        meanings: Vec<MeaningRow<'a>>,
    },
}

#[derive(Serialize)]
struct MeaningRow<'a> {
    symbol: &'a str,
    meaning: &'a str,
}

fn json(briefing: &Briefing, explanations: &[Explanation]) -> Result<String, serde_json::Error> {
    let document = Document {
        schema: "hangbar/explain/1",
        title: briefing.plan.title(),
        verdict: briefing.verdict().word(),
        how_to_read: HOW_TO_READ,
        explanations: explanations.iter().map(explanation_row).collect(),
    };
    let mut text = serde_json::to_string_pretty(&document)?;
    text.push('\n');
    Ok(text)
}

fn explanation_row(explanation: &Explanation) -> ExplanationRow<'_> {
    let (topic, depth_m, diver) = match &explanation.topic {
        Topic::Limit => ("no-stop-limit", None, None),
        Topic::Stop(depth) => ("stop", Some(depth.as_m()), None),
        Topic::Gas(name) => ("gas", None, Some(name.as_str())),
    };
    ExplanationRow {
        topic,
        depth_m,
        diver,
        title: &explanation.title,
        steps: explanation.steps.iter().map(step_row).collect(),
    }
}

fn step_row(step: &Step) -> StepRow<'_> {
    match step {
        Step::Words(text) => StepRow::Words { text },
        Step::Equation(equation) => StepRow::Equation {
            title: &equation.title,
            symbol: equation.result.symbol().unwrap_or_default(),
            symbols: equation.expression.symbols(),
            numbers: equation.expression.numbers(),
            result: equation.result.digits(),
            unit: equation.unit,
            model: equation.result.unrounded(),
            meanings: equation
                .meanings
                .iter()
                .map(|row| MeaningRow {
                    symbol: &row.symbol,
                    meaning: &row.meaning,
                })
                .collect(),
        },
    }
}
