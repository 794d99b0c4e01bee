//! The gas part of a briefing: the table, the team, each level, the hang, stage cylinders, ponies.

use super::rail::Rail;
use super::sheet::{Align, Report, Table, Tone, together};
use super::trouble::reasons;
use crate::dive::switch_depth;
use crate::finding::Verdict;
use crate::gas::{DiverBudget, DiverLimits, PonyBudget, PonyVerdict};
use crate::gas::{Rescue, RescueOutcome};
use crate::plan::TurnRule;
use crate::quantity::GaugePressure;
use crate::quantity::show::{list, minutes, minutes_down, minutes_up};
use crate::whatif::LongestEnd;

const PONIES: &str = "Ponies: for getting up when the main supply fails. They buy no bottom time";

/// For a dive that may go.
pub(super) fn planned(rail: &Rail<'_>, report: &mut Report) {
    table(rail, report);
    sentences(rail, report);
}

/// For a dive that may not: what is there and what would have to be, and nothing to turn at.
pub(super) fn as_asked_for(rail: &Rail<'_>, report: &mut Report) {
    if rail.briefing.divers.is_empty() {
        return;
    }
    report.heading("Gas as asked for");
    let mut table = Table::new(&[
        ("diver", Align::Left),
        ("fill", Align::Right),
        ("leaves\nbottom with", Align::Right),
        ("and\nmust have", Align::Right),
        ("back\naboard", Align::Right),
    ]);
    for diver in rail.shown() {
        let gauge = rail.gauge_of(&diver.name);
        let Some(leaving) = diver.leaving() else {
            continue;
        };
        let left = |pressure: Option<GaugePressure>| {
            pressure.map_or_else(|| "empty".to_owned(), |p| gauge.pressure_number_down(p))
        };
        table.rows.push(vec![
            diver.name.clone(),
            gauge.pressure_read(diver.fill),
            left(leaving.left),
            gauge.pressure_number_up(leaving.minimum_gas),
            left(diver.end),
        ]);
    }
    report.table(table);
    each_level(rail, report, "would have to be left with");
}

fn table(rail: &Rail<'_>, report: &mut Report) {
    report.heading("Gas");
    let mut table = Table::new(&[
        ("diver", Align::Left),
        ("fill", Align::Right),
        ("turn\nat", Align::Right),
        ("turn\ndue", Align::Right),
        ("minimum\ngas", Align::Right),
        ("leaves\nbottom", Align::Right),
        ("back\naboard", Align::Right),
        ("no longer\nthan", Align::Right),
    ])
    .read_first(&["turn\nat", "minimum\ngas"]);
    let divers = rail.briefing.divers.iter().zip(&rail.briefing.limits);
    let shown = divers.filter(|(diver, _)| rail.shows(&diver.name));
    for (diver, limits) in shown {
        table.rows.push(row(rail, diver, limits));
        let gauge = rail.gauge_of(&diver.name);
        table.units.push(gauge.pressure_unit().to_owned());
    }
    report.table(table);
}

fn row(rail: &Rail<'_>, diver: &DiverBudget, limits: &DiverLimits) -> Vec<String> {
    let gauge = rail.gauge_of(&diver.name);
    let due = match diver.turn_due {
        None => "never".to_owned(),
        Some(time) => format!("{} min", minutes_down(time)),
    };
    let left = |pressure: Option<GaugePressure>| {
        pressure.map_or_else(|| "empty".to_owned(), |p| gauge.pressure_number_down(p))
    };
    vec![
        diver.name.clone(),
        gauge.pressure_read(diver.fill),
        gauge.pressure_number_up(diver.turn),
        due,
        gauge.pressure_number_up(diver.bottom_minimum()),
        left(diver.leaving().and_then(|leaving| leaving.left)),
        left(diver.end),
        match longest(rail, limits) {
            0 => "none".to_owned(),
            minutes => format!("{minutes} min"),
        },
    ]
}

/// The longest bottom time that a figure about a diver may speak of: that of the gas, and never
/// beyond the longest go of the team, for nobody stays down without the others.
fn longest(rail: &Rail<'_>, limits: &DiverLimits) -> u32 {
    let gas = limits.gas_limit.minutes;
    let team = rail.briefing.longest_go.as_ref();
    team.map_or(gas, |team| gas.min(team.minutes))
}

