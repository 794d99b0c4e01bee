//! Gas exchange prepared for the times that come again and again on one way up.

use super::flight::Flight;
use crate::quantity::Time;
use crate::rules::DiveRules;
use crate::tissue::Exchange;

/// Times are told apart by this part of a minute: 2⁻⁴¹, under a tenth of a nanosecond. Over so
/// little no pressure changes by more than rounding does.
const TICKS_PER_MIN: f64 = 2_199_023_255_552.0;

/// To the first level and to the next, the first part of a minute at a few stops, a switch.
const EXPECTED_TIMES: usize = 8;

/// The gas exchange of the times met so far.
pub(super) struct Prepared<'a> {
    rules: &'a DiveRules,
    helium: bool,
    known: Vec<(u64, Exchange)>,
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

    /// The gas exchange over a time.
    pub(super) fn over(&mut self, time: Time) -> Known {
        // The time to a tick, so that what is worked out does not depend on what came before.
        let minutes = (time.as_min() * TICKS_PER_MIN).round() / TICKS_PER_MIN;
        let key = minutes.to_bits();
        let known = self.known.iter().position(|(known, _)| *known == key);
        Known(known.unwrap_or_else(|| {
            let time = Time::from_min(minutes);
            let exchange = Exchange::over(&self.rules.compartments, time, self.helium);
            self.known.push((key, exchange));
            self.known.len() - 1
        }))
    }

    pub(super) fn get(&self, known: Known) -> &Exchange {
        &self.known[known.0].1
    }
}

/// A time for which gas exchange has been worked out.
#[derive(Clone, Copy)]
pub(super) struct Known(usize);
