//! `hangbar/briefing/1`: everything about a dive.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::before::{Before, LeastInterval, LimitSetBy};
use super::finite::{NotFinite, finite};
use super::flying::Flying;
use super::lost_stage::LostStage;
use super::nullable::nullable;
use super::state::{Oxygen, Start, Tissue};
use super::team::{Diver, NearestGo, Team};
use super::trouble::{Late, LostGas};
use super::verdict::{Finding, Verdict};
use crate::briefing;
use crate::dive;
use crate::finding;
use crate::quantity::RunTime;
use crate::quantity::show::{minutes_down, minutes_up};

/// A dive as planned: the way down and up, the gas, who limits it, what may go wrong.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Briefing {
    /// Name and number of the document's form.
    #[schemars(extend("const" = Briefing::SCHEMA))]
    pub schema: String,
    /// The plan's title; null where it has none.
    #[serde(deserialize_with = "nullable")]
    pub title: Option<String>,
    /// `go`, `no-go` or `schedule-only`.
    pub verdict: Verdict,
    /// The site.
    pub environment: Environment,
    /// No-stop limit at the deepest level alone, min; null where 999 min do not reach it.
    #[serde(deserialize_with = "nullable")]
    pub no_stop_limit_min: Option<f64>,
    /// Whether the way up has compulsory stops.
    pub staged: bool,
    /// Depth at which the low gradient factor holds, m; null without one.
    #[serde(deserialize_with = "nullable")]
    pub anchor_m: Option<f64>,
    /// The dive from the surface back to it, without gaps.
    pub segments: Vec<Segment>,
    /// Run time of surfacing, min.
    pub run_time_min: f64,
    /// The tissues on surfacing.
    pub surfacing: Surfacing,
    /// The 16 compartments on surfacing, fastest first.
    pub tissues: Vec<Tissue>,
    /// Oxygen: doses of the day so far, this dive included; of each figure the highest of any
    /// diver.
    pub oxygen: Oxygen,
    /// The team on leaving the surface.
    pub start: Start,
    /// What the no-stop limit would be with clean tissues, min; null where 999 min do not reach
    /// it.
    #[serde(deserialize_with = "nullable")]
    pub clean_limit_min: Option<f64>,
    /// Whose own no-stop limit is the least; null where histories and gases do not differ.
    #[serde(deserialize_with = "nullable")]
    pub limit_set_by: Option<LimitSetBy>,
    /// Earlier dives of the day, oldest first.
    pub before: Vec<Before>,
    /// The least surface interval before the dive from which it is a no-stop dive; null of a first
    /// dive.
    #[serde(deserialize_with = "nullable")]
    pub least_interval: Option<LeastInterval>,
    /// Flying, or driving up, after the dive.
    pub flying: Flying,
    /// Stretches of the way down and along from which nobody may go straight up.
    pub not_straight_up: Vec<NotStraightUp>,
    /// The gas of each diver, in the order of the plan.
    pub divers: Vec<Diver>,
    /// Of a go: the longest whole bottom time that is one by every rule, without stops that the
    /// plan itself has not, min; null for any other verdict.
    #[serde(deserialize_with = "nullable")]
    pub longest_go_min: Option<u32>,
    /// Single changes that make a no-go a go; null unless the verdict is `no-go`.
    #[serde(deserialize_with = "nullable")]
    pub nearest_go: Option<NearestGo>,
    /// Who limits the dive.
    pub team: Team,
    /// The clock of the boat; times of day in whole minutes, toward safety.
    pub surface: Surface,
    /// From which whole minute of leaving late things are bad.
    pub late: Late,
    /// Each diver's gas gone at the worst moment.
    pub lost_gas: Vec<LostGas>,
    /// Each decompression gas that the schedule breathes, lost with every cylinder of it.
    pub lost_stages: Vec<LostStage>,
    /// No-gos first, then cautions, then notes.
    pub findings: Vec<Finding>,
}

/// Water and air.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Environment {
    /// Pressure of the air, bar.
    pub surface_bar: f64,
    /// Pressure of the water, bar/m.
    pub bar_per_m: f64,
}

/// A stretch of the dive.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Segment {
    /// What is done in it: `descent`, `level`, `ascent`, `stop`, `safety-stop` or `switch`.
    pub kind: SegmentKind,
    /// Depth at its start, m.
    pub from_m: f64,
    /// Depth at its end, m.
    pub to_m: f64,
    /// Run time of its start, min.
    pub start_min: f64,
    /// Run time of its end, min.
    pub end_min: f64,
    /// Gas breathed.
    pub gas: String,
}

/// What is done in a stretch of the dive.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SegmentKind {
    /// Going down.
    Descent,
    /// Staying at a level.
    Level,
    /// Going up.
    Ascent,
    /// A stop that must be made.
    Stop,
    /// The safety stop.
    SafetyStop,
    /// Changing to another gas.
    Switch,
}

/// The tissues on surfacing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Surfacing {
    /// Greatest gradient, of the M-value's, %.
    pub gradient_pct: f64,
    /// The compartment that has it, 1 (fastest) to 16.
    pub compartment: usize,
}

/// Run times between which nobody may go straight up.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct NotStraightUp {
    /// Run time of its start, min.
    pub from_min: f64,
    /// Run time of its end, min.
    pub to_min: f64,
    /// Depth at its start, m.
    pub depth_m: f64,
}

