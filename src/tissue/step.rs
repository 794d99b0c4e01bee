//! Gas exchange prepared for many tissues: what depends on the time alone, and what depends on the
//! segment alone.

use super::coefficients::{COMPARTMENTS, CompartmentSet, GasRows, Row};
use super::tissues::{Tissues, WATER_VAPOUR_BAR, WITHIN_BAR};
use crate::quantity::{Pressure, Time};
use crate::site::Mix;

/// Below this share of a half-time (times ln 2) the series below is exact to the last digit.
const SERIES_UP_TO: f64 = 0.1;
/// `1/2! − x/3! + x²/4! − …`, up to `x⁹/11!`.
const SERIES: [f64; 10] = [
    1.0 / 2.0,
    -1.0 / 6.0,
    1.0 / 24.0,
    -1.0 / 120.0,
    1.0 / 720.0,
    -1.0 / 5_040.0,
    1.0 / 40_320.0,
    -1.0 / 362_880.0,
    1.0 / 3_628_800.0,
    -1.0 / 39_916_800.0,
];

/// Gas exchange over a time, whatever is breathed where.
///
/// ```text
/// p(t) = p0 + (pi0 − p0)·E + r·τ      E = 1 − exp(−k·t)      τ = t − E/k
/// ```
/// As [`super::exchange`] has it; the same to some 1e-15 bar.
#[derive(Clone, Debug)]
pub(crate) struct Exchange {
    minutes: f64,
    nitrogen: GasExchange,
    /// Where helium is in play.
    helium: Option<GasExchange>,
}

#[derive(Clone, Debug)]
struct GasExchange {
    /// `E`.
    taken: Row,
    /// `τ`, min.
    ramp: Row,
}

impl GasExchange {
    #[inline]
    fn over(gas: &GasRows, minutes: f64) -> Self {
        let (mut taken, mut ramp) = ([0.0; COMPARTMENTS], [0.0; COMPARTMENTS]);
        for index in 0..COMPARTMENTS {
            let x = gas.rate[index] * minutes;
            // τ/t: for small x the difference would lose digits, which 1/k then makes large.
            let share = if x < SERIES_UP_TO {
                let series = SERIES.iter().rev();
                let share = series.fold(0.0, |sum, coefficient| sum * x + coefficient) * x;
                taken[index] = x - x * share;
                share
            } else {
                taken[index] = 1.0 - (-x).exp();
                1.0 - taken[index] / x
            };
            ramp[index] = minutes * share;
        }
        Self { taken, ramp }
    }

    /// `p ↦ p + (pi0 − p)·E + r·τ` for an inspired pressure and its rate.
    #[inline]
    fn affine(&self, inspired: f64, rate: f64) -> Affine {
        let gained = |index: usize| inspired * self.taken[index] + rate * self.ramp[index];
        Affine {
            kept: self.taken.map(|taken| 1.0 - taken),
            gained: std::array::from_fn(gained),
        }
    }
}

impl Exchange {
    /// Over so long; helium is left out where none is in play.
    #[inline]
    pub(crate) fn over(set: &CompartmentSet, time: Time, helium: bool) -> Self {
        let minutes = time.as_min();
        Self {
            minutes,
            nitrogen: GasExchange::over(&set.nitrogen, minutes),
            helium: helium.then(|| GasExchange::over(&set.helium, minutes)),
        }
    }

    /// How fast ambient pressure changes, bar/min; nothing changes in no time.
    fn rate(&self, from: Pressure, to: Pressure) -> f64 {
        if self.minutes > 0.0 {
            (to.as_bar() - from.as_bar()) / self.minutes
        } else {
            0.0
        }
    }

    /// The step of a segment that lasts so long.
    #[inline]
    pub(crate) fn step(&self, mix: Mix, from: Pressure, to: Pressure) -> Step {
        let rate = self.rate(from, to);
        let breathed = from.as_bar() - WATER_VAPOUR_BAR;
        let affine = |exchange: &GasExchange, fraction: f64| {
            exchange.affine(breathed * fraction, rate * fraction)
        };
        Step {
            nitrogen: affine(&self.nitrogen, mix.nitrogen()),
            helium: self
                .helium
                .as_ref()
                .map(|helium| affine(helium, mix.helium())),
        }
    }

    /// The tissues after a segment that lasts so long.
    #[inline]
    pub(super) fn after(
        &self,
        tissues: &Tissues,
        mix: Mix,
        from: Pressure,
        to: Pressure,
    ) -> Tissues {
        let rate = self.rate(from, to);
        let breathed = from.as_bar() - WATER_VAPOUR_BAR;
        let mut next = *tissues;
        let exchange = |held: &mut Row, exchange: &GasExchange, fraction: f64| {
            let (inspired, slope) = (breathed * fraction, rate * fraction);
            let rows = exchange.taken.iter().zip(&exchange.ramp);
            for (held, (taken, ramp)) in held.iter_mut().zip(rows) {
                *held += (inspired - *held) * taken + slope * ramp;
            }
        };
        exchange(&mut next.nitrogen, &self.nitrogen, mix.nitrogen());
        if let Some(helium) = &self.helium {
            exchange(&mut next.helium, helium, mix.helium());
        }
        next
    }
}

/// Gas exchange over one segment, ready to be applied to many tissues: the pressure at its end is
/// affine in the pressure at its start, `p ↦ α·p + C`.
#[derive(Clone, Debug)]
pub(crate) struct Step {
    pub(super) nitrogen: Affine,
    pub(super) helium: Option<Affine>,
}

#[derive(Clone, Debug)]
pub(super) struct Affine {
    /// `α`.
    pub(super) kept: Row,
    /// `C`, bar.
    pub(super) gained: Row,
}

impl Step {
    /// The tissues at the end.
    #[inline]
    pub(crate) fn apply(&self, tissues: &Tissues) -> Tissues {
        let mut next = *tissues;
        self.nitrogen.apply(&mut next.nitrogen);
        if let Some(helium) = &self.helium {
            helium.apply(&mut next.helium);
        }
        next
    }

    /// For how long a diver may hold a depth so that after this step, on nitrogen alone, every
    /// compartment is within a factor; `None` where it is for ever. For who is within now.
    ///
    /// ```text
    /// p* = (limit − C)/α
    /// t  = half-time/ln 2 · ln((pi − p)/(pi − p*))      over the compartments with pi > p*
    /// ```
    pub(crate) fn nitrogen_open_for(
        &self,
        set: &CompartmentSet,
        tissues: &Tissues,
        mix: Mix,
        ambient: Pressure,
        end: Pressure,
        factor: f64,
    ) -> Option<Time> {
        let inspired = (ambient.as_bar() - WATER_VAPOUR_BAR) * mix.nitrogen();
        let limits = tissues.limits_bar(set, end, factor);
        let Affine { kept, gained } = &self.nitrogen;
        let mut least = f64::INFINITY;
        for index in 0..COMPARTMENTS {
            let greatest = (limits[index] + WITHIN_BAR - gained[index]) / kept[index];
            if inspired > greatest {
                let ratio = (inspired - tissues.nitrogen[index]) / (inspired - greatest);
                least = least.min(ratio.ln() / set.nitrogen.rate[index]);
            }
        }
        least.is_finite().then(|| Time::from_min(least.max(0.0)))
    }
}

impl Affine {
    #[inline]
    fn apply(&self, held: &mut Row) {
        let rows = self.kept.iter().zip(&self.gained);
        for (held, (kept, gained)) in held.iter_mut().zip(rows) {
            *held = kept * *held + gained;
        }
    }
}
