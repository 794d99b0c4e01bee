//! `hangbar/limits/1`: no-stop limits over a range of depths.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::limits::LimitSheet;
use super::finite::{NotFinite, finite};
use super::nullable::nullable;
use super::state::Start;
use crate::dive::{LimitCell, LimitColumn};
use crate::quantity::{Depth, Pressure};

/// No-stop limits, and what they were worked out for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Limits {
    /// Name and number of the document's form.
    #[schemars(extend("const" = Limits::SCHEMA))]
    pub schema: String,
    /// The plan's title; null without a plan, or where it has none.
    #[serde(deserialize_with = "nullable")]
    pub title: Option<String>,
    /// Pressure of the air, bar.
    pub surface_bar: f64,
    /// Pressure of the water, bar/m.
    pub bar_per_m: f64,
    /// What the limits begin from: the divers on leaving the surface.
    pub start: Start,
    /// How long before the first dive of the day the divers came, min; null where they are adapted
    /// to the pressure of the air.
    #[serde(deserialize_with = "nullable")]
    pub arrived_min: Option<f64>,
    /// The altitude that they came from, m; null likewise.
    #[serde(deserialize_with = "nullable")]
    pub home_altitude_m: Option<f64>,
    /// Speed on the way down, m/min.
    pub descent_m_per_min: f64,
    /// Speed on the way up, m/min.
    pub ascent_m_per_min: f64,
    /// Every depth, and at each every gas and pair of factors.
    pub limits: Vec<Limit>,
}

/// The limit at one depth for one gas and pair of factors.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Limit {
    /// Depth, m.
    pub depth_m: f64,
    /// Gas.
    pub gas: String,
    /// Low gradient factor, %.
    pub gradient_low_pct: f64,
    /// High gradient factor, the one that decides, %.
    pub gradient_high_pct: f64,
    /// The limit, the descent included, min; null unless the state is `limit`.
    #[serde(deserialize_with = "nullable")]
    pub no_stop_limit_min: Option<f64>,
    /// The compartment that decides, 1 to 16; null unless the state is `limit`.
    #[serde(deserialize_with = "nullable")]
    pub compartment: Option<usize>,
    /// Oxygen pressure there, bar.
    pub po2_bar: f64,
    /// What there is to say: `limit`, `unlimited` (999 min do not reach it) or
    /// `over-oxygen-limit`.
    pub state: LimitState,
}

/// What there is to say for one depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LimitState {
    /// There is a limit.
    Limit,
    /// 999 min do not reach it.
    Unlimited,
    /// The gas has more oxygen there than was allowed.
    OverOxygenLimit,
}

impl LimitState {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Limit => "limit",
            Self::Unlimited => "unlimited",
            Self::OverOxygenLimit => "over-oxygen-limit",
        }
    }
}

impl Limits {
    /// Name and number of the document's form.
    pub const SCHEMA: &'static str = "hangbar/limits/1";
}

impl TryFrom<&LimitSheet> for Limits {
    type Error = NotFinite;

    fn try_from(sheet: &LimitSheet) -> Result<Self, NotFinite> {
        let cells = sheet.rows().iter().flat_map(|row| {
            let cells = sheet.columns().iter().zip(&row.cells);
            cells.map(|(column, cell)| {
                let po2 = sheet.oxygen_pressure(column.gas, row.depth);
                Limit::new(row.depth, column, po2, *cell)
            })
        });
        finite(Self {
            schema: Self::SCHEMA.to_owned(),
            title: sheet.title().map(str::to_owned),
            surface_bar: sheet.environment().surface().as_bar(),
            bar_per_m: sheet.environment().bar_per_m(),
            start: sheet.start().into(),
            arrived_min: sheet.arrival().map(|came| came.before_first_dive.as_min()),
            home_altitude_m: sheet.arrival().map(|came| came.home_altitude.as_m()),
            descent_m_per_min: sheet.descent_rate().as_m_min(),
            ascent_m_per_min: sheet.ascent_rate().as_m_min(),
            limits: cells.collect(),
        })
    }
}

impl Limit {
    fn new(depth: Depth, column: &LimitColumn, po2: Pressure, cell: LimitCell) -> Self {
        let (state, limit, compartment) = match cell {
            LimitCell::OverOxygenLimit { .. } => (LimitState::OverOxygenLimit, None, None),
            LimitCell::Unlimited => (LimitState::Unlimited, None, None),
            LimitCell::Minutes { time, leading } => {
                (LimitState::Limit, Some(time.as_min()), Some(leading + 1))
            }
        };
        Self {
            depth_m: depth.as_m(),
            gas: column.gas.to_string(),
            gradient_low_pct: column.factors.low() * 100.0,
            gradient_high_pct: column.factors.high() * 100.0,
            no_stop_limit_min: limit,
            compartment,
            po2_bar: po2.as_bar(),
            state,
        }
    }
}
