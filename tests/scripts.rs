//! What scripts rely on: documents of errors, verdicts, colour only where it is wanted, and the
//! tables of fields and codes in DEVELOPERS.md.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::PathBuf;

use assert_cmd::Command;
use serde_json::{Value, json};

#[path = "support/tables.rs"]
mod tables;

use tables::table;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// What a command printed, and how it ended.
struct Ended {
    status: i32,
    stdout: String,
    stderr: String,
}

impl Ended {
    fn json(&self) -> Value {
        serde_json::from_str(&self.stdout).unwrap_or_else(|error| panic!("{error}: {self:?}"))
    }
}

impl std::fmt::Debug for Ended {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}\n{}\n{}", self.status, self.stdout, self.stderr)
    }
}

fn command() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hangbar"));
    command.current_dir(root()).env_remove("NO_COLOR");
    command
}

/// `hangbar …` with the plan on standard input.
fn run(args: &[&str], plan: &str) -> Ended {
    let output = command().args(args).write_stdin(plan).output().unwrap();
    Ended {
        status: output.status.code().unwrap(),
        stdout: String::from_utf8(output.stdout).unwrap(),
        stderr: String::from_utf8(output.stderr).unwrap(),
    }
}

/// A go.
const REEF: &str = r#"title = "Copper Reef"

[profile]
depth = "15 m"
bottom_time = "20 min"

[[diver]]
name = "Noor"
sac = "15 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
"#;

/// Three faults.
const BROKEN: &str = "titel = \"x\"\n[profile]\ndepth = \"20\"\nbottom_time = \"20 m\"\n";

/// Its stops never clear.
const STUCK: &str = "[profile]\ndepth = \"40 m\"\nbottom_time = \"60 min\"\n\
                     [model]\ngradient_factors = [5, 5]\n[gas]\nbottom = \"10/0\"\n";

// ---------------------------------------------------------------------------------------------
// Errors

/// Every command of one plan that gives JSON.
const COMMANDS: [&str; 5] = ["brief", "whatif", "limits", "trace", "explain"];

/// Each `error: …` of standard error.
fn told(stderr: &str) -> Vec<&str> {
    let lines = stderr.lines();
    lines
        .filter_map(|line| line.strip_prefix("error: "))
        .collect()
}

/// The messages of a document or of a row.
fn messages(document: &Value) -> Vec<&str> {
    let errors = document["errors"].as_array().unwrap().iter();
    errors.map(|row| row["message"].as_str().unwrap()).collect()
}

#[test]
fn every_command_gives_the_errors_of_an_unusable_plan_as_json_too() {
    for command in COMMANDS {
        let ended = run(&[command, "-", "--format", "json"], BROKEN);
        assert_eq!(ended.status, 2, "{command}: {ended:?}");
        let document = ended.json();
        let errors = document["errors"].as_array().unwrap();
        assert_eq!(
            document,
            json!({
                "schema": "hangbar/errors/1",
                "verdict": "unusable",
                "exit_status": 2,
                "file": "-",
                "file_bytes_hex": null,
                "errors": errors,
            }),
            "{command}"
        );
        let [title, depth, time] = errors.as_slice() else {
            panic!("{command}: {ended:?}");
        };
        assert_eq!(title["message"], "unknown key `titel`");
        assert_eq!(title["meant"], "title");
        assert_eq!(
            *depth,
            json!({
                "line": 3,
                "column": 9,
                "table": "[profile]",
                "key": "depth",
                "option": null,
                "message": "`depth`: `20` has no unit",
                "accepted": "0.3 m to 200 m (1 ft to 656.1 ft), as \"28 m\"",
                "meant": null,
            })
        );
        assert_eq!(time["meant"], "min");
        assert_eq!(messages(&document), told(&ended.stderr), "{command}");
    }
}

#[test]
fn a_row_of_the_check_has_the_same_errors() {
    let ended = run(&["check", "-", "--format", "json"], BROKEN);
    assert_eq!(ended.status, 2);
    let (row, alone) = (
        ended.json(),
        run(&["brief", "-", "--format", "json"], BROKEN),
    );
    assert_eq!(row["schema"], "hangbar/check/1");
    assert_eq!(row["verdict"], "unusable");
    assert_eq!(row["exit_status"], 2);
    assert_eq!(row["errors"], alone.json()["errors"]);
    assert_eq!(messages(&row), told(&ended.stderr));
    assert_eq!(ended.stderr, alone.stderr);
}

