//! The schemas: every plan and every document is valid by its own, and what a schema can know to be
//! wrong is not.

use std::fs;
use std::path::Path;

use hangbar::plan_file::{pencil_form, read, starter_plan};
use hangbar::quantity::UnitSystem;
use hangbar::report::SchemaOf;
use serde_json::{Value, json};

use crate::json_schema::faults;
use crate::program::{BROKEN, LATE, REEF, SKETCH, command, root, run};

/// A file as JSON has it.
fn json_of(toml: &str) -> Value {
    let table: toml::Table = toml
        .parse()
        .unwrap_or_else(|error| panic!("{error}\n{toml}"));
    serde_json::to_value(table).unwrap()
}

fn files(folder: &str, ending: &str) -> Vec<String> {
    let entries = fs::read_dir(root().join(folder)).unwrap();
    let paths = entries.map(|entry| entry.unwrap().path());
    let paths = paths.filter(|path| path.extension().is_some_and(|it| it == ending));
    paths
        .map(|path| fs::read_to_string(path).unwrap())
        .collect()
}

fn plan_faults(plan: &str) -> Vec<String> {
    faults(&SchemaOf::Plan.schema(), &json_of(plan))
}

#[test]
fn every_plan_of_the_charter_and_of_the_readme_is_valid() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let example = readme.split("```toml\n").nth(1).unwrap();
    let example = example.split("```").next().unwrap().to_owned();
    let mut plans = files("plans", "toml");
    assert!(plans.len() >= 15);
    plans.push(example);
    plans.extend([REEF, LATE, SKETCH].map(str::to_owned));
    for units in [UnitSystem::Metric, UnitSystem::Imperial] {
        plans.push(starter_plan(units, 50).unwrap());
    }
    for plan in plans {
        assert_eq!(plan_faults(&plan), Vec::<String>::new(), "{plan}");
    }
    assert_ne!(plan_faults(BROKEN), Vec::<String>::new());
}

#[test]
fn every_record_and_every_form_of_one_filled_in_is_valid() {
    let schema = SchemaOf::Record.schema();
    let records = files("examples/records", "toml");
    assert!(records.len() >= 2);
    for record in records {
        assert_eq!(
            faults(&schema, &json_of(&record)),
            Vec::<String>::new(),
            "{record}"
        );
    }
    let form = pencil_form(&read(REEF).unwrap());
    assert_ne!(
        faults(&schema, &json_of(&form)),
        Vec::<String>::new(),
        "nothing is filled in"
    );
    let filled = form
        .replace("greatest_depth = \"\"", "greatest_depth = \"15 m\"")
        .replace("bottom_time = \"\"", "bottom_time = \"20 min\"")
        .replace("end_pressure = \"\"", "end_pressure = \"90 bar\"");
    assert_eq!(
        faults(&schema, &json_of(&filled)),
        Vec::<String>::new(),
        "{filled}"
    );
}

