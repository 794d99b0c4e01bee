//! The plan file: TOML in, a checked [`Plan`](crate::plan::Plan) or all that is wrong with it out; the
//! file written again for the next dive of the day; and what a team wrote down of the dive with a
//! pencil, read in the same way.

mod ascent;
mod before;
mod blanks;
mod buddies;
mod cylinder;
mod described;
mod earlier;
mod flight;
mod gas;
mod keys;
mod lines;
mod model;
mod next;
mod on_the_day;
mod parsed;
mod pencil;
mod pencil_form;
mod pencil_times;
mod problem;
mod profile;
mod read;
mod reader;
mod reserve;
mod site;
mod slips;
mod splice;
mod starter;
mod surface;
mod team;
mod values;
mod whole;

pub(crate) use keys::{
    Holds, Key, PLAN as PLAN_KEYS, Placed, RECORD as RECORD_KEYS, Section, Without,
};
pub use lines::Position;
pub use next::{NextPlan, NextPlanError, next_plan};
pub use on_the_day::Overrides;
pub use pencil::read_pencil;
pub use pencil_form::pencil_form;
pub use problem::{PlanErrors, Problem};
pub use read::{read, read_with, without_file};
pub use starter::{StarterError, starter_plan};
pub use whole::WithoutFile;
