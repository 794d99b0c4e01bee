//! The schema of a document, from its type.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::{Map, Value};

/// What the end of a field's name says of its unit; the longest that fits.
const UNITS: &[(&str, &str)] = &[
    ("_m_per_min", "m/min"),
    ("_l_per_min", "L/min"),
    ("_atm_min", "atm·min"),
    ("_g_per_l", "g/L"),
    ("bar_per_m", "bar/m"),
    ("_min", "min"),
    ("_bar", "bar"),
    ("_pct", "%"),
    ("_kg", "kg"),
    ("_c", "°C"),
    ("_l", "L"),
    ("_m", "m"),
];

/// The schema of a document as it is written, under the name of its form.
pub(super) fn schema_of<T: JsonSchema>(form: &str) -> Value {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let generator = settings.into_generator();
    let mut schema = generator.into_root_schema_for::<T>().to_value();
    said_plainly(&mut schema);
    schema["title"] = form.into();
    schema
}

/// Descriptions on one line, and the unit beside each figure whose name has one.
fn said_plainly(schema: &mut Value) {
    match schema {
        Value::Array(items) => items.iter_mut().for_each(said_plainly),
        Value::Object(parts) => {
            if let Some(Value::String(text)) = parts.get_mut("description") {
                *text = text.split_whitespace().collect::<Vec<_>>().join(" ");
            }
            if let Some(Value::Object(fields)) = parts.get_mut("properties") {
                add_units(fields);
            }
            parts.values_mut().for_each(said_plainly);
        }
        _ => {}
    }
}

fn add_units(fields: &mut Map<String, Value>) {
    for (name, field) in fields {
        let is_figure = |kind: &Value| kind == "number" || kind == "integer";
        let is_figure = match &field["type"] {
            Value::Array(kinds) => kinds.iter().any(is_figure),
            kind => is_figure(kind),
        };
        let unit = UNITS.iter().find(|(ending, _)| name.ends_with(ending));
        if let Some((_, unit)) = unit.filter(|_| is_figure) {
            field["x-unit"] = (*unit).into();
        }
    }
}
