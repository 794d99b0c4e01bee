//! The types of `units` as text: read through the one table of units, written with the stored
//! unit in full precision. Serde takes and gives the same text.

use std::fmt;
use std::str::FromStr;

use super::differences::{DepthChange, RunTime};
use super::serde_text::serde_as_text;
use super::text::{Kind, QuantityError};
use super::units::{
    Altitude, AtmMinutes, BreathingRate, Depth, FreeVolume, GaugePressure, Mass, Pressure, Speed,
    Temperature, Time, WaterVolume,
};

/// Reading of one type, and serde; the texts and their reading go into the example.
macro_rules! read_as_text {
    ($name:ident: $kind:expr, $from:ident, $good:literal is $same:literal, not $refused:literal) => {
        #[doc = concat!("Reads a number and its unit, as `\"", $good, "\"`; no range is checked.")]
        ///
        /// # Errors
        /// [`QuantityError`], as [`Kind::parse`].
        ///
        /// # Example
        /// ```
        #[doc = concat!("use hangbar::quantity::", stringify!($name), ";")]
        #[doc = concat!("let value: ", stringify!($name), " = \"", $good, "\".parse()?;")]
        #[doc = concat!("assert_eq!(value.to_string(), \"", $same, "\");")]
        #[doc = concat!("assert!(\"", $refused, "\".parse::<", stringify!($name), ">().is_err());")]
        /// # Ok::<(), hangbar::quantity::QuantityError>(())
        /// ```
        impl FromStr for $name {
            type Err = QuantityError;

            fn from_str(text: &str) -> Result<Self, QuantityError> {
                $kind.parse(text).map(Self::$from)
            }
        }

        serde_as_text!(
            $name,
            concat!("a text of a number and its unit, as \"", $good, "\"")
        );
    };
}

/// Writing of one type in its stored unit, which reads back exactly.
macro_rules! write_as_text {
    ($name:ident: $as:ident, $unit:literal) => {
        #[doc = concat!("In full, as `1.5 ", $unit, "`; a finite value reads back exactly.")]
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, concat!("{} ", $unit), self.$as())
            }
        }
    };
}

read_as_text!(Depth: Kind::Depth, from_m, "100 ft" is "30.48 m", not "28");
write_as_text!(Depth: as_m, "m");
read_as_text!(Altitude: Kind::Altitude, from_m, "-1000 ft" is "-304.8 m", not "1,500 m");
write_as_text!(Altitude: as_m, "m");
read_as_text!(Pressure: Kind::AirPressure, from_bar, "1 atm" is "1.01325 bar", not "1 psig");
write_as_text!(Pressure: as_bar, "bar");
read_as_text!(GaugePressure: Kind::GaugePressure, from_bar, "200 bar" is "200 bar", not "1 atm");
write_as_text!(GaugePressure: as_bar, "bar");
read_as_text!(Time: Kind::Time, from_min, "1.5 h" is "90 min", not "22 m");
write_as_text!(Time: as_min, "min");
write_as_text!(AtmMinutes: as_atm_min, "atm min");
read_as_text!(RunTime: Kind::Time, from_min, "0.5 h" is "30 min", not "22 m");
write_as_text!(RunTime: as_min, "min");
read_as_text!(DepthChange: Kind::Depth, from_m, "-10 ft" is "-3.048 m", not "3");
write_as_text!(DepthChange: as_m, "m");
read_as_text!(Speed: Kind::WaterSpeed, from_m_min, "0.5 m/s" is "30 m/min", not "18 m");
write_as_text!(Speed: as_m_min, "m/min");
read_as_text!(FreeVolume: Kind::Capacity, from_l, "80 cuft" is "2265.34772736 L", not "80 kg");
write_as_text!(FreeVolume: as_l, "L");
read_as_text!(WaterVolume: Kind::WaterVolume, from_l, "12 litres" is "12 L", not "80 cuft");
write_as_text!(WaterVolume: as_l, "L");
read_as_text!(BreathingRate: Kind::BreathingRate, from_l_min, "15 L/min" is "15 L/min", not "15 L");
write_as_text!(BreathingRate: as_l_min, "L/min");
read_as_text!(Mass: Kind::Mass, from_kg, "100 lb" is "45.359237 kg", not "12 L");
write_as_text!(Mass: as_kg, "kg");
read_as_text!(Temperature: Kind::Temperature, from_kelvin, "50 F" is "10 °C", not "288 K");

