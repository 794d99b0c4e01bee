//! Oxygen: too much and too little of it, and the dose.

use super::case::Case;
use super::kind::{Help, Subject, Weight, Wording, kinds};
use crate::gas::DiverBudget;
use crate::plan::{Diver, partners};
use crate::quantity::show::{hundredths_down, hundredths_up, whole_up};
use crate::quantity::{Depth, Pressure};
use crate::site::{
    ADVISED_PO2_BAR, Environment, GREATEST_PO2_BAR, Mix, operating_depth, oxygen_pressure,
};
use serde::Serialize;

/// Oxygen pressure of the bottom gas above which there is a caution, bar.
const PO2_ADVISED_BAR: f64 = ADVISED_PO2_BAR;
/// Oxygen pressure of any gas above which there is a no-go, bar.
const PO2_LIMIT_BAR: f64 = GREATEST_PO2_BAR;
/// Oxygen pressure at the surface under which a gas leaner than air may not be breathed there,
/// bar (common practice, no source).
pub(super) const PO2_LEAST_BAR: f64 = 0.16;
/// CNS share above which there is a caution, per cent (common practice, no source).
const CNS_ADVISED_PCT: f64 = 80.0;
/// CNS share above which there is a no-go, per cent: the whole of a limit of
/// [`SINGLE_EXPOSURE`](crate::oxygen::SINGLE_EXPOSURE).
const CNS_LIMIT_PCT: f64 = 100.0;

/// What can be found about oxygen.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum OxygenFact {
    /// Oxygen pressure above the limit for any gas.
    OverLimit {
        /// The gas.
        gas: Mix,
        /// Its oxygen pressure, bar.
        po2_bar: f64,
        /// Where.
        depth: Depth,
        /// The limit, bar.
        limit_bar: f64,
        /// Deepest depth at which it is kept.
        operating_depth: Depth,
    },
    /// Oxygen pressure of the bottom gas above what is advised.
    High {
        /// The gas.
        gas: Mix,
        /// Its oxygen pressure, bar.
        po2_bar: f64,
        /// Where.
        depth: Depth,
        /// What is advised, bar.
        limit_bar: f64,
    },
    /// The bottom gas holds too little oxygen to be breathed at the surface.
    TooLow {
        /// The gas.
        gas: Mix,
        /// Its oxygen pressure at the surface, bar.
        po2_bar: f64,
        /// The least that keeps a diver conscious, bar.
        limit_bar: f64,
    },
    /// The single-exposure oxygen limits are used up.
    DoseOverLimit {
        /// Share used, per cent.
        cns_pct: f64,
        /// Whether earlier dives are part of it.
        of_the_day: bool,
    },
    /// The single-exposure oxygen limits are nearly used up.
    DoseHigh {
        /// Share used, per cent.
        cns_pct: f64,
        /// Whether earlier dives are part of it.
        of_the_day: bool,
    },
    /// Oxygen pressure of what is in the pony above the limit for any gas.
    PonyOverLimit {
        /// The gas.
        gas: Mix,
        /// Its oxygen pressure, bar.
        po2_bar: f64,
        /// Where.
        depth: Depth,
        /// The limit, bar.
        limit_bar: f64,
        /// Deepest depth at which it is kept.
        operating_depth: Depth,
    },
    /// Oxygen pressure of what a partner would give above the limit for any gas.
    SharedOverLimit {
        /// Who would give it.
        donor: String,
        /// The gas.
        gas: Mix,
        /// Its oxygen pressure, bar.
        po2_bar: f64,
        /// Where.
        depth: Depth,
        /// The limit, bar.
        limit_bar: f64,
    },
}

impl Subject for OxygenFact {
    kinds! {
        Self::OverLimit { .. } =>
            "oxygen-over-limit", "oxygen too high",
            "oxygen pressure of a gas over 1.63 bar",
            Weight::NoGo, Help::Depth;
        Self::High { .. } =>
            "oxygen-high", "oxygen high",
            "oxygen pressure of the bottom gas over 1.4 bar",
            Weight::Caution, Help::Depth;
        Self::TooLow { .. } =>
            "oxygen-too-low", "oxygen too low",
            "a bottom gas that cannot be breathed at the surface",
            Weight::NoGo, Help::Other;
        Self::DoseOverLimit { .. } =>
            "oxygen-dose-over-limit", "oxygen dose over",
            "over 100 % of the single-exposure oxygen limits",
            Weight::NoGo, Help::TimeOrDepth;
        Self::DoseHigh { .. } =>
            "oxygen-dose-high", "oxygen dose high",
            "over 80 % of them",
            Weight::Caution, Help::TimeOrDepth;
        Self::PonyOverLimit { .. } =>
            "pony-gas-over-limit", "pony gas: oxygen",
            "oxygen pressure of what is in a pony over 1.63 bar at the deepest level",
            Weight::NoGo, Help::Depth;
        Self::SharedOverLimit { .. } =>
            "shared-gas-over-limit", "shared gas: oxygen",
            "oxygen pressure of what a partner would give over 1.63 bar at the deepest level",
            Weight::NoGo, Help::Depth;
    }

