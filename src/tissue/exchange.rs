//! Gas exchange prepared for many tissues: what depends on the time alone, and what depends on the
//! segment alone.

use super::coefficients::{COMPARTMENTS, CompartmentSet, GasRows, Row, times};
use super::exponential::{fallen, left};
use super::tissues::{Tissues, WATER_VAPOUR_BAR, WITHIN_BAR};
use crate::quantity::{Pressure, Time};
use crate::site::Mix;

/// Gas exchange of one gas in one compartment over a segment in which ambient pressure changes
/// linearly.
///
/// ```text
/// p(t) = p0 + (pi0 − p0)·E + r·(t − E/k)      E = 1 − exp(−k·t)   k = ln 2 / half-time
/// pi0 = (P0 − 0.0627)·f      r = R·f
/// ```
/// `p`, `P`: bar; `R`: bar/min (negative on the way up); `t`, half-time: min; `f`: fraction of the
/// gas in the mix. The same as the usual form `pi0 + r·(t − 1/k) − (pi0 − p0 − r/k)·exp(−k·t)`,
/// written with `exp_m1` because that form cancels digits in slow compartments.
///
/// # Source
/// H. R. Schreiner, P. L. Kelley, *A pragmatic view of decompression* (1971).
#[must_use]
pub fn exchange(
    start_bar: f64,
    fraction: f64,
    half_time: Time,
    ambient_bar: f64,
    rate_bar_per_min: f64,
    time: Time,
) -> f64 {
    let k = std::f64::consts::LN_2 / half_time.as_min();
    let t = time.as_min();
    let taken = -(-k * t).exp_m1();
    let inspired = (ambient_bar - WATER_VAPOUR_BAR) * fraction;
    start_bar + (inspired - start_bar) * taken + rate_bar_per_min * fraction * (t - taken / k)
}

impl Tissues {
    /// The tissues after breathing a mix while ambient pressure goes linearly from one value to
    /// another. See [`exchange`] for the equation.
    #[must_use]
    pub fn after(
        &self,
        set: &CompartmentSet,
        mix: Mix,
        from: Pressure,
        to: Pressure,
        time: Time,
    ) -> Self {
        if time.as_min() <= 0.0 {
            return *self;
        }
        after(set, self, &Leg { mix, from, to }, time)
    }
}

/// Gas exchange over a time, whatever is breathed where.
///
/// ```text
/// p(t) = p0 + (pi0 − p0)·E + r·τ      E = 1 − exp(−k·t)      τ = t − E/k
/// ```
/// As [`exchange`] has it; the same to some 1e-15 bar.
#[derive(Clone, Debug)]
pub(crate) struct Exchange {
    minutes: f64,
    nitrogen: GasExchange,
    /// Where helium is in play.
    helium: Option<Box<GasExchange>>,
}

/// What is breathed from which ambient pressure to which.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Leg {
    pub(crate) mix: Mix,
    pub(crate) from: Pressure,
    pub(crate) to: Pressure,
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
        let taken = fallen(&times(&gas.rate, minutes));
        let mut ramp = [0.0; COMPARTMENTS];
        for (ramp, (taken, life)) in ramp.iter_mut().zip(taken.iter().zip(&gas.life)) {
            *ramp = minutes - taken * life;
        }
        Self { taken, ramp }
    }

    /// `p ↦ p + (pi0 − p)·E + r·τ` for an inspired pressure and its rate.
    #[inline]
    fn apply(&self, held: &mut Row, inspired: f64, rate: f64) {
        let exchanged = self.taken.iter().zip(&self.ramp);
        for (held, (taken, ramp)) in held.iter_mut().zip(exchanged) {
            *held = *held + (inspired - *held) * taken + rate * ramp;
        }
    }

    /// As [`GasExchange::apply`], from one row to another.
    #[inline]
    fn apply_to(&self, held: &Row, inspired: f64, rate: f64, then: &mut Row) {
        let exchanged = self.taken.iter().zip(&self.ramp);
        for (then, (held, (taken, ramp))) in then.iter_mut().zip(held.iter().zip(exchanged)) {
            *then = held + (inspired - held) * taken + rate * ramp;
        }
    }
}

/// The tissues after a leg that lasts so long.
fn after(set: &CompartmentSet, tissues: &Tissues, leg: &Leg, time: Time) -> Tissues {
    let minutes = time.as_min();
    let rate = (leg.to.as_bar() - leg.from.as_bar()) / minutes;
    let breathed = leg.from.as_bar() - WATER_VAPOUR_BAR;
    let mut next = *tissues;
    let exchange = |held: &mut Row, gas: &GasRows, fraction: f64| {
        let inspired = breathed * fraction;
        if leg.from == leg.to {
            hold(held, gas, inspired, minutes);
        } else {
            GasExchange::over(gas, minutes).apply(held, inspired, rate * fraction);
        }
    };
    exchange(&mut next.nitrogen, &set.nitrogen, leg.mix.nitrogen());
    if !tissues.know_nitrogen_alone(leg.mix) {
        exchange(&mut next.helium, &set.helium, leg.mix.helium());
    }
    next
}

