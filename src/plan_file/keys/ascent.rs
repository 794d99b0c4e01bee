//! The keys of `[ascent]`.

use super::row::{Holds, Named, QuantityKey, Section, TableKey, Without};
use super::usual::{depth, minutes, quoted};
use crate::quantity::{Depth, Kind, UnitSystem};
use crate::rules::ranges::{ASCENT_RATE, DEPTH, SAFETY_DEPTH, SAFETY_TIME};
use crate::rules::{AscentRules, DiveRules, LastStop, SafetyStop, StopSpacing};

/// What stops may be apart.
pub(crate) const SPACINGS: [StopSpacing; 2] = [StopSpacing::ThreeMetres, StopSpacing::TenFeet];
/// How many spacings deep the last stop may be.
pub(crate) const LAST_STOPS: [(u32, LastStop); 2] =
    [(1, LastStop::OneSpacing), (2, LastStop::TwoSpacings)];

pub(crate) const RATE_UP: QuantityKey = Named::new("rate", &ASCENT_RATE);
pub(crate) const SPACING: QuantityKey = Named::new("stop_spacing", &DEPTH);
pub(crate) const LAST_STOP: QuantityKey = Named::new("last_stop", &DEPTH);
pub(crate) const SAFETY: TableKey = Named::new("safety_stop", &SAFETY_KEYS);
pub(crate) const SAFE_DEPTH: QuantityKey = Named::new("depth", &SAFETY_DEPTH);
pub(crate) const SAFE_TIME: QuantityKey = Named::new("time", &SAFETY_TIME);

pub(crate) static ASCENT: Section = Section::new(
    "the way up",
    &[
        RATE_UP.row(
            Without::As(|units| {
                let usual = usual(units).rate.as_m_min();
                quoted(Kind::VerticalSpeed, usual, units)
            }),
            "speed on the way up",
        ),
        SPACING.holding(
            Holds::Some(&DEPTH, || SPACINGS.map(|known| level(known, 1)).to_vec()),
            Without::As(|units| format!("\"{}\"", level(usual(units).spacing, 1))),
            "what stops are apart",
        ),
        LAST_STOP.holding(
            Holds::Some(&DEPTH, || {
                let levels = |known| LAST_STOPS.map(|(count, _)| level(known, count));
                SPACINGS.map(levels).concat()
            }),
            Without::As(|units| {
                let usual = usual(units);
                format!("\"{}\"", level(usual.spacing, usual.last_level()))
            }),
            "the last stop before the surface, one or two spacings deep",
        ),
        SAFETY.holding(
            Holds::TableOrFalse(&SAFETY_KEYS),
            Without::As(|units| {
                usual(units).safety_stop.map_or_else(
                    || false.to_string(),
                    |SafetyStop { depth: at, time }| {
                        let (at, time) = (depth(at, units), minutes(time, units));
                        format!(
                            "{{ {} = {at}, {} = {time} }}",
                            SAFE_DEPTH.name, SAFE_TIME.name
                        )
                    },
                )
            }),
            "a stop that the tissues do not ask for",
        ),
    ],
);

static SAFETY_KEYS: Section = Section::new(
    "the safety stop",
    &[
        SAFE_DEPTH.row(
            Without::As(|units| {
                let stop = usual(units).safety_stop;
                depth(stop.map_or(Depth::SURFACE, |stop| stop.depth), units)
            }),
            "its depth",
        ),
        SAFE_TIME.row(
            Without::As(|units| {
                let stop = usual(units).safety_stop;
                stop.map_or_else(String::new, |stop| minutes(stop.time, units))
            }),
            "its time",
        ),
    ],
);

fn usual(units: UnitSystem) -> AscentRules {
    DiveRules::standard(units).ascent
}

/// The depth so many spacings down, in the unit of the spacing.
fn level(spacing: StopSpacing, spacings: u32) -> String {
    let units = match spacing {
        StopSpacing::ThreeMetres => UnitSystem::Metric,
        StopSpacing::TenFeet => UnitSystem::Imperial,
    };
    let below = spacing.below(spacings);
    Kind::Depth.written(below.as_m(), units)
}
