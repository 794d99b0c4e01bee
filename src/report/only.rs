//! One diver's part of a briefing.

use super::rail::Rail;
use super::sheet::{CAUTIONS, Report, THIN_AIR, Tone};
use super::{before, flying, gas, lost_stages, trouble};
use crate::briefing::Briefing;
use crate::finding::Verdict;
use crate::quantity::UnitSystem;

/// What one diver of the plan must know: the dive and its limit, turn and minimum, hang, stage
/// cylinders and pony, what leaving late does, and who helps. The verdict, with every reason, is that
/// of the whole team. `None` where nobody is called so.
#[must_use]
pub fn only(briefing: &Briefing, name: &str, units: UnitSystem) -> Option<Report> {
    let diver = briefing.divers.iter().find(|diver| diver.name == name)?;
    let rail = Rail::of_one(briefing, units, &diver.name);
    let verdict = briefing.verdict();
    let mut report = Report::default();
    rail.verdict(&mut report);
    report.paragraph(match briefing.divers.len() {
        1 => format!("{name}'s part. {name} dives alone."),
        _ => format!(
            "{name}'s part alone. The verdict and the dive are the whole team's, and who runs short \
             first ends it for all."
        ),
    });
    if verdict == Verdict::NoGo {
        rail.nearest_go(&mut report);
    }
    rail.dive(&mut report);
    before::each_diver(&rail, &mut report);
    if verdict == Verdict::NoGo {
        gas::as_asked_for(&rail, &mut report);
        gas::ponies(&rail, &mut report);
    } else {
        gas::planned(&rail, &mut report);
        gas::hang(&rail, &mut report);
        gas::stages(&rail, &mut report);
        gas::ponies(&rail, &mut report);
        trouble::late(&rail, &mut report);
        trouble::lost_gas(&rail, &mut report);
        lost_stages::lost_stages(&rail, &mut report);
    }
    report.heading("Cautions");
    if verdict != Verdict::NoGo {
        report.paragraph(flying::of_brief(briefing, units));
    }
    if briefing.plan.rules().environment.is_at_altitude() {
        report.paragraph(THIN_AIR);
    }
    report.paragraph(CAUTIONS);
    report.space();
    report.marked(Tone::from(verdict), verdict.title(), rail.title());
    Some(report)
}
