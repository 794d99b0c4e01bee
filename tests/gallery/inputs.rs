//! Files that never end, are no files, or wait for somebody: nothing is held that is longer than a
//! plan or a record may be, and nobody waits for ever.

use std::fs::{self, File};
use std::io::Write;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use crate::folder::Folder;
use crate::program::{Ended, STEPS, TABLE, UDDF, hangbar, run};

/// In debug, on a machine that does other things as well.
const LONG_ENOUGH: Duration = Duration::from_secs(60);
/// As much memory as a command may ask for, in KiB: a quarter of what the longest file here has.
const MEMORY_KIB: u64 = 256 << 10;
const GIGABYTE: u64 = 1 << 30;

/// A plan may have so many bytes.
const LONGEST_PLAN: usize = 1 << 20;

/// Every command that reads a plan or a record of that name.
fn readers(file: &str) -> Vec<Vec<&str>> {
    let words = [
        &["brief"][..],
        &["whatif"],
        &["trace"],
        &["explain"],
        &["limits"],
        &["check"],
        &["day"],
        &["mix", "air", "--plan"],
        &["debrief", "steps.toml"],
    ];
    words.map(|words| [words, &[file]].concat()).to_vec()
}

/// What a command gives within little memory, and in time.
fn bounded(folder: &Path, arguments: &[&str], input: Stdio) -> Ended {
    let script = format!("ulimit -v {MEMORY_KIB}; exec \"$0\" \"$@\"");
    let mut child = Command::new("sh")
        .args(["-c", &script, env!("CARGO_BIN_EXE_hangbar")])
        .args(arguments)
        .current_dir(folder)
        .stdin(input)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let begin = Instant::now();
    while child.try_wait().unwrap().is_none() {
        if begin.elapsed() > LONG_ENOUGH {
            child.kill().unwrap();
            panic!("{arguments:?} does not end");
        }
        thread::sleep(Duration::from_millis(5));
    }
    Ended::of(child.wait_with_output().unwrap())
}

fn is_refused(ended: &Ended, arguments: &[&str]) {
    assert_eq!(ended.status, 2, "{arguments:?}: {ended:?}");
    assert!(ended.stderr.starts_with("error: "), "{ended:?}");
    assert!(ended.stderr.len() < 2000, "{ended:?}");
    let is_check = arguments[0] == "check";
    assert_eq!(ended.stdout.is_empty(), !is_check, "{ended:?}");
}

/// A file of so many zeros that takes no room.
fn zeros(folder: &Folder, name: &str) {
    let file = File::create(folder.path().join(name)).unwrap();
    file.set_len(GIGABYTE).unwrap();
}

fn pipe(folder: &Folder, name: &str) -> PathBuf {
    let path = folder.path().join(name);
    let made = Command::new("mkfifo").arg(&path).status().unwrap();
    assert!(made.success());
    path
}

#[test]
fn what_never_ends_is_refused_by_every_command_in_little_memory() {
    let folder = Folder::new("gallery-endless");
    folder.write("steps.toml", STEPS);
    zeros(&folder, "zeros");
    for file in ["/dev/zero", "/dev/urandom", "zeros"] {
        for words in readers(file) {
            let ended = bounded(folder.path(), &words, Stdio::null());
            is_refused(&ended, &words);
            assert!(ended.stderr.contains(file), "{ended:?}");
        }
    }
}

#[test]
fn a_gigabyte_that_begins_as_a_plan_or_a_record_is_refused_in_little_memory() {
    let folder = Folder::new("gallery-gigabyte");
    folder.write("steps.toml", STEPS);
    for (name, begins) in [("plan", STEPS), ("table", TABLE), ("logger", UDDF)] {
        let path = folder.write(name, begins);
        let file = File::options().append(true).open(path).unwrap();
        file.set_len(GIGABYTE).unwrap();
        for words in readers(name) {
            let ended = bounded(folder.path(), &words, Stdio::null());
            is_refused(&ended, &words);
        }
    }
}

#[test]
fn standard_input_without_an_end_is_refused() {
    let folder = Folder::new("gallery-endless-input");
    folder.write("steps.toml", STEPS);
    for file in ["-", "/dev/stdin"] {
        for words in readers(file) {
            let endless = File::open("/dev/zero").unwrap();
            let ended = bounded(folder.path(), &words, endless.into());
            is_refused(&ended, &words);
        }
    }
}

#[test]
fn a_plan_may_be_so_long_and_not_a_byte_longer() {
    let folder = Folder::new("gallery-longest");
    let padded = |bytes: usize| {
        let comment = "# ".to_owned() + &"x".repeat(bytes - STEPS.len() - 3) + "\n";
        comment + STEPS
    };
    let ended = |bytes: usize| {
        folder.write("plan.toml", &padded(bytes));
        run(folder.path(), &["brief", "plan.toml"])
    };
    let longest = ended(LONGEST_PLAN);
    assert_eq!(longest.status, 0, "{longest:?}");
    let longer = ended(LONGEST_PLAN + 1);
    assert_eq!(longer.status, 2);
    assert!(longer.stderr.contains("longer than 1 MiB"), "{longer:?}");
}

