//! The day before the dive and each diver apart: earlier dives, who sets the limit, own gases.

use super::rail::Rail;
use super::sheet::{Align, Report, Table};
use crate::dive::BOUND_MIN;
use crate::plan::{Arrival, DiveBefore, Plan};
use crate::quantity::Time;
use crate::quantity::show::{
    Show, limit_words, list, minutes, minutes_down, minutes_given, minutes_up, whole_up,
};
use crate::surface::{IntervalReach, LONGEST_INTERVAL_MIN};
use crate::whatif::LongerWait;

/// `came 50 minutes before the dive from an altitude of 20 m`
pub(super) fn came_words(arrival: &Arrival, dive: &str, show: Show) -> String {
    let home = if arrival.home_altitude.as_m().abs() > 0.0 {
        format!("an altitude of {}", show.height(arrival.home_altitude))
    } else {
        "sea level".to_owned()
    };
    format!(
        "came {} before {dive} from {home}",
        minutes_given(arrival.before_first_dive)
    )
}

/// What the team starts with, in a sentence; `None` where that is clean tissues.
pub(super) fn start_sentence(plan: &Plan, show: Show) -> Option<String> {
    let history = plan.history();
    let dives = match history.dives.as_slice() {
        [] => None,
        [one] => Some(("the earlier dive".to_owned(), one)),
        [.., last] => Some((format!("{} earlier dives", history.dives.len()), last)),
    };
    if let Some((dives, last)) = dives {
        let rest = minutes_given(last.surface_interval);
        return Some(format!(
            "The team starts loaded, by {dives} of the day and then {rest} at the surface."
        ));
    }
    if plan.starts_clean() {
        return None;
    }
    Some(match &history.arrival {
        Some(arrival) => {
            let came = came_words(arrival, "the dive", show);
            format!("The team starts unadapted: the divers {came}.")
        }
        None => "The team starts loaded, with the tissues of earlier dives.".to_owned(),
    })
}

/// The earlier dives, a line each; nothing of a first dive.
pub(super) fn earlier_dives(rail: &Rail<'_>, report: &mut Report) {
    let dives = &rail.briefing.plan.history().dives;
    if dives.is_empty() {
        return;
    }
    report.heading("Before it today");
    let mut table = Table::new(&[
        ("", Align::Right),
        ("dive", Align::Left),
        ("up after", Align::Right),
        ("then at\nthe surface", Align::Right),
        ("who", Align::Left),
    ]);
    for (index, dive) in dives.iter().enumerate() {
        table.rows.push(vec![
            (index + 1).to_string(),
            dive_words(rail, dive),
            format!("{} min", minutes_up(dive.schedule.run_time())),
            format!("{} min", minutes_down(dive.surface_interval)),
            who(rail, dive),
        ]);
    }
    report.table(table);
}

fn dive_words(rail: &Rail<'_>, dive: &DiveBefore) -> String {
    let mut from = Time::from_min(0.0);
    let ends = dive.schedule.level_ends.iter().map(|end| {
        let time = end.run_time.elapsed() - from;
        from = end.run_time.elapsed();
        format!("{} for {}", rail.show.depth(end.depth), minutes_given(time))
    });
    let levels: Vec<String> = ends.collect();
    let stops = if dive.had_stops() { ", with stops" } else { "" };
    format!("{} on {}{stops}", levels.join(", then "), dive.gas)
}

fn who(rail: &Rail<'_>, dive: &DiveBefore) -> String {
    let team = rail.briefing.plan.divers();
    let divers = team.iter().zip(&dive.dived).filter(|(_, dived)| **dived);
    let names: Vec<&str> = divers.map(|(diver, _)| diver.name.as_str()).collect();
    if names.len() == team.len() {
        "all".to_owned()
    } else if names.is_empty() {
        "others".to_owned()
    } else {
        list(&names)
    }
}

