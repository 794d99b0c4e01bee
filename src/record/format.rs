//! How a record is written, by what is in it.

use super::columns::{ACCEPTED as TABLE, names};
use super::log::RecordError;
use super::words::quoted;

/// How a record is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RecordFormat {
    /// TOML, with a pencil log for each diver.
    Pencil,
    /// A table of text with a header line: one dive of one diver.
    Csv,
    /// UDDF, an XML: the dives of one diver.
    Uddf,
}

/// What else a file may begin with, and what that is.
const OTHER: &[(&[u8], &str)] = &[
    (b"\xff\xfe", "the file is text in UTF-16"),
    (b"\xfe\xff", "the file is text in UTF-16"),
    (b"PK\x03\x04", "the file is zipped"),
    (b"\x1f\x8b", "the file is zipped"),
    (b"BZh", "the file is zipped"),
    (b"\xfd7zXZ", "the file is zipped"),
    (b"7z\xbc\xaf", "the file is zipped"),
    (b"\x28\xb5\x2f\xfd", "the file is zipped"),
    (b"%PDF", "the file is a page to print"),
];

/// What a record may be, for messages.
const ACCEPTED: &str = "a table with a header line that names time and depth, UDDF (XML), or a \
    pencil log in TOML with [[diver]]; as plain text in UTF-8";

/// How a record is written, from the first bytes of its file: 8 KiB are enough. The name of a file
/// says nothing.
///
/// `<` first is UDDF; a first line that begins with `[` or is `key = value` is a pencil log; one
/// whose cells name time and depth is a table. Blank lines and comments before it do not count.
///
/// # Errors
/// [`RecordError`] for what is none of them, with what it looks like.
///
/// # Example
/// ```
/// use hangbar::record::{RecordFormat, format_of};
/// assert_eq!(format_of(b"# a comment\ntime (s);depth (m)\n"), Ok(RecordFormat::Csv));
/// assert_eq!(format_of(b"[[diver]]\nname = \"Mara\"\n"), Ok(RecordFormat::Pencil));
/// assert_eq!(format_of(b"<?xml version=\"1.0\"?>"), Ok(RecordFormat::Uddf));
/// assert!(format_of(b"PK\x03\x04").is_err());
/// ```
pub fn format_of(head: &[u8]) -> Result<RecordFormat, RecordError> {
    let refuse = |line, what: &str| Err(RecordError::new(line, what, ACCEPTED));
    if head.is_empty() {
        return refuse(None, "the file is empty");
    }
    if let Some((_, what)) = OTHER.iter().find(|(mark, _)| head.starts_with(mark)) {
        return refuse(None, what);
    }
    if head.contains(&0) {
        return refuse(
            None,
            "the file has zero bytes: it is binary, or text in UTF-16",
        );
    }
    let head = head.strip_prefix(b"\xef\xbb\xbf").unwrap_or(head);
    if head.trim_ascii_start().starts_with(b"<") {
        return Ok(RecordFormat::Uddf);
    }
    let text = match text_of(head) {
        Ok(text) => text,
        Err(line) => return refuse(Some(line), "the file is not text in UTF-8"),
    };
    if text.contains('\r') && !text.contains('\n') {
        let message = "lines end with carriage returns alone";
        let accepted = "lines that end with a line feed, or with both";
        return Err(RecordError::new(Some(1), message, accepted));
    }
    let mut is_blank = true;
    for (number, line) in (1..).zip(text.lines()) {
        let line = line.trim();
        is_blank &= line.is_empty();
        if !line.is_empty() && !line.starts_with('#') {
            return by_line(line, number);
        }
    }
    refuse(
        None,
        if is_blank {
            "the file is blank"
        } else {
            "the file begins with comments alone"
        },
    )
}

/// By the first line that says something.
fn by_line(line: &str, number: u64) -> Result<RecordFormat, RecordError> {
    if line.starts_with('[') || is_key_and_value(line) {
        return Ok(RecordFormat::Pencil);
    }
    if names("time", line) && names("depth", line) {
        return Ok(RecordFormat::Csv);
    }
    let has_several = line.contains([',', ';', '\t']);
    let (message, accepted) = if has_several {
        let unnamed = match (names("time", line), names("depth", line)) {
            (true, false) => "depth",
            (false, true) => "time",
            _ => "time and depth",
        };
        let message = format!("the header {} does not name {unnamed}", quoted(line));
        (message, TABLE)
    } else {
        let message = format!(
            "the file is no record that is known; it begins {}",
            quoted(line)
        );
        (message, ACCEPTED)
    };
    Err(RecordError::new(Some(number), message, accepted))
}

/// Whether a line is `key = value` of TOML.
fn is_key_and_value(line: &str) -> bool {
    let in_key = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.' | '"' | '\'');
    line.split_once('=').is_some_and(|(key, _)| {
        let key = key.trim();
        !key.is_empty() && key.chars().all(in_key)
    })
}

/// The text of a head, which may end within a character; or the line of what is none.
fn text_of(head: &[u8]) -> Result<&str, u64> {
    let error = match std::str::from_utf8(head) {
        Ok(text) => return Ok(text),
        Err(error) => error,
    };
    let good = head.get(..error.valid_up_to()).unwrap_or_default();
    match std::str::from_utf8(good) {
        Ok(text) if error.error_len().is_none() => Ok(text),
        _ => Err((1..)
            .zip(good.split(|byte| *byte == b'\n'))
            .map(|(line, _)| line)
            .last()
            .unwrap_or(1)),
    }
}
