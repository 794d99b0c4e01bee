//! The tissue model: Bühlmann ZH-L16C, sixteen compartments, with gradient factors.

use super::coefficients::COMPARTMENTS;
use super::coefficients::Compartment;
use super::coefficients::CompartmentSet;
use super::coefficients::Row;
use crate::quantity::Pressure;
use crate::site::Mix;
use serde::Serialize;

/// Water vapour in the lung at 37 °C, bar.
///
/// Source: Bühlmann, *Tauchmedizin* (47 mmHg).
pub const WATER_VAPOUR_BAR: f64 = 0.0627;
/// Nitrogen that the tissues of a diver at the surface are in balance with.
pub const SURFACE_NITROGEN: f64 = 0.79;
/// How far over its limit a compartment may stand and still count as within: bar.
pub const WITHIN_BAR: f64 = 1e-9;

/// Inert gas in one compartment, bar.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Loading {
    /// Pressure of nitrogen.
    pub n2_bar: f64,
    /// Pressure of helium.
    pub he_bar: f64,
}

impl Loading {
    /// Both gases together.
    #[must_use]
    pub const fn total_bar(self) -> f64 {
        self.n2_bar + self.he_bar
    }
}

/// The greatest gradient in use and where.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Gradient {
    /// `(p − P)/(M(P) − P)`: 1 on the M-value line, negative below ambient pressure.
    pub fraction: f64,
    /// The leading compartment, 0 to 15, fastest first.
    pub index: usize,
}

/// A compartment that stands over its limit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Excess {
    /// The compartment, 0 to 15, fastest first.
    pub index: usize,
    /// Total inert pressure in it.
    pub total_bar: f64,
    /// What it may hold at this ambient pressure and factor.
    pub limit_bar: f64,
}

/// Inert gas in all sixteen compartments, fastest first. A value: a dive can start from any.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(into = "[Loading; COMPARTMENTS]")]
pub struct Tissues {
    /// Pressure of nitrogen, bar.
    pub(super) nitrogen: Row,
    /// Pressure of helium, bar.
    pub(super) helium: Row,
}

impl From<Tissues> for [Loading; COMPARTMENTS] {
    fn from(tissues: Tissues) -> Self {
        tissues.loadings()
    }
}

impl Tissues {
    /// The tissues of somebody who has not dived: nitrogen of air at the surface, no helium.
    #[must_use]
    pub fn clean(surface: Pressure) -> Self {
        let n2_bar = (surface.as_bar() - WATER_VAPOUR_BAR) * SURFACE_NITROGEN;
        Self {
            nitrogen: [n2_bar; COMPARTMENTS],
            helium: [0.0; COMPARTMENTS],
        }
    }

    /// The tissues of somebody who has breathed a mix at an ambient pressure for ever.
    pub(crate) fn in_balance(mix: Mix, ambient: Pressure) -> Self {
        let breathed = ambient.as_bar() - WATER_VAPOUR_BAR;
        Self {
            nitrogen: [breathed * mix.nitrogen(); COMPARTMENTS],
            helium: [breathed * mix.helium(); COMPARTMENTS],
        }
    }

    /// Tissues from 16 loadings, fastest first.
    #[must_use]
    pub fn from_loadings(loadings: [Loading; COMPARTMENTS]) -> Self {
        Self {
            nitrogen: loadings.map(|loading| loading.n2_bar),
            helium: loadings.map(|loading| loading.he_bar),
        }
    }

    /// The 16 loadings, fastest first.
    #[must_use]
    pub fn loadings(&self) -> [Loading; COMPARTMENTS] {
        std::array::from_fn(|index| self.loading(index))
    }

    /// One loading, 0 to 15.
    ///
    /// # Panics
    /// Where there is no such compartment.
    #[must_use]
    pub const fn loading(&self, index: usize) -> Loading {
        Loading {
            n2_bar: self.nitrogen[index],
            he_bar: self.helium[index],
        }
    }

    /// Whether nitrogen is the only inert gas in play: held, and breathed from here on.
    #[must_use]
    pub fn know_nitrogen_alone(&self, mix: Mix) -> bool {
        mix.helium() <= 0.0 && !self.hold_helium()
    }

    /// Whether any compartment holds helium.
    #[must_use]
    pub fn hold_helium(&self) -> bool {
        // All are looked at, none skipped, as below.
        let held = self.helium.iter();
        held.fold(false, |held, he_bar| held | (*he_bar > 0.0))
    }

    /// The more of two in every compartment, for each gas apart.
    #[must_use]
    pub fn most(&self, other: &Self) -> Self {
        let most =
            |one: &Row, other: &Row| std::array::from_fn(|index| one[index].max(other[index]));
        Self {
            nitrogen: most(&self.nitrogen, &other.nitrogen),
            helium: most(&self.helium, &other.helium),
        }
    }