/// Who sets the no-stop limit and what a diver with clean tissues would have; what waiting changes.
pub(super) fn limit_sentences(rail: &Rail<'_>, report: &mut Report) {
    let briefing = rail.briefing;
    let deepest = rail.show.depth(briefing.schedule.deepest());
    if let Some(set_by) = briefing.limit_set_by {
        let name = &briefing.divers[set_by.diver].name;
        let own = limit_words(briefing.own[set_by.diver].limit.time(), BOUND_MIN);
        let clean = limit_words(set_by.clean.time(), BOUND_MIN);
        let gas = briefing.divers[set_by.diver].gas;
        report.paragraph(format!(
            "{name} sets the limit: {own} at {deepest} on {gas} after this day so far; clean \
             tissues would have {clean}. Nobody stays longer than {name}, nor than the limit above."
        ));
    } else if !briefing.plan.starts_clean() {
        let clean = briefing.clean_limit.time();
        report.paragraph(format!(
            "Clean tissues would have {} there; this team's are not.",
            limit_words(clean, BOUND_MIN)
        ));
    }
    if let Some(words) = wait_words(rail) {
        report.paragraph(words);
    }
}

/// `16 minutes more, 63 minutes at the surface in all`
pub(super) fn longer(wait: LongerWait) -> String {
    format!(
        "{} more, {} at the surface in all",
        minutes(f64::from(wait.more_min)),
        minutes(f64::from(wait.interval_min))
    )
}

/// How long to wait for the same dive to be a no-stop dive, where it is none and the nearest go does
/// not say so.
pub(super) fn wait_words(rail: &Rail<'_>) -> Option<String> {
    let briefing = rail.briefing;
    let least = briefing.least_interval.as_ref();
    let least = least.filter(|_| briefing.schedule.staged)?;
    if briefing.nearest_go.wait.is_some() {
        return None;
    }
    // Whom stops are meant for is not waiting to be rid of them.
    if least.minutes().is_none() && briefing.plan.asks_for_stops() {
        return None;
    }
    let planned = briefing.plan.history().dives.last();
    let planned = planned.map_or(Time::from_min(0.0), |dive| dive.surface_interval);
    Some(match least.reach {
        IntervalReach::Minutes(least) => {
            let more = f64::from(least) - minutes_down(planned);
            if more > 0.0 {
                format!(
                    "Wait {} more, {} at the surface in all, and the same dive is a no-stop dive.",
                    minutes(more),
                    minutes(f64::from(least))
                )
            } else {
                "Waiting longer takes nitrogen up, not off: no later splash makes it a no-stop \
                 dive."
                    .to_owned()
            }
        }
        IntervalReach::NotEvenClean => {
            "No surface interval makes it a no-stop dive: clean tissues do not either.".to_owned()
        }
        IntervalReach::NotWithinBound => format!(
            "No surface interval of up to {} hours makes it a no-stop dive.",
            LONGEST_INTERVAL_MIN / 60
        ),
    })
}

/// Each diver apart, where gases or histories differ.
pub(super) fn each_diver(rail: &Rail<'_>, report: &mut Report) {
    let briefing = rail.briefing;
    if briefing.limit_set_by.is_none() {
        return;
    }
    report.heading("Each diver apart; the no-stop limit of all is the team's, above");
    let mut table = Table::new(&[
        ("diver", Align::Left),
        ("on", Align::Left),
        ("MOD", Align::Right),
        ("own no-stop\nlimit", Align::Right),
        ("CNS", Align::Right),
        ("OTU", Align::Right),
    ]);
    for (diver, own) in briefing.divers.iter().zip(&briefing.own) {
        let limit = own.limit.time();
        table.rows.push(vec![
            diver.name.clone(),
            diver.gas.to_string(),
            rail.show.depth_limit(own.operating_depth),
            limit.map_or_else(
                || format!("over {BOUND_MIN}"),
                |limit| format!("{} min", minutes_down(limit)),
            ),
            format!("{} %", whole_up(own.oxygen.cns_pct)),
            whole_up(own.oxygen.otu),
        ]);
    }
    report.table(table);
}
