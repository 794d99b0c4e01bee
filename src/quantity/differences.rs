//! Instants and places beside what lies between two of them: adding two run times, or two depths,
//! means nothing and does not compile.

use super::units::{Depth, FOOT_M, Time};

/// A moment of a dive, counted from leaving the surface. What lies between two is a [`Time`].
///
/// # Example
/// ```
/// use hangbar::quantity::{RunTime, Time};
/// let leaving = RunTime::SPLASH + Time::from_min(22.0);
/// assert_eq!((leaving - RunTime::from_min(20.0)).as_min(), 2.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct RunTime(f64); // minutes

impl RunTime {
    /// Leaving the surface.
    pub const SPLASH: Self = Self(0.0);

    /// So many minutes after leaving the surface.
    #[must_use]
    pub const fn from_min(minutes: f64) -> Self {
        Self(minutes)
    }

    /// Minutes since leaving the surface.
    #[must_use]
    pub const fn as_min(self) -> f64 {
        self.0
    }

    /// Time since leaving the surface.
    #[must_use]
    pub const fn elapsed(self) -> Time {
        Time::from_min(self.0)
    }

    /// The earlier of two.
    #[must_use]
    pub const fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    /// The later of two.
    #[must_use]
    pub const fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }

    /// Whether it is after another moment by more than rounding.
    #[must_use]
    pub fn is_after(self, other: Self) -> bool {
        self.0 > other.0 + Time::SAME.as_min()
    }

    /// Whether both are the same moment but for rounding.
    #[must_use]
    pub fn is_at(self, other: Self) -> bool {
        !self.is_after(other) && !other.is_after(self)
    }

    /// The moment halfway between two.
    #[must_use]
    pub fn halfway_to(self, other: Self) -> Self {
        Self((self.0 + other.0) * 0.5)
    }

    /// The first whole minute that is not before it, and itself where it is one but for rounding.
    #[must_use]
    pub fn whole_minute_up(self) -> Self {
        Self((self.0 - Time::SAME.as_min()).ceil())
    }

    /// The first whole minute after it.
    #[must_use]
    pub fn next_whole_minute(self) -> Self {
        Self((self.0 + Time::SAME.as_min()).floor() + 1.0)
    }
}

impl std::ops::Add<Time> for RunTime {
    type Output = Self;
    fn add(self, time: Time) -> Self {
        Self(self.0 + time.as_min())
    }
}

impl std::ops::Sub<Time> for RunTime {
    type Output = Self;
    fn sub(self, time: Time) -> Self {
        Self(self.0 - time.as_min())
    }
}

impl std::ops::Sub for RunTime {
    type Output = Time;
    fn sub(self, earlier: Self) -> Time {
        Time::from_min(self.0 - earlier.0)
    }
}

/// A change of depth; on the way up it is negative.
///
/// # Example
/// ```
/// use hangbar::quantity::{Depth, DepthChange};
/// let deeper = Depth::from_m(28.0) + DepthChange::from_m(3.0);
/// assert_eq!(deeper - Depth::from_m(21.0), DepthChange::from_m(10.0));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct DepthChange(f64); // metres

impl DepthChange {
    /// None.
    pub const NONE: Self = Self(0.0);

    /// In metres.
    #[must_use]
    pub const fn from_m(metres: f64) -> Self {
        Self(metres)
    }

    /// In feet.
    #[must_use]
    pub const fn from_ft(feet: f64) -> Self {
        Self(feet * FOOT_M)
    }

    /// In metres.
    #[must_use]
    pub const fn as_m(self) -> f64 {
        self.0
    }

    /// In feet.
    #[must_use]
    pub const fn as_ft(self) -> f64 {
        self.0 / FOOT_M
    }
}

impl std::ops::Mul<f64> for DepthChange {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}

impl std::ops::Sub for Depth {
    type Output = DepthChange;
    fn sub(self, from: Self) -> DepthChange {
        DepthChange(self.as_m() - from.as_m())
    }
}

impl std::ops::Add<DepthChange> for Depth {
    type Output = Self;
    fn add(self, change: DepthChange) -> Self {
        Self::from_m(self.as_m() + change.0)
    }
}

impl std::ops::Sub<DepthChange> for Depth {
    type Output = Self;
    fn sub(self, change: DepthChange) -> Self {
        Self::from_m(self.as_m() - change.0)
    }
}

/// Something counted in minutes: a stretch of time or a moment.
pub trait Minutes: Copy {
    /// In minutes.
    fn minutes(self) -> f64;
}

impl Minutes for Time {
    fn minutes(self) -> f64 {
        self.as_min()
    }
}

impl Minutes for RunTime {
    fn minutes(self) -> f64 {
        self.as_min()
    }
}