    fn message(&self, wording: &Wording<'_>) -> String {
        let show = wording.show;
        // Where gases differ, whose it is comes first.
        let whose = |gas: &Mix| match wording.diver {
            Some(diver) => format!("{diver}'s {gas}"),
            None => gas.to_string(),
        };
        match self {
            Self::OverLimit {
                gas,
                po2_bar,
                depth,
                limit_bar,
                operating_depth,
            } => format!(
                "The oxygen pressure of {} at {} is {} bar; the limit is {limit_bar} bar, \
                 which this gas reaches at {}.",
                whose(gas),
                show.depth(*depth),
                hundredths_up(*po2_bar),
                show.depth_limit(*operating_depth),
            ),
            Self::High {
                gas,
                po2_bar,
                depth,
                limit_bar,
            } => format!(
                "The oxygen pressure of {} at {} is {} bar, above the advised {limit_bar:.1} \
                 bar for a bottom gas.",
                whose(gas),
                show.depth(*depth),
                hundredths_up(*po2_bar),
            ),
            Self::TooLow {
                gas,
                po2_bar,
                limit_bar,
            } => format!(
                "The oxygen pressure of {gas} at the surface is {} bar; under {limit_bar} bar a \
                 diver may pass out.",
                hundredths_down(*po2_bar),
            ),
            Self::DoseOverLimit {
                cns_pct,
                of_the_day,
            } => format!(
                "{} {} % of the oxygen (CNS) limits for a single exposure.",
                uses(*of_the_day),
                whole_up(*cns_pct)
            ),
            Self::DoseHigh {
                cns_pct,
                of_the_day,
            } => format!(
                "{} {} % of the oxygen (CNS) limits for a single exposure; over \
                 {CNS_ADVISED_PCT} % is close to them.",
                uses(*of_the_day),
                whole_up(*cns_pct)
            ),
            Self::PonyOverLimit {
                gas,
                po2_bar,
                depth,
                limit_bar,
                operating_depth,
            } => format!(
                "{}'s pony holds {gas}, whose oxygen pressure at {} is {} bar; the limit is \
                 {limit_bar} bar, which this gas reaches at {}.",
                wording.who(),
                show.depth(*depth),
                hundredths_up(*po2_bar),
                show.depth_limit(*operating_depth),
            ),
            Self::SharedOverLimit {
                donor,
                gas,
                po2_bar,
                depth,
                limit_bar,
            } => format!(
                "{} cannot be helped with {donor}'s {gas}: its oxygen pressure at {} is {} bar; \
                 the limit is {limit_bar} bar.",
                wording.who(),
                show.depth(*depth),
                hundredths_up(*po2_bar),
            ),
        }
    }

    fn of_team(case: &Case<'_>) -> Vec<Self> {
        let rules = case.plan.rules();
        let environment = &rules.environment;
        let mut facts: Vec<Self> = too_low(environment, rules.bottom_gas).into_iter().collect();
        // Where gases differ, each diver's own is that diver's matter.
        let differ = case.plan.gases_differ();
        let uses = case.deepest_use_of_each_gas().into_iter();
        facts.extend(
            uses.filter_map(|(gas, depth)| match gas.is_same_gas(rules.bottom_gas) {
                true if differ => None,
                true => too_high(environment, gas, Use::Bottom, depth),
                false => too_high(environment, gas, Use::WayUp, depth),
            }),
        );
        let of_the_day = case.plan.start().cns_pct > 0.0;
        facts.extend(dose(case.oxygen.cns_pct, of_the_day));
        facts
    }

