//! What an explanation is made of.

use super::expression::Expression;
use super::expression::Number;
use crate::quantity::Depth;
/// How far a printed result may lie from the model's own value, in units of its last decimal.
///
/// One line is right to half a unit of what it is worked out from; the rest is what the rounding of
/// the lines before it adds up to.
pub const STRAY_UNITS: f64 = 10.0;

/// Or as a share of it, where that is more: hours at a stop make great numbers of small ones.
pub const STRAY_SHARE: f64 = 1e-6;

/// How the lines are to be read, for people.
pub const HOW_TO_READ: &str = "\
Each figure: the equation in symbols, the same with its numbers, the result. A calculator gives \
the result from the numbers as they stand; later lines go on with the results as printed. All of \
it is in metres, bar, litres and minutes; pressures are absolute, those of cylinders as the gauge \
shows them; litres of gas are at 1.01325 bar. ^ is a power, ln the natural logarithm; 2^(-t / T) \
is what is left after a time t where half goes in each half-time T.";

/// What there is to explain.
#[derive(Clone, Debug, PartialEq)]
pub enum Topic {
    /// What the time at the surface before the dive leaves, and how long it must be.
    Interval,
    /// The no-stop limit.
    Limit,
    /// The stops at a depth: those that are shown with the same figure.
    Stop(Depth),
    /// The gas of the diver who is called so, the pony included.
    Gas(String),
    /// How long not to fly or drive up after the dive.
    Flying,
}

/// One figure or group of figures, explained.
#[derive(Clone, Debug, PartialEq)]
pub struct Explanation {
    /// What it explains; for a stop its own depth.
    pub topic: Topic,
    /// What it explains, in words.
    pub title: String,
    /// The steps, in order.
    pub steps: Vec<Step>,
}

/// A step of an explanation.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// Words.
    Words(String),
    /// An equation.
    Equation(Equation),
}

/// An equation with its numbers and its result.
#[derive(Clone, Debug, PartialEq)]
pub struct Equation {
    /// What it gives, in words.
    pub title: String,
    /// The right-hand side.
    pub expression: Expression,
    /// The result: its symbol; as printed; and in the model ([`Number::unrounded`]).
    pub result: Number,
    /// Unit of the result; empty for a plain number.
    pub unit: &'static str,
    /// Symbols that were not used before in this explanation and are not results.
    pub meanings: Vec<Meaning>,
}

/// What a symbol stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meaning {
    /// The symbol.
    pub symbol: String,
    /// What it stands for, with its unit.
    pub meaning: String,
}

/// Why there is no explanation.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ExplainError {
    /// No stop is made there.
    #[error("there is no stop at {asked}; {known}")]
    NoStop {
        /// The depth asked for.
        asked: String,
        /// What stops there are, as words.
        known: String,
    },
    /// There is no time at the surface that anything is known of.
    #[error(
        "there is no surface interval: the plan has no earlier dive, and nobody who came from \
         another altitude"
    )]
    NoInterval,
    /// Nobody is called so.
    #[error("nobody is called \"{asked}\"; {known}")]
    NoDiver {
        /// The name asked for.
        asked: String,
        /// What divers there are, as words.
        known: String,
    },
}
