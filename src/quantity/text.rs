//! Quantities as text: `"28 m"`, `"3000 psi"`, `"0.6 cuft/min"`. One table holds every unit, so
//! that reading and the messages about it agree.

use super::units::{
    ATM_BAR, CELSIUS_ZERO_K, CUBIC_FOOT_L, FOOT_M, KNOT_M_MIN, POUND_KG, PSI_BAR, UnitSystem,
};
use crate::letters::quotable;

/// Share of a greatest value by which another one may pass it by rounding.
const LAST_BIT_SHARE: f64 = 1e-9;
/// A whole number stays whole however its last bit fell.
const LAST_BIT: f64 = 1e-6;

/// What a quantity measures. Values are held in the first unit of the kind, except temperatures,
/// which are held in kelvin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Depth, m.
    Depth,
    /// Height above sea level, m.
    Altitude,
    /// Time, min.
    Time,
    /// Gauge pressure, bar.
    GaugePressure,
    /// Absolute pressure of the air, bar.
    AirPressure,
    /// Speed up or down, m/min.
    VerticalSpeed,
    /// Speed through the water, m/min.
    WaterSpeed,
    /// Gas breathed in a minute, free L/min.
    BreathingRate,
    /// Gas breathed in a minute as pressure of the own cylinder, bar/min.
    PressureRate,
    /// Inner volume of a cylinder, L.
    WaterVolume,
    /// Rated capacity of a cylinder, free L.
    Capacity,
    /// Temperature, K.
    Temperature,
    /// Density of water, kg/m³.
    Density,
    /// Mass, kg.
    Mass,
}

/// One unit: how it is spelled (the first is how it is printed) and what it is worth.
struct Unit {
    kind: Kind,
    spellings: &'static [&'static str],
    factor: f64,
    offset: f64,
}

const fn unit(kind: Kind, spellings: &'static [&'static str], factor: f64) -> Unit {
    Unit {
        kind,
        spellings,
        factor,
        offset: 0.0,
    }
}

const METRES: &[&str] = &["m", "metre", "metres", "meter", "meters"];
const FEET: &[&str] = &["ft", "foot", "feet"];
const LITRES: &[&str] = &["L", "litre", "litres", "liter", "liters", "ltr"];
const CUBIC_FEET: &[&str] = &["cuft", "cu ft", "cu.ft", "cf", "ft3", "ft³"];

const UNITS: &[Unit] = &[
    unit(Kind::Depth, METRES, 1.0),
    unit(Kind::Depth, FEET, FOOT_M),
    unit(Kind::Altitude, METRES, 1.0),
    unit(Kind::Altitude, FEET, FOOT_M),
    unit(Kind::Time, &["min", "mins", "minute", "minutes"], 1.0),
    unit(Kind::Time, &["h", "hour", "hours"], 60.0),
    unit(Kind::Time, &["s", "sec", "seconds"], 1.0 / 60.0),
    unit(Kind::GaugePressure, &["bar"], 1.0),
    unit(Kind::GaugePressure, &["psi", "psig"], PSI_BAR),
    unit(Kind::AirPressure, &["bar"], 1.0),
    unit(Kind::AirPressure, &["mbar", "hPa"], 1e-3),
    unit(Kind::AirPressure, &["atm"], ATM_BAR),
    unit(Kind::AirPressure, &["psi"], PSI_BAR),
    unit(Kind::VerticalSpeed, &["m/min"], 1.0),
    unit(Kind::VerticalSpeed, &["ft/min"], FOOT_M),
    unit(
        Kind::WaterSpeed,
        &["kn", "kt", "kts", "knot", "knots"],
        KNOT_M_MIN,
    ),
    unit(Kind::WaterSpeed, &["m/min"], 1.0),
    unit(Kind::WaterSpeed, &["ft/min"], FOOT_M),
    unit(Kind::WaterSpeed, &["m/s"], 60.0),
    unit(Kind::BreathingRate, &["L/min"], 1.0),
    unit(
        Kind::BreathingRate,
        &["cuft/min", "cu ft/min", "cf/min", "ft3/min"],
        CUBIC_FOOT_L,
    ),
    unit(Kind::PressureRate, &["bar/min"], 1.0),
    unit(Kind::PressureRate, &["psi/min"], PSI_BAR),
    unit(Kind::WaterVolume, LITRES, 1.0),
    unit(Kind::Capacity, LITRES, 1.0),
    unit(Kind::Capacity, CUBIC_FEET, CUBIC_FOOT_L),
    Unit {
        kind: Kind::Temperature,
        spellings: &["C", "°C"],
        factor: 1.0,
        offset: CELSIUS_ZERO_K,
    },
    Unit {
        kind: Kind::Temperature,
        spellings: &["F", "°F"],
        factor: 5.0 / 9.0,
        offset: CELSIUS_ZERO_K - 32.0 * 5.0 / 9.0,
    },
    unit(Kind::Density, &["kg/m3", "kg/m³"], 1.0),
    unit(Kind::Density, &["kg/L"], 1000.0),
    unit(Kind::Mass, &["kg"], 1.0),
    unit(Kind::Mass, &["lb", "lbs"], POUND_KG),
];

