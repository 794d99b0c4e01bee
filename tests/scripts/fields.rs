//! The fields of every document: the tables in DEVELOPERS.md have them all, and no other.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use serde_json::Value;

use crate::folder::Folder;
use crate::json_schema::faults;
use crate::program::{ALL, BROKEN, Ended, LATE, REEF, SKETCH, STUCK, developers, root, run};
use crate::schemas::schema_of;
use crate::tables::table;

/// One row about a field.
#[derive(Clone, Debug)]
struct Field {
    unit: String,
    meaning: String,
}

/// Path of a field, such as `divers[].levels[].left_bar`, and its row.
type Fields = BTreeMap<String, Field>;

/// What stands between grave accents.
fn quoted(text: &str) -> Vec<&str> {
    text.split('`').skip(1).step_by(2).collect()
}

/// The fields of each document by the name of its schema; "as … of …" taken for what it means.
fn documented() -> BTreeMap<String, Fields> {
    let text = developers();
    let mut documents: BTreeMap<String, Fields> = BTreeMap::new();
    for section in text.split("\n### `hangbar/").skip(1) {
        let schema = format!("hangbar/{}", section.split('`').next().unwrap());
        let mut fields = Fields::new();
        for row in table(section) {
            let [path, unit, meaning] = row.as_slice() else {
                panic!("{schema}: a row of {} cells: {row:?}", row.len());
            };
            let field = Field {
                unit: unit.clone(),
                meaning: meaning.clone(),
            };
            let path = path.trim_matches('`').to_owned();
            assert!(!field.meaning.is_empty(), "{schema} {path}");
            let twice = fields.insert(path.clone(), field);
            assert!(twice.is_none(), "{schema} {path} stands there twice");
        }
        assert!(documents.insert(schema, fields).is_none());
    }
    // What another document says, and what that takes from a third place.
    for _ in 0..4 {
        take_from_others(&mut documents);
    }
    documents
}

/// Gives a field "as … of …" the fields below the one that it is like.
fn take_from_others(documents: &mut BTreeMap<String, Fields>) {
    let known = documents.clone();
    for fields in documents.values_mut() {
        for (path, field) in &fields.clone() {
            let Some(words) = field.meaning.strip_prefix("as `") else {
                continue;
            };
            let (like, rest) = words.split_once('`').unwrap();
            let schema = quoted(rest)[0];
            for (other, field) in &known[schema] {
                let below = other.strip_prefix(like).unwrap_or_default();
                if below.starts_with('.') {
                    let own = fields.entry(format!("{path}{below}"));
                    own.or_insert_with(|| field.clone());
                }
            }
        }
    }
}

/// What was seen of one field in real documents.
#[derive(Debug, Default)]
struct Seen {
    null: bool,
    values: Vec<Value>,
}

/// Every key of a document with its values, whatever they are in.
fn walk(path: &str, value: &Value, seen: &mut BTreeMap<String, Seen>) {
    let Value::Object(entries) = value else {
        return;
    };
    if !path.is_empty() && entries.contains_key("schema") {
        // A document in a document has a table of its own.
        return;
    }
    for (key, value) in entries {
        let mut here = match path {
            "" => key.clone(),
            path => format!("{path}.{key}"),
        };
        if let Value::Array(items) = value {
            here.push_str("[]");
            for item in items {
                walk(&here, item, seen);
            }
        }
        walk(&here, value, seen);
        let field = seen.entry(here).or_default();
        match value {
            Value::Null => field.null = true,
            value => field.values.push(value.clone()),
        }
    }
}

/// Left 0.3 minutes earlier it needs more gas: its stops wait longer for a whole minute.
const WAITS: &str = r#"[profile]
depth = "40 m"
bottom_time = "12.3 min"
staged = true

[reserve]
floor = "0 bar"
stress = 5
turn = "all"

[[diver]]
name = "Noor"
sac = "5 L/min"
cylinder = { size = "100 L", fill = "48 bar" }

[[diver]]
name = "Ada"
sac = "30 L/min"
cylinder = { size = "100 L", fill = "300 bar" }
"#;

