//! When the dive does not go to plan: the short form inside a briefing, and the words that the
//! long form shares with it.

use super::rail::Rail;
use super::sheet::{Align, Report, Table};
use crate::finding::Finding;
use crate::finding::Verdict;
use crate::gas::{Rescue, RescueOutcome};
use crate::quantity::show::{Show, minutes, minutes_down, minutes_up};
use crate::whatif::{BadFrom, Deviation, DiverLate, LateTable, Outcome};

/// A missed stop is said with this beside it, once.
pub(super) const NEVER_A_PLAN: &str = "Missed stops are what happens, never a plan.";

pub(super) fn late(rail: &Rail<'_>, report: &mut Report) {
    let late = &rail.briefing.late;
    // Late anywhere else is another dive: the minutes are those of the last level.
    let briefing = rail.briefing;
    report.heading(if briefing.plan.levels().len() > 1 {
        let last = rail.show.depth(briefing.schedule.last_depth());
        format!("If they leave the last level, {last}, late: bad from how many minutes on")
    } else {
        "If they leave the bottom late: bad from how many minutes on".to_owned()
    });
    let ponies = rail.shown().any(|diver| diver.pony.is_some());
    let mut columns = vec![
        ("diver", Align::Left),
        ("reserve\ngone", Align::Right),
        ("cylinder\nempty", Align::Right),
    ];
    let stages = !briefing.plan.rules().decompression.is_empty();
    if stages {
        columns.push(("stage\nshort", Align::Right));
    }
    if ponies {
        columns.push(("no pony for\nthe stops", Align::Right));
    }
    let mut table = Table::new(&columns);
    let shown = late.divers.iter().filter(|diver| rail.shows(&diver.name));
    for diver in shown.clone() {
        let mut row = vec![
            diver.name.clone(),
            plus(diver.reserve_gone),
            plus(diver.empty),
        ];
        if stages {
            row.push(plus(diver.stage_short));
        }
        if ponies {
            row.push(diver.pony_stops.map_or_else(String::new, plus));
        }
        table.rows.push(row);
    }
    let never = table.rows.iter().flatten().any(|cell| cell == NOT_WITHIN);
    report.table(table);
    if never {
        report.paragraph(format!("{NOT_WITHIN}: not within an hour."));
    }
    let answers = shown.flat_map(DiverLate::answers);
    if let Some(words) = unknown_words(answers.chain([late.stops])) {
        report.paragraph(words);
    }
    let deeper = Deviation::usual_step_deeper(rail.briefing.plan.units()).deeper;
    let deeper = rail.show.depth_change(deeper);
    let deeper = match &rail.briefing.deeper {
        Some(outcome) => {
            format!(
                "{deeper} deeper, should it happen: {}",
                outcome_words(rail.show, outcome)
            )
        }
        None => format!("{deeper} deeper: no way up can be worked out."),
    };
    report.paragraph(format!("{} {deeper}", stops_words(late)));
}

/// In a table: at no minute that is looked at.
const NOT_WITHIN: &str = "-";

/// `+4`, `now` for a plan that is bad already, `-` for never within the bound, `+4 ?` where nobody
/// can tell from there on.
fn plus(from: BadFrom) -> String {
    match from {
        BadFrom::AsPlanned => "now".to_owned(),
        BadFrom::Minute(minute) => format!("+{minute}"),
        BadFrom::NotWithinBound => NOT_WITHIN.to_owned(),
        BadFrom::Unknown { from, .. } => format!("+{from} ?"),
    }
}

/// What the question mark of a table means, with the cause; `None` where there is none.
pub(super) fn unknown_words(answers: impl IntoIterator<Item = BadFrom>) -> Option<String> {
    answers.into_iter().find_map(|answer| match answer {
        BadFrom::Unknown { from, cause, .. } => Some(format!(
            "?: from +{from} min on nobody can tell, for no way up can be worked out: {cause}. \
             Take it as bad from there on."
        )),
        BadFrom::AsPlanned | BadFrom::Minute(_) | BadFrom::NotWithinBound => None,
    })
}

/// From when on the stops are compulsory.
pub(super) fn stops_words(late: &LateTable) -> String {
    match late.stops {
        BadFrom::AsPlanned => "The stops are compulsory as planned.".to_owned(),
        BadFrom::Minute(minute) => format!("The stops become compulsory from +{minute} min."),
        BadFrom::NotWithinBound => {
            let gas_ends_it = late
                .divers
                .iter()
                .any(|diver| diver.reserve_gone != BadFrom::NotWithinBound);
            let first = if gas_ends_it {
                "; the gas ends it before that"
            } else {
                ""
            };
            format!("Within an hour of lateness no stop becomes compulsory{first}.")
        }
        BadFrom::Unknown { from, bad_from, .. } => {
            let later = bad_from.map_or_else(String::new, |minute| {
                format!(", and from +{minute} min they are compulsory")
            });
            format!("From +{from} min on nobody can tell whether the stops are compulsory{later}.")
        }
    }
}

