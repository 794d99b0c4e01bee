//! The tissue model: Bühlmann ZH-L16C, sixteen compartments, with gradient factors.

mod coefficients;
mod exchange;
mod exponential;
mod factors;
mod hold;
mod tissues;

pub use coefficients::{COMPARTMENTS, Coefficients, Compartment, CompartmentSet, FirstCompartment};
pub use exchange::exchange;
pub(crate) use exchange::{Exchange, Leg};
pub use factors::{FactorError, GradientFactors};
pub(crate) use hold::{Climb, WholeMinutes};
pub use tissues::{
    Excess, Gradient, Loading, SURFACE_NITROGEN, Tissues, WATER_VAPOUR_BAR, WITHIN_BAR,
};
