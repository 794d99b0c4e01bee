//! The sheet that an explanation is written on: equations one below the other, each worked out from
//! the digits of those above it.

use std::collections::BTreeSet;

use super::expression::{Expression, Number};
use super::steps::{Equation, Meaning, STRAY_SHARE, STRAY_UNITS, Step};

/// Most decimals that are added to the usual ones.
const MOST_WORKING: usize = 7;
/// Most decimals that are added to a result that ends an explanation.
const MOST_FINAL: usize = 4;

/// How many decimals are written beyond the usual ones.
#[derive(Clone, Copy, Debug)]
struct Extra {
    working: usize,
    closing: usize,
}

/// An explanation under way.
#[derive(Debug)]
pub(super) struct Sheet {
    extra: Extra,
    /// Symbols whose meaning has been said.
    said: BTreeSet<String>,
    /// Meanings that go with the next equation.
    fresh: Vec<Meaning>,
    steps: Vec<Step>,
    /// Whether every result so far is what the model says.
    faithful: bool,
}

/// What an equation is for.
pub(super) struct Line<'a> {
    pub(super) title: String,
    pub(super) symbol: &'a str,
    pub(super) unit: &'static str,
    /// Decimals of the result.
    pub(super) decimals: usize,
}

impl Sheet {
    /// Writes a sheet with as few decimals as keep it faithful: what people are shown of each
    /// result, and on which side of a limit it lies, is the same as in the model. At most 12 more
    /// than usual (40 trials); beyond that the last trial stands, and the words, which come from
    /// the model, are right.
    pub(super) fn written(write: impl Fn(&mut Self)) -> Vec<Step> {
        let mut steps = Vec::new();
        for closing in 0..=MOST_FINAL {
            for working in 0..=MOST_WORKING {
                let mut sheet = Self {
                    extra: Extra { working, closing },
                    said: BTreeSet::new(),
                    fresh: Vec::new(),
                    steps: Vec::new(),
                    faithful: true,
                };
                write(&mut sheet);
                steps = sheet.steps;
                if sheet.faithful {
                    return steps;
                }
            }
        }
        steps
    }

    /// Decimals of a figure that others are worked out from.
    pub(super) const fn working(&self, usual: usize) -> usize {
        usual + self.extra.working
    }

    /// Decimals of a figure that ends the explanation.
    pub(super) const fn closing(&self, usual: usize) -> usize {
        usual + self.extra.closing
    }

    pub(super) fn words(&mut self, text: impl Into<String>) {
        self.steps.push(Step::Words(text.into()));
    }

    /// A figure that is taken as it is. Its meaning, unit included, is said the first time.
    pub(super) fn given(
        &mut self,
        symbol: &str,
        meaning: impl Into<String>,
        value: f64,
        decimals: usize,
    ) -> Expression {
        if self.said.insert(symbol.to_owned()) {
            self.fresh.push(Meaning {
                symbol: symbol.to_owned(),
                meaning: meaning.into(),
            });
        }
        Number::given(symbol, value, self.working(decimals)).into()
    }

    /// An equation whose value in the model is `model`.
    pub(super) fn equation(
        &mut self,
        line: Line<'_>,
        expression: Expression,
        model: f64,
    ) -> Expression {
        self.checked(line, expression, model, |_| true)
    }

    /// An equation that the model has no value of its own for: the model's is that of the same
    /// expression before rounding.
    pub(super) fn derived(&mut self, line: Line<'_>, expression: Expression) -> Expression {
        let unrounded = expression.unrounded();
        self.equation(line, expression, unrounded)
    }

    /// An equation whose result people are shown in some other form: that must be the same for
    /// the printed digits as for the model's value.
    pub(super) fn shown(
        &mut self,
        line: Line<'_>,
        expression: Expression,
        model: f64,
        shown: impl Fn(f64) -> String,
    ) -> Expression {
        self.checked(line, expression, model, |printed| {
            shown(printed) == shown(model)
        })
    }

    /// As [`Sheet::shown`], for a result with [`Sheet::closing`] decimals: it is the model's to
    /// the last of them.
    pub(super) fn closed(
        &mut self,
        line: Line<'_>,
        expression: Expression,
        model: f64,
        shown: impl Fn(f64) -> String,
    ) {
        let unit = unit_of_last_place(line.decimals);
        self.checked(line, expression, model, |printed| {
            shown(printed) == shown(model) && (printed - model).abs() <= unit
        });
    }

    /// An equation of which only the sign matters: more than nothing, or not.
    pub(super) fn compared(
        &mut self,
        line: Line<'_>,
        expression: Expression,
        model: f64,
        is_over: bool,
    ) -> Expression {
        self.checked(line, expression, model, |printed| {
            (printed > 0.0) == is_over
        })
    }

    fn checked(
        &mut self,
        line: Line<'_>,
        expression: Expression,
        model: f64,
        agrees: impl Fn(f64) -> bool,
    ) -> Expression {
        let value = expression.printed();
        // A time of exactly 2 min is 2; a pressure keeps its decimals, so that they stand in line.
        let rounded = match line.unit {
            "min" | "" => Number::given(line.symbol, value, line.decimals),
            _ => Number::rounded(line.symbol, value, line.decimals),
        };
        let printed = rounded.printed();
        let allowed = STRAY_UNITS * unit_of_last_place(line.decimals);
        let is_near = (printed - model).abs() <= allowed.max(STRAY_SHARE * model.abs());
        self.faithful &= agrees(printed) && is_near;
        self.said.insert(line.symbol.to_owned());
        let result = rounded.of_model(model);
        let fresh = std::mem::take(&mut self.fresh);
        let (meanings, later) = fresh
            .into_iter()
            .partition(|meaning| expression.mentions(&meaning.symbol));
        self.fresh = later;
        self.steps.push(Step::Equation(Equation {
            title: line.title,
            expression,
            result: result.clone(),
            unit: line.unit,
            meanings,
        }));
        result.into()
    }
}

/// One in the last decimal.
fn unit_of_last_place(decimals: usize) -> f64 {
    let decimals = i32::try_from(decimals).unwrap_or(i32::MAX);
    10.0_f64.powi(-decimals)
}

/// With a capital.
pub(super) fn upper(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
