//! The table of keys, as scripts are given it, held against what the reader does.

use hangbar::briefing;
use hangbar::plan_file::{Problem, read, read_pencil};
use hangbar::report::document::{Briefing, Key, KeyHolds, KeyTable, Keys};
use hangbar::report::{KeyFile, KeySheet};
use toml::{Table, Value};

use crate::compare::compare;

/// A plan with every table in it.
const WHOLE: &str = r#"
[site]
arrived = "3 h"

[profile]
level = [{ depth = "18 m", time = "20 min" }]

[ascent]
safety_stop = { depth = "5 m", time = "3 min" }

[model]

[gas]
decompression = ["EAN50"]

[reserve]
hang = { depth = "5 m", time = "5 min" }

[surface]

[[diver]]
name = "Ines"
sac = "15 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
pony = { size = "3 L", fill = "200 bar" }
stage = [{ gas = "EAN50", size = "7 L", fill = "200 bar" }]

[[before]]
level = [{ depth = "12 m", time = "20 min" }]
surface_interval = "75 min"
"#;

/// A record with its one table.
const LOG: &str = r#"
[[diver]]
name = "Ines"
greatest_depth = "18 m"
bottom_time = "20 min"
start_pressure = "200 bar"
end_pressure = "90 bar"
"#;

/// A plan that says nothing but what it must, of divers who come from elsewhere.
const BARE: &str = r#"
[site]
arrived = "3 h"

[profile]
depth = "18 m"
bottom_time = "30 min"

[ascent.safety_stop]

[model]

[gas]

[reserve]

[surface]

[[diver]]
name = "Ines"
sac = "15 L/min"
cylinder = { size = "15 L", fill = "220 bar" }
"#;

fn tables(file: KeyFile) -> Vec<KeyTable> {
    Keys::try_from(&KeySheet::all(file)).unwrap().tables
}

/// The table at a path, the first of a list.
fn table_at<'t>(root: &'t mut Table, path: &str) -> &'t mut Table {
    let mut here = root;
    for name in path.split('.').filter(|name| !name.is_empty()) {
        here = match here.get_mut(name).unwrap() {
            Value::Array(items) => items[0].as_table_mut().unwrap(),
            below => below.as_table_mut().unwrap(),
        };
    }
    here
}

/// A file with a key of a table put in, or put in place of what it has; what says the same in
/// another way goes.
fn with(file: &str, table: &str, key: &str, value: &str) -> String {
    let mut root: Table = file.parse().unwrap();
    let here = table_at(&mut root, table);
    let given: Table = format!("value = {value}").parse().unwrap();
    here.insert(key.to_owned(), given["value"].clone());
    let beside: &[(&str, &str)] = match key {
        "depth" if here.remove("level").is_some() => &[("bottom_time", "20 min")],
        "bottom_time" if here.remove("level").is_some() => &[("depth", "18 m")],
        "rated" if here.remove("size").is_some() => &[("at", "200 bar")],
        "last_stop" if value.contains("ft") => &[("stop_spacing", "10 ft")],
        _ => &[],
    };
    for (key, value) in beside {
        here.insert((*key).to_owned(), (*value).into());
    }
    root.to_string()
}

/// What is wrong with a plan, or with a record of one.
fn problems(file: KeyFile, text: &str) -> Vec<Problem> {
    let refused = match file {
        KeyFile::Plan => read(text).err(),
        KeyFile::Record => read_pencil(text, &read(WHOLE).unwrap()).err(),
    };
    refused.map_or_else(Vec::new, |errors| errors.problems().to_vec())
}

/// Every key of both files with its table and a file that has the table.
fn every_key() -> Vec<(KeyFile, KeyTable, Key)> {
    let files = [KeyFile::Plan, KeyFile::Record].into_iter();
    let tables = files.flat_map(|file| tables(file).into_iter().map(move |table| (file, table)));
    let keys = tables.flat_map(|(file, table)| {
        let keys = table.keys.clone().into_iter();
        keys.map(move |key| (file, table.clone(), key))
    });
    keys.collect()
}

const fn whole(file: KeyFile) -> &'static str {
    match file {
        KeyFile::Plan => WHOLE,
        KeyFile::Record => LOG,
    }
}

/// What is said of a key that has a value.
fn said_of(file: KeyFile, table: &KeyTable, key: &Key, value: &str) -> Vec<Problem> {
    let text = with(whole(file), &table.path, &key.name, value);
    let mut problems = problems(file, &text);
    problems.retain(|problem| problem.key.as_deref() == Some(&key.name));
    problems
}

#[test]
fn there_is_a_whole_plan_and_a_whole_record_to_begin_with() {
    assert_eq!(problems(KeyFile::Plan, WHOLE), []);
    assert_eq!(problems(KeyFile::Record, LOG), []);
    assert_eq!(problems(KeyFile::Plan, BARE), []);
    assert!(every_key().len() > 80);
}

