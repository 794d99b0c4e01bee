//! The keys of `[reserve]` and of `[surface]`: what is kept back, and what the boat must know.

use super::row::{
    Named, NumberKey, QuantityKey, Section, TableKey, TextKey, Without, WordKey, Words,
};
use super::usual::{minutes, quoted};
use crate::plan::{ReserveRules, Surface, TurnRule};
use crate::quantity::{Kind, UnitSystem};
use crate::rules::ranges::{
    FLOOR, HANG_DEPTH, HANG_TIME, LONGEST_EMERGENCY, OVERDUE_AFTER, SORT_OUT, STRESS,
};

pub(crate) const STRESS_FACTOR: NumberKey = Named::new("stress", &STRESS);
pub(crate) const SORTING: QuantityKey = Named::new("sort_out", &SORT_OUT);
pub(crate) const LEAST: QuantityKey = Named::new("floor", &FLOOR);
pub(crate) const TURN: WordKey<TurnRule> = Named::new(
    "turn",
    &Words(&[
        ("half", TurnRule::Half),
        ("third", TurnRule::Third),
        ("all", TurnRule::All),
    ]),
);
pub(crate) const HANG: TableKey = Named::new("hang", &HANG_KEYS);
pub(crate) const HANG_AT: QuantityKey = Named::new("depth", &HANG_DEPTH);
pub(crate) const HANG_FOR: QuantityKey = Named::new("time", &HANG_TIME);
pub(crate) const OVERDUE: QuantityKey = Named::new("overdue_after", &OVERDUE_AFTER);
pub(crate) const EMERGENCY: TextKey = Named::new("emergency", LONGEST_EMERGENCY);

pub(crate) static RESERVE: Section = Section::new(
    "the gas that is kept back",
    &[
        STRESS_FACTOR.row(
            Without::As(|units| usual(units).stress.to_string()),
            "how much harder divers in trouble breathe",
        ),
        SORTING.row(
            Without::As(|units| minutes(usual(units).sort_out, units)),
            "time to sort trouble out before going up",
        ),
        LEAST.row(
            Without::As(|units| quoted(Kind::GaugePressure, usual(units).floor.as_bar(), units)),
            "no minimum gas is less than this",
        ),
        TURN.row(
            Without::As(|units| TURN.kind.quoted(usual(units).turn)),
            "how much of the gas above the minimum goes out; all of it only where nobody need come back",
        ),
        HANG.row(
            Without::Said("none"),
            "a hang that each diver must have gas for, over and above the stops",
        ),
    ],
);

static HANG_KEYS: Section = Section::new(
    "the hang",
    &[
        HANG_AT.row(Without::Required, "its depth"),
        HANG_FOR.row(Without::Required, "its time"),
    ],
);

pub(crate) static SURFACE: Section = Section::new(
    "what the boat must know",
    &[
        OVERDUE.row(
            Without::As(|units| minutes(Surface::default().overdue_after, units)),
            "how long after the planned surfacing the team is overdue",
        ),
        EMERGENCY.row(
            Without::Said("nothing is printed"),
            "whom to call and how, printed as it stands",
        ),
    ],
);

fn usual(units: UnitSystem) -> ReserveRules {
    ReserveRules::standard(units)
}
