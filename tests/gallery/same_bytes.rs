//! The same plan gives the same bytes, wherever, whenever and by however many at once it is asked.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::folder::Folder;
use crate::program::Ended;

/// What one asks with beside the command line.
const SURROUNDINGS: [&[(&str, &str)]; 3] = [
    &[("RUST_BACKTRACE", "0")],
    &[
        ("LANG", "de_DE.UTF-8"),
        ("LC_ALL", "tr_TR.UTF-8"),
        ("LC_NUMERIC", "fr_FR.UTF-8"),
        ("TZ", "Pacific/Kiritimati"),
        ("TERM", "xterm-256color"),
        ("COLORTERM", "truecolor"),
        ("CLICOLOR_FORCE", "1"),
        ("COLUMNS", "40"),
        ("LINES", "10"),
        ("HOME", "/nowhere"),
        ("TMPDIR", "/nowhere"),
        ("USER", "somebody-else"),
        ("SOURCE_DATE_EPOCH", "1"),
    ],
    &[
        ("LANG", "C"),
        ("LC_ALL", "C"),
        ("TZ", "UTC"),
        ("TERM", "dumb"),
        ("NO_COLOR", "1"),
        ("COLUMNS", "300"),
        ("RUST_BACKTRACE", "full"),
        ("RUST_LOG", "trace"),
    ],
];

/// What is asked of every plan; `PLAN` stands for its file.
const OF_A_PLAN: &[&[&str]] = &[
    &["brief", "PLAN"],
    &["brief", "PLAN", "--format", "json"],
    &["brief", "PLAN", "--short"],
    &["brief", "PLAN", "--units", "imperial", "--columns", "60"],
    &["brief", "PLAN", "--picture", "new.svg"],
    &["brief", "PLAN", "--record", "new.toml"],
    &["brief", "PLAN", "--color", "always"],
    &["sheet", "PLAN"],
    &["sheet", "PLAN", "--slate"],
    &["sheet", "PLAN", "--skipper"],
    &["whatif", "PLAN"],
    &["whatif", "PLAN", "--format", "json"],
    &["limits", "PLAN"],
    &["limits", "PLAN", "--format", "json"],
    &["limits", "PLAN", "--format", "csv"],
    &["limits", "PLAN", "--picture", "new.svg"],
    &["trace", "PLAN"],
    &["trace", "PLAN", "--format", "json"],
    &["trace", "PLAN", "--format", "csv"],
    &["trace", "PLAN", "--picture", "new.svg"],
    &[
        "trace",
        "PLAN",
        "--compartment",
        "1,8,16",
        "--picture",
        "new.svg",
    ],
    &["explain", "PLAN"],
    &["explain", "PLAN", "--format", "json"],
    &["check", "PLAN"],
    &["check", "PLAN", "--format", "json"],
    &["day", "PLAN"],
    &["day", "PLAN", "--format", "json"],
    &["day", "PLAN", "--picture", "new.svg"],
    &["mix", "EAN32", "--depth", "24 m", "--plan", "PLAN"],
    &["mix", "EAN32", "--plan", "PLAN", "--format", "json"],
];

/// What is asked of the charter, its records, or nothing.
const OF_THE_CHARTER: &[&[&str]] = &[
    &["check", "plans"],
    &["check", "plans", "--format", "json"],
    &["check", ".", "nowhere.toml"],
    &[
        "day",
        "plans/kittiwake-wall.toml",
        "plans/slack-water.toml",
        "--home-by",
        "16:00",
    ],
    &[
        "day",
        "plans/kittiwake-wall.toml",
        "plans/slack-water.toml",
        "--format",
        "json",
    ],
    &[
        "day",
        "plans/kittiwake-wall.toml",
        "plans/slack-water.toml",
        "--picture",
        "new.svg",
    ],
    &[
        "day",
        "plans/kittiwake-wall.toml",
        "plans/slack-water.toml",
        "--brief",
        "2",
    ],
    &[
        "debrief",
        "plans/kittiwake-wall.toml",
        "records/kittiwake-wall-pencil.toml",
        "records/kittiwake-wall-mara.csv",
        "records/kittiwake-wall-idris.uddf",
    ],
    &[
        "debrief",
        "plans/kittiwake-wall.toml",
        "records/kittiwake-wall-pencil.toml",
        "records/kittiwake-wall-mara.csv",
        "records/kittiwake-wall-idris.uddf",
        "--format",
        "json",
        "--write-next",
        "new.toml",
        "--interval",
        "95 min",
    ],
    &[
        "debrief",
        "plans/kittiwake-wall.toml",
        "records/kittiwake-wall-idris.uddf",
        "--picture",
        "new.svg",
    ],
    &[
        "debrief",
        "plans/kittiwake-wall.toml",
        "records/kittiwake-wall-mara.csv",
        "--draw",
        "breathing",
        "--picture",
        "new.svg",
    ],
    &[
        "limits",
        "--gas",
        "air,EAN32",
        "--factors",
        "40/85,30/70",
        "--picture",
        "new.svg",
    ],
    &[
        "mix",
        "EAN32",
        "--depth",
        "24m",
        "--blend",
        "200 bar",
        "--from",
        "60 bar EAN28",
    ],
    &["mix", "--best-for", "30m", "--format", "json"],
    &["brief", "nowhere.toml"],
    &["brief", "records/kittiwake-wall-pencil.toml"],
    &["brief", "plans/anvil.toml", "--depth", "24"],
];

