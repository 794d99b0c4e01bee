//! The site and what is breathed there: water and air, gases, cylinders.

mod breathing;
mod cylinder;
mod environment;
mod mix;
mod real_gas;

pub use breathing::{
    ADVISED_PO2_BAR, GREATEST_PO2_BAR, Narcotic, depth_of_density, equivalent_air_depth,
    equivalent_narcotic_depth, gas_density_g_l, operating_depth, oxygen_pressure, richest_nitrox,
};
pub(crate) use cylinder::Charges;
pub use cylinder::{Charge, Cylinder, GasConditions, GasLaw, water_volume_of_rating};
pub(crate) use environment::standard_altitude;
pub use environment::{Environment, Water, WaterError, standard_atmosphere};
pub(crate) use environment::{LAPSE_K_M, SEA_LEVEL_K, TROPOSPHERE_EXPONENT};
pub use mix::{LEAST_OXYGEN_PCT, Mix, MixError};
pub use real_gas::{MolarDensity, RealGas};
