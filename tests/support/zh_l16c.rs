//! The coefficients that the model holds, by the number of the compartment.

use hangbar::tissue::{Coefficients, CompartmentSet, FirstCompartment};

/// 4 min and 5 min, of which one is used at a time, then the others.
pub(crate) const COMPARTMENT_NAMES: [&str; 17] = [
    "1", "1b", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12", "13", "14", "15", "16",
];

/// Half-time in minutes, a in bar, b: of nitrogen, then of helium.
pub(crate) fn held(name: &str) -> ([f64; 3], [f64; 3]) {
    let (first, place) = match name {
        "1" => (FirstCompartment::FourMinutes, 0),
        "1b" => (FirstCompartment::FiveMinutes, 0),
        name => {
            let number: usize = name.parse().expect("a compartment's number");
            (FirstCompartment::FiveMinutes, number - 1)
        }
    };
    let compartment = CompartmentSet::zh_l16c(first).compartments()[place];
    let three = |gas: Coefficients| [gas.half_time.as_min(), gas.a_bar, gas.b];
    (three(compartment.nitrogen), three(compartment.helium))
}
