//! The tissue model: Bühlmann ZH-L16C, sixteen compartments, with gradient factors.

mod coefficients;
mod factors;
mod hold;
mod step;
mod tissues;

pub use coefficients::{COMPARTMENTS, Coefficients, Compartment, CompartmentSet, FirstCompartment};
pub use factors::{FactorError, GradientFactors};
pub(crate) use hold::{Climb, WholeMinutes};
pub(crate) use step::{Exchange, Step};
pub use tissues::{
    Excess, Gradient, Loading, SURFACE_NITROGEN, Tissues, WATER_VAPOUR_BAR, WITHIN_BAR, exchange,
};
