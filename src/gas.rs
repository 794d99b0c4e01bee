//! Gas: what is used, what must be kept, when to turn, and for how long it lasts.

mod budget;
mod limits;
mod lost;
mod need;

pub(crate) use budget::team_budget_without_limits;
pub use budget::{
    DiverBudget, HangBudget, LevelBudget, NeedBy, PONY_EMPTY, PonyBudget, PonyVerdict, StageBudget,
    team_budget,
};
pub use limits::{
    BottomTimeLimit, GREATEST_BOTTOM_TIME_MIN, LimitEnd, ShorterIsWorse, WorseBecause,
};
pub use lost::{LostGas, Rescue, RescueOutcome, lost_gas};
pub use need::{Emergency, EmergencyExposure};
pub(crate) use need::{main_exposure, until};
