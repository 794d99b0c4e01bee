//! `hangbar/mix/1`: one gas, what it is like at a depth, how it is blended.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::mix_sheet::{MixAtDepth, MixLimit, MixSheet};
use super::finite::{NotFinite, finite};
use super::nullable::nullable;
use super::verdict::Finding;
use crate::dive::LimitCell;
use crate::finding::{ADVISED_DENSITY_G_L, GREATEST_DENSITY_G_L};
use crate::gas;
use crate::quantity::{Pressure, UnitSystem};
use crate::site::GREATEST_PO2_BAR;

/// A gas, and what it was worked out for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Mix {
    /// Name and number of the document's form.
    #[schemars(extend("const" = Mix::SCHEMA))]
    pub schema: String,
    /// The plan's title; null without a plan, or where it has none.
    #[serde(deserialize_with = "nullable")]
    pub title: Option<String>,
    /// The gas.
    pub gas: String,
    /// Whether it was found as the richest nitrox for the depth.
    pub is_richest: bool,
    /// Oxygen in it, %.
    pub oxygen_pct: f64,
    /// Helium in it, %.
    pub helium_pct: f64,
    /// Nitrogen in it, %.
    pub nitrogen_pct: f64,
    /// Pressure of the air, bar.
    pub surface_bar: f64,
    /// Pressure of the water, bar/m.
    pub bar_per_m: f64,
    /// Speed on the way down, m/min.
    pub descent_m_per_min: f64,
    /// Speed on the way up, m/min.
    pub ascent_m_per_min: f64,
    /// Low gradient factor, %.
    pub gradient_low_pct: f64,
    /// High gradient factor, the one that decides, %.
    pub gradient_high_pct: f64,
    /// Whether a no-go was found; that none was is no leave to dive.
    pub is_no_go: bool,
    /// Maximum operating depth as a bottom gas, by oxygen alone.
    pub bottom: OperatingDepth,
    /// The same for the greatest oxygen pressure of any gas, as on the way up.
    pub way_up: OperatingDepth,
    /// The deepest stop at which that pressure is not passed, m; null where there is none.
    #[serde(deserialize_with = "nullable")]
    pub switch_depth_m: Option<f64>,
    /// Depth below which it is denser than the advised 5.2 g/L, m.
    pub dense_from_m: f64,
    /// Depth below which it is denser than the limit, 6.2 g/L, m.
    pub too_dense_from_m: f64,
    /// The gas at the depth asked about; null without one.
    #[serde(deserialize_with = "nullable")]
    pub at: Option<GasAtDepth>,
    /// How a cylinder is filled with it; null where nobody asked, and of a no-go.
    #[serde(deserialize_with = "nullable")]
    pub blend: Option<Blend>,
    /// Of the gas as a bottom gas: no-gos first, then cautions.
    pub findings: Vec<Finding>,
}

/// A maximum operating depth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct OperatingDepth {
    /// The oxygen pressure that is not passed, bar.
    pub limit_bar: f64,
    /// Where it is reached, m; null where the surface is too deep.
    #[serde(deserialize_with = "nullable")]
    pub depth_m: Option<f64>,
}

/// A gas at a depth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct GasAtDepth {
    /// The depth, m.
    pub depth_m: f64,
    /// Oxygen pressure, bar.
    pub po2_bar: f64,
    /// Density at 0 °C, g/L.
    pub density_g_per_l: f64,
    /// Equivalent air depth, m.
    pub air_depth_m: f64,
    /// Equivalent narcotic depth, oxygen counted, m.
    pub narcotic_depth_m: f64,
    /// Equivalent narcotic depth by nitrogen alone, m.
    pub narcotic_depth_nitrogen_m: f64,
    /// No-stop limit, the descent included, min; null unless the state is `limit`.
    #[serde(deserialize_with = "nullable")]
    pub no_stop_limit_min: Option<f64>,
    /// The compartment that decides, 1 to 16; null unless the state is `limit`.
    #[serde(deserialize_with = "nullable")]
    pub compartment: Option<usize>,
    /// What there is to say of the limit: `limit`, `unlimited` (999 min do not reach it),
    /// `over-oxygen-limit` or `no-go`.
    pub state: GasLimitState,
}

/// What there is to say of a no-stop limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum GasLimitState {
    /// There is a limit.
    Limit,
    /// 999 min do not reach it.
    Unlimited,
    /// The gas has more oxygen there than was allowed.
    OverOxygenLimit,
    /// The gas is a no-go.
    NoGo,
}

/// How a cylinder is filled.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Blend {
    /// Temperature of the cylinder, °C.
    pub temperature_c: f64,
    /// The gas in it before.
    pub start_gas: String,
    /// What its gauge shows before, bar.
    pub start_bar: f64,
    /// What is filled on top.
    pub top_gas: String,
    /// What its gauge is to show, bar.
    pub target_bar: f64,
    /// What is added, in order; none that is not needed.
    pub steps: Vec<BlendStep>,
}

