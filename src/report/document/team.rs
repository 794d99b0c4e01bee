//! What a briefing says of each diver's gas and of who limits the dive.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::nullable::nullable;
use super::state::{Oxygen, Start};
use crate::briefing;
use crate::gas;
use crate::plan;
use crate::quantity::UnitSystem;
use crate::rules;
use crate::surface;

/// The gas of a diver.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Diver {
    /// The diver.
    pub name: String,
    /// What is in the main cylinder.
    pub gas: String,
    /// Maximum operating depth of that gas at 1.4 bar, m.
    pub mod_m: f64,
    /// Oxygen of this diver's day so far, this dive included.
    pub oxygen: Oxygen,
    /// This diver on leaving the surface.
    pub start: Start,
    /// No-stop limit at the deepest level, from the own tissues on the own gas, min; null where 999 min do not reach it.
    #[serde(deserialize_with = "nullable")]
    pub no_stop_limit_min: Option<f64>,
    /// Contents of the main cylinder, L.
    pub start_l: f64,
    /// What the whole dive takes of it, L.
    pub planned_use_l: f64,
    /// What is left at the surface, bar; null where it runs out before.
    #[serde(deserialize_with = "nullable")]
    pub end_bar: Option<f64>,
    /// The greatest of what must be left at a level's end, without the floor, L.
    pub reserve_l: f64,
    /// Pressure that holds it, at least the floor, bar.
    pub minimum_gas_bar: f64,
    /// Turn pressure, bar.
    pub turn_bar: f64,
    /// Run time at which the plan gets down to it, min; null if not before the bottom is left.
    #[serde(deserialize_with = "nullable")]
    pub turn_min: Option<f64>,
    /// Greatest whole bottom time up to which the gas is enough for every one, min.
    pub gas_limit_min: u32,
    /// What ends it: `gas`; `schedule` where no way up can be worked out beyond; `bound` at
    /// 999.
    pub gas_limit_ended_by: EndedBy,
    /// Why there is no way up beyond it; null unless ended by `schedule`.
    #[serde(deserialize_with = "nullable")]
    pub gas_limit_because: Option<String>,
    /// Whole bottom times shorter than the plan's for which the gas is not enough.
    pub shorter_needs_more: Vec<ShorterNeedsMore>,
    /// The end of each level.
    pub levels: Vec<LevelEnd>,
    /// The hang on the main cylinder; null where the plan has none.
    #[serde(deserialize_with = "nullable")]
    pub hang: Option<DiverHang>,
    /// The pony bottle; null without one.
    #[serde(deserialize_with = "nullable")]
    pub pony: Option<Pony>,
    /// Unit of the diver's gauge, `bar` or `psi`.
    pub gauge: Gauge,
    /// The buddy named; null where nobody is.
    #[serde(deserialize_with = "nullable")]
    pub buddy: Option<String>,
    /// What is left on leaving the bottom, bar; null where nothing is.
    #[serde(deserialize_with = "nullable")]
    pub leaving_bar: Option<f64>,
    /// Contents on leaving the bottom less the minimum, L; under 0 where it is short.
    pub to_spare_l: f64,
    /// Mass of the gas breathed by the end of the last stop, kg.
    pub lighter_kg: f64,
    /// Stage cylinders, one item for each gas of the way up.
    pub stages: Vec<Stage>,
}

/// What ends the bottom times that the gas is enough for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum EndedBy {
    /// The gas itself.
    Gas,
    /// No way up can be worked out beyond.
    Schedule,
    /// 999 min.
    Bound,
}

/// Whole bottom times shorter than the planned one for which the gas is not enough.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct ShorterNeedsMore {
    /// The first of a run of them, min.
    pub from_min: u32,
    /// The last of it, min.
    pub to_min: u32,
    /// Why: `no-switch`, `whole-minutes` (stops wait for one) or `schedule` (no way up).
    pub because: WorseBecause,
}

/// Why a shorter dive needs more gas.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WorseBecause {
    /// Its way up does not come by a gas switch.
    NoSwitch,
    /// Its stops wait for a whole minute.
    WholeMinutes,
    /// It has no way up.
    Schedule,
}

/// The end of a level.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct LevelEnd {
    /// Depth of the level, m.
    pub depth_m: f64,
    /// Run time of leaving it, min.
    pub leave_min: f64,
    /// What must be left then, without the floor, L.
    pub reserve_l: f64,
    /// Pressure that holds it, at least the floor, bar.
    pub minimum_gas_bar: f64,
    /// What is left then, bar; null where nothing is.
    #[serde(deserialize_with = "nullable")]
    pub left_bar: Option<f64>,
}

/// The hang on a diver's main cylinder.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct DiverHang {
    /// What it takes, L.
    pub takes_l: f64,
    /// What is left at the surface after it, bar; null where the cylinder is empty before.
    #[serde(deserialize_with = "nullable")]
    pub left_bar: Option<f64>,
}

