//! Gas exchange prepared for the times that come again and again on one way up.

use super::flight::Flight;
use crate::quantity::{Pressure, Time};
use crate::rules::DiveRules;
use crate::site::Mix;
use crate::tissue::{Exchange, Step};

/// Times are told apart by this part of a minute: 2⁻⁴¹, a tenth of a nanosecond. Over so little
/// no pressure changes by more than rounding does.
const TICKS_PER_MIN: f64 = 2_199_023_255_552.0;

/// To the first level and to the next, the first part of a minute at a few stops, a switch.
const EXPECTED_TIMES: usize = 8;

/// The gas exchange of the times met so far.
pub(super) struct Prepared<'a> {
    rules: &'a DiveRules,
    helium: bool,
    known: Vec<(f64, Exchange)>,
}

impl<'a> Prepared<'a> {
    /// For the way up of a flight.
    pub(super) fn new(rules: &'a DiveRules, flight: &Flight<'a>) -> Self {
        let mut gases = rules.decompression.iter().chain([&flight.gas]);
        let tissues = &flight.now.tissues;
        Self {
            rules,
            helium: gases.any(|gas| !tissues.know_nitrogen_alone(*gas)),
            known: Vec::with_capacity(EXPECTED_TIMES),
        }
    }

    /// The step of a segment of the way up.
    pub(super) fn step(&mut self, mix: Mix, from: Pressure, to: Pressure, time: Time) -> Step {
        // The time to a tick, so that what is worked out does not depend on what came before.
        let ticks = (time.as_min() * TICKS_PER_MIN).round();
        let known = self.known.iter().position(|(known, _)| *known == ticks);
        let index = known.unwrap_or_else(|| {
            let time = Time::from_min(ticks / TICKS_PER_MIN);
            let exchange = Exchange::over(&self.rules.compartments, time, self.helium);
            self.known.push((ticks, exchange));
            self.known.len() - 1
        });
        self.known[index].1.step(mix, from, to)
    }
}
