//! Flying, or driving up, after the dive.

use std::fmt;
use std::str::FromStr;

use super::clock::{DayTime, TimeOfDay};
use crate::letters::quotable;
use crate::quantity::{Altitude, serde_as_text};
use serde::Serialize;

/// What a cabin is kept at where nobody says anything else: 8,000 ft, the highest that the published
/// guidance is for.
pub const USUAL_CABIN_ALTITUDE: Altitude = Altitude::from_m(2438.0);
/// A flight more days after the splash than this is another story.
const MOST_DAYS_LATER: u8 = 7;

/// Going up after the dive.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Flight {
    /// Altitude that the cabin is kept at, or that of the pass.
    pub cabin_altitude: Altitude,
    /// When it leaves, where somebody says so.
    pub leaves: Option<FlightTime>,
}

impl Default for Flight {
    /// A cabin at [`USUAL_CABIN_ALTITUDE`], whenever it leaves.
    fn default() -> Self {
        Self {
            cabin_altitude: USUAL_CABIN_ALTITUDE,
            leaves: None,
        }
    }
}

/// When a flight leaves: a time of day, and the day where somebody says it.
///
/// As text `18:00`, or `18:00+1` for the day after that of the splash (at most 7); serde gives the
/// same. Without a day it is the first such time after surfacing.
///
/// # Example
/// ```
/// use hangbar::plan::FlightTime;
/// let flight: FlightTime = "7:30+1".parse()?;
/// assert_eq!(flight.to_string(), "07:30+1");
/// assert!("7:30+8".parse::<FlightTime>().is_err());
/// assert!("half past seven".parse::<FlightTime>().is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FlightTime {
    time: TimeOfDay,
    days_later: Option<u8>,
}

/// Why a text is no time of a flight.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{}` is not {ACCEPTED}", quotable(.0), ACCEPTED = FlightTime::ACCEPTED)]
pub struct FlightTimeError(String);

impl FlightTime {
    /// What is accepted, for messages.
    pub(crate) const ACCEPTED: &'static str = "a time of day from 00:00 to 23:59, as 18:00, with the days after that of the splash where \
         they are meant, +0 to +7, as 18:00+1";

    /// When it leaves, in a day that a team begins with its splash; without a day the first such
    /// time that is not before so many minutes after it.
    #[must_use]
    pub fn after(self, splash: TimeOfDay, surfaced_min: u32) -> DayTime {
        let surfaced = splash.day_time_after(surfaced_min);
        let on = |days_later| DayTime {
            days_later,
            time: self.time,
        };
        match self.days_later {
            Some(days_later) => on(u32::from(days_later)),
            None if on(surfaced.days_later).minutes_since(surfaced) >= 0 => on(surfaced.days_later),
            None => on(surfaced.days_later.saturating_add(1)),
        }
    }

    /// The same flight, its day counted from that of a splash so many days later.
    #[must_use]
    pub fn counted_from(self, days: u32) -> Self {
        let days = u8::try_from(days).unwrap_or(u8::MAX);
        Self {
            days_later: self.days_later.map(|later| later.saturating_sub(days)),
            ..self
        }
    }

    /// Whether somebody says the day.
    #[must_use]
    pub const fn says_the_day(self) -> bool {
        self.days_later.is_some()
    }
}

impl fmt::Display for FlightTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.time)?;
        match self.days_later {
            Some(days) => write!(f, "+{days}"),
            None => Ok(()),
        }
    }
}

impl FromStr for FlightTime {
    type Err = FlightTimeError;

    fn from_str(text: &str) -> Result<Self, FlightTimeError> {
        let refused = || FlightTimeError(text.to_owned());
        let (time, days_later) = match text.split_once('+') {
            Some((time, days)) => {
                let digits = days.trim_end().bytes().all(|byte| byte.is_ascii_digit());
                let days = days.trim_end().parse().ok().filter(|_| digits);
                let days = days.filter(|days| *days <= MOST_DAYS_LATER);
                (time, Some(days.ok_or_else(refused)?))
            }
            None => (text, None),
        };
        Ok(Self {
            time: time.parse().map_err(|_| refused())?,
            days_later,
        })
    }
}

serde_as_text!(
    FlightTime,
    "the time of a flight, as \"18:00\" or \"18:00+1\""
);

#[cfg(test)]
mod tests {
    use super::{FlightTime, TimeOfDay};

    #[test]
    fn a_flight_has_a_time_of_day_and_up_to_seven_days() {
        for text in ["18:00", "18:00+0", "00:05+7"] {
            let read = text.parse::<FlightTime>().map(|time| time.to_string());
            assert_eq!(read.as_deref(), Ok(text));
        }
        for text in [
            "",
            "+1",
            "18:00+",
            "18:00+8",
            "18:00+-1",
            "18:00++1",
            "18:00+1.0",
            "18:00-1",
            "24:00+1",
            "18:00+256",
            "18:00+ 1",
            "tomorrow",
        ] {
            assert!(text.parse::<FlightTime>().is_err(), "{text}");
        }
    }

    #[test]
    fn without_a_day_it_is_the_first_such_time_that_is_not_before_surfacing() {
        let day = |text: &str, splash: &str, surfaced_min| {
            let (flight, splash) = (text.parse::<FlightTime>(), splash.parse::<TimeOfDay>());
            let (flight, splash) = flight.ok().zip(splash.ok())?;
            Some(flight.after(splash, surfaced_min).to_string())
        };
        for (text, splash, surfaced, want) in [
            ("18:00", "9:40", 60, "18:00"),
            ("10:40", "9:40", 60, "10:40"),
            ("10:39", "9:40", 60, "10:39 the next day"),
            ("9:00", "9:40", 60, "09:00 the next day"),
            ("23:50", "23:30", 60, "23:50 the next day"),
            ("0:30", "23:30", 60, "00:30 the next day"),
            ("0:29", "23:30", 60, "00:29 2 days later"),
            ("9:00+0", "9:40", 60, "09:00"),
            ("9:00+3", "9:40", 60, "09:00 3 days later"),
        ] {
            assert_eq!(day(text, splash, surfaced).as_deref(), Some(want), "{text}");
        }
    }
}
