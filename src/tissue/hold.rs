//! Holding a depth for whole minutes: how long at least until a compartment lets go.

use super::coefficients::{COMPARTMENTS, CompartmentSet, GasRows, Row};
use super::exchange::{Affine, Exchange, Leg};
use super::exponential::left;
use super::tissues::{
    Loading, SURELY_BAR, Tissues, WATER_VAPOUR_BAR, WITHIN_BAR, is_over_between, limit_bar,
};
use crate::quantity::Pressure;
use crate::site::Mix;

/// Most stops are shorter than two hours.
const EXPECTED_POWERS: usize = 7;

/// What is kept of a difference over 1, 2, 4, 8, … whole minutes, worked out as far as somebody
/// asks.
///
/// ```text
/// exp(−k·2m) = exp(−k·m)²
/// ```
#[derive(Clone, Debug)]
pub(crate) struct WholeMinutes<'s> {
    set: &'s CompartmentSet,
    nitrogen: Vec<Row>,
    helium: Vec<Row>,
}

/// A climb that is tried after a hold.
pub(crate) struct Climb<'a> {
    /// The climb.
    pub(crate) leg: Leg,
    /// The gas exchange on it.
    pub(crate) exchange: &'a Exchange,
    /// Gradient factor where it goes to, a fraction.
    pub(crate) factor: f64,
}

impl<'s> WholeMinutes<'s> {
    pub(crate) const fn new(set: &'s CompartmentSet) -> Self {
        Self {
            set,
            nitrogen: Vec::new(),
            helium: Vec::new(),
        }
    }

    /// Holds the tissues for so many whole minutes.
    pub(crate) fn stay(
        &mut self,
        tissues: &mut Tissues,
        mix: Mix,
        ambient: Pressure,
        minutes: u32,
    ) {
        let helium = !tissues.know_nitrogen_alone(mix);
        let breathed = ambient.as_bar() - WATER_VAPOUR_BAR;
        let (nitrogen, of_helium) = (breathed * mix.nitrogen(), breathed * mix.helium());
        let mut rest = minutes;
        while rest > 0 {
            let power = rest.trailing_zeros() as usize;
            rest &= rest - 1;
            keep(&mut tissues.nitrogen, nitrogen, self.nitrogen(power));
            if helium {
                keep(&mut tissues.helium, of_helium, self.helium(power));
            }
        }
    }

    /// For how many further whole minutes of hold one compartment surely bars the climb, given
    /// that it does now; at most so many.
    ///
    /// At constant depth each gas of a compartment goes one way, so between two moments its
    /// pressure on arrival lies between those of the two. Where the compartment is over its limit
    /// with whatever lies there, see [`is_over_between`], it bars at every moment between.
    pub(crate) fn surely_barred(
        &mut self,
        tissues: &Tissues,
        index: usize,
        climb: &Climb<'_>,
        most: u32,
    ) -> u32 {
        let Climb {
            leg,
            exchange,
            factor,
        } = climb;
        let compartment = &self.set.compartments()[index];
        let breathed = leg.from.as_bar() - WATER_VAPOUR_BAR;
        let held = |held: f64, fraction: f64, climb: Affine| Held {
            now: held,
            breathed: breathed * fraction,
            climb,
        };
        let loading = tissues.loading(index);
        let nitrogen = held(
            loading.n2_bar,
            leg.mix.nitrogen(),
            exchange.nitrogen(index, leg),
        );
        let helium = (!tissues.know_nitrogen_alone(leg.mix)).then(|| {
            held(
                loading.he_bar,
                leg.mix.helium(),
                exchange.helium(index, leg),
            )
        });
        let nitrogen_alone = Loading {
            he_bar: 0.0,
            ..loading
        };
        let of_nitrogen = limit_bar(&nitrogen_alone, compartment, leg.to, *factor);
        let bars = |kept: (f64, f64)| {
            let (least, most) = nitrogen.between(kept.0);
            let Some(helium) = &helium else {
                return least > of_nitrogen + WITHIN_BAR + SURELY_BAR;
            };
            let (least_helium, most_helium) = helium.between(kept.1);
            let loading = |n2_bar, he_bar| Loading { n2_bar, he_bar };
            let (least, most) = (loading(least, least_helium), loading(most, most_helium));
            is_over_between(least, most, compartment, leg.to, *factor)
        };
        let mixed = helium.is_some();
        let mut kept = |power: usize| {
            let nitrogen = self.nitrogen(power)[index];
            let helium = if mixed {
                self.helium(power)[index]
            } else {
                1.0
            };
            (nitrogen, helium)
        };
        let times = |x: (f64, f64), y: (f64, f64)| (x.0 * y.0, x.1 * y.1);
        // Doubles as long as it bars, then halves back.
        let mut power = 0;
        while 1 << power <= most && bars(kept(power)) {
            power += 1;
        }
        let (mut sure, mut so_far) = match power {
            0 => return 0,
            power => (1_u32 << (power - 1), kept(power - 1)),
        };
        for power in (0..power - 1).rev() {
            let further = times(so_far, kept(power));
            if sure + (1 << power) <= most && bars(further) {
                sure += 1 << power;
                so_far = further;
            }
        }
        sure
    }

