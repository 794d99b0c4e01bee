//! The gas part of a briefing: the table, the team, stage cylinders, ponies.

use hangbar::ascent::switch_depth;
use hangbar::gas_budget::{DiverBudget, PonyBudget, PonyVerdict, TurnRule};
use hangbar::lost_gas::{Rescue, RescueOutcome};
use hangbar::show::{minutes, minutes_down, minutes_up};
use hangbar::units::GaugePressure;

use crate::screen::{NAME_COLUMNS, Screen, cell, list, together};
use crate::text::Rail;

pub(crate) fn render(rail: &Rail<'_>, screen: &mut Screen) {
    table(rail, screen);
    sentences(rail, screen);
    stages(rail, screen);
    ponies(rail, screen);
}

fn table(rail: &Rail<'_>, screen: &mut Screen) {
    screen.heading("Gas");
    screen.line("                              turn     turn   minimum   leaves     back      gas");
    screen.line("  diver                fill     at      due       gas   bottom   aboard    limit");
    for diver in &rail.briefing.divers {
        screen.line(&row(rail, diver));
    }
}

fn row(rail: &Rail<'_>, diver: &DiverBudget) -> String {
    let gauge = rail.gauge_of(&diver.name);
    let due = match diver.turn_due {
        None => "not due".to_owned(),
        Some(time) => format!("{} min", minutes_down(time)),
    };
    let left = |pressure: Option<GaugePressure>| {
        pressure.map_or_else(|| "empty".to_owned(), |p| gauge.pressure_number_down(p))
    };
    let limit = match diver.gas_limit_min {
        0 => "none".to_owned(),
        minutes => format!("{minutes} min"),
    };
    format!(
        "  {} {:>9} {:>6}  {due:>7} {:>9} {:>8} {:>8} {limit:>8}",
        cell(&diver.name, NAME_COLUMNS),
        gauge.pressure_up(diver.fill),
        gauge.pressure_number_up(diver.turn),
        gauge.pressure_number_up(diver.minimum_gas),
        left(diver.leaving),
        left(diver.end),
    )
}

fn sentences(rail: &Rail<'_>, screen: &mut Screen) {
    let briefing = rail.briefing;
    screen.paragraph(&team(rail));
    let swim = briefing.plan.reserve.swim;
    let turn = match (briefing.plan.reserve.turn, swim) {
        (TurnRule::All, _) => "all that is above the minimum may be used on the bottom".to_owned(),
        (rule, Some(_)) if briefing.plan.reserve.turn_share() < rule.share() => format!(
            "{:.0} % of what is above the minimum goes out with the current",
            (briefing.plan.reserve.turn_share() * 100.0).floor()
        ),
        (TurnRule::Half, _) => {
            "half of what is above the minimum goes out, half comes back".to_owned()
        }
        (TurnRule::Third, _) => "a third of what is above the minimum goes out".to_owned(),
    };
    screen.paragraph(&format!(
        "Turn at the turn pressure, whatever the minute: {turn}."
    ));
    let each: Vec<String> = briefing
        .divers
        .iter()
        .map(|diver| {
            let minimum = rail.gauge_of(&diver.name).pressure_up(diver.minimum_gas);
            together(&diver.name, &minimum)
        })
        .collect();
    let leave = minutes_down(briefing.schedule.bottom_time);
    let hang = briefing.plan.reserve.hang.map(|hang| {
        format!(
            " That holds {} of hanging at {} on top of every stop.",
            minutes(minutes_up(hang.time)),
            rail.show.depth(hang.depth)
        )
    });
    screen.paragraph(&format!(
        "Leave the bottom together at minute {leave}, and with at least: {}.{}",
        each.join(", "),
        hang.unwrap_or_default()
    ));
    let lighter: Vec<String> = briefing
        .divers
        .iter()
        .map(|diver| together(&diver.name, &rail.show.mass_up(diver.lighter)))
        .collect();
    screen.paragraph(&format!(
        "Lighter at the end of the last stop than at the start: {}.",
        lighter.join(", ")
    ));
}

