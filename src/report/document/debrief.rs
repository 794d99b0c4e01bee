//! `hangbar/debrief/1`: a dive as it was.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::codes::these_or_later;
use super::finite::{NotFinite, finite};
use super::nullable::nullable;
use super::state::{Oxygen, Tissue};
use super::verdict::FindingLevel;
use crate::debrief;
use crate::finding;
use crate::quantity::{BreathingRate, Time};
use crate::tissue;

/// All records of a dive, beside its plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Debrief {
    /// Name and number of the document's form.
    #[schemars(extend("const" = Debrief::SCHEMA))]
    pub schema: String,
    /// The plan's title; null where it has none.
    #[serde(deserialize_with = "nullable")]
    pub title: Option<String>,
    /// Whether a finding is a no-go; where none is, that is not leave for another dive.
    pub is_no_go: bool,
    /// The dive as it was planned.
    pub planned: Planned,
    /// The recorded dives, in the order of the records and of the dives in them.
    pub records: Vec<RealDive>,
    /// The divers of the plan, in its order.
    pub divers: Vec<DebriefedDiver>,
    /// No-gos first, then cautions, then notes.
    pub findings: Vec<Found>,
}

/// The dive as it was planned.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Planned {
    /// Greatest depth, m.
    pub greatest_depth_m: f64,
    /// From the splash to leaving the last level, min.
    pub bottom_time_min: f64,
    /// From the splash to surfacing, min.
    pub run_time_min: f64,
    /// Rate of ascent, m/min.
    pub ascent_m_per_min: f64,
    /// Greatest gradient that the plan surfaces with, of the M-value's, %.
    pub high_factor_pct: f64,
}

/// How a record was kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum RecordKind {
    /// By a logger: readings.
    Samples,
    /// With a pencil.
    Pencil,
}

/// A gradient and its compartment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct WayUp {
    /// The gradient, of the M-value's, %.
    pub gradient_pct: f64,
    /// Its compartment, 1 (fastest) to 16.
    pub compartment: usize,
    /// Run time of the reading, min.
    pub at_min: f64,
    /// Depth there, m.
    pub depth_m: f64,
}

/// The greatest gradient at the surface.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Surfaced {
    /// The gradient, of the M-value's, %.
    pub gradient_pct: f64,
    /// Its compartment, 1 (fastest) to 16.
    pub compartment: usize,
}

/// A stretch of a way up.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Rise {
    /// Run time of its beginning, min.
    pub start_min: f64,
    /// Run time of its end, min.
    pub end_min: f64,
    /// Depth at its beginning, m.
    pub from_m: f64,
    /// Depth at its end, m.
    pub to_m: f64,
    /// Greatest rate in it, m/min.
    pub greatest_rate_m_per_min: f64,
}

/// A stretch of readings above the ceiling.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct AboveCeiling {
    /// Run time of its first reading, min.
    pub start_min: f64,
    /// Run time of its last reading, min.
    pub end_min: f64,
    /// How many readings it has.
    pub readings: usize,
    /// The most above the ceiling, m.
    pub most_m: f64,
    /// Run time of that reading, min.
    pub at_min: f64,
    /// Depth there, m.
    pub depth_m: f64,
    /// The ceiling there, with the high factor, m.
    pub ceiling_m: f64,
}

/// What was not recorded for a while.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Gap {
    /// Run time of the reading before it, min.
    pub start_min: f64,
    /// Run time of the reading after it, min.
    pub end_min: f64,
}