#[test]
fn the_reader_reads_every_key_of_the_table() {
    for (file, table, key) in every_key() {
        let mut said = said_of(file, &table, &key, "1979-05-27");
        said.retain(|problem| problem.message.contains("1979-05-27"));
        let place = format!("{file:?} {} {}: {said:?}", table.path, key.name);
        assert_eq!(said.len(), 1, "{place}");
        assert!(!said[0].message.contains("unknown"), "{place}");
    }
}

#[test]
fn the_reader_knows_no_other_key_and_names_those_of_the_table() {
    for file in [KeyFile::Plan, KeyFile::Record] {
        for table in tables(file) {
            let text = with(whole(file), &table.path, "zzzzzzzz", "1");
            let problems = problems(file, &text);
            let unknown = problems
                .iter()
                .find(|problem| problem.message == "unknown key `zzzzzzzz`");
            let accepted = unknown.and_then(|problem| problem.accepted.clone());
            let names: Vec<&str> = table.keys.iter().map(|key| key.name.as_str()).collect();
            assert_eq!(accepted, Some(names.join(", ")), "{}", table.path);
        }
    }
}

#[test]
fn the_reader_takes_both_ends_of_every_range_and_nothing_past_them() {
    let mut ranges = 0;
    for (file, table, key) in every_key() {
        let is_out = |number: f64, unit: &str| {
            let value = match (key.holds, unit) {
                (KeyHolds::TwoNumbers, _) => format!("[{number:?}, {number:?}]"),
                (_, "") => format!("{number:?}"),
                _ => format!("\"{number} {unit}\""),
            };
            let said = said_of(file, &table, &key, &value);
            said.iter().any(|problem| {
                let plain = unit.is_empty() && problem.accepted.is_some();
                plain || problem.message.contains("out of range")
            })
        };
        for range in &key.ranges {
            let unit = range.units.first().map_or("", String::as_str);
            // Depths of stops are but a few of their range; a rate of pressure is held to what it
            // comes to.
            let is_judged_otherwise = !key.words.is_empty() && key.holds == KeyHolds::Quantity;
            if is_judged_otherwise {
                continue;
            }
            ranges += 1;
            let place = format!("{} {} {range:?}", table.path, key.name);
            let step = (range.greatest - range.least) * 1e-6;
            assert!(!is_out(range.least, unit), "{place}");
            assert!(!is_out(range.greatest, unit), "{place}");
            assert!(is_out(range.least - step, unit), "{place}");
            assert!(is_out(range.greatest + step, unit), "{place}");
        }
    }
    assert!(ranges > 40, "{ranges}");
}

#[test]
fn the_reader_takes_every_word_of_the_table_and_names_them_where_another_stands() {
    let mut words = 0;
    for (file, table, key) in every_key() {
        let is_refused = |word: &str| {
            let said = said_of(file, &table, &key, &format!("\"{word}\""));
            let about = said.into_iter().find(|problem| {
                let shown = format!("`{}` is \"{word}\"", key.name);
                problem.message == shown || problem.message.contains(&format!("is {word};"))
            });
            about.map(|problem| problem.accepted.unwrap_or_default())
        };
        if key.words.is_empty() {
            continue;
        }
        words += 1;
        for word in &key.words {
            assert_eq!(is_refused(word), None, "{} {}", table.path, key.name);
        }
        let another = if key.holds == KeyHolds::Quantity {
            "4.5 m"
        } else {
            "zzzzzzzz"
        };
        let accepted = is_refused(another).unwrap_or_else(|| panic!("{} is taken", key.name));
        let fits = key.words.iter().filter(|word| accepted.contains(*word));
        // The last stops are named for the spacing that holds.
        let least = if key.name == "last_stop" {
            2
        } else {
            key.words.len()
        };
        assert!(fits.count() >= least, "{}: {accepted}", key.name);
    }
    assert!(words >= 8, "{words}");
}

/// So many tables as the first of a list, each of another name.
fn copies(file: &str, table: &str, key: &str, count: usize) -> String {
    let mut root: Table = file.parse().unwrap();
    let first = table_at(&mut root, table)[key][0].clone();
    let numbered = (0..count).map(|number| {
        let mut copy = first.clone();
        if let Some(name) = copy.get_mut("name") {
            *name = format!("Ines {number}").into();
        }
        copy
    });
    Value::Array(numbered.collect()).to_string()
}

