//! The main cylinder: what is in it, what must be left in it at which moment, and the hang.

use super::case::Case;
use super::kind::{Help, Subject, Weight, Wording, kinds};
use crate::gas::{DiverBudget, LevelBudget, ShorterIsWorse, WorseBecause};
use crate::plan::{Diver, Hang};
use crate::quantity::show::{Show, list, minutes, minutes_down, minutes_up};
use crate::quantity::{Depth, FreeVolume, GaugePressure, RunTime, Time};
use serde::Serialize;

/// What can be found about the main cylinder.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum ReserveFact {
    /// The fill does not even hold the minimum gas.
    MinimumAboveFill {
        /// The fill.
        fill: GaugePressure,
        /// The minimum.
        minimum: GaugePressure,
    },
    /// A level is left with less than the minimum gas.
    Broken {
        /// The level.
        depth: Depth,
        /// Run time of leaving it.
        leave: RunTime,
        /// Whether it is the only level: then it is the bottom.
        only_level: bool,
        /// What is left then; `None` where nothing is.
        left: Option<GaugePressure>,
        /// The minimum.
        minimum: GaugePressure,
    },
    /// The plan leaves the bottom with the reserve, but not with the gas for the way up and the
    /// hang.
    HangShort {
        /// The hang.
        hang: Hang,
        /// What is left on leaving the bottom; `None` where nothing is.
        left: Option<GaugePressure>,
        /// The minimum, the hang included.
        minimum: GaugePressure,
    },
    /// The hang is deeper than the level that the way up begins from.
    HangTooDeep {
        /// The hang.
        hang: Hang,
        /// The last level.
        last: Depth,
    },
    /// What must be left is at the planned bottom time, but not at some shorter ones.
    ShorterNeedsMore {
        /// Which.
        bad: Vec<ShorterIsWorse>,
        /// Planned bottom time.
        bottom_time: Time,
    },
    /// The main cylinder is empty before the surface.
    GasRunsOut {
        /// What the plan draws.
        planned_use: FreeVolume,
        /// What there is.
        start: FreeVolume,
    },
    /// A diver is expected back with less than the floor.
    BackBelowFloor {
        /// Expected at the surface.
        end: GaugePressure,
        /// The floor.
        floor: GaugePressure,
    },
}

impl Subject for ReserveFact {
    kinds! {
        Self::MinimumAboveFill { .. } =>
            "minimum-above-fill", "minimum over fill",
            "the fill does not hold the minimum gas",
            Weight::NoGo, Help::MainGas;
        Self::Broken { .. } =>
            "reserve-broken", "reserve gone",
            "a level is left with less than its minimum gas",
            Weight::NoGo, Help::MainGas;
        Self::HangShort { .. } =>
            "hang-short", "no hang",
            "the reserve holds, but not with the gas for the hang",
            Weight::NoGo, Help::MainGas;
        Self::HangTooDeep { .. } =>
            "hang-too-deep", "hang too deep",
            "the hang is deeper than the last level: it counts for gas alone",
            Weight::Caution, Help::Other;
        Self::ShorterNeedsMore { .. } =>
            "shorter-needs-more", "shorter needs more",
            "the gas is enough as planned, but not for some shorter bottom times",
            Weight::Caution, Help::MainGas;
        Self::GasRunsOut { .. } =>
            "gas-runs-out", "gas runs out",
            "the main cylinder is empty before the surface",
            Weight::NoGo, Help::MainGas;
        Self::BackBelowFloor { .. } =>
            "back-below-floor", "back under floor",
            "back at the surface with less than the floor",
            Weight::Caution, Help::MainGas;
    }

    fn message(&self, wording: &Wording<'_>) -> String {
        let (who, show, gauge) = (wording.who(), wording.show, wording.gauge);
        match self {
            Self::MinimumAboveFill { minimum, .. } => minimum_above_fill(who, gauge, *minimum),
            Self::Broken {
                depth,
                leave,
                only_level,
                left,
                minimum,
            } => {
                let place = if *only_level {
                    "the bottom".to_owned()
                } else {
                    format!("{} at minute {}", show.depth(*depth), minutes_down(*leave))
                };
                format!(
                    "{who} leaves {place} with {} and must have {}.",
                    pressure_left(gauge, *left),
                    gauge.pressure_up(*minimum)
                )
            }
            Self::HangShort {
                hang,
                left,
                minimum,
            } => format!(
                "{who} cannot hang {} at {}: leaves the bottom with {} and must have {} for it.",
                minutes(minutes_up(hang.time)),
                show.depth(hang.depth),
                pressure_left(gauge, *left),
                gauge.pressure_up(*minimum),
            ),
            Self::HangTooDeep { hang, last } => format!(
                "The hang at {} is deeper than {}, where the way up begins: it stands for gas \
                 alone, nobody goes down to it.",
                show.depth(hang.depth),
                show.depth(*last),
            ),
            Self::ShorterNeedsMore { bad, bottom_time } => {
                shorter_needs_more(who, bad, *bottom_time)
            }
            Self::GasRunsOut { planned_use, start } => format!(
                "{who} runs out of gas before the surface: the dive takes {}, the cylinder holds \
                 {}.",
                show.volume_up(*planned_use),
                show.volume_down(*start),
            ),
            Self::BackBelowFloor { end, floor } => format!(
                "{who} is expected back aboard with {}, under the floor of {}.",
                gauge.pressure_down(*end),
                gauge.pressure_up(*floor),
            ),
        }
    }

