//! The day before the dive, and gases beside each other: what the team should know of it.

use super::case::Case;
use super::kind::{Help, Subject, Weight, Wording, kinds};
use super::oxygen::PO2_LEAST_BAR;
use crate::dive::{BOUND_MIN, limit_at};
use crate::gas::DiverBudget;
use crate::plan::{Climb, DiveBefore, Diver, Plan};
use crate::quantity::show::{
    hours_min, hundredths_up, limit_words, minutes, minutes_down, minutes_up,
};
use crate::quantity::{Depth, Pressure, Time};
use crate::rules::DiveRules;
use crate::site::{GREATEST_PO2_BAR, Mix, oxygen_pressure};
use crate::surface::LONGEST_WAIT_MIN;
use serde::Serialize;

/// A surface interval under this makes one dive of two.
///
/// Source: NOAA Diving Center, *U.S. Navy Decompression Tables and Procedures*, part 3.
const SHORT_INTERVAL: Time = Time::from_min(10.0);

/// What can be found about the day and its gases.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum DayFact {
    /// So little time at the surface that two dives count as one.
    ShortInterval {
        /// The shortest interval.
        interval: Time,
        /// Number of the dive before it, from 1.
        after: usize,
    },
    /// An earlier dive as told without a gas, in a team of several.
    EarlierGasUnsaid {
        /// Number of the dive, from 1.
        dive: usize,
        /// What it is taken to have been.
        gas: Mix,
    },
    /// An earlier dive as told on a gas that nobody breathes there.
    EarlierGasDoubtful {
        /// Number of the dive, from 1.
        dive: usize,
        /// The gas.
        gas: Mix,
        /// Where.
        depth: Depth,
        /// Its oxygen pressure there.
        po2: Pressure,
    },
    /// A climb to the site too soon after dives lower down.
    DrivenUpTooSoon(Climb),
    /// A site at altitude, and nobody says how the divers came.
    TakenAsAdapted,
    /// One diver's leaner gas makes the dive of all what it is.
    LeanerGas {
        /// The gas.
        gas: Mix,
        /// The richest that another one breathes.
        richer: Mix,
        /// Where.
        depth: Depth,
        /// No-stop limit of the team on it; `None` where 999 min do not reach it.
        limit: Option<Time>,
        /// What it would be on the richest alone.
        without: Option<Time>,
    },
}

impl Subject for DayFact {
    kinds! {
        Self::ShortInterval { .. } =>
            "short-surface-interval", "short interval",
            "a surface interval under 10 min: both dives count as one",
            Weight::Caution, Help::Other;
        Self::EarlierGasUnsaid { .. } =>
            "earlier-gas-unsaid", "earlier gas unsaid",
            "gases differ, and an earlier dive names none: that of `[gas]` counts",
            Weight::Caution, Help::Other;
        Self::EarlierGasDoubtful { .. } =>
            "earlier-gas-doubtful", "earlier gas doubtful",
            "an earlier dive on a gas over 1.63 bar of oxygen there, or under 0.16 bar at the surface",
            Weight::Caution, Help::Other;
        Self::DrivenUpTooSoon(_) =>
            "driven-up-too-soon", "driven up too soon",
            "in a day, a climb to the site before the published minimum or the model's wait is over",
            Weight::NoGo, Help::Other;
        Self::TakenAsAdapted =>
            "taken-as-adapted", "taken as adapted",
            "a site above 300 m, and the plan does not say when the divers came",
            Weight::Note, Help::Other;
        Self::LeanerGas { .. } =>
            "leaner-gas", "leaner gas",
            "one diver's leaner gas keeps all to it",
            Weight::Note, Help::Other;
    }

    fn message(&self, wording: &Wording<'_>) -> String {
        match self {
            Self::ShortInterval { interval, after } => format!(
                "Only {} min at the surface after dive {after} of the day: under {} min it is \
                 common practice to count both as one dive.",
                minutes_down(*interval),
                minutes_up(SHORT_INTERVAL),
            ),
            Self::EarlierGasUnsaid { dive, gas } => format!(
                "Gases differ, and dive {dive} before this one names none: it counts as dived on \
                 {gas} by all who dived it. A leaner gas loads more: say `gas` in [[before]]."
            ),
            Self::EarlierGasDoubtful {
                dive,
                gas,
                depth,
                po2,
            } => format!(
                "Dive {dive} before this one is told on {gas} at {}, {} bar of oxygen: nobody \
                 breathes that. Look at its `gas` and depth.",
                wording.show.depth(*depth),
                hundredths_up(po2.as_bar()),
            ),
            Self::DrivenUpTooSoon(climb) => {
                let advised = climb.advised_min.map_or_else(
                    || format!("{} are not enough", hours_min(LONGEST_WAIT_MIN)),
                    |advised| format!("no driving up for {}", hours_min(advised)),
                );
                format!(
                    "The site is higher up than that of the dives before it, and they are there {} \
                     after surfacing: {advised}.",
                    minutes(minutes_down(climb.waited))
                )
            }
            Self::TakenAsAdapted => {
                "The site is at altitude and the plan does not say when the divers came: they are \
                 taken as adapted. Who came up lately holds more inert gas than this counts: \
                 `arrived` in [site] says so."
                    .to_owned()
            }
            Self::LeanerGas {
                gas,
                richer,
                depth,
                limit,
                without,
            } => format!(
                "{} breathes {gas} beside {richer}: all are kept to {gas}, and that \
                 costs no-stop time: {} at {}, where {richer} alone has {}.",
                wording.who(),
                limit_words(*limit, BOUND_MIN),
                wording.show.depth(*depth),
                limit_words(*without, BOUND_MIN),
            ),
        }
    }

