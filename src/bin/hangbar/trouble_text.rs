//! When the dive does not go to plan: the short form inside a briefing, and the words that the
//! long form shares with it.

use hangbar::deviation::{Deviation, Outcome};
use hangbar::lost_gas::{Rescue, RescueOutcome};
use hangbar::show::{Show, minutes, minutes_down, minutes_up};

use crate::screen::{NAME_COLUMNS, Screen, cell, list};
use crate::text::Rail;

/// A missed stop is said with this beside it, once.
pub(crate) const NEVER_A_PLAN: &str = "Missed stops are what happens, never a plan.";

pub(crate) fn render(rail: &Rail<'_>, screen: &mut Screen) {
    late(rail, screen);
    lost_gas(rail, screen);
}

fn late(rail: &Rail<'_>, screen: &mut Screen) {
    let table = &rail.briefing.late;
    screen.heading("If they leave the bottom late: bad from how many minutes on");
    late_rows(rail, screen);
    let stops = match table.stops_from_min {
        Some(0) => "The stops are compulsory as planned.".to_owned(),
        Some(minute) => format!("The stops become compulsory from +{minute} min."),
        None => "It stays a no-stop dive.".to_owned(),
    };
    let deeper = Deviation::usual_step_deeper(rail.briefing.plan.units).deeper;
    let deeper = rail.show.depth(deeper);
    let deeper = match &rail.briefing.deeper {
        Some(outcome) => format!("{deeper} deeper: {}", outcome_words(rail.show, outcome)),
        None => format!("{deeper} deeper: no way up can be worked out."),
    };
    screen.paragraph(&format!("{stops} {deeper}"));
}

/// The table of minutes, a row a diver.
fn late_rows(rail: &Rail<'_>, screen: &mut Screen) {
    let briefing = rail.briefing;
    let ponies = briefing.divers.iter().any(|diver| diver.pony.is_some());
    let head = if ponies { "   no pony for" } else { "" };
    screen.line(&format!("                    reserve   cylinder{head}"));
    let head = if ponies { "     the stops" } else { "" };
    screen.line(&format!("  diver                gone      empty{head}"));
    for (late, diver) in briefing.late.divers.iter().zip(&briefing.divers) {
        let pony = if diver.pony.is_some() {
            format!("{:>14}", plus(late.pony_stops_from_min))
        } else {
            String::new()
        };
        screen.line(&format!(
            "  {}  {:>9}{:>11}{pony}",
            cell(&late.name, NAME_COLUMNS),
            plus(late.reserve_gone_from_min),
            plus(late.empty_from_min),
        ));
    }
}

/// `+4`, `now` for a plan that is bad already, `-` for never within the bound.
fn plus(from: Option<u32>) -> String {
    match from {
        Some(0) => "now".to_owned(),
        Some(minute) => format!("+{minute}"),
        None => "-".to_owned(),
    }
}

/// `a staged dive, first stop 9 m, 6 minutes of stops, up at minute 34; reserve gone: Ines.`
fn outcome_words(show: Show, outcome: &Outcome) -> String {
    let kind = if outcome.no_stop { "no-stop" } else { "staged" };
    let stops = match outcome.first_stop {
        Some(depth) => format!(
            "first stop {}, {} of stops",
            show.depth(depth),
            minutes(minutes_up(outcome.stop_time))
        ),
        None => "no stop".to_owned(),
    };
    let up = minutes_up(outcome.run_time);
    let gone = outcome.divers.iter().filter(|diver| !diver.reserve_holds);
    let gone: Vec<&str> = gone.map(|diver| diver.name.as_str()).collect();
    let reserve = if gone.is_empty() {
        "every reserve holds".to_owned()
    } else {
        format!("the reserve is gone for {}", list(&gone))
    };
    format!("{kind}, {stops}, up at minute {up}; {reserve}.")
}

fn lost_gas(rail: &Rail<'_>, screen: &mut Screen) {
    let lost = rail.briefing.lost_gas.iter();
    let shared: Vec<(&str, &Rescue)> = lost
        .filter_map(|lost| Some((lost.name.as_str(), lost.shared.as_ref()?)))
        .collect();
    if shared.is_empty() {
        return;
    }
    screen.heading("If one diver's gas is gone at the worst moment");
    let mut missed = false;
    for (name, rescue) in shared {
        let words = rescue_words(rail, name, rescue);
        missed |= !matches!(rescue.outcome, RescueOutcome::EveryStop { .. });
        screen.hanging("  ", &words);
    }
    if missed {
        screen.paragraph(NEVER_A_PLAN);
    }
}

/// `Ines at 26 m, minute 14: on Tom's gas every stop, 85 bar left.`
pub(crate) fn rescue_words(rail: &Rail<'_>, name: &str, rescue: &Rescue) -> String {
    let (from, whose) = match &rescue.donor {
        Some(donor) => (rail.gauge_of(donor), format!("{donor}'s gas")),
        None => (rail.gauge_of(name), "their own pony".to_owned()),
    };
    let depth = rail.show.depth(rescue.depth);
    let minute = minutes_down(rescue.run_time);
    let how = match rescue.outcome {
        RescueOutcome::EveryStop { left } => {
            let both = if rescue.donor.is_some() {
                " for both"
            } else {
                ""
            };
            format!("every stop, {} left{both}", from.pressure_down(left))
        }
        RescueOutcome::StopsMissed {
            empty_depth,
            missed,
            ..
        } if missed.as_min() <= 0.0 => format!(
            "gone at {} on the last rise, straight up instead",
            rail.show.depth(empty_depth)
        ),
        RescueOutcome::StopsMissed {
            empty_at,
            empty_depth,
            missed,
        } => format!(
            "gone at minute {} at {}: {} of stops missed, straight up instead",
            minutes_down(empty_at),
            rail.show.depth(empty_depth),
            minutes(minutes_up(missed)),
        ),
        RescueOutcome::NotEnough { empty_depth } => format!(
            "gone at {} even going straight up",
            rail.show.depth(empty_depth)
        ),
    };
    format!("{name} at {depth}, minute {minute}: on {whose} {how}.")
}
