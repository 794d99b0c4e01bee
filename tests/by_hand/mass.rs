//! What the gas breathed weighs.

use approx::assert_abs_diff_eq;

use crate::pencil::briefed;

#[test]
fn the_gas_breathed_weighs_what_the_ideal_law_says() {
    // 101.325 kPa/(8.314462618 · 288.15) = 0.0422926 mol/L; air 0.21 · 31.998 + 0.79 · 28.014 =
    // 28.85064 g/mol: 1.220169 g/L. By the end of the stop Ada has breathed 15 · 62.205226 =
    // 933.0784 L, Ben 1244.1045 L.
    let briefing = briefed(&[]);
    const GRAMS: f64 = 1e-5;
    assert_abs_diff_eq!(
        briefing.divers[0].lighter.as_kg(),
        1.138513,
        epsilon = GRAMS
    );
    assert_abs_diff_eq!(
        briefing.divers[1].lighter.as_kg(),
        1.518018,
        epsilon = GRAMS
    );
}

#[test]
fn the_gas_breathed_weighs_what_handbook_densities_say() {
    // Air has 1.2754 g/L at 0 °C and 100 kPa (handbook, from memory): 1.2250 g/L at 15 °C and
    // 1 atm, 0.4 % more than 21/79 without argon.
    let real = briefed(&[("gas_law = \"ideal\"", "gas_law = \"real\"")]);
    let want = 0.933_078_4 * 1.2250;
    assert_abs_diff_eq!(real.divers[0].lighter.as_kg(), want, epsilon = 0.006 * want);
}
