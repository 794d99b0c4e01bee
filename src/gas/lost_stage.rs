//! When a decompression gas is lost at the worst moment: the way up without it, on the own main
//! cylinder and on what is left of the stage cylinders.

use super::budget::{DiverBudget, StageBudget};
use super::cylinders::DiverCylinders;
use super::lost::{RescueOutcome, Supply, first_of_the_worst};
use super::need::{Emergency, exposure_on, main_exposure};
use super::team::TeamGas;
use crate::dive::{Schedule, ScheduleError};
use crate::plan::Plan;
use crate::quantity::{BreathingRate, Depth, FreeVolume, RunTime, Time};
use crate::rules::DiveRules;
use crate::site::{Charge, Mix};
use serde::Serialize;

/// A decompression gas that the schedule breathes, lost with every cylinder of it; the others are
/// still there.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct LostStage {
    /// The gas.
    pub gas: Mix,
    /// Found lost on leaving each level, in order; at least one.
    pub moments: Vec<LossMoment>,
    /// Each diver at the moment that is worst, in the order of the plan.
    pub divers: Vec<DiverWithoutStage>,
}

/// A moment at which a gas is found lost, and the way up from there by the rules without it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct LossMoment {
    /// Run time.
    pub run_time: RunTime,
    /// Depth.
    pub depth: Depth,
    /// Sort-out there, then up without the gas; or why no way up can be worked out.
    pub way_up: Result<Emergency, ScheduleError>,
}

impl LossMoment {
    /// Run time of surfacing with every stop; `None` where no way up can be worked out.
    #[must_use]
    pub fn surfacing(&self) -> Option<RunTime> {
        let way_up = self.way_up.as_ref().ok()?;
        way_up.full.last().map(|segment| segment.end)
    }

    /// Time of all pauses, gas switches included; `None` where no way up can be worked out.
    #[must_use]
    pub fn stop_time(&self) -> Option<Time> {
        let segments = self.way_up.as_ref().ok()?.full.iter();
        let pauses = segments.filter(|segment| segment.kind.is_pause());
        Some(pauses.map(|pause| pause.time()).sum())
    }
}

/// One diver without a gas, from the moment that ends worst, and of equal ones with least to spare
/// in the main cylinder.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct DiverWithoutStage {
    /// The diver.
    pub name: String,
    /// Which of the moments it is, from 0.
    pub moment: usize,
    /// How it ends.
    pub ending: WithoutStage,
}

/// How a way up without a gas ends.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum WithoutStage {
    /// No way up can be worked out: see the moment.
    NoWayUp,
    /// On what the diver carries.
    OnOwnGas {
        /// How far the main cylinder goes.
        main: RescueOutcome,
        /// The other decompression gases that this way up breathes, in the order of the plan: what
        /// must be in their cylinders, and what is.
        stages: Vec<StageBudget>,
    },
}

impl WithoutStage {
    /// Whether what the diver carries is enough for every stop.
    #[must_use]
    pub fn is_covered(&self) -> bool {
        matches!(self, Self::OnOwnGas { main: RescueOutcome::EveryStop { .. }, stages }
            if stages.iter().all(StageBudget::holds))
    }

    /// How bad it is: the worst first.
    fn severity(&self) -> u8 {
        match self {
            Self::NoWayUp => 0,
            Self::OnOwnGas { main, stages } => match main {
                RescueOutcome::NotEnough { .. } => 1,
                RescueOutcome::StopsMissed { .. } => 2,
                RescueOutcome::EveryStop { .. } if !stages.iter().all(StageBudget::holds) => 3,
                RescueOutcome::EveryStop { .. } => 4,
            },
        }
    }
}

