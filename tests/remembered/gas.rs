//! Gases and cylinders.

use hangbar::quantity::{Depth, FreeVolume, GaugePressure};
use hangbar::site::Environment;
use hangbar::site::Mix;
use hangbar::site::gas_density_g_l;
use hangbar::site::{Charge, GasLaw, water_volume_of_rating};

use crate::checks::{assert_between, assert_close};
use crate::dives::conditions;

#[test]
fn a_nominal_80_holds_about_77_cubic_feet_of_air() {
    // Source: common practice, no source: a cylinder sold as 80 cu ft at 3000 psi holds about
    // 77 cu ft. The trade rates at 70 °F (21 °C); a diver's water is colder, and colder gas at
    // the same pressure is more of it, so at 15 °C the band is wider.
    const SOURCE: &str = "common practice, no source";
    let psi_3000 = GaugePressure::from_psi(3000.0);
    let water = water_volume_of_rating(FreeVolume::from_cuft(80.0), psi_3000);
    let holds = |law, celsius| {
        let charge = Charge::new(water, Mix::AIR, &conditions(law, celsius));
        charge.contents(psi_3000).as_cuft()
    };
    let what = "80 cu ft at 3000 psi";
    assert_between(what, SOURCE, holds(GasLaw::Real, 21.1), 76.5, 77.5);
    assert_between(what, SOURCE, holds(GasLaw::Real, 15.0), 76.0, 78.0);
    // By the ideal law it holds what it is sold as.
    assert_close(what, "rating", holds(GasLaw::Ideal, 15.0), 80.0, 1e-9);
}

#[test]
fn nitrogen_helium_and_air_are_as_dense_at_the_surface_as_handbooks_say() {
    // Density is linear in the fractions, so nitrogen and helium, which are no breathing gas
    // here by themselves, follow from mixes.
    const SOURCE: &str = "from memory: handbook values";
    let at_surface = |oxygen_pct, helium_pct| {
        let gas = Mix::trimix(oxygen_pct, helium_pct).unwrap();
        gas_density_g_l(&Environment::default(), gas, Depth::from_m(0.0))
    };
    let oxygen = at_surface(100.0, 0.0);
    let air = at_surface(21.0, 0.0);
    let nitrogen = (at_surface(20.0, 0.0) - 0.20 * oxygen) / 0.80;
    let helium = (at_surface(20.0, 80.0) - 0.20 * oxygen) / 0.80;
    /// Four digits; molar masses printed a unit apart in the fifth.
    const FOUR_DIGITS: f64 = 1e-4;
    /// A real gas at 0 °C and 1 atm is 0.1 % denser than an ideal one.
    const REAL: f64 = 0.0011;
    /// Air as the model takes it has no argon: 28.85 g/mol for 28.97.
    const ARGON: f64 = 0.0045;
    assert_close("nitrogen", SOURCE, nitrogen, 1.2506, 1.2506 * REAL);
    assert_close("helium", SOURCE, helium, 0.1786, FOUR_DIGITS);
    assert_close("air", SOURCE, air, 1.2929, 1.2929 * (ARGON + REAL));
}

#[test]
fn air_reaches_the_density_limits_at_31_and_39_metres() {
    // Source: from memory: Anthony and Mitchell, Respiratory physiology of rebreather diving
    // (2016): 5.2 and 6.2 g/L, quoted as air at 31 and 39 m. That is 1.27 g/L an atmosphere,
    // some 5 °C, where the density here is taken at 0 °C: no closer than 1.5 m.
    const SOURCE: &str = "from memory: Anthony and Mitchell 2016";
    const OTHER_TEMPERATURE_M: f64 = 1.5;
    let density = |m| gas_density_g_l(&Environment::default(), Mix::AIR, Depth::from_m(m));
    for (limit_g_l, metres) in [(5.2, 31.0), (6.2, 39.0)] {
        let what = format!("{limit_g_l} g/L");
        let least = density(metres - OTHER_TEMPERATURE_M);
        let most = density(metres + OTHER_TEMPERATURE_M);
        assert_between(&what, SOURCE, limit_g_l, least, most);
    }
}