    fn of_team(case: &Case<'_>) -> Vec<Self> {
        hang_too_deep(case).into_iter().collect()
    }

    fn of_diver(case: &Case<'_>, _: &Diver, budget: &DiverBudget) -> Vec<Self> {
        let mut facts = levels(case, budget);
        if let Some(limits) = case.limits_of(budget)
            && !limits.shorter_is_worse.is_empty()
        {
            facts.push(Self::ShorterNeedsMore {
                bad: limits.shorter_is_worse.clone(),
                bottom_time: case.schedule.bottom_time,
            });
        }
        facts.extend(back_at_the_surface(case, budget));
        facts
    }
}

fn hang_too_deep(case: &Case<'_>) -> Option<ReserveFact> {
    let last = case.schedule.last_depth();
    let hang = case.plan.reserve().hang;
    let hang = hang.filter(|hang| hang.depth.is_below(last))?;
    Some(ReserveFact::HangTooDeep { hang, last })
}

/// The fill must hold the minimum; if it does, every level must be left with its own.
fn levels(case: &Case<'_>, budget: &DiverBudget) -> Vec<ReserveFact> {
    if budget.minimum_gas > budget.fill {
        return vec![ReserveFact::MinimumAboveFill {
            fill: budget.fill,
            minimum: budget.minimum_gas,
        }];
    }
    let only_level = budget.levels.len() == 1;
    let short = budget.levels.iter().filter(|level| !level.holds());
    short
        .map(|level| left_short(case.plan.reserve().hang, level, only_level))
        .collect()
}

/// Of a level that is left with too little: for the hang alone, or even without it.
fn left_short(hang: Option<Hang>, level: &LevelBudget, only_level: bool) -> ReserveFact {
    match hang {
        Some(hang) if level.holds_without_hang => ReserveFact::HangShort {
            hang,
            left: level.left,
            minimum: level.minimum_gas,
        },
        _ => ReserveFact::Broken {
            depth: level.depth,
            leave: level.leave,
            only_level,
            left: level.left,
            minimum: level.minimum_gas,
        },
    }
}

/// The gas must last to the surface; where the reserve holds, the floor must be left there too.
fn back_at_the_surface(case: &Case<'_>, budget: &DiverBudget) -> Option<ReserveFact> {
    let floor = case.plan.reserve().floor;
    match budget.end {
        None => Some(ReserveFact::GasRunsOut {
            planned_use: budget.planned_use,
            start: budget.start,
        }),
        Some(end) if end < floor && budget.reserve_holds() => {
            Some(ReserveFact::BackBelowFloor { end, floor })
        }
        Some(_) => None,
    }
}

fn minimum_above_fill(who: &str, gauge: Show, minimum: GaugePressure) -> String {
    let shown = gauge.pressure_up(minimum);
    let needed = shown.strip_prefix('>').map_or_else(
        || format!("at least {shown}"),
        |beyond| format!("more than {beyond}"),
    );
    format!(
        "{who} needs {needed} to leave the bottom with, more than the fill: the cylinder does \
         not even hold the reserve."
    )
}

fn pressure_left(gauge: Show, left: Option<GaugePressure>) -> String {
    left.map_or_else(|| "nothing".to_owned(), |left| gauge.pressure_down(left))
}

fn shorter_needs_more(who: &str, bad: &[ShorterIsWorse], bottom_time: Time) -> String {
    let each: Vec<String> = bad
        .iter()
        .map(|run| {
            let when = if run.from_min == run.to_min {
                minutes(f64::from(run.from_min))
            } else {
                format!("{} to {} minutes", run.from_min, run.to_min)
            };
            let why = match run.cause {
                WorseBecause::NoSwitch(gas) => {
                    format!(
                        "there is no switch to {gas} then, all of it comes from the main cylinder"
                    )
                }
                WorseBecause::WholeMinutes => {
                    "stops end on whole minutes, and a shorter dive may wait longer for one"
                        .to_owned()
                }
                WorseBecause::Schedule(error) => error.to_string(),
            };
            format!("{when} ({why})")
        })
        .collect();
    format!(
        "{who} has enough left after the planned {}, but not after {}. Whoever has to leave the \
         bottom then is short.",
        minutes(minutes_down(bottom_time)),
        list(&each)
    )
}
