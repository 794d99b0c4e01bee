//! A validator of JSON Schema (draft 2020-12) for the schemas that `hangbar schema` gives: it knows the
//! keywords that they have, and refuses a schema with any other, so that none is passed over.

use std::cell::RefCell;
use std::collections::BTreeMap;

use regex::Regex;
use serde_json::{Map, Value};

/// Says nothing about what is valid.
const ANNOTATIONS: [&str; 8] = [
    "$schema",
    "$defs",
    "title",
    "description",
    "default",
    "examples",
    "format",
    "x-unit",
];

/// Each place of a value that a schema refuses, and why; none where it is valid.
pub(crate) fn faults(schema: &Value, value: &Value) -> Vec<String> {
    let mut faults = Vec::new();
    Validator { root: schema }.check(schema, value, "", &mut faults);
    faults
}

struct Validator<'s> {
    root: &'s Value,
}

impl Validator<'_> {
    fn is_valid(&self, schema: &Value, value: &Value) -> bool {
        let mut faults = Vec::new();
        self.check(schema, value, "", &mut faults);
        faults.is_empty()
    }

    fn check(&self, schema: &Value, value: &Value, place: &str, faults: &mut Vec<String>) {
        let keywords = match schema {
            Value::Bool(true) => return,
            Value::Bool(false) => {
                faults.push(format!("{place}: nothing may be here"));
                return;
            }
            schema => schema.as_object().expect("a schema is an object or a flag"),
        };
        for (keyword, wanted) in keywords {
            let mut must = |holds: bool| {
                if !holds {
                    let (wanted, value) = (wanted.to_string(), value.to_string());
                    faults.push(format!("{place}: {keyword} {wanted:.80}: {value:.80}"));
                }
            };
            match keyword.as_str() {
                "type" => must(is_of_type(value, wanted)),
                "enum" => must(list(wanted).contains(value)),
                "const" => must(value == wanted),
                "minimum" => must(value.as_f64().is_none_or(|it| it >= number(wanted))),
                "maximum" => must(value.as_f64().is_none_or(|it| it <= number(wanted))),
                "maxLength" => must(
                    value
                        .as_str()
                        .is_none_or(|it| it.chars().count() <= count(wanted)),
                ),
                "pattern" => must(value.as_str().is_none_or(|it| pattern(wanted).is_match(it))),
                "minItems" => must(value.as_array().is_none_or(|it| it.len() >= count(wanted))),
                "maxItems" => must(value.as_array().is_none_or(|it| it.len() <= count(wanted))),
                "required" => must(value.as_object().is_none_or(|it| has_all(it, wanted))),
                "dependentRequired" => must(value.as_object().is_none_or(|it| {
                    let mut needs = wanted.as_object().unwrap().iter();
                    needs.all(|(key, others)| !it.contains_key(key) || has_all(it, others))
                })),
                "not" => must(!self.is_valid(wanted, value)),
                "anyOf" => must(list(wanted).iter().any(|one| self.is_valid(one, value))),
                "oneOf" => {
                    let fits = list(wanted).iter().filter(|one| self.is_valid(one, value));
                    must(fits.count() == 1);
                }
                "$ref" => {
                    let name = wanted.as_str().unwrap().strip_prefix("#/$defs/").unwrap();
                    self.check(&self.root["$defs"][name], value, place, faults);
                }
                "items" => {
                    for (index, item) in value.as_array().into_iter().flatten().enumerate() {
                        self.check(wanted, item, &format!("{place}/{index}"), faults);
                    }
                }
                "properties" => {
                    for (key, value) in value.as_object().into_iter().flatten() {
                        if let Some(schema) = wanted.get(key) {
                            self.check(schema, value, &format!("{place}/{key}"), faults);
                        }
                    }
                }
                "additionalProperties" => {
                    for (key, value) in value.as_object().into_iter().flatten() {
                        if keywords["properties"].get(key).is_none() {
                            self.check(wanted, value, &format!("{place}/{key}"), faults);
                        }
                    }
                }
                other => assert!(ANNOTATIONS.contains(&other), "unknown keyword {other}"),
            }
        }
    }
}

fn is_of_type(value: &Value, wanted: &Value) -> bool {
    match wanted {
        Value::Array(any) => any.iter().any(|one| is_of_type(value, one)),
        one => match one.as_str().unwrap() {
            "object" => value.is_object(),
            "array" => value.is_array(),
            "string" => value.is_string(),
            "boolean" => value.is_boolean(),
            "null" => value.is_null(),
            "number" => value.is_number(),
            "integer" => value.as_f64().is_some_and(|it| it.fract() == 0.0),
            other => panic!("unknown type {other}"),
        },
    }
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().expect("a list of this keyword")
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number of this keyword")
}

fn count(value: &Value) -> usize {
    usize::try_from(value.as_u64().expect("a count of this keyword")).unwrap()
}

/// To make one takes long, and the same come again and again.
fn pattern(value: &Value) -> Regex {
    thread_local! {
        static KNOWN: RefCell<BTreeMap<String, Regex>> = const { RefCell::new(BTreeMap::new()) };
    }
    let text = value.as_str().unwrap();
    let new = || Regex::new(text).expect("a regular expression of this keyword");
    KNOWN.with_borrow_mut(|known| known.entry(text.to_owned()).or_insert_with(new).clone())
}

fn has_all(object: &Map<String, Value>, names: &Value) -> bool {
    list(names)
        .iter()
        .all(|name| object.contains_key(name.as_str().unwrap()))
}
