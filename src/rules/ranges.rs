//! What a plan may ask for: one table that the checks and their messages read.

use std::fmt;
use std::ops::RangeInclusive;

use crate::quantity::{CELSIUS_ZERO_K, Kind, PSI_BAR, UnitSystem, is_within};

/// A quantity outside what is accepted.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct OutOfRange {
    /// What the quantity is called.
    pub quantity: &'static str,
    /// What it measures; `None` for a plain number.
    pub kind: Option<Kind>,
    /// What was found, in the stored unit of the kind.
    pub value: f64,
    /// The least that is accepted.
    pub least: f64,
    /// The greatest that is accepted.
    pub greatest: f64,
    /// Units that a message is in.
    pub units: UnitSystem,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            value,
            least,
            greatest,
            ..
        } = *self;
        let (found, accepted) = match self.kind {
            Some(kind) => (kind.written(value, self.units), kind.range(least, greatest)),
            None => (format!("{value}"), format!("{least} to {greatest}")),
        };
        write!(f, "the {} is {found}; accepted: {accepted}", self.quantity)
    }
}

impl std::error::Error for OutOfRange {}

/// An accepted range, both ends included, in the kind's stored unit.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Accepted {
    /// What the quantity is called in a message that has no key to quote.
    pub(crate) name: &'static str,
    pub(crate) kind: Kind,
    pub(crate) least: f64,
    pub(crate) greatest: f64,
    /// A value to show how it is written.
    pub(crate) example: &'static str,
}

const fn accepted(
    name: &'static str,
    kind: Kind,
    least: f64,
    greatest: f64,
    example: &'static str,
) -> Accepted {
    Accepted {
        name,
        kind,
        least,
        greatest,
        example,
    }
}

impl Accepted {
    /// Whether a value in the stored unit is accepted.
    pub(crate) fn contains(&self, value: f64) -> bool {
        is_within(value, self.least, self.greatest)
    }

    /// Refuses a value in the stored unit that is not accepted, NaN among them.
    pub(crate) fn check(&self, value: f64, units: UnitSystem) -> Result<(), OutOfRange> {
        if self.contains(value) {
            return Ok(());
        }
        Err(OutOfRange {
            quantity: self.name,
            kind: Some(self.kind),
            value,
            least: self.least,
            greatest: self.greatest,
            units,
        })
    }

    /// `1 m to 200 m (3.3 ft to 656.1 ft), as "28 m"`
    pub(crate) fn describe(&self) -> String {
        let range = self.kind.range(self.least, self.greatest);
        format!("{range}, as \"{}\"", self.example)
    }
}

/// Refuses a plain number that is not accepted, NaN among them.
pub(crate) fn check_number(
    quantity: &'static str,
    value: f64,
    accepted: &RangeInclusive<f64>,
) -> Result<(), OutOfRange> {
    if accepted.contains(&value) {
        return Ok(());
    }
    Err(OutOfRange {
        quantity,
        kind: None,
        value,
        least: *accepted.start(),
        greatest: *accepted.end(),
        units: UnitSystem::Metric,
    })
}

/// More of something than is accepted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct TooMany {
    /// What they are called.
    pub what: &'static str,
    /// How many there are.
    pub count: usize,
    /// How many there may be.
    pub most: usize,
}

impl fmt::Display for TooMany {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} {}; accepted: at most {}",
            self.count, self.what, self.most
        )
    }
}

impl std::error::Error for TooMany {}

/// How many of something are accepted, and what they are called.
#[derive(Clone, Copy, Debug)]
pub(crate) struct AtMost {
    pub(crate) what: &'static str,
    pub(crate) most: usize,
}

const fn at_most(most: usize, what: &'static str) -> AtMost {
    AtMost { what, most }
}

impl AtMost {
    /// Refuses more than are accepted.
    pub(crate) const fn check(&self, count: usize) -> Result<(), TooMany> {
        let Self { what, most } = *self;
        if count <= most {
            return Ok(());
        }
        Err(TooMany { what, count, most })
    }

    /// `at most 20 levels`
    pub(crate) fn describe(&self) -> String {
        format!("at most {} {}", self.most, self.what)
    }
}

