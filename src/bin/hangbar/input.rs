//! Plans, read from files and from standard input.

use std::fs;
use std::io::{self, Read};
use std::path::Path;

use hangbar::briefing::{Briefing, BriefingError, brief};
use hangbar::plan::Plan;
use hangbar::plan_file::{Overrides, read_with};

use crate::refusal::Refusal;
use crate::render::names::is_standard_input;

/// Reads a plan file, or standard input for `-`.
pub(crate) fn read_plan(path: &Path, overrides: &Overrides) -> Result<Plan, Refusal> {
    let text = read(path).map_err(|error| Refusal::Unreadable(error.to_string()))?;
    read_with(&text, overrides).map_err(Refusal::Plan)
}

/// Reads a plan file (or standard input for `-`) and works out its briefing.
pub(crate) fn work_out(path: &Path, overrides: &Overrides) -> Result<Briefing, Refusal> {
    let plan = read_plan(path, overrides)?;
    brief(plan).map_err(|error| match error {
        BriefingError::Check(_) => Refusal::Check(error.to_string()),
        other => Refusal::Dive(other.to_string()),
    })
}

fn read(path: &Path) -> io::Result<String> {
    // A little more than a plan may have: whatever never ends is refused by its length.
    const MOST: u64 = (1 << 20) + 1;
    let mut bytes = Vec::new();
    if is_standard_input(path) {
        io::stdin().lock().take(MOST).read_to_end(&mut bytes)?;
    } else {
        fs::File::open(path)?.take(MOST).read_to_end(&mut bytes)?;
    }
    if bytes.len() as u64 == MOST {
        let message = "the file is longer than 1 MiB; a plan is not";
        return Err(io::Error::new(io::ErrorKind::InvalidData, message));
    }
    String::from_utf8(bytes).map_err(|_| {
        let message = "the file is not UTF-8 text";
        io::Error::new(io::ErrorKind::InvalidData, message)
    })
}
