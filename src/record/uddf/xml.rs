//! XML piece by piece, without anything by which a small file becomes a great one.

use std::borrow::Cow;
use std::io::Read;

use quick_xml::XmlVersion;
use quick_xml::errors::{Error, IllFormedError};
use quick_xml::escape::{EscapeError, resolve_predefined_entity};
use quick_xml::events::{BytesDecl, BytesRef, BytesStart, Event};
use quick_xml::reader::Reader;

use super::super::log::RecordError;
use super::super::stream::{Bounded, refusal};
use super::super::words::{quoted, told};

/// Elements within elements; a record needs eight.
const MOST_NESTED: usize = 64;
/// Attributes of one element; a record needs two.
const MOST_ATTRIBUTES: usize = 64;

/// What a file that breaks off or is ill-formed should be.
const WELL_FORMED: &str = "a whole UDDF file, as it was exported: well-formed XML in UTF-8";
/// Why there are no others: an entity may stand for another one ten times over, and so on.
const ENTITIES: &str = "no DOCTYPE, and no entities but &lt; &gt; &amp; &quot; &apos; and \
    characters by number, as &#233;";

/// The next thing in the file.
pub(super) enum Piece<'a> {
    Open(Tag<'a>),
    Text(Cow<'a, str>),
    Close,
    /// A comment or the like.
    Nothing,
    /// All that was open is closed, and nothing follows.
    End,
}

/// A tag that opens an element; its attributes are sound.
pub(super) struct Tag<'a>(BytesStart<'a>);

impl Tag<'_> {
    /// The name, without the prefix of a namespace.
    pub(super) fn name(&self) -> &str {
        self.0.local_name().into_inner()
    }

    /// An attribute without a prefix.
    pub(super) fn attribute(&self, name: &str) -> Option<Cow<'_, str>> {
        let found = self.0.try_get_attribute(name).ok().flatten()?;
        found.normalized_value(XmlVersion::Implicit1_0).ok()
    }
}

/// Reads XML in room that is used again.
pub(super) struct Xml<R: Read> {
    reader: Reader<Bounded<R>>,
    buffer: Vec<u8>,
    nested: usize,
    has_root: bool,
}

impl<R: Read> Xml<R> {
    pub(super) fn new(input: R) -> Self {
        let mut reader = Reader::from_reader(Bounded::pieces(input));
        reader.config_mut().expand_empty_elements = true;
        Self {
            reader,
            buffer: Vec::new(),
            nested: 0,
            has_root: false,
        }
    }

    /// The next piece, and the line on which it begins.
    pub(super) fn next(&mut self) -> Result<(u64, Piece<'_>), RecordError> {
        self.buffer.clear();
        self.reader.get_mut().begin_piece();
        let line = self.reader.get_ref().line();
        let event = self.reader.read_event_into(&mut self.buffer);
        let piece = match event.map_err(|error| ill_formed(&error, line))? {
            Event::Start(start) | Event::Empty(start) => {
                check_attributes(&start, line)?;
                self.nested += 1;
                if self.nested > MOST_NESTED || (self.nested == 1 && self.has_root) {
                    return Err(misplaced(self.nested, line));
                }
                self.has_root = true;
                Piece::Open(Tag(start))
            }
            Event::End(_) => {
                self.nested = self.nested.saturating_sub(1);
                Piece::Close
            }
            Event::Text(text) => content(text.into_inner(), self.nested, line)?,
            Event::CData(text) => content(text.into_inner(), self.nested, line)?,
            Event::GeneralRef(reference) => content(resolve(&reference, line)?, self.nested, line)?,
            Event::Decl(declaration) => {
                check_encoding(&declaration, line)?;
                Piece::Nothing
            }
            Event::DocType(_) => {
                return Err(RecordError::new(
                    Some(line),
                    "the file has a DOCTYPE",
                    ENTITIES,
                ));
            }
            Event::Comment(_) | Event::PI(_) => Piece::Nothing,
            Event::Eof if self.nested == 0 && self.has_root => Piece::End,
            Event::Eof => {
                let message = if self.has_root {
                    "the file breaks off before its last element is closed"
                } else {
                    "the file ends before any element"
                };
                return Err(RecordError::new(Some(line), message, WELL_FORMED));
            }
        };
        Ok((line, piece))
    }
}