/// Why a text is not a quantity of the kind asked for.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum QuantityError {
    /// No number where the number should be.
    #[error("`{}` does not begin with a plain number such as 28 or 28.5", quotable(.0))]
    NoNumber(String),
    /// A comma in the number: decimal or thousands, nobody knows.
    #[error(
        "`{}` has a comma in its number; write a point for decimals and nothing for thousands",
        quotable(.0)
    )]
    Comma(String),
    /// A number without a unit.
    #[error("`{}` has no unit", quotable(.0))]
    NoUnit(String),
    /// The unit measures something else.
    #[error("`{}` is a unit of {}", quotable(.unit), .measures.noun())]
    OtherKind {
        /// The unit as written.
        unit: String,
        /// What it measures.
        measures: Kind,
    },
    /// Nobody knows the unit.
    #[error("`{}` is not a known unit", quotable(.unit))]
    UnknownUnit {
        /// The unit as written.
        unit: String,
        /// An accepted unit that is nearly the same.
        meant: Option<&'static str>,
    },
}

impl Kind {
    /// What the kind is called in a message.
    #[must_use]
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Depth => "depth",
            Self::Altitude => "altitude",
            Self::Time => "time",
            Self::GaugePressure => "pressure",
            Self::AirPressure => "air pressure",
            Self::VerticalSpeed => "vertical speed",
            Self::WaterSpeed => "speed",
            Self::BreathingRate => "breathing rate",
            Self::PressureRate => "pressure rate",
            Self::WaterVolume => "cylinder volume",
            Self::Capacity => "capacity",
            Self::Temperature => "temperature",
            Self::Density => "density",
            Self::Mass => "mass",
        }
    }

    /// The noun with its article: `a depth`, `an altitude`.
    #[must_use]
    pub fn with_article(self) -> String {
        let noun = self.noun();
        let article = if noun.starts_with('a') { "an" } else { "a" };
        format!("{article} {noun}")
    }

    /// The units accepted, as a message lists them: `m or ft`.
    #[must_use]
    pub fn units(self) -> String {
        let names: Vec<&str> = self.unit_names().collect();
        match names.split_last() {
            Some((last, [])) => (*last).to_owned(),
            Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
            None => String::new(),
        }
    }

    /// The units accepted, each as it is written first.
    pub(crate) fn unit_names(self) -> impl Iterator<Item = &'static str> {
        self.own_units().map(|unit| unit.spellings[0])
    }

    /// Every way in which a unit of the kind may be spelled.
    pub(crate) fn spellings(self) -> impl Iterator<Item = &'static str> {
        self.own_units()
            .flat_map(|unit| unit.spellings.iter().copied())
    }

    /// A stored value in the first of its units.
    pub(crate) fn in_first_unit(self, value: f64) -> f64 {
        let first = self.own_units().next();
        first.map_or(value, |unit| (value - unit.offset) / unit.factor)
    }

    fn own_units(self) -> impl Iterator<Item = &'static Unit> {
        UNITS.iter().filter(move |unit| unit.kind == self)
    }

    /// Reads `"number unit"` and nothing else; the value is in the kind's stored unit.
    ///
    /// # Errors
    /// [`QuantityError`] unless the text is digits with at most one point, an optional sign, and
    /// a unit of this kind.
    ///
    /// # Example
    /// ```
    /// use hangbar::quantity::{Kind, QuantityError};
    /// assert_eq!(Kind::Depth.parse("28 m"), Ok(28.0));
    /// assert!(matches!(Kind::Depth.parse("28"), Err(QuantityError::NoUnit(_))));
    /// assert!(Kind::Depth.parse("nan m").is_err());
    /// ```
    pub fn parse(self, text: &str) -> Result<f64, QuantityError> {
        let trimmed = text.trim();
        let number_end = trimmed
            .char_indices()
            .find(|(index, c)| {
                let sign = *index == 0 && matches!(c, '+' | '-' | '−');
                !(c.is_ascii_digit() || matches!(c, '.' | ',') || sign)
            })
            .map_or(trimmed.len(), |(index, _)| index);
        let (number, unit) = trimmed.split_at(number_end);
        if number.contains(',') {
            return Err(QuantityError::Comma(trimmed.to_owned()));
        }
        let number: f64 = number
            .replace('−', "-")
            .parse()
            .ok()
            .filter(|value: &f64| value.is_finite())
            .ok_or_else(|| QuantityError::NoNumber(trimmed.to_owned()))?;
        let unit = unit.trim();
        let exponent = unit.strip_prefix(['e', 'E']).is_some_and(|rest| {
            rest.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '+' | '-'))
        });
        if exponent {
            return Err(QuantityError::NoNumber(trimmed.to_owned()));
        }
        if unit.is_empty() {
            return Err(QuantityError::NoUnit(trimmed.to_owned()));
        }
        if let Some(known) = self.own_units().find(|known| known.is_spelled(unit)) {
            let value = number * known.factor + known.offset;
            return if value.is_finite() {
                Ok(value)
            } else {
                Err(QuantityError::NoNumber(trimmed.to_owned()))
            };
        }
        Err(self.refuse_unit(unit))
    }

    fn refuse_unit(self, unit: &str) -> QuantityError {
        // No plan holds a mass: there a kilogram is a slip for some other unit.
        let mut others = UNITS.iter().filter(|known| known.kind != Kind::Mass);
        if let Some(other) = others.find(|known| known.is_spelled(unit)) {
            return QuantityError::OtherKind {
                unit: unit.to_owned(),
                measures: other.kind,
            };
        }
        let spellings = self
            .own_units()
            .flat_map(|known| known.spellings.iter().copied());
        QuantityError::UnknownUnit {
            unit: unit.to_owned(),
            meant: nearest(unit, spellings),
        }
    }

    /// A stored value in the units of the kind, metric first: `1 m to 200 m (3.3 ft to 656.1 ft)`.
    /// Rounded inwards.
    #[must_use]
    pub fn range(self, least: f64, greatest: f64) -> String {
        let mut spans = self.own_units().take(2).map(|unit| {
            let name = unit.spellings[0];
            let shown = |value: f64| (value - unit.offset) / unit.factor;
            let scale = if self == Self::AirPressure {
                1000.0
            } else {
                10.0
            };
            let up = (shown(least) * scale - LAST_BIT).ceil() / scale;
            let down = (shown(greatest) * scale + LAST_BIT).floor() / scale;
            format!("{} {name} to {} {name}", up + 0.0, down + 0.0)
        });
        let first = spans.next().unwrap_or_default();
        match spans.next() {
            // Hours beside minutes say nothing new.
            Some(second) if self != Self::Time => format!("{first} ({second})"),
            _ => first,
        }
    }
}

