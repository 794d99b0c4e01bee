//! No-stop limits on air and on nitrox over a range of depths, and the compartment that leads.
//!
//! ```text
//! cargo run --example no_stop_limit
//! ```

use std::io::Write;

use hangbar::dive::no_stop_limit;
use hangbar::quantity::Depth;
use hangbar::quantity::show::minutes_down;
use hangbar::rules::DiveRules;
use hangbar::tissue::Tissues;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut out = std::io::stdout().lock();
    for gas in ["air", "EAN32"] {
        let rules = DiveRules {
            bottom_gas: gas.parse()?,
            ..DiveRules::default()
        };
        let clean = Tissues::clean(rules.environment.surface());
        writeln!(out, "{gas}")?;
        for metres in [15.0, 18.0, 21.0, 24.0, 27.0, 30.0] {
            let depth = Depth::from_m(metres);
            let limit = no_stop_limit(&rules, &clean, depth)?;
            let Some(time) = limit.time() else {
                writeln!(out, "  {metres:>4} m   no limit within 999 minutes")?;
                continue;
            };
            let leading = limit.compartment + 1;
            let minutes = minutes_down(time);
            writeln!(
                out,
                "  {metres:>4} m   {minutes:>4} min   compartment {leading} leads"
            )?;
        }
    }
    Ok(())
}
