//! The JSON documents as scripts may rely on them: every field is demanded, no other is allowed,
//! and null stands only where an `Option` does.

#![allow(
    dead_code,
    reason = "most fields are here to be demanded, not to be read"
)]

use serde::{Deserialize, Deserializer};

/// A field that may be null but not missing.
fn nullable<'de, D, T>(deserializer: D) -> Result<Option<T>, D::Error>
where
    D: Deserializer<'de>,
    T: Deserialize<'de>,
{
    Option::deserialize(deserializer)
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Briefing {
    pub(crate) schema: String,
    #[serde(deserialize_with = "nullable")]
    pub(crate) title: Option<String>,
    pub(crate) verdict: Verdict,
    pub(crate) environment: Environment,
    #[serde(deserialize_with = "nullable")]
    pub(crate) no_stop_limit_min: Option<f64>,
    pub(crate) staged: bool,
    #[serde(deserialize_with = "nullable")]
    pub(crate) anchor_m: Option<f64>,
    pub(crate) segments: Vec<Segment>,
    pub(crate) run_time_min: f64,
    pub(crate) surfacing: Surfacing,
    pub(crate) tissues: Vec<Tissue>,
    pub(crate) oxygen: Oxygen,
    pub(crate) start: Start,
    pub(crate) divers: Vec<Diver>,
    pub(crate) findings: Vec<Finding>,
    // Beyond the contract's list:
    pub(crate) not_straight_up: Vec<NotStraightUp>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) longest_go_min: Option<u32>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) nearest_go: Option<NearestGo>,
    pub(crate) team: Team,
    pub(crate) surface: Surface,
    pub(crate) late: Late,
    pub(crate) lost_gas: Vec<LostGas>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Environment {
    pub(crate) surface_bar: f64,
    pub(crate) bar_per_m: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Segment {
    pub(crate) kind: Kind,
    pub(crate) from_m: f64,
    pub(crate) to_m: f64,
    pub(crate) start_min: f64,
    pub(crate) end_min: f64,
    pub(crate) gas: String,
}

#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Kind {
    Descent,
    Level,
    Ascent,
    Stop,
    SafetyStop,
    Switch,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Surfacing {
    pub(crate) gradient_pct: f64,
    pub(crate) compartment: usize,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Tissue {
    pub(crate) n2_bar: f64,
    pub(crate) he_bar: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Oxygen {
    pub(crate) max_po2_bar: f64,
    pub(crate) cns_pct: f64,
    pub(crate) otu: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Start {
    pub(crate) tissues: Vec<Tissue>,
    pub(crate) cns_pct: f64,
    pub(crate) otu: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct NotStraightUp {
    pub(crate) from_min: f64,
    pub(crate) to_min: f64,
    pub(crate) depth_m: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct NearestGo {
    #[serde(deserialize_with = "nullable")]
    pub(crate) bottom_time_min: Option<u32>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) depth_m: Option<f64>,
    pub(crate) fills: Vec<Fill>,
    pub(crate) cylinders: Vec<LargerCylinder>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Fill {
    pub(crate) diver: String,
    pub(crate) fill_bar: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct LargerCylinder {
    pub(crate) diver: String,
    pub(crate) inner_volume_l: f64,
    pub(crate) contents_l: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct LevelEnd {
    pub(crate) depth_m: f64,
    pub(crate) leave_min: f64,
    pub(crate) reserve_l: f64,
    pub(crate) minimum_gas_bar: f64,
    #[serde(deserialize_with = "nullable")]
    pub(crate) left_bar: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct DiverHang {
    pub(crate) takes_l: f64,
    #[serde(deserialize_with = "nullable")]
    pub(crate) left_bar: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ShorterNeedsMore {
    pub(crate) from_min: u32,
    pub(crate) to_min: u32,
    pub(crate) because: WorseBecause,
}

#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum WorseBecause {
    NoSwitch,
    WholeMinutes,
    Schedule,
}

#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum EndedBy {
    Gas,
    Schedule,
    Bound,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Diver {
    pub(crate) name: String,
    #[serde(deserialize_with = "nullable")]
    pub(crate) no_stop_limit_min: Option<f64>,
    pub(crate) start_l: f64,
    pub(crate) planned_use_l: f64,
    #[serde(deserialize_with = "nullable")]
    pub(crate) end_bar: Option<f64>,
    pub(crate) reserve_l: f64,
    pub(crate) minimum_gas_bar: f64,
    pub(crate) turn_bar: f64,
    #[serde(deserialize_with = "nullable")]
    pub(crate) turn_min: Option<f64>,
    pub(crate) gas_limit_min: u32,
    pub(crate) levels: Vec<LevelEnd>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) pony: Option<Pony>,
    // Beyond the contract's list:
    pub(crate) gas_limit_ended_by: EndedBy,
    #[serde(deserialize_with = "nullable")]
    pub(crate) gas_limit_because: Option<String>,
    pub(crate) shorter_needs_more: Vec<ShorterNeedsMore>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) hang: Option<DiverHang>,
    pub(crate) gauge: Gauge,
    #[serde(deserialize_with = "nullable")]
    pub(crate) buddy: Option<String>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) leaving_bar: Option<f64>,
    pub(crate) to_spare_l: f64,
    pub(crate) lighter_kg: f64,
    pub(crate) stages: Vec<Stage>,
}

#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Gauge {
    Bar,
    Psi,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Pony {
    pub(crate) need_ascent_l: f64,
    pub(crate) need_full_l: f64,
    pub(crate) have_l: f64,
    pub(crate) verdict: PonyVerdict,
    pub(crate) covers_until_min: u32,
}

#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum PonyVerdict {
    CoversAll,
    CoversAscentOnly,
    Short,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Stage {
    pub(crate) gas: String,
    pub(crate) need_l: f64,
    pub(crate) have_l: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Team {
    pub(crate) time_limited_by: Vec<String>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) gas_limited_by: Option<String>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) depth_limited_by: Option<String>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) depth_limit_m: Option<f64>,
    pub(crate) turn_share_pct: f64,
    #[serde(deserialize_with = "nullable")]
    pub(crate) hang: Option<Hang>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Hang {
    pub(crate) depth_m: f64,
    pub(crate) time_min: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Surface {
    #[serde(deserialize_with = "nullable")]
    pub(crate) splash: Option<String>,
    pub(crate) leave_bottom: Moment,
    #[serde(deserialize_with = "nullable")]
    pub(crate) first_stop: Option<Moment>,
    pub(crate) surface: Moment,
    pub(crate) overdue: Moment,
    #[serde(deserialize_with = "nullable")]
    pub(crate) drift_m: Option<f64>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) drift_dive_m: Option<f64>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) emergency: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Moment {
    pub(crate) run_time_min: f64,
    #[serde(deserialize_with = "nullable")]
    pub(crate) time_of_day: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Late {
    pub(crate) bound_min: u32,
    #[serde(deserialize_with = "nullable")]
    pub(crate) stops_from_min: Option<u32>,
    pub(crate) stops_state: LateState,
    pub(crate) unknown: Vec<Unknown>,
    pub(crate) divers: Vec<LateDiver>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct LateDiver {
    pub(crate) name: String,
    #[serde(deserialize_with = "nullable")]
    pub(crate) reserve_gone_from_min: Option<u32>,
    pub(crate) reserve_gone_state: LateState,
    #[serde(deserialize_with = "nullable")]
    pub(crate) empty_from_min: Option<u32>,
    pub(crate) empty_state: LateState,
    #[serde(deserialize_with = "nullable")]
    pub(crate) stage_short_from_min: Option<u32>,
    pub(crate) stage_short_state: LateState,
    #[serde(deserialize_with = "nullable")]
    pub(crate) pony_stops_from_min: Option<u32>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) pony_stops_state: Option<LateState>,
}

#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum LateState {
    AsPlanned,
    From,
    NotWithin,
    Unknown,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Unknown {
    pub(crate) from_min: u32,
    pub(crate) because: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct LostGas {
    pub(crate) name: String,
    #[serde(deserialize_with = "nullable")]
    pub(crate) shared: Option<Rescue>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) pony: Option<Rescue>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Rescue {
    #[serde(deserialize_with = "nullable")]
    pub(crate) donor: Option<String>,
    pub(crate) run_time_min: f64,
    pub(crate) depth_m: f64,
    pub(crate) outcome: RescueOutcome,
    #[serde(deserialize_with = "nullable")]
    pub(crate) left_bar: Option<f64>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) empty_min: Option<f64>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) empty_m: Option<f64>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) missed_stops_min: Option<f64>,
}

#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum RescueOutcome {
    EveryStop,
    StopsMissed,
    NotEnough,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Finding {
    pub(crate) level: Level,
    pub(crate) code: String,
    #[serde(deserialize_with = "nullable")]
    pub(crate) diver: Option<String>,
    pub(crate) message: String,
}

#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq, PartialOrd, Ord)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Level {
    NoGo,
    Caution,
    Note,
}

/// One line of `hangbar check --format json`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Check {
    pub(crate) schema: String,
    pub(crate) file: String,
    #[serde(deserialize_with = "nullable")]
    pub(crate) file_bytes_hex: Option<String>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) title: Option<String>,
    pub(crate) verdict: Verdict,
    #[serde(deserialize_with = "nullable")]
    pub(crate) exit_status: Option<i32>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) reason: Option<String>,
    pub(crate) findings: Vec<Finding>,
    pub(crate) errors: Vec<CheckError>,
}