/// By the edit of a good plan, and where the schema sees it.
#[test]
fn what_the_schema_can_know_to_be_wrong_it_refuses_where_it_stands() {
    const SKUA: &str = include_str!("../../plans/skua-stack.toml");
    assert_eq!(plan_faults(SKUA), Vec::<String>::new());
    let cylinder = "cylinder = { size = \"12 L\", fill = \"200 bar\" }";
    for (plan, old, new, place) in [
        (REEF, "title", "titel", "/titel"),
        (REEF, "title", "units = \"nautical\"\ntitle", "/units"),
        (REEF, "title", "splash = \"9:60\"\ntitle", "/splash"),
        (REEF, "title", "splash = 9\ntitle", "/splash"),
        (REEF, "depth", "depht", "/profile/depht"),
        (REEF, "\"15 m\"", "15", "/profile/depth"),
        (REEF, "\"15 m\"", "\"15\"", "/profile/depth"),
        (REEF, "\"15 m\"", "\"15 min\"", "/profile/depth"),
        (REEF, "\"15 m\"", "\"15,5 m\"", "/profile/depth"),
        (REEF, "\"15 m\"", "\"nan m\"", "/profile/depth"),
        (REEF, "\"15 m\"", "\"1e3 m\"", "/profile/depth"),
        (REEF, "\"20 min\"", "\"20 m\"", "/profile/bottom_time"),
        (REEF, "bottom_time = \"20 min\"\n", "", "/profile"),
        (REEF, "bottom_time", "level = []\nbottom_time", "/profile"),
        (
            REEF,
            "bottom_time",
            "staged = \"yes\"\nbottom_time",
            "/profile/staged",
        ),
        (
            REEF,
            "bottom_time",
            "out = \"with\"\nbottom_time",
            "/profile",
        ),
        (
            REEF,
            "[[diver]]",
            "[model]\ngradient_factors = [4, 85]\n[[diver]]",
            "/model/gradient_factors/0",
        ),
        (
            REEF,
            "[[diver]]",
            "[model]\ngradient_factors = [40]\n[[diver]]",
            "/model/gradient_factors",
        ),
        (
            REEF,
            "[[diver]]",
            "[reserve]\nstress = 0.9\n[[diver]]",
            "/reserve/stress",
        ),
        (
            REEF,
            "[[diver]]",
            "[gas]\nbottom = \"32\"\n[[diver]]",
            "/gas/bottom",
        ),
        (
            REEF,
            "[[diver]]",
            "[gas]\ndecompression = \"EAN50\"\n[[diver]]",
            "/gas/decompression",
        ),
        (
            REEF,
            "[[diver]]",
            "[ascent]\nsafety_stop = true\n[[diver]]",
            "/ascent/safety_stop",
        ),
        (
            REEF,
            "[[diver]]",
            "[site]\nhome_altitude = \"20 m\"\n[[diver]]",
            "/site",
        ),
        (
            REEF,
            "[[diver]]",
            "[site]\naltitude = \"0 m\"\nsurface_pressure = \"1 bar\"\n[[diver]]",
            "/site",
        ),
        (REEF, "[[diver]]", "[diver]", "/diver"),
        (REEF, "name = \"Noor\"\n", "", "/diver/0"),
        (REEF, "\"Noor\"", "\"  \"", "/diver/0/name"),
        (REEF, "15 L/min", "15 L", "/diver/0/sac"),
        (REEF, cylinder, "cylinder = \"12 L\"", "/diver/0/cylinder"),
        (
            REEF,
            "size = \"12 L\"",
            "size = \"3x12 L\"",
            "/diver/0/cylinder/size",
        ),
        (
            REEF,
            "size = \"12 L\"",
            "rated = \"80 cuft\"",
            "/diver/0/cylinder",
        ),
        (REEF, "size = \"12 L\", ", "", "/diver/0/cylinder"),
        (
            REEF,
            "size = \"12 L\"",
            "gas = \"air\", size = \"12 L\"",
            "/diver/0/cylinder/gas",
        ),
    ] {
        assert_eq!(plan.matches(old).count(), 1, "{old}");
        let broken = plan.replace(old, new);
        assert!(read(&broken).is_err(), "the reader takes {new}");
        let faults = plan_faults(&broken);
        let is_there = faults
            .iter()
            .any(|fault| fault.starts_with(&format!("{place}: ")));
        assert!(is_there, "{new}: {faults:?}");
    }
}

/// A key of the reader's own spelling rules is one of the schema's too.
#[test]
fn what_the_reader_takes_as_a_quantity_the_schema_takes_and_no_more() {
    for (text, is_one) in [
        ("15 m", true),
        ("15m", true),
        (" 15.5  M ", true),
        ("+15. metres", true),
        (".9 m", true),
        ("50 Feet", true),
        ("-15 m", false),
        ("15 M M", false),
        ("15. 5 m", false),
        ("1.5.5 m", false),
        ("15 m/min", false),
        ("m 15", false),
        ("", false),
        ("15 mm", false),
    ] {
        let plan = REEF.replace("\"15 m\"", &format!("\"{text}\""));
        let is_read = read(&plan).is_ok_and(|plan| plan.levels()[0].depth.as_m() > 0.0);
        assert_eq!(is_read, is_one, "{text}");
        assert_eq!(plan_faults(&plan).is_empty(), is_one, "{text}");
    }
    for (sac, is_one) in [
        ("0.5 cu  ft / min", true),
        ("20 PSI/min", true),
        ("1 bar /min", true),
        ("0.5 cu ft", false),
        ("0.5 cuft per min", false),
    ] {
        let plan = REEF.replace("15 L/min", sac);
        assert_eq!(read(&plan).is_ok(), is_one, "{sac}");
        assert_eq!(plan_faults(&plan).is_empty(), is_one, "{sac}");
    }
    for (size, is_one) in [
        ("2x12 L", true),
        ("2 × 12 ltr", true),
        ("2X 12L", true),
        ("2.0x12 L", false),
        ("x12 L", false),
        ("12 L x 2", false),
    ] {
        let plan = REEF.replace("\"12 L\"", &format!("\"{size}\""));
        assert_eq!(read(&plan).is_ok(), is_one, "{size}");
        assert_eq!(plan_faults(&plan).is_empty(), is_one, "{size}");
    }
    for (gas, is_one) in [
        ("Air", true),
        ("ean 32", true),
        ("EAN32.5", true),
        ("18 / 45", true),
        ("OXYGEN", true),
        ("nitrox 32", false),
        ("EAN", false),
        ("18/45/2", false),
        ("EAN-32", false),
    ] {
        let plan = REEF.replace(
            "[[diver]]",
            &format!("[gas]\nbottom = \"{gas}\"\n[[diver]]"),
        );
        assert_eq!(read(&plan).is_ok(), is_one, "{gas}");
        assert_eq!(plan_faults(&plan).is_empty(), is_one, "{gas}");
    }
}