    fn of_team(case: &Case<'_>) -> Vec<Self> {
        let is_high = case.plan.rules().environment.is_at_altitude();
        let adapted = is_high && case.plan.site().arrival.is_none();
        let adapted = adapted.then_some(Self::TakenAsAdapted);
        let climb = case
            .plan
            .history()
            .climb
            .filter(|climb| climb.is_too_soon());
        let driven_up = climb.map(Self::DrivenUpTooSoon);
        short_interval(case.plan)
            .into_iter()
            .chain(earlier_gases(case.plan))
            .chain(driven_up)
            .chain(adapted)
            .collect()
    }

    fn of_diver(case: &Case<'_>, _: &Diver, budget: &DiverBudget) -> Vec<Self> {
        leaner_gas(case, budget).into_iter().collect()
    }
}

/// The shortest that a diver of the plan has between two dives.
fn short_interval(plan: &Plan) -> Option<DayFact> {
    let dives = &plan.history().dives;
    let intervals = dives.iter().enumerate().filter_map(|(index, dive)| {
        let counts = (0..dive.dived.len()).any(|member| is_between_own(plan, index, member));
        counts.then_some((dive.surface_interval, index + 1))
    });
    let (interval, after) = intervals.min_by(|x, y| x.0.as_min().total_cmp(&y.0.as_min()))?;
    (interval < SHORT_INTERVAL).then_some(DayFact::ShortInterval { interval, after })
}

/// What is odd about the gases of the earlier dives as told.
fn earlier_gases(plan: &Plan) -> Vec<DayFact> {
    let environment = &plan.rules().environment;
    let dives = plan.before().iter().zip(1_usize..);
    let facts = dives.filter_map(|(told, dive)| {
        let gas = told.gas.unwrap_or(plan.gas());
        let depths = told.levels.iter().map(|level| level.depth);
        let depth = depths.fold(Depth::SURFACE, Depth::max);
        let po2 = oxygen_pressure(environment, gas, depth);
        let at_the_surface = oxygen_pressure(environment, gas, Depth::SURFACE);
        let is_lean = at_the_surface.as_bar() < PO2_LEAST_BAR && Mix::AIR.is_richer_than(gas);
        if po2.is_over(Pressure::from_bar(GREATEST_PO2_BAR)) {
            Some(DayFact::EarlierGasDoubtful {
                dive,
                gas,
                depth,
                po2,
            })
        } else if is_lean {
            let (depth, po2) = (Depth::SURFACE, at_the_surface);
            Some(DayFact::EarlierGasDoubtful {
                dive,
                gas,
                depth,
                po2,
            })
        } else {
            let unsaid = told.gas.is_none() && plan.gases_differ();
            unsaid.then_some(DayFact::EarlierGasUnsaid { dive, gas })
        }
    });
    facts.collect()
}

/// Whether the time after a dive is all that a member has from it to the next one of the own.
fn is_between_own(plan: &Plan, index: usize, member: usize) -> bool {
    let history = plan.history();
    let dived = |dive: &DiveBefore| dive.dived.get(member) == Some(&true);
    let later = &history.dives[index + 1..];
    if !dived(&history.dives[index]) {
        return false;
    }
    match later {
        [] => true,
        [next, ..] if dived(next) => true,
        // From a dive that only this plan tells of they wait for this one, whatever others dived.
        _ => {
            let waits = history.waiting.get(member).map(|waiting| waiting.planned);
            let interval = history.dives[index].surface_interval;
            !later.iter().any(dived) && waits == Some(interval)
        }
    }
}

/// What the diver's gas costs the others, where theirs is richer and the team is flown on it.
fn leaner_gas(case: &Case<'_>, budget: &DiverBudget) -> Option<DayFact> {
    let (plan, gas) = (case.plan, budget.gas);
    if !plan.gases_differ() || !gas.is_same_gas(plan.rules().bottom_gas) {
        return None;
    }
    let gases = case.divers.iter().map(|diver| diver.gas);
    let richer = gases.reduce(|most, gas| if gas.is_richer_than(most) { gas } else { most })?;
    let depth = case.schedule.deepest();
    let limit_on = |gas| {
        let rules = DiveRules {
            bottom_gas: gas,
            ..plan.rules().clone()
        };
        limit_at(&rules, &plan.start().tissues, depth).time()
    };
    Some(DayFact::LeanerGas {
        gas,
        richer,
        depth,
        limit: limit_on(gas),
        without: limit_on(richer),
    })
}
