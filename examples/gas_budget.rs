//! Minimum gas, turn pressure and gas limit of two divers, and what a pony bottle covers.
//!
//! ```text
//! cargo run --example gas_budget
//! ```

use std::io::Write;

use hangbar::briefing::brief;
use hangbar::plan::{Diver, PlanBuilder, Pony};
use hangbar::quantity::{BreathingRate, Depth, GaugePressure, Time, UnitSystem, WaterVolume};
use hangbar::site::{Cylinder, water_volume_of_rating};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let working: GaugePressure = "3000 psi".parse()?;
    let hanne = Cylinder {
        water: "12 L".parse()?,
        fill: "210 bar".parse()?,
        working: None,
    };
    let jory = Cylinder {
        water: water_volume_of_rating("80 cuft".parse()?, working),
        fill: "2900 psi".parse()?,
        working: Some(working),
    };
    let pony = Cylinder {
        water: WaterVolume::from_l(3.0),
        fill: GaugePressure::from_bar(180.0),
        working: None,
    };
    let plan = PlanBuilder::new(UnitSystem::Metric)
        .level(Depth::from_m(28.0), Time::from_min(16.0))
        .diver(Diver::new("Hanne", BreathingRate::from_l_min(15.0), hanne))
        .diver(Diver {
            pony: Some(Pony {
                cylinder: pony,
                gas: None,
            }),
            ..Diver::new("Jory", BreathingRate::from_l_min(19.0), jory)
        })
        .build()?;
    let briefing = brief(plan)?;

    let mut out = std::io::stdout().lock();
    for (diver, limits) in briefing.divers.iter().zip(&briefing.limits) {
        writeln!(
            out,
            "{}: minimum gas {:.1} bar, turn at {:.1} bar, gas for {} min of bottom time",
            diver.name,
            diver.minimum_gas.as_bar(),
            diver.turn.as_bar(),
            limits.gas_limit.minutes,
        )?;
        if let Some((pony, until)) = diver.pony.zip(limits.pony_covers_until) {
            writeln!(
                out,
                "  pony: {:?}, every stop until minute {} of bottom time",
                pony.verdict, until.minutes,
            )?;
        }
    }
    Ok(())
}