/// One recorded dive of one diver.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct RealDive {
    /// Whose it is.
    pub diver: String,
    /// The record, as it was named; `standard input` where that is `-`.
    pub file: String,
    /// Line of its first moment, or of its table.
    pub line: u64,
    /// Which dive of the file, from 1.
    pub number: usize,
    /// How it was kept: `samples` of a logger, `pencil`.
    pub kind: RecordKind,
    /// Time of day of the splash, `HH:MM`; null where it is not known.
    #[serde(deserialize_with = "nullable")]
    pub splash: Option<String>,
    /// Greatest depth, m.
    pub greatest_depth_m: f64,
    /// Mean depth over the run time, m; of a pencil log as it is written, or that of the dive
    /// as flown.
    pub average_depth_m: f64,
    /// From the splash to leaving the bottom, min; null where a logger's dive never came near
    /// it.
    #[serde(deserialize_with = "nullable")]
    pub bottom_time_min: Option<f64>,
    /// From the splash to being back, min.
    pub run_time_min: f64,
    /// What was in the main cylinder.
    pub gas: String,
    /// Pressure breathed from the main cylinder over the time under water, atm·min.
    pub exposure_atm_min: f64,
    /// The same between the two gauge readings, atm·min: what the consumption is over.
    pub consumption_exposure_atm_min: f64,
    /// Gauge at the start, bar; null where it is not known.
    #[serde(deserialize_with = "nullable")]
    pub start_bar: Option<f64>,
    /// Gauge at the end, bar; null where it is not known.
    #[serde(deserialize_with = "nullable")]
    pub end_bar: Option<f64>,
    /// Gas used between the two, L; null where there is no consumption but a doubtful one.
    #[serde(deserialize_with = "nullable")]
    pub used_l: Option<f64>,
    /// Gas breathed in a minute at the surface, L/min; null where the gauge does not tell.
    #[serde(deserialize_with = "nullable")]
    pub consumption_l_per_min: Option<f64>,
    /// Greatest oxygen pressure of the dive, doses of the day so far.
    pub oxygen: Oxygen,
    /// The 16 compartments at its last moment, fastest first.
    pub tissues: Vec<Tissue>,
    /// The greatest gradient between the greatest depth and surfacing; null of a pencil log, or
    /// where no reading lies there.
    #[serde(deserialize_with = "nullable")]
    pub way_up: Option<WayUp>,
    /// The greatest gradient at the surface; null of a record that ends under water.
    #[serde(deserialize_with = "nullable")]
    pub surfacing: Option<Surfaced>,
    /// The window of 15 s with the greatest rate; null of a pencil log.
    #[serde(deserialize_with = "nullable")]
    pub fastest: Option<Rise>,
    /// Rises at 1.2 times the planned rate or faster, windows that touch as one.
    pub too_fast: Vec<Rise>,
    /// Stretches of readings more than 0.3 m above the ceiling.
    pub above_ceiling: Vec<AboveCeiling>,
    /// Readings 5 min and more apart.
    pub gaps: Vec<Gap>,
}

/// What a diver of the plan breathed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct DebriefedDiver {
    /// The name.
    pub name: String,
    /// How many recorded dives.
    pub records: usize,
    /// Planned consumption, L/min.
    pub planned_l_per_min: f64,
    /// Planned gauge at the surface, bar; null where the plan expects an empty cylinder.
    #[serde(deserialize_with = "nullable")]
    pub planned_end_bar: Option<f64>,
    /// Planned minimum gas, bar.
    pub minimum_gas_bar: f64,
    /// For the next plan: the highest of the records, L/min; null where none tells.
    #[serde(deserialize_with = "nullable")]
    pub suggested_l_per_min: Option<f64>,
    /// The one in the middle, L/min; null likewise.
    #[serde(deserialize_with = "nullable")]
    pub median_l_per_min: Option<f64>,
    /// The lowest, L/min; null likewise.
    #[serde(deserialize_with = "nullable")]
    pub least_l_per_min: Option<f64>,
    /// The highest, L/min; null likewise.
    #[serde(deserialize_with = "nullable")]
    pub greatest_l_per_min: Option<f64>,
}

/// Something found about one recorded dive.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Found {
    /// How much it weighs: `no-go`, `caution` or `note`.
    pub level: FindingLevel,
    /// The code of what was found; a later version may have others.
    #[schemars(extend("anyOf" = these_or_later(debrief::MEANINGS)))]
    pub code: String,
    /// About whom.
    pub diver: String,
    /// About which of `records`, from 0.
    pub record: usize,
    /// A sentence with its figures.
    pub message: String,
}

impl Debrief {
    /// Name and number of the document's form.
    pub const SCHEMA: &'static str = "hangbar/debrief/1";

    /// The document of a debrief.
    ///
    /// # Errors
    /// [`NotFinite`] where a figure is no number.
    pub fn new(of: &debrief::Debrief) -> Result<Self, NotFinite> {
        let plan = of.plan();
        let schedule = &of.briefing.schedule;
        let divers = 0..plan.divers().len();
        finite(Self {
            schema: Self::SCHEMA.to_owned(),
            title: plan.title().map(str::to_owned),
            is_no_go: of.is_no_go(),
            planned: Planned {
                greatest_depth_m: schedule.deepest().as_m(),
                bottom_time_min: schedule.bottom_time.as_min(),
                run_time_min: schedule.run_time().as_min(),
                ascent_m_per_min: plan.rules().ascent.rate.as_m_min(),
                high_factor_pct: plan.rules().factors.high() * 100.0,
            },
            records: of
                .dives
                .iter()
                .map(|dive| RealDive::new(of, dive))
                .collect(),
            divers: divers.map(|diver| DebriefedDiver::new(of, diver)).collect(),
            findings: of
                .findings
                .iter()
                .map(|found| Found::new(of, found))
                .collect(),
        })
    }
}

