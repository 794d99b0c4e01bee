//! What each diver carries: contents, worked out once for all the dives that are tried.

use super::pony::PONY_EMPTY;
use crate::plan::Plan;
use crate::quantity::{FreeVolume, GaugePressure};
use crate::site::{Charge, Charges, Cylinder, Mix};

/// The cylinders of one diver as they are filled.
#[derive(Clone, Debug)]
pub(crate) struct DiverCylinders {
    /// The main cylinder.
    pub(crate) main: Charge,
    /// Its contents at the fill.
    pub(super) start: FreeVolume,
    /// Its contents at the floor.
    pub(super) floor: FreeVolume,
    /// The stage cylinders, in the order of the plan.
    pub(super) stages: Vec<StageCylinder>,
    /// The pony.
    pub(super) pony: Option<PonyCylinder>,
}

/// A stage cylinder.
#[derive(Clone, Debug)]
pub(super) struct StageCylinder {
    pub(super) gas: Mix,
    pub(super) charge: Charge,
    /// Its contents at the fill.
    pub(super) contents: FreeVolume,
}

/// A pony bottle.
#[derive(Clone, Debug)]
pub(super) struct PonyCylinder {
    pub(super) gas: Mix,
    pub(super) charge: Charge,
    /// What it holds at [`PONY_EMPTY`].
    pub(super) kept: FreeVolume,
    /// Its contents down to that.
    pub(super) have: FreeVolume,
}

impl DiverCylinders {
    /// Of every diver, in the order of the plan.
    pub(crate) fn of_each(plan: &Plan) -> Vec<Self> {
        let mut charges = Charges::at(plan.gas_conditions());
        let divers = 0..plan.divers().len();
        divers
            .map(|index| Self::of(plan, index, &mut charges))
            .collect()
    }

    /// The same with another main cylinder of the same gas.
    pub(crate) fn with_main(&self, cylinder: &Cylinder, floor: GaugePressure) -> Self {
        let main = self.main.in_water(cylinder.water);
        Self {
            start: main.contents(cylinder.fill),
            floor: main.contents(floor),
            main,
            ..self.clone()
        }
    }

    fn of(plan: &Plan, index: usize, charges: &mut Charges) -> Self {
        let diver = &plan.divers()[index];
        let main = charges.new_charge(diver.cylinder.water, plan.gas_of(index));
        let stages = diver.stages.iter().map(|stage| {
            let charge = charges.new_charge(stage.cylinder.water, stage.gas);
            StageCylinder {
                gas: stage.gas,
                contents: charge.contents(stage.cylinder.fill),
                charge,
            }
        });
        let stages = stages.collect();
        let pony = diver.pony.as_ref().zip(plan.pony_gas_of(index));
        let pony = pony.map(|(pony, gas)| {
            let charge = charges.new_charge(pony.cylinder.water, gas);
            let kept = charge.contents(PONY_EMPTY);
            let above = charge.contents(pony.cylinder.fill) - kept;
            PonyCylinder {
                gas,
                charge,
                kept,
                have: above.max(FreeVolume::from_l(0.0)),
            }
        });
        Self {
            start: main.contents(diver.cylinder.fill),
            floor: main.contents(plan.reserve().floor),
            main,
            stages,
            pony,
        }
    }
}