    fn of_diver(case: &Case<'_>, diver: &Diver, budget: &DiverBudget) -> Vec<Self> {
        let (own, deepest) = (budget.gas, case.schedule.deepest());
        let mut facts = Vec::new();
        if case.plan.gases_differ() {
            facts.extend(too_high(
                &case.plan.rules().environment,
                own,
                Use::Bottom,
                deepest,
            ));
            facts.extend(shared(case, diver, budget, deepest));
        }
        let pony = budget.pony.as_ref().map(|pony| pony.gas);
        facts.extend(
            pony.filter(|gas| !gas.is_same_gas(own))
                .and_then(|gas| pony_too_high(case, gas, deepest)),
        );
        facts
    }
}

fn pony_too_high(case: &Case<'_>, gas: Mix, depth: Depth) -> Option<OxygenFact> {
    match too_high(&case.plan.rules().environment, gas, Use::WayUp, depth)? {
        OxygenFact::OverLimit {
            gas,
            po2_bar,
            depth,
            limit_bar,
            operating_depth,
        } => Some(OxygenFact::PonyOverLimit {
            gas,
            po2_bar,
            depth,
            limit_bar,
            operating_depth,
        }),
        _ => None,
    }
}

/// What partners would give and the diver could not breathe; the own gas is found elsewhere.
fn shared(case: &Case<'_>, diver: &Diver, budget: &DiverBudget, depth: Depth) -> Vec<OxygenFact> {
    let team = case.plan.divers();
    let Some(index) = team.iter().position(|other| other.name == diver.name) else {
        return Vec::new();
    };
    let give = partners(team, index)
        .into_iter()
        .map(|donor| &case.divers[donor]);
    let others = give.filter(|donor| !donor.gas.is_same_gas(budget.gas));
    others
        .filter_map(|donor| {
            match too_high(&case.plan.rules().environment, donor.gas, Use::WayUp, depth)? {
                OxygenFact::OverLimit {
                    gas,
                    po2_bar,
                    depth,
                    limit_bar,
                    ..
                } => Some(OxygenFact::SharedOverLimit {
                    donor: donor.name.clone(),
                    gas,
                    po2_bar,
                    depth,
                    limit_bar,
                }),
                _ => None,
            }
        })
        .collect()
}

/// A bottom gas leaner than air must keep a diver conscious at the surface.
pub(super) fn too_low(environment: &Environment, gas: Mix) -> Option<OxygenFact> {
    let po2_bar = oxygen_pressure(environment, gas, Depth::SURFACE).as_bar();
    (po2_bar < PO2_LEAST_BAR && Mix::AIR.is_richer_than(gas)).then_some(OxygenFact::TooLow {
        gas,
        po2_bar,
        limit_bar: PO2_LEAST_BAR,
    })
}

/// What a gas is breathed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Use {
    /// Down and along.
    Bottom,
    /// On the way up alone.
    WayUp,
}

/// Any gas may be breathed up to the limit; up to what is advised if it is the bottom gas.
pub(super) fn too_high(
    environment: &Environment,
    gas: Mix,
    breathed: Use,
    depth: Depth,
) -> Option<OxygenFact> {
    let po2 = oxygen_pressure(environment, gas, depth);
    let (po2_bar, limit) = (po2.as_bar(), Pressure::from_bar(PO2_LIMIT_BAR));
    if po2.is_over(limit) {
        Some(OxygenFact::OverLimit {
            gas,
            po2_bar,
            depth,
            limit_bar: PO2_LIMIT_BAR,
            operating_depth: operating_depth(environment, gas, limit),
        })
    } else if breathed == Use::Bottom && po2.is_over(Pressure::from_bar(PO2_ADVISED_BAR)) {
        Some(OxygenFact::High {
            gas,
            po2_bar,
            depth,
            limit_bar: PO2_ADVISED_BAR,
        })
    } else {
        None
    }
}

const fn uses(of_the_day: bool) -> &'static str {
    if of_the_day {
        "With this dive the day uses"
    } else {
        "The dive uses"
    }
}

/// Whether an oxygen dose forbids the dive.
pub(crate) fn dose_forbids(cns_pct: f64) -> bool {
    cns_pct > CNS_LIMIT_PCT
}

fn dose(cns_pct: f64, of_the_day: bool) -> Option<OxygenFact> {
    if dose_forbids(cns_pct) {
        Some(OxygenFact::DoseOverLimit {
            cns_pct,
            of_the_day,
        })
    } else if cns_pct > CNS_ADVISED_PCT {
        Some(OxygenFact::DoseHigh {
            cns_pct,
            of_the_day,
        })
    } else {
        None
    }
}
