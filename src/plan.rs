//! A checked plan: everything that a briefing is worked out from.

mod checked;
mod clock;
mod profile;
pub(crate) mod ranges;
mod reserve;
mod rules;
mod team;

pub use checked::{Plan, Site, Surface};
pub use clock::{TimeOfDay, TimeOfDayError};
pub use profile::{Level, level_travel};
pub use reserve::{Hang, OutBound, ReserveRules, SwimPlan, TurnRule, share_returning_against};
pub use rules::{AscentRules, DiveRules, LastStop, SafetyStop, StopSpacing};
pub(crate) use team::hungriest_partner;
pub use team::{Diver, Stage, partners};
