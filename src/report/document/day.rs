//! `hangbar/day/1`: a day of dives.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::whole_day::{cautions, no_gos};
use super::briefing::Briefing;
use super::finite::{NotFinite, finite};
use super::flying::Flying;
use super::nullable::nullable;
use super::state::Start;
use super::verdict::Verdict;
use crate::day;

/// A day of dives, in order.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Day {
    /// Name and number of the document's form.
    #[schemars(extend("const" = Day::SCHEMA))]
    pub schema: String,
    /// `go`; `no-go` where one dive is, the last one is back after the hour asked for, or somebody
    /// goes up too soon, to a site or in a flight; `schedule-only` where no plan has a team.
    pub verdict: Verdict,
    /// The dives, in order.
    pub dives: Vec<DayDive>,
    /// Why the day is a no-go, in words.
    pub no_gos: Vec<String>,
    /// What to look at in the day, in words.
    pub cautions: Vec<String>,
    /// Everybody who dives, in the order of appearance.
    pub divers: Vec<DayDiver>,
    /// How the last dive stands to the hour asked for; null where none is.
    #[serde(deserialize_with = "nullable")]
    pub home: Option<Home>,
    /// How long nobody of the day flies or drives up after the last surfacing; `divers` are those
    /// of the day.
    pub flying: Flying,
}

/// One dive of the day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct DayDive {
    /// Its plan, as it was named; `standard input` where that is `-`.
    pub file: String,
    /// Time of day of its splash, `HH:MM`, a part of a minute rounded up; null where the first
    /// plan has none.
    #[serde(deserialize_with = "nullable")]
    pub splash: Option<String>,
    /// From midnight to its splash, min; from the first splash where the first plan has none.
    pub from_min: f64,
    /// From there to its surfacing, min.
    pub to_min: f64,
    /// Time at the surface since the dive before it, min; null of the first.
    #[serde(deserialize_with = "nullable")]
    pub surface_interval_min: Option<f64>,
    /// Going up to its site from a lower one where its divers have dived; null where it is not
    /// higher.
    #[serde(deserialize_with = "nullable")]
    pub climb: Option<Climb>,
    /// The dive as a document `hangbar/briefing/1`, from what the day has left in its divers.
    pub briefing: Briefing,
}

/// Going up to a site from one that is lower, after dives there.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Climb {
    /// From the last surfacing to coming there, min.
    pub waited_min: f64,
    /// The longer of the published wait and the model's before driving up so high, min; null
    /// where the model finds no end.
    #[serde(deserialize_with = "nullable")]
    pub advised_wait_min: Option<u32>,
    /// Whether they come before it is over: a no-go.
    pub too_soon: bool,
}

/// Somebody through the day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct DayDiver {
    /// The diver.
    pub name: String,
    /// Numbers of the dives made, from 1.
    pub dives: Vec<usize>,
    /// Greatest share of the single-exposure oxygen limits on any surfacing, %.
    pub most_cns_pct: f64,
    /// As the last dive of the day surfaces, whoever made it.
    pub end: Start,
}

/// How the last dive stands to an hour.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Home {
    /// The hour, `HH:MM`.
    pub by: String,
    /// Whether the last dive is back by then.
    pub holds: bool,
    /// Its last splash that is back by then, `HH:MM`; null where there is none.
    #[serde(deserialize_with = "nullable")]
    pub last_splash: Option<String>,
}

impl Day {
    /// Name and number of the document's form.
    pub const SCHEMA: &'static str = "hangbar/day/1";

    /// The document of a day; `home` where an hour is asked for.
    ///
    /// # Errors
    /// [`NotFinite`] where a figure is no number.
    pub fn new(of: &day::Day, home: Option<&day::Home>) -> Result<Self, NotFinite> {
        let dives = of.dives.iter().map(|dive| {
            Ok(DayDive {
                file: dive.file.clone(),
                splash: dive.splash.map(|splash| splash.to_string()),
                from_min: dive.starts.as_min(),
                to_min: dive.ends.as_min(),
                surface_interval_min: dive.surface_interval.map(|time| time.as_min()),
                climb: dive.briefing.plan.history().climb.map(|climb| Climb {
                    waited_min: climb.waited.as_min(),
                    advised_wait_min: climb.advised_min,
                    too_soon: climb.is_too_soon(),
                }),
                briefing: Briefing::try_from(&dive.briefing)?,
            })
        });
        let divers = of.people.iter().map(|person| DayDiver {
            name: person.name.clone(),
            dives: person.dives.iter().map(|dive| dive + 1).collect(),
            most_cns_pct: person.most_cns_pct,
            end: Start::from(&person.now),
        });
        finite(Self {
            schema: Self::SCHEMA.to_owned(),
            verdict: day::verdict(of, home).into(),
            dives: dives.collect::<Result<_, NotFinite>>()?,
            no_gos: no_gos(of, home),
            cautions: cautions(of),
            divers: divers.collect(),
            flying: Flying::of(&of.flying, of.people.iter().map(|one| one.name.as_str())),
            home: home.map(|home| Home {
                by: home.by.to_string(),
                holds: home.holds,
                last_splash: home.last_splash.map(|splash| splash.to_string()),
            }),
        })
    }
}
