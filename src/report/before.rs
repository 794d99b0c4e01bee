//! The day before the dive and each diver apart: earlier dives, who sets the limit, own gases.

use super::rail::Rail;
use super::sheet::{Align, Report, Table};
use crate::briefing::Briefing;
use crate::dive::{BOUND_MIN, NoStopLimit};
use crate::plan::{Arrival, DiveBefore, Plan};
use crate::quantity::Time;
use crate::quantity::show::{
    Show, hours_min, limit_words, list, minutes, minutes_down, minutes_given, minutes_up,
    whole_minutes, whole_up,
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

/// From what a figure of a plan starts.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Origin {
    /// How they came, where they are not adapted to the pressure of the air.
    pub(super) arrival: Option<Arrival>,
    /// How many earlier dives.
    pub(super) dives: usize,
}

impl Origin {
    pub(super) fn of(plan: &Plan) -> Self {
        let history = plan.history();
        Self {
            arrival: history.arrival,
            dives: history.dives.len(),
        }
    }

    /// From whose tissues it is, as it goes on behind "From". `is_clean`: as if nobody had dived.
    pub(super) fn words(&self, is_clean: bool, show: Show) -> String {
        let came = |before: &str| {
            let arrival = self.arrival.as_ref();
            arrival.map(|arrival| came_words(arrival, before, show))
        };
        let dives = match self.dives {
            0 => None,
            1 => Some("the tissues that the plan's earlier dive leaves".to_owned()),
            count => Some(format!(
                "the tissues that the plan's {count} earlier dives leave"
            )),
        };
        let first = if self.dives > 0 {
            "the first dive of the day"
        } else {
            "the dive"
        };
        match (dives, came(first)) {
            (Some(dives), Some(came)) => format!("{dives} in divers who {came}"),
            (Some(dives), None) => dives,
            (None, Some(came)) => format!("the tissues of divers who {came}"),
            (None, None) if is_clean => "clean tissues".to_owned(),
            (None, None) => "the tissues of earlier dives".to_owned(),
        }
    }
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
    report.heading("Before this dive");
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
            interval_words(dive.surface_interval),
            who(rail, dive),
        ]);
    }
    report.table(table);
}

/// `97 min`, from ten hours on `20 h`.
fn interval_words(interval: Time) -> String {
    let minutes = whole_minutes(interval);
    if minutes < 600 {
        format!("{minutes} min")
    } else {
        hours_min(minutes)
    }
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
        let after = if briefing.plan.starts_clean() {
            String::new()
        } else {
            format!(" after this day so far; clean tissues would have {clean}")
        };
        report.paragraph(format!(
            "{name} sets the limit: {own} at {deepest} on {gas}{after}. Nobody stays longer than \
             {name}, nor than the limit above."
        ));
    } else if let Some(words) = clean_words(briefing) {
        report.paragraph(words);
    }
    if let Some(words) = wait_words(rail) {
        report.paragraph(words);
    }
}

/// What clean tissues would have where that is another limit than the team's.
fn clean_words(briefing: &Briefing) -> Option<String> {
    let whole = |limit: &NoStopLimit| limit.time().map(minutes_down);
    let (clean, team) = (&briefing.clean_limit, &briefing.no_stop_limit);
    if whole(clean) == whole(team) {
        return None;
    }
    let clean_words = limit_words(clean.time(), BOUND_MIN);
    let minutes = |limit| whole(limit).unwrap_or(f64::INFINITY);
    Some(if minutes(clean) < minutes(team) {
        format!(
            "Divers adapted to this air would have {clean_words} there: keep to that. What is more \
             is for having come down from thinner air."
        )
    } else {
        format!("Clean tissues would have {clean_words} there; this team's are not.")
    })
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
        ("MOD by\noxygen", Align::Right),
        ("own no-stop\nlimit", Align::Right),
        ("CNS", Align::Right),
        ("OTU", Align::Right),
    ]);
    let each = briefing.divers.iter().zip(&briefing.own);
    for (diver, own) in each.filter(|(diver, _)| rail.shows(&diver.name)) {
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