impl Kind {
    /// A stored value in a unit of the system, as it is: `-5 m`, `-16.4 ft`.
    #[must_use]
    pub fn written(self, value: f64, units: UnitSystem) -> String {
        let imperial = match self {
            Self::Depth | Self::Altitude => "ft",
            Self::GaugePressure | Self::AirPressure => "psi",
            Self::VerticalSpeed => "ft/min",
            Self::BreathingRate => "cuft/min",
            Self::PressureRate => "psi/min",
            Self::Capacity => "cuft",
            Self::Temperature => "F",
            Self::Mass => "lb",
            // Minutes, knots, litres of a cylinder and kg/m3 are everybody's.
            Self::Time | Self::WaterSpeed | Self::WaterVolume | Self::Density => "",
        };
        let mut known = self.own_units();
        let unit = match units {
            UnitSystem::Metric => None,
            UnitSystem::Imperial => known.find(|unit| unit.spellings[0] == imperial),
        };
        let unit = unit.or_else(|| self.own_units().next());
        unit.map_or_else(String::new, |unit| {
            let number = (value - unit.offset) / unit.factor;
            format!("{} {}", (number * 1e4).round() / 1e4, unit.spellings[0])
        })
    }
}

impl Unit {
    /// Case does not matter: no two units of these differ by it alone.
    fn is_spelled(&self, text: &str) -> bool {
        let folded = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let squeezed = folded.replace(" /", "/").replace("/ ", "/");
        self.spellings
            .iter()
            .any(|spelling| spelling.eq_ignore_ascii_case(&squeezed))
    }
}