/// `NO-GO (reserve gone, Ines), staged, first stop 9 m, 6 minutes of stops, up at minute 34.`
fn outcome_words(show: Show, outcome: &Outcome) -> String {
    let kind = if outcome.no_stop { "no-stop" } else { "staged" };
    let stops = match outcome.first_stop {
        Some(depth) => format!(
            "first stop {}, {} of stops",
            show.depth(depth),
            minutes(minutes_up(outcome.stop_time))
        ),
        None => "no stop made".to_owned(),
    };
    let up = minutes_up(outcome.run_time);
    let no_go = match outcome.verdict {
        // A slip that breaks nothing is no second plan: nothing is said that sounds like one.
        Verdict::Go | Verdict::ScheduleOnly => String::new(),
        Verdict::NoGo => format!("NO-GO ({}), ", reasons(&outcome.no_gos)),
    };
    format!("{no_go}{kind}, {stops}, up at minute {up}.")
}

/// Each reason once, with the divers whom it is about.
pub(super) fn reasons(findings: &[Finding]) -> String {
    reasons_naming(findings, usize::MAX)
}

/// As [`reasons`]; more divers than so many are counted, not named.
pub(super) fn reasons_naming(findings: &[Finding], most: usize) -> String {
    let mut reasons: Vec<(&str, Vec<&str>)> = Vec::new();
    for finding in findings {
        let what = finding.in_short();
        let known = reasons.iter().position(|(reason, _)| *reason == what);
        let index = known.unwrap_or_else(|| {
            reasons.push((what, Vec::new()));
            reasons.len() - 1
        });
        let names = &mut reasons[index].1;
        if let Some(diver) = finding.diver.as_deref()
            && !names.contains(&diver)
        {
            names.push(diver);
        }
    }
    let each: Vec<String> = reasons
        .iter()
        .map(|(what, names)| {
            if names.is_empty() {
                (*what).to_owned()
            } else if names.len() > most {
                format!("{what}, {} divers", names.len())
            } else {
                format!("{what}, {}", crate::quantity::show::list(names))
            }
        })
        .collect();
    each.join("; ")
}

pub(super) fn lost_gas(rail: &Rail<'_>, report: &mut Report) {
    let lost = rail.briefing.lost_gas.iter();
    let shared: Vec<(&str, &Rescue)> = lost
        .filter(|lost| rail.shows(&lost.name))
        .filter_map(|lost| Some((lost.name.as_str(), lost.shared.as_ref()?)))
        .collect();
    if shared.is_empty() {
        return;
    }
    report.heading("If one diver's gas is gone at the worst moment");
    rescues(rail, report, &shared);
}

/// A line for each way out, and what a missed stop is.
pub(super) fn rescues(rail: &Rail<'_>, report: &mut Report, ways: &[(&str, &Rescue)]) {
    for (name, rescue) in ways {
        report.paragraph(rescue_words(rail, name, rescue));
    }
    let missed = |rescue: &Rescue| !matches!(rescue.outcome, RescueOutcome::EveryStop { .. });
    if ways.iter().any(|(_, rescue)| missed(rescue)) {
        report.paragraph(NEVER_A_PLAN);
    }
}

/// `Ines at 26 m, minute 14: on Tom's gas every stop, 85 bar left.`
fn rescue_words(rail: &Rail<'_>, name: &str, rescue: &Rescue) -> String {
    let (from, whose) = match &rescue.donor {
        Some(donor) => (rail.gauge_of(donor), format!("{donor}'s gas")),
        None => (rail.gauge_of(name), "their own pony".to_owned()),
    };
    let depth = rail.show.depth(rescue.depth);
    let minute = minutes_down(rescue.run_time);
    let how = match rescue.outcome {
        RescueOutcome::EveryStop { .. } if rescue.donor.is_some() => {
            let how = rescue_outcome_words(rail.show, from, &rescue.outcome);
            format!("{how} for both")
        }
        _ => rescue_outcome_words(rail.show, from, &rescue.outcome),
    };
    format!("{name} at {depth}, minute {minute}: on {whose} {how}.")
}

/// `every stop, 85 bar left`; pressures in the units of a gauge.
pub(super) fn rescue_outcome_words(show: Show, gauge: Show, outcome: &RescueOutcome) -> String {
    match *outcome {
        RescueOutcome::EveryStop { left } => {
            format!("every stop, {} left", gauge.pressure_down(left))
        }
        RescueOutcome::StopsMissed {
            empty_depth,
            missed,
            ..
        } if missed.as_min() <= 0.0 => format!(
            "gone at {} on the last rise, straight up instead",
            show.depth(empty_depth)
        ),
        RescueOutcome::StopsMissed {
            empty_at,
            empty_depth,
            missed,
        } => format!(
            "gone at minute {} at {}: {} of stops missed, straight up instead",
            minutes_down(empty_at),
            show.depth(empty_depth),
            minutes(minutes_up(missed)),
        ),
        RescueOutcome::NotEnough { empty_depth } => {
            format!("gone at {} even going straight up", show.depth(empty_depth))
        }
    }
}
