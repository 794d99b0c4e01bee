//! Gas exchange prepared for the times that come again and again on the ways up of one dive.

use super::segment::Moment;
use crate::quantity::{Depth, Time};
use crate::rules::DiveRules;
use crate::tissue::{Exchange, Leg, Tissues, WholeMinutes};

/// Times are told apart by this part of a minute: 2⁻⁴¹, under a tenth of a nanosecond. Over so
/// little no pressure changes by more than rounding does.
const TICKS_PER_MIN: f64 = 2_199_023_255_552.0;

/// To the first level and to the next, the first part of a minute at a few stops, a switch.
const EXPECTED_TIMES: usize = 8;
/// With so many the search takes longer than the exponentials.
const MOST_TIMES: usize = 128;

/// The gas exchange of the times met so far, for ways up by one set of rules.
pub(crate) struct Prepared<'a> {
    helium: bool,
    rules: &'a DiveRules,
    times: Vec<u64>,
    exchanges: Vec<Exchange>,
    minutes: WholeMinutes<'a>,
}

impl<'a> Prepared<'a> {
    /// For tissues as these, or later ones of the same dive.
    pub(crate) fn new(rules: &'a DiveRules, tissues: &Tissues) -> Self {
        let mut gases = rules.decompression.iter().chain([&rules.bottom_gas]);
        Self {
            helium: gases.any(|gas| !tissues.know_nitrogen_alone(*gas)),
            rules,
            times: Vec::with_capacity(EXPECTED_TIMES),
            exchanges: Vec::with_capacity(EXPECTED_TIMES),
            minutes: WholeMinutes::new(&rules.compartments),
        }
    }

    /// By which rules.
    pub(crate) const fn rules(&self) -> &'a DiveRules {
        self.rules
    }

    /// Forgets the times where there are many; before a way up.
    pub(super) fn tidy(&mut self) {
        if self.times.len() > MOST_TIMES {
            self.times.clear();
            self.exchanges.clear();
        }
    }

    /// Whether a straight ascent surfaces with every compartment within the high factor.
    pub(super) fn may_go_straight_up(&mut self, from: &Moment) -> bool {
        let environment = &self.rules.environment;
        let leg = Leg {
            mix: self.rules.bottom_gas,
            from: environment.ambient(from.depth),
            to: environment.surface(),
        };
        let up = self.over(self.rules.ascent.time_up(from.depth, Depth::SURFACE));
        self.get(up).after(&from.tissues, &leg).are_within(
            &self.rules.compartments,
            leg.to,
            self.rules.factors.high(),
        )
    }

    /// The gas exchange over a time.
    pub(super) fn over(&mut self, time: Time) -> Known {
        // The time to a tick, so that what is worked out does not depend on what came before.
        let minutes = (time.as_min() * TICKS_PER_MIN).round() / TICKS_PER_MIN;
        let key = minutes.to_bits();
        let known = self.times.iter().position(|known| *known == key);
        Known(known.unwrap_or_else(|| {
            let time = Time::from_min(minutes);
            let exchange = Exchange::over(&self.rules.compartments, time, self.helium);
            self.times.push(key);
            self.exchanges.push(exchange);
            self.times.len() - 1
        }))
    }

    pub(super) fn get(&self, known: Known) -> &Exchange {
        &self.exchanges[known.0]
    }

    /// With it, holds of whole minutes.
    pub(super) fn with_minutes(&mut self, known: Known) -> (&Exchange, &mut WholeMinutes<'a>) {
        (&self.exchanges[known.0], &mut self.minutes)
    }
}

/// A time for which gas exchange has been worked out.
#[derive(Clone, Copy)]
pub(super) struct Known(usize);