/// Digits with at most one point, spaces around them allowed: `32`, `31.5`. No sign, no exponent,
/// no `nan`.
pub(crate) fn plain_decimal(text: &str) -> Option<f64> {
    let digits = text.trim();
    let plain = digits.chars().all(|c| c.is_ascii_digit() || c == '.');
    digits.parse().ok().filter(|_| plain)
}

/// Whether a stored value is in a range, both ends included: a limit written in another unit may
/// land a last bit outside, and NaN is in none.
///
/// # Example
/// ```
/// use hangbar::quantity::{Kind, is_within};
/// let depth = Kind::Depth.parse("656.167979003 ft")?;
/// assert!(depth > 200.0 && is_within(depth, 0.3, 200.0));
/// assert!(!is_within(200.001, 0.3, 200.0) && !is_within(f64::NAN, 0.3, 200.0));
/// # Ok::<(), hangbar::quantity::QuantityError>(())
/// ```
#[must_use]
pub fn is_within(value: f64, least: f64, greatest: f64) -> bool {
    let slack = LAST_BIT_SHARE * greatest.abs();
    (least - slack..=greatest + slack).contains(&value)
}

/// Longer words are a slip for nothing.
const LONGEST_SLIP: usize = 100;

/// The candidate that is nearly the word, if one is: at most a third of its letters differ, or
/// one where it is short.
#[must_use]
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if word.chars().nth(LONGEST_SLIP).is_some() {
        return None;
    }
    let lower = word.to_lowercase();
    let allowed = (lower.chars().count() / 3).max(1);
    candidates
        .into_iter()
        .map(|candidate| {
            let distance = strsim::damerau_levenshtein(&lower, &candidate.to_lowercase());
            (distance, candidate)
        })
        .filter(|(distance, candidate)| *distance <= allowed && *distance < candidate.len())
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

#[cfg(test)]
mod tests {
    use super::{Kind, QuantityError};

    #[test]
    fn a_mass_is_no_unit_that_a_plan_could_mean() {
        assert_eq!(Kind::Mass.parse("10 kg"), Ok(10.0));
        for kind in [Kind::Depth, Kind::Time, Kind::Density, Kind::WaterVolume] {
            let refused = kind.parse("10 kg");
            let unknown = matches!(refused, Err(QuantityError::UnknownUnit { .. }));
            assert!(unknown, "{refused:?}");
        }
    }
}
