//! A briefing on one screen: 24 rows of 60 columns for up to 8 divers.

use super::rail::Rail;
use super::{Align, Report, Table, Tone, trouble};
use crate::briefing::Briefing;
use crate::finding::{Finding, Weight};
use crate::judge::Verdict;
use crate::show::{minutes_down, minutes_up};
use crate::units::UnitSystem;

/// Stops that are told one by one; a longer way up is told by its first and its sum.
const MOST_STOPS: usize = 6;

/// Verdict, limits, stops, turn and minimum of each diver, the clock. A no-go gets its reasons and
/// the nearest go instead.
#[must_use]
pub fn short(briefing: &Briefing, units: UnitSystem) -> Report {
    let rail = Rail::new(briefing, units);
    let verdict = briefing.verdict();
    let mut report = Report::default();
    report.marked(Tone::from(verdict), verdict.title(), rail.title());
    for (weight, tone) in [(Weight::NoGo, Tone::NoGo), (Weight::Caution, Tone::Caution)] {
        let found: Vec<Finding> = briefing.findings_of(weight).cloned().collect();
        if !found.is_empty() {
            report.marked(
                tone,
                format!("  {}", weight.word()),
                trouble::reasons(&found),
            );
        }
    }
    if verdict == Verdict::NoGo {
        rail.nearest_go(&mut report);
        return report;
    }
    report.paragraph(format!("{}.", rail.levels_on_gas()));
    report.paragraph(limits(&rail));
    report.paragraph(stops(&rail));
    if briefing.divers.is_empty() {
        report.paragraph("Gas not reckoned: no team.");
    } else {
        report.table(table(&rail));
    }
    report.paragraph(rail.clock_sentence());
    report
}

fn limits(rail: &Rail<'_>) -> String {
    let briefing = rail.briefing;
    let limit = match briefing.no_stop_limit {
        Some(limit) => format!("{} min", minutes_down(limit)),
        None => "over 999 min".to_owned(),
    };
    let deepest = rail.show.depth(briefing.schedule.deepest());
    let longest = match briefing.longest_bottom_time() {
        Some(longest) if !briefing.divers.is_empty() => {
            format!("; no bottom time beyond {longest} min")
        }
        _ => String::new(),
    };
    format!("No-stop limit at {deepest}: {limit}{longest}.")
}

/// `Stops: 9 m 2 min, 6 m 5 min, 3 m 12 min; up at minute 44.`
fn stops(rail: &Rail<'_>) -> String {
    let schedule = &rail.briefing.schedule;
    let up = minutes_up(schedule.run_time());
    let pauses: Vec<String> = rail
        .pauses()
        .iter()
        .filter(|pause| pause.arrive >= schedule.bottom_time)
        .map(|pause| {
            let stay = minutes_up(pause.leave - pause.arrive);
            format!("{} {stay} min", rail.show.depth(pause.depth))
        })
        .collect();
    let word = if schedule.staged {
        "Compulsory stops"
    } else {
        "Safety stop"
    };
    match pauses.as_slice() {
        [] => format!("Straight up; at the surface at minute {up}."),
        pauses if pauses.len() <= MOST_STOPS => {
            format!("{word}: {}; up at minute {up}.", pauses.join(", "))
        }
        pauses => format!(
            "{word}: {} of them, {} min, the first {}; up at minute {up}. See the whole briefing.",
            pauses.len(),
            minutes_up(schedule.stop_time()),
            pauses[0]
        ),
    }
}

fn table(rail: &Rail<'_>) -> Table {
    let briefing = rail.briefing;
    let leave = minutes_down(briefing.schedule.bottom_time);
    let minimum = format!("minimum\nat min {leave}");
    let mut table = Table::new(&[
        ("diver", Align::Left),
        ("fill", Align::Right),
        ("turn\nat", Align::Right),
        (minimum.as_str(), Align::Right),
    ]);
    for diver in &briefing.divers {
        let gauge = rail.gauge_of(&diver.name);
        table.rows.push(vec![
            diver.name.clone(),
            gauge.pressure_read(diver.fill),
            gauge.pressure_number_up(diver.turn),
            gauge.pressure_number_up(diver.bottom_minimum()),
        ]);
    }
    table
}