/// A pony bottle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Pony {
    /// What is in it.
    pub gas: String,
    /// What a straight ascent at the worst moment takes, L.
    pub need_ascent_l: f64,
    /// What the ascent with every stop takes, L.
    pub need_full_l: f64,
    /// What it gives, L.
    pub have_l: f64,
    /// What it covers: `covers-all`, `covers-ascent-only` or `short`.
    pub verdict: PonyVerdict,
    /// Whole bottom time up to which it covers every stop, min.
    pub covers_until_min: u32,
}

/// What a pony bottle covers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PonyVerdict {
    /// Every stop.
    CoversAll,
    /// A straight ascent alone.
    CoversAscentOnly,
    /// Neither.
    Short,
}

/// Unit of a gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Gauge {
    /// Bar.
    Bar,
    /// Pounds a square inch.
    Psi,
}

/// Stage cylinders of one gas.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Stage {
    /// The gas.
    pub gas: String,
    /// What must be in them, L.
    pub need_l: f64,
    /// What is in them, L.
    pub have_l: f64,
}

impl Diver {
    pub(super) fn each(briefing: &briefing::Briefing) -> Vec<Self> {
        let budgets = briefing.divers.iter().zip(&briefing.limits);
        let divers = budgets.zip(briefing.plan.divers());
        let own = briefing.own.iter().zip(briefing.plan.starts());
        divers
            .zip(own)
            .map(|((gas, diver), own)| Self::new(briefing, gas, own, diver))
            .collect()
    }

    fn new(
        briefing: &briefing::Briefing,
        (budget, limits): (&gas::DiverBudget, &gas::DiverLimits),
        (own, start): (&surface::Own, &rules::Start),
        diver: &plan::Diver,
    ) -> Self {
        let (ended_by, because) = match limits.gas_limit.ended_by {
            gas::LimitEnd::Gas { .. } => (EndedBy::Gas, None),
            gas::LimitEnd::Schedule { cause, .. } => (EndedBy::Schedule, Some(cause.to_string())),
            gas::LimitEnd::Bound => (EndedBy::Bound, None),
        };
        let leaving = budget.leaving();
        Self {
            name: budget.name.clone(),
            gas: budget.gas.to_string(),
            mod_m: own.operating_depth.as_m(),
            oxygen: Oxygen::from(&own.oxygen),
            start: Start::from(start),
            no_stop_limit_min: own.limit.time().map(|limit| limit.as_min()),
            start_l: budget.start.as_l(),
            planned_use_l: budget.planned_use.as_l(),
            end_bar: budget.end.map(|end| end.as_bar()),
            reserve_l: budget.reserve.as_l(),
            minimum_gas_bar: budget.minimum_gas.as_bar(),
            turn_bar: budget.turn.as_bar(),
            turn_min: budget.turn_due.map(|due| due.as_min()),
            gas_limit_min: limits.gas_limit.minutes,
            gas_limit_ended_by: ended_by,
            gas_limit_because: because,
            shorter_needs_more: limits
                .shorter_is_worse
                .iter()
                .map(ShorterNeedsMore::from)
                .collect(),
            levels: budget.levels.iter().map(LevelEnd::from).collect(),
            hang: budget.hang.map(|hang| DiverHang {
                takes_l: hang.takes.as_l(),
                left_bar: hang.left.map(|left| left.as_bar()),
            }),
            pony: budget.pony.zip(limits.pony_covers_until).map(Pony::from),
            gauge: diver.gauge.unwrap_or(briefing.plan.units()).into(),
            buddy: diver.buddy.clone(),
            leaving_bar: leaving
                .and_then(|level| level.left)
                .map(|left| left.as_bar()),
            to_spare_l: leaving.map_or(0.0, |level| level.to_spare.as_l()),
            lighter_kg: budget.lighter.as_kg(),
            stages: budget.stages.iter().map(Stage::from).collect(),
        }
    }
}

impl From<&gas::ShorterIsWorse> for ShorterNeedsMore {
    fn from(run: &gas::ShorterIsWorse) -> Self {
        Self {
            from_min: run.from_min,
            to_min: run.to_min,
            because: match run.cause {
                gas::WorseBecause::NoSwitch(_) => WorseBecause::NoSwitch,
                gas::WorseBecause::WholeMinutes => WorseBecause::WholeMinutes,
                gas::WorseBecause::Schedule(_) => WorseBecause::Schedule,
            },
        }
    }
}

impl From<&gas::LevelBudget> for LevelEnd {
    fn from(level: &gas::LevelBudget) -> Self {
        Self {
            depth_m: level.depth.as_m(),
            leave_min: level.leave.as_min(),
            reserve_l: level.reserve.as_l(),
            minimum_gas_bar: level.minimum_gas.as_bar(),
            left_bar: level.left.map(|left| left.as_bar()),
        }
    }
}

impl From<(gas::PonyBudget, gas::BottomTimeLimit)> for Pony {
    fn from((pony, until): (gas::PonyBudget, gas::BottomTimeLimit)) -> Self {
        Self {
            gas: pony.gas.to_string(),
            need_ascent_l: pony.need_ascent.as_l(),
            need_full_l: pony.need_full.as_l(),
            have_l: pony.have.as_l(),
            verdict: pony.verdict.into(),
            covers_until_min: until.minutes,
        }
    }
}

