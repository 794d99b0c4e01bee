//! Why: each figure of a briefing as an equation in symbols, the same in numbers, and the result.
//!
//! An [`Expression`] is written twice from one tree, and its result is worked out from the digits
//! that the line in numbers shows: a student with a calculator gets it to the last digit. Later
//! lines use the printed results of earlier ones. How far that strays from the model, which does
//! not round on the way, is bounded by [`STRAY_UNITS`] and [`STRAY_SHARE`]; decimals are added
//! until what people are shown (whole minutes, 5 bar, over or within) is the same for both.
//!
//! ```
//! use hangbar::explain::{Step, Topic, explain};
//! use hangbar::briefing::brief;
//! use hangbar::plan_file;
//!
//! let plan = plan_file::read("[profile]\ndepth = \"30 m\"\nbottom_time = \"14 min\"")?;
//! let briefing = brief(plan)?;
//! let limit = &explain(&briefing, &[Topic::Limit], briefing.plan.units())?[0];
//! assert!(limit.title.starts_with("No-stop limit at 30 m on air: "));
//! let first = limit.steps.iter().find_map(|step| match step {
//!     Step::Equation(equation) => Some(equation),
//!     Step::Words(_) => None,
//! });
//! let ambient = first.ok_or("no equation")?;
//! assert_eq!(ambient.expression.symbols(), "P_s + w * d");
//! assert_eq!(ambient.expression.numbers(), "1.01325 + 0.100518 * 30");
//! assert_eq!(ambient.result.digits(), "4.0288");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod bottle;
mod exchange;
mod expression;
mod flying;
mod gas;
mod interval;
mod limit;
mod pony;
mod rest;
mod sheet;
mod site;
mod steps;
mod stop;
mod topics;

pub use expression::{Expression, Number, Operator};
pub use steps::{
    Equation, ExplainError, Explanation, HOW_TO_READ, Meaning, STRAY_SHARE, STRAY_UNITS, Step,
    Topic,
};
pub use topics::explain;
