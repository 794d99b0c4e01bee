//! `[model]`: gradient factors, compartments, gas law.

use super::keys::{model as keys, top};
use super::reader::{Reader, Table};
use crate::site::GasLaw;
use crate::tissue::{CompartmentSet, GradientFactors};

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
    let Some(table) = reader.section(root, &top::MODEL_TABLE) else {
        return model;
    };
    model.factors = factors(reader, &table).unwrap_or_default();
    if let Some(first) = reader.word(&table, &keys::FIRST) {
        model.compartments = CompartmentSet::zh_l16c(first.value);
    }
    if let Some(law) = reader.word(&table, &keys::LAW) {
        model.gas_law = law.value;
    }
    model
}

fn factors(reader: &mut Reader, table: &Table<'_>) -> Option<GradientFactors> {
    let pair = reader.numbers::<2>(table, &keys::FACTORS, FACTORS_ACCEPTED)?;
    let [low, high] = pair.value;
    match GradientFactors::from_pct(low, high) {
        Ok(factors) => Some(factors),
        Err(error) => {
            reader.refuse(&table.name, &pair, error.to_string(), FACTORS_ACCEPTED);
            None
        }
    }
}
