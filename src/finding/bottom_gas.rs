//! What there is to say about a bottom gas by itself, without a plan.

use super::density::too_dense;
use super::facts::{Fact, Finding};
use super::oxygen::{Use, too_high, too_low};
use crate::quantity::Depth;
use crate::site::{Environment, Mix};

/// What a dive on this bottom gas would be told about it: that it cannot be breathed at the surface and,
/// of a depth, its oxygen and its density there. By the rules and in the order of a plan's findings.
///
/// # Example
/// ```
/// use hangbar::finding::{Weight, findings_of_bottom_gas};
/// use hangbar::quantity::Depth;
/// use hangbar::site::{Environment, Mix};
/// let (sea, gas) = (Environment::default(), Mix::nitrox(36.0)?);
/// assert!(findings_of_bottom_gas(&sea, gas, Some(Depth::from_m(28.0))).is_empty());
/// let deep = findings_of_bottom_gas(&sea, gas, Some(Depth::from_m(36.0)));
/// assert_eq!((deep[0].code(), deep[0].weight()), ("oxygen-over-limit", Weight::NoGo));
/// # Ok::<(), hangbar::site::MixError>(())
/// ```
#[must_use]
pub fn findings_of_bottom_gas(
    environment: &Environment,
    gas: Mix,
    depth: Option<Depth>,
) -> Vec<Finding> {
    let low = too_low(environment, gas);
    let high = depth.and_then(|depth| too_high(environment, gas, Use::Bottom, depth));
    let dense = depth.and_then(|depth| too_dense(environment, gas, depth));
    let oxygen = low.into_iter().chain(high).map(Fact::Oxygen);
    let facts = oxygen.chain(dense.map(Fact::Density));
    let mut findings: Vec<Finding> = facts.map(Finding::of_team).collect();
    findings.sort_by_key(Finding::weight);
    findings
}