/// At one depth: `p ↦ pi + (p − pi)·exp(−k·t)`.
fn hold(held: &mut Row, gas: &GasRows, inspired: f64, minutes: f64) {
    let kept = left(&times(&gas.rate, minutes));
    for (held, kept) in held.iter_mut().zip(kept) {
        *held = inspired + (*held - inspired) * kept;
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
            helium: helium.then(|| Box::new(GasExchange::over(&set.helium, minutes))),
        }
    }

    /// How fast ambient pressure changes, bar/min; nothing changes in no time.
    fn rate(&self, leg: &Leg) -> f64 {
        if self.minutes > 0.0 {
            (leg.to.as_bar() - leg.from.as_bar()) / self.minutes
        } else {
            0.0
        }
    }

    /// The tissues after a leg that lasts so long.
    #[inline]
    pub(crate) fn after(&self, tissues: &Tissues, leg: &Leg) -> Tissues {
        let mut next = *tissues;
        self.after_into(tissues, leg, &mut next);
        next
    }

    /// As [`Exchange::after`], into tissues that are there; where no helium is in play theirs stays.
    #[inline]
    pub(crate) fn after_into(&self, tissues: &Tissues, leg: &Leg, next: &mut Tissues) {
        let rate = self.rate(leg);
        let breathed = leg.from.as_bar() - WATER_VAPOUR_BAR;
        let (held, then) = (&tissues.nitrogen, &mut next.nitrogen);
        let fraction = leg.mix.nitrogen();
        self.nitrogen
            .apply_to(held, breathed * fraction, rate * fraction, then);
        if let Some(helium) = &self.helium {
            let (held, then) = (&tissues.helium, &mut next.helium);
            let fraction = leg.mix.helium();
            helium.apply_to(held, breathed * fraction, rate * fraction, then);
        }
    }

    /// Nitrogen in one compartment after a leg, by that before it.
    pub(super) fn nitrogen(&self, index: usize, leg: &Leg) -> Affine {
        self.affine(&self.nitrogen, index, leg, leg.mix.nitrogen())
    }

    /// Helium in one compartment after a leg, by that before it.
    pub(super) fn helium(&self, index: usize, leg: &Leg) -> Affine {
        match &self.helium {
            Some(helium) => self.affine(helium, index, leg, leg.mix.helium()),
            None => Affine {
                kept: 1.0,
                gained: 0.0,
            },
        }
    }

    fn affine(&self, gas: &GasExchange, index: usize, leg: &Leg, fraction: f64) -> Affine {
        let breathed = leg.from.as_bar() - WATER_VAPOUR_BAR;
        let (taken, ramp) = (gas.taken[index], gas.ramp[index]);
        Affine {
            kept: 1.0 - taken,
            gained: fraction * (breathed * taken + self.rate(leg) * ramp),
        }
    }

    /// For how long a diver on nitrogen alone may hold the depth from which a leg to `leg.to`
    /// lasts so long, so that after it every compartment is within a factor; `None` where it is
    /// for ever. For who is within now.
    ///
    /// ```text
    /// p* = (limit − C)/α
    /// t  = half-time/ln 2 · ln((pi − p)/(pi − p*))      over the compartments with pi > p*
    /// ```
    pub(crate) fn nitrogen_open_for(
        &self,
        set: &CompartmentSet,
        tissues: &Tissues,
        leg: &Leg,
        factor: f64,
    ) -> Option<Time> {
        let inspired = (leg.from.as_bar() - WATER_VAPOUR_BAR) * leg.mix.nitrogen();
        let limits = tissues.limits_bar(set, leg.to, factor);
        let mut least = f64::INFINITY;
        for (index, limit) in limits.iter().enumerate() {
            let Affine { kept, gained } = self.nitrogen(index, leg);
            let over = inspired - (limit + WITHIN_BAR - gained) / kept;
            if over <= 0.0 {
                continue;
            }
            let (ratio, rate) = (
                (inspired - tissues.nitrogen[index]) / over,
                set.nitrogen.rate[index],
            );
            // ln x ≥ 1 − 1/x: most compartments are told to be later without a logarithm.
            if 1.0 - 1.0 / ratio < least * rate {
                least = least.min(ratio.ln() / rate);
            }
        }
        least.is_finite().then(|| Time::from_min(least.max(0.0)))
    }
}

/// Pressure at the end of a segment by the pressure at its start: `p ↦ α·p + C`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Affine {
    /// `α`.
    pub(super) kept: f64,
    /// `C`, bar.
    pub(super) gained: f64,
}

impl Affine {
    pub(super) fn at(self, bar: f64) -> f64 {
        self.kept * bar + self.gained
    }
}
