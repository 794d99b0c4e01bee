//! Density of gases at the surface.

use hangbar::quantity::Depth;
use hangbar::site::Environment;
use hangbar::site::Mix;
use hangbar::site::gas_density_g_l;

use crate::checks::assert_close;

#[test]
fn gases_are_as_dense_at_the_surface_as_handbooks_say() {
    // Density is linear in the fractions, so nitrogen and helium, which are no breathing gas
    // here by themselves, follow from mixes.
    let at_surface = |oxygen_pct, helium_pct| {
        let gas = Mix::trimix(oxygen_pct, helium_pct).unwrap();
        gas_density_g_l(&Environment::default(), gas, Depth::from_m(0.0))
    };
    let oxygen = at_surface(100.0, 0.0);
    let air = at_surface(21.0, 0.0);
    let nitrogen = (at_surface(20.0, 0.0) - 0.20 * oxygen) / 0.80;
    let helium = (at_surface(20.0, 80.0) - 0.20 * oxygen) / 0.80;
    let sonntag = "Sonntag, Borgnakke, Van Wylen, Fundamentals of Thermodynamics, 5th ed. \
                   (1998), p. 650, molar mass; ideal at 0 °C and 1 atm by hand";
    let chemistry = "general chemistry reference pages";
    /// Four digits; molar masses printed a unit apart in the fifth.
    const FOUR_DIGITS: f64 = 1e-4;
    /// A real gas at 0 °C and 1 atm is 0.1 % denser than an ideal one.
    const REAL: f64 = 0.0011;
    /// Air as the model takes it has no argon: 28.85 g/mol for 28.97.
    const ARGON: f64 = 0.0045;
    let rows = [
        ("oxygen", sonntag, oxygen, 1.4276, FOUR_DIGITS),
        ("nitrogen", sonntag, nitrogen, 1.2498, FOUR_DIGITS),
        ("helium", sonntag, helium, 0.1786, FOUR_DIGITS),
        ("air", sonntag, air, 1.2925, 1.2925 * ARGON),
        ("oxygen", chemistry, oxygen, 1.429, 1.429 * REAL),
    ];
    for (what, source, got, want, tolerance) in rows {
        assert_close(what, source, got, want, tolerance);
    }
}
