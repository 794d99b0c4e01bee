//! Times of day.

use std::fmt;
use std::str::FromStr;

use crate::letters::quotable;
use crate::quantity::serde_as_text;
use serde::Serialize;

/// A time of day, without a date.
///
/// Reads one or two digits of the hour and two of the minute, prints two and two; serde takes and
/// gives the same text.
///
/// # Example
/// ```
/// use hangbar::plan::TimeOfDay;
/// let splash: TimeOfDay = "9:40".parse()?;
/// assert_eq!(splash.to_string(), "09:40");
/// assert_eq!(serde_json::to_string(&splash)?, "\"09:40\"");
/// assert!("24:00".parse::<TimeOfDay>().is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TimeOfDay {
    minutes: u16,
}

/// Why a text is no time of day.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "`{}` is not a time of day from 00:00 to 23:59, with two digits of minutes, as 9:40",
    quotable(.0)
)]
pub struct TimeOfDayError(String);

impl TimeOfDay {
    /// From hours and minutes; `None` unless `hour < 24` and `minute < 60`.
    #[must_use]
    pub const fn new(hour: u16, minute: u16) -> Option<Self> {
        if hour < 24 && minute < 60 {
            Some(Self {
                minutes: hour * 60 + minute,
            })
        } else {
            None
        }
    }

    /// The hour, 0 to 23.
    #[must_use]
    pub const fn hour(self) -> u16 {
        self.minutes / 60
    }

    /// The minute, 0 to 59.
    #[must_use]
    pub const fn minute(self) -> u16 {
        self.minutes % 60
    }

    /// So many whole minutes later, past midnight if need be.
    #[must_use]
    pub const fn after(self, minutes: u32) -> Self {
        self.day_time_after(minutes).time
    }

    /// So many whole minutes later, and on which day that is.
    ///
    /// # Example
    /// ```
    /// use hangbar::plan::TimeOfDay;
    /// let splash: TimeOfDay = "9:40".parse()?;
    /// let later = splash.day_time_after(24 * 60 + 5);
    /// assert_eq!((later.days_later, later.time.to_string().as_str()), (1, "09:45"));
    /// assert_eq!(later.to_string(), "09:45 the next day");
    /// assert_eq!(later.minutes_since(splash.day_time_after(0)), 24 * 60 + 5);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub const fn day_time_after(self, minutes: u32) -> DayTime {
        // Days and the rest apart: their sum is within u32 whatever the minutes are.
        let rest = self.minutes as u32 + minutes % DAY_MIN;
        DayTime {
            days_later: minutes / DAY_MIN + rest / DAY_MIN,
            time: Self {
                minutes: (rest % DAY_MIN) as u16,
            },
        }
    }
}

/// Minutes of a day.
const DAY_MIN: u32 = 24 * 60;

/// A time of day on the day of the splash or on a later one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct DayTime {
    /// Days after that of the splash.
    pub days_later: u32,
    /// Time of day.
    pub time: TimeOfDay,
}

impl DayTime {
    /// Minutes from another one to this; negative where this is the earlier one.
    #[must_use]
    pub fn minutes_since(self, other: Self) -> i64 {
        let minutes =
            |at: Self| i64::from(at.days_later) * i64::from(DAY_MIN) + i64::from(at.time.minutes);
        minutes(self) - minutes(other)
    }

    /// As text, with the first day named too: `22:01 the same day`.
    #[must_use]
    pub fn on_the_day(self) -> String {
        match self.days_later {
            0 => format!("{self} the same day"),
            _ => self.to_string(),
        }
    }
}

/// `22:01`, `10:01 the next day`, `10:01 2 days later`.
impl fmt::Display for DayTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.days_later {
            0 => write!(f, "{}", self.time),
            1 => write!(f, "{} the next day", self.time),
            days => write!(f, "{} {days} days later", self.time),
        }
    }
}

impl fmt::Display for TimeOfDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}", self.hour(), self.minute())
    }
}

impl FromStr for TimeOfDay {
    type Err = TimeOfDayError;

    fn from_str(text: &str) -> Result<Self, TimeOfDayError> {
        let digits = |text: &str, counts: std::ops::RangeInclusive<usize>| {
            let plain = text.bytes().all(|byte| byte.is_ascii_digit());
            (plain && counts.contains(&text.len())).then(|| text.parse::<u16>().ok())?
        };
        let time = text
            .trim()
            .split_once(':')
            .and_then(|(hour, minute)| Self::new(digits(hour, 1..=2)?, digits(minute, 2..=2)?));
        time.ok_or_else(|| TimeOfDayError(text.to_owned()))
    }
}

serde_as_text!(TimeOfDay, "a time of day, as \"09:40\"");

#[cfg(test)]
mod tests {
    use super::TimeOfDay;

    #[test]
    fn hours_have_one_or_two_digits_and_minutes_two() {
        for (text, hour, minute) in [
            ("9:40", 9, 40),
            ("09:40", 9, 40),
            (" 0:00 ", 0, 0),
            ("23:59", 23, 59),
        ] {
            assert_eq!(text.parse().ok(), TimeOfDay::new(hour, minute), "{text}");
        }
        for text in [
            "", ":", "9", "9:4", "9:400", "009:40", "24:00", "9:60", "-9:40", "+9:40", "9 :40",
            "9:40:00",
        ] {
            assert!(text.parse::<TimeOfDay>().is_err(), "{text}");
        }
    }
}