impl RealDive {
    fn new(of: &debrief::Debrief, dive: &debrief::RealDive) -> Self {
        let sampled = dive.sampled();
        let breathed = &dive.breathed;
        Self {
            diver: of.plan().divers()[dive.diver].name.clone(),
            file: dive.source.file.clone(),
            line: dive.source.line,
            number: dive.source.number,
            kind: match dive.kept {
                debrief::Kept::Sampled(_) => RecordKind::Samples,
                debrief::Kept::Pencilled(_) => RecordKind::Pencil,
            },
            splash: dive.splash.map(|splash| splash.to_string()),
            greatest_depth_m: dive.greatest_depth.as_m(),
            average_depth_m: dive.average_depth.as_m(),
            bottom_time_min: dive.bottom_time.map(Time::as_min),
            run_time_min: dive.run_time.as_min(),
            gas: dive.gas.to_string(),
            exposure_atm_min: breathed.whole.as_atm_min(),
            consumption_exposure_atm_min: breathed.counted.as_atm_min(),
            start_bar: breathed.gauge.map(|gauge| gauge.start.as_bar()),
            end_bar: breathed.gauge.map(|gauge| gauge.end.as_bar()),
            used_l: breathed.used.map(|used| used.as_l()),
            consumption_l_per_min: breathed.rate.ok().map(BreathingRate::as_l_min),
            oxygen: Oxygen::from(&dive.oxygen),
            tissues: Tissue::each(&dive.after.tissues),
            way_up: sampled
                .and_then(|sampled| sampled.way_up)
                .map(|peak| WayUp {
                    gradient_pct: peak.gradient.fraction * 100.0,
                    compartment: peak.gradient.index + 1,
                    at_min: peak.run_time.as_min(),
                    depth_m: peak.depth.as_m(),
                }),
            surfacing: dive.surfacing.map(Surfaced::new),
            fastest: sampled
                .and_then(|sampled| sampled.fastest.as_ref())
                .map(Rise::new),
            too_fast: each(sampled.map(|sampled| &sampled.too_fast), Rise::new),
            above_ceiling: each(sampled.map(|sampled| &sampled.breaches), AboveCeiling::new),
            gaps: each(sampled.map(|sampled| &sampled.gaps), |gap| Gap {
                start_min: gap.start.as_min(),
                end_min: gap.end.as_min(),
            }),
        }
    }
}

fn each<T, U>(list: Option<&Vec<T>>, of: impl Fn(&T) -> U) -> Vec<U> {
    list.into_iter().flatten().map(of).collect()
}

impl Surfaced {
    fn new(gradient: tissue::Gradient) -> Self {
        Self {
            gradient_pct: gradient.fraction * 100.0,
            compartment: gradient.index + 1,
        }
    }
}

impl Rise {
    fn new(rise: &debrief::Rise) -> Self {
        Self {
            start_min: rise.start.as_min(),
            end_min: rise.end.as_min(),
            from_m: rise.from.as_m(),
            to_m: rise.to.as_m(),
            greatest_rate_m_per_min: rise.rate.as_m_min(),
        }
    }
}

impl AboveCeiling {
    fn new(breach: &debrief::Breach) -> Self {
        Self {
            start_min: breach.start.as_min(),
            end_min: breach.end.as_min(),
            readings: breach.readings,
            most_m: breach.most().as_m(),
            at_min: breach.at.as_min(),
            depth_m: breach.depth.as_m(),
            ceiling_m: breach.ceiling.as_m(),
        }
    }
}

impl DebriefedDiver {
    fn new(of: &debrief::Debrief, diver: usize) -> Self {
        let budget = &of.briefing.divers[diver];
        let rate = |rate: fn(&debrief::Consumption) -> BreathingRate| {
            of.consumptions[diver]
                .as_ref()
                .map(|one| rate(one).as_l_min())
        };
        Self {
            name: budget.name.clone(),
            records: of.dives_of(diver).count(),
            planned_l_per_min: of.plan().divers()[diver].breathing.as_l_min(),
            planned_end_bar: budget.end.map(|end| end.as_bar()),
            minimum_gas_bar: budget.minimum_gas.as_bar(),
            suggested_l_per_min: rate(|of| of.suggested),
            median_l_per_min: rate(|of| of.median),
            least_l_per_min: rate(|of| of.least),
            greatest_l_per_min: rate(|of| of.suggested),
        }
    }
}

impl Found {
    fn new(of: &debrief::Debrief, found: &debrief::Found) -> Self {
        Self {
            level: match found.weight() {
                finding::Weight::NoGo => FindingLevel::NoGo,
                finding::Weight::Caution => FindingLevel::Caution,
                finding::Weight::Note => FindingLevel::Note,
            },
            code: found.code().to_owned(),
            diver: found.diver.clone(),
            record: found.dive,
            message: found.message(of.plan().units()),
        }
    }
}
