//! A decompression gas that is lost on the dive: whether every diver gets up without it.

use super::case::Case;
use super::kind::{Help, Subject, Weight, Wording, kinds};
use crate::dive::ScheduleError;
use crate::gas::{DiverBudget, LostStage, RescueOutcome, StageBudget, WithoutStage};
use crate::plan::Diver;
use crate::quantity::show::{minutes, minutes_down, minutes_up};
use crate::quantity::{Depth, RunTime};
use crate::site::Mix;
use serde::Serialize;

/// What can be found about a decompression gas that is lost.
///
/// Cautions, as for a pony: the plan itself holds, and a partner may have what the diver has lost.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum LostStageFact {
    /// What a diver carries is not enough for the stops without the gas.
    NotCovered {
        /// The gas.
        gas: Mix,
        /// Where it is found lost.
        depth: Depth,
        /// Run time at which it is.
        run_time: RunTime,
        /// How far the main cylinder goes.
        main: RescueOutcome,
        /// Other stage cylinders that do not hold enough.
        short: Vec<StageBudget>,
    },
    /// Without the gas no way up can be worked out.
    NoWayUp {
        /// The gas.
        gas: Mix,
        /// Where it is found lost.
        depth: Depth,
        /// Run time at which it is.
        run_time: RunTime,
        /// Why there is none.
        cause: ScheduleError,
    },
}

impl Subject for LostStageFact {
    kinds! {
        Self::NotCovered { .. } =>
            "lost-stage-not-covered", "lost stage not covered",
            "with a decompression gas lost, a diver's own gas is not enough for every stop",
            Weight::Caution, Help::Other;
        Self::NoWayUp { .. } =>
            "lost-stage-no-way-up", "no way up without stage",
            "with a decompression gas lost, no way up can be worked out",
            Weight::Caution, Help::Other;
    }

    fn message(&self, wording: &Wording<'_>) -> String {
        let (who, show) = (wording.who(), wording.show);
        match self {
            Self::NotCovered {
                gas,
                depth,
                run_time,
                main,
                short,
            } => {
                let from = format!(
                    "lost at {} at minute {}",
                    show.depth(*depth),
                    minutes_down(*run_time)
                );
                let empty =
                    |depth: &Depth| format!("the main cylinder is empty at {}", show.depth(*depth));
                let mut said = match main {
                    RescueOutcome::EveryStop { .. } => Vec::new(),
                    RescueOutcome::StopsMissed {
                        empty_at,
                        empty_depth,
                        missed,
                    } => {
                        let still = if missed.as_min() > 0.0 {
                            let missed = minutes(minutes_up(*missed));
                            format!("with {missed} of stops still to make")
                        } else {
                            "on the last rise".to_owned()
                        };
                        let minute = minutes_down(*empty_at);
                        vec![format!(
                            "{} at minute {minute}, {still}",
                            empty(empty_depth)
                        )]
                    }
                    RescueOutcome::NotEnough { empty_depth } => {
                        vec![format!("{} even going straight up", empty(empty_depth))]
                    }
                };
                said.extend(short.iter().map(|stage| {
                    format!(
                        "the way up without it takes {} of {}, and {} are carried",
                        show.volume_up(stage.need),
                        stage.gas,
                        show.volume_down(stage.have)
                    )
                }));
                let cannot = match main {
                    RescueOutcome::EveryStop { .. } => "cannot go up as scheduled",
                    RescueOutcome::StopsMissed { missed, .. } if missed.as_min() > 0.0 => {
                        "cannot make every stop"
                    }
                    _ => "does not reach the surface",
                };
                format!(
                    "{who} {cannot} if the {gas} is {from}: {}.",
                    said.join("; ")
                )
            }
            Self::NoWayUp {
                gas,
                depth,
                run_time,
                cause,
            } => format!(
                "If the {gas} is lost at {} at minute {}, no way up can be worked out: {cause}. \
                 The dive depends on that gas.",
                show.depth(*depth),
                minutes_down(*run_time)
            ),
        }
    }

    fn of_team(case: &Case<'_>) -> Vec<Self> {
        case.lost_stages.iter().filter_map(no_way_up).collect()
    }

    fn of_diver(case: &Case<'_>, _: &Diver, budget: &DiverBudget) -> Vec<Self> {
        let lost = case.lost_stages.iter();
        lost.filter_map(|lost| not_covered(lost, budget)).collect()
    }
}

/// The first moment from which there is none.
fn no_way_up(lost: &LostStage) -> Option<LostStageFact> {
    lost.moments.iter().find_map(|moment| {
        let cause = *moment.way_up.as_ref().err()?;
        Some(LostStageFact::NoWayUp {
            gas: lost.gas,
            depth: moment.depth,
            run_time: moment.run_time,
            cause,
        })
    })
}

fn not_covered(lost: &LostStage, budget: &DiverBudget) -> Option<LostStageFact> {
    let mut divers = lost.divers.iter();
    let diver = divers.find(|diver| diver.name == budget.name)?;
    let moment = lost.moments.get(diver.moment)?;
    match &diver.ending {
        WithoutStage::OnOwnGas { main, stages } if !diver.ending.is_covered() => {
            let short = stages.iter().filter(|stage| !stage.holds());
            Some(LostStageFact::NotCovered {
                gas: lost.gas,
                depth: moment.depth,
                run_time: moment.run_time,
                main: *main,
                short: short.copied().collect(),
            })
        }
        // Said once, of the team.
        WithoutStage::OnOwnGas { .. } | WithoutStage::NoWayUp => None,
    }
}