#[test]
fn standard_error_and_the_messages_of_json_agree() {
    for (args, plan, schedule) in [
        (&["brief", "-"][..], STUCK, "does not clear"),
        (&["whatif", "-"], STUCK, "does not clear"),
        (&["trace", "-"], STUCK, "does not clear"),
        (&["explain", "-"], STUCK, "does not clear"),
        (&["check", "-"], STUCK, "does not clear"),
        (&["brief", "-"], "[profile", "not TOML"),
        (&["limits", "-"], "[profile", "not TOML"),
        (&["brief", "nowhere.toml"], "", "cannot read nowhere.toml: "),
        (&["check", "nowhere.toml"], "", "cannot read nowhere.toml: "),
        (&["trace", "plans"], "", "cannot read plans: "),
        (&["explain", "-", "--stop", "33m"], REEF, "no stop at 33 m"),
        (
            &["explain", "-", "--gas", "Ada"],
            REEF,
            "nobody is called \"Ada\"",
        ),
        (
            &["limits", "--from", "40m", "--to", "12m"],
            "",
            "--from is deeper",
        ),
        (&["limits", "--step", "0.3m"], "", "more than 100 depths"),
        (&["limits", "--water", "mud"], "", "`water` is \"mud\""),
        (
            &["brief", "-", "--picture", "wall.png"],
            REEF,
            "wall.png is no name",
        ),
        (&["brief", "-", "--depth", "18"], REEF, "`18` has no unit"),
        (
            &["brief", "-", "--fill", "Ada=200 bar"],
            REEF,
            "nobody is called",
        ),
        (
            &["whatif", "-", "--splash", "9:4"],
            REEF,
            "`splash` is \"9:4\"",
        ),
    ] {
        let mut json = args.to_vec();
        json.extend(["--format", "json"]);
        let (text, json) = (run(args, plan), run(&json, plan));
        assert_eq!((text.status, json.status), (2, 2), "{args:?} {text:?}");
        assert_eq!(text.stderr, json.stderr, "{args:?}");
        assert_eq!(messages(&json.json()), told(&json.stderr), "{args:?}");
        assert!(messages(&json.json())[0].contains(schedule), "{json:?}");
        if args[0] != "check" {
            assert_eq!(text.stdout, "", "{args:?}");
            assert_eq!(json.json()["verdict"], "unusable");
        }
    }
}

#[test]
fn an_option_that_takes_the_place_of_a_key_is_named() {
    for (args, option, key) in [
        (&["brief", "-", "--depth", "18"][..], "--depth", "depth"),
        (
            &["trace", "-", "--bottom-time", "9"],
            "--bottom-time",
            "bottom_time",
        ),
        (&["whatif", "-", "--splash", "9:4"], "--splash", "splash"),
        (&["explain", "-", "--fill", "Noor=9"], "--fill", "fill"),
        (&["limits", "--altitude", "9"], "--altitude", "altitude"),
        (&["limits", "--ascent-rate", "9"], "--ascent-rate", "rate"),
    ] {
        let mut args = args.to_vec();
        args.extend(["--format", "json"]);
        let document = run(&args, REEF).json();
        let row = &document["errors"][0];
        assert_eq!(row["option"], option);
        assert_eq!(row["key"], key);
        assert_eq!(row["line"], Value::Null);
        assert!(row["accepted"].is_string(), "{row}");
    }
    for (args, option) in [
        (["explain", "-", "--stop", "33m"], "--stop"),
        (["explain", "-", "--gas", "Ada"], "--gas"),
        (["limits", "-", "--from", "190m"], "--from"),
        (["limits", "-", "--step", "0.3m"], "--step"),
    ] {
        let mut args = args.to_vec();
        args.extend(["--format", "json"]);
        let document = run(&args, REEF).json();
        assert_eq!(document["errors"][0]["option"], option);
        assert_eq!(document["errors"][0]["key"], Value::Null);
    }
    // Without a plan there is no file to name.
    let document = run(&["limits", "--water", "mud", "--format", "json"], "").json();
    assert_eq!(document["file"], Value::Null);
}

