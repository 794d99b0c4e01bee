//! The no-stop limit: how long a dive may last and still go straight up.

use super::ascent;
use super::flight::Moment;
use crate::plan::DiveRules;
use crate::quantity::{Depth, Time};
use crate::tissue::{Coefficients, Tissues, WATER_VAPOUR_BAR, WITHIN_BAR, exchange};

/// A limit that this many minutes do not reach is no limit.
pub const BOUND_MIN: f64 = 999.0;
/// Halvings of a minute when the limit is searched: 2⁻⁶⁰ min is below rounding.
const HALVINGS: u32 = 60;

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
/// Gives 0 where even touching the depth is too much, and `None` where 999 min do not reach it.
///
/// # Example
/// ```
/// use hangbar::dive::no_stop_limit;
/// use hangbar::plan::DiveRules;
/// use hangbar::tissue::Tissues;
/// use hangbar::quantity::Depth;
/// let rules = DiveRules::default();
/// let clean = Tissues::clean(rules.environment.surface());
/// let limit = no_stop_limit(&rules, &clean, Depth::from_m(30.0)).map(|t| t.as_min());
/// assert!(limit.is_some_and(|minutes| (13.0..20.0).contains(&minutes)));
/// ```
#[must_use]
pub fn no_stop_limit(rules: &DiveRules, start: &Tissues, depth: Depth) -> Option<Time> {
    let descent = Time::from_min(depth.as_m() / rules.descent_rate.as_m_min());
    let surface = rules.environment.surface();
    let bottom = rules.environment.ambient(depth);
    let set = &rules.compartments;
    let arrival = Moment {
        run_time: descent,
        depth,
        deepest: depth,
        tissues: start.after(set, rules.bottom_gas, surface, bottom, descent),
    };
    if !ascent::is_no_stop(rules, &arrival) {
        return Some(Time::from_min(0.0));
    }
    let bound = Time::from_min(BOUND_MIN) - descent;
    time_until_stops(rules, &arrival, bound).map(|time| descent + time)
}

/// How much longer a diver may stay at the depth of `from` until a straight ascent no longer
/// passes; `None` where the bound does not reach it, 0 where it does not pass now.
#[must_use]
pub fn time_until_stops(rules: &DiveRules, from: &Moment, bound: Time) -> Option<Time> {
    if !ascent::is_no_stop(rules, from) {
        return Some(Time::from_min(0.0));
    }
    let one_gas = rules.bottom_gas.helium() <= 0.0 && !from.tissues.hold_helium();
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
    let up = rules.ascent.direct_time(depth);
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
        ascent::is_no_stop(rules, &Moment { tissues, ..*from })
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
