//! `hangbar/explain/1`: why each figure is what it is.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::finite::{NotFinite, finite};
use super::nullable::nullable;
use super::verdict::Verdict;
use crate::briefing::Briefing;
use crate::explain;

/// Figures of a dive, explained.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Explain {
    /// Name and number of the document's form.
    #[schemars(extend("const" = Explain::SCHEMA))]
    pub schema: String,
    /// The plan's title; null where it has none.
    #[serde(deserialize_with = "nullable")]
    pub title: Option<String>,
    /// `go`, `no-go` or `schedule-only`.
    pub verdict: Verdict,
    /// What the lines of an equation are.
    pub how_to_read: String,
    /// One for each figure.
    pub explanations: Vec<Explanation>,
}

/// One figure or group of figures, explained.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Explanation {
    /// What is explained: `surface-interval`, `no-stop-limit`, `stop`, `gas` or `flying`.
    pub topic: Topic,
    /// Depth of the stop, m; null for the others.
    #[serde(deserialize_with = "nullable")]
    pub depth_m: Option<f64>,
    /// Whose gas; null for the others.
    #[serde(deserialize_with = "nullable")]
    pub diver: Option<String>,
    /// What is explained.
    pub title: String,
    /// Words and equations, in order.
    pub steps: Vec<Step>,
}

/// What is explained.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Topic {
    /// The time at the surface before the dive.
    SurfaceInterval,
    /// The no-stop limit at the deepest level.
    NoStopLimit,
    /// A stop.
    Stop,
    /// The gas of a diver.
    Gas,
    /// How long not to fly or drive up after the dive.
    Flying,
}

/// Words or an equation. Each has fields of its own, beside the `kind` that says which it is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Step {
    /// Words.
    Words {
        /// The words.
        text: String,
    },
    /// An equation.
    Equation {
        /// What it gives, for people.
        title: String,
        /// Symbol of the result.
        symbol: String,
        /// The equation in symbols.
        symbols: String,
        /// The same with the numbers put in.
        numbers: String,
        /// The result, its digits as shown: text, so that the last nought stays.
        result: String,
        /// Unit of the result, empty without one.
        unit: String,
        /// The model's own result, unrounded, in that unit.
        model: f64,
        /// Symbols that are new here.
        meanings: Vec<Meaning>,
    },
}

/// What a symbol stands for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Meaning {
    /// The symbol.
    pub symbol: String,
    /// What it stands for.
    pub meaning: String,
}

impl Explain {
    /// Name and number of the document's form.
    pub const SCHEMA: &'static str = "hangbar/explain/1";

    /// Explanations of a dive.
    ///
    /// # Errors
    /// [`NotFinite`] where a figure is not a finite number.
    pub fn new(
        briefing: &Briefing,
        explanations: &[explain::Explanation],
    ) -> Result<Self, NotFinite> {
        finite(Self {
            schema: Self::SCHEMA.to_owned(),
            title: briefing.plan.title().map(str::to_owned),
            verdict: briefing.verdict().into(),
            how_to_read: explain::HOW_TO_READ.to_owned(),
            explanations: explanations.iter().map(Explanation::from).collect(),
        })
    }
}

impl From<&explain::Explanation> for Explanation {
    fn from(explanation: &explain::Explanation) -> Self {
        let (topic, depth_m, diver) = match &explanation.topic {
            explain::Topic::Interval => (Topic::SurfaceInterval, None, None),
            explain::Topic::Limit => (Topic::NoStopLimit, None, None),
            explain::Topic::Stop(depth) => (Topic::Stop, Some(depth.as_m()), None),
            explain::Topic::Gas(name) => (Topic::Gas, None, Some(name.clone())),
            explain::Topic::Flying => (Topic::Flying, None, None),
        };
        Self {
            topic,
            depth_m,
            diver,
            title: explanation.title.clone(),
            steps: explanation.steps.iter().map(Step::from).collect(),
        }
    }
}

impl From<&explain::Step> for Step {
    fn from(step: &explain::Step) -> Self {
        match step {
            explain::Step::Words(text) => Self::Words { text: text.clone() },
            explain::Step::Equation(equation) => Self::Equation {
                title: equation.title.clone(),
                symbol: equation.result.symbol().unwrap_or_default().to_owned(),
                symbols: equation.expression.symbols(),
                numbers: equation.expression.numbers(),
                result: equation.result.digits().to_owned(),
                unit: equation.unit.to_owned(),
                model: equation.result.unrounded(),
                meanings: equation.meanings.iter().map(Meaning::from).collect(),
            },
        }
    }
}

impl From<&explain::Meaning> for Meaning {
    fn from(meaning: &explain::Meaning) -> Self {
        Self {
            symbol: meaning.symbol.clone(),
            meaning: meaning.meaning.clone(),
        }
    }
}
