//! The list of subjects, and a finding: a fact of one of them, and whom it is about.

use super::case::Case;
use super::current::CurrentFact;
use super::day::DayFact;
use super::density::DensityFact;
use super::flight::FlightFact;
use super::inert_gas_jump::InertGasJumpFact;
use super::kind::{Help, Kind, Subject, Weight, Wording};
use super::lost_stages::LostStageFact;
use super::oxygen::OxygenFact;
use super::ponies::PonyFact;
use super::reserve::ReserveFact;
use super::stages::StageFact;
use super::stops::StopsFact;
use super::team::TeamFact;
use crate::dive::Schedule;
use crate::gas::DiverBudget;
use crate::oxygen::OxygenExposure;
use crate::plan::{Diver, Plan};
use crate::quantity::UnitSystem;
use crate::quantity::show::Show;
use serde::Serialize;

/// Makes [`Fact`] of a list of subjects, and asks each of them for its codes, kinds, words and
/// rules.
macro_rules! subjects {
    ($($(#[$about:meta])+ $subject:ident($fact:ident),)+) => {
        /// What can be found, with the figures that a sentence about it needs.
        #[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
        #[non_exhaustive]
        pub enum Fact {
            $($(#[$about])+ $subject($fact),)+
        }

        /// The codes of each subject, and what each means.
        const MEANINGS_BY_SUBJECT: &[&[(&str, &str)]] = &[$($fact::MEANINGS),+];

        impl Fact {
            fn kind(&self) -> Kind {
                match self {
                    $(Self::$subject(fact) => fact.kind(),)+
                }
            }

            fn message(&self, wording: &Wording<'_>) -> String {
                match self {
                    $(Self::$subject(fact) => fact.message(wording),)+
                }
            }

            /// What each subject finds for the whole team.
            fn of_team(case: &Case<'_>) -> Vec<Self> {
                let mut facts = Vec::new();
                $(facts.extend($fact::of_team(case).into_iter().map(Self::$subject));)+
                facts
            }

            /// What each subject finds for one diver.
            fn of_diver(case: &Case<'_>, diver: &Diver, budget: &DiverBudget) -> Vec<Self> {
                let mut facts = Vec::new();
                $(facts.extend(
                    $fact::of_diver(case, diver, budget).into_iter().map(Self::$subject),
                );)+
                facts
            }
        }
    };
}

// Of one weight, the team's findings stand in this order, and so do those of each diver.
subjects! {
    /// Oxygen pressures and the dose.
    Oxygen(OxygenFact),
    /// How dense the gas gets.
    Density(DensityFact),
    /// Stops, at the end and in between, and ceilings.
    Stops(StopsFact),
    /// The day before the dive, and gases beside each other.
    Day(DayFact),
    /// A flight after the dive.
    Flight(FlightFact),
    /// The current.
    Current(CurrentFact),
    /// Who dives, and how deep each may.
    Team(TeamFact),
    /// What is in the main cylinder, what must be, and the hang.
    Reserve(ReserveFact),
    /// Decompression gases and their cylinders.
    Stage(StageFact),
    /// Switches from helium to nitrogen.
    InertGasJump(InertGasJumpFact),
    /// Pony bottles.
    Pony(PonyFact),
    /// A decompression gas that is lost on the dive.
    LostStage(LostStageFact),
}

/// The codes of all findings, each once, and what each means.
pub const MEANINGS: &[(&str, &str)] =
    &joined::<{ count(MEANINGS_BY_SUBJECT) }>(MEANINGS_BY_SUBJECT);

/// The codes alone.
pub const CODES: &[&str] = &codes_of::<{ MEANINGS.len() }>(MEANINGS);

/// The first of each pair; `N` is how many there are.
pub(crate) const fn codes_of<const N: usize>(
    meanings: &[(&'static str, &'static str)],
) -> [&'static str; N] {
    let mut codes = [""; N];
    let mut index = 0;
    while index < N {
        codes[index] = meanings[index].0;
        index += 1;
    }
    codes
}

/// How many codes there are in all lists.
const fn count(lists: &[&[(&str, &str)]]) -> usize {
    let (mut sum, mut list) = (0, 0);
    while list < lists.len() {
        sum += lists[list].len();
        list += 1;
    }
    sum
}

/// All lists one after the other; `N` is their [`count`].
const fn joined<const N: usize>(
    lists: &[&[(&'static str, &'static str)]],
) -> [(&'static str, &'static str); N] {
    let mut all = [("", ""); N];
    let (mut end, mut list) = (0, 0);
    while list < lists.len() {
        let mut index = 0;
        while index < lists[list].len() {
            all[end] = lists[list][index];
            end += 1;
            index += 1;
        }
        list += 1;
    }
    all
}

/// One thing found, with its figures.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// The diver it is about; `None` for the whole team.
    pub diver: Option<String>,
    /// Units of that diver's gauge, where they differ from the plan's.
    pub gauge: Option<UnitSystem>,
    /// What was found.
    pub fact: Fact,
}

impl Finding {
    /// About the whole team.
    #[must_use]
    pub const fn of_team(fact: Fact) -> Self {
        Self {
            diver: None,
            gauge: None,
            fact,
        }
    }

    /// About one diver.
    #[must_use]
    pub fn of(budget: &DiverBudget, fact: Fact) -> Self {
        Self {
            diver: Some(budget.name.clone()),
            gauge: budget.gauge,
            fact,
        }
    }

    /// How much it weighs.
    #[must_use]
    pub fn weight(&self) -> Weight {
        self.fact.kind().weight
    }

    /// A name for scripts; does not change between versions.
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.fact.kind().code
    }

    /// Two or three words for it, where a row of a table has no room for more.
    #[must_use]
    pub fn in_short(&self) -> &'static str {
        self.fact.kind().in_short
    }

    /// What would make it go away.
    pub(crate) fn help(&self) -> Help {
        self.fact.kind().help
    }

    /// A full sentence with the figures, rounded toward safety; pressures in the units of the
    /// diver's gauge.
    #[must_use]
    pub fn message(&self, units: UnitSystem) -> String {
        self.fact.message(&Wording {
            show: Show(units),
            gauge: Show(self.gauge.unwrap_or(units)),
            diver: self.diver.as_deref(),
        })
    }
}

/// Whether the oxygen of a dive forbids it to any team, whatever gas its divers bring.
pub(crate) fn oxygen_forbids(plan: &Plan, schedule: &Schedule, oxygen: &OxygenExposure) -> bool {
    let facts = OxygenFact::of_team(&Case {
        plan,
        schedule,
        oxygen,
        divers: &[],
        limits: None,
        not_straight_up: &[],
        lost_stages: &[],
    });
    facts.iter().any(|fact| fact.kind().weight == Weight::NoGo)
}

/// All findings: no-gos first, then cautions, then notes; the team's before the divers'.
pub(crate) fn findings(case: &Case<'_>) -> Vec<Finding> {
    let of_team = Fact::of_team(case).into_iter().map(Finding::of_team);
    let mut found: Vec<Finding> = of_team.collect();
    for (index, budget) in case.divers.iter().enumerate() {
        let facts = Fact::of_diver(case, &case.plan.divers()[index], budget);
        found.extend(facts.into_iter().map(|fact| Finding::of(budget, fact)));
    }
    found.sort_by_key(Finding::weight);
    found
}
