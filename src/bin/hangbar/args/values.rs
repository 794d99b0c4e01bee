//! Values of options: text to quantities, and what is accepted.

use std::path::PathBuf;

use clap::builder::{PossibleValuesParser, TypedValueParser};
use hangbar::dive::STEP_MIN;
use hangbar::gas::CylinderGas;
use hangbar::quantity::{
    Depth, DepthChange, GaugePressure, Kind, PSI_BAR, Pressure, Temperature, Time, UnitSystem,
    is_within,
};
use hangbar::report::SchemaOf;
use hangbar::site::{GREATEST_PO2_BAR, Mix, MixError};
use hangbar::tissue::{FactorError, GradientFactors};

const FACTORS: &str = "accepted: the low and the high per cent, from 5 to 100, as 40/85";

pub(super) fn factors(text: &str) -> Result<GradientFactors, String> {
    text.parse().map_err(|error| match error {
        FactorError::NoPair(_) => FACTORS.to_owned(),
        error => format!("{error}; {FACTORS}"),
    })
}

pub(super) fn table_depth(text: &str) -> Result<Depth, String> {
    quantity(Kind::Depth, text, 0.3, 200.0).map(Depth::from_m)
}

pub(super) fn table_step(text: &str) -> Result<DepthChange, String> {
    quantity(Kind::Depth, text, 0.3, 200.0).map(DepthChange::from_m)
}

pub(super) fn oxygen_limit(text: &str) -> Result<Pressure, String> {
    quantity(Kind::AirPressure, text, 0.5, GREATEST_PO2_BAR).map(Pressure::from_bar)
}

pub(super) fn trace_step(text: &str) -> Result<Time, String> {
    quantity(Kind::Time, text, *STEP_MIN.start(), *STEP_MIN.end()).map(Time::from_min)
}

pub(super) fn gas(text: &str) -> Result<Mix, String> {
    text.parse().map_err(|error: MixError| match error {
        MixError::Name(_) => format!("accepted: {}", Mix::ACCEPTED),
        error => format!("{error}; accepted: {}", Mix::ACCEPTED),
    })
}

/// Pressures of a cylinder, bar: up to the highest that one is filled to.
const GREATEST_FILL_BAR: f64 = 5000.0 * PSI_BAR;

/// What a cylinder is filled to, and in which units that is said.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FillTo {
    pub(crate) pressure: GaugePressure,
    pub(crate) units: UnitSystem,
}

pub(super) fn fill(text: &str) -> Result<FillTo, String> {
    let bar = quantity(Kind::GaugePressure, text, 1.0, GREATEST_FILL_BAR)?;
    let units = if text.trim_end().ends_with("psi") {
        UnitSystem::Imperial
    } else {
        UnitSystem::Metric
    };
    Ok(FillTo {
        pressure: GaugePressure::from_bar(bar),
        units,
    })
}

pub(super) fn cylinder_gas(text: &str) -> Result<CylinderGas, String> {
    let parts = text.trim().rsplit_once(char::is_whitespace);
    let (pressure, name) =
        parts.ok_or("accepted: a gauge pressure and a gas, as \"60 bar EAN28\"")?;
    let pressure = quantity(Kind::GaugePressure, pressure, 0.0, GREATEST_FILL_BAR)?;
    Ok(CylinderGas {
        pressure: GaugePressure::from_bar(pressure),
        gas: gas(name)?,
    })
}

/// Degrees Celsius that a cylinder may have.
const CYLINDER_C: [f64; 2] = [-5.0, 45.0];

pub(super) fn cylinder_temperature(text: &str) -> Result<Temperature, String> {
    let [least, greatest] =
        CYLINDER_C.map(|celsius| Temperature::from_celsius(celsius).as_kelvin());
    quantity(Kind::Temperature, text, least, greatest).map(Temperature::from_kelvin)
}

/// A quantity in a range, both ends included.
fn quantity(kind: Kind, text: &str, least: f64, greatest: f64) -> Result<f64, String> {
    let accepted = || format!("accepted: {}", kind.range(least, greatest));
    let value = kind
        .parse(text)
        .map_err(|error| format!("{error}; {}", accepted()))?;
    if is_within(value, least, greatest) {
        Ok(value)
    } else {
        Err(accepted())
    }
}

/// The number of a dive, from 1.
pub(super) fn dive_number(text: &str) -> Result<u8, String> {
    let number = text.trim().parse().ok().filter(|number| *number > 0);
    number.ok_or_else(|| "accepted: the number of a dive of the day, from 1".to_owned())
}

/// From no time to a week.
pub(super) fn interval(text: &str) -> Result<Time, String> {
    const WEEK_MIN: f64 = 7.0 * 24.0 * 60.0;
    quantity(Kind::Time, text, 0.0, WEEK_MIN).map(Time::from_min)
}

pub(super) fn late(text: &str) -> Result<Time, String> {
    quantity(Kind::Time, text, 0.5, 240.0).map(Time::from_min)
}

pub(super) fn deeper(text: &str) -> Result<DepthChange, String> {
    quantity(Kind::Depth, text, 0.1, 50.0).map(DepthChange::from_m)
}

pub(super) fn harder(text: &str) -> Result<f64, String> {
    let digits = text.trim().trim_end_matches('%').trim_end();
    let plain = digits.chars().all(|c| c.is_ascii_digit() || c == '.');
    let value = digits
        .parse()
        .ok()
        .filter(|value| plain && (1.0..=300.0).contains(value));
    value.ok_or_else(|| "accepted: 1% to 300%".to_owned())
}

/// A record, and whose it is where somebody says so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct RecordOf {
    pub(crate) name: Option<String>,
    pub(crate) path: PathBuf,
}

/// `NAME=FILE`, or a file alone; a file of that whole name comes first.
pub(super) fn record_of(text: &str) -> Result<RecordOf, String> {
    let whole = PathBuf::from(text);
    let named = text.split_once('=').filter(|_| !whole.exists());
    match named {
        None => Ok(RecordOf {
            name: None,
            path: whole,
        }),
        Some((name, file)) if !name.trim().is_empty() && !file.is_empty() => Ok(RecordOf {
            name: Some(name.trim().to_owned()),
            path: PathBuf::from(file),
        }),
        Some(_) => Err("accepted: a file, or a diver's name, =, and a file".to_owned()),
    }
}

/// The name of a file or document that has a schema.
pub(super) fn schema_of() -> impl TypedValueParser<Value = SchemaOf> {
    let names = SchemaOf::ALL.iter().map(|one| one.name());
    PossibleValuesParser::new(names)
        .try_map(|name| SchemaOf::named(&name).ok_or("nothing is called so"))
}

pub(super) fn name_and_pressure(text: &str) -> Result<(String, String), String> {
    match text.rsplit_once('=') {
        Some((name, pressure)) if !name.trim().is_empty() => {
            Ok((name.trim().to_owned(), pressure.trim().to_owned()))
        }
        _ => Err("accepted: a diver's name, =, and a pressure, as \"Mara=190 bar\"".to_owned()),
    }
}