/// A bottle too small: more in it, or a larger one, would do.
const THIRSTY: &str = r#"[profile]
depth = "18 m"
bottom_time = "40 min"

[[diver]]
name = "Noor"
sac = "15 L/min"
cylinder = { size = "12 L", fill = "120 bar" }
"#;

/// Half an hour late the long stop takes up more gas than it may.
const LONG_STOP: &str = r#"[profile]
depth = "18 m"
bottom_time = "5 min"

[ascent]
safety_stop = { depth = "15 m", time = "25 min" }

[[diver]]
name = "Noor"
sac = "10 L/min"
cylinder = { size = "2x20 L", fill = "230 bar" }
"#;

/// Two gases for the way up: without the one the other is breathed.
const TWO_GASES: &str = r#"[profile]
depth = "32 m"
bottom_time = "45 min"

[gas]
bottom = "EAN28"
decompression = ["EAN50", "oxygen"]

[[diver]]
name = "Noor"
sac = "14 L/min"
cylinder = { size = "2x12 L", fill = "220 bar" }
stage = [
    { gas = "EAN50", size = "11 L", fill = "190 bar" },
    { gas = "oxygen", size = "7 L", fill = "190 bar" },
]

[[diver]]
name = "Ada"
sac = "20 L/min"
cylinder = { size = "2x12 L", fill = "180 bar" }
"#;

/// Without its gas the last stop never clears.
const ONE_GAS: &str = r#"[profile]
depth = "30 m"
bottom_time = "25 min"

[ascent]
last_stop = "6 m"

[model]
gradient_factors = [10, 10]

[gas]
decompression = ["EAN50"]

[[diver]]
name = "Noor"
sac = "15 L/min"
cylinder = { size = "2x12 L", fill = "220 bar" }
"#;

/// Every document of the plans of the charter, and of plans with what those have not.
fn documents() -> Vec<Value> {
    let mut documents = Vec::new();
    let mut add = |ended: Ended| {
        for line in serde_json::Deserializer::from_str(&ended.stdout).into_iter::<Value>() {
            documents.push(line.unwrap());
        }
    };
    let charter = fs::read_dir(root().join("plans")).unwrap();
    let charter = charter.map(|entry| fs::read_to_string(entry.unwrap().path()).unwrap());
    let own = [
        REEF, LATE, SKETCH, WAITS, THIRSTY, LONG_STOP, TWO_GASES, ONE_GAS, BROKEN, STUCK,
    ];
    for plan in charter.chain(own.map(str::to_owned)) {
        for command in ALL {
            add(run(&[command, "-", "--format", "json"], &plan));
        }
    }
    add(run(
        &["limits", "--to", "90m", "--step", "20m", "--format", "json"],
        "",
    ));
    for line in [
        "air --depth 6m",
        "EAN32 --depth 45m",
        "oxygen --oxygen-limit 0.5bar --water fresh",
        "--best-for 24m --plan plans/kittiwake-wall.toml --blend 200bar",
        "18/45 --depth 80m --blend 200bar",
        "18/45 --depth 50m --blend 200bar",
        "EAN50 --depth 21m",
    ] {
        let words: Vec<&str> = ["mix", "--format", "json"]
            .into_iter()
            .chain(line.split(' '))
            .collect();
        add(run(&words, ""));
    }
    add(run(
        &["whatif", "-", "--late", "29min", "--format", "json"],
        LONG_STOP,
    ));
    add(run(
        &["brief", "-", "--depth", "18", "--format", "json"],
        REEF,
    ));
    let day = [
        "day",
        "plans/kittiwake-wall.toml",
        "plans/slack-water.toml",
        "--format",
        "json",
    ];
    add(run(&day, ""));
    for hour in ["15:00", "11:00"] {
        add(run(&[&day[..], &["--home-by", hour]].concat(), ""));
    }
    add(run(&[&day[..], &["--fly-at", "18:00"]].concat(), ""));
    let up = [
        "day",
        "plans/kittiwake-wall.toml",
        "plans/hollin-tarn-same-day.toml",
        "--interval",
        "60min",
        "--format",
        "json",
    ];
    add(run(&up, ""));
    for at in ["14:30", "14:30+2"] {
        add(run(
            &[
                "brief", "-", "--fly-at", at, "--splash", "9:00", "--format", "json",
            ],
            REEF,
        ));
    }
    for more in [&[][..], &["--record"]] {
        add(run(&[&["keys", "--format", "json"], more].concat(), ""));
    }
    for records in [
        ["long-ledge", "Nils=tests/data/bolted.csv"],
        ["slack-water", "examples/records/slack-water-pencil.toml"],
        [
            "kittiwake-wall",
            "examples/records/kittiwake-wall-idris.uddf",
        ],
        ["anvil", "Sabine=tests/data/gap.csv"],
    ] {
        let plan = format!("plans/{}.toml", records[0]);
        add(run(&["debrief", &plan, records[1], "--format", "json"], ""));
    }
    // A folder of hidden things only: a skip, and no plan.
    let folder = Folder::new("scripts-skips");
    folder.write(".hidden.toml", REEF);
    add(run(
        &["check", folder.path().to_str().unwrap(), "--format", "json"],
        "",
    ));
    documents
}

