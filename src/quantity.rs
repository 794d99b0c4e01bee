//! Quantities: as types with their units, as text, and rounded for people.

mod differences;
pub mod show;
mod text;
mod units;

pub use differences::{DepthChange, Minutes, RunTime};
pub use text::{Kind, QuantityError, nearest};
pub use units::{
    ATM_BAR, Altitude, AtmMinutes, BreathingRate, CELSIUS_ZERO_K, CUBIC_FOOT_L, Depth, FOOT_M,
    FreeVolume, GRAVITY_M_S2, GaugePressure, KNOT_M_MIN, KPA_PER_BAR, MOLAR_GAS_CONSTANT, Mass,
    POUND_KG, PSI_BAR, Pressure, Speed, Temperature, Time, UnitSystem, WaterVolume,
};
