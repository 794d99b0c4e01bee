//! The schema of a file, from the table of its keys.

use std::ops::RangeInclusive;

use serde_json::{Map, Value, json};

use super::patterns::{BLANK, NOT_BLANK, TIME_OF_DAY, gas, quantity, twins};
use crate::plan_file::{Holds, Key, Section, Without};
use crate::quantity::UnitSystem;

/// What an empty text is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Blank {
    /// No value of any key.
    Refused,
    /// A key that is left out, where one may be.
    LeftOut,
}

/// The schema of a file of these keys.
pub(super) fn schema_of_file(title: &str, root: &Section, blank: Blank) -> Value {
    let mut schema = table(root, blank);
    schema.insert(
        "$schema".to_owned(),
        "https://json-schema.org/draft/2020-12/schema".into(),
    );
    schema.insert("title".to_owned(), title.into());
    Value::Object(schema)
}

/// A table with its keys and no other.
fn table(section: &Section, blank: Blank) -> Map<String, Value> {
    let keys = section.keys.iter();
    let properties: Map<String, Value> = keys
        .map(|key| (key.name.to_owned(), key_schema(key, blank)))
        .collect();
    let mut schema = Map::new();
    let mut say = |what: &str, value: Value| {
        schema.insert(what.to_owned(), value);
    };
    say("type", "object".into());
    say("description", format!("{}.", capital(section.about)).into());
    say("properties", properties.into());
    say("additionalProperties", false.into());
    let required = section.keys.iter();
    let required = required.filter(|key| matches!(key.without, Without::Required));
    let required: Vec<&str> = required.map(|key| key.name).collect();
    if !required.is_empty() {
        say("required", json!(required));
    }
    if !section.ways.is_empty() {
        let ways = section.ways.iter().map(|way| one_way(section, way));
        say("oneOf", ways.collect());
    }
    if !section.needs.is_empty() {
        let needs = section.needs.iter();
        let needs = needs.map(|(key, other)| ((*key).to_owned(), json!([other])));
        say("dependentRequired", Value::Object(needs.collect()));
    }
    if let [one, other] = section.apart {
        say("not", json!({ "required": [one, other] }));
    }
    schema
}

/// The keys of a way, and none of those that another way has in their place.
fn one_way(section: &Section, way: &[&str]) -> Value {
    let others = section.keys.iter();
    let others = others.filter(|key| matches!(key.without, Without::Or(_)));
    let others = others.filter(|key| !way.contains(&key.name));
    let others: Vec<Value> = others
        .map(|key| json!({ "required": [key.name] }))
        .collect();
    json!({ "required": way, "not": { "anyOf": others } })
}

fn key_schema(key: &Key, blank: Blank) -> Value {
    let mut schema = holds(&key.holds, blank);
    let may_be_blank = blank == Blank::LeftOut && !matches!(key.without, Without::Required);
    if may_be_blank && key.holds.table().is_none() {
        schema = json!({ "anyOf": [schema, text_like(BLANK)] });
    }
    // Where a list is the way to say something, an empty one says nothing.
    if matches!(
        (key.holds, key.without),
        (Holds::Tables(..), Without::Or(_))
    ) {
        schema["minItems"] = 1.into();
    }
    let about = format!("{}: {}.", capital(key.about), key.holds.accepted());
    let without = key.without.words().map(str::to_owned);
    let metric = key.without.value(UnitSystem::Metric);
    let imperial = key.without.value(UnitSystem::Imperial);
    let without = match (without, &metric, imperial) {
        (Some(words), ..) => format!(" Without it: {words}."),
        (None, Some(metric), Some(imperial)) if *metric != imperial => {
            format!(" Without it: {metric}, or {imperial} in imperial plans.")
        }
        (None, Some(metric), _) => format!(" Without it: {metric}."),
        (None, None, _) => String::new(),
    };
    schema["description"] = format!("{about}{without}").into();
    if let Some(value) = metric.as_deref().and_then(json_of) {
        schema["default"] = value;
    }
    schema
}

fn holds(holds: &Holds, blank: Blank) -> Value {
    match holds {
        Holds::Quantity(accepted) => like(&quantity(&[accepted]), &[accepted.example.to_owned()]),
        Holds::Some(accepted, values) => like(&quantity(&[accepted]), &values()),
        Holds::Twins(accepted) => {
            let two = format!("2x{}", accepted.example);
            like(&twins(accepted), &[accepted.example.to_owned(), two])
        }
        Holds::Either(one, other) => {
            let examples = [one.example, other.example].map(str::to_owned);
            like(&quantity(&[one, other]), &examples)
        }
        Holds::Word(words) => json!({ "enum": words.words() }),
        Holds::WordOr(words, accepted) => {
            let density = like(&quantity(&[accepted]), &[accepted.example.to_owned()]);
            json!({ "anyOf": [{ "enum": words() }, density] })
        }
        Holds::Number(range) => number(range),
        Holds::Pair(range) => json!({
            "type": "array", "items": number(range), "minItems": 2, "maxItems": 2
        }),
        Holds::Flag => json!({ "type": "boolean" }),
        Holds::Text(longest) => json!({
            "type": "string", "pattern": NOT_BLANK, "maxLength": longest
        }),
        Holds::TimeOfDay => like(TIME_OF_DAY, &["09:40".to_owned()]),
        Holds::Gas(example) => like(&gas(), &[(*example).to_owned()]),
        Holds::Gases(most) => json!({
            "type": "array", "items": text_like(&gas()), "maxItems": most.most
        }),
        Holds::Names => json!({
            "type": "array", "items": text_like(NOT_BLANK), "minItems": 1
        }),
        Holds::Table(section) => Value::Object(table(section, blank)),
        Holds::TableOrFalse(section) => {
            json!({ "anyOf": [{ "const": false }, table(section, blank)] })
        }
        Holds::Tables(section, most) => json!({
            "type": "array", "items": table(section, blank), "maxItems": most.most
        }),
    }
}

fn number(range: &RangeInclusive<f64>) -> Value {
    json!({ "type": "number", "minimum": range.start(), "maximum": range.end() })
}

fn text_like(pattern: &str) -> Value {
    json!({ "type": "string", "pattern": pattern })
}

fn like(pattern: &str, examples: &[String]) -> Value {
    json!({ "type": "string", "pattern": pattern, "examples": examples })
}

/// A value of a file as JSON has it.
fn json_of(value: &str) -> Option<Value> {
    let file: toml::Table = format!("value = {value}").parse().ok()?;
    serde_json::to_value(file.get("value")?).ok()
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}
