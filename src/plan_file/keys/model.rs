//! The keys of `[model]`.

use super::row::{Holds, Named, OwnKey, Section, Without, WordKey, Words};
use crate::site::GasLaw;
use crate::tissue::{FirstCompartment, GradientFactors};

pub(crate) const FACTORS: OwnKey = Named::new("gradient_factors", ());
pub(crate) const FIRST: WordKey<FirstCompartment> = Named::new(
    "first_compartment",
    &Words(&[
        ("1b", FirstCompartment::FiveMinutes),
        ("1", FirstCompartment::FourMinutes),
    ]),
);
pub(crate) const LAW: WordKey<GasLaw> = Named::new(
    "gas_law",
    &Words(&[("real", GasLaw::Real), ("ideal", GasLaw::Ideal)]),
);

pub(crate) static MODEL: Section = Section::new(
    "how tissues and cylinders are worked out",
    &[
        FACTORS.holding(
            Holds::Pair(&GradientFactors::ACCEPTED_PCT),
            Without::As(|_| {
                let usual = GradientFactors::default().to_string();
                format!("[{}]", usual.replace('/', ", "))
            }),
            "gradient factors, the low and the high one, per cent",
        ),
        FIRST.row(
            Without::As(|_| FIRST.kind.quoted(FirstCompartment::default())),
            "the fastest compartment, that of 5 minutes (1b) or that of 4 (1)",
        ),
        LAW.row(
            Without::As(|_| LAW.kind.quoted(GasLaw::default())),
            "how the contents of cylinders are worked out",
        ),
    ],
);
