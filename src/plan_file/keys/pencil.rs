//! The keys of a pencil log: what each diver wrote down of a dive.

use super::row::{Holds, Named, OwnKey, QuantityKey, Section, TablesKey, TextKey, Without};
use crate::rules::ranges::{DEPTH, FILL, LEFT_IN_CYLINDER, LEVEL_TIME, LONGEST_NAME, PENCIL_LOGS};

pub(crate) const DIVERS: TablesKey = Named::new("diver", (&LOG, &PENCIL_LOGS));
pub(crate) const NAME: TextKey = Named::new("name", LONGEST_NAME);
pub(crate) const GREATEST: QuantityKey = Named::new("greatest_depth", &DEPTH);
pub(crate) const BOTTOM_TIME: QuantityKey = Named::new("bottom_time", &LEVEL_TIME);
pub(crate) const TIME_IN: OwnKey = Named::new("time_in", ());
pub(crate) const TIME_OUT: OwnKey = Named::new("time_out", ());
pub(crate) const RUN_TIME: QuantityKey = Named::new("run_time", &LEVEL_TIME);
pub(crate) const START: QuantityKey = Named::new("start_pressure", &FILL);
pub(crate) const END: QuantityKey = Named::new("end_pressure", &LEFT_IN_CYLINDER);
pub(crate) const AVERAGE: QuantityKey = Named::new("average_depth", &DEPTH);

/// The whole record.
pub(crate) static RECORD: Section = Section::new(
    "what divers wrote down of a dive",
    &[DIVERS.row(Without::Required, "who dived")],
);

pub(crate) static LOG: Section = Section::new(
    "what a diver wrote down of the dive",
    &[
        NAME.row(Without::Required, "the diver, as in the plan"),
        GREATEST.row(Without::Required, "greatest depth"),
        BOTTOM_TIME.row(
            Without::Required,
            "from leaving the surface to leaving the last level",
        ),
        TIME_IN.holding(
            Holds::TimeOfDay,
            Without::Said("not known"),
            "time of day of leaving the surface",
        ),
        TIME_OUT.holding(
            Holds::TimeOfDay,
            Without::Said("not known"),
            "time of day of being back",
        ),
        RUN_TIME.row(
            Without::Said("from time_in to time_out, where both are there"),
            "from leaving the surface to being back",
        ),
        START.row(Without::Required, "gauge of the main cylinder at the start"),
        END.row(Without::Required, "gauge of the main cylinder at the end"),
        AVERAGE.row(
            Without::Said("not known: the planned levels are flown"),
            "average depth, where a computer shows it",
        ),
    ],
);