/// In degrees Celsius, as `14.5 °C`: the fewest digits that read back as the same temperature.
///
/// Exact from 137 K to 546 K, where the difference from zero degrees is; elsewhere to the last
/// bit of the sum.
impl fmt::Display for Temperature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let celsius = self.as_celsius();
        let shortest = (0..=MOST_DECIMALS).find_map(|decimals| {
            let written = format!("{celsius:.decimals$}");
            let read: f64 = written.parse().ok()?;
            (Self::from_celsius(read) == *self).then_some(written)
        });
        match shortest {
            Some(written) => write!(f, "{written} °C"),
            None => write!(f, "{celsius} °C"),
        }
    }
}

/// No sum with 273.15 K has a finer last bit than so many decimals show.
const MOST_DECIMALS: usize = 14;

/// As text.
impl serde::Serialize for AtmMinutes {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

    use super::*;

    /// Values whose digits are many, whose unit is another, or that are hard to write.
    const AWKWARD: [f64; 9] = [
        0.0,
        1.0 / 3.0,
        0.1 + 0.2,
        3000.0 * crate::quantity::PSI_BAR,
        100.0 * crate::quantity::FOOT_M,
        -430.0,
        1e-17,
        288.15 + 1e-12,
        f64::MAX,
    ];

    macro_rules! reads_back {
        ($($name:ident: $from:ident),+ $(,)?) => {$(
            for value in AWKWARD {
                let value = $name::$from(value);
                let text = value.to_string();
                assert_eq!(text.parse::<$name>().as_ref(), Ok(&value), "{text}");
                let json = serde_json::to_string(&value).unwrap();
                assert_eq!(json, format!("\"{text}\""));
                assert_eq!(serde_json::from_str::<$name>(&json).unwrap(), value);
            }
        )+};
    }

    #[test]
    fn every_quantity_reads_back_what_it_writes() {
        reads_back!(
            Depth: from_m,
            Altitude: from_m,
            Pressure: from_bar,
            GaugePressure: from_bar,
            Time: from_min,
            Speed: from_m_min,
            FreeVolume: from_l,
            WaterVolume: from_l,
            BreathingRate: from_l_min,
            Mass: from_kg,
        );
    }

    #[test]
    fn a_temperature_reads_back_what_it_writes() {
        for value in [
            137.0,
            260.928_333,
            273.15,
            288.15,
            288.15f64.next_up(),
            300.0 + 1.0 / 3.0,
            545.9,
        ] {
            let temperature = Temperature::from_kelvin(value);
            let text = temperature.to_string();
            assert_eq!(text.parse(), Ok(temperature), "{text}");
        }
        assert_eq!(Temperature::from_celsius(15.0).to_string(), "15 °C");
        assert_eq!(Temperature::from_celsius(-1.8).to_string(), "-1.8 °C");
    }

    #[test]
    fn text_that_is_no_quantity_is_refused_by_serde_with_the_same_words() {
        let error = serde_json::from_str::<Depth>("\"28\"")
            .unwrap_err()
            .to_string();
        assert!(error.starts_with("`28` has no unit"), "{error}");
        let error = serde_json::from_str::<Depth>("28").unwrap_err().to_string();
        let words = "invalid type: integer `28`, expected a text of a number and its unit";
        assert!(error.starts_with(words), "{error}");
    }

    #[test]
    fn a_number_that_is_not_finite_is_not_read_back() {
        let nowhere = Depth::from_m(f64::NAN).to_string();
        assert!(nowhere.parse::<Depth>().is_err());
    }
}
