//! The keys of `[gas]`.

use super::row::{Holds, Named, OwnKey, QuantityKey, Section, Without};
use super::usual::minutes;
use crate::rules::DiveRules;
use crate::rules::ranges::{SWITCH_TIME, SWITCHES};

pub(crate) const BOTTOM: OwnKey = Named::new("bottom", ());
pub(crate) const DECOMPRESSION: OwnKey = Named::new("decompression", ());
pub(crate) const PAUSE: QuantityKey = Named::new("switch_time", &SWITCH_TIME);

pub(crate) static GAS: Section = Section::new(
    "what is breathed",
    &[
        BOTTOM.holding(
            Holds::Gas("EAN32"),
            Without::As(|units| format!("\"{}\"", DiveRules::standard(units).bottom_gas)),
            "the gas breathed on the bottom",
        ),
        DECOMPRESSION.holding(
            Holds::Gases(&SWITCHES),
            Without::As(|units| {
                let usual = DiveRules::standard(units).decompression;
                let usual: Vec<String> = usual.iter().map(|gas| format!("\"{gas}\"")).collect();
                format!("[{}]", usual.join(", "))
            }),
            "gases for the way up, each in a stage cylinder of who breathes it",
        ),
        PAUSE.row(
            Without::As(|units| {
                let usual = DiveRules::standard(units).ascent;
                minutes(usual.switch_time, units)
            }),
            "pause for a gas switch",
        ),
    ],
);