#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Verdict {
    Go,
    NoGo,
    ScheduleOnly,
    Skipped,
    Unusable,
    Failed,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct CheckError {
    #[serde(deserialize_with = "nullable")]
    pub(crate) line: Option<usize>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) column: Option<usize>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) table: Option<String>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) key: Option<String>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) option: Option<String>,
    pub(crate) message: String,
    #[serde(deserialize_with = "nullable")]
    pub(crate) accepted: Option<String>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) meant: Option<String>,
}

/// `hangbar whatif --format json`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct WhatIf {
    pub(crate) schema: String,
    #[serde(deserialize_with = "nullable")]
    pub(crate) title: Option<String>,
    pub(crate) verdict: Verdict,
    pub(crate) planned: Outcome,
    pub(crate) changes: Vec<Change>,
    pub(crate) late: Late,
    pub(crate) lost_gas: Vec<LostGas>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Change {
    pub(crate) late_min: f64,
    pub(crate) deeper_m: f64,
    pub(crate) harder_pct: f64,
    #[serde(deserialize_with = "nullable")]
    pub(crate) outcome: Option<Outcome>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) error: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Outcome {
    pub(crate) verdict: Verdict,
    pub(crate) no_gos: Vec<NoGo>,
    pub(crate) no_stop: bool,
    #[serde(deserialize_with = "nullable")]
    pub(crate) first_stop_m: Option<f64>,
    pub(crate) stop_time_min: f64,
    pub(crate) run_time_min: f64,
    pub(crate) divers: Vec<DiverOutcome>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct NoGo {
    pub(crate) code: String,
    #[serde(deserialize_with = "nullable")]
    pub(crate) diver: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct DiverOutcome {
    pub(crate) name: String,
    pub(crate) reserve_holds: bool,
    #[serde(deserialize_with = "nullable")]
    pub(crate) end_bar: Option<f64>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) empty_min: Option<f64>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) empty_m: Option<f64>,
    #[serde(deserialize_with = "nullable")]
    pub(crate) pony: Option<PonyVerdict>,
}
