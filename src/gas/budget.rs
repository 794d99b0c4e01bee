//! What each diver uses, must keep, and turns at.

use super::pony::PonyBudget;
use crate::quantity::{Depth, FreeVolume, GaugePressure, Mass, RunTime, UnitSystem};
use crate::site::Mix;
use serde::Serialize;

/// What decides how much gas a diver must leave a level with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum NeedBy {
    /// The reserve: two on one cylinder, or one alone, in trouble.
    Reserve,
    /// The planned way up and the hang.
    Hang,
    /// The floor.
    Floor,
}

/// One diver's gas on leaving one level.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct LevelBudget {
    /// The level.
    pub depth: Depth,
    /// Run time of leaving it.
    pub leave: RunTime,
    /// What trouble there takes: two on one cylinder, or one alone.
    pub trouble: FreeVolume,
    /// What the planned way up and the hang take; `None` but on leaving the last level for a dive
    /// with a hang.
    pub hanging: Option<FreeVolume>,
    /// What must be left then, without the floor: the greater of the two.
    pub reserve: FreeVolume,
    /// Pressure that holds it, at least the floor.
    pub minimum_gas: GaugePressure,
    /// What decides that.
    pub need_by: NeedBy,
    /// Contents then; under 0 where they are used up before.
    pub contents: FreeVolume,
    /// The pressure of that; `None` where nothing is left.
    pub left: Option<GaugePressure>,
    /// Contents then less the minimum: what there is to spare, or less than 0.
    pub to_spare: FreeVolume,
    /// Whether what is left would do if there were no hang.
    pub holds_without_hang: bool,
}

impl LevelBudget {
    /// Whether the hang asks for more than trouble does.
    #[must_use]
    pub fn hang_decides(&self) -> bool {
        self.hanging.is_some_and(|hanging| hanging > self.trouble)
    }

    /// Whether at least the minimum is left.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.to_spare.as_l() >= 0.0
    }
}

/// What the hang takes of one diver's main cylinder.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct HangBudget {
    /// The gas it takes, unstressed.
    pub takes: FreeVolume,
    /// What is left at the surface after the planned dive and the hang; `None` where the cylinder
    /// is empty before.
    pub left: Option<GaugePressure>,
}

/// A decompression gas on one diver's side.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct StageBudget {
    /// The gas.
    pub gas: Mix,
    /// `stress ·` what the plan draws from it.
    pub need: FreeVolume,
    /// What the diver's stage cylinders of that gas hold.
    pub have: FreeVolume,
    /// Whether the diver carries a cylinder of it at all.
    pub carried: bool,
}

impl StageBudget {
    /// Whether enough of it is carried.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.carried && self.have >= self.need
    }
}

/// One diver's gas.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct DiverBudget {
    /// The diver's name.
    pub name: String,
    /// What is in the main cylinder: the bottom gas of this diver.
    pub gas: Mix,
    /// Units of the diver's gauge, where they differ from the plan's.
    pub gauge: Option<UnitSystem>,
    /// The fill.
    pub fill: GaugePressure,
    /// Contents at the fill.
    pub start: FreeVolume,
    /// The whole dive's draw on the main cylinder.
    pub planned_use: FreeVolume,
    /// What is left at the surface; `None` where it runs out before.
    pub end: Option<GaugePressure>,
    /// Where it runs out, if it does: run time and depth.
    pub empty_at: Option<(RunTime, Depth)>,
    /// Each level's end, in order; at least one.
    pub levels: Vec<LevelBudget>,
    /// The greatest of what must be left at a level's end, without the floor.
    pub reserve: FreeVolume,
    /// Which level's end that is, from 0; of equal ones the first.
    pub reserve_from: usize,
    /// Pressure that holds it, at least the floor.
    pub minimum_gas: GaugePressure,
    /// Who shares the gas in the reserve, as an index into the team; `None` for a diver alone.
    pub partner: Option<usize>,
    /// What the hang takes, where the plan has one.
    pub hang: Option<HangBudget>,
    /// Turn pressure.
    pub turn: GaugePressure,
    /// Run time at which the plan gets down to it: `None` if not before the bottom is left, 0 if
    /// it is more than the fill.
    pub turn_due: Option<RunTime>,
    /// Pony bottle.
    pub pony: Option<PonyBudget>,
    /// Each decompression gas that the plan breathes or the diver carries.
    pub stages: Vec<StageBudget>,
    /// Mass of gas breathed by the end of the last stop (of the dive where there is none), from
    /// all cylinders: so much lighter hangs the diver than at the start.
    pub lighter: Mass,
}

impl DiverBudget {
    /// Whether at every level's end at least its minimum is left.
    #[must_use]
    pub fn reserve_holds(&self) -> bool {
        self.levels.iter().all(LevelBudget::holds)
    }

    /// What must be left on leaving the bottom: the minimum at the end of the last level.
    #[must_use]
    pub fn bottom_minimum(&self) -> GaugePressure {
        let last = self.levels.last();
        last.map_or(self.minimum_gas, |level| level.minimum_gas)
    }

    /// The end of the last level; a team's budget has one.
    #[must_use]
    pub fn leaving(&self) -> Option<&LevelBudget> {
        self.levels.last()
    }
}
