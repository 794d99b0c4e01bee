//! What there is to say about a dive as it was.

use super::breathing::NoRate;
use super::climb::Rise;
use super::dive::{Gap, Jump};
use super::flight::{Breach, Peak};
use crate::finding::{Weight, codes_of};
use crate::quantity::{BreathingRate, Depth, GaugePressure, Pressure, RunTime, Time, UnitSystem};
use crate::record::ReadingFault;
use crate::site::Mix;
use crate::tissue::Gradient;
use serde::Serialize;

/// What can be found, with its figures.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum DebriefFact {
    /// Above the ceiling: a compulsory stop was missed.
    AboveCeiling {
        /// The stretch that was furthest above.
        worst: Breach,
        /// How many stretches there are.
        count: usize,
    },
    /// Back sooner than a way up with its compulsory stops takes.
    StopsCutShort {
        /// Run time as written down.
        run_time: Time,
        /// What it takes at least.
        takes: Time,
    },
    /// The dive as written down takes compulsory stops, and nobody wrote when it was over.
    StopsUnsaid {
        /// Minutes at compulsory stops of that dive.
        stops: Time,
        /// Whether the plan has stops: then they were meant to be made.
        is_planned: bool,
    },
    /// A planned stop was not made, or cut short, without coming above the ceiling.
    StopShort {
        /// Its depth; the deepest of several.
        depth: Depth,
        /// How long somebody was near it.
        lasted: Time,
        /// How long it was to last.
        planned: Time,
        /// How many there are.
        count: usize,
    },
    /// The average depth says that the dive was deeper than it is flown.
    DeeperOnAverage {
        /// As written down.
        average: Depth,
        /// Of the dive as flown.
        flown: Depth,
    },
    /// Began with less than the planned fill.
    StartUnderFill {
        /// The gauge.
        start: GaugePressure,
        /// The planned fill.
        fill: GaugePressure,
    },
    /// Breathed much less than planned.
    BreathedLittle {
        /// Consumption.
        rate: BreathingRate,
        /// Planned consumption.
        planned: BreathingRate,
    },
    /// A record of another dive than the first one of its diver.
    AnotherDive,
    /// Under water much longer than the dive takes by the plan.
    RunTimeLong {
        /// Run time as written down.
        run_time: Time,
        /// What the dive takes, as deep and as long.
        takes: Time,
    },
    /// A gradient over 100 %: over the M-value.
    OverMValue {
        /// How much, and in which compartment.
        gradient: Gradient,
        /// Where on the way up; `None` at the surface.
        on_the_way: Option<Peak>,
    },
    /// Surfaced over the plan's high factor.
    OverFactor {
        /// How much, and in which compartment.
        gradient: Gradient,
        /// The factor, per cent.
        factor_pct: f64,
    },
    /// Oxygen pressure above the limit for any gas, or above what is advised for a bottom gas.
    Oxygen {
        /// The pressure.
        po2: Pressure,
        /// What was passed.
        limit_bar: f64,
        /// Whether that is the limit for any gas.
        is_over_limit: bool,
    },
    /// The single-exposure oxygen limits are used up or nearly so.
    Dose {
        /// Share used by the day so far, per cent.
        cns_pct: f64,
        /// Whether it is more than all of them.
        is_over_limit: bool,
    },
    /// Came up too fast.
    TooFast {
        /// The fastest of these rises.
        worst: Rise,
        /// How many there are.
        count: usize,
        /// The plan's rate, m/min.
        planned_m_min: f64,
    },
    /// The safety stop was not made, or cut short.
    SafetyStopShort {
        /// Its depth.
        depth: Depth,
        /// How long it lasted; `None` where only the run time tells.
        lasted: Option<Time>,
        /// How long it was to last.
        planned: Time,
    },
    /// Deeper than planned.
    Deeper {
        /// Greatest depth.
        depth: Depth,
        /// Greatest planned depth.
        planned: Depth,
    },
    /// Deeper than the diver is qualified for.
    BelowDepthLimit {
        /// Greatest depth.
        depth: Depth,
        /// The limit.
        limit: Depth,
    },
    /// Left the bottom later than planned.
    Longer {
        /// Bottom time.
        bottom_time: Time,
        /// Planned bottom time.
        planned: Time,
    },
    /// Left the bottom with less than the minimum gas.
    LeftUnderMinimum {
        /// The gauge.
        left: GaugePressure,
        /// The minimum.
        minimum: GaugePressure,
    },
    /// Back with less than the floor.
    EndUnderFloor {
        /// The gauge.
        end: GaugePressure,
        /// The floor.
        floor: GaugePressure,
    },
    /// Back with less than planned.
    EndUnderPlan {
        /// The gauge.
        end: GaugePressure,
        /// What the plan expects; `None` where it expects an empty cylinder.
        planned: GaugePressure,
    },
    /// Breathed more than planned.
    BreathedMore {
        /// Consumption.
        rate: BreathingRate,
        /// Planned consumption.
        planned: BreathingRate,
        /// Whether it is much more.
        is_much: bool,
    },
    /// The gauge tells no consumption.
    NoConsumption(NoRate),
    /// The gauge does not cover all of the dive.
    GaugePartial {
        /// Part of the dive that it does not cover.
        uncovered: Time,
    },
    /// The record says another gas than the plan.
    OtherGas {
        /// What the record says.
        gas: Mix,
        /// What the plan says.
        planned: Mix,
    },
    /// The record does not say when the gas was switched.
    SwitchUnsaid {
        /// When the main cylinder is taken to have been left.
        taken_at: RunTime,
        /// The main cylinder's gas, on which the tissues are taken to the end.
        gas: Mix,
    },
    /// The record begins under water.
    BeginsDeep {
        /// Depth of its first reading.
        depth: Depth,
    },
    /// The record ends under water.
    EndsDeep {
        /// Depth of its last reading.
        depth: Depth,
    },
    /// Nothing was recorded for a while.
    Gaps {
        /// The longest gap.
        longest: Gap,
        /// How many there are.
        count: usize,
    },
    /// The depth jumps.
    Jumps {
        /// The first jump.
        first: Jump,
        /// How many there are.
        count: usize,
    },
    /// Something was mended on reading.
    Mended(ReadingFault),
}

