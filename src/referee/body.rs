//! The tissues of the referee: the differential equation of gas exchange, stepped numerically.

use super::table::{Inert, Row, Table};

/// Water vapour in the lungs, bar.
const VAPOUR_BAR: f64 = 0.0627;
/// What "within" leaves, bar.
const WITHIN_BAR: f64 = 1e-9;
/// No step is longer than this share of any compartment's time constant.
const LONGEST_SHARE: f64 = 0.25;

/// 1/11 to 1/3: each derivative of the series is that share of −z times the one before.
const TAIL: [f64; 9] = [
    1.0 / 11.0,
    1.0 / 10.0,
    1.0 / 9.0,
    1.0 / 8.0,
    1.0 / 7.0,
    1.0 / 6.0,
    1.0 / 5.0,
    1.0 / 4.0,
    1.0 / 3.0,
];

/// A gas by its fractions.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gas {
    pub(super) oxygen: f64,
    pub(super) nitrogen: f64,
    pub(super) helium: f64,
}

impl Gas {
    /// Whether two are the same gas.
    pub(super) fn is(self, other: Self) -> bool {
        (self.oxygen - other.oxygen).abs() < 1e-11 && (self.helium - other.helium).abs() < 1e-11
    }
}

/// Inert gas in the sixteen compartments, bar.
#[derive(Clone, Copy, Debug)]
pub(super) struct Body {
    pub(super) nitrogen: Row,
    pub(super) helium: Row,
}

/// Steps of equal length through a stretch of time.
#[derive(Clone, Debug)]
pub(super) struct Pace {
    steps: u32,
    nitrogen: Weights,
    helium: Option<Weights>,
}

/// What one step of a compartment needs: `z = k·h`, and the sum of the Taylor series behind its
/// second term.
#[derive(Clone, Debug)]
struct Weights {
    z: Row,
    tail: Row,
}

impl Weights {
    /// `p' = k·(pi − p)` with a `pi` that changes evenly: its derivatives after the second are each
    /// −k times the one before, so the Taylor series of a step is
    ///
    /// ```text
    /// d1 = z·(pi0 − p)    d2 = z/2·(r·h − d1)    p + d1 + d2·(1 − z/3 + z²/12 − z³/60 + …)
    /// ```
    /// cut off behind the eleventh derivative: for z ≤ 1/4 an error below 1e-14 of `d2`.
    fn of(inert: &Inert, step_min: f64) -> Self {
        let z = inert.k.map(|k| k * step_min);
        let mut tail = [1.0; 16];
        for share in TAIL {
            for (sum, z) in tail.iter_mut().zip(&z) {
                *sum = 1.0 - z * share * *sum;
            }
        }
        Self { z, tail }
    }

    fn step(&self, held: &mut Row, inspired: f64, rise: f64) {
        for (index, held) in held.iter_mut().enumerate() {
            let first = self.z[index] * (inspired - *held);
            let second = self.z[index] * 0.5 * (rise - first);
            *held += first + second * self.tail[index];
        }
    }
}

/// A stretch of the dive at one depth, or between two at an even rate.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    pub(super) from_bar: f64,
    pub(super) to_bar: f64,
    pub(super) gas: Gas,
}

impl Table {
    /// Steps through so many minutes, none longer than a quarter of a time constant.
    pub(super) fn pace(&self, minutes: f64, helium: bool) -> Pace {
        // The first compartment is the fastest of each gas.
        let fastest = if helium {
            self.helium.k[0]
        } else {
            self.nitrogen.k[0]
        };
        let steps = whole(minutes * fastest / LONGEST_SHARE).max(1);
        let step_min = minutes / f64::from(steps);
        Pace {
            steps,
            nitrogen: Weights::of(&self.nitrogen, step_min),
            helium: helium.then(|| Weights::of(&self.helium, step_min)),
        }
    }

    /// By how much the compartment that is most over the limit of a factor is over it, bar; less
    /// than nothing where all are within.
    pub(super) fn over(&self, body: &Body, ambient_bar: f64, factor: f64) -> f64 {
        let (n2, he) = (&self.nitrogen, &self.helium);
        let mut most = f64::NEG_INFINITY;
        for index in 0..16 {
            let (of_n2, of_he) = (body.nitrogen[index], body.helium[index]);
            let total = of_n2 + of_he;
            let (a, b) = if of_he > 0.0 {
                (
                    (n2.a[index] * of_n2 + he.a[index] * of_he) / total,
                    (n2.b[index] * of_n2 + he.b[index] * of_he) / total,
                )
            } else {
                (n2.a[index], n2.b[index])
            };
            let limit = ambient_bar + factor * (a + ambient_bar / b - ambient_bar);
            most = most.max(total - limit);
        }
        most - WITHIN_BAR
    }

    /// The greatest gradient in use, and the compartment in which it is, from 0.
    pub(super) fn gradient(&self, body: &Body, ambient_bar: f64) -> (f64, usize) {
        let mut greatest = (f64::NEG_INFINITY, 0);
        for index in 0..16 {
            let (of_n2, of_he) = (body.nitrogen[index], body.helium[index]);
            let total = of_n2 + of_he;
            let (mut a, mut b) = (self.nitrogen.a[index], self.nitrogen.b[index]);
            if of_he > 0.0 {
                a = (a * of_n2 + self.helium.a[index] * of_he) / total;
                b = (b * of_n2 + self.helium.b[index] * of_he) / total;
            }
            let gradient = (total - ambient_bar) / (a + ambient_bar / b - ambient_bar);
            if gradient > greatest.0 {
                greatest = (gradient, index);
            }
        }
        greatest
    }
}

impl Body {
    /// Whether helium is in play where this is breathed.
    pub(super) fn meets_helium(&self, gas: Gas) -> bool {
        gas.helium > 0.0 || self.helium.iter().any(|held| *held > 0.0)
    }

    /// Goes through a stretch; `at` sees the tissues and the ambient pressure behind every step.
    pub(super) fn go(&mut self, pace: &Pace, stretch: &Stretch, mut at: impl FnMut(&Self, f64)) {
        let steps = f64::from(pace.steps);
        let rise = (stretch.to_bar - stretch.from_bar) / steps;
        let mut done = 0.0;
        for _ in 0..pace.steps {
            let ambient = stretch.from_bar + rise * done;
            let breathed = ambient - VAPOUR_BAR;
            let gas = stretch.gas;
            pace.nitrogen.step(
                &mut self.nitrogen,
                breathed * gas.nitrogen,
                rise * gas.nitrogen,
            );
            if let Some(helium) = &pace.helium {
                helium.step(&mut self.helium, breathed * gas.helium, rise * gas.helium);
            }
            done += 1.0;
            at(self, stretch.from_bar + rise * done);
        }
    }

    /// The greatest difference of any gas in any compartment from other tissues, bar.
    pub(super) fn apart(&self, nitrogen: &Row, helium: &Row) -> f64 {
        let apart = |one: &Row, other: &Row| {
            let pairs = one.iter().zip(other);
            pairs.fold(0.0, |most: f64, (one, other)| {
                let apart = (one - other).abs();
                // What is not a number is as far apart as can be.
                if apart.is_nan() {
                    f64::INFINITY
                } else {
                    most.max(apart)
                }
            })
        };
        apart(&self.nitrogen, nitrogen).max(apart(&self.helium, helium))
    }
}

/// The least whole number that is not less.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a few thousand steps at most; what is no such number saturates"
)]
fn whole(number: f64) -> u32 {
    number.ceil() as u32
}
