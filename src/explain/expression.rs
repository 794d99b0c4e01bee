//! Expressions that are written twice, in symbols and in numbers, and worked out from the digits
//! that are written.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// A number as it is printed, the symbol that it stands for, and the value before rounding.
#[derive(Clone, Debug, PartialEq)]
pub struct Number {
    symbol: Option<String>,
    digits: String,
    unrounded: f64,
}

impl Number {
    /// A number printed with so many decimals.
    #[must_use]
    pub fn rounded(symbol: &str, value: f64, decimals: usize) -> Self {
        let digits = format!("{value:.decimals$}");
        // Nothing is not less than nothing.
        let nought = digits.chars().all(|c| matches!(c, '-' | '0' | '.'));
        let digits = digits
            .strip_prefix('-')
            .filter(|_| nought)
            .map_or(digits.clone(), str::to_owned);
        Self {
            symbol: Some(symbol.to_owned()),
            digits,
            unrounded: value,
        }
    }

    /// As [`Number::rounded`], but without decimals that say nothing: `27` for a half-time of
    /// exactly 27 min, yet `2.0000` for 2.00004.
    #[must_use]
    pub fn given(symbol: &str, value: f64, decimals: usize) -> Self {
        /// Closer to fewer decimals than this, and they are all there is.
        const NOISE: f64 = 1e-10;
        let fewest = (0..decimals)
            .find(|fewer| {
                let shorter = Self::rounded(symbol, value, *fewer).printed();
                (shorter - value).abs() <= NOISE * value.abs().max(1.0)
            })
            .unwrap_or(decimals);
        Self::rounded(symbol, value, fewest)
    }

    /// The same digits, with the model's own value behind them.
    pub(super) fn of_model(self, unrounded: f64) -> Self {
        Self { unrounded, ..self }
    }

    /// The symbol; `None` for a plain constant.
    #[must_use]
    pub fn symbol(&self) -> Option<&str> {
        self.symbol.as_deref()
    }

    /// The digits as they are printed.
    #[must_use]
    pub fn digits(&self) -> &str {
        &self.digits
    }

    /// What the printed digits are worth.
    #[must_use]
    pub fn printed(&self) -> f64 {
        self.digits.parse().unwrap_or(f64::NAN)
    }

    /// The value before rounding.
    #[must_use]
    pub const fn unrounded(&self) -> f64 {
        self.unrounded
    }
}

/// An expression: numbers, `+ - * /`, powers and natural logarithms.
///
/// One tree gives the line in symbols, the line in numbers, and the value of the printed digits,
/// so that the three cannot differ.
///
/// # Example
/// ```
/// use hangbar::explain::{Expression, Number};
/// let ambient = Expression::from(Number::given("P", 4.63190, 4));
/// let share = Expression::from(Number::given("f", 0.79, 2));
/// let inspired = (ambient - Expression::constant("0.0627")) * share;
/// assert_eq!(inspired.symbols(), "(P - 0.0627) * f");
/// assert_eq!(inspired.numbers(), "(4.6319 - 0.0627) * 0.79");
/// assert!((inspired.printed() - 3.609668).abs() < 1e-12);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub enum Expression {
    /// A number.
    Number(Number),
    /// The other way round from 0.
    Negative(Box<Self>),
    /// Natural logarithm.
    Ln(Box<Self>),
    /// Two expressions and what is done with them.
    Pair {
        /// What is done.
        operator: Operator,
        /// Left of it.
        left: Box<Self>,
        /// Right of it.
        right: Box<Self>,
    },
}

/// What is done with two expressions.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Operator {
    /// `+`
    Plus,
    /// `-`
    Minus,
    /// `*`
    Times,
    /// `/`
    Over,
    /// `^`
    Power,
}