    /// What a compartment may hold at an ambient pressure, bar.
    ///
    /// ```text
    /// limit = P + G·(M(P) − P)      M(P) = a + P/b
    /// ```
    /// `G`: gradient factor, a fraction. With two inert gases `a` and `b` are the means weighted
    /// by the gases' pressures in that compartment.
    ///
    /// # Source
    /// Bühlmann, *Tauchmedizin*, 5th ed., p. 158 (M-value line); E. C. Baker, *Clearing up the
    /// confusion about deep stops* (gradient factor).
    #[must_use]
    pub fn limit_bar(
        &self,
        set: &CompartmentSet,
        index: usize,
        ambient: Pressure,
        factor: f64,
    ) -> f64 {
        limit_bar(
            &self.loading(index),
            &set.compartments()[index],
            ambient,
            factor,
        )
    }

    /// The compartment furthest over its limit, if any is over by more than [`WITHIN_BAR`].
    #[must_use]
    pub fn worst_excess(
        &self,
        set: &CompartmentSet,
        ambient: Pressure,
        factor: f64,
    ) -> Option<Excess> {
        let limits = self.limits_bar(set, ambient, factor);
        if self.are_up_to(&limits) {
            return None;
        }
        let mut over = self.nitrogen;
        for (over, (he, limit)) in over.iter_mut().zip(self.helium.iter().zip(&limits)) {
            *over = *over + he - limit;
        }
        let most = over.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let worst = over.iter().rposition(|over| *over >= most).unwrap_or(0);
        Some(Excess {
            index: worst,
            total_bar: self.loading(worst).total_bar(),
            limit_bar: limits[worst],
        })
    }

    /// Whether one compartment is surely over its limit in all tissues that hold of each gas no less
    /// than the less of two, and no more than the more.
    pub(crate) fn are_over_between(
        &self,
        other: &Self,
        index: usize,
        set: &CompartmentSet,
        ambient: Pressure,
        factor: f64,
    ) -> bool {
        let (one, other) = (self.loading(index), other.loading(index));
        let least = Loading {
            n2_bar: one.n2_bar.min(other.n2_bar),
            he_bar: one.he_bar.min(other.he_bar),
        };
        let most = Loading {
            n2_bar: one.n2_bar.max(other.n2_bar),
            he_bar: one.he_bar.max(other.he_bar),
        };
        let compartment = &set.compartments()[index];
        is_over_between(least, most, compartment, ambient, factor)
    }

    /// Whether every compartment is within the factor's limit at an ambient pressure.
    #[must_use]
    pub fn are_within(&self, set: &CompartmentSet, ambient: Pressure, factor: f64) -> bool {
        self.are_up_to(&self.limits_bar(set, ambient, factor))
    }

    #[inline]
    fn are_up_to(&self, limits: &Row) -> bool {
        let held = self.nitrogen.iter().zip(&self.helium);
        // All are looked at, none skipped: that is quicker than to stop at the first.
        held.zip(limits).fold(true, |within, ((n2, he), limit)| {
            within & (n2 + he <= limit + WITHIN_BAR)
        })
    }

    /// What each compartment may hold, see [`Tissues::limit_bar`].
    pub(super) fn limits_bar(&self, set: &CompartmentSet, ambient: Pressure, factor: f64) -> Row {
        let p = ambient.as_bar();
        if !self.hold_helium() {
            let mut limits = set.nitrogen.a_bar;
            for (limit, slope) in limits.iter_mut().zip(&set.nitrogen.slope) {
                *limit = p + factor * (*limit + p * slope - p);
            }
            return limits;
        }
        // As `limit_bar` has it, for all side by side; where a compartment holds no helium its share
        // is nothing.
        let (n2, he) = (&set.nitrogen, &set.helium);
        std::array::from_fn(|index| {
            let (of_n2, of_he) = (self.nitrogen[index], self.helium[index]);
            let total = of_n2 + of_he;
            let weighted = |n2: f64, he: f64| (n2 * of_n2 + he * of_he) / total;
            let mixed = of_he > 0.0 && total > 0.0;
            let (a, b) = (
                weighted(n2.a_bar[index], he.a_bar[index]),
                weighted(n2.b[index], he.b[index]),
            );
            let a = if mixed { a } else { n2.a_bar[index] };
            let b = if mixed { b } else { n2.b[index] };
            p + factor * (a + p / b - p)
        })
    }

