//! The keys of `[[diver]]` and of cylinders.

use super::row::{
    Holds, Key, Named, OwnKey, QuantityKey, Section, TableKey, TablesKey, TextKey, Without,
    WordKey, Words,
};
use crate::quantity::UnitSystem;
use crate::rules::ranges::{
    BREATHING, CAPACITY, DEPTH, FILL, LONGEST_NAME, PRESSURE_RATE, STAGES, WATER_VOLUME, WORKING,
};

pub(crate) const NAME: TextKey = Named::new("name", LONGEST_NAME);
pub(crate) const SAC: QuantityKey = Named::new("sac", &BREATHING);
/// What a sac may be too.
pub(crate) const SAC_BY_PRESSURE: QuantityKey = Named::new("sac", &PRESSURE_RATE);
pub(crate) const CYLINDER: TableKey = Named::new("cylinder", &CYLINDER_KEYS);
pub(crate) const PONY: TableKey = Named::new("pony", &PONY_KEYS);
pub(crate) const DEPTH_LIMIT: QuantityKey = Named::new("depth_limit", &DEPTH);
pub(crate) const STAGE: TablesKey = Named::new("stage", (&STAGE_KEYS, &STAGES));
pub(crate) const GAUGE: WordKey<UnitSystem> = Named::new(
    "gauge",
    &Words(&[("bar", UnitSystem::Metric), ("psi", UnitSystem::Imperial)]),
);
pub(crate) const BUDDY: TextKey = Named::new("buddy", LONGEST_NAME);
pub(crate) const OWN_GAS: OwnKey = Named::new("gas", ());

pub(crate) const SIZE: QuantityKey = Named::new("size", &WATER_VOLUME);
pub(crate) const RATED: QuantityKey = Named::new("rated", &CAPACITY);
pub(crate) const AT: QuantityKey = Named::new("at", &WORKING);
pub(crate) const FILLED: QuantityKey = Named::new("fill", &FILL);

pub(crate) static DIVER: Section = Section::new(
    "a diver; a plan without one is a schedule only",
    &[
        NAME.row(Without::Required, "the name"),
        SAC.holding(
            Holds::Either(SAC.kind, SAC_BY_PRESSURE.kind),
            Without::Required,
            "what the diver breathes in a minute at the surface, or what that takes off the own gauge",
        ),
        CYLINDER.row(Without::Required, "the main cylinder"),
        PONY.row(Without::Said("none"), "a pony bottle, for emergencies alone"),
        DEPTH_LIMIT.row(Without::Said("none"), "how deep the diver may go"),
        STAGE.row(
            Without::Said("none"),
            "stage cylinders, of gases that [gas] has for the way up",
        ),
        GAUGE.row(
            Without::Said("the unit of the screen"),
            "the unit of the diver's gauges",
        ),
        BUDDY.row(
            Without::Said("anybody of the team may share gas with anybody"),
            "name of the buddy; two name each other, or three are a group",
        ),
        OWN_GAS.holding(
            Holds::Gas("EAN32"),
            Without::Said("that of [gas]"),
            "the gas breathed on the bottom, air or nitrox, in a plan without helium",
        ),
    ],
);

/// How large it is: by its inner volume, or by what it is rated for.
const WAYS: &[&[&str]] = &[&[SIZE.name], &[RATED.name, AT.name]];
const SIZE_ROW: Key = SIZE.holding(
    Holds::Twins(SIZE.kind),
    Without::Or("rated and at say it"),
    "inner volume",
);
const RATED_ROW: Key = RATED.holding(
    Holds::Twins(RATED.kind),
    Without::Or("size says it"),
    "gas that it holds at its working pressure; with at, and without size",
);
const AT_ROW: Key = AT.row(
    Without::Said("not known, and with rated it must be there"),
    "working pressure",
);
const FILL_ROW: Key = FILLED.row(Without::Required, "what its gauge shows before the dive");

static CYLINDER_KEYS: Section = Section {
    ways: WAYS,
    ..Section::new(
        "a cylinder, or two equal ones with an open manifold",
        &[SIZE_ROW, RATED_ROW, AT_ROW, FILL_ROW],
    )
};

static PONY_KEYS: Section = Section {
    ways: WAYS,
    ..Section::new(
        "a pony bottle",
        &[
            SIZE_ROW,
            RATED_ROW,
            AT_ROW,
            FILL_ROW,
            OWN_GAS.holding(
                Holds::Gas("EAN32"),
                Without::Said("that of [gas]"),
                "what is in it, air or nitrox, in a plan without helium",
            ),
        ],
    )
};

static STAGE_KEYS: Section = Section {
    ways: WAYS,
    ..Section::new(
        "a stage cylinder",
        &[
            OWN_GAS.holding(
                Holds::Gas("EAN50"),
                Without::Required,
                "what is in it, one of the gases that [gas] has for the way up",
            ),
            SIZE_ROW,
            RATED_ROW,
            AT_ROW,
            FILL_ROW,
        ],
    )
};
