//! Times of day.

/// A time of day, without a date.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TimeOfDay {
    minutes: u16,
}

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
        Self {
            minutes: ((self.minutes as u32 + minutes % 1440) % 1440) as u16,
        }
    }
}

impl std::fmt::Display for TimeOfDay {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:02}:{:02}", self.hour(), self.minute())
    }
}