fn sentences(rail: &Rail<'_>, report: &mut Report) {
    let briefing = rail.briefing;
    report.paragraph(team(rail));
    let swim = briefing.plan.reserve().swim;
    let turn = match (briefing.plan.reserve().turn, swim) {
        (TurnRule::All, _) => "the dive need not come back".to_owned(),
        (rule, Some(_)) if briefing.plan.reserve().turn_share() < rule.share() => format!(
            "{:.0} % of what is above the minimum goes out with the current",
            (briefing.plan.reserve().turn_share() * 100.0).floor()
        ),
        (TurnRule::Half, _) => {
            "half of what is above the minimum goes out, half comes back".to_owned()
        }
        (TurnRule::Third, _) => "a third of what is above the minimum goes out".to_owned(),
    };
    report.paragraph(match briefing.plan.reserve().turn {
        TurnRule::All => format!("There is nothing to turn at, for {turn}: the minimum ends it."),
        TurnRule::Half | TurnRule::Third => {
            format!("Turn at the turn pressure, whatever the minute: {turn}.")
        }
    });
    let each: Vec<String> = rail
        .shown()
        .map(|diver| {
            let gauge = rail.gauge_of(&diver.name);
            together(&diver.name, &gauge.pressure_up(diver.bottom_minimum()))
        })
        .collect();
    let leave = minutes_down(briefing.schedule.bottom_time);
    report.paragraph(format!(
        "Leave the bottom together at minute {leave}, and with at least: {}.",
        each.join(", "),
    ));
    each_level(rail, report, "is left with at least");
    let lighter: Vec<String> = rail
        .shown()
        .map(|diver| together(&diver.name, &rail.show.mass_up(diver.lighter)))
        .collect();
    report.paragraph(format!(
        "Lighter at the end of the last stop than at the start: {}.",
        lighter.join(", ")
    ));
}

/// What each of several levels must be left with; the last one has been said.
fn each_level(rail: &Rail<'_>, report: &mut Report, verb: &str) {
    let briefing = rail.briefing;
    let levels = briefing.schedule.level_ends.len();
    for index in 0..levels.saturating_sub(1) {
        let each: Vec<String> = rail
            .shown()
            .filter_map(|diver| {
                let level = diver.levels.get(index)?;
                let minimum = rail.gauge_of(&diver.name).pressure_up(level.minimum_gas);
                Some(together(&diver.name, &minimum))
            })
            .collect();
        let end = &briefing.schedule.level_ends[index];
        report.paragraph(format!(
            "{} {verb}, at minute {}: {}.",
            rail.show.depth(end.depth),
            minutes_down(end.run_time),
            each.join(", ")
        ));
    }
}

/// Who or what ends the bottom time, who has least gas to spare, who limits depth.
fn team(rail: &Rail<'_>) -> String {
    let briefing = rail.briefing;
    let mut sentence = longest_words(rail);
    if let Some(least) = briefing.least_to_spare()
        && briefing.divers.len() > 1
        && rail.is_of_all()
        && let Some(level) = least
            .levels
            .iter()
            .min_by(|x, y| x.to_spare.as_l().total_cmp(&y.to_spare.as_l()))
        && let Some(left) = level.left
    {
        let gauge = rail.gauge_of(&least.name);
        let spare = gauge.pressure_down((left - level.minimum_gas).max(NOTHING));
        sentence.push_str(&format!(
            " {} has the least gas to spare: {spare}.",
            least.name
        ));
    }
    if let Some((name, limit)) = briefing.depth_limit().filter(|(name, _)| rail.shows(name)) {
        let limit = rail.show.depth_limit(limit);
        sentence.push_str(&format!(
            " {name} may go no deeper than {limit}, whatever the plan."
        ));
    }
    sentence
}

const NOTHING: GaugePressure = GaugePressure::from_bar(0.0);

/// What ends the bottom time: a limit, said as one.
fn longest_words(rail: &Rail<'_>) -> String {
    let briefing = rail.briefing;
    let Some(longest) = &briefing.longest_go else {
        return String::new();
    };
    let planned = minutes_down(briefing.schedule.bottom_time);
    let no_longer = minutes(f64::from(longest.minutes));
    if f64::from(longest.minutes) < planned {
        return format!(
            "The gas is enough for the planned {planned} minutes and for every bottom time up to \
             {no_longer}, but not for all between: see the caution."
        );
    }
    // Where no limit of stops stands before it, the figure must not read as an offer.
    let dive = if briefing.schedule.staged {
        format!("The dive is {planned} minutes, not more. ")
    } else {
        String::new()
    };
    let beyond = if briefing.plan.levels().len() > 1 {
        format!(
            "{dive}No bottom time beyond {no_longer} in all, what is more than planned at {} alone",
            rail.show.depth(briefing.schedule.last_depth())
        )
    } else {
        format!("{dive}No bottom time beyond {no_longer}")
    };
    match &longest.ended_by {
        LongestEnd::NoStop => {
            format!("{beyond}: there the no-stop limit ends it, whatever gas is left.")
        }
        LongestEnd::Gas(names) => format!("{beyond}: there the gas of {} ends it.", list(names)),
        LongestEnd::Schedule(cause) => format!(
            "{beyond}: at {} no way up can be worked out, whatever gas is left ({cause}).",
            longest.minutes + 1
        ),
        LongestEnd::NoGo(findings) => {
            format!(
                "{beyond}: a minute more is a no-go ({}).",
                reasons(findings)
            )
        }
        LongestEnd::Bound => "The plan's bottom time is the one to dive.".to_owned(),
    }
}