#[test]
fn the_other_formats_leave_standard_output_empty() {
    for args in [
        &["brief", "-"][..],
        &["trace", "-", "--format", "csv"],
        &["limits", "-", "--format", "csv"],
    ] {
        let ended = run(args, BROKEN);
        assert_eq!((ended.status, ended.stdout.as_str()), (2, ""));
    }
}

/// A name that is not UTF-8 is written lossily, and its bytes beside it.
#[cfg(unix)]
#[test]
fn the_name_of_an_unusable_file_can_be_mapped_back() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;

    let name = OsStr::from_bytes(b"r\xffef.toml");
    let output = command()
        .args(["brief", "--format", "json"])
        .arg(name)
        .output()
        .unwrap();
    let document: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(document["file"], "r\u{fffd}ef.toml");
    assert_eq!(document["file_bytes_hex"], "72ff65662e746f6d6c");
}

// ---------------------------------------------------------------------------------------------
// Verdict and title

/// Needs stops and asks for none.
const LATE: &str = r#"[profile]
depth = "40 m"
bottom_time = "30 min"

[[diver]]
name = "Noor"
sac = "15 L/min"
cylinder = { size = "2x12 L", fill = "230 bar" }
"#;

/// Nobody dives: a schedule only.
const SKETCH: &str = "title = \"Sketch\"\n[profile]\ndepth = \"15 m\"\nbottom_time = \"20 min\"\n";

#[test]
fn every_document_of_a_plan_has_its_title_and_verdict() {
    for (plan, title, verdict, status) in [
        (REEF, json!("Copper Reef"), "go", 0),
        (LATE, Value::Null, "no-go", 1),
        (SKETCH, json!("Sketch"), "schedule-only", 0),
    ] {
        for command in ["brief", "whatif", "trace", "explain", "check"] {
            let ended = run(&[command, "-", "--format", "json"], plan);
            let document = ended.json();
            assert_eq!(document["title"], title, "{command}");
            assert_eq!(document["verdict"], verdict, "{command}");
            assert_eq!(ended.status, status, "{command} {verdict}");
        }
        // Limits are those of a site, whatever dive is planned there.
        let ended = run(&["limits", "-", "--format", "json"], plan);
        assert_eq!(ended.json()["title"], title);
        assert_eq!(ended.json().get("verdict"), None);
        assert_eq!(ended.status, 0);
    }
    let ended = run(&["limits", "--format", "json"], "");
    assert_eq!(ended.json()["title"], Value::Null);
}

#[test]
fn the_status_of_a_what_if_is_that_of_the_plan_itself() {
    // So late it is a no-go; the plan is none.
    let ended = run(
        &["whatif", "-", "--late", "90min", "--format", "json"],
        REEF,
    );
    assert_eq!(ended.json()["changes"][0]["outcome"]["verdict"], "no-go");
    assert_eq!(ended.json()["verdict"], "go");
    assert_eq!(ended.status, 0);
}

// ---------------------------------------------------------------------------------------------
// Colour

/// Every command that prints text for people.
const ALL: [&str; 6] = ["brief", "whatif", "limits", "trace", "explain", "check"];

#[test]
fn every_command_is_coloured_where_that_is_asked_for_and_says_the_same_without() {
    for command in ALL {
        let coloured = run(&[command, "-", "--color", "always"], REEF);
        let plain = run(&[command, "-", "--color", "never"], REEF);
        assert_eq!((coloured.status, plain.status), (0, 0), "{command}");
        assert!(coloured.stdout.contains("\u{1b}["), "{command}: no colour");
        assert!(!plain.stdout.contains('\u{1b}'), "{command}: {plain:?}");
        assert_eq!(without_colour(&coloured.stdout), plain.stdout, "{command}");
    }
}

/// The text without what a terminal takes for a change of style.
fn without_colour(text: &str) -> String {
    let mut plain = String::new();
    let mut pieces = text.split("\u{1b}[");
    plain.push_str(pieces.next().unwrap_or_default());
    for piece in pieces {
        plain.push_str(piece.split_once('m').unwrap().1);
    }
    plain
}

