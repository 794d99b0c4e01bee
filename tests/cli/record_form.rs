//! The form of a record: what is in it, that it can be filled in and read, and that it is written
//! over nothing.

use std::fs;
use std::path::Path;

use hangbar::plan::{Plan, TimeOfDay};
use hangbar::plan_file::{pencil_form, read, read_pencil};
use predicates::str::contains;

use crate::folder::Folder;
use crate::plans::{KELP, LAGOON, REEF, STUCK, THIRSTY, edited};
use crate::run::{brief, hangbar, parsed, run, text_of, tried};

/// What may be empty in a form, in its order.
const BLANKS: [&str; 7] = [
    "greatest_depth",
    "bottom_time",
    "time_in",
    "time_out",
    "run_time",
    "end_pressure",
    "average_depth",
];

/// A form with the example beside each blank put into it, and those keys. Back is 42 minutes after
/// the splash, as the examples have it.
fn filled(form: &str, plan: &Plan) -> (String, Vec<String>) {
    let mut keys = Vec::new();
    let lines = form.lines().map(|line| {
        let Some((key, rest)) = line.split_once(" = \"\" ") else {
            return line.to_owned();
        };
        keys.push(key.to_owned());
        let example = rest.split('"').nth(1).unwrap();
        let example = match (key, plan.splash()) {
            ("time_out", Some(splash)) => splash.after(42).to_string(),
            _ => example.to_owned(),
        };
        format!("{key} = \"{example}\"")
    });
    let text = lines.collect::<Vec<_>>().join("\n");
    (text, keys)
}

#[test]
fn the_form_of_every_plan_with_divers_can_be_filled_in_and_read() {
    let mut forms = 0;
    let folder = Folder::new("cli-record-forms");
    for entry in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("plans")).unwrap() {
        let file = entry.unwrap().path();
        let plan = read(&fs::read_to_string(&file).unwrap()).unwrap();
        if plan.divers().is_empty() {
            continue;
        }
        forms += 1;
        let record = folder.path().join(file.file_name().unwrap());
        let (file, record) = (file.to_str().unwrap(), record.to_str().unwrap());
        let alone = run(&["brief", file], "");
        assert_eq!(run(&["brief", file, "--record", record], ""), alone);

        let form = fs::read_to_string(record).unwrap();
        assert_eq!(form, pencil_form(&plan));
        let (text, keys) = filled(&form, &plan);
        let blanks = BLANKS
            .iter()
            .filter(|key| **key != "time_in" || plan.splash().is_none());
        let blanks: Vec<&str> = plan
            .divers()
            .iter()
            .flat_map(|_| blanks.clone().copied())
            .collect();
        assert_eq!(keys, blanks, "{file}");
        let logs = read_pencil(&text, &plan).unwrap_or_else(|errors| panic!("{file}: {errors}"));
        for (log, diver) in logs.iter().zip(plan.divers()) {
            assert_eq!(log.diver, diver.name);
            assert_eq!(log.start, diver.cylinder.fill, "{file}");
            assert_eq!(log.time_in, plan.splash().or(TimeOfDay::new(9, 40)));
            assert_eq!(log.run_time.map(|time| time.as_min()), Some(42.0));
            assert!(log.average_depth.is_some());
        }
        assert_eq!(logs.len(), plan.divers().len());

        let untouched = read_pencil(&form, &plan).unwrap_err();
        assert_eq!(untouched.problems().len(), plan.divers().len(), "{file}");
        for problem in untouched.problems() {
            assert!(
                problem.message.ends_with("'s dive is not filled in"),
                "{problem}"
            );
        }
    }
    assert!(forms >= 12, "only {forms} plans have divers");
}

#[test]
fn examples_are_in_the_units_of_the_plan_and_of_each_gauge() {
    let reef = pencil_form(&read(REEF).unwrap());
    assert!(reef.starts_with("# \"Copper Reef\": what really happened.\n"));
    assert!(reef.contains("start_pressure = \"207 bar\""), "{reef}");
    assert!(reef.contains("as \"24.5 m\"") && !reef.contains("psi") && !reef.contains("ft\""));
    let kelp = pencil_form(&read(KELP).unwrap());
    assert!(kelp.contains("start_pressure = \"3400 psi\""), "{kelp}");
    assert!(kelp.contains("as \"80 ft\"") && kelp.contains("as \"1000 psi\""));
    assert!(!kelp.contains(" bar\"") && !kelp.contains(" m\""));
    let mixed = edited(
        REEF,
        "sac = \"15.3 L/min\"",
        "gauge = \"psi\"\nsac = \"15.3 L/min\"",
    );
    let mixed = pencil_form(&read(&mixed).unwrap());
    // 207 bar are 3002 psi, which a gauge shows as 3000.
    assert!(mixed.contains("start_pressure = \"3000 psi\""), "{mixed}");
    assert!(mixed.contains("start_pressure = \"220 bar\""), "{mixed}");
    assert_eq!(mixed.matches("as \"1000 psi\"").count(), 1);
    assert!(mixed.contains("as \"14.2 m\""));
}