    /// The greatest gradient in use at an ambient pressure, and the compartment that leads.
    ///
    /// ```text
    /// gradient = (p − P)/(M(P) − P)
    /// ```
    #[must_use]
    pub fn gradient(&self, set: &CompartmentSet, ambient: Pressure) -> Gradient {
        let mut leading = Gradient {
            fraction: f64::NEG_INFINITY,
            index: 0,
        };
        let m_values = self.limits_bar(set, ambient, 1.0);
        for (index, m_value) in m_values.iter().enumerate() {
            let total = self.loading(index).total_bar();
            let fraction = (total - ambient.as_bar()) / (m_value - ambient.as_bar());
            if fraction > leading.fraction {
                leading = Gradient { fraction, index };
            }
        }
        leading
    }
}

/// What a bound must clear to count, beside [`WITHIN_BAR`]: far more than rounding, bar.
pub(super) const SURELY_BAR: f64 = 1e-11;

/// Whether a compartment is over its limit whatever it holds of each gas from the least to the most.
///
/// The limit is convex in the share of helium (`a` is linear in it, `1/b` convex), so between two
/// shares it is at most the greater of the limits at the two.
pub(super) fn is_over_between(
    least: Loading,
    most: Loading,
    compartment: &Compartment,
    ambient: Pressure,
    factor: f64,
) -> bool {
    let limit = |n2_bar, he_bar| {
        let loading = Loading { n2_bar, he_bar };
        limit_bar(&loading, compartment, ambient, factor)
    };
    let limit = limit(least.n2_bar, most.he_bar).max(limit(most.n2_bar, least.he_bar));
    least.total_bar() > limit + WITHIN_BAR + SURELY_BAR
}

pub(super) fn limit_bar(
    loading: &Loading,
    compartment: &Compartment,
    ambient: Pressure,
    factor: f64,
) -> f64 {
    let (nitrogen, helium) = (&compartment.nitrogen, &compartment.helium);
    let total = loading.total_bar();
    let (a, b) = if loading.he_bar > 0.0 && total > 0.0 {
        let weighted = |n2: f64, he: f64| (n2 * loading.n2_bar + he * loading.he_bar) / total;
        (
            weighted(nitrogen.a_bar, helium.a_bar),
            weighted(nitrogen.b, helium.b),
        )
    } else {
        (nitrogen.a_bar, nitrogen.b)
    };
    let p = ambient.as_bar();
    p + factor * (a + p / b - p)
}

#[cfg(test)]
mod tests {
    use super::{Loading, SURELY_BAR, Tissues, WITHIN_BAR, is_over_between, limit_bar};
    use crate::quantity::{Pressure, Time};
    use crate::site::Mix;
    use crate::tissue::CompartmentSet;

    #[test]
    fn who_stays_for_ever_holds_what_is_breathed() {
        let (set, ambient) = (CompartmentSet::default(), Pressure::from_bar(3.0));
        for gas in ["air", "EAN32", "18/45", "21/79"] {
            let mix: Option<Mix> = gas.parse().ok();
            let mix = mix.unwrap_or(Mix::OXYGEN);
            let weeks = Time::from_min(100_000.0);
            let stayed = Tissues::clean(ambient).after(&set, mix, ambient, ambient, weeks);
            let balance = Tissues::in_balance(mix, ambient);
            for (one, other) in stayed.loadings().iter().zip(balance.loadings()) {
                assert!((one.n2_bar - other.n2_bar).abs() < 1e-12, "{gas}");
                assert!((one.he_bar - other.he_bar).abs() < 1e-12, "{gas}");
            }
        }
    }

    /// Who holds as much as the surroundings has a gradient of nothing, everywhere.
    #[test]
    fn of_compartments_with_the_same_gradient_the_fastest_leads() {
        let ambient = Pressure::from_bar(1.0);
        let held = Loading {
            n2_bar: ambient.as_bar(),
            he_bar: 0.0,
        };
        let gradient =
            Tissues::from_loadings([held; 16]).gradient(&CompartmentSet::default(), ambient);
        assert_eq!((gradient.index, gradient.fraction.abs()), (0, 0.0));
    }

    #[test]
    fn a_compartment_bars_surely_only_where_no_rounding_could_let_it_go() {
        let (set, ambient, factor) = (CompartmentSet::default(), Pressure::from_bar(1.3), 0.6);
        let compartment = &set.compartments()[4];
        let of = |n2_bar| Loading {
            n2_bar,
            he_bar: 0.0,
        };
        let limit = limit_bar(&of(1.0), compartment, ambient, factor);
        let bars = |n2_bar| is_over_between(of(n2_bar), of(n2_bar), compartment, ambient, factor);
        assert!(!bars(limit) && !bars(limit + 0.5 * WITHIN_BAR) && !bars(limit + WITHIN_BAR));
        assert!(!bars(limit + WITHIN_BAR + 0.5 * SURELY_BAR));
        assert!(!bars(limit + WITHIN_BAR + SURELY_BAR));
        assert!(bars(limit + WITHIN_BAR + 2.0 * SURELY_BAR) && bars(limit + 0.1));
    }
}
