//! The coefficients of ZH-L16C.

use crate::quantity::Time;
use serde::Serialize;

/// Number of compartments.
pub const COMPARTMENTS: usize = 16;

/// Half-time and limit line of one inert gas in one compartment: `M(P) = a + P/b`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Coefficients {
    /// Half-time.
    pub half_time: Time,
    /// Intercept of the limit line, bar.
    pub a_bar: f64,
    /// Inverse slope of the limit line.
    pub b: f64,
}

/// One compartment: its two gases.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Compartment {
    /// Nitrogen.
    pub nitrogen: Coefficients,
    /// Helium.
    pub helium: Coefficients,
}

/// Which of the two fastest compartments stands first; never both.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FirstCompartment {
    /// The 5-minute one, "1b".
    #[default]
    FiveMinutes,
    /// The 4-minute one, "1".
    FourMinutes,
}

const fn compartment(nitrogen: [f64; 3], helium: [f64; 3]) -> Compartment {
    Compartment {
        nitrogen: coefficients(nitrogen),
        helium: coefficients(helium),
    }
}

const fn coefficients([half_time_min, a_bar, b]: [f64; 3]) -> Coefficients {
    Coefficients {
        half_time: Time::from_min(half_time_min),
        a_bar,
        b,
    }
}

/// The 4-minute compartment that may stand in for the first row below.
const FOUR_MINUTES: Compartment = compartment([4.0, 1.2599, 0.5050], [1.51, 1.7424, 0.4245]);

/// ZH-L16 set C: half-time in minutes, a in bar, b; nitrogen then helium; fastest first.
const ZH_L16C: [Compartment; COMPARTMENTS] = [
    compartment([5.0, 1.1696, 0.5578], [1.88, 1.6189, 0.4770]),
    compartment([8.0, 1.0000, 0.6514], [3.02, 1.3830, 0.5747]),
    compartment([12.5, 0.8618, 0.7222], [4.72, 1.1919, 0.6527]),
    compartment([18.5, 0.7562, 0.7825], [6.99, 1.0458, 0.7223]),
    compartment([27.0, 0.6200, 0.8126], [10.21, 0.9220, 0.7582]),
    compartment([38.3, 0.5043, 0.8434], [14.48, 0.8205, 0.7957]),
    compartment([54.3, 0.4410, 0.8693], [20.53, 0.7305, 0.8279]),
    compartment([77.0, 0.4000, 0.8910], [29.11, 0.6502, 0.8553]),
    compartment([109.0, 0.3750, 0.9092], [41.2, 0.5950, 0.8757]),
    compartment([146.0, 0.3500, 0.9222], [55.19, 0.5545, 0.8903]),
    compartment([187.0, 0.3295, 0.9319], [70.69, 0.5333, 0.8997]),
    compartment([239.0, 0.3065, 0.9403], [90.34, 0.5189, 0.9073]),
    compartment([305.0, 0.2835, 0.9477], [115.29, 0.5181, 0.9122]),
    compartment([390.0, 0.2610, 0.9544], [147.42, 0.5176, 0.9171]),
    compartment([498.0, 0.2480, 0.9602], [188.24, 0.5172, 0.9217]),
    compartment([635.0, 0.2327, 0.9653], [240.03, 0.5119, 0.9267]),
];

/// One figure for each compartment, fastest first.
pub(super) type Row = [f64; COMPARTMENTS];

/// Every figure of a row times the same. A plain loop, which goes several to an instruction.
#[inline]
pub(super) fn times(row: &Row, factor: f64) -> Row {
    let mut all = *row;
    for one in &mut all {
        *one *= factor;
    }
    all
}

/// One gas in all compartments, side by side as the loops over them want it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct GasRows {
    /// `ln 2 / half-time`, 1/min.
    pub(super) rate: Row,
    /// Its inverse, min.
    pub(super) life: Row,
    /// Intercept of the limit line, bar.
    pub(super) a_bar: Row,
    /// Slope of the limit line, `1/b`.
    pub(super) slope: Row,
    /// Its inverse.
    pub(super) b: Row,
}

impl GasRows {
    const fn of(rows: &[Compartment; COMPARTMENTS], helium: bool) -> Self {
        let (mut rate, mut life, mut a_bar) = ([0.0; 16], [0.0; 16], [0.0; 16]);
        let (mut slope, mut b) = ([0.0; 16], [0.0; 16]);
        let mut index = 0;
        while index < COMPARTMENTS {
            let gas = if helium {
                rows[index].helium
            } else {
                rows[index].nitrogen
            };
            rate[index] = std::f64::consts::LN_2 / gas.half_time.as_min();
            life[index] = gas.half_time.as_min() / std::f64::consts::LN_2;
            a_bar[index] = gas.a_bar;
            slope[index] = 1.0 / gas.b;
            b[index] = gas.b;
            index += 1;
        }
        Self {
            rate,
            life,
            a_bar,
            slope,
            b,
        }
    }
}

/// The sixteen compartments of a model run, fastest first.
///
/// # Source
/// A. A. Bühlmann, E. B. Völlm, P. Nussberger, *Tauchmedizin*, 5th ed. (2002), ZH-L16 set C;
/// E. C. Baker, *Understanding M-values* (c. 1998).
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(transparent)]
pub struct CompartmentSet {
    rows: [Compartment; COMPARTMENTS],
    #[serde(skip)]
    pub(super) nitrogen: GasRows,
    #[serde(skip)]
    pub(super) helium: GasRows,
}

impl CompartmentSet {
    /// ZH-L16C with the chosen first compartment.
    #[must_use]
    pub const fn zh_l16c(first: FirstCompartment) -> Self {
        let mut rows = ZH_L16C;
        if let FirstCompartment::FourMinutes = first {
            rows[0] = FOUR_MINUTES;
        }
        Self {
            nitrogen: GasRows::of(&rows, false),
            helium: GasRows::of(&rows, true),
            rows,
        }
    }

    /// 16 compartments, fastest first.
    #[must_use]
    pub const fn compartments(&self) -> &[Compartment; COMPARTMENTS] {
        &self.rows
    }
}

impl Default for CompartmentSet {
    fn default() -> Self {
        Self::zh_l16c(FirstCompartment::default())
    }
}