/// What a command gave, and the file that it wrote.
#[derive(Debug, PartialEq, Eq)]
struct Given {
    ended: Ended,
    picture: Option<String>,
    plan: Option<String>,
}

fn given(folder: &Path, surroundings: &[(&str, &str)], words: &[&str]) -> Given {
    let output = Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .args(words)
        .current_dir(folder)
        .env_clear()
        .envs(surroundings.iter().copied())
        .output()
        .unwrap();
    let ended = Ended::of(output);
    let taken = |name: &str| {
        let path = folder.join(name);
        let text = fs::read_to_string(&path).ok()?;
        fs::remove_file(path).unwrap();
        Some(text)
    };
    Given {
        ended,
        picture: taken("new.svg"),
        plan: taken("new.toml"),
    }
}

/// The charter and its records once more, for each of the surroundings in another folder.
fn charters(folder: &Folder) -> [PathBuf; 3] {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    ["one", "two/deeper", "th ree/é/so deep"].map(|place| {
        for (from, to) in [("plans", "plans"), ("examples/records", "records")] {
            let to = folder.path().join(place).join(to);
            fs::create_dir_all(&to).unwrap();
            for entry in fs::read_dir(root.join(from)).unwrap() {
                let path = entry.unwrap().path();
                fs::copy(&path, to.join(path.file_name().unwrap())).unwrap();
            }
        }
        folder.path().join(place)
    })
}

fn plans() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("plans");
    let entries = fs::read_dir(folder).unwrap();
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut plans: Vec<String> = names.map(|name| format!("plans/{name}")).collect();
    plans.sort();
    assert!(plans.len() >= 8, "the demo charter lost plans");
    plans
}

/// That a command line gives the same in all three, and the same again; what it gave.
fn is_the_same(places: &[PathBuf; 3], words: &[&str]) -> Given {
    let [first, others @ ..] = places;
    let want = given(first, SURROUNDINGS[0], words);
    for (place, surroundings) in others.iter().zip(&SURROUNDINGS[1..]) {
        let got = given(place, surroundings, words);
        assert!(got == want, "{words:?}\n{got:#?}\nis not\n{want:#?}");
    }
    assert_eq!(
        given(first, SURROUNDINGS[0], words),
        want,
        "{words:?} again"
    );
    assert!((0..=2).contains(&want.ended.status), "{words:?}: {want:?}");
    want
}

/// Half of the plans in a test of its own: there is much to ask.
fn ask_of(name: &str, plans: &[String]) {
    let folder = Folder::new(name);
    let places = charters(&folder);
    for plan in plans {
        for words in OF_A_PLAN {
            let put_in = |word: &'static str| if word == "PLAN" { plan } else { word };
            let words: Vec<&str> = words.iter().copied().map(put_in).collect();
            let given = is_the_same(&places, &words);
            let is_drawn = words.contains(&"--picture") && given.ended.status < 2;
            assert_eq!(given.picture.is_some(), is_drawn, "{words:?}");
        }
    }
}

#[test]
fn every_command_gives_the_same_of_every_plan_whatever_it_is_asked_with() {
    let plans = plans();
    ask_of("gallery-same-one", &plans[..plans.len() / 2]);
}

#[test]
fn every_command_gives_the_same_of_every_other_plan_too() {
    let plans = plans();
    ask_of("gallery-same-two", &plans[plans.len() / 2..]);
}

#[test]
fn every_command_gives_the_same_of_the_charter_whatever_it_is_asked_with() {
    let folder = Folder::new("gallery-same-of-charter");
    let places = charters(&folder);
    for words in OF_THE_CHARTER {
        let given = is_the_same(&places, words);
        let is_written = given.picture.is_some() || given.plan.is_some();
        let is_asked_for = words.iter().any(|word| word.starts_with("new."));
        assert_eq!(is_written, is_asked_for, "{words:?}: {:?}", given.ended);
    }
}

/// Sets and maps in an order of their own, clocks, and whatever else is other from run to run.
#[test]
fn nothing_in_the_source_is_other_from_run_to_run() {
    let mut found = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    let mut files = 0;
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            files += 1;
            let text = fs::read_to_string(&path).unwrap();
            for word in [
                "SystemTime",
                "Instant::",
                "time::Instant",
                "HashMap",
                "HashSet",
                "RandomState",
                "thread_rng",
                "current_dir",
                "process::id",
                "hostname",
            ] {
                if text.contains(word) {
                    found.push(format!("{}: {word}", path.display()));
                }
            }
        }
    }
    assert!(files > 100, "the source has moved");
    assert_eq!(found, [""; 0]);
}
