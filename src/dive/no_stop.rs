//! The no-stop limit: how long a dive may last and still go straight up.

use super::segment::Moment;
use super::straight::StraightUp;
use crate::quantity::{Depth, RunTime, Time, UnitSystem};
use crate::rules::ranges::DEPTH;
use crate::rules::{DiveRules, OutOfRange, check_tissues};
use crate::tissue::Tissues;
use serde::Serialize;

/// A limit that this many minutes do not reach is no limit.
pub const BOUND_MIN: u32 = 999;
/// Halvings of a minute when the limit is searched: 2⁻⁶⁰ min is below rounding.
const HALVINGS: u32 = 60;

/// What a no-stop limit comes to.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reach {
    /// Even touching the depth is too much: the limit is 0.
    Nothing,
    /// So long, the descent included.
    Until(Time),
    /// [`BOUND_MIN`] do not reach it.
    Unlimited,
}

/// A no-stop limit and what decides it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct NoStopLimit {
    /// The limit.
    pub reach: Reach,
    /// The compartment that decides, 0 to 15, fastest first: the one with the greatest gradient on
    /// surfacing from `leaving`.
    pub compartment: usize,
    /// On leaving the surface.
    pub start: Moment,
    /// On arriving at the depth.
    pub arrival: Moment,
    /// On leaving it at the limit; at once where even touching it is too much; at [`BOUND_MIN`]
    /// where nothing is.
    pub leaving: Moment,
    /// Tissues on surfacing from there.
    pub surfacing: Tissues,
}

impl NoStopLimit {
    /// The limit, the descent included: 0 where even touching the depth is too much, `None` where
    /// [`BOUND_MIN`] do not reach it.
    #[must_use]
    pub const fn time(&self) -> Option<Time> {
        match self.reach {
            Reach::Nothing => Some(Time::from_min(0.0)),
            Reach::Until(time) => Some(time),
            Reach::Unlimited => None,
        }
    }
}

/// The greatest bottom time at a depth, descent included, from which a straight ascent surfaces
/// with every compartment within the high gradient factor.
///
/// Gas exchange during the ascent counts. With one inert gas each compartment has a closed form:
/// the pressure on surfacing is affine in the pressure on leaving the bottom, `p_s = α·p + C`, so
///
/// ```text
/// p* = (limit − C)/α
/// t  = half-time/ln 2 · ln((pi − p_d)/(pi − p*))      p_d: on arrival at the depth
/// ```
/// and the limit is the descent and the least `t` over the compartments. With two inert gases the
/// limit is searched minute by minute and then by bisection (60 halvings of one minute).
///
/// # Example
/// ```
/// use hangbar::{dive::no_stop_limit, quantity::Depth, rules::DiveRules, tissue::Tissues};
/// let rules = DiveRules::default();
/// let clean = Tissues::clean(rules.environment.surface());
/// let limit = no_stop_limit(&rules, &clean, Depth::from_m(30.0))?.time();
/// assert!(limit.is_some_and(|time| (13.0..20.0).contains(&time.as_min())));
/// assert!(no_stop_limit(&rules, &clean, Depth::from_m(f64::NAN)).is_err());
/// # Ok::<(), hangbar::rules::OutOfRange>(())
/// ```
/// # Errors
/// [`OutOfRange`] unless the depth is 0.3 m to 200 m, the rules are such as a plan may have, and
/// the tissues are those of a diver.
pub fn no_stop_limit(
    rules: &DiveRules,
    start: &Tissues,
    depth: Depth,
) -> Result<NoStopLimit, OutOfRange> {
    rules.check(UnitSystem::Metric)?;
    check_tissues(start)?;
    DEPTH.check(depth.as_m(), UnitSystem::Metric)?;
    Ok(limit_at(rules, start, depth))
}