    fn nitrogen(&mut self, power: usize) -> &Row {
        row(&mut self.nitrogen, &self.set.nitrogen, power)
    }

    fn helium(&mut self, power: usize) -> &Row {
        row(&mut self.helium, &self.set.helium, power)
    }
}

/// Of each difference to what is breathed so much is kept.
fn keep(held: &mut Row, breathed: f64, kept: &Row) {
    for (held, kept) in held.iter_mut().zip(kept) {
        *held = breathed + (*held - breathed) * kept;
    }
}

/// What is kept over 2^power minutes.
fn row<'r>(rows: &'r mut Vec<Row>, gas: &GasRows, power: usize) -> &'r Row {
    if rows.is_empty() {
        rows.reserve(EXPECTED_POWERS);
        rows.push(left(&gas.rate));
    }
    while rows.len() <= power {
        let last = rows.last().copied().unwrap_or([0.0; COMPARTMENTS]);
        rows.push(last.map(|kept| kept * kept));
    }
    &rows[power]
}

/// One gas of a compartment during a hold.
struct Held {
    now: f64,
    breathed: f64,
    climb: Affine,
}

impl Held {
    /// The least and the most that there may be after the climb, begun at any moment until so much
    /// of the difference to what is breathed is kept.
    fn between(&self, kept: f64) -> (f64, f64) {
        let then = self.breathed + (self.now - self.breathed) * kept;
        let (now, then) = (self.climb.at(self.now), self.climb.at(then));
        (now.min(then), now.max(then))
    }
}

#[cfg(test)]
mod tests {
    use super::{Climb, WholeMinutes};
    use crate::quantity::{Pressure, Time};
    use crate::site::Mix;
    use crate::tissue::{CompartmentSet, Exchange, Leg, Tissues};

    /// With one inert gas the minutes that surely bar are all that do: those of a hold at 6 m before a
    /// climb to 3 m, after an hour at 40 m on air, flown one by one.
    #[test]
    fn on_air_every_minute_that_bars_is_left_out_and_no_other() {
        const MOST: u32 = 2_000;
        let (set, air) = (CompartmentSet::default(), Mix::AIR);
        let at = |metres: f64| Pressure::from_bar(1.0 + 0.1 * metres);
        let deep =
            Tissues::clean(at(0.0)).after(&set, air, at(40.0), at(40.0), Time::from_min(60.0));
        let (leg, time, factor) = (
            Leg {
                mix: air,
                from: at(6.0),
                to: at(3.0),
            },
            Time::from_min(1.0 / 3.0),
            0.6,
        );
        let exchange = Exchange::over(&set, time, false);
        let climb = Climb {
            leg,
            exchange: &exchange,
            factor,
        };
        let mut longest = 0;
        for index in 0..16 {
            let bars = |minutes: u32| {
                let held = deep.after(
                    &set,
                    air,
                    leg.from,
                    leg.from,
                    Time::from_min(f64::from(minutes)),
                );
                let there = held.after(&set, air, leg.from, leg.to, time);
                there.loading(index).total_bar() > there.limit_bar(&set, index, leg.to, factor)
            };
            let barring = (0..=MOST).take_while(|minutes| bars(*minutes)).count();
            let Some(further) = barring.checked_sub(1) else {
                continue;
            };
            let mut minutes = WholeMinutes::new(&set);
            for most in [MOST, 100, 37, 8, 7, 1] {
                let sure = minutes.surely_barred(&deep, index, &climb, most);
                assert_eq!(
                    sure as usize,
                    further.min(most as usize),
                    "{index}, at most {most}"
                );
            }
            longest = longest.max(further);
        }
        assert!(longest > 64, "{longest}");
    }
}
