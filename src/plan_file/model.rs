//! `[model]`: gradient factors, compartments, gas law.

use super::reader::{Reader, Table};
use crate::site::GasLaw;
use crate::tissue::{CompartmentSet, FirstCompartment, GradientFactors};

const KEYS: &[&str] = &["gradient_factors", "first_compartment", "gas_law"];
const FACTORS_ACCEPTED: &str =
    "two per cents from 5 to 100, the low one first, as [40, 85]; low at most high";

/// By which model tissues and cylinders are worked out.
#[derive(Default)]
pub(super) struct Model {
    pub(super) factors: GradientFactors,
    pub(super) compartments: CompartmentSet,
    pub(super) gas_law: GasLaw,
}

pub(super) fn read(reader: &mut Reader, root: &Table<'_>) -> Model {
    let mut model = Model::default();
    let Some(table) = reader.section(root, "model", KEYS) else {
        return model;
    };
    model.factors = factors(reader, &table).unwrap_or_default();
    let compartments = [
        ("1b", FirstCompartment::FiveMinutes),
        ("1", FirstCompartment::FourMinutes),
    ];
    if let Some(first) = reader.word(&table, "first_compartment", &compartments) {
        model.compartments = CompartmentSet::zh_l16c(first.value);
    }
    let laws = [("real", GasLaw::Real), ("ideal", GasLaw::Ideal)];
    if let Some(law) = reader.word(&table, "gas_law", &laws) {
        model.gas_law = law.value;
    }
    model
}

fn factors(reader: &mut Reader, table: &Table<'_>) -> Option<GradientFactors> {
    let pair = reader.numbers::<2>(table, "gradient_factors", FACTORS_ACCEPTED)?;
    let [low, high] = pair.value;
    match GradientFactors::from_pct(low, high) {
        Ok(factors) => Some(factors),
        Err(error) => {
            reader.refuse(&table.name, &pair, error.to_string(), FACTORS_ACCEPTED);
            None
        }
    }
}