/// More than anybody remembers under water.
pub(crate) const LEVELS: AtMost = at_most(20, "levels");
/// A full boat.
pub(crate) const DIVERS: AtMost = at_most(50, "divers");
/// More than anybody can carry.
pub(crate) const STAGES: AtMost = at_most(8, "stage cylinders of one diver");
pub(crate) const SWITCHES: AtMost = at_most(8, "decompression gases");
/// More dives than this were never made in a day.
pub(crate) const EARLIER_DIVES: AtMost = at_most(20, "earlier dives");
/// A pencil log for each diver.
pub(crate) const PENCIL_LOGS: AtMost = at_most(DIVERS.most, "dives in one record");

/// Longest title, in characters.
pub(crate) const LONGEST_TITLE: usize = 200;
/// Longest emergency line, in characters.
pub(crate) const LONGEST_EMERGENCY: usize = 300;
/// Longest name of a diver, in characters.
pub(crate) const LONGEST_NAME: usize = 40;

/// The model and the trade end well before 200 m.
pub(crate) const DEPTH: Accepted = accepted("depth", Kind::Depth, 0.3, 200.0, "28 m");
/// A day.
pub(crate) const LEVEL_TIME: Accepted =
    accepted("time of a level", Kind::Time, 0.1, 1440.0, "22 min");
/// All levels together: two days.
pub(crate) const BOTTOM_TIME: Accepted = accepted("bottom time", Kind::Time, 0.0, 2880.0, "40 min");
pub(crate) const DESCENT_RATE: Accepted = accepted(
    "speed on the way down",
    Kind::VerticalSpeed,
    1.0,
    60.0,
    "18 m/min",
);
pub(crate) const ASCENT_RATE: Accepted = accepted(
    "speed on the way up",
    Kind::VerticalSpeed,
    1.0,
    30.0,
    "9 m/min",
);
pub(crate) const SAFETY_DEPTH: Accepted =
    accepted("depth of the safety stop", Kind::Depth, 1.0, 20.0, "5 m");
pub(crate) const SAFETY_TIME: Accepted =
    accepted("time of the safety stop", Kind::Time, 0.5, 60.0, "3 min");
pub(crate) const SWITCH_TIME: Accepted =
    accepted("time of a gas switch", Kind::Time, 0.0, 30.0, "1 min");
pub(crate) const SORT_OUT: Accepted =
    accepted("time to sort trouble out", Kind::Time, 0.0, 30.0, "1 min");
pub(crate) const FLOOR: Accepted = accepted(
    "least minimum gas",
    Kind::GaugePressure,
    0.0,
    150.0,
    "50 bar",
);
/// 5,000 psi is the highest that cylinders are filled to.
pub(crate) const FILL: Accepted = accepted(
    "fill",
    Kind::GaugePressure,
    1.0,
    5000.0 * PSI_BAR,
    "200 bar",
);
/// What a cylinder may hold before it is filled.
pub(crate) const LEFT_IN_CYLINDER: Accepted = accepted(
    "pressure before the fill",
    Kind::GaugePressure,
    0.0,
    5000.0 * PSI_BAR,
    "60 bar",
);
pub(crate) const WORKING: Accepted = accepted(
    "working pressure",
    Kind::GaugePressure,
    50.0,
    5000.0 * PSI_BAR,
    "3000 psi",
);
/// From a pocket bottle to a bank.
pub(crate) const WATER_VOLUME: Accepted =
    accepted("inner volume", Kind::WaterVolume, 0.2, 100.0, "12 L");
pub(crate) const CAPACITY: Accepted =
    accepted("rated capacity", Kind::Capacity, 10.0, 30_000.0, "80 cuft");
pub(crate) const BREATHING: Accepted = accepted(
    "breathing rate",
    Kind::BreathingRate,
    2.0,
    150.0,
    "16 L/min",
);
pub(crate) const PRESSURE_RATE: Accepted = accepted(
    "pressure rate",
    Kind::PressureRate,
    0.01,
    100.0,
    "25 psi/min",
);
/// As the model's contract says.
pub(crate) const ALTITUDE: Accepted =
    accepted("altitude", Kind::Altitude, -430.0, 4500.0, "1500 m");