/// The schema of a document, by the name that the document has.
pub(crate) fn schema_of(document: &Value) -> Value {
    let name = document["schema"].as_str().unwrap();
    let all = SchemaOf::ALL.iter().map(|one| one.schema());
    let mut named = all.filter(|schema| schema["title"] == name);
    named
        .next()
        .unwrap_or_else(|| panic!("no schema of {name}"))
}

#[test]
fn a_field_left_out_or_of_another_kind_is_refused_and_one_more_is_not() {
    let document = run(&["brief", "-", "--format", "json"], REEF).json();
    let schema = schema_of(&document);
    assert_eq!(faults(&schema, &document), Vec::<String>::new());
    let with = |place: &str, value: Option<Value>| {
        let mut document = document.clone();
        let (object, field) = place.rsplit_once('/').unwrap();
        let object = document
            .pointer_mut(object)
            .unwrap()
            .as_object_mut()
            .unwrap();
        match value {
            Some(value) => object.insert(field.to_owned(), value),
            None => object.remove(field),
        };
        faults(&schema, &document).len()
    };
    assert_eq!(with("/unheard_of", Some(json!(1))), 0);
    assert_eq!(with("/divers/0/unheard_of", Some(json!([]))), 0);
    for field in [
        "/schema",
        "/title",
        "/verdict",
        "/divers/0/end_bar",
        "/segments/1/kind",
    ] {
        assert!(with(field, None) > 0, "{field} may be missing");
    }
    for (field, value) in [
        ("/schema", json!("hangbar/briefing/2")),
        ("/verdict", json!("maybe")),
        ("/run_time_min", Value::Null),
        ("/run_time_min", json!("33 min")),
        ("/longest_go_min", json!(20.5)),
        ("/segments/1/kind", json!("drift")),
        ("/divers/0/name", Value::Null),
        ("/divers/0/levels", json!({})),
    ] {
        assert!(with(field, Some(value)) > 0, "{field}");
    }
    assert_eq!(with("/title", Some(Value::Null)), 0);
    assert_eq!(with("/findings", Some(json!([]))), 0);
    let finding = &schema["$defs"]["Finding"]["properties"]["code"]["anyOf"];
    let codes = finding.as_array().unwrap().iter();
    let codes: Vec<&str> = codes.filter_map(|code| code["const"].as_str()).collect();
    assert_eq!(codes, hangbar::finding::CODES);
    let later =
        json!([{ "level": "note", "code": "of-a-later-version", "diver": null, "message": "" }]);
    assert_eq!(with("/findings", Some(later)), 0, "a code may be added");
}

#[test]
fn the_command_gives_each_schema_and_knows_no_other() {
    for of in SchemaOf::ALL {
        let ended = run(&["schema", of.name()], "");
        assert_eq!((ended.status, ended.stderr.as_str()), (0, ""));
        assert_eq!(ended.json(), of.schema());
        assert_eq!(SchemaOf::named(of.name()), Some(*of));
        let schema = of.schema();
        assert_eq!(
            schema["$schema"],
            "https://json-schema.org/draft/2020-12/schema"
        );
        assert!(ended.stdout.lines().count() > 20);
    }
    for more in [&[][..], &["plans"]] {
        let mut command = command();
        let output = command.arg("schema").args(more).output().unwrap();
        assert_eq!(output.status.code(), Some(2));
        assert!(output.stdout.is_empty() && !output.stderr.is_empty());
    }
}

/// Whatever a golden has of JSON.
#[test]
fn every_document_of_the_goldens_is_valid() {
    let mut documents = 0;
    for folder in ["tests/golden/files", "tests/gallery/files"] {
        let mut folders = vec![root().join(folder)];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(&folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    folders.push(path);
                } else {
                    documents += valid_documents(&path);
                }
            }
        }
    }
    assert!(documents >= 2, "{documents}");
}

fn valid_documents(path: &Path) -> usize {
    let Ok(text) = fs::read_to_string(path) else {
        return 0;
    };
    let Some(start) = text.find("{\n  \"schema\"") else {
        return 0;
    };
    let mut documents = serde_json::Deserializer::from_str(&text[start..]).into_iter::<Value>();
    let document = documents.next().unwrap().unwrap();
    let faults = faults(&schema_of(&document), &document);
    assert_eq!(faults, Vec::<String>::new(), "{}", path.display());
    1
}
