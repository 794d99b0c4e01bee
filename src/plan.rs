//! A checked plan: everything that a briefing is worked out from.

mod before;
mod breathed;
mod builder;
mod checked;
mod clock;
mod flight;
mod history;
mod reserve;
mod site;
mod team;

pub use before::{Arrival, EarlierDive};
pub use builder::{PlanBuilder, PlanError};
pub use checked::Plan;
pub use clock::{DayTime, TimeOfDay, TimeOfDayError};
pub use flight::{Flight, FlightTime, FlightTimeError, USUAL_CABIN_ALTITUDE};
pub(crate) use history::through;
pub use history::{Climb, DiveBefore, History, Waiting};
pub use reserve::{Hang, OutBound, ReserveRules, SwimPlan, TurnRule, share_returning_against};
pub use site::{Site, Surface};
pub(crate) use team::hungriest_partner;
pub use team::{Diver, Pony, Stage, partners};