#[test]
fn a_pipe_and_the_formats_of_scripts_have_no_colour() {
    for command in ALL {
        let piped = run(&[command, "-"], REEF);
        assert!(!piped.stdout.contains('\u{1b}'), "{command}");
        let json = run(
            &[command, "-", "--color", "always", "--format", "json"],
            REEF,
        );
        assert!(!json.stdout.contains('\u{1b}'), "{command}");
    }
    for command in ["limits", "trace"] {
        let csv = run(
            &[command, "-", "--color", "always", "--format", "csv"],
            REEF,
        );
        assert!(!csv.stdout.contains('\u{1b}'), "{command}");
    }
}

/// A terminal made by `script`, where there is one; otherwise nothing can be said.
#[cfg(target_os = "linux")]
#[test]
fn a_terminal_has_colour_unless_it_asks_for_none() {
    let on_a_terminal = |command: &str, environment: &[(&str, &str)]| {
        let line = format!(
            "{} {command} plans/sand-garden.toml",
            env!("CARGO_BIN_EXE_hangbar")
        );
        let mut script = std::process::Command::new("script");
        script
            .args(["-qec", &line, "/dev/null"])
            .current_dir(root());
        script.env("TERM", "xterm").env_remove("NO_COLOR");
        script.envs(environment.iter().copied());
        script.stdin(std::process::Stdio::null());
        let output = script.output().ok()?;
        Some(
            String::from_utf8(output.stdout)
                .unwrap()
                .contains("\u{1b}["),
        )
    };
    for command in ALL {
        let Some(coloured) = on_a_terminal(command, &[]) else {
            return;
        };
        assert!(coloured, "{command}");
        for environment in [("NO_COLOR", "1"), ("TERM", "dumb")] {
            let coloured = on_a_terminal(command, &[environment]).unwrap();
            assert!(!coloured, "{command} {environment:?}");
        }
        assert!(on_a_terminal(command, &[("NO_COLOR", "")]).unwrap());
        let forced = format!("{command} --color always");
        assert!(on_a_terminal(&forced, &[("NO_COLOR", "1")]).unwrap());
    }
}

// ---------------------------------------------------------------------------------------------
// The tables in DEVELOPERS.md

/// One row about a field.
#[derive(Clone, Debug)]
struct Field {
    unit: String,
    meaning: String,
}

/// Path of a field, such as `divers[].levels[].left_bar`, and its row.
type Fields = BTreeMap<String, Field>;

fn developers() -> String {
    fs::read_to_string(root().join("DEVELOPERS.md")).unwrap()
}

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
    for _ in 0..2 {
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
    let own = [REEF, LATE, SKETCH, WAITS, THIRSTY, LONG_STOP, BROKEN, STUCK];
    for plan in charter.chain(own.map(str::to_owned)) {
        for command in ALL {
            add(run(&[command, "-", "--format", "json"], &plan));
        }
    }
    add(run(
        &["limits", "--to", "90m", "--step", "20m", "--format", "json"],
        "",
    ));
    add(run(
        &["whatif", "-", "--late", "29min", "--format", "json"],
        LONG_STOP,
    ));
    add(run(
        &["brief", "-", "--depth", "18", "--format", "json"],
        REEF,
    ));
    // A folder of hidden things only: a skip, and no plan.
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("scripts-skips");
    fs::create_dir_all(&folder).unwrap();
    fs::write(folder.join(".hidden.toml"), REEF).unwrap();
    add(run(
        &["check", folder.to_str().unwrap(), "--format", "json"],
        "",
    ));
    documents
}

/// Whether the unit in a field's row is that of its name and of its values.
fn unit_fits(path: &str, unit: &str, values: &[Value]) -> bool {
    const ENDINGS: &[(&str, &str)] = &[
        ("_m_per_min", "m/min"),
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
    for document in documents() {
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

#[test]
fn every_exit_status_stands_in_the_table_and_in_the_help() {
    let text = developers();
    let (_, section) = text.split_once("\n## For scripts").unwrap();
    let rows = table(section);
    let documented: Vec<&str> = rows.iter().map(|row| row[0].as_str()).collect();
    assert_eq!(documented, ["0", "1", "2", "3"]);
    let help = run(&["--help"], "").stdout;
    for status in documented {
        assert!(help.contains(&format!("\n  {status}  ")), "{help}");
    }
}
