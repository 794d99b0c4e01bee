//! Blending against a published equation of state: the moles balanced with its Z values, by hand.

use hangbar::gas::{Added, BlendAsked, CylinderGas, blend};
use hangbar::quantity::{ATM_BAR, GaugePressure, Pressure, Temperature};
use hangbar::site::Mix;

use crate::checks::assert_close;
use crate::csv::{number, rows};

/// J/(mol·K), as the table says.
const GAS_CONSTANT: f64 = 8.314_472;
const KPA_PER_BAR: f64 = 100.0;

/// A state of the table: absolute bar, Z, and mol/L by it.
#[derive(Clone, Copy)]
struct State {
    bar: f64,
    z: f64,
    density: f64,
}

/// R·T: bar/(mol/L).
fn slope(celsius: f64) -> f64 {
    GAS_CONSTANT * (celsius + 273.15) / KPA_PER_BAR
}

/// The states of one gas at one temperature.
fn states(name: &str, celsius: f64) -> Vec<State> {
    let table = rows(include_str!("../data/real_gas_gerg.csv"));
    let wanted = table.filter(|[gas, _, _, temperature, _, _]| {
        *gas == name && (number(temperature) - celsius).abs() < 1e-9
    });
    let state = |[_, _, _, _, bar, z]: [&str; 6]| {
        let (bar, z) = (number(bar), number(z));
        let density = bar / (z * slope(celsius));
        State { bar, z, density }
    };
    wanted.map(state).collect()
}

/// Pressure at a density: Z by the parabola through the three states around it.
fn pressure_between(states: &[State], density: f64, celsius: f64) -> f64 {
    let above = states.partition_point(|known| known.density < density);
    let first = above.saturating_sub(2).min(states.len() - 3);
    let [a, b, c] = [states[first], states[first + 1], states[first + 2]];
    let part = |one: State, others: [State; 2]| {
        others.iter().fold(one.z, |part, other| {
            part * (density - other.density) / (one.density - other.density)
        })
    };
    let z = part(a, [b, c]) + part(b, [a, c]) + part(c, [a, b]);
    z * density * slope(celsius)
}

/// A cylinder that held oxygen alone holds oxygen alone until the air comes: its pressure is that
/// of the published oxygen at the density that the balance of moles gives.
#[test]
fn oxygen_under_air_stands_at_the_pressure_of_the_published_oxygen() {
    const SOURCE: &str = "GERG-2008, moles balanced by hand";
    /// From 10 bar on the parabola keeps to the curve so well.
    const PARABOLA_BAR: f64 = 0.01;
    let mut count = 0;
    for (name, oxygen_pct) in [("EAN32", 32.0), ("EAN36", 36.0), ("EAN50", 50.0)] {
        let oxygen: f64 = oxygen_pct / 100.0;
        for celsius in [5.0, 15.0, 30.0] {
            let of_oxygen = states("O2", celsius);
            for State { bar, density, .. } in states(name, celsius) {
                // Air brings all the nitrogen, and 21/79 of it as oxygen.
                let under_air = density * (oxygen - (1.0 - oxygen) * 21.0 / 79.0);
                let want = pressure_between(&of_oxygen, under_air, celsius);
                if want < 10.0 {
                    continue;
                }
                let asked = BlendAsked {
                    start: CylinderGas {
                        pressure: GaugePressure::from_bar(0.0),
                        gas: Mix::OXYGEN,
                    },
                    target: CylinderGas {
                        pressure: GaugePressure::from_bar(bar - ATM_BAR),
                        gas: Mix::nitrox(oxygen_pct).unwrap(),
                    },
                    top: Mix::AIR,
                    temperature: Temperature::from_celsius(celsius),
                    surface: Pressure::from_atm(1.0),
                };
                let steps = blend(&asked).unwrap().steps;
                assert_eq!(steps[0].adds, Added::Oxygen);
                let what = format!("{name}, {bar} bar absolute, {celsius} °C");
                let got = steps[0].real.to.as_bar() + ATM_BAR;
                assert_close(&what, SOURCE, got, want, PARABOLA_BAR);
                count += 1;
            }
        }
    }
    assert!(count > 60, "only {count} states");
}

/// From a cylinder with one atmosphere of oxygen in it to 18/45 at 200 bar absolute and 15 °C.
#[test]
fn helium_under_trimix_stands_near_the_pressure_of_the_published_helium() {
    // Source: Z by GERG-2008 from the program of `real_gas_gerg.csv`: 18/45 1.1124518456 at 200 bar;
    // helium 1.0248663490 at 50 bar and 1.0492423027 at 100 bar, so (Z − 1)/p is 4.939e-4 at 85 bar;
    // oxygen 0.9992195 at 1 bar. In bar·L at 15 °C: all 200/1.1124518456 = 179.783, helium
    // 0.45 of it 80.902, with 1.01325/0.99921 = 1.014 of oxygen 81.917; p = 81.917 · Z(p) = 85.37.
    const SOURCE: &str = "GERG-2008, moles balanced by hand";
    /// One per cent of it is oxygen, which changes Z by a thousandth at most.
    const ALMOST_HELIUM_BAR: f64 = 0.09;
    let asked = BlendAsked {
        start: CylinderGas {
            pressure: GaugePressure::from_bar(0.0),
            gas: Mix::OXYGEN,
        },
        target: CylinderGas {
            pressure: GaugePressure::from_bar(200.0 - ATM_BAR),
            gas: Mix::trimix(18.0, 45.0).unwrap(),
        },
        top: Mix::AIR,
        temperature: Temperature::from_celsius(15.0),
        surface: Pressure::from_atm(1.0),
    };
    let steps = blend(&asked).unwrap().steps;
    assert_eq!(steps[0].adds, Added::Helium);
    let got = steps[0].real.to.as_bar() + ATM_BAR;
    assert_close("18/45", SOURCE, got, 85.37, ALMOST_HELIUM_BAR);
}
