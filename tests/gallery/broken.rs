//! How a broken file is made and shown, and its whole message compared with the golden beside it.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crate::folder::Folder;
use crate::program::{Ended, STEPS, run};

/// What is changed in a good file; the name says what is wrong with it then.
pub(crate) struct Broken {
    pub(crate) name: &'static str,
    pub(crate) edits: &'static [(&'static str, &'static str)],
}

/// `"name": "old" => "new", "old" => "new";`
macro_rules! broken {
    ($($name:literal: $($old:literal => $new:literal),+;)+) => {
        &[$($crate::broken::Broken { name: $name, edits: &[$(($old, $new)),+] }),+]
    };
}
pub(crate) use broken;

impl Broken {
    /// The names and the bytes of all that are made of a good file.
    pub(crate) fn all(rows: &[Self], good: &str) -> Vec<(&'static str, Vec<u8>)> {
        let made = |row: &Self| {
            let mut text = good.to_owned();
            for (old, new) in row.edits {
                assert!(text.contains(old), "{}: no {old:?} in\n{text}", row.name);
                text = text.replacen(old, new, 1);
            }
            (row.name, text.into_bytes())
        };
        rows.iter().map(made).collect()
    }
}

/// A text as other programs save it.
pub(crate) struct Bytes<'t>(pub(crate) &'t str);

impl Bytes<'_> {
    pub(crate) fn in_latin_1(&self) -> Vec<u8> {
        self.0.chars().map(|c| u8::try_from(c).unwrap()).collect()
    }

    pub(crate) fn in_utf_16(&self) -> Vec<u8> {
        let units = std::iter::once(0xfeff).chain(self.0.encode_utf16());
        units.flat_map(u16::to_le_bytes).collect()
    }
}

/// What is asked of each, `FILE` for its name, and the folder of its goldens.
pub(crate) struct Command {
    pub(crate) folder: &'static str,
    pub(crate) words: &'static [&'static str],
}

/// Each file is refused and named, and told as its golden has it.
pub(crate) fn hold(command: &Command, files: Vec<(&'static str, Vec<u8>)>, ending: &str) {
    let folder = Folder::new(&format!("gallery-of-{}", command.folder));
    folder.write("ferry-steps.toml", STEPS);
    let mut told = Vec::new();
    for (name, bytes) in files {
        let file = format!("{name}{ending}");
        fs::write(folder.path().join(&file), bytes).unwrap();
        let put_in = |word: &&'static str| if *word == "FILE" { &file } else { *word };
        let words: Vec<&str> = command.words.iter().map(put_in).collect();
        let ended = run(folder.path(), &words);
        assert!(ended.stderr.contains(&file), "{name}: {ended:?}");
        told.push((name, ended));
    }
    compare(command.folder, told);
}

/// Each is an error with nothing on standard output, and has the words of its golden; no golden is
/// left over.
pub(crate) fn compare(folder: &str, told: Vec<(&str, Ended)>) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let kept = root.join("tests/gallery/files").join(folder);
    let rewrite = std::env::var_os("HANGBAR_REWRITE").is_some();
    let mut wrong = Vec::new();
    let mut names = BTreeSet::new();
    for (name, ended) in told {
        let golden = format!("{name}.txt");
        assert!(names.insert(golden.clone()), "{name} stands twice");
        let is_refused = ended.status == 2 && ended.stdout.is_empty();
        if !is_refused || !ended.stderr.starts_with("error: ") {
            wrong.push(format!("{name} is not refused: {ended:?}"));
            continue;
        }
        let path = kept.join(&golden);
        if rewrite {
            fs::write(path, ended.stderr).unwrap();
        } else if fs::read_to_string(path).ok().as_ref() != Some(&ended.stderr) {
            let now = ended.stderr;
            wrong.push(format!("{name} differs from its golden; it is now:\n{now}"));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    let entries = fs::read_dir(kept).unwrap();
    let found: BTreeSet<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    assert_eq!(found, names, "goldens and what is refused");
}