/// Text within an element; outside of all there is blank text alone.
fn content(text: Cow<'_, str>, nested: usize, line: u64) -> Result<Piece<'_>, RecordError> {
    if nested > 0 {
        return Ok(Piece::Text(text));
    }
    if text.trim().is_empty() {
        return Ok(Piece::Nothing);
    }
    let message = format!("the text {} is outside of all elements", quoted(&text));
    Err(RecordError::new(Some(line), message, WELL_FORMED))
}

fn misplaced(nested: usize, line: u64) -> RecordError {
    let message = if nested > MOST_NESTED {
        format!("elements are nested more than {MOST_NESTED} deep")
    } else {
        "a second element follows after the whole".to_owned()
    };
    RecordError::new(Some(line), message, WELL_FORMED)
}

fn resolve(reference: &BytesRef<'_>, line: u64) -> Result<Cow<'static, str>, RecordError> {
    let by_number = reference.resolve_char_ref();
    if let Some(character) = by_number.map_err(|error| ill_formed(&error, line))? {
        return Ok(Cow::Owned(character.to_string()));
    }
    let known = resolve_predefined_entity(reference);
    known
        .map(Cow::Borrowed)
        .ok_or_else(|| entity(reference, line))
}

fn entity(name: &str, line: u64) -> RecordError {
    let message = format!("the entity {} is none that is known", quoted(name));
    RecordError::new(Some(line), message, ENTITIES)
}

/// All attributes of a tag, whoever needs them.
fn check_attributes(start: &BytesStart<'_>, line: u64) -> Result<(), RecordError> {
    for (index, attribute) in start.attributes().enumerate() {
        if index == MOST_ATTRIBUTES {
            let message = format!("an element has more than {MOST_ATTRIBUTES} attributes");
            return Err(RecordError::new(Some(line), message, WELL_FORMED));
        }
        let attribute = attribute.map_err(|error| ill_formed(&error.into(), line))?;
        let value = attribute.normalized_value(XmlVersion::Implicit1_0);
        value.map_err(|error| ill_formed(&error, line))?;
    }
    Ok(())
}

fn check_encoding(declaration: &BytesDecl<'_>, line: u64) -> Result<(), RecordError> {
    let Some(encoding) = declaration.encoding() else {
        return Ok(());
    };
    let encoding = encoding.map_err(|error| ill_formed(&error.into(), line))?;
    let is_known = |known: &str| encoding.trim().eq_ignore_ascii_case(known);
    if ["utf-8", "us-ascii"].into_iter().any(is_known) {
        return Ok(());
    }
    let message = format!("the file is written in {}", quoted(&encoding));
    Err(RecordError::new(
        Some(line),
        message,
        "a file saved as UTF-8",
    ))
}

/// Why XML cannot be read.
fn ill_formed(error: &Error, line: u64) -> RecordError {
    let message = match error {
        Error::Io(error) => return refusal(error),
        Error::Escape(EscapeError::UnrecognizedEntity(_, name)) => return entity(name, line),
        Error::Encoding(_) => "the text is not UTF-8".to_owned(),
        Error::IllFormed(IllFormedError::MismatchedEndTag { expected, found }) => {
            let (expected, found) = (quoted(expected), quoted(found));
            format!("not well-formed XML: {expected} is open, and {found} is closed")
        }
        Error::IllFormed(IllFormedError::UnmatchedEndTag(found)) => {
            format!(
                "not well-formed XML: {} is closed and was never open",
                quoted(found)
            )
        }
        Error::IllFormed(IllFormedError::UnclosedReference) => {
            let message = "not well-formed XML: an & stands alone, or its ; is missing";
            return RecordError::new(Some(line), message, ENTITIES);
        }
        Error::Syntax(syntax) => format!("the file breaks off: {}", told(&syntax.to_string())),
        other => format!("not well-formed XML: {}", told(&other.to_string())),
    };
    RecordError::new(Some(line), message, WELL_FORMED)
}
