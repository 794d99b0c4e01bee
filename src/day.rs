//! A day of several plans: in order, each diver known by name, each dive briefed from what the dives
//! before it have left.

mod course;
mod error;
mod home;
mod order;
mod over;
mod people;
mod whole;

pub use course::plan_day;
pub use error::{DayError, MOST_DIVES};
pub use home::{Home, home_by, verdict};
pub use order::{DayPlan, OrderedBy};
pub use people::Person;
pub use whole::{Day, DayDive};