impl Operator {
    const fn sign(self) -> &'static str {
        match self {
            Self::Plus => " + ",
            Self::Minus => " - ",
            Self::Times => " * ",
            Self::Over => " / ",
            Self::Power => "^",
        }
    }

    /// What binds tighter has more.
    const fn strength(self) -> u8 {
        match self {
            Self::Plus | Self::Minus => 1,
            Self::Times | Self::Over => 2,
            Self::Power => 4,
        }
    }
}

/// How tightly a minus in front binds: tighter than a product, looser than a power.
const MINUS_STRENGTH: u8 = 3;
const ATOM_STRENGTH: u8 = 5;

/// Which of its faces an expression shows.
#[derive(Clone, Copy)]
enum Face {
    Symbols,
    Numbers,
}

impl Expression {
    /// A constant that has no symbol and stands in both lines as it is written here.
    #[must_use]
    pub fn constant(digits: &str) -> Self {
        let digits = digits.to_owned();
        let unrounded = digits.parse().unwrap_or(f64::NAN);
        Self::Number(Number {
            symbol: None,
            digits,
            unrounded,
        })
    }

    /// Natural logarithm.
    #[must_use]
    pub fn ln(self) -> Self {
        Self::Ln(Box::new(self))
    }

    /// This, raised to a power.
    #[must_use]
    pub fn power(self, exponent: Self) -> Self {
        self.pair(Operator::Power, exponent)
    }

    fn pair(self, operator: Operator, right: Self) -> Self {
        Self::Pair {
            operator,
            left: Box::new(self),
            right: Box::new(right),
        }
    }

    /// The line in symbols.
    #[must_use]
    pub fn symbols(&self) -> String {
        self.written(Face::Symbols)
    }

    /// The line in numbers.
    #[must_use]
    pub fn numbers(&self) -> String {
        self.written(Face::Numbers)
    }

    /// What a calculator gives for the line in numbers.
    #[must_use]
    pub fn printed(&self) -> f64 {
        self.value(&Number::printed)
    }

    /// The value with every number as it was before rounding.
    #[must_use]
    pub fn unrounded(&self) -> f64 {
        self.value(&Number::unrounded)
    }

    /// Whether a symbol stands in it.
    #[must_use]
    pub fn mentions(&self, symbol: &str) -> bool {
        match self {
            Self::Number(number) => number.symbol() == Some(symbol),
            Self::Negative(inner) | Self::Ln(inner) => inner.mentions(symbol),
            Self::Pair { left, right, .. } => left.mentions(symbol) || right.mentions(symbol),
        }
    }

    fn value(&self, of: &impl Fn(&Number) -> f64) -> f64 {
        match self {
            Self::Number(number) => of(number),
            Self::Negative(inner) => -inner.value(of),
            Self::Ln(inner) => inner.value(of).ln(),
            Self::Pair {
                operator,
                left,
                right,
            } => {
                let (left, right) = (left.value(of), right.value(of));
                match operator {
                    Operator::Plus => left + right,
                    Operator::Minus => left - right,
                    Operator::Times => left * right,
                    Operator::Over => left / right,
                    Operator::Power => left.powf(right),
                }
            }
        }
    }

    fn written(&self, face: Face) -> String {
        match self {
            Self::Number(number) => match (face, &number.symbol) {
                (Face::Symbols, Some(symbol)) => symbol.clone(),
                _ => number.digits.clone(),
            },
            Self::Negative(inner) => {
                format!("-{}", inner.guarded(face, MINUS_STRENGTH + 1, false))
            }
            Self::Ln(inner) => format!("ln({})", inner.written(face)),
            Self::Pair {
                operator,
                left,
                right,
            } => {
                let strength = operator.strength();
                // The base of a power stands in parentheses unless it is a plain number.
                let least_left = strength + u8::from(*operator == Operator::Power);
                format!(
                    "{}{}{}",
                    left.guarded(face, least_left, true),
                    operator.sign(),
                    right.guarded(face, strength + 1, false)
                )
            }
        }
    }