/// Works out, for each decompression gas that the schedule breathes, the way up without it.
///
/// It is found lost on leaving a level: sort-out, then up by the rules without the gas, both at
/// `own V̇ · stress`, each diver alone. What no other stage cylinder gives comes from the main
/// cylinder, from what is in it at that moment down to nothing:
///
/// ```text
/// contents at the level's end − own V̇ · stress · ∫ P/(1 atm) dt
/// ```
/// The integral is that of the very way up that is shown: the least that a reserve keeps where
/// decompression gas is planned, see [`Emergency::least`], is not in it. The other stage cylinders
/// must hold `own V̇ · stress` times what that way up breathes from them. Nothing is reckoned from
/// ponies and partners.
pub(crate) fn lost_stages(
    plan: &Plan,
    schedule: &Schedule,
    gas: &TeamGas,
    cylinders: &[DiverCylinders],
) -> Vec<LostStage> {
    let mut breathed: Vec<Mix> = Vec::new();
    for segment in &schedule.way_up {
        let is_known = |gas: &Mix| gas.is_same_gas(segment.gas);
        if !is_known(&plan.rules().bottom_gas) && !breathed.iter().any(is_known) {
            breathed.push(segment.gas);
        }
    }
    let lost = breathed
        .into_iter()
        .map(|lost| without(plan, gas, cylinders, lost));
    lost.collect()
}

fn without(plan: &Plan, gas: &TeamGas, cylinders: &[DiverCylinders], lost: Mix) -> LostStage {
    let mut rules = plan.rules().clone();
    rules.decompression.retain(|gas| !gas.is_same_gas(lost));
    let sort_out = plan.reserve().sort_out;
    let ends = gas.level_ends.iter();
    let moments: Vec<LossMoment> = ends
        .map(|end| LossMoment {
            run_time: end.moment.run_time,
            depth: end.moment.depth,
            way_up: Emergency::from(&rules, &end.moment, sort_out),
        })
        .collect();
    let divers = gas.divers.iter().enumerate();
    let divers = divers.filter_map(|(index, budget)| {
        let diver = Carried {
            rules: &rules,
            budget,
            breathing: plan.divers()[index].breathing * plan.reserve().stress,
            charge: &cylinders[index].main,
        };
        diver.at_the_worst(&moments)
    });
    LostStage {
        gas: lost,
        divers: divers.collect(),
        moments,
    }
}

/// What one diver has on a way up without a gas.
struct Carried<'a> {
    rules: &'a DiveRules,
    budget: &'a DiverBudget,
    /// Stressed breathing of the diver alone.
    breathing: BreathingRate,
    /// The main cylinder.
    charge: &'a Charge,
}

impl Carried<'_> {
    /// `None` where there is no moment, which no plan has.
    fn at_the_worst(&self, moments: &[LossMoment]) -> Option<DiverWithoutStage> {
        let each = moments.iter().zip(&self.budget.levels).enumerate();
        let ranked = each.map(|(index, (moment, level))| {
            let (ending, spare) = self.ending(moment, level.contents);
            (ending.severity(), spare, (index, ending))
        });
        let worst = first_of_the_worst(ranked);
        worst.map(|(moment, ending)| DiverWithoutStage {
            name: self.budget.name.clone(),
            moment,
            ending,
        })
    }

    /// How the way up from a moment ends, and what the main cylinder has to spare.
    fn ending(&self, moment: &LossMoment, contents: FreeVolume) -> (WithoutStage, FreeVolume) {
        let Ok(way_up) = &moment.way_up else {
            return (WithoutStage::NoWayUp, FreeVolume::from_l(0.0));
        };
        let supply = Supply {
            donor: None,
            breathing: self.breathing,
            available: contents,
            charge: self.charge,
            kept: FreeVolume::from_l(0.0),
        };
        let from = (moment.run_time, moment.depth);
        let main = supply.outcome(self.rules, from, (&way_up.full, &way_up.direct));
        let stages = self.rules.decompression.iter();
        let stages = stages.filter_map(|gas| self.stage(*gas, way_up));
        let ending = WithoutStage::OnOwnGas {
            main,
            stages: stages.collect(),
        };
        let takes = self.breathing * main_exposure(self.rules, &way_up.full);
        (ending, contents - takes)
    }

    /// What a way up breathes from the stage cylinders of a gas; `None` where that is nothing.
    fn stage(&self, gas: Mix, way_up: &Emergency) -> Option<StageBudget> {
        let need = self.breathing * exposure_on(self.rules, &way_up.full, gas);
        let mut known = self.budget.stages.iter();
        let known = known.find(|stage| stage.gas.is_same_gas(gas));
        (need.as_l() > 0.0).then(|| StageBudget {
            gas,
            need,
            have: known.map_or(FreeVolume::from_l(0.0), |stage| stage.have),
            carried: known.is_some_and(|stage| stage.carried),
        })
    }
}
