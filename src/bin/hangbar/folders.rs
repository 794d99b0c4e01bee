//! Plans in folders: what is one, and what is passed over.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use hangbar::report::document::SkipReason;

use crate::refusal::Refusal;
use crate::render::names::harmless;

/// Folders nested deeper than this are not looked into.
const DEEPEST_FOLDER: usize = 16;
/// How the name of a plan ends, whatever the case.
const PLAN_ENDING: &[u8] = b".toml";

/// What a name in a folder, or on the command line, is to the check.
#[derive(Debug)]
pub(crate) enum Found {
    Plan,
    Refused(Refusal),
    Skipped(Skipped),
}

/// Why something that may be or hold a plan is not checked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Skipped {
    HiddenFile,
    HiddenFolder,
    /// A folder below the depth bound.
    TooDeep,
    /// A folder that a link, or a loop of links, leads to once more.
    LookedIntoAs(PathBuf),
    LinkToNowhere,
    /// A pipe or a device: reading it might never end.
    NoFile,
}

impl Skipped {
    /// The word for scripts.
    pub(crate) const fn word(&self) -> SkipReason {
        match self {
            Self::HiddenFile => SkipReason::HiddenFile,
            Self::HiddenFolder => SkipReason::HiddenFolder,
            Self::TooDeep => SkipReason::TooDeep,
            Self::LookedIntoAs(_) => SkipReason::LookedIntoAlready,
            Self::LinkToNowhere => SkipReason::LinkToNowhere,
            Self::NoFile => SkipReason::NoFile,
        }
    }

    /// For people.
    pub(crate) fn sentence(&self) -> String {
        match self {
            Self::HiddenFile => "a hidden file; name it to have it checked".to_owned(),
            Self::HiddenFolder => "a hidden folder; name it to have it checked".to_owned(),
            Self::TooDeep => {
                format!("more than {DEEPEST_FOLDER} folders deep; name it to have it checked")
            }
            Self::LookedIntoAs(path) => {
                format!("the same folder as {}", harmless(&path.to_string_lossy()))
            }
            Self::LinkToNowhere => "a link to nothing that is there".to_owned(),
            Self::NoFile => "neither a file nor a folder".to_owned(),
        }
    }
}

/// A file itself, whatever its name; or every plan in a folder and the folders in it, and what is
/// passed over there, in the order of their names.
pub(crate) fn look(path: &Path) -> Vec<(PathBuf, Found)> {
    if !path.is_dir() {
        return vec![(path.to_path_buf(), Found::Plan)];
    }
    let mut walk = Walk::default();
    walk.look_into(path, 0);
    // Links last: a folder in the tree is found under its own name.
    let mut next = 0;
    while let Some((link, depth)) = walk.links.get(next).cloned() {
        walk.look_into(&link, depth);
        next += 1;
    }
    let skipped = |found: &Found| matches!(found, Found::Skipped(_));
    if walk.found.iter().all(|(_, found)| skipped(found)) {
        walk.found
            .push((path.to_path_buf(), Found::Refused(Refusal::NoPlan)));
    }
    walk.found.sort_by(|one, other| one.0.cmp(&other.0));
    walk.found
}

#[derive(Debug, Default)]
struct Walk {
    found: Vec<(PathBuf, Found)>,
    /// Links to folders that are still to be followed, and how deep they are.
    links: Vec<(PathBuf, usize)>,
    /// Folders that have been looked into: their real names, and the names used.
    folders: BTreeMap<PathBuf, PathBuf>,
}

impl Walk {
    fn look_into(&mut self, folder: &Path, depth: usize) {
        if depth > DEEPEST_FOLDER {
            self.skip(folder, Skipped::TooDeep);
        } else if let Err(error) = self.read(folder, depth) {
            let refusal = Refusal::Unreadable(error.to_string());
            self.found
                .push((folder.to_path_buf(), Found::Refused(refusal)));
        }
    }

    fn read(&mut self, folder: &Path, depth: usize) -> std::io::Result<()> {
        let real = folder.canonicalize()?;
        if let Some(known) = self.folders.get(&real) {
            let known = known.clone();
            self.skip(folder, Skipped::LookedIntoAs(known));
            return Ok(());
        }
        self.folders.insert(real, folder.to_path_buf());
        let mut entries = Vec::new();
        for entry in fs::read_dir(folder)? {
            entries.push(entry?.path());
        }
        entries.sort();
        for entry in entries {
            self.sort_out(entry, depth + 1);
        }
        Ok(())
    }

    fn sort_out(&mut self, entry: PathBuf, depth: usize) {
        let name = entry.file_name().unwrap_or_default().as_encoded_bytes();
        let hidden = name.starts_with(b".");
        let is_link = entry.is_symlink();
        let is_plan = name.len() >= PLAN_ENDING.len()
            && name[name.len() - PLAN_ENDING.len()..].eq_ignore_ascii_case(PLAN_ENDING);
        match fs::metadata(&entry) {
            Ok(there) if there.is_dir() && hidden => self.skip(&entry, Skipped::HiddenFolder),
            Ok(there) if there.is_dir() && is_link => self.links.push((entry, depth)),
            Ok(there) if there.is_dir() => self.look_into(&entry, depth),
            // A plan that is linked to and gone is a plan that cannot be read.
            Err(_) if is_link && !hidden && !is_plan => self.skip(&entry, Skipped::LinkToNowhere),
            _ if !is_plan => {}
            _ if hidden => self.skip(&entry, Skipped::HiddenFile),
            Ok(there) if !there.is_file() => self.skip(&entry, Skipped::NoFile),
            // What cannot be read says so when it is.
            Ok(_) | Err(_) => self.found.push((entry, Found::Plan)),
        }
    }

    fn skip(&mut self, path: &Path, why: Skipped) {
        self.found.push((path.to_path_buf(), Found::Skipped(why)));
    }
}