/// Where the figure of a gauge would be past what a cylinder may hold, the fill stands in full.
#[test]
fn a_fill_at_the_ends_of_what_is_accepted_is_one_that_is_read() {
    for (fill, gauge) in [("1 bar", "psi"), ("5000 psi", "bar"), ("344.7 bar", "psi")] {
        let own = format!("gauge = \"{gauge}\"\nsac = \"15.3 L/min\"");
        let plan = edited(REEF, "sac = \"15.3 L/min\"", &own);
        let plan = read(&edited(&plan, "\"207 bar\"", &format!("\"{fill}\""))).unwrap();
        let (text, _) = filled(&pencil_form(&plan), &plan);
        let text = text
            .replace("\"70 bar\"", "\"0 bar\"")
            .replace("\"1000 psi\"", "\"0 bar\"");
        let logs = read_pencil(&text, &plan).unwrap();
        let difference = logs[0].start.as_bar() - plan.divers()[0].cylinder.fill.as_bar();
        assert!(difference.abs() < 0.5, "{fill}: {}", logs[0].start);
    }
}

#[test]
fn a_name_is_read_back_whatever_is_in_it() {
    for name in [
        r#"Ann "Nan" O'Hara"#,
        "'''",
        r#"""""#,
        r"back\slash\n",
        "# no comment",
        "] [[diver]]",
        "Żółć 海 𝛑",
        "= \"\" #",
    ] {
        let quoted = toml_text(name);
        let text = REEF
            .replace("\"Noor\"", &quoted)
            .replace("\"Copper Reef\"", &quoted);
        let plan = read(&text).unwrap();
        assert_eq!(plan.title(), Some(name));
        let form = pencil_form(&plan)
            .replace("greatest_depth = \"\"", "greatest_depth = \"20 m\"")
            .replace("bottom_time = \"\"", "bottom_time = \"28 min\"")
            .replace("end_pressure = \"\"", "end_pressure = \"70 bar\"");
        let logs = read_pencil(&form, &plan);
        let logs = logs.unwrap_or_else(|errors| panic!("{errors}\n{form}"));
        assert_eq!(logs[0].diver, name);
    }
}

