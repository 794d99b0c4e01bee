//! Documents of errors: what `--format json` says of a plan or a command that cannot be used.

use serde_json::{Value, json};

use crate::program::{BROKEN, REEF, STUCK, command, run};

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
                "more_errors": 0,
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
fn what_is_not_told_is_counted_in_every_form() {
    let plan: String = (0..50).map(|key| format!("k{key} = 1\n")).collect();
    let ended = run(&["brief", "-", "--format", "json"], &plan);
    let (document, row) = (
        ended.json(),
        run(&["check", "-", "--format", "json"], &plan).json(),
    );
    // 50 keys that nobody knows, and no profile.
    for errors in [&document, &row] {
        assert_eq!(messages(errors).len(), 20);
        assert_eq!(errors["more_errors"], 31);
    }
    assert_eq!(messages(&document), told(&ended.stderr));
    assert!(
        ended
            .stderr
            .ends_with("and 31 more errors: put these right first\n")
    );
    let line = run(&["check", "-"], &plan).stdout;
    assert!(line.ends_with("51 errors\n"), "{line}");
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
        (&["brief", "-"], "[profile", "is not closed"),
        (&["limits", "-"], "[profile", "is not closed"),
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
        (&["mix", "air", "--plan", "-"], "[profile", "is not closed"),
        (&["mix", "air", "--altitude", "9"], "", "`9` has no unit"),
        (&["mix", "--best-for", "80m"], "", "even air has more than"),
        (
            &["mix", "EAN32", "--blend", "100bar", "--from", "90bar air"],
            "",
            "90 bar of air hold more nitrogen",
        ),
        (
            &["brief", "-", "--picture", "wall.png"],
            REEF,
            "wall.png is no name",
        ),
        (
            &["brief", "-", "--record", "slate.txt"],
            REEF,
            "slate.txt is no name",
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
        assert_eq!(told(&ended.stderr)[0], "unknown key `titel`", "{args:?}");
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
