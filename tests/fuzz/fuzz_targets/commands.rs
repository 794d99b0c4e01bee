//! Whole commands: a command line and the files that it names, through the same entry as the program.
//!
//! An input is the words of the command line, a tab between two, on the first line; then files, each
//! behind a line `%% NAME` with one of the names of [`NAMES`]. It runs in a folder of its own, in
//! which every word is kept that could be a path.
#![no_main]

use std::ffi::OsString;
use std::path::PathBuf;
use std::sync::OnceLock;
use std::{env, fs, process};

use hangbar_fuzz::mutate::{Dice, Lines, mutated, once, put};
use hangbar_fuzz::{checks, command, slow};
use libfuzzer_sys::{fuzz_mutator, fuzz_target, fuzzer_mutate};
use serde_json::Value;

/// Files that an input may have.
const NAMES: [&str; 6] = ["a.toml", "b.toml", "r.csv", "r.uddf", "r.toml", "d/c.toml"];

/// Words of command lines.
const WORDS: &[&str] = &[
    "brief",
    "sheet",
    "--slate",
    "--skipper",
    "--paper",
    "a4",
    "--output",
    "s.html",
    "completions",
    "bash",
    "fish",
    "manual",
    "--into",
    "50",
    "diver.cylinder",
    "--only",
    "whatif",
    "limits",
    "mix",
    "trace",
    "explain",
    "day",
    "debrief",
    "check",
    "help",
    "a.toml",
    "b.toml",
    "r.csv",
    "r.uddf",
    "r.toml",
    "d",
    ".",
    "-",
    "--",
    "none.toml",
    "Runa=r.csv",
    "Oskar=r.uddf",
    "--short",
    "--record",
    "new.toml",
    "--depth",
    "26 m",
    "85 ft",
    "--bottom-time",
    "20 min",
    "200 min",
    "--splash",
    "09:40",
    "23:59",
    "--fill",
    "Runa=190 bar",
    "Oskar=2800 psi",
    "--arrived",
    "90 min",
    "--home-altitude",
    "2000 m",
    "--cabin-altitude",
    "8000 ft",
    "--fly-at",
    "18:00",
    "18:00+1",
    "--format",
    "text",
    "json",
    "csv",
    "--units",
    "metric",
    "imperial",
    "--color",
    "auto",
    "always",
    "never",
    "--columns",
    "40",
    "57",
    "80",
    "--late",
    "4 min,8 min",
    "--deeper",
    "5m",
    "--harder",
    "25%",
    "--gas",
    "air,EAN32",
    "Runa",
    "--factors",
    "40/85,30/70",
    "--from",
    "10 m",
    "--to",
    "40 m",
    "200 m",
    "--step",
    "2 m",
    "0.5 min",
    "--oxygen-limit",
    "1.4 bar",
    "--water",
    "fresh",
    "--altitude",
    "1500 m",
    "--descent-rate",
    "18 m/min",
    "--ascent-rate",
    "9 m/min",
    "EAN32",
    "18/45",
    "oxygen",
    "--best-for",
    "30 m",
    "--plan",
    "--blend",
    "200 bar",
    "3000 psi",
    "60 bar EAN28",
    "--top",
    "--temperature",
    "15 C",
    "--compartment",
    "1,8,16",
    "4",
    "--against",
    "time",
    "ambient",
    "--picture",
    "p.svg",
    "--chart",
    "--limit",
    "--stop",
    "6 m",
    "--interval",
    "75 min",
    "--fly",
    "--home-by",
    "16:30",
    "--brief",
    "1",
    "2",
    "--write-next",
    "next.toml",
    "--next-splash",
    "13:50",
    "--absent",
    "Oskar",
    "--draw",
    "profile",
    "breathing",
    "new",
    "--imperial",
    "--divers",
    "3",
    "keys",
    "site",
    "--record",
    "schema",
    "plan",
    "briefing",
    "--version",
    "--help",
];