/// A gas is added.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct BlendStep {
    /// Which: helium, oxygen, or the gas on top.
    pub adds: String,
    /// The cylinder after it, by GERG-2008.
    pub real: Filled,
    /// The same by the ideal gas law.
    pub ideal: Filled,
}

/// A cylinder after a step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Filled {
    /// What its gauge shows, bar.
    pub to_bar: f64,
    /// Oxygen in it, %.
    pub oxygen_pct: f64,
    /// Helium in it, %.
    pub helium_pct: f64,
}

impl Mix {
    /// Name and number of the document's form.
    pub const SCHEMA: &'static str = "hangbar/mix/1";
}

impl TryFrom<&MixSheet> for Mix {
    type Error = NotFinite;

    fn try_from(sheet: &MixSheet) -> Result<Self, NotFinite> {
        let gas = sheet.gas();
        let operating = |limit: Pressure| OperatingDepth {
            limit_bar: limit.as_bar(),
            depth_m: sheet.operating_depth(limit).map(|depth| depth.as_m()),
        };
        let dense = |g_l| sheet.depth_of_density(g_l).as_m();
        let findings = sheet.findings().iter();
        finite(Self {
            schema: Self::SCHEMA.to_owned(),
            title: sheet.title().map(str::to_owned),
            gas: gas.to_string(),
            is_richest: sheet.is_richest(),
            oxygen_pct: gas.oxygen() * 100.0,
            helium_pct: gas.helium() * 100.0,
            nitrogen_pct: gas.nitrogen() * 100.0,
            surface_bar: sheet.environment().surface().as_bar(),
            bar_per_m: sheet.environment().bar_per_m(),
            descent_m_per_min: sheet.descent_rate().as_m_min(),
            ascent_m_per_min: sheet.ascent_rate().as_m_min(),
            gradient_low_pct: sheet.factors().low() * 100.0,
            gradient_high_pct: sheet.factors().high() * 100.0,
            is_no_go: sheet.is_no_go(),
            bottom: operating(sheet.oxygen_limit()),
            way_up: operating(Pressure::from_bar(GREATEST_PO2_BAR)),
            switch_depth_m: sheet.switch_depth().map(|depth| depth.as_m()),
            dense_from_m: dense(ADVISED_DENSITY_G_L),
            too_dense_from_m: dense(GREATEST_DENSITY_G_L),
            at: sheet.at_depth().map(GasAtDepth::from),
            blend: sheet.blend().map(Blend::from),
            findings: findings
                .map(|finding| Finding::new(finding, UnitSystem::Metric))
                .collect(),
        })
    }
}

impl From<&MixAtDepth> for GasAtDepth {
    fn from(at: &MixAtDepth) -> Self {
        let (state, limit, compartment) = match at.limit {
            MixLimit::NoGo => (GasLimitState::NoGo, None, None),
            MixLimit::Cell(LimitCell::OverOxygenLimit { .. }) => {
                (GasLimitState::OverOxygenLimit, None, None)
            }
            MixLimit::Cell(LimitCell::Unlimited) => (GasLimitState::Unlimited, None, None),
            MixLimit::Cell(LimitCell::Minutes { time, leading }) => {
                (GasLimitState::Limit, Some(time.as_min()), Some(leading + 1))
            }
        };
        Self {
            depth_m: at.depth.as_m(),
            po2_bar: at.po2.as_bar(),
            density_g_per_l: at.density_g_l,
            air_depth_m: at.air_depth.as_m(),
            narcotic_depth_m: at.narcotic_depth.as_m(),
            narcotic_depth_nitrogen_m: at.narcotic_depth_nitrogen.as_m(),
            no_stop_limit_min: limit,
            compartment,
            state,
        }
    }
}

impl From<&gas::Blend> for Blend {
    fn from(blend: &gas::Blend) -> Self {
        let asked = &blend.asked;
        let filled = |filled: gas::Filled| Filled {
            to_bar: filled.to.as_bar(),
            oxygen_pct: filled.oxygen * 100.0,
            helium_pct: filled.helium * 100.0,
        };
        let steps = blend.steps.iter().map(|step| BlendStep {
            adds: step.adds.to_string(),
            real: filled(step.real),
            ideal: filled(step.ideal),
        });
        Self {
            temperature_c: asked.temperature.as_celsius(),
            start_gas: asked.start.gas.to_string(),
            start_bar: asked.start.pressure.as_bar(),
            top_gas: asked.top.to_string(),
            target_bar: asked.target.pressure.as_bar(),
            steps: steps.collect(),
        }
    }
}
