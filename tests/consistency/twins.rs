//! The same plan in feet, psi and cubic feet has the same figures.

use serde_json::Value;

use crate::cases::{briefed, each, json, same_within};

/// A last bit of each conversion, carried through some hundred steps: of 1 + the figure.
const CONVERTED: f64 = 1e-9;
/// What a plan's units decide: words, and the steps in which another dive is looked for.
const OF_THE_UNITS: [&str; 5] = [
    "message",
    "nearest_go",
    "because",
    "gas_limit_because",
    "error",
];

/// The document without what the plan's units decide.
fn without_units(document: &mut Value) {
    match document {
        Value::Object(fields) => {
            for name in OF_THE_UNITS {
                // What is null in one is null in the other.
                if let Some(value) = fields.get_mut(name).filter(|value| !value.is_null()) {
                    *value = Value::Bool(true);
                }
            }
            fields.values_mut().for_each(without_units);
        }
        Value::Array(items) => items.iter_mut().for_each(without_units),
        _ => {}
    }
}

#[test]
fn a_plan_in_feet_and_psi_has_the_document_of_the_one_in_metres_and_bar() {
    each("twins", 60, |case, _, wrong| {
        let Some(twin) = briefed(&case.drawn.imperial()) else {
            wrong.push(format!("the twin is none:\n{}", case.drawn.imperial()));
            return 1;
        };
        let (mut metric, mut imperial) = (json(&case.briefing), json(&twin));
        without_units(&mut metric);
        without_units(&mut imperial);
        let tolerance = |_: &str, figure: f64| CONVERTED * (1.0 + figure.abs());
        same_within("", &metric, &imperial, &tolerance, wrong);
        1
    });
}