impl DebriefFact {
    /// How much it weighs, and its name for scripts.
    const fn kind(&self) -> (Weight, &'static str) {
        use Weight::{Caution, NoGo, Note};
        match self {
            Self::AboveCeiling { .. } => (NoGo, "above-ceiling"),
            Self::StopsCutShort { .. } => (NoGo, "stops-cut-short"),
            Self::RunTimeLong { .. } => (Caution, "run-time-long"),
            Self::OverMValue { .. } => (NoGo, "over-m-value"),
            Self::OverFactor { .. } => (Caution, "over-factor"),
            Self::Oxygen {
                is_over_limit: true,
                ..
            } => (NoGo, "oxygen-was-over-limit"),
            Self::Oxygen { .. } => (Caution, "oxygen-was-high"),
            Self::Dose {
                is_over_limit: true,
                ..
            } => (NoGo, "oxygen-dose-was-over-limit"),
            Self::Dose { .. } => (Caution, "oxygen-dose-was-high"),
            Self::TooFast { .. } => (Caution, "came-up-too-fast"),
            Self::SafetyStopShort { .. } => (Caution, "safety-stop-short"),
            Self::Deeper { .. } => (Caution, "deeper-than-planned"),
            Self::BelowDepthLimit { .. } => (Caution, "below-depth-limit"),
            Self::Longer { .. } => (Caution, "longer-than-planned"),
            Self::LeftUnderMinimum { .. } => (Caution, "left-under-minimum"),
            Self::EndUnderFloor { .. } => (Caution, "end-under-floor"),
            Self::EndUnderPlan { .. } => (Note, "end-under-plan"),
            Self::StopsUnsaid {
                is_planned: false, ..
            } => (NoGo, "stops-unsaid"),
            Self::StopsUnsaid { .. } => (Caution, "stops-unsaid"),
            Self::StopShort { .. } => (Caution, "stop-short"),
            Self::DeeperOnAverage { .. } => (Caution, "deeper-on-average"),
            Self::StartUnderFill { .. } => (Caution, "start-under-fill"),
            Self::AnotherDive => (Caution, "another-dive"),
            Self::BreathedMore { is_much: true, .. } => (Caution, "breathed-more"),
            Self::BreathedMore { .. } => (Note, "breathed-more"),
            Self::BreathedLittle { .. } => (Caution, "breathed-little"),
            Self::NoConsumption(NoRate::NoPressure) => (Note, "no-gauge"),
            Self::NoConsumption(NoRate::Rises { .. }) => (Caution, "gauge-rises"),
            Self::NoConsumption(NoRate::NothingUsed) => (Caution, "gauge-does-not-fall"),
            Self::NoConsumption(NoRate::Doubtful { .. }) => (Caution, "consumption-doubtful"),
            Self::GaugePartial { .. } => (Note, "gauge-partial"),
            Self::OtherGas { .. } => (Caution, "other-gas-than-planned"),
            Self::SwitchUnsaid { .. } => (Caution, "switch-unsaid"),
            Self::BeginsDeep { .. } => (Caution, "record-begins-deep"),
            Self::EndsDeep { .. } => (Caution, "record-ends-deep"),
            Self::Gaps { .. } => (Caution, "record-gap"),
            Self::Jumps { .. } => (Caution, "record-jumps"),
            Self::Mended(ReadingFault::Repeated { .. }) => (Note, "record-repeats"),
            Self::Mended(ReadingFault::AboveSurface { .. }) => (Note, "record-above-surface"),
            Self::Mended(ReadingFault::DecimalCommas { .. }) => (Note, "record-decimal-commas"),
        }
    }
}

