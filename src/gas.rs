//! Gas: what is used, what must be kept, when to turn, for how long it lasts, and how it is blended.

mod blend;
mod bottom_times;
mod budget;
mod cylinders;
mod diver;
mod limits;
mod lost;
mod lost_stage;
mod need;
mod pony;
mod team;

pub use blend::{
    Added, Blend, BlendAsked, BlendError, BlendStep, Component, CylinderGas, Filled, blend,
};
pub use budget::{DiverBudget, HangBudget, LevelBudget, NeedBy, StageBudget};
pub(crate) use cylinders::DiverCylinders;
pub use limits::{
    BottomTimeLimit, DiverLimits, GREATEST_BOTTOM_TIME_MIN, LimitEnd, ShorterIsWorse, WorseBecause,
};
pub(crate) use lost::lost_gas;
pub use lost::{LostGas, Rescue, RescueOutcome};
pub(crate) use lost_stage::lost_stages;
pub use lost_stage::{DiverWithoutStage, LossMoment, LostStage, WithoutStage};
pub use need::{Emergency, EmergencyExposure, LevelEnd};
pub(crate) use need::{main_exposure, until};
pub use pony::{PONY_EMPTY, PonyBudget, PonyVerdict};
pub(crate) use team::{LateDive, LateGas, TeamGas, TeamTimes, has_enough, team_gas, team_lasts};