    /// In parentheses unless it binds tightly enough; a minus at the left edge needs none.
    fn guarded(&self, face: Face, least: u8, left_edge: bool) -> String {
        let written = self.written(face);
        let needs_none = match self {
            Self::Number(_) => !written.starts_with('-'),
            Self::Negative(_) => left_edge && MINUS_STRENGTH >= least,
            Self::Ln(_) => ATOM_STRENGTH >= least,
            Self::Pair { operator, .. } => operator.strength() >= least,
        };
        if needs_none {
            written
        } else {
            format!("({written})")
        }
    }
}

impl From<Number> for Expression {
    fn from(number: Number) -> Self {
        Self::Number(number)
    }
}

impl Add for Expression {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        self.pair(Operator::Plus, other)
    }
}

impl Sub for Expression {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self.pair(Operator::Minus, other)
    }
}

impl Mul for Expression {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        self.pair(Operator::Times, other)
    }
}

impl Div for Expression {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        self.pair(Operator::Over, other)
    }
}

impl Neg for Expression {
    type Output = Self;
    fn neg(self) -> Self {
        Self::Negative(Box::new(self))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(symbol: &str, value: f64) -> Expression {
        Number::given(symbol, value, 4).into()
    }

    #[test]
    fn parentheses_stand_where_the_order_needs_them_and_nowhere_else() {
        let (a, b, c) = (number("a", 6.0), number("b", 4.0), number("c", -2.0));
        let one = Expression::constant("1");
        let rows = [
            (
                a.clone() - (b.clone() - c.clone()),
                "a - (b - c)",
                "6 - (4 - (-2))",
                0.0,
            ),
            (
                a.clone() - b.clone() + c.clone(),
                "a - b + c",
                "6 - 4 + (-2)",
                0.0,
            ),
            (
                a.clone() / (b.clone() * c.clone()),
                "a / (b * c)",
                "6 / (4 * (-2))",
                -0.75,
            ),
            (
                (a.clone() + b.clone()) * c.clone(),
                "(a + b) * c",
                "(6 + 4) * (-2)",
                -20.0,
            ),
            (
                a.clone() + b.clone() * c.clone(),
                "a + b * c",
                "6 + 4 * (-2)",
                -2.0,
            ),
            (
                one - Expression::constant("2").power(-b.clone() / a.clone()),
                "1 - 2^(-b / a)",
                "1 - 2^(-4 / 6)",
                1.0 - 2.0_f64.powf(-4.0 / 6.0),
            ),
            ((c.clone()).power(b.clone()), "c^b", "(-2)^4", 16.0),
            (
                (a.clone() / b.clone()).ln() * a.clone(),
                "ln(a / b) * a",
                "ln(6 / 4) * 6",
                1.5_f64.ln() * 6.0,
            ),
            (a * -b, "a * (-b)", "6 * (-4)", -24.0),
        ];
        for (expression, symbols, numbers, value) in rows {
            assert_eq!(expression.symbols(), symbols);
            assert_eq!(expression.numbers(), numbers);
            assert!((expression.printed() - value).abs() < 1e-12, "{numbers}");
        }
    }

    #[test]
    fn an_expression_is_worth_its_printed_digits_and_not_what_was_rounded_away() {
        let third = Expression::from(Number::rounded("x", 1.0 / 3.0, 2));
        let tripled = third * Expression::constant("3");
        assert!((tripled.printed() - 0.99).abs() < 1e-12);
        assert!((tripled.unrounded() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn given_numbers_lose_decimals_only_where_these_say_nothing() {
        for (value, digits) in [
            (27.0, "27"),
            (0.79, "0.79"),
            (2.00004, "2.0000"),
            (2.0 / 3.0, "0.6667"),
        ] {
            assert_eq!(Number::given("x", value, 4).digits(), digits);
        }
        assert_eq!(Number::rounded("x", -0.00001, 4).digits(), "0.0000");
        assert_eq!(Number::rounded("x", -0.00006, 4).digits(), "-0.0001");
    }
}
