//! `hangbar/trace/1`: the tissues through a dive.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::finite::{NotFinite, finite};
use super::nullable::nullable;
use super::verdict::Verdict;
use crate::briefing::Briefing;
use crate::dive;

/// A dive and its samples.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Trace {
    /// Name and number of the document's form.
    #[schemars(extend("const" = Trace::SCHEMA))]
    pub schema: String,
    /// The plan's title; null where it has none.
    #[serde(deserialize_with = "nullable")]
    pub title: Option<String>,
    /// `go`, `no-go` or `schedule-only`.
    pub verdict: Verdict,
    /// Every step, and the end of every segment.
    pub samples: Vec<Sample>,
}

/// The diver at one moment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Sample {
    /// Run time, min.
    pub run_time_min: f64,
    /// Depth, m.
    pub depth_m: f64,
    /// Gas breathed.
    pub gas: String,
    /// Pressure of water and air, bar.
    pub ambient_bar: f64,
    /// The shallowest depth to which all compartments let the diver go at once, m; 0 at the
    /// surface.
    pub ceiling_m: f64,
    /// The compartment nearest to its M-value.
    pub leading: Leading,
    /// The 16 compartments, fastest first.
    pub compartments: Vec<Compartment>,
    /// Inspired inert gas, nitrogen and helium together, bar.
    pub inspired_bar: f64,
}

/// The compartment nearest to its M-value.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Leading {
    /// Which, 1 to 16.
    pub compartment: usize,
    /// The gradient it uses, of the M-value's, %.
    pub gradient_pct: f64,
}

/// One compartment at one moment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Compartment {
    /// Inert gas held, bar.
    pub inert_bar: f64,
    /// What it may hold here under the factor in force, bar.
    pub limit_bar: f64,
    /// Its M-value here, bar.
    pub m_value_bar: f64,
    /// The gradient it uses, of the M-value's, %.
    pub gradient_pct: f64,
    /// The shallowest depth to which it lets the diver go at once, m.
    pub ceiling_m: f64,
}

impl Trace {
    /// Name and number of the document's form.
    pub const SCHEMA: &'static str = "hangbar/trace/1";

    /// A dive and its samples.
    ///
    /// # Errors
    /// [`NotFinite`] where a figure is not a finite number.
    pub fn new(briefing: &Briefing, samples: &[dive::Sample]) -> Result<Self, NotFinite> {
        finite(Self {
            schema: Self::SCHEMA.to_owned(),
            title: briefing.plan.title().map(str::to_owned),
            verdict: briefing.verdict().into(),
            samples: samples.iter().map(Sample::from).collect(),
        })
    }
}

impl From<&dive::Sample> for Sample {
    fn from(sample: &dive::Sample) -> Self {
        Self {
            run_time_min: sample.run_time.as_min(),
            depth_m: sample.depth.as_m(),
            gas: sample.gas.to_string(),
            ambient_bar: sample.ambient.as_bar(),
            ceiling_m: sample.ceiling.as_m(),
            leading: Leading {
                compartment: sample.leading.index + 1,
                gradient_pct: sample.leading.fraction * 100.0,
            },
            compartments: sample.compartments.iter().map(Compartment::from).collect(),
            inspired_bar: sample.inspired.as_bar(),
        }
    }
}

impl From<&dive::CompartmentSample> for Compartment {
    fn from(row: &dive::CompartmentSample) -> Self {
        Self {
            inert_bar: row.inert_bar,
            limit_bar: row.limit_bar,
            m_value_bar: row.m_value_bar,
            gradient_pct: row.gradient * 100.0,
            ceiling_m: row.ceiling.as_m(),
        }
    }
}
