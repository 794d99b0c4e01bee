//! Quantities: as types with their units, as text, and rounded for people.
//!
//! Each type reads a number with its unit and writes itself in its stored unit, in full; serde
//! takes and gives the same text. For people there is [`show`].
//!
//! ```
//! use hangbar::quantity::{Depth, Time};
//! let (depth, time): (Depth, Time) = serde_json::from_str(r#"["28 m", "0.5 h"]"#)?;
//! assert_eq!(serde_json::to_string(&(depth, time))?, r#"["28 m","30 min"]"#);
//! assert!(serde_json::from_str::<Depth>("28").is_err());
//! # Ok::<(), serde_json::Error>(())
//! ```

mod differences;
pub(crate) mod serde_text;
pub mod show;
mod text;
mod units;
mod written;

pub use differences::{DepthChange, Minutes, RunTime};
pub(crate) use serde_text::serde_as_text;
pub(crate) use text::plain_decimal;
pub use text::{Kind, QuantityError, is_within, nearest};
pub use units::{
    ATM_BAR, Altitude, AtmMinutes, BreathingRate, CELSIUS_ZERO_K, CUBIC_FOOT_L, Depth, FOOT_M,
    FreeVolume, GRAVITY_M_S2, GaugePressure, KNOT_M_MIN, KPA_PER_BAR, MOLAR_GAS_CONSTANT, Mass,
    POUND_KG, PSI_BAR, Pressure, Speed, Temperature, Time, UnitSystem, WaterVolume,
};
