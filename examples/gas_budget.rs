//! Minimum gas, turn pressure and gas limit of two divers, and what a pony bottle covers.
//!
//! ```text
//! cargo run --example gas_budget
//! ```

use std::io::Write;

use hangbar::dive::fly;
use hangbar::gas::team_budget;
use hangbar::plan::{DiveRules, Level};
use hangbar::plan::{Diver, ReserveRules, TurnRule};
use hangbar::quantity::{
    BreathingRate, Depth, FreeVolume, GaugePressure, Temperature, Time, WaterVolume,
};
use hangbar::site::{Cylinder, GasConditions, GasLaw, water_volume_of_rating};
use hangbar::tissue::Tissues;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let rules = DiveRules::default();
    let clean = Tissues::clean(rules.environment.surface());
    let level = Level {
        depth: Depth::from_m(28.0),
        time: Time::from_min(16.0),
    };
    let dive = fly(&rules, &clean, &[level])?;

    let reserve = ReserveRules {
        stress: 1.5,
        sort_out: Time::from_min(1.0),
        floor: GaugePressure::from_bar(50.0),
        turn: TurnRule::Half,
        hang: None,
        swim: None,
    };
    let conditions = GasConditions {
        law: GasLaw::Real,
        temperature: Temperature::from_celsius(15.0),
        surface: rules.environment.surface(),
    };
    let working = GaugePressure::from_psi(3000.0);
    let divers = [
        Diver {
            name: "Hanne".to_owned(),
            breathing: BreathingRate::from_l_min(15.0),
            cylinder: Cylinder {
                water: WaterVolume::from_l(12.0),
                fill: GaugePressure::from_bar(210.0),
                working: None,
            },
            pony: None,
            stages: Vec::new(),
            depth_limit: None,
            gauge: None,
            buddy: None,
        },
        Diver {
            name: "Jory".to_owned(),
            breathing: BreathingRate::from_l_min(19.0),
            cylinder: Cylinder {
                water: water_volume_of_rating(FreeVolume::from_cuft(80.0), working),
                fill: GaugePressure::from_psi(2900.0),
                working: None,
            },
            pony: Some(Cylinder {
                water: WaterVolume::from_l(3.0),
                fill: GaugePressure::from_bar(180.0),
                working: None,
            }),
            stages: Vec::new(),
            depth_limit: None,
            gauge: None,
            buddy: None,
        },
    ];

    let mut out = std::io::stdout().lock();
    for diver in team_budget(&rules, &reserve, &conditions, &dive, &divers)? {
        writeln!(
            out,
            "{}: minimum gas {:.1} bar, turn at {:.1} bar, gas for {} min of bottom time",
            diver.name,
            diver.minimum_gas.as_bar(),
            diver.turn.as_bar(),
            diver.gas_limit.minutes,
        )?;
        if let Some(pony) = diver.pony {
            writeln!(
                out,
                "  pony: {:?}, every stop until minute {} of bottom time",
                pony.verdict, pony.covers_until.minutes,
            )?;
        }
    }
    Ok(())
}
