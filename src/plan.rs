//! A checked plan: everything that a briefing is worked out from.

mod builder;
mod checked;
mod clock;
mod reserve;
mod site;
mod team;

pub(crate) use builder::{LONGEST_EMERGENCY, LONGEST_NAME, LONGEST_TITLE};
pub use builder::{PlanBuilder, PlanError, may_be_shown};
pub use checked::Plan;
pub use clock::{TimeOfDay, TimeOfDayError};
pub use reserve::{Hang, OutBound, ReserveRules, SwimPlan, TurnRule, share_returning_against};
pub use site::{Site, Surface};
pub(crate) use team::hungriest_partner;
pub use team::{Diver, Stage, partners};
