//! Plans and records, read from files and from standard input.

use std::fs;
use std::io::{self, ErrorKind, Read};
use std::path::Path;

use hangbar::briefing::{Briefing, BriefingError, brief};
use hangbar::plan::Plan;
use hangbar::plan_file::{Overrides, read_with};
use hangbar::record::{RecordFormat, format_of};

use crate::refusal::Refusal;
use crate::render::names::is_standard_input;

/// Reads a plan file, or standard input for `-`.
pub(crate) fn read_plan(path: &Path, overrides: &Overrides) -> Result<Plan, Refusal> {
    read_with(&read_text(path)?, overrides).map_err(Refusal::Plan)
}

/// The text of a plan file, or standard input for `-`.
pub(crate) fn read_text(path: &Path) -> Result<String, Refusal> {
    text(open(path).map_err(unreadable)?)
}

fn unreadable(error: io::Error) -> Refusal {
    Refusal::Unreadable(match error.kind() {
        ErrorKind::NotFound => "there is no such file".to_owned(),
        ErrorKind::IsADirectory => "it is a folder, which `check` alone takes".to_owned(),
        ErrorKind::PermissionDenied => "nobody is let read it".to_owned(),
        _ => error.to_string(),
    })
}

/// Reads a plan file (or standard input for `-`) and works out its briefing.
pub(crate) fn work_out(path: &Path, overrides: &Overrides) -> Result<Briefing, Refusal> {
    let plan = read_plan(path, overrides)?;
    brief(plan).map_err(|error| match error {
        BriefingError::Check(_) => Refusal::Check(error.to_string()),
        BriefingError::Schedule(_) => Refusal::NoWayUp(error.to_string()),
        other => Refusal::Dive(other.to_string()),
    })
}

/// A little more than a plan may have: whatever never ends is refused by its length.
const MOST: u64 = (1 << 20) + 1;

fn open(path: &Path) -> io::Result<Box<dyn Read>> {
    if is_standard_input(path) {
        Ok(Box::new(io::stdin().lock()))
    } else {
        Ok(Box::new(fs::File::open(path)?))
    }
}

/// Most plans are no longer, bytes.
const USUAL: usize = 4 << 10;

fn text(from: impl Read) -> Result<String, Refusal> {
    let mut bytes = Vec::with_capacity(USUAL);
    from.take(MOST)
        .read_to_end(&mut bytes)
        .map_err(unreadable)?;
    if bytes.len() as u64 == MOST {
        let message = "the file is longer than 1 MiB; a plan is not";
        return Err(Refusal::Unreadable(message.to_owned()));
    }
    String::from_utf8(bytes).map_err(|error| {
        let end = error.utf8_error().valid_up_to();
        no_text(error.as_bytes(), end)
    })
}

/// Bytes that are no text, good up to an end: what they are, and the line of the first that is not.
fn no_text(bytes: &[u8], end: usize) -> Refusal {
    let utf_16 = [b"\xff\xfe", b"\xfe\xff"]
        .iter()
        .any(|mark| bytes.starts_with(*mark));
    let (message, line) = if utf_16 {
        ("the file is text in UTF-16".to_owned(), None)
    } else if bytes.contains(&0) {
        ("the file has zero bytes: it is binary".to_owned(), None)
    } else {
        let newlines = bytes[..end].iter().filter(|byte| **byte == b'\n').count();
        let byte = bytes.get(end).copied().unwrap_or_default();
        let message = format!("the file is not UTF-8 text: byte {byte:02x}");
        (message, u64::try_from(newlines + 1).ok())
    };
    Refusal::NotText { message, line }
}

/// A record under way: its first bytes, by which its form is known, and the rest.
pub(crate) struct Opened {
    head: Vec<u8>,
    rest: Box<dyn Read>,
}

impl Opened {
    pub(crate) fn new(path: &Path) -> Result<Self, Refusal> {
        const HEAD: u64 = 8 << 10;
        let mut rest = open(path).map_err(unreadable)?;
        let mut head = Vec::new();
        let mut first = rest.by_ref().take(HEAD);
        first.read_to_end(&mut head).map_err(unreadable)?;
        Ok(Self { head, rest })
    }

    pub(crate) fn format(&self) -> Result<RecordFormat, Refusal> {
        format_of(&self.head).map_err(|error| Refusal::Record(Box::new(error)))
    }

    /// All of it, from the beginning.
    pub(crate) fn stream(self) -> impl Read {
        io::Cursor::new(self.head).chain(self.rest)
    }

    /// All of it as text, no longer than a plan may be.
    pub(crate) fn text(self) -> Result<String, Refusal> {
        text(self.stream())
    }
}
