//! `hangbar-schemas PROGRAM`, at the root of the package: each schema that the program gives is one, and
//! its plans, records and documents are valid by them. The tests of the root hold more against a validator
//! of their own; this one is somebody else's.

use std::collections::BTreeMap;
use std::error::Error;
use std::fs;
use std::path::Path;
use std::process::{Command, ExitCode};

use jsonschema::Validator;
use serde_json::{Deserializer, Value};

type Failed = Box<dyn Error>;

/// The names that the program lists for its own command.
const NAMES: [&str; 13] = [
    "plan", "record", "briefing", "what-if", "day", "debrief", "check", "errors", "limits", "mix",
    "trace", "explain", "keys",
];

fn run(program: &str, words: &[&str]) -> Result<String, Failed> {
    let output = Command::new(program).args(words).output()?;
    Ok(String::from_utf8(output.stdout)?)
}

/// Validators by the title of their schemas.
fn validators(program: &str) -> Result<BTreeMap<String, Validator>, Failed> {
    let mut validators = BTreeMap::new();
    for name in NAMES {
        let schema: Value = serde_json::from_str(&run(program, &["schema", name])?)?;
        jsonschema::draft202012::meta::validate(&schema).map_err(|error| error.to_string())?;
        let title = schema["title"].as_str().ok_or("no title")?.to_owned();
        validators.insert(title, jsonschema::draft202012::new(&schema)?);
    }
    Ok(validators)
}

fn files(folder: &str, ending: &str) -> Result<Vec<String>, Failed> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.extension().is_some_and(|it| it == ending) {
            files.push(path.to_string_lossy().into_owned());
        }
    }
    files.sort();
    Ok(files)
}

fn toml_of(file: &str) -> Result<Value, Failed> {
    let table: toml::Table = fs::read_to_string(file)?.parse()?;
    Ok(serde_json::to_value(table)?)
}

/// Every command that gives a document, for each plan; and those of no plan.
fn lines(plans: &[String]) -> Vec<Vec<String>> {
    let words = |line: &str| line.split(' ').map(str::to_owned).collect::<Vec<_>>();
    let commands = [
        "brief", "whatif", "limits", "trace", "explain", "check", "day",
    ];
    let mut lines: Vec<Vec<String>> = commands
        .iter()
        .flat_map(|command| {
            plans
                .iter()
                .map(|plan| vec![(*command).to_owned(), plan.clone()])
        })
        .collect();
    lines.extend(
        [
            "keys",
            "keys --record",
            "mix EAN32 --depth 24m --blend 200bar",
            "mix 10/70",
            "limits --gas air,EAN32 --to 60m",
            "brief plans/anvil.toml --fly-at 12:00+1",
            "day plans/kittiwake-wall.toml plans/slack-water.toml --home-by 15:00",
            "debrief plans/slack-water.toml examples/records/slack-water-pencil.toml",
            "debrief plans/kittiwake-wall.toml examples/records/kittiwake-wall-idris.uddf",
            "debrief plans/long-ledge.toml Nils=tests/data/bolted.csv",
            "brief tests/data/mistakes.toml",
            "check tests/data/mistakes.toml",
        ]
        .map(words),
    );
    lines
}

fn hold(validator: &Validator, value: &Value, what: &str) -> usize {
    let mut faults = 0;
    for error in validator.iter_errors(value) {
        eprintln!("{what}: {}: {error}", error.instance_path());
        faults += 1;
    }
    faults
}

fn all(program: &str) -> Result<bool, Failed> {
    let validators = validators(program)?;
    let plans = files("plans", "toml")?;
    let (mut held, mut faults) = (0, 0);
    for (title, folder) in [
        ("hangbar plan file", "plans"),
        ("hangbar record file", "examples/records"),
    ] {
        for file in files(folder, "toml")? {
            faults += hold(&validators[title], &toml_of(&file)?, &file);
            held += 1;
        }
    }
    let broken = toml_of("tests/data/mistakes.toml")?;
    if validators["hangbar plan file"].is_valid(&broken) {
        eprintln!("tests/data/mistakes.toml is taken for a plan");
        faults += 1;
    }
    let mut seen: Vec<String> = Vec::new();
    for line in lines(&plans) {
        let words = line.iter().map(String::as_str);
        let words: Vec<&str> = words.chain(["--format", "json"]).collect();
        let text = run(program, &words)?;
        for document in Deserializer::from_str(&text).into_iter::<Value>() {
            let document = document?;
            let name = document["schema"].as_str().ok_or("no schema")?.to_owned();
            faults += hold(&validators[&name], &document, &line.join(" "));
            held += 1;
            seen.push(name);
        }
    }
    for title in validators.keys().filter(|title| title.contains('/')) {
        if !seen.contains(title) {
            eprintln!("no document of {title} was looked at");
            faults += 1;
        }
    }
    println!(
        "{held} files and documents against {} schemas: {faults} faults",
        validators.len()
    );
    Ok(faults == 0)
}

fn main() -> ExitCode {
    let program = std::env::args().nth(1);
    let program = program.filter(|program| Path::new(program).is_file());
    let Some(program) = program else {
        eprintln!("hangbar-schemas PROGRAM, at the root of the package");
        return ExitCode::from(2);
    };
    match all(&program) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("error: {error}");
            ExitCode::FAILURE
        }
    }
}
