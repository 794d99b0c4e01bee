//! The grammar of quantities, gases, factors and times of day: what is read is finite, and reads back
//! as itself after it was written; what is shown is no number that is none.
#![no_main]

use std::fmt::{Debug, Display};
use std::str::FromStr;

use hangbar::plan::{FlightTime, TimeOfDay};
use hangbar::quantity::{
    Altitude, BreathingRate, Depth, DepthChange, FreeVolume, GaugePressure, Kind, Mass, Pressure,
    RunTime, Speed, Temperature, Time, UnitSystem, WaterVolume,
};
use hangbar::site::{Mix, Water};
use hangbar::tissue::GradientFactors;
use hangbar_fuzz::checks::shown;
use libfuzzer_sys::fuzz_target;
use serde::Serialize;
use serde::de::DeserializeOwned;

const KINDS: [Kind; 14] = [
    Kind::Depth,
    Kind::Altitude,
    Kind::Time,
    Kind::GaugePressure,
    Kind::AirPressure,
    Kind::VerticalSpeed,
    Kind::WaterSpeed,
    Kind::BreathingRate,
    Kind::PressureRate,
    Kind::WaterVolume,
    Kind::Capacity,
    Kind::Temperature,
    Kind::Density,
    Kind::Mass,
];

fuzz_target!(|data: &[u8]| {
    let Ok(text) = str::from_utf8(data) else {
        return;
    };
    for kind in KINDS {
        kind_of(kind, text);
    }
    there_and_back::<Depth>(text);
    there_and_back::<DepthChange>(text);
    there_and_back::<Altitude>(text);
    there_and_back::<Pressure>(text);
    there_and_back::<GaugePressure>(text);
    there_and_back::<Time>(text);
    there_and_back::<RunTime>(text);
    there_and_back::<Speed>(text);
    there_and_back::<FreeVolume>(text);
    there_and_back::<WaterVolume>(text);
    there_and_back::<BreathingRate>(text);
    there_and_back::<Mass>(text);
    warm(text);
    there_and_back::<FlightTime>(text);
    words::<TimeOfDay>(text);
    words::<Mix>(text);
    words::<Water>(text);
    words::<GradientFactors>(text);
});

fn kind_of(kind: Kind, text: &str) {
    match kind.parse(text) {
        Ok(value) => {
            assert!(value.is_finite(), "{text:?} is {value}");
            for units in [UnitSystem::Metric, UnitSystem::Imperial] {
                let written = kind.written(value, units);
                shown(&written);
                // Four decimals of the largest unit that one is written in.
                if value.abs() < 1e9 {
                    let again = kind.parse(&written).expect("what is written can be read");
                    assert!(
                        (again - value).abs() <= 0.01,
                        "{text:?}, written {written:?}, is {again}, not {value}"
                    );
                }
            }
            if value.abs() < 1e300 {
                let range = kind.range(value, value + 1.0);
                shown(&range);
                assert!(!range.contains("NaN") && !range.contains("inf"), "{range}");
            }
        }
        Err(error) => told(text, &error.to_string()),
    }
}

/// What is refused says so in a line that may be shown, no longer than it must be.
fn told(text: &str, message: &str) {
    shown(message);
    assert!(
        !message.is_empty() && !message.contains('\n'),
        "{text:?}: {message:?}"
    );
    assert!(message.chars().count() < 1000, "{text:?}: {message:?}");
}

fn words<T>(text: &str) -> Option<T>
where
    T: FromStr<Err: Display> + Display + PartialEq + Debug,
{
    match text.parse::<T>() {
        Ok(value) => {
            let written = value.to_string();
            shown(&written);
            let again = written.parse::<T>().ok();
            assert_eq!(
                again.as_ref(),
                Some(&value),
                "{text:?}, written {written:?}"
            );
            Some(value)
        }
        Err(error) => {
            told(text, &error.to_string());
            None
        }
    }
}

fn there_and_back<T>(text: &str)
where
    T: FromStr<Err: Display> + Display + PartialEq + Debug + Serialize + DeserializeOwned,
{
    if let Some(value) = words::<T>(text) {
        let json = serde_json::to_string(&value).expect("a quantity can be written");
        let again: T = serde_json::from_str(&json).expect("a quantity can be read");
        assert_eq!(again, value, "{json}");
    }
}

/// A temperature reads back exactly where any water can be, elsewhere to the last bit of a sum.
fn warm(text: &str) {
    let Ok(value) = text.parse::<Temperature>() else {
        return;
    };
    let kelvin = value.as_kelvin();
    let written = value.to_string();
    let again = written
        .parse::<Temperature>()
        .expect("what is written can be read")
        .as_kelvin();
    let bits = if (137.0..=546.0).contains(&kelvin) {
        0.0
    } else {
        4.0 * f64::EPSILON * kelvin.abs().max(274.0)
    };
    assert!(
        (again - kelvin).abs() <= bits,
        "{text:?}, written {written:?}, is {again}, not {kelvin}"
    );
}