/// As [`no_stop_limit`], for what has been checked.
pub(crate) fn limit_at(rules: &DiveRules, start: &Tissues, depth: Depth) -> NoStopLimit {
    let descent = Time::from_min(depth.as_m() / rules.descent_rate.as_m_min());
    let (surface, bottom) = (
        rules.environment.surface(),
        rules.environment.ambient(depth),
    );
    let (set, gas) = (&rules.compartments, rules.bottom_gas);
    let helium = !start.know_nitrogen_alone(gas);
    let arrival = Moment {
        run_time: RunTime::SPLASH + descent,
        depth,
        deepest: depth,
        tissues: start.after(set, gas, surface, bottom, descent),
    };
    let straight_up = StraightUp::from(rules, depth, helium);
    let bound = Time::from_min(f64::from(BOUND_MIN)) - descent;
    let (reach, stay) = if !straight_up.is_open(&arrival.tissues) {
        (Reach::Nothing, Time::from_min(0.0))
    } else {
        match time_open(rules, &straight_up, &arrival, bound) {
            Some(stay) => (Reach::Until(descent + stay), stay),
            None => (Reach::Unlimited, bound),
        }
    };
    let leaving = Moment {
        run_time: arrival.run_time + stay,
        tissues: arrival.tissues.after(set, gas, bottom, bottom, stay),
        ..arrival
    };
    let surfacing = straight_up.surfacing(&leaving.tissues);
    NoStopLimit {
        reach,
        compartment: surfacing.gradient(set, surface).index,
        start: Moment::splash(*start),
        arrival,
        leaving,
        surfacing,
    }
}

/// How much longer a diver may stay at the depth of `from` until a straight ascent no longer
/// passes; `None` where the bound does not reach it, 0 where it does not pass now.
pub(crate) fn time_until_stops(rules: &DiveRules, from: &Moment, bound: Time) -> Option<Time> {
    let helium = !from.tissues.know_nitrogen_alone(rules.bottom_gas);
    let straight_up = StraightUp::from(rules, from.depth, helium);
    if !straight_up.is_open(&from.tissues) {
        return Some(Time::from_min(0.0));
    }
    time_open(rules, &straight_up, from, bound)
}

/// As [`time_until_stops`], where it passes now.
fn time_open(
    rules: &DiveRules,
    straight_up: &StraightUp<'_>,
    from: &Moment,
    bound: Time,
) -> Option<Time> {
    let one_gas = from.tissues.know_nitrogen_alone(rules.bottom_gas);
    let time = if one_gas {
        let (set, high) = (&rules.compartments, rules.factors.high());
        let StraightUp { exchange, leg, .. } = straight_up;
        exchange.nitrogen_open_for(set, &from.tissues, leg, high)
    } else {
        search(rules, straight_up, from, bound)
    };
    time.filter(|time| time.as_min() <= bound.as_min())
}

/// Minute by minute up to the first that fails, then bisection inside it. Minutes that surely pass
/// are left out: between two moments at one depth each gas of a compartment lies between those of
/// the two, and who passes with the more of both passes with less, see [`Tissues::most`].
fn search(
    rules: &DiveRules,
    straight_up: &StraightUp<'_>,
    from: &Moment,
    bound: Time,
) -> Option<Time> {
    let (set, gas) = (&rules.compartments, rules.bottom_gas);
    let ambient = rules.environment.ambient(from.depth);
    let after = |minutes: f64| {
        let time = Time::from_min(minutes);
        from.tissues.after(set, gas, ambient, ambient, time)
    };
    let passes = |minutes: f64| straight_up.is_open(&after(minutes));
    let bound = bound.as_min();
    let mut low = 0.0;
    let mut stride: f64 = 1.0;
    let mut here = from.tissues;
    loop {
        let next = (low + stride).min(bound);
        let there = after(next);
        if stride > 1.0 {
            if straight_up.is_open(&here.most(&there)) {
                (low, here) = (next, there);
                stride *= 2.0;
            } else {
                stride /= 2.0;
                continue;
            }
        } else if straight_up.is_open(&there) {
            (low, here) = (next, there);
            stride = 2.0;
        } else {
            break;
        }
        if low >= bound {
            return None;
        }
    }
    let mut high = (low + 1.0).min(bound);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if passes(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(Time::from_min(low))
}
