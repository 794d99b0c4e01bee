//! Numbers as a table writes them.

use crate::quantity::{Time, plain_decimal};

use super::log::RecordError;
use super::words::quoted;

/// Longest number that is read.
const MOST_DIGITS: usize = 64;

/// How the times of a column are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum TimeForm {
    Seconds,
    Minutes,
    Hours,
    /// `12:30` or `1:02:30`.
    Clock,
}

/// Reads numbers of one file, which has points for its decimals or commas, never both.
#[derive(Debug)]
pub(super) struct Numbers {
    may_have_commas: bool,
    first_point: Option<u64>,
    first_comma: Option<u64>,
}

impl Numbers {
    pub(super) const fn new(may_have_commas: bool) -> Self {
        Self {
            may_have_commas,
            first_point: None,
            first_comma: None,
        }
    }

    /// The first line with a comma for the decimal point.
    pub(super) const fn first_comma(&self) -> Option<u64> {
        self.first_comma
    }

    /// A number at or above zero.
    pub(super) fn decimal(&mut self, cell: &str, line: u64) -> Result<f64, RecordError> {
        let text = cell.trim();
        let read = if self.may_have_commas {
            self.with_comma(text, line)?
        } else {
            plain_decimal(text)
        };
        let read = read.filter(|value| value.is_finite() && text.len() <= MOST_DIGITS);
        read.ok_or_else(|| refuse(text, line))
    }

    /// A number of either sign.
    pub(super) fn signed(&mut self, cell: &str, line: u64) -> Result<f64, RecordError> {
        match cell.trim().strip_prefix(['-', '−']) {
            Some(digits) if digits.starts_with(|c: char| !c.is_whitespace()) => {
                self.decimal(digits, line).map(|value| -value)
            }
            _ => self.decimal(cell, line),
        }
    }

    /// A time by the form of its column.
    pub(super) fn time(
        &mut self,
        cell: &str,
        form: TimeForm,
        line: u64,
    ) -> Result<Time, RecordError> {
        let minutes = match form {
            TimeForm::Clock => self.clock(cell, line)?,
            _ if cell.contains(':') => {
                let message = format!("the time {} has a colon", quoted(cell));
                let accepted = "a plain number; for times as 12:30 the header is `time (h:mm:ss)`";
                return Err(RecordError::new(Some(line), message, accepted));
            }
            TimeForm::Seconds => self.decimal(cell, line)? / 60.0,
            TimeForm::Minutes => self.decimal(cell, line)?,
            TimeForm::Hours => self.decimal(cell, line)? * 60.0,
        };
        Ok(Time::from_min(minutes))
    }

    fn clock(&mut self, cell: &str, line: u64) -> Result<f64, RecordError> {
        let refuse = || {
            let message = format!(
                "{} is not a time of the form h:mm:ss or mm:ss",
                quoted(cell)
            );
            let accepted = "minutes and seconds as 12:30, with hours as 1:02:30";
            RecordError::new(Some(line), message, accepted)
        };
        let mut parts = cell.trim().split(':');
        let (Some(first), Some(second)) = (parts.next(), parts.next()) else {
            return Err(refuse());
        };
        let (hours, minutes, seconds) = match (parts.next(), parts.next()) {
            (None, _) => (Some(0.0), whole(first), second),
            (Some(third), None) => {
                let minutes = whole(second).filter(|minutes| *minutes < 60.0);
                (whole(first), minutes, third)
            }
            (Some(_), Some(_)) => return Err(refuse()),
        };
        let begins = seconds.as_bytes().first().is_some_and(u8::is_ascii_digit);
        let seconds = self.decimal(seconds, line).map_err(|_| refuse())?;
        match (hours, minutes) {
            (Some(hours), Some(minutes)) if begins && seconds < 60.0 => {
                Ok(hours * 60.0 + minutes + seconds / 60.0)
            }
            _ => Err(refuse()),
        }
    }

    /// A number that may have a comma for its point; `None` where it is none.
    fn with_comma(&mut self, text: &str, line: u64) -> Result<Option<f64>, RecordError> {
        let mut digits = [0_u8; MOST_DIGITS];
        let Some(digits) = digits.get_mut(..text.len()) else {
            return Ok(None);
        };
        digits.copy_from_slice(text.as_bytes());
        let mut commas = 0;
        for byte in digits.iter_mut().filter(|byte| **byte == b',') {
            *byte = b'.';
            commas += 1;
        }
        // One comma and one point are two points now, and no number.
        let read = std::str::from_utf8(digits).ok().and_then(plain_decimal);
        if commas > 0 && read.is_some() {
            self.first_comma.get_or_insert(line);
        } else if text.contains('.') && read.is_some() {
            self.first_point.get_or_insert(line);
        }
        match (self.first_point, self.first_comma) {
            (Some(point), Some(comma)) => {
                let message = format!(
                    "{} is the first number with a decimal {}, and line {} has one with a {}",
                    quoted(text),
                    if commas > 0 { "comma" } else { "point" },
                    if commas > 0 { point } else { comma },
                    if commas > 0 { "point" } else { "comma" },
                );
                let accepted = "one decimal mark in the whole file, and no mark for thousands";
                Err(RecordError::new(Some(line), message, accepted))
            }
            _ => Ok(read),
        }
    }
}

/// Digits and nothing else.
fn whole(text: &str) -> Option<f64> {
    let digits = text.bytes().all(|byte| byte.is_ascii_digit());
    text.parse()
        .ok()
        .filter(|value: &f64| digits && value.is_finite())
}

/// Why a cell is no number at or above zero.
fn refuse(text: &str, line: u64) -> RecordError {
    let found = quoted(text);
    let starts = |text: &str| text.starts_with(|c: char| c.is_ascii_digit());
    let has_unit = starts(text) && text.ends_with(|c: char| c.is_alphabetic());
    let (message, accepted) = if text.is_empty() {
        (
            "the cell is blank".to_owned(),
            "a plain number such as 12.5",
        )
    } else if has_unit && plain_decimal(digits_of(text)).is_some() {
        (
            format!("{found} has a unit in the cell"),
            "a plain number such as 12.5; the unit is in the header, as `depth (m)`",
        )
    } else if text.strip_prefix(['-', '−']).is_some_and(starts) {
        (
            format!("{found} is negative"),
            "a plain number such as 12.5; only a depth may be a little above the surface",
        )
    } else if starts(text) && text.contains(',') {
        (
            format!("{found} has a comma in the number"),
            "a plain number such as 12.5, no mark for thousands; 12,5 only where columns are \
             separated by semicolons or tabs",
        )
    } else {
        (
            format!("{found} is not a plain number"),
            "a plain number such as 12.5: digits, with one decimal mark at most",
        )
    };
    RecordError::new(Some(line), message, accepted)
}

/// What stands before the first letter.
fn digits_of(text: &str) -> &str {
    let end = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
    text.get(..end).unwrap_or_default()
}