fn toml_text(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

#[test]
fn the_form_has_what_differs_on_the_day() {
    let folder = Folder::new("cli-record-day");
    let path = folder.path().join("slate.toml");
    let shown = path.to_str().unwrap();
    let day = [
        "--fill",
        "Noor=190 bar",
        "--splash",
        "15:05",
        "--record",
        shown,
    ];
    assert_eq!(brief(REEF, &day).status.code(), Some(0));
    let form = fs::read_to_string(&path).unwrap();
    assert!(form.contains("start_pressure = \"190 bar\""), "{form}");
    assert!(form.contains("time_in = \"15:05\""), "{form}");
}

#[test]
fn the_briefing_is_the_same_and_a_note_says_where_the_form_is() {
    let folder = Folder::new("cli-record-note");
    for (name, plan, status, more) in [
        ("go.toml", REEF, 0, &["--short"][..]),
        ("no-go.toml", THIRSTY, 1, &[]),
        ("json.TOML", THIRSTY, 1, &["--format", "json"]),
    ] {
        let path = folder.path().join(name);
        let shown = path.to_str().unwrap();
        let alone = brief(plan, more);
        let beside = brief(plan, &[more, &["--record", shown]].concat());
        assert_eq!(beside.status.code(), Some(status), "{name}");
        assert_eq!(beside.stdout, alone.stdout, "{name}");
        let note = format!("note: wrote the record form to {shown}\n");
        assert_eq!(text_of(&beside.stderr), text_of(&alone.stderr) + &note);
        assert_eq!(
            fs::read_to_string(&path).unwrap(),
            pencil_form(&read(plan).unwrap())
        );
    }
}

#[test]
fn what_is_there_already_is_left_as_it_is() {
    let folder = Folder::new("cli-record-kept");
    let file = folder.write("kept.toml", "kept");
    let beside = folder.path().join("folder.toml");
    fs::create_dir(&beside).unwrap();
    #[cfg_attr(not(unix), expect(unused_mut, reason = "links are made on Unix alone"))]
    let mut names = vec![file.clone(), beside.clone()];
    #[cfg(unix)]
    for (name, to) in [
        ("to-file.toml", &file),
        ("nowhere.toml", &folder.path().join("gone.toml")),
    ] {
        let link = folder.path().join(name);
        std::os::unix::fs::symlink(to, &link).unwrap();
        names.push(link);
    }
    for name in names {
        let shown = name.to_str().unwrap();
        tried(&["brief", "-", "--record", shown], REEF)
            .code(2)
            .stdout("")
            .stderr(contains(
                "is there already, and is left as it is\n --> option --record\n",
            ));
        let links = name.is_symlink();
        assert_eq!(
            links,
            shown.ends_with("to-file.toml") || shown.ends_with("nowhere.toml")
        );
    }
    assert_eq!(fs::read_to_string(&file).unwrap(), "kept");
    assert_eq!(fs::read_dir(&beside).unwrap().count(), 0);
    assert!(!folder.path().join("gone.toml").exists());
}

#[test]
fn a_form_is_written_once() {
    let folder = Folder::new("cli-record-once");
    let path = folder.path().join("slate.toml");
    let shown = path.to_str().unwrap();
    tried(&["brief", "-", "--record", shown], REEF).code(0);
    fs::write(&path, "filled in").unwrap();
    tried(&["brief", "-", "--record", shown], REEF)
        .code(2)
        .stdout("");
    assert_eq!(fs::read_to_string(&path).unwrap(), "filled in");
    // Nothing else was left beside it.
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

/// The shell lets no file grow, as a full disk does.
#[cfg(target_os = "linux")]
#[test]
fn a_form_that_cannot_be_written_leaves_nothing_behind() {
    let folder = Folder::new("cli-record-full");
    let path = folder.path().join("slate.toml");
    let script =
        "trap '' XFSZ; ulimit -f 0; exec \"$0\" brief plans/sand-garden.toml --record \"$1\"";
    let mut shell = std::process::Command::new("sh");
    shell
        .args(["-c", script, env!("CARGO_BIN_EXE_hangbar")])
        .arg(&path);
    let output = shell
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    let errors = text_of(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{errors}");
    assert!(errors.starts_with("error: cannot write "), "{errors}");
    assert!(output.stdout.is_empty());
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    let nowhere = folder.path().join("no-such-folder/slate.toml");
    tried(&["brief", "-", "--record", nowhere.to_str().unwrap()], REEF)
        .code(2)
        .stdout("")
        .stderr(contains("cannot write"));
}

#[test]
fn what_is_no_name_for_a_form_is_refused() {
    for (name, words) in [
        ("-", "cannot go to standard output"),
        ("slate.txt", "slate.txt is no name for a record form"),
        ("slate", "slate is no name for a record form"),
        (".toml", ".toml is no name for a record form"),
        ("sl\u{1b}[31mate", "sl\\u{1b}[31mate is no name"),
    ] {
        let folder = Folder::new("cli-record-names");
        let mut command = hangbar();
        command.current_dir(folder.path()).write_stdin(REEF);
        command
            .args(["brief", "-", "--record", name])
            .assert()
            .code(2)
            .stdout("")
            .stderr(contains(words))
            .stderr(contains(
                "accepted: the name of a new file that ends in .toml",
            ));
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0, "{name}");
    }
}

#[test]
fn a_dive_of_nobody_or_without_a_briefing_has_no_form() {
    let folder = Folder::new("cli-record-none");
    let path = folder.path().join("slate.toml");
    let shown = path.to_str().unwrap();
    let stuck = format!("{STUCK}{}", &REEF[REEF.find("[[diver]]").unwrap()..]);
    for (plan, words) in [
        (
            LAGOON,
            "the plan has no [[diver]], so nobody to fill in a record",
        ),
        (stuck.as_str(), "error: "),
        ("[profile]\n", "`depth` is missing"),
    ] {
        tried(&["brief", "-", "--record", shown], plan)
            .code(2)
            .stdout("")
            .stderr(contains(words));
        assert!(!path.exists());
    }
    let json = brief(LAGOON, &["--record", shown, "--format", "json"]);
    let document: serde_json::Value = parsed(&json.stdout);
    assert_eq!(document["errors"][0]["option"], "--record");
    assert_eq!(
        document["errors"][0]["accepted"],
        "a plan with the divers who dive"
    );
}