impl From<gas::PonyVerdict> for PonyVerdict {
    fn from(verdict: gas::PonyVerdict) -> Self {
        match verdict {
            gas::PonyVerdict::CoversAll => Self::CoversAll,
            gas::PonyVerdict::CoversAscentOnly => Self::CoversAscentOnly,
            gas::PonyVerdict::Short => Self::Short,
        }
    }
}

impl From<UnitSystem> for Gauge {
    fn from(units: UnitSystem) -> Self {
        match units {
            UnitSystem::Metric => Self::Bar,
            UnitSystem::Imperial => Self::Psi,
        }
    }
}

impl From<&gas::StageBudget> for Stage {
    fn from(stage: &gas::StageBudget) -> Self {
        Self {
            gas: stage.gas.to_string(),
            need_l: stage.need.as_l(),
            have_l: stage.have.as_l(),
        }
    }
}

/// Single changes that make a no-go a go, each alone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct NearestGo {
    /// A shorter bottom time, min; null where none does.
    #[serde(deserialize_with = "nullable")]
    pub bottom_time_min: Option<u32>,
    /// A lesser depth, m; null where none does.
    #[serde(deserialize_with = "nullable")]
    pub depth_m: Option<f64>,
    /// Higher fills, all of them together.
    pub fills: Vec<Fill>,
    /// Larger cylinders with the planned fill, all of them together.
    pub cylinders: Vec<LargerCylinder>,
    /// Where nothing but the flight is too soon: when it may leave, `HH:MM`; null otherwise.
    #[serde(deserialize_with = "nullable")]
    pub flight_not_before: Option<String>,
    /// Days from that of the splash to it; null likewise.
    #[serde(deserialize_with = "nullable")]
    pub flight_not_before_days_later: Option<u32>,
    /// A longer surface interval before it, min; null where none does.
    #[serde(deserialize_with = "nullable")]
    pub surface_interval_min: Option<u32>,
}

/// A higher fill.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Fill {
    /// Whose.
    pub diver: String,
    /// The fill, bar.
    pub fill_bar: f64,
}

/// A larger cylinder.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct LargerCylinder {
    /// Whose.
    pub diver: String,
    /// Inner volume (no free litres), L.
    pub inner_volume_l: f64,
    /// Contents at the fill, L.
    pub contents_l: f64,
}

impl NearestGo {
    pub(super) fn new(briefing: &briefing::Briefing) -> Self {
        let nearest = &briefing.nearest_go;
        let fills = nearest.fills.iter().map(|(name, fill)| Fill {
            diver: name.clone(),
            fill_bar: fill.as_bar(),
        });
        let cylinders = nearest.cylinders.iter();
        let cylinders = cylinders.map(|(name, water, contents)| LargerCylinder {
            diver: name.clone(),
            inner_volume_l: water.as_l(),
            contents_l: contents.as_l(),
        });
        Self {
            bottom_time_min: nearest.bottom_time_min,
            depth_m: nearest.depth.map(|depth| depth.as_m()),
            fills: fills.collect(),
            cylinders: cylinders.collect(),
            flight_not_before: nearest.flight_not_before.map(|at| at.time.to_string()),
            flight_not_before_days_later: nearest.flight_not_before.map(|at| at.days_later),
            surface_interval_min: nearest.wait.map(|wait| wait.interval_min),
        }
    }
}

/// Who limits the dive.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Team {
    /// Names of those whose gas limit is least.
    pub time_limited_by: Vec<String>,
    /// Who has least to spare; null without a team.
    #[serde(deserialize_with = "nullable")]
    pub gas_limited_by: Option<String>,
    /// Who has the least depth limit; null where nobody has one.
    #[serde(deserialize_with = "nullable")]
    pub depth_limited_by: Option<String>,
    /// That limit, m; null where nobody has one.
    #[serde(deserialize_with = "nullable")]
    pub depth_limit_m: Option<f64>,
    /// Share of what is above the minimum that goes out, %.
    pub turn_share_pct: f64,
    /// The planned hang; null where there is none.
    #[serde(deserialize_with = "nullable")]
    pub hang: Option<Hang>,
}

/// A planned hang.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Hang {
    /// Its depth, m.
    pub depth_m: f64,
    /// Its time, min.
    pub time_min: f64,
}

impl Team {
    pub(super) fn new(briefing: &briefing::Briefing) -> Self {
        let limiting = briefing.limiting_divers().into_iter();
        let depth = briefing.depth_limit();
        let reserve = briefing.plan.reserve();
        Self {
            time_limited_by: limiting.map(|diver| diver.name.clone()).collect(),
            gas_limited_by: briefing.least_to_spare().map(|diver| diver.name.clone()),
            depth_limited_by: depth.map(|(name, _)| name.to_owned()),
            depth_limit_m: depth.map(|(_, limit)| limit.as_m()),
            turn_share_pct: reserve.turn_share() * 100.0,
            hang: reserve.hang.map(|hang| Hang {
                depth_m: hang.depth.as_m(),
                time_min: hang.time.as_min(),
            }),
        }
    }
}
