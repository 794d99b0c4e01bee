//! A checked plan: everything that a briefing is worked out from.

mod builder;
mod checked;
mod clock;
mod profile;
pub(crate) mod ranges;
mod reserve;
mod rules;
mod site;
mod start;
mod team;

pub(crate) use builder::{LONGEST_EMERGENCY, LONGEST_NAME, LONGEST_TITLE};
pub use builder::{PlanBuilder, PlanError, may_be_shown};
pub use checked::Plan;
pub use clock::{TimeOfDay, TimeOfDayError};
pub use profile::{Level, level_travel};
pub use ranges::OutOfRange;
pub use reserve::{Hang, OutBound, ReserveRules, SwimPlan, TurnRule, share_returning_against};
pub use rules::{AscentRules, DiveRules, LastStop, SafetyStop, StopSpacing};
pub use site::{Site, Surface};
pub use start::Start;
pub(crate) use start::check_tissues;
pub(crate) use team::hungriest_partner;
pub use team::{Diver, Stage, partners};
