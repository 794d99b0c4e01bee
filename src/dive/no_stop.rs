//! The no-stop limit: how long a dive may last and still go straight up.

use super::segment::Moment;
use super::straight::{is_no_stop, surfacing_direct};
use crate::quantity::{Depth, RunTime, Time, UnitSystem};
use crate::rules::ranges::DEPTH;
use crate::rules::{DiveRules, OutOfRange, check_tissues};
use crate::tissue::{Coefficients, Tissues, WATER_VAPOUR_BAR, WITHIN_BAR, exchange};
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
    let arrival = Moment {
        run_time: RunTime::SPLASH + descent,
        depth,
        deepest: depth,
        tissues: start.after(set, gas, surface, bottom, descent),
    };
    let bound = Time::from_min(f64::from(BOUND_MIN)) - descent;
    let (reach, stay) = if !is_no_stop(rules, &arrival) {
        (Reach::Nothing, Time::from_min(0.0))
    } else {
        match time_until_stops(rules, &arrival, bound) {
            Some(stay) => (Reach::Until(descent + stay), stay),
            None => (Reach::Unlimited, bound),
        }
    };
    let leaving = Moment {
        run_time: arrival.run_time + stay,
        tissues: arrival.tissues.after(set, gas, bottom, bottom, stay),
        ..arrival
    };
    let surfacing = surfacing_direct(rules, &leaving);
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
    if !is_no_stop(rules, from) {
        return Some(Time::from_min(0.0));
    }
    let one_gas = from.tissues.know_nitrogen_alone(rules.bottom_gas);
    let time = if one_gas {
        closed_form(rules, from)
    } else {
        search(rules, from, bound)
    };
    time.filter(|time| time.as_min() <= bound.as_min())
}

/// The least time over the compartments; `None` where none is ever reached.
fn closed_form(rules: &DiveRules, from: &Moment) -> Option<Time> {
    let rows = from
        .tissues
        .loadings()
        .iter()
        .zip(rules.compartments.compartments());
    rows.filter_map(|(loading, compartment)| {
        compartment_time(rules, from.depth, loading.n2_bar, &compartment.nitrogen)
    })
    .min_by(f64::total_cmp)
    .map(Time::from_min)
}

fn compartment_time(
    rules: &DiveRules,
    depth: Depth,
    arrived_bar: f64,
    nitrogen: &Coefficients,
) -> Option<f64> {
    let fraction = rules.bottom_gas.nitrogen();
    let surface_bar = rules.environment.surface().as_bar();
    let bottom_bar = rules.environment.ambient(depth).as_bar();
    let up = rules.ascent.time_up(depth, Depth::SURFACE);
    let rate = (surface_bar - bottom_bar) / up.as_min();
    let k = std::f64::consts::LN_2 / nitrogen.half_time.as_min();
    let alpha = (-k * up.as_min()).exp();
    let gained = exchange(0.0, fraction, nitrogen.half_time, bottom_bar, rate, up);
    let tolerated = nitrogen.a_bar + surface_bar / nitrogen.b - surface_bar;
    let limit = surface_bar + rules.factors.high() * tolerated + WITHIN_BAR;
    let greatest = (limit - gained) / alpha;
    let inspired = (bottom_bar - WATER_VAPOUR_BAR) * fraction;
    if inspired <= greatest {
        return None;
    }
    Some((((inspired - arrived_bar) / (inspired - greatest)).ln() / k).max(0.0))
}

/// Minute by minute up to the first that fails, then bisection inside it.
fn search(rules: &DiveRules, from: &Moment, bound: Time) -> Option<Time> {
    let ambient = rules.environment.ambient(from.depth);
    let passes = |minutes: f64| {
        let time = Time::from_min(minutes);
        let tissues = from.tissues.after(
            &rules.compartments,
            rules.bottom_gas,
            ambient,
            ambient,
            time,
        );
        is_no_stop(rules, &Moment { tissues, ..*from })
    };
    let mut low = 0.0;
    while passes((low + 1.0_f64).min(bound.as_min())) {
        low += 1.0;
        if low >= bound.as_min() {
            return None;
        }
    }
    let mut high = (low + 1.0).min(bound.as_min());
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
