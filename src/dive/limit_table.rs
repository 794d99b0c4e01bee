//! No-stop limits over a range of depths, for several gases and factor pairs side by side.

use super::no_stop::limit_at;
use crate::quantity::{ATM_BAR, Depth, Pressure, Time, UnitSystem};
use crate::rules::ranges::{DEPTH, OXYGEN};
use crate::rules::{DiveRules, OutOfRange, check_tissues};
use crate::site::Mix;
use crate::site::oxygen_pressure;
use crate::site::{Environment, Water};
use crate::tissue::{GradientFactors, Tissues};
use serde::Serialize;

/// A gas and a factor pair: one column.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LimitColumn {
    /// The gas breathed.
    pub gas: Mix,
    /// The gradient factors; only the high one decides a no-stop limit.
    pub factors: GradientFactors,
}

/// What there is to say for one depth and column.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LimitCell {
    /// The oxygen pressure is above the limit: no number.
    OverOxygenLimit {
        /// The oxygen pressure.
        po2: Pressure,
    },
    /// The limit.
    Minutes {
        /// Greatest bottom time, the descent included.
        time: Time,
        /// The compartment that decides, 0 to 15, fastest first.
        leading: usize,
    },
    /// 999 min do not reach it.
    Unlimited,
}

/// One depth: a cell for each column.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct LimitRow {
    /// The depth.
    pub depth: Depth,
    /// In the order of the columns.
    pub cells: Vec<LimitCell>,
}

/// A no-stop limit that somebody else has published.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PublishedLimit {
    /// The depth.
    pub depth: Depth,
    /// Greatest bottom time, the descent included.
    pub time: Time,
}

const fn published(feet: f64, minutes: f64) -> PublishedLimit {
    PublishedLimit {
        depth: Depth::from_ft(feet),
        time: Time::from_min(minutes),
    }
}

/// No-stop limits of the U.S. Navy: air, sea water, sea level. Another model than this one.
///
/// # Source
/// NOAA No-Decompression Air Table, chart 1 (U.S. Navy Standard Air limits).
pub const NAVY_AIR_LIMITS: [PublishedLimit; 10] = [
    published(40.0, 200.0),
    published(50.0, 100.0),
    published(60.0, 60.0),
    published(70.0, 50.0),
    published(80.0, 40.0),
    published(90.0, 30.0),
    published(100.0, 25.0),
    published(110.0, 20.0),
    published(120.0, 15.0),
    published(130.0, 10.0),
];

/// How far the site may be from sea level and sea water for published limits to apply.
const SAME_SITE_SHARE: f64 = 0.01;

/// The published limits that may stand beside these columns: [`NAVY_AIR_LIMITS`] where a column
/// is air and both the pressure at the surface and that of a metre of water are within 1 % of
/// those of the sea at sea level; otherwise none.
#[must_use]
pub fn published_limits(
    environment: &Environment,
    columns: &[LimitColumn],
) -> &'static [PublishedLimit] {
    let near = |value: f64, published: f64| (value / published - 1.0).abs() <= SAME_SITE_SHARE;
    let at_sea = near(environment.surface().as_bar(), ATM_BAR)
        && near(environment.bar_per_m(), Water::Sea.bar_per_m());
    if at_sea && columns.iter().any(|column| column.gas == Mix::AIR) {
        &NAVY_AIR_LIMITS
    } else {
        &[]
    }
}

/// No-stop limits from the tissues that the divers start with, clean ones in a classroom. See
/// [`no_stop_limit`](super::no_stop_limit) for the equation.
///
/// The rules give water, air, rates and the first compartment; each column its own gas and
/// factors. A depth at which a gas has more oxygen than `oxygen_limit` gets no number.
///
/// # Example
/// ```
/// use hangbar::dive::{LimitCell, LimitColumn, limit_table};
/// use hangbar::site::Mix;
/// use hangbar::rules::DiveRules;
/// use hangbar::tissue::{GradientFactors, Tissues};
/// use hangbar::quantity::{Depth, Pressure};
///
/// let column = LimitColumn { gas: Mix::nitrox(36.0)?, factors: GradientFactors::default() };
/// let depths = [Depth::from_m(18.0), Depth::from_m(40.0)];
/// let limit = Pressure::from_bar(1.4);
/// let rules = DiveRules::default();
/// let clean = Tissues::clean(rules.environment.surface());
/// let table = limit_table(&rules, &clean, &[column], &depths, limit)?;
/// assert!(matches!(table[0].cells[0], LimitCell::Minutes { .. }));
/// assert!(matches!(table[1].cells[0], LimitCell::OverOxygenLimit { .. }));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
/// # Errors
/// [`OutOfRange`] unless every depth is 0.3 m to 200 m, the oxygen limit 0.1 to 3 bar and the rules are such as a plan may have.
pub fn limit_table(
    rules: &DiveRules,
    start: &Tissues,
    columns: &[LimitColumn],
    depths: &[Depth],
    oxygen_limit: Pressure,
) -> Result<Vec<LimitRow>, OutOfRange> {
    rules.check(UnitSystem::Metric)?;
    check_tissues(start)?;
    OXYGEN.check(oxygen_limit.as_bar(), UnitSystem::Metric)?;
    for depth in depths {
        DEPTH.check(depth.as_m(), UnitSystem::Metric)?;
    }
    let columns: Vec<DiveRules> = columns
        .iter()
        .map(|column| DiveRules {
            factors: column.factors,
            bottom_gas: column.gas,
            decompression: Vec::new(),
            ..rules.clone()
        })
        .collect();
    let row = |depth: Depth| LimitRow {
        depth,
        cells: columns
            .iter()
            .map(|rules| cell(rules, start, depth, oxygen_limit))
            .collect(),
    };
    Ok(depths.iter().copied().map(row).collect())
}

fn cell(rules: &DiveRules, start: &Tissues, depth: Depth, oxygen_limit: Pressure) -> LimitCell {
    let po2 = oxygen_pressure(&rules.environment, rules.bottom_gas, depth);
    if po2.is_over(oxygen_limit) {
        return LimitCell::OverOxygenLimit { po2 };
    }
    let limit = limit_at(rules, start, depth);
    match limit.time() {
        None => LimitCell::Unlimited,
        Some(time) => LimitCell::Minutes {
            time,
            leading: limit.compartment,
        },
    }
}
