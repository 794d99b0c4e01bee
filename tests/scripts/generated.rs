//! The tables of fields in DEVELOPERS.md are those of the schemas, which come from the types of the
//! documents and their comments. `HANGBAR_REWRITE=1 cargo test --test scripts` writes them anew.

use std::collections::BTreeMap;
use std::fs;

use hangbar::report::SchemaOf;
use hangbar::{debrief, finding};
use serde_json::Value;

use crate::program::{developers, root};

/// A row: path, unit, meaning.
type Row = [String; 3];

/// The rows of one document after the other: what has been said of an object is not said twice.
#[derive(Default)]
struct Tables {
    /// Each object by its schema, with its path and the form of the document that says it.
    said: BTreeMap<String, (String, String)>,
    rows: Vec<Row>,
    form: String,
    definitions: Value,
}

/// `a`, `b` or `c`.
fn listed(words: &[&str]) -> String {
    let words: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    match words.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// A description as a table has it: its unit stands in a column of its own.
fn meaning(description: &str, unit: &str, words: &[&str]) -> String {
    let text = description.trim_end_matches('.');
    let mut letters = text.chars();
    let (first, second) = (letters.next().unwrap(), letters.next());
    let mut text = if second.is_some_and(char::is_uppercase) {
        text.to_owned()
    } else {
        first.to_lowercase().chain(text.chars().skip(1)).collect()
    };
    let with_unit = format!(", {unit}");
    let ends = |at: &usize| text[at + with_unit.len()..].chars().next();
    let found = text.match_indices(&with_unit).map(|(at, _)| at);
    let found: Vec<usize> = found
        .filter(|at| ends(at).is_none_or(|next| ";:,".contains(next)))
        .collect();
    if let Some(at) = found.last() {
        text.replace_range(*at..at + with_unit.len(), "");
    }
    if !words.is_empty() && !words.iter().any(|word| text.contains(&format!("`{word}`"))) {
        let end = text.find(';').unwrap_or(text.len());
        text.insert_str(end, &format!(": {}", listed(words)));
    }
    text
}

/// A schema without what lets it be null.
fn not_null(schema: &Value) -> &Value {
    if schema.get("type").is_some() {
        return schema;
    }
    let one_of = schema["anyOf"].as_array();
    let one = one_of.and_then(|any| any.iter().find(|one| one["type"] != "null"));
    one.unwrap_or(schema)
}

/// The word of a schema's type that is not null.
fn kind(schema: &Value) -> &str {
    let kinds = schema["type"].as_array();
    let kind = kinds.and_then(|kinds| kinds.iter().find(|kind| *kind != "null"));
    kind.unwrap_or(&schema["type"]).as_str().unwrap_or_default()
}

/// The words of a list of them.
fn words(schema: &Value) -> Vec<&str> {
    let single = schema["enum"].as_array().into_iter().flatten();
    let told = schema["oneOf"].as_array().into_iter().flatten();
    let told = told.flat_map(|one| {
        let more = one["enum"].as_array().into_iter().flatten();
        more.chain(one.get("const"))
    });
    single
        .chain(told)
        .map(|word| word.as_str().unwrap())
        .collect()
}

/// The objects that a schema is one of.
fn objects(schema: &Value) -> Vec<&Value> {
    if kind(schema) == "object" {
        return vec![schema];
    }
    let variants = schema["oneOf"].as_array().into_iter().flatten();
    variants.filter(|one| kind(one) == "object").collect()
}

impl Tables {
    fn document(&mut self, schema: &Value) -> Vec<Row> {
        self.form = schema["title"].as_str().unwrap().to_owned();
        self.definitions = schema["$defs"].clone();
        self.object("", schema);
        std::mem::take(&mut self.rows)
    }

    fn at<'s>(definitions: &'s Value, schema: &'s Value) -> &'s Value {
        match schema["$ref"].as_str() {
            Some(name) => &definitions[name.strip_prefix("#/$defs/").unwrap()],
            None => schema,
        }
    }

    fn object(&mut self, path: &str, schema: &Value) {
        let variants = objects(schema);
        let mut told: Vec<&str> = Vec::new();
        for variant in &variants {
            for name in variant["required"].as_array().into_iter().flatten() {
                let name = name.as_str().unwrap();
                if told.contains(&name) {
                    continue;
                }
                told.push(name);
                let has = |one: &&&Value| one["properties"].get(name).is_some();
                let with: Vec<&&Value> = variants.iter().filter(has).collect();
                let consts = with.iter().map(|one| &one["properties"][name]["const"]);
                let consts: Vec<&str> = consts.filter_map(Value::as_str).collect();
                let mut field = variant["properties"][name].clone();
                if variants.len() > 1 && consts.len() == variants.len() {
                    field = serde_json::json!({ "enum": consts, "description": "Which it is." });
                } else if with.len() < variants.len() {
                    let only = &variant["properties"]["kind"]["const"];
                    let words = field["description"].as_str().unwrap().trim_end_matches('.');
                    let words = format!("{words}; of `{}` alone", only.as_str().unwrap());
                    field["description"] = words.into();
                }
                let path = match path {
                    "" => name.to_owned(),
                    path => format!("{path}.{name}"),
                };
                self.field(path, &field);
            }
        }
    }

    fn field(&mut self, mut path: String, field: &Value) {
        let definitions = self.definitions.clone();
        let own = not_null(field);
        let is_list = kind(own) == "array";
        if is_list {
            path.push_str("[]");
        }
        let target = Self::at(&definitions, if is_list { &own["items"] } else { own });
        let target = not_null(target);
        let is_document = target["properties"]["schema"].get("const").is_some();
        let is_object = !objects(target).is_empty();
        let words = if is_list { Vec::new() } else { words(target) };
        let unit = match kind(target) {
            _ if is_list => "list",
            _ if is_object => "object",
            _ if !words.is_empty() => "word",
            "string" if field.get("anyOf").is_some() => "code",
            "string" => "text",
            "boolean" => "true/false",
            _ => field["x-unit"].as_str().unwrap_or("number"),
        };
        let description = field["description"].as_str();
        let description = description.unwrap_or_else(|| panic!("{path} is not described"));
        let meaning = meaning(description, unit, &words);
        let schema = target.to_string();
        let said = self.said.get(&schema).filter(|_| is_object && !is_document);
        let meaning = match said {
            Some((like, form)) => format!("as `{like}` of `{form}`: {meaning}"),
            None => meaning,
        };
        let is_new = said.is_none() && is_object && !is_document;
        self.rows.push([path.clone(), unit.to_owned(), meaning]);
        if is_new {
            self.said.insert(schema, (path.clone(), self.form.clone()));
            self.object(&path, target);
        }
    }
}

/// A text with the table that stands first under a heading in the place of the one there.
fn with_table(text: &str, heading: &str, rows: &[Row]) -> String {
    let start = text.find(heading).unwrap_or_else(|| panic!("no {heading}"));
    let table = start + text[start..].find("\n| ").unwrap() + 1;
    let end = table + text[table..].find("\n\n").unwrap() + 1;
    let mut lines = "| field | unit | meaning |\n| --- | --- | --- |\n".to_owned();
    for [path, unit, meaning] in rows {
        assert!(!meaning.contains('|'), "{path}: {meaning}");
        lines.push_str(&format!("| `{path}` | {unit} | {meaning} |\n"));
    }
    format!("{}{lines}{}", &text[..table], &text[end..])
}

/// A text with the meanings of codes in the table under a heading; their levels stay.
fn with_meanings(text: &str, heading: &str, codes: &[(&str, &str)]) -> String {
    let (before, section) = text.split_once(heading).unwrap();
    let (table, after) = section.trim_start().split_once("\n\n").unwrap();
    let rows = table.lines().map(|line| {
        let cells: Vec<&str> = line.split(" | ").collect();
        let code = cells[0].trim_matches(['|', ' ', '`']);
        match codes.iter().find(|(known, _)| *known == code) {
            Some((_, meaning)) => format!("{} | {} | {meaning} |", cells[0], cells[1]),
            None => line.to_owned(),
        }
    });
    let rows: Vec<String> = rows.collect();
    format!("{before}{heading}\n{}\n\n{after}", rows.join("\n"))
}

#[test]
fn the_tables_of_fields_and_codes_are_those_of_the_schemas() {
    let kept = developers();
    let mut tables = Tables::default();
    let mut text = kept.clone();
    for of in SchemaOf::ALL {
        let schema = of.schema();
        let title = schema["title"].as_str().unwrap();
        if title.starts_with("hangbar/") {
            let rows = tables.document(&schema);
            assert!(rows.len() > 5, "{title}");
            text = with_table(&text, &format!("\n### `{title}`"), &rows);
        }
    }
    for (heading, codes) in [
        ("\n### Codes of findings\n", finding::MEANINGS),
        ("\n### Codes of a debrief\n", debrief::MEANINGS),
    ] {
        text = with_meanings(&text, heading, codes);
    }
    if std::env::var_os("HANGBAR_REWRITE").is_some() {
        fs::write(root().join("DEVELOPERS.md"), text).unwrap();
        return;
    }
    let lines = text.lines().zip(kept.lines());
    let other = lines.filter(|(new, old)| new != old).take(5);
    let other: Vec<String> = other
        .map(|(new, old)| format!("- {old}\n+ {new}"))
        .collect();
    assert!(
        text == kept,
        "the tables are other ones:\n{}",
        other.join("\n")
    );
}
