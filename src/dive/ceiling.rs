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

#[cfg(test)]
mod tests {
    use super::compartment_ceiling;
    use crate::dive::FactorLine;
    use crate::quantity::{Depth, DepthChange, Time};
    use crate::rules::DiveRules;
    use crate::site::Mix;
    use crate::tissue::Tissues;

    /// After half an hour at 45 m, on air and on trimix, by the low factor alone and by lines with an
    /// anchor above, among and below the ceilings: at its ceiling a compartment holds what it may.
    #[test]
    fn at_its_ceiling_a_compartment_is_full_and_a_millimetre_above_it_holds_too_much() {
        const MILLIMETRE: DepthChange = DepthChange::from_m(0.001);
        let trimix: Option<Mix> = "18/45".parse().ok();
        let (mut below, mut above) = (0, 0);
        for gas in [Some(Mix::AIR), trimix].into_iter().flatten() {
            let rules = DiveRules::default();
            let (set, at) = (&rules.compartments, |depth| {
                rules.environment.ambient(depth)
            });
            let deep = at(Depth::from_m(45.0));
            let clean = Tissues::clean(rules.environment.surface());
            let held = clean.after(set, gas, deep, deep, Time::from_min(30.0));
            let line = FactorLine::staged(rules.factors);
            let anchored =
                [3.0, 9.0, 15.0, 30.0].map(|anchor| line.anchored(Depth::from_m(anchor)));
            for line in anchored.into_iter().chain([line]) {
                for index in 0..16 {
                    let ceiling = compartment_ceiling(&rules, line, &held, index);
                    let over = |depth| {
                        let may = held.limit_bar(set, index, at(depth), line.at(depth));
                        held.loading(index).total_bar() - may
                    };
                    if ceiling.is_at(Depth::SURFACE) {
                        assert!(over(ceiling) <= 1e-9, "{index} {line:?}");
                        continue;
                    }
                    assert!(over(ceiling).abs() < 1e-9, "{index} {line:?} {ceiling:?}");
                    assert!(
                        over(ceiling - MILLIMETRE) > 0.0,
                        "{index} {line:?} {ceiling:?}"
                    );
                    match line.anchor() {
                        Some(anchor) if ceiling < anchor => above += 1,
                        _ => below += 1,
                    }
                }
            }
        }
        assert!(below > 20 && above > 20, "{below} {above}");
    }
}