/// Who limits time, who has least gas to spare, who limits depth.
fn team(rail: &Rail<'_>) -> String {
    let briefing = rail.briefing;
    let limiting = briefing.limiting_divers();
    let names: Vec<&str> = limiting.iter().map(|diver| diver.name.as_str()).collect();
    let mut sentence = String::new();
    if let Some(first) = limiting.first() {
        let verb = if names.len() == 1 { "limits" } else { "limit" };
        let time = match first.gas_limit_min {
            0 => "no bottom time at all".to_owned(),
            limit => format!("{} of bottom time", minutes(f64::from(limit))),
        };
        sentence = format!("{} {verb} the time: gas for {time}.", list(&names));
    }
    if let Some(least) = briefing.least_to_spare()
        && briefing.divers.len() > 1
        && let Some(leaving) = least.leaving
    {
        let gauge = rail.gauge_of(&least.name);
        let spare = leaving - least.minimum_gas;
        sentence.push_str(&if spare.as_bar() >= 0.0 {
            let spare = gauge.pressure_down(spare);
            format!(
                " {} limits the gas: {spare} to spare at the end of it.",
                least.name
            )
        } else {
            format!(
                " {} limits the gas: less than the minimum at the end of it.",
                least.name
            )
        });
    }
    if let Some((name, limit)) = briefing.depth_limit() {
        let limit = rail.show.depth_limit(limit);
        sentence.push_str(&format!(" {name} limits the depth: {limit}."));
    }
    sentence
}

fn stages(rail: &Rail<'_>, screen: &mut Screen) {
    let briefing = rail.briefing;
    if briefing.divers.iter().all(|diver| diver.stages.is_empty()) {
        return;
    }
    screen.heading("Stage cylinders");
    for diver in &briefing.divers {
        for stage in &diver.stages {
            let from = switch_depth(&briefing.plan.rules, stage.gas)
                .map(|depth| format!(", never deeper than {}", rail.show.depth_limit(depth)));
            let need = if stage.need.as_l() > 0.0 {
                format!("must hold {}", rail.show.volume_up(stage.need))
            } else {
                "not needed as planned".to_owned()
            };
            screen.hanging(
                "  ",
                &format!(
                    "{}: {}{}; {need}, holds {}.",
                    diver.name,
                    stage.gas,
                    from.unwrap_or_default(),
                    rail.show.volume_down(stage.have),
                ),
            );
        }
    }
}

fn ponies(rail: &Rail<'_>, screen: &mut Screen) {
    let divers = rail.briefing.divers.iter().zip(&rail.briefing.lost_gas);
    let sentences: Vec<String> = divers
        .filter_map(|(diver, lost)| {
            let pony = diver.pony.as_ref()?;
            Some(pony_words(rail, &diver.name, pony, lost.pony.as_ref()))
        })
        .collect();
    if sentences.is_empty() {
        return;
    }
    screen.heading("Ponies: for getting up when the main supply fails. They buy no bottom time");
    for sentence in sentences {
        screen.paragraph(&sentence);
    }
}

fn pony_words(rail: &Rail<'_>, name: &str, pony: &PonyBudget, lost: Option<&Rescue>) -> String {
    let have = rail.show.volume_down(pony.have);
    let straight = rail.show.volume_up(pony.need_ascent);
    let full = rail.show.volume_up(pony.need_full);
    let until = match pony.covers_until_min {
        0 => "at no bottom time".to_owned(),
        limit => format!("up to {} of bottom time", minutes(f64::from(limit))),
    };
    let gone = lost.and_then(|rescue| match rescue.outcome {
        RescueOutcome::StopsMissed {
            empty_depth,
            missed,
            ..
        } => Some(format!(
            " It would be gone at {} with {} of stops still to make.",
            rail.show.depth(empty_depth),
            minutes(minutes_up(missed))
        )),
        RescueOutcome::NotEnough { empty_depth } => Some(format!(
            " It would be gone at {} on the way straight up.",
            rail.show.depth(empty_depth)
        )),
        RescueOutcome::EveryStop { .. } => None,
    });
    let gone = gone.unwrap_or_default();
    match pony.verdict {
        PonyVerdict::CoversAll => format!(
            "{name}'s pony gives {have}. It covers the way up with every stop ({full}), {until}."
        ),
        PonyVerdict::CoversAscentOnly => format!(
            "{name}'s pony gives {have}. It covers a straight ascent ({straight}), but not the \
             stops ({full}); with them it is enough {until}.{gone}"
        ),
        PonyVerdict::Short => format!(
            "{name}'s pony gives {have}. It covers nothing: straight up takes {straight}, every \
             stop {full}; it is enough for that {until}. Plan as if it were not there.{gone}"
        ),
    }
}
