//! The keys of `[profile]` and of `[[before]]`: where a dive goes.

use super::row::{Holds, Named, OwnKey, QuantityKey, Section, TablesKey, Without, WordKey, Words};
use super::usual::quoted;
use crate::plan::OutBound;
use crate::quantity::Kind;
use crate::rules::DiveRules;
use crate::rules::ranges::{DEPTH, DESCENT_RATE, LEVEL_TIME, LEVELS, SURFACE_INTERVAL, SWIM_SPEED};

pub(crate) const ONE_DEPTH: QuantityKey = Named::new("depth", &DEPTH);
pub(crate) const BOTTOM_TIME: QuantityKey = Named::new("bottom_time", &LEVEL_TIME);
pub(crate) const LEVEL: TablesKey = Named::new("level", (&LEVEL_KEYS, &LEVELS));
pub(crate) const RATE_DOWN: QuantityKey = Named::new("descent_rate", &DESCENT_RATE);
pub(crate) const SWIM: QuantityKey = Named::new("swim_speed", &SWIM_SPEED);
pub(crate) const OUT: WordKey<OutBound> = Named::new(
    "out",
    &Words(&[("with", OutBound::With), ("against", OutBound::Against)]),
);
pub(crate) const STAGED: OwnKey = Named::new("staged", ());
pub(crate) const LEVEL_DEPTH: QuantityKey = Named::new("depth", &DEPTH);
pub(crate) const STAY: QuantityKey = Named::new("time", &LEVEL_TIME);
pub(crate) const BEFORE_GAS: OwnKey = Named::new("gas", ());
pub(crate) const INTERVAL: QuantityKey = Named::new("surface_interval", &SURFACE_INTERVAL);
pub(crate) const WHO: OwnKey = Named::new("divers", ());

/// Where it goes: at one level, or at several.
const WAYS: &[&[&str]] = &[&[ONE_DEPTH.name, BOTTOM_TIME.name], &[LEVEL.name]];
const BY_LEVELS: Without = Without::Or("the levels say it");
const ONE_LEVEL: Without = Without::Or("depth and bottom_time say it");

pub(crate) static PROFILE: Section = Section {
    ways: WAYS,
    needs: &[(SWIM.name, OUT.name), (OUT.name, SWIM.name)],
    ..Section::new(
        "where the dive goes; depth and bottom_time, or levels, must be there",
        &[
            ONE_DEPTH.row(BY_LEVELS, "the depth"),
            BOTTOM_TIME.row(BY_LEVELS, "from leaving the surface to leaving the bottom"),
            LEVEL.row(ONE_LEVEL, "several levels, in order"),
            RATE_DOWN.row(
                Without::As(|units| {
                    let usual = DiveRules::standard(units).descent_rate.as_m_min();
                    quoted(Kind::VerticalSpeed, usual, units)
                }),
                "speed on the way down",
            ),
            SWIM.row(
                Without::Said("no turn allows for the current"),
                "how fast the slowest swims; with out, and with current in [site]",
            ),
            OUT.row(
                Without::Said("no turn allows for the current"),
                "which way the dive goes out in the current; with swim_speed",
            ),
            STAGED.holding(
                Holds::Flag,
                Without::As(|_| false.to_string()),
                "whether stops are meant; a decompression gas says so too",
            ),
        ],
    )
};

static LEVEL_KEYS: Section = Section::new(
    "a level of a dive",
    &[
        LEVEL_DEPTH.row(Without::Required, "its depth"),
        STAY.row(Without::Required, "its time, the travel to it included"),
    ],
);

pub(crate) static BEFORE: Section = Section {
    ways: WAYS,
    ..Section::new(
        "an earlier dive of the day, oldest first",
        &[
            ONE_DEPTH.row(BY_LEVELS, "its depth"),
            BOTTOM_TIME.row(BY_LEVELS, "from leaving the surface to leaving the bottom"),
            LEVEL.row(ONE_LEVEL, "several levels, in order"),
            BEFORE_GAS.holding(
                Holds::Gas("EAN32"),
                Without::Said("that of [gas]"),
                "what was breathed",
            ),
            INTERVAL.row(Without::Required, "from its surfacing to the next dive"),
            WHO.holding(
                Holds::Names,
                Without::Said("everybody"),
                "names of those who dived it",
            ),
        ],
    )
};