#[test]
fn a_folder_with_pipes_and_devices_in_it_is_checked_without_waiting() {
    let folder = Folder::new("gallery-pipes");
    folder.write("steps.toml", STEPS);
    pipe(&folder, "nobody-writes.toml");
    pipe(&folder, "not-asked-for.txt");
    symlink("/dev/zero", folder.path().join("zero.toml")).unwrap();
    symlink("nobody-writes.toml", folder.path().join("linked.toml")).unwrap();
    let ended = bounded(folder.path(), &["check", "."], Stdio::null());
    assert_eq!(ended.status, 0, "{ended:?}");
    assert_eq!(ended.stdout.lines().count(), 1, "{ended:?}");
    let notes: Vec<&str> = ended.stderr.lines().collect();
    let passed_over = ["linked", "nobody-writes", "zero"]
        .map(|name| format!("note: skipped ./{name}.toml: neither a file nor a folder"));
    assert_eq!(notes, passed_over);
}

#[test]
fn a_pipe_that_is_named_is_read_to_its_end_as_a_file_is() {
    let folder = Folder::new("gallery-named-pipe");
    folder.write("steps.toml", STEPS);
    let mut want = run(folder.path(), &["brief", "steps.toml"]);
    let path = pipe(&folder, "pipe");
    let writer = path.clone();
    let writing = thread::spawn(move || fs::write(writer, STEPS));
    let got = bounded(folder.path(), &["brief", "pipe"], Stdio::null());
    writing.join().unwrap().unwrap();
    assert_eq!(got, want);
    // One that never ends is left when it has said more than a plan may.
    let writing = thread::spawn(move || {
        let mut pipe = File::options().write(true).open(path).unwrap();
        while pipe.write_all(b"# and so on\n").is_ok() {}
    });
    want = bounded(folder.path(), &["brief", "pipe"], Stdio::null());
    writing.join().unwrap();
    assert_eq!(want.status, 2);
    assert!(want.stderr.contains("longer than 1 MiB"), "{want:?}");
}

#[test]
fn nobody_is_waited_for_where_standard_input_is_closed() {
    let folder = Folder::new("gallery-closed-input");
    let script = "exec \"$0\" brief - <&-";
    let output = Command::new("sh")
        .args(["-c", script, env!("CARGO_BIN_EXE_hangbar")])
        .current_dir(folder.path())
        .output()
        .unwrap();
    let ended = Ended::of(output);
    assert_eq!((ended.status, ended.stdout.as_str()), (2, ""), "{ended:?}");
}

#[test]
fn what_is_there_already_is_found_before_anything_else_is_written() {
    let folder = Folder::new("gallery-nothing-half");
    folder.write("steps.toml", STEPS);
    folder.write("table.csv", TABLE);
    folder.write("taken.toml", "kept");
    for words in [
        &["brief", "steps.toml", "--record", "taken.toml"][..],
        &[
            "debrief",
            "steps.toml",
            "table.csv",
            "--interval",
            "2 h",
            "--absent",
            "Oskar",
            "--write-next",
            "taken.toml",
        ],
    ] {
        let picture = ["--picture", "picture.svg"];
        let ended = Ended::of(
            hangbar(folder.path())
                .args([words, &picture].concat())
                .output()
                .unwrap(),
        );
        assert_eq!((ended.status, ended.stdout.as_str()), (2, ""), "{ended:?}");
        assert!(ended.stderr.contains("taken.toml is there already"));
        assert!(!folder.path().join("picture.svg").exists(), "{words:?}");
        assert_eq!(
            fs::read_to_string(folder.path().join("taken.toml")).unwrap(),
            "kept"
        );
    }
}

#[test]
fn where_nothing_can_be_written_is_told_in_words_that_stay_the_same() {
    let folder = Folder::new("gallery-nowhere");
    folder.write("steps.toml", STEPS);
    let long = "x".repeat(300);
    for (place, why) in [
        ("no/such/folder", "there is no such folder"),
        ("steps.toml/inside", "what should be its folder is none"),
        (long.as_str(), "invalid filename"),
    ] {
        for (option, ending) in [("--picture", "svg"), ("--record", "toml")] {
            let name = format!("{place}.{ending}");
            let words = ["brief", "steps.toml", option, &name];
            let ended = run(folder.path(), &words);
            assert_eq!((ended.status, ended.stdout.as_str()), (2, ""), "{ended:?}");
            let line = format!("error: cannot write {name}: {why}\n");
            assert!(ended.stderr.starts_with(&line), "{ended:?}");
            assert_eq!(run(folder.path(), &words), ended);
        }
    }
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}