/// Whether the unit in a field's row is that of its name and of its values.
fn unit_fits(path: &str, unit: &str, values: &[Value]) -> bool {
    const ENDINGS: &[(&str, &str)] = &[
        ("_m_per_min", "m/min"),
        ("_l_per_min", "L/min"),
        ("_atm_min", "atm·min"),
        ("_g_per_l", "g/L"),
        ("_c", "°C"),
        ("bar_per_m", "bar/m"),
        ("_m", "m"),
        ("_min", "min"),
        ("_bar", "bar"),
        ("_l", "L"),
        ("_pct", "%"),
        ("_kg", "kg"),
    ];
    let by_name = ENDINGS.iter().find(|(ending, _)| path.ends_with(ending));
    if let Some((_, by_name)) = by_name {
        return unit == *by_name && values.iter().all(Value::is_number);
    }
    values.iter().all(|value| match value {
        Value::String(_) => matches!(unit, "text" | "word" | "code"),
        Value::Bool(_) => unit == "true/false",
        Value::Number(_) => unit == "number",
        Value::Array(_) => unit == "list",
        Value::Object(_) => unit == "object",
        Value::Null => false,
    })
}

#[test]
fn every_field_of_every_document_is_in_the_tables_and_the_other_way_round() {
    let documented = documented();
    let mut seen: BTreeMap<String, BTreeMap<String, Seen>> = BTreeMap::new();
    let mut schemas: BTreeMap<String, Value> = BTreeMap::new();
    for document in documents() {
        let name = document["schema"].as_str().unwrap();
        let schema = schemas.entry(name.to_owned());
        let faults = faults(schema.or_insert_with(|| schema_of(&document)), &document);
        assert_eq!(faults, Vec::<String>::new(), "{name} by its schema");
        let schema = document["schema"].as_str().unwrap().to_owned();
        walk("", &document, seen.entry(schema).or_default());
    }
    let names: Vec<&String> = seen.keys().collect();
    assert_eq!(names, documented.keys().collect::<Vec<_>>());
    let mut wrong = Vec::new();
    for (schema, fields) in &documented {
        let seen = &seen[schema];
        for path in fields.keys() {
            if !seen.contains_key(path) {
                wrong.push(format!("{schema} {path}: no document has it"));
            }
        }
        for (path, seen) in seen {
            let Some(field) = fields.get(path) else {
                wrong.push(format!("{schema} {path}: not in the table"));
                continue;
            };
            let mut expect = |fits: bool, what: &str| {
                if !fits {
                    wrong.push(format!("{schema} {path}: {what}: {field:?}"));
                }
            };
            let values = &seen.values;
            expect(unit_fits(path, &field.unit, values), "another unit");
            expect(
                !seen.null || field.meaning.contains("null"),
                "may be null, and the table does not say when",
            );
            if field.unit == "word" {
                let words = quoted(&field.meaning);
                let found: BTreeSet<&str> = values.iter().filter_map(Value::as_str).collect();
                for word in found {
                    expect(words.contains(&word), &format!("`{word}` is not named"));
                }
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