/// The first question at the rail where a hang is planned.
pub(super) fn hang(rail: &Rail<'_>, report: &mut Report) {
    let Some(hang) = rail.briefing.plan.reserve().hang else {
        return;
    };
    report.heading(format!(
        "The hang: {} at {} on top of the planned way up, each on the own gas",
        minutes(minutes_up(hang.time)),
        rail.show.depth(hang.depth)
    ));
    let mut table = Table::new(&[
        ("diver", Align::Left),
        ("takes", Align::Right),
        ("and leaves\naboard", Align::Right),
        ("so leave the\nbottom with", Align::Right),
    ]);
    for diver in rail.shown() {
        let gauge = rail.gauge_of(&diver.name);
        if let (Some(hang), Some(leaving)) = (&diver.hang, diver.leaving()) {
            let left = hang.left.map(|left| gauge.pressure_down(left));
            table.rows.push(vec![
                diver.name.clone(),
                gauge.volume_up(hang.takes),
                left.unwrap_or_else(|| "nothing".to_owned()),
                gauge.pressure_up(leaving.minimum_gas),
            ]);
        }
    }
    report.table(table);
}

pub(super) fn stages(rail: &Rail<'_>, report: &mut Report) {
    let briefing = rail.briefing;
    if rail.shown().all(|diver| diver.stages.is_empty()) {
        return;
    }
    report.heading("Stage cylinders");
    for diver in rail.shown() {
        for stage in &diver.stages {
            let from = switch_depth(briefing.plan.rules(), stage.gas)
                .map(|depth| format!(", never deeper than {}", rail.show.depth_limit(depth)));
            let need = if stage.need.as_l() > 0.0 {
                format!("must hold {}", rail.show.volume_up(stage.need))
            } else {
                "not needed as planned".to_owned()
            };
            report.paragraph(format!(
                "{}: {}{}; {need}, holds {}.",
                diver.name,
                stage.gas,
                from.unwrap_or_default(),
                rail.show.volume_down(stage.have),
            ));
        }
    }
}

pub(super) fn ponies(rail: &Rail<'_>, report: &mut Report) {
    let briefing = rail.briefing;
    let divers = briefing.divers.iter().zip(&briefing.limits);
    let sentences: Vec<String> = divers
        .zip(&briefing.lost_gas)
        .filter(|((diver, _), _)| rail.shows(&diver.name))
        .filter_map(|((diver, limits), lost)| {
            let pony = diver.pony.as_ref()?;
            Some(pony_words(rail, (diver, limits), pony, lost.pony.as_ref()))
        })
        .collect();
    if sentences.is_empty() {
        return;
    }
    report.heading(PONIES);
    for sentence in sentences {
        report.marked(Tone::Plain, "", sentence);
    }
}

fn pony_words(
    rail: &Rail<'_>,
    (diver, limits): (&DiverBudget, &DiverLimits),
    pony: &PonyBudget,
    lost: Option<&Rescue>,
) -> String {
    let name = &diver.name;
    let have = rail.show.volume_down(pony.have);
    let straight = rail.show.volume_up(pony.need_ascent);
    let full = rail.show.volume_up(pony.need_full);
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
        PonyVerdict::CoversAll if rail.briefing.verdict() == Verdict::NoGo => format!(
            "{name}'s pony gives {have}. It would cover the way up with every stop ({full}): that \
             changes nothing in a no-go."
        ),
        PonyVerdict::CoversAll => format!(
            "{name}'s pony gives {have}. It covers the way up with every stop ({full}){}.",
            covers_until(rail, limits)
        ),
        PonyVerdict::CoversAscentOnly => format!(
            "{name}'s pony gives {have}. It covers a straight ascent ({straight}), but not the \
             stops ({full}).{gone}"
        ),
        PonyVerdict::Short => format!(
            "{name}'s pony gives {have}. It covers nothing: straight up takes {straight}, every \
             stop {full}. Plan as if it were not there.{gone}"
        ),
    }
}

/// Up to which bottom time a pony covers every stop: never beyond the limits of gas and no-stop
/// time, and nothing for a dive that may not go.
fn covers_until(rail: &Rail<'_>, limits: &DiverLimits) -> String {
    let briefing = rail.briefing;
    let Some(covers) = limits.pony_covers_until.filter(|_| briefing.is_go()) else {
        return String::new();
    };
    let covers = covers.minutes;
    let longest = briefing.longest_go.as_ref();
    let shown = longest.map_or(covers, |longest| covers.min(longest.minutes));
    if f64::from(shown) < minutes_down(briefing.schedule.bottom_time) {
        // A shorter dive may ask for more than the planned one: no figure says that well.
        return String::new();
    }
    format!(
        ", no longer than {} of bottom time",
        minutes(f64::from(shown))
    )
}
