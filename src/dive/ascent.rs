//! The way up: straight with a safety stop on a no-stop dive, otherwise level by level.

use super::error::ScheduleError;
use super::factor::FactorLine;
use super::flight::Flight;
use super::prepared::Prepared;
use super::segment::{Moment, Segment};
use super::staged::Staged;
use super::straight::straight;
use crate::rules::DiveRules;
use serde::Serialize;

/// The way up from one moment to the surface.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct Ascent {
    /// Segments in order of time.
    pub segments: Vec<Segment>,
    /// Whether it had to be staged.
    pub staged: bool,
    /// The gradient factor over the depths.
    pub factors: FactorLine,
    /// The diver at the end of each segment.
    pub ends: Vec<Moment>,
}

/// The way up as it is planned: straight with the safety stop where the straight ascent passes
/// the high factor, otherwise staged.
///
/// # Errors
/// [`ScheduleError::StopCannotClear`], [`ScheduleError::SafetyStopOverloads`].
pub(crate) fn ascend(rules: &DiveRules, from: &Moment) -> Result<Ascent, ScheduleError> {
    let flight = Flight::resume(rules, from, rules.bottom_gas);
    fly_up(&mut Prepared::new(rules, &from.tissues), flight)
}

/// As [`ascend`], with the gas exchange of ways up before, for who asks for the segments alone: it has
/// no ends.
///
/// # Errors
/// As [`ascend`].
pub(crate) fn ascend_without_ends(
    prepared: &mut Prepared<'_>,
    from: &Moment,
) -> Result<Ascent, ScheduleError> {
    let rules = prepared.rules();
    let flight = Flight::resume(rules, from, rules.bottom_gas);
    fly_up(prepared, flight.without_ends())
}

fn fly_up<'a>(
    prepared: &mut Prepared<'a>,
    mut flight: Flight<'a>,
) -> Result<Ascent, ScheduleError> {
    prepared.tidy();
    let rules = prepared.rules();
    let staged = !prepared.may_go_straight_up(&flight.now);
    let mut factors = FactorLine::no_stop(rules.factors);
    if staged {
        (flight, factors) = Staged::from(prepared, flight).fly()?;
    } else {
        straight(rules, &mut flight)?;
    }
    Ok(Ascent {
        staged,
        factors,
        segments: flight.segments,
        ends: flight.ends,
    })
}
