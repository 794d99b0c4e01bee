//! What there is to say about a dive as it was.

use super::breathing::NoRate;
use super::climb::Rise;
use super::dive::{Gap, Jump};
use super::flight::{Breach, Peak};
use crate::finding::Weight;
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

/// The codes of all findings of a debrief, each once.
pub const CODES: &[&str] = &[
    "above-ceiling",
    "stops-cut-short",
    "over-m-value",
    "over-factor",
    "oxygen-was-over-limit",
    "oxygen-was-high",
    "oxygen-dose-was-over-limit",
    "oxygen-dose-was-high",
    "came-up-too-fast",
    "safety-stop-short",
    "deeper-than-planned",
    "below-depth-limit",
    "longer-than-planned",
    "left-under-minimum",
    "end-under-floor",
    "end-under-plan",
    "breathed-more",
    "breathed-little",
    "stops-unsaid",
    "stop-short",
    "deeper-on-average",
    "start-under-fill",
    "another-dive",
    "run-time-long",
    "no-gauge",
    "gauge-rises",
    "gauge-does-not-fall",
    "consumption-doubtful",
    "gauge-partial",
    "other-gas-than-planned",
    "switch-unsaid",
    "record-begins-deep",
    "record-ends-deep",
    "record-gap",
    "record-jumps",
    "record-repeats",
    "record-above-surface",
    "record-decimal-commas",
];

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