/// No cabin is kept below sea level, and nobody is flown, or driven, so soon above this.
pub(crate) const CABIN_ALTITUDE: Accepted =
    accepted("cabin altitude", Kind::Altitude, 0.0, 4500.0, "2438 m");
/// The altitudes above and the highest weather at sea level.
pub(crate) const AIR_PRESSURE: Accepted = accepted(
    "pressure at the surface",
    Kind::AirPressure,
    0.577,
    1.1,
    "0.85 bar",
);
pub(crate) const WATER_TEMPERATURE: Accepted = accepted(
    "temperature of the water",
    Kind::Temperature,
    CELSIUS_ZERO_K - 5.0,
    CELSIUS_ZERO_K + 45.0,
    "14 C",
);
/// Fresh water to the saltiest lakes.
pub(crate) const DENSITY: Accepted = accepted(
    "density of the water",
    Kind::Density,
    950.0,
    1300.0,
    "1030 kg/m3",
);
pub(crate) const CURRENT: Accepted = accepted("current", Kind::WaterSpeed, 0.0, 154.4, "0.5 kn");

pub(crate) const HANG_DEPTH: Accepted =
    accepted("depth of the hang", Kind::Depth, 1.0, 60.0, "5 m");
pub(crate) const HANG_TIME: Accepted =
    accepted("time of the hang", Kind::Time, 0.5, 120.0, "10 min");
pub(crate) const SWIM_SPEED: Accepted =
    accepted("swim speed", Kind::WaterSpeed, 3.0, 92.6, "0.7 kn");
pub(crate) const OVERDUE_AFTER: Accepted = accepted(
    "time until the team is overdue",
    Kind::Time,
    1.0,
    240.0,
    "10 min",
);

/// A stress factor below 1 would make trouble cheaper than calm.
pub(crate) const STRESS: RangeInclusive<f64> = 1.0..=5.0;

/// A fill may be above the cylinder's working pressure by this share.
pub(crate) const OVERFILL: f64 = 0.10;
/// A level left early on the day may be shorter than any that a file may ask for.
pub(crate) const STAY: Accepted = accepted("time of a level", Kind::Time, 0.0, 1440.0, "22 min");
/// Inert gas in a compartment: that of 200 m and more, breathed for days.
pub(crate) const TISSUE: Accepted = accepted(
    "inert gas in a compartment",
    Kind::AirPressure,
    0.0,
    30.0,
    "0.75 bar",
);
/// What oxygen doses of one day may come to before a dive.
pub(crate) const DOSE: RangeInclusive<f64> = 0.0..=10_000.0;

/// A week: nothing of a dive is left after it.
pub(crate) const SURFACE_INTERVAL: Accepted =
    accepted("surface interval", Kind::Time, 0.0, 10_080.0, "75 min");
/// A month: nobody is less than adapted after it.
pub(crate) const ARRIVED: Accepted = accepted(
    "time since the arrival",
    Kind::Time,
    0.0,
    43_200.0,
    "90 min",
);

/// How far a what-if goes.
pub(crate) const LATE: Accepted = accepted("time late", Kind::Time, 0.0, 240.0, "4 min");
pub(crate) const DEEPER: Accepted = accepted("depth added", Kind::Depth, 0.0, 50.0, "5 m");
pub(crate) const HARDER_PCT: RangeInclusive<f64> = 0.0..=300.0;
/// An oxygen pressure beyond which a table of limits shows no number.
pub(crate) const OXYGEN: Accepted =
    accepted("oxygen limit", Kind::AirPressure, 0.1, 3.0, "1.4 bar");
/// A gauge that drifts shows a depth at the surface, a little above it too.
pub(crate) const LOGGED_DEPTH: Accepted = accepted("depth", Kind::Depth, -1.0, 200.0, "28 m");
/// More than any fill: a full cylinder may have lain in the sun. What a logger shows beyond it is
/// the way in which its transmitter says that it has none.
pub(crate) const LOGGED_PRESSURE: Accepted =
    accepted("pressure", Kind::GaugePressure, 0.0, 450.0, "200 bar");
/// A logger that runs on for more than a day was never stopped.
pub(crate) const LOGGED_TIME: Accepted =
    accepted("time in the record", Kind::Time, 0.0, 1440.0, "42 min");
