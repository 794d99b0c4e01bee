//! A briefing on one screen: 24 rows of 60 columns for up to 8 divers.

use super::rail::{Rail, cut};
use super::sheet::{Align, NO_BREAK, Report, Table, Tone};
use super::{before, flying, trouble};
use crate::briefing::Briefing;
use crate::dive::BOUND_MIN;
use crate::finding::Verdict;
use crate::finding::{Finding, Weight};
use crate::quantity::UnitSystem;
use crate::quantity::show::{Show, min_s_between, minutes, minutes_down, minutes_up, tenths_down};

/// Characters of a title and of a name.
const TITLE: usize = 40;
const NAME: usize = 14;
/// Divers that a reason names; more are counted.
const MOST_NAMES: usize = 2;
/// Levels that are told one by one.
const MOST_LEVELS: usize = 2;
/// Levels that are told in short; more are counted.
const MOST_LEVELS_SHORT: usize = 5;
/// Stops that are told one by one; of a longer way up the first is told, and how many there are.
const MOST_STOPS: usize = 6;

/// Verdict, limits, stops, turn and minimum of each diver, the clock. A no-go gets its reasons and
/// the nearest go instead.
#[must_use]
pub fn short(briefing: &Briefing, units: UnitSystem) -> Report {
    let mut report = short_of_a_day(briefing, units);
    if briefing.verdict() != Verdict::NoGo {
        report.paragraph(flying::in_short(&briefing.flying, Show(units)));
    }
    report
}

/// The same without a word on flying, which is of the whole day.
pub(super) fn short_of_a_day(briefing: &Briefing, units: UnitSystem) -> Report {
    let rail = Rail::new(briefing, units);
    let verdict = briefing.verdict();
    let mut report = Report::default();
    report.marked(
        Tone::from(verdict),
        verdict.title(),
        rail.short_title(TITLE),
    );
    for (weight, tone) in [(Weight::NoGo, Tone::NoGo), (Weight::Caution, Tone::Caution)] {
        let found: Vec<Finding> = briefing.findings_of(weight).cloned().collect();
        if !found.is_empty() {
            let reasons = trouble::reasons_naming(&short_names(found), MOST_NAMES);
            report.marked(tone, format!("  {}", weight.word()), reasons);
        }
    }
    if verdict == Verdict::NoGo {
        nearest_go(&rail, &mut report);
        return report;
    }
    report.paragraph(levels(&rail));
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

fn short_names(mut findings: Vec<Finding>) -> Vec<Finding> {
    for finding in &mut findings {
        finding.diver = finding.diver.as_deref().map(|name| cut(name, NAME));
    }
    findings
}

/// The longest bottom time and the greatest depth; the whole briefing has more.
fn nearest_go(rail: &Rail<'_>, report: &mut Report) {
    let nearest = &rail.briefing.nearest_go;
    let mut ways = Vec::new();
    if let Some(time) = nearest.bottom_time_min {
        ways.push(minutes(f64::from(time)));
    }
    if let Some(depth) = nearest.depth {
        ways.push(format!("no deeper than {}", rail.show.depth_limit(depth)));
    }
    if !nearest.fills.is_empty() {
        ways.push("a higher fill".to_owned());
    }
    if !nearest.cylinders.is_empty() {
        ways.push("a larger cylinder".to_owned());
    }
    if let Some(wait) = nearest.wait {
        ways.push(format!("wait {}", before::longer(wait)));
    }
    if nearest.flight_not_before.is_some() {
        ways.push("a later flight".to_owned());
    }
    report.paragraph(if ways.is_empty() {
        "No single change makes this a go. Plan another dive.".to_owned()
    } else {
        format!(
            "Nearest go, one change alone: {}. See the whole briefing.",
            ways.join("; or ")
        )
    });
}

fn levels(rail: &Rail<'_>) -> String {
    let briefing = rail.briefing;
    let levels = briefing.plan.levels();
    if levels.len() <= MOST_LEVELS {
        return format!("{}.", rail.levels_on_gas());
    }
    let gas = rail.gas_words();
    if levels.len() > MOST_LEVELS_SHORT {
        return format!("{} levels on {gas}: see the whole briefing.", levels.len());
    }
    let each = levels.iter().map(|level| {
        let time = tenths_down(level.time);
        format!("{} {time} min", rail.show.depth(level.depth)).replace(' ', NO_BREAK)
    });
    format!("{} on {gas}.", each.collect::<Vec<_>>().join(", "))
}

fn limits(rail: &Rail<'_>) -> String {
    let briefing = rail.briefing;
    let limit = match briefing.no_stop_limit.time() {
        Some(limit) => format!("{} min", minutes_down(limit)),
        None => format!("over {BOUND_MIN} min"),
    };
    let deepest = rail.show.depth(briefing.schedule.deepest());
    let longest = briefing.longest_go.as_ref();
    let longest = longest.map_or_else(String::new, |longest| {
        let at = if briefing.plan.levels().len() > 1 {
            format!(
                " in all, the rest at {}",
                rail.show.depth(briefing.schedule.last_depth())
            )
        } else {
            String::new()
        };
        format!("; no bottom time beyond {} min{at}", longest.minutes)
    });
    let level_minimums = if briefing.plan.levels().len() > 1 {
        " Earlier levels have minimums of their own."
    } else {
        ""
    };
    let set_by = briefing.limit_set_by.map_or_else(String::new, |set_by| {
        format!(
            ", set by {}",
            cut(&briefing.divers[set_by.diver].name, NAME)
        )
    });
    format!("No-stop limit at {deepest}: {limit}{set_by}{longest}.{level_minimums}")
}

/// `Stops, none to be left out: 21 m switch to EAN50 1:00, 6 m 5:20, 3 m 12:40; up at minute 44.`
fn stops(rail: &Rail<'_>) -> String {
    let schedule = &rail.briefing.schedule;
    let up = minutes_up(schedule.run_time());
    let pauses: Vec<String> = schedule
        .pauses_by_depth()
        .filter(|pause| pause.arrive >= schedule.leave_bottom())
        .map(|pause| {
            let switch = pause.switched_to();
            let switch = switch.map_or_else(String::new, |gas| format!(" switch to {gas}"));
            let stay = min_s_between(pause.arrive, pause.leave, true);
            // One stop is never parted by the end of a line.
            format!("{}{switch} {stay}", rail.show.depth(pause.depth)).replace(' ', NO_BREAK)
        })
        .collect();
    let word = if schedule.staged {
        "Stops, none to be left out"
    } else {
        "Safety stop"
    };
    match pauses.as_slice() {
        [] => format!("Straight up; at the surface at minute {up}."),
        pauses if pauses.len() <= MOST_STOPS => {
            format!("{word}: {}; up at minute {up}.", pauses.join(", "))
        }
        pauses => format!(
            "{word}: {} of them, the first {}; up at minute {up}. See the whole briefing.",
            pauses.len(),
            pauses[0]
        ),
    }
}

fn table(rail: &Rail<'_>) -> Table {
    let briefing = rail.briefing;
    let mut table = Table::new(&[
        ("diver", Align::Left),
        ("fill", Align::Right),
        ("turn\nat", Align::Right),
        ("minimum", Align::Right),
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
