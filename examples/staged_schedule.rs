//! A staged ascent with a gas switch, segment by segment.
//!
//! ```text
//! cargo run --example staged_schedule
//! ```

use std::io::Write;

use hangbar::dive::fly;
use hangbar::quantity::{Depth, Time};
use hangbar::rules::{DiveRules, Level};
use hangbar::site::Mix;
use hangbar::tissue::{GradientFactors, Tissues};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let rules = DiveRules {
        factors: GradientFactors::from_pct(35.0, 80.0)?,
        decompression: vec![Mix::nitrox(50.0)?],
        ..DiveRules::default()
    };
    let clean = Tissues::clean(rules.environment.surface());
    let level = Level {
        depth: Depth::from_m(38.0),
        time: Time::from_min(25.0),
    };
    let dive = fly(&rules, &clean, &[level])?;
    let mut out = std::io::stdout().lock();
    for segment in &dive.segments {
        writeln!(
            out,
            "{:>6.2} to {:>6.2} min   {:>4} m to {:>4} m   {:<6} {:?}",
            segment.start.as_min(),
            segment.end.as_min(),
            segment.from.as_m(),
            segment.to.as_m(),
            segment.gas,
            segment.kind,
        )?;
    }
    if let Some(anchor) = dive.anchor() {
        writeln!(out, "first barred at {} m", anchor.as_m())?;
    }
    let gradient = dive.surfacing.fraction * 100.0;
    writeln!(out, "surfaces with {gradient:.1} % of the gradient in use")?;
    Ok(())
}
