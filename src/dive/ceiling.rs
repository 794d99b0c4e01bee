//! How shallow the tissues let the diver go.

use super::factor::FactorLine;
use crate::quantity::Depth;
use crate::rules::DiveRules;
use crate::tissue::{COMPARTMENTS, Tissues};

/// The shallowest depth at which every compartment, as loaded now, is within the high factor; the
/// surface where that is open.
pub(crate) fn high_factor_ceiling(rules: &DiveRules, tissues: &Tissues) -> Depth {
    let factor = FactorLine::no_stop(rules.factors);
    let each = (0..COMPARTMENTS).map(|index| compartment_ceiling(rules, factor, tissues, index));
    each.fold(Depth::SURFACE, Depth::max)
}

/// The shallowest depth at which a compartment, as loaded now, is within the factor in force.
///
/// ```text
/// p = P + G(d)·(A + B·d)      P = P_s + w·d   A = a + c·P_s   B = c·w   c = 1/b − 1
/// below the anchor, G = low:      d = (p − P_s − low·A)/(w + low·B)
/// above it, G = high − s·d:       0 = (P_s + high·A − p) + d·(w + high·B − s·A) − d²·s·B
/// ```
/// `w`: bar/m; `d`: m; `s = (high − low)/anchor`. Of the two roots the one between the surface
/// and the anchor at which the limit rises past `p` on the way down.
pub(super) fn compartment_ceiling(
    rules: &DiveRules,
    factor: FactorLine,
    tissues: &Tissues,
    index: usize,
) -> Depth {
    let set = &rules.compartments;
    let surface = rules.environment.surface();
    let p = tissues.loading(index).total_bar();
    let within = |depth: Depth| {
        let ambient = rules.environment.ambient(depth);
        p <= tissues.limit_bar(set, index, ambient, factor.at(depth))
    };
    if within(Depth::from_m(0.0)) {
        return Depth::from_m(0.0);
    }
    // M(P) − P is linear in depth: A + B·d, from its values at the surface and at 1 m.
    let spread = |metres: f64| {
        let ambient = rules.environment.ambient(Depth::from_m(metres));
        tissues.limit_bar(set, index, ambient, 1.0) - ambient.as_bar()
    };
    let a = spread(0.0);
    let b = spread(1.0) - a;
    let w = rules.environment.bar_per_m();
    let short = p - surface.as_bar();
    let low = |factor: f64| Depth::from_m((short - factor * a) / (w + factor * b));
    match factor.anchor() {
        Some(anchor) if within(anchor) => {
            let s = (factor.high() - factor.low()) / anchor.as_m();
            let linear = w + factor.high() * b - s * a;
            let missing = short - factor.high() * a;
            let root = (linear * linear - 4.0 * s * b * missing).max(0.0).sqrt();
            Depth::from_m(2.0 * missing / (linear + root))
        }
        _ => low(factor.low()),
    }
}