/// The codes of all findings of a debrief, each once, and what each means.
pub const MEANINGS: &[(&str, &str)] = &[
    (
        "above-ceiling",
        "a reading more than 0.3 m above the ceiling: a compulsory stop was missed",
    ),
    (
        "stops-cut-short",
        "by a pencil log back over a minute sooner than the way up with its compulsory stops takes",
    ),
    (
        "over-m-value",
        "a gradient over 100 %, on the way up or at the surface",
    ),
    ("over-factor", "surfaced over the plan's high factor"),
    (
        "oxygen-was-over-limit",
        "oxygen was breathed at over 1.63 bar",
    ),
    (
        "oxygen-was-high",
        "oxygen of the bottom gas was over 1.4 bar",
    ),
    (
        "oxygen-dose-was-over-limit",
        "over 100 % of the single-exposure oxygen limits in the day so far",
    ),
    ("oxygen-dose-was-high", "over 80 % of them"),
    (
        "came-up-too-fast",
        "at 1.2 times the planned rate or faster",
    ),
    (
        "safety-stop-short",
        "the safety stop was missed or over half a minute short; by a pencil log over a minute",
    ),
    ("deeper-than-planned", "over a metre deeper"),
    ("below-depth-limit", "deeper than the diver's own limit"),
    ("longer-than-planned", "left the bottom over a minute later"),
    (
        "left-under-minimum",
        "left the bottom with less than the minimum gas",
    ),
    ("end-under-floor", "back with less than the floor"),
    ("end-under-plan", "back with over 5 bar less than planned"),
    (
        "breathed-more",
        "over 10 % more than planned; over 0.05 L/min more",
    ),
    (
        "breathed-little",
        "under 70 % of the planned: doubtful, and a next plan keeps the planned figure",
    ),
    (
        "stops-unsaid",
        "by a pencil log a dive with compulsory stops, and no run time; a caution where the plan has stops",
    ),
    (
        "stop-short",
        "a planned stop over a minute short on a dive as deep and long as planned, never above the ceiling",
    ),
    (
        "deeper-on-average",
        "a pencil log's average depth is over half a metre deeper than that of the dive as flown",
    ),
    (
        "start-under-fill",
        "began with over 10 bar less than the planned fill",
    ),
    (
        "another-dive",
        "a record of another dive than an earlier record of the same diver",
    ),
    (
        "run-time-long",
        "by a pencil log over 10 minutes longer under water than the dive takes",
    ),
    ("no-gauge", "no gauge at both ends: no consumption"),
    (
        "gauge-rises",
        "the gauge rises by over 5 bar: no consumption",
    ),
    (
        "gauge-does-not-fall",
        "the gauge is no lower at the end: no consumption",
    ),
    (
        "consumption-doubtful",
        "under 2 or over 150 L/min: not used",
    ),
    (
        "gauge-partial",
        "the gauge does not cover over a minute of the dive",
    ),
    (
        "other-gas-than-planned",
        "the record says a gas that the plan does not have",
    ),
    (
        "switch-unsaid",
        "a decompression gas is planned, and the record does not say when it was breathed",
    ),
    ("record-begins-deep", "the record begins under water"),
    ("record-ends-deep", "the record ends under water"),
    ("record-gap", "readings 5 min and more apart"),
    ("record-jumps", "a depth over 3 m off at over 60 m/min"),
    ("record-repeats", "a row says what the one before says"),
    (
        "record-above-surface",
        "a depth up to 1 m above the surface, taken as the surface",
    ),
    ("record-decimal-commas", "commas taken as decimal points"),
];

/// The codes alone.
pub const CODES: &[&str] = &codes_of::<{ MEANINGS.len() }>(MEANINGS);

/// Something found about one recorded dive.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Found {
    /// Whose dive.
    pub diver: String,
    /// Units of that diver's gauge, where they differ from the plan's.
    pub gauge: Option<UnitSystem>,
    /// Index of the dive among those of the debrief.
    pub dive: usize,
    /// What was found.
    pub fact: DebriefFact,
}

impl Found {
    /// How much it weighs.
    #[must_use]
    pub const fn weight(&self) -> Weight {
        self.fact.kind().0
    }

    /// A name for scripts; does not change between versions.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        self.fact.kind().1
    }
}
