//! ZH-L16C as the referee has it: its own copy, so that a slip in either table shows.

use super::objection::{Judged, Question, same};
use crate::rules::DiveRules;

/// A figure of each compartment.
pub(super) type Row = [f64; 16];
/// Half-time (min), a (bar) and b of nitrogen, then of helium.
type Line = [f64; 6];

/// The first compartment of 4 minutes.
const FOUR_MINUTES: Line = [4.0, 1.2599, 0.5050, 1.51, 1.7424, 0.4245];

/// Source: Bühlmann, Völlm, Nussberger, Tauchmedizin (5th ed. 2002), set C; parts of it from memory.
const LINES: [Line; 16] = [
    [5.0, 1.1696, 0.5578, 1.88, 1.6189, 0.4770],
    [8.0, 1.0000, 0.6514, 3.02, 1.3830, 0.5747],
    [12.5, 0.8618, 0.7222, 4.72, 1.1919, 0.6527],
    [18.5, 0.7562, 0.7825, 6.99, 1.0458, 0.7223],
    [27.0, 0.6200, 0.8126, 10.21, 0.9220, 0.7582],
    [38.3, 0.5043, 0.8434, 14.48, 0.8205, 0.7957],
    [54.3, 0.4410, 0.8693, 20.53, 0.7305, 0.8279],
    [77.0, 0.4000, 0.8910, 29.11, 0.6502, 0.8553],
    [109.0, 0.3750, 0.9092, 41.20, 0.5950, 0.8757],
    [146.0, 0.3500, 0.9222, 55.19, 0.5545, 0.8903],
    [187.0, 0.3295, 0.9319, 70.69, 0.5333, 0.8997],
    [239.0, 0.3065, 0.9403, 90.34, 0.5189, 0.9073],
    [305.0, 0.2835, 0.9477, 115.29, 0.5181, 0.9122],
    [390.0, 0.2610, 0.9544, 147.42, 0.5176, 0.9171],
    [498.0, 0.2480, 0.9602, 188.24, 0.5172, 0.9217],
    [635.0, 0.2327, 0.9653, 240.03, 0.5119, 0.9267],
];

/// One inert gas in the sixteen compartments.
#[derive(Clone, Debug)]
pub(super) struct Inert {
    /// ln 2 / half-time, per minute.
    pub(super) k: Row,
    /// a, bar.
    pub(super) a: Row,
    /// b.
    pub(super) b: Row,
}

/// The two inert gases.
#[derive(Clone, Debug)]
pub(super) struct Table {
    pub(super) nitrogen: Inert,
    pub(super) helium: Inert,
}

impl Table {
    /// With the first compartment that the rules ask for.
    pub(super) fn of(rules: &DiveRules) -> Self {
        let mut lines = LINES;
        let first = rules.compartments.compartments()[0].nitrogen.half_time;
        if first.as_min() < 4.5 {
            lines[0] = FOUR_MINUTES;
        }
        let column = |index: usize| lines.map(|line| line[index]);
        let inert = |first: usize| Inert {
            k: column(first).map(|half_time| std::f64::consts::LN_2 / half_time),
            a: column(first + 1),
            b: column(first + 2),
        };
        Self {
            nitrogen: inert(0),
            helium: inert(3),
        }
    }

    /// The coefficients that the first engine goes by are these.
    pub(super) fn judge(&self, rules: &DiveRules) -> Judged {
        let compartments = rules.compartments.compartments().iter().enumerate();
        for (index, said) in compartments {
            for (gas, said, found) in [
                ("nitrogen", &said.nitrogen, &self.nitrogen),
                ("helium", &said.helium, &self.helium),
            ] {
                let k = std::f64::consts::LN_2 / said.half_time.as_min();
                let figures = [
                    ("k", k, found.k[index]),
                    ("a", said.a_bar, found.a[index]),
                    ("b", said.b, found.b[index]),
                ];
                for (what, said, found) in figures {
                    same(Question::Model, said, found, 1e-12, || {
                        format!("{what} of compartment {} for {gas}", index + 1)
                    })?;
                }
            }
        }
        Ok(())
    }
}
