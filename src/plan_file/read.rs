//! From text to a checked plan.

use toml::de::DeTable;

use super::on_the_day::Overrides;
use super::parsed::{parsed, record_for_plan, whole_file};
use super::problem::{Place, PlanErrors, Raw};
use super::reader::Reader;
use super::whole::{self, Whole, WithoutFile};
use crate::plan::{Plan, PlanError};

/// What a line of a plan looks like.
const TOML_ACCEPTED: &str = "lines as depth = \"28 m\" under a [profile]: each key once, all text in quotes, every \
     bracket and quote closed";

/// Reads a plan from the text of its file.
///
/// Unknown keys, wrong units, impossible values and contradictions are refused, and all of them
/// are reported together.
///
/// # Errors
/// [`PlanErrors`] with every problem and its place.
///
/// # Example
/// ```
/// let plan = hangbar::plan_file::read(
///     r#"
///     [profile]
///     depth = "18 m"
///     bottom_time = "40 min"
///     "#,
/// )?;
/// assert_eq!(plan.levels().len(), 1);
///
/// let refused = hangbar::plan_file::read("[profile]\ndepht = \"18 m\"\nbottom_time = \"9 min\"");
/// let refused = refused.unwrap_err();
/// assert_eq!(refused.problems().len(), 1);
/// assert_eq!(refused.problems()[0].meant.as_deref(), Some("depth"));
/// assert!(refused.to_string().starts_with("line 2, column 1, [profile]: unknown key `depht`"));
/// # Ok::<(), hangbar::plan_file::PlanErrors>(())
/// ```
pub fn read(text: &str) -> Result<Plan, PlanErrors> {
    read_with(text, &Overrides::default())
}

/// Reads a plan and puts the overrides in place of what the file says. They are checked as the
/// file is.
///
/// # Errors
/// [`PlanErrors`] with every problem and its place; those of overrides come last.
pub fn read_with(text: &str, overrides: &Overrides) -> Result<Plan, PlanErrors> {
    let (root, text) = parsed(text, TOML_ACCEPTED)?;
    if let Some(problem) = record_for_plan(root.get_ref()) {
        return Err(PlanErrors::new(text, problem));
    }
    let mut reader = Reader::default();
    let plan = whole::read(&mut reader, &root, overrides);
    let found = reader.into_found();
    if !found.is_empty() {
        return Err(PlanErrors::new(text, found));
    }
    // A section gives nothing only after it has said why, and asks for all that the plan is
    // checked for: should a plan be refused here all the same, it is refused.
    let problem = match plan {
        Some(Whole { plan, before }) => match plan.build() {
            Ok(plan) => return Ok(plan),
            Err(error) => refused(&error, &before),
        },
        None => whole_file("the plan is incomplete".to_owned(), "a whole plan"),
    };
    Err(PlanErrors::new(text, problem))
}

/// The usual rules in metric units, for who has no file, with what differs on the day in their place,
/// as far as that is about water, air, how the divers came to it, and speeds.
///
/// # Errors
/// [`PlanErrors`], as [`read_with`].
///
/// # Example
/// ```
/// use hangbar::plan_file::{Overrides, without_file};
/// let lake = Overrides { water: Some("fresh".to_owned()), ..Overrides::default() };
/// assert!(without_file(&lake).is_ok());
/// let there = without_file(&Overrides { arrived: Some("90 min".to_owned()), ..lake })?;
/// assert!(there.arrival.is_some_and(|arrival| arrival.before_first_dive.as_min() > 89.0));
/// let wall = Overrides { water: Some("wine".to_owned()), ..Overrides::default() };
/// assert!(without_file(&wall).is_err());
/// # Ok::<(), hangbar::plan_file::PlanErrors>(())
/// ```
pub fn without_file(overrides: &Overrides) -> Result<WithoutFile, PlanErrors> {
    let (root, _) = DeTable::parse_recoverable("");
    let mut reader = Reader::default();
    let without = whole::without_file(&mut reader, &root, overrides);
    match reader.into_found() {
        found if found.is_empty() => Ok(without),
        found => Err(PlanErrors::new("", found)),
    }
}

/// An earlier dive that cannot be flown is found only when it is tried; it has a place all the same.
fn refused(error: &PlanError, before: &[Place]) -> Raw {
    let PlanError::EarlierDive { number, cause } = error else {
        return whole_file(error.to_string(), "a whole plan");
    };
    Raw {
        place: before.get(number - 1).cloned().unwrap_or(Place::Span(0..0)),
        table: format!("[[before]] {number}"),
        key: None,
        message: format!("this dive cannot have been dived so: {cause}"),
        accepted: Some("a dive that can be scheduled by this plan's own rules".to_owned()),
        meant: None,
    }
}