#[test]
fn the_reader_takes_as_many_as_the_table_says_and_no_more() {
    let mut bounds = 0;
    for (file, table, key) in every_key() {
        let Some(most) = key.most else {
            continue;
        };
        bounds += 1;
        let value = |count: usize| match key.holds {
            KeyHolds::Text => format!("\"{}\"", "a".repeat(count)),
            KeyHolds::Gases => {
                let gases = (0..count).map(|index| format!("\"EAN{}\"", 40 + index));
                format!("[{}]", gases.collect::<Vec<_>>().join(", "))
            }
            _ => copies(whole(file), &table.path, &key.name, count),
        };
        let is_over = |count: usize| {
            let text = with(whole(file), &table.path, &key.name, &value(count));
            let problems = problems(file, &text);
            let mut messages = problems.iter().map(|problem| &problem.message);
            messages.any(|message| {
                message.contains("too many")
                    || message.ends_with(&format!("has {count} characters"))
            })
        };
        let place = format!("{} {}", table.path, key.name);
        assert!(!is_over(most), "{place}");
        assert!(is_over(most + 1), "{place}");
    }
    assert!(bounds >= 8, "{bounds}");
}

#[test]
fn a_key_that_must_be_there_is_missed_and_no_other() {
    for (file, table, key) in every_key() {
        let mut root: Table = whole(file).parse().unwrap();
        table_at(&mut root, &table.path).remove(&key.name);
        let missing = format!("`{}` is missing", key.name);
        let problems = problems(file, &root.to_string());
        let said = problems.iter().any(|problem| problem.message == missing);
        assert_eq!(
            said, key.required,
            "{} {}: {problems:?}",
            table.path, key.name
        );
    }
}

/// The briefing of a plan in these units.
fn briefed(units: &str, text: &str) -> serde_json::Value {
    let plan = read(&with(text, "", "units", &format!("\"{units}\""))).unwrap();
    let briefing = briefing::brief(plan).unwrap();
    serde_json::to_value(Briefing::try_from(&briefing).unwrap()).unwrap()
}

#[test]
fn a_key_left_out_is_the_same_as_its_default() {
    let mut defaults = 0;
    for (file, table, key) in every_key() {
        let values = [
            ("metric", &key.without_metric),
            ("imperial", &key.without_imperial),
        ];
        for (units, value) in values {
            let Some(value) = value.as_ref().filter(|_| key.name != "units") else {
                continue;
            };
            assert_eq!(file, KeyFile::Plan);
            defaults += 1;
            let given = with(BARE, &table.path, &key.name, value);
            let mut wrong = Vec::new();
            compare(
                "",
                &briefed(units, BARE),
                &briefed(units, &given),
                &mut wrong,
            );
            assert!(wrong.is_empty(), "{} {}: {wrong:?}", table.path, key.name);
        }
    }
    assert!(defaults >= 40, "{defaults}");
    let metric = with(BARE, "", "units", "\"metric\"");
    assert_eq!(read(&metric).unwrap(), read(BARE).unwrap());
}

/// Were a default another one, the test above would see it.
#[test]
fn another_value_than_the_default_is_another_dive() {
    for (table, key, value) in [
        ("site", "temperature", "\"16 C\""),
        ("ascent", "rate", "\"8.9 m/min\""),
        ("ascent.safety_stop", "time", "\"3.1 min\""),
        ("reserve", "floor", "\"140 bar\""),
        ("surface", "overdue_after", "\"11 min\""),
        ("model", "gradient_factors", "[40, 84]"),
    ] {
        let given = with(BARE, table, key, value);
        let mut wrong = Vec::new();
        compare(
            "",
            &briefed("metric", BARE),
            &briefed("metric", &given),
            &mut wrong,
        );
        assert!(!wrong.is_empty(), "{table} {key}");
    }
}

/// The example of the README says of itself that it uses every key.
#[test]
fn the_readme_s_plan_has_every_key_but_those_that_say_the_same_as_another() {
    let readme = include_str!("../../README.md");
    let example = readme.split("```toml\n").nth(1).unwrap();
    let example: Table = example.split("```").next().unwrap().parse().unwrap();
    let mut left_out = Vec::new();
    for table in tables(KeyFile::Plan) {
        let mut here = vec![&example];
        for name in table.path.split('.').filter(|name| !name.is_empty()) {
            let below = here.iter().filter_map(|table| table.get(name));
            here = below
                .flat_map(|value| match value {
                    Value::Array(items) => items.iter().filter_map(Value::as_table).collect(),
                    below => below.as_table().into_iter().collect::<Vec<_>>(),
                })
                .collect();
        }
        for key in table.keys {
            if !here.iter().any(|table| table.contains_key(&key.name)) {
                left_out.push(format!("{}.{}", table.path, key.name));
            }
        }
    }
    let levels = |table: &str| ["depth", "time"].map(|key| format!("{table}.level.{key}"));
    let mut expected = vec![
        "site.surface_pressure".to_owned(),
        "profile.level".to_owned(),
    ];
    expected.extend(levels("profile"));
    expected.extend(["diver.pony.size".to_owned(), "before.level".to_owned()]);
    expected.extend(levels("before"));
    assert_eq!(left_out, expected);
}
