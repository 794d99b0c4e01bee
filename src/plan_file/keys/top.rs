//! The keys at the top of a plan file, and all of its tables under them.

use super::ascent::ASCENT;
use super::gas::GAS;
use super::model::MODEL;
use super::profile::{BEFORE, PROFILE};
use super::reserve::{RESERVE, SURFACE};
use super::row::{
    Holds, Named, OwnKey, Section, TableKey, TablesKey, TextKey, Without, WordKey, Words,
};
use super::site::SITE;
use super::team::DIVER;
use crate::quantity::UnitSystem;
use crate::rules::ranges::{DIVERS, EARLIER_DIVES, LONGEST_TITLE};

pub(crate) const TITLE: TextKey = Named::new("title", LONGEST_TITLE);
pub(crate) const UNITS: WordKey<UnitSystem> = Named::new(
    "units",
    &Words(&[
        ("metric", UnitSystem::Metric),
        ("imperial", UnitSystem::Imperial),
    ]),
);
pub(crate) const SPLASH: OwnKey = Named::new("splash", ());
pub(crate) const SITE_TABLE: TableKey = Named::new("site", &SITE);
pub(crate) const PROFILE_TABLE: TableKey = Named::new("profile", &PROFILE);
pub(crate) const ASCENT_TABLE: TableKey = Named::new("ascent", &ASCENT);
pub(crate) const MODEL_TABLE: TableKey = Named::new("model", &MODEL);
pub(crate) const GAS_TABLE: TableKey = Named::new("gas", &GAS);
pub(crate) const RESERVE_TABLE: TableKey = Named::new("reserve", &RESERVE);
pub(crate) const SURFACE_TABLE: TableKey = Named::new("surface", &SURFACE);
pub(crate) const DIVER_TABLES: TablesKey = Named::new("diver", (&DIVER, &DIVERS));
pub(crate) const BEFORE_TABLES: TablesKey = Named::new("before", (&BEFORE, &EARLIER_DIVES));

const USUAL: Without = Without::Said("the usual holds");

/// The whole plan file.
pub(crate) static PLAN: Section = Section::new(
    "the plan, above every table",
    &[
        TITLE.row(Without::Said("none"), "name of the dive"),
        UNITS.row(
            Without::As(|_| UNITS.kind.quoted(UnitSystem::default())),
            "units of the screen, and which stops, speeds and floor are the usual ones",
        ),
        SPLASH.holding(
            Holds::TimeOfDay,
            Without::Said("no times of day are shown"),
            "time of day of leaving the surface",
        ),
        SITE_TABLE.row(USUAL, "the water and the air above it"),
        PROFILE_TABLE.row(Without::Required, "where the dive goes"),
        ASCENT_TABLE.row(USUAL, "the way up"),
        MODEL_TABLE.row(USUAL, "how tissues and cylinders are worked out"),
        GAS_TABLE.row(USUAL, "what is breathed"),
        RESERVE_TABLE.row(USUAL, "the gas that is kept back"),
        SURFACE_TABLE.row(USUAL, "what the boat must know"),
        DIVER_TABLES.row(
            Without::Said("a schedule only: nobody's gas is worked out"),
            "the team",
        ),
        BEFORE_TABLES.row(
            Without::Said("the first dive of the day"),
            "earlier dives of the day, oldest first",
        ),
    ],
);