fuzz_target!(|data: &[u8]| {
    let Ok(text) = str::from_utf8(data) else {
        return;
    };
    let (line, files) = text.split_once('\n').unwrap_or((text, ""));
    let Some(words) = words(line) else { return };
    let folder = folder();
    let begun_in = env::current_dir().expect("a folder to begin in");
    let _ = fs::remove_dir_all(folder);
    fs::create_dir_all(folder.join("d")).expect("a folder of its own");
    env::set_current_dir(folder).expect("a folder of its own");
    write(files);
    let ended = slow::timed(data, || command(&words));
    let is_check = words.get(1).is_some_and(|word| word == "check");
    let coloured = words
        .iter()
        .any(|word| word.to_string_lossy().contains("always"));
    checks::shown(&ended.errors);
    assert!(
        ended.status <= 2,
        "status {} of {line:?}: {}",
        ended.status,
        ended.errors
    );
    assert!(
        is_check || !ended.output.is_empty() || !ended.errors.is_empty(),
        "nothing said of {line:?}"
    );
    if coloured {
        checks::shown(&without_colour(&ended.output));
    } else {
        checks::shown(&ended.output);
    }
    if ended.output.starts_with('{') {
        let document: Value = serde_json::from_str(&ended.output).expect("JSON");
        // A schema is no document: its title says of what it is.
        let schema = document.get("schema").unwrap_or(&document["title"]);
        let schema = schema.as_str().expect("a schema");
        assert!(schema.starts_with("hangbar"), "{schema}");
        let is_errors = document["schema"] == "hangbar/errors/1";
        assert_eq!(is_errors, ended.status > 1, "{line:?}: {}", ended.output);
    }
    for name in ["p.svg", "s.html", "new.toml", "next.toml"] {
        if !files.contains(name)
            && let Ok(bytes) = fs::read(name)
        {
            let written = String::from_utf8(bytes).expect("text");
            if name == "next.toml" {
                // All but what was changed is as it was, whatever stands in comments.
                hangbar::plan_file::read(&written).expect("a plan");
            } else {
                checks::shown(&written);
            }
        }
    }
    // Where the fuzzer keeps its corpus.
    env::set_current_dir(begun_in).expect("the folder it began in");
});

/// The folder in which commands run, below one more that nothing else is in.
fn folder() -> &'static PathBuf {
    static FOLDER: OnceLock<PathBuf> = OnceLock::new();
    FOLDER.get_or_init(|| {
        let shared = PathBuf::from("/dev/shm");
        let below = if shared.is_dir() {
            shared
        } else {
            env::temp_dir()
        };
        below
            .join(format!("hangbar-fuzz-{}", process::id()))
            .join("of-its-own")
    })
}

/// The words of a line; none that leads out of the folder.
fn words(line: &str) -> Option<Vec<OsString>> {
    if line.contains(['\0']) || line.contains("..") {
        return None;
    }
    // Rates and fractions of gases have a stroke, and so has the one folder that there is.
    let leads_out =
        |word: &str| word.trim().starts_with('/') || word.contains("=/") || word.contains(" /");
    let words = line.split('\t');
    let words: Vec<OsString> = words
        .filter(|word| !leads_out(word))
        .map(OsString::from)
        .collect();
    Some(
        [OsString::from("hangbar")]
            .into_iter()
            .chain(words)
            .collect(),
    )
}

fn write(files: &str) {
    for part in files.split("%% ").skip(1) {
        let (name, text) = part.split_once('\n').unwrap_or((part, ""));
        if NAMES.contains(&name) {
            fs::write(name, text).expect("a folder of its own");
        }
    }
}

/// The text without the colours and weights that a screen is asked for.
fn without_colour(text: &str) -> String {
    let mut parts = text.split("\u{1b}[");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |shown, part| {
        let end = part.find('m').expect("a colour ends");
        let digits = part[..end]
            .bytes()
            .all(|byte| byte.is_ascii_digit() || byte == b';');
        assert!(digits, "no colour: {part:?}");
        shown + &part[end + 1..]
    })
}

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    let mut dice = Dice::new(seed);
    let text = str::from_utf8(&data[..size])
        .ok()
        .filter(|text| !text.is_empty());
    let Some(text) = text.filter(|_| dice.below(6) > 0) else {
        return fuzzer_mutate(data, size, max_size);
    };
    let (line, files) = text.split_once('\n').unwrap_or((text, ""));
    if dice.below(3) > 0 {
        let line = other_line(line, &mut dice);
        let text = format!("{line}\n{files}");
        return put(&text, data, max_size);
    }
    if files.contains("%% r.") && dice.below(2) > 0 {
        return mutated(Lines::Record, data, size, max_size, seed);
    }
    let (line, mut files) = (line.to_owned(), files.to_owned());
    for _ in 0..=dice.below(3) {
        once(Lines::Plan, &mut files, &mut dice);
    }
    put(&format!("{line}\n{files}"), data, max_size)
});

/// The line with a word more, less, or another one.
fn other_line(line: &str, dice: &mut Dice) -> String {
    let mut words: Vec<&str> = line.split('\t').collect();
    for _ in 0..=dice.below(3) {
        let at = dice.below(words.len() + 1);
        let new = WORDS[dice.below(WORDS.len())];
        match dice.below(5) {
            0 | 1 => words.insert(at, new),
            2 if at < words.len() => words[at] = new,
            3 if at < words.len() => {
                words.remove(at);
            }
            _ => {
                // An option behind the command, with what stands behind it in the list.
                let options: Vec<usize> = (0..WORDS.len())
                    .filter(|index| WORDS[*index].starts_with("--"))
                    .collect();
                let option = options[dice.below(options.len())];
                words.push(WORDS[option]);
                words.push(WORDS[(option + 1) % WORDS.len()]);
            }
        }
    }
    words.join("\t")
}