/// The clock of the boat, and the drift.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Surface {
    /// Time of day of leaving the surface, `HH:MM`; null where the plan has none.
    #[serde(deserialize_with = "nullable")]
    pub splash: Option<String>,
    /// Leaving the bottom.
    pub leave_bottom: Moment,
    /// The first pause of the way up, a gas switch included; null where none is made.
    #[serde(deserialize_with = "nullable")]
    pub first_stop: Option<Moment>,
    /// Surfacing.
    pub surface: Moment,
    /// From when on the team is overdue.
    pub overdue: Moment,
    /// Drift over ground on the way up, m; null without a current.
    #[serde(deserialize_with = "nullable")]
    pub drift_m: Option<f64>,
    /// Drift over the whole dive, m; null without a current.
    #[serde(deserialize_with = "nullable")]
    pub drift_dive_m: Option<f64>,
    /// Whom to call; null where the plan does not say.
    #[serde(deserialize_with = "nullable")]
    pub emergency: Option<String>,
}

/// A moment of the dive.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Moment {
    /// Run time, min.
    pub run_time_min: f64,
    /// Time of day, `HH:MM`, in whole minutes toward safety; null without a splash.
    #[serde(deserialize_with = "nullable")]
    pub time_of_day: Option<String>,
}

impl Briefing {
    /// Name and number of the document's form.
    pub const SCHEMA: &'static str = "hangbar/briefing/1";
}

impl TryFrom<&briefing::Briefing> for Briefing {
    type Error = NotFinite;

    fn try_from(briefing: &briefing::Briefing) -> Result<Self, NotFinite> {
        let schedule = &briefing.schedule;
        let verdict = briefing.verdict();
        let findings = briefing.findings.iter();
        finite(Self {
            schema: Self::SCHEMA.to_owned(),
            title: briefing.plan.title().map(str::to_owned),
            verdict: verdict.into(),
            environment: Environment {
                surface_bar: briefing.plan.rules().environment.surface().as_bar(),
                bar_per_m: briefing.plan.rules().environment.bar_per_m(),
            },
            no_stop_limit_min: briefing.no_stop_limit.time().map(|limit| limit.as_min()),
            staged: schedule.staged,
            anchor_m: schedule.anchor().map(|anchor| anchor.as_m()),
            segments: schedule.segments.iter().map(Segment::from).collect(),
            run_time_min: schedule.run_time().as_min(),
            surfacing: Surfacing {
                gradient_pct: schedule.surfacing.fraction * 100.0,
                compartment: schedule.surfacing.index + 1,
            },
            tissues: Tissue::each(&schedule.tissues),
            oxygen: Oxygen::from(&briefing.oxygen),
            start: Start::from(briefing.plan.start()),
            clean_limit_min: briefing.clean_limit.time().map(|limit| limit.as_min()),
            limit_set_by: LimitSetBy::new(briefing),
            before: Before::each(briefing),
            least_interval: briefing.least_interval.as_ref().map(LeastInterval::from),
            flying: Flying::new(briefing),
            not_straight_up: NotStraightUp::each(briefing),
            divers: Diver::each(briefing),
            longest_go_min: briefing.longest_go.as_ref().map(|longest| longest.minutes),
            nearest_go: (verdict == finding::Verdict::NoGo).then(|| NearestGo::new(briefing)),
            team: Team::new(briefing),
            surface: Surface::new(briefing),
            late: Late::from(&briefing.late),
            lost_gas: briefing.lost_gas.iter().map(LostGas::from).collect(),
            lost_stages: briefing.lost_stages.iter().map(LostStage::from).collect(),
            findings: findings
                .map(|finding| Finding::new(finding, briefing.plan.units()))
                .collect(),
        })
    }
}

impl From<&dive::Segment> for Segment {
    fn from(segment: &dive::Segment) -> Self {
        Self {
            kind: match segment.kind {
                dive::SegmentKind::Descent => SegmentKind::Descent,
                dive::SegmentKind::Level => SegmentKind::Level,
                dive::SegmentKind::Ascent => SegmentKind::Ascent,
                dive::SegmentKind::Stop => SegmentKind::Stop,
                dive::SegmentKind::SafetyStop => SegmentKind::SafetyStop,
                dive::SegmentKind::Switch => SegmentKind::Switch,
            },
            from_m: segment.from.as_m(),
            to_m: segment.to.as_m(),
            start_min: segment.start.as_min(),
            end_min: segment.end.as_min(),
            gas: segment.gas.to_string(),
        }
    }
}

impl NotStraightUp {
    fn each(briefing: &briefing::Briefing) -> Vec<Self> {
        let stretches = briefing.not_straight_up.iter().map(|stretch| Self {
            from_min: stretch.from.as_min(),
            to_min: stretch.to.as_min(),
            depth_m: stretch.depth.as_m(),
        });
        stretches.collect()
    }
}

impl Surface {
    fn new(briefing: &briefing::Briefing) -> Self {
        let (plan, schedule) = (&briefing.plan, &briefing.schedule);
        let moment = |time: RunTime, shown: fn(RunTime) -> f64| Moment {
            run_time_min: time.as_min(),
            time_of_day: plan.time_of_day(shown(time)).map(|time| time.to_string()),
        };
        let run_time = schedule.run_time();
        let drift = briefing.drift();
        Self {
            splash: plan.splash().map(|splash| splash.to_string()),
            leave_bottom: moment(schedule.leave_bottom(), minutes_down),
            first_stop: schedule
                .pauses()
                .next()
                .map(|stop| moment(stop.start, minutes_down)),
            surface: moment(run_time, minutes_up),
            overdue: moment(run_time + plan.surface().overdue_after, minutes_up),
            drift_m: drift.map(|drift| drift.way_up_m),
            drift_dive_m: drift.map(|drift| drift.whole_dive_m),
            emergency: plan.surface().emergency.clone(),
        }
    }
}
