//! What stands in an element of UDDF: numbers, days, and each of them once.

use crate::plan::TimeOfDay;
use crate::quantity::plain_decimal;

use super::super::log::{LoggedAt, RecordError};
use super::super::words::quoted;

/// An element's text, and where the element begins.
#[derive(Clone, Copy, Debug)]
pub(super) struct Value<'a> {
    pub(super) element: &'a str,
    pub(super) line: u64,
    pub(super) text: &'a str,
}

impl Value<'_> {
    pub(super) fn refuse(&self, message: String, accepted: &str) -> RecordError {
        RecordError::new(Some(self.line), message, accepted).about(self.element)
    }

    /// A real number as XML has them: `18.2`, `-0.1`, `2.0e7`; finite.
    pub(super) fn number(&self, unit: &str) -> Result<f64, RecordError> {
        let text = self.text.trim();
        let number = plain_decimal(text).or_else(|| real(text));
        number.filter(|value| value.is_finite()).ok_or_else(|| {
            let name = self.element;
            let message = match text {
                "" => format!("`{name}` is empty"),
                _ => format!("{} of `{name}` is not a plain number", quoted(text)),
            };
            self.refuse(
                message,
                &format!("{unit}, a number such as 12.5, without the unit"),
            )
        })
    }

    /// The same, and not negative.
    pub(super) fn amount(&self, unit: &str) -> Result<f64, RecordError> {
        let number = self.number(unit)?;
        if number >= 0.0 {
            return Ok(number);
        }
        let message = format!("{} of `{}` is negative", quoted(self.text), self.element);
        Err(self.refuse(message, &format!("{unit}, a number such as 12.5")))
    }

    /// `2026-08-14T09:40:00`, with a time zone or without; it is a clock on the spot. A day alone
    /// does not say when.
    pub(super) fn moment(&self) -> Result<Option<LoggedAt>, RecordError> {
        let text = self.text.trim();
        let (date, clock) = text.split_once('T').unwrap_or((text, ""));
        let moment = match (date.is_empty(), clock.is_empty()) {
            (true, true) => return Ok(None),
            (false, true) if is_date(date) && !text.contains('T') => return Ok(None),
            _ => time_of_day(clock).filter(|_| is_date(date)),
        };
        let moment = moment.map(|time| Some(LoggedAt::new(date.to_owned(), time)));
        moment.ok_or_else(|| {
            let message = format!("{} is not a day and a time", quoted(text));
            self.refuse(message, "a day and a time as 2026-08-14T09:40:00")
        })
    }

    /// Keeps a value in its place, which must be free.
    pub(super) fn once<T>(&self, place: &mut Option<T>, value: T) -> Result<(), RecordError> {
        if place.replace(value).is_some() {
            let message = format!("`{}` stands here for the second time", self.element);
            return Err(self.refuse(message, "each element once where it belongs"));
        }
        Ok(())
    }
}

/// A number with a sign or an exponent.
fn real(text: &str) -> Option<f64> {
    let (sign, rest) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    let begins = |text: &str| text.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    let (digits, exponent) = match rest.split_once(['e', 'E']) {
        Some((digits, exponent)) => (digits, Some(exponent)),
        None => (rest, None),
    };
    let is_whole = |text: &str| {
        let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
        !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit())
    };
    let is_sound =
        begins(digits) && plain_decimal(digits).is_some() && exponent.is_none_or(is_whole);
    let value: f64 = rest.parse().ok().filter(|_| is_sound)?;
    Some(sign * value)
}

/// `2026-08-14`; a day that a month may have.
fn is_date(text: &str) -> bool {
    let mut parts = text.split('-');
    let mut next = |length: usize, range: std::ops::RangeInclusive<u16>| {
        parts
            .next()
            .is_some_and(|part| number(part, length).is_some_and(|n| range.contains(&n)))
    };
    next(4, 1..=9999) && next(2, 1..=12) && next(2, 1..=31) && parts.next().is_none()
}

/// `09:40`, `09:40:00`, `09:40:00.5`, each with `Z`, `+02:00` or nothing behind it.
fn time_of_day(text: &str) -> Option<TimeOfDay> {
    let text = text.strip_suffix('Z').unwrap_or(text);
    let (clock, zone) = match text.find(['+', '-']) {
        Some(at) => (text.get(..at)?, text.get(at + 1..)?),
        None => (text, "00:00"),
    };
    let (hour, minute) = zone.split_once(':')?;
    TimeOfDay::new(number(hour, 2)?, number(minute, 2)?)?;
    let mut parts = clock.split(':');
    let (hour, minute) = (number(parts.next()?, 2)?, number(parts.next()?, 2)?);
    let seconds = parts.next().unwrap_or("00");
    let (seconds, fraction) = seconds.split_once('.').unwrap_or((seconds, "0"));
    let is_fraction = !fraction.is_empty() && fraction.bytes().all(|byte| byte.is_ascii_digit());
    let is_sound = number(seconds, 2)? < 60 && is_fraction && parts.next().is_none();
    TimeOfDay::new(hour, minute).filter(|_| is_sound)
}

/// So many digits.
fn number(text: &str, length: usize) -> Option<u16> {
    let digits = text.len() == length && text.bytes().all(|byte| byte.is_ascii_digit());
    text.parse().ok().filter(|_| digits)
}

#[cfg(test)]
mod tests {
    use super::{is_date, real, time_of_day};

    #[test]
    fn a_real_number_of_xml_is_digits_a_point_a_sign_and_an_exponent() {
        for (text, value) in [
            ("-0.25", Some(-0.25)),
            ("+18", Some(18.0)),
            ("2.0e7", Some(2e7)),
            ("2E+7", Some(2e7)),
            ("5e-1", Some(0.5)),
            ("e7", None),
            ("2e", None),
            ("2e1.5", None),
            ("--2", None),
            ("nan", None),
            ("inf", None),
            ("-inf", None),
            ("0x7f", None),
            ("1_000", None),
            ("", None),
            ("-", None),
        ] {
            assert_eq!(real(text), value, "{text}");
        }
    }

    #[test]
    fn a_moment_is_a_day_of_some_month_and_a_time_of_day() {
        for (text, is_one) in [
            ("2026-08-14", true),
            ("2026-8-14", false),
            ("2026-13-14", false),
            ("2026-08-32", false),
            ("2026-08-14-1", false),
            ("26-08-14", false),
        ] {
            assert_eq!(is_date(text), is_one, "{text}");
        }
        for text in [
            "09:40",
            "09:40:59",
            "09:40:00.25",
            "09:40Z",
            "09:40:00+02:00",
            "09:40-11:30",
        ] {
            let time = time_of_day(text).map(|time| time.to_string());
            assert_eq!(time.as_deref(), Some("09:40"), "{text}");
        }
        for text in [
            "9:40",
            "24:00",
            "09:60",
            "09:40:60",
            "09:40:00.",
            "09:40:00+2",
            "09",
            "",
        ] {
            assert_eq!(time_of_day(text), None, "{text}");
        }
    }
}
