//! A stage cylinder that is lost: the way up without each decompression gas, and who gets up.

use super::rail::Rail;
use super::sheet::Report;
use super::trouble::{NEVER_A_PLAN, rescue_outcome_words};
use crate::dive::SegmentKind;
use crate::gas::{DiverWithoutStage, LossMoment, LostStage, RescueOutcome, WithoutStage};
use crate::quantity::show::{minutes, minutes_down, minutes_up};

/// Nothing where the dive breathes no decompression gas.
pub(super) fn lost_stages(rail: &Rail<'_>, report: &mut Report) {
    let briefing = rail.briefing;
    if briefing.lost_stages.is_empty() {
        return;
    }
    report.heading(if briefing.divers.is_empty() {
        "If a stage cylinder is lost"
    } else {
        "If a stage cylinder is lost at the worst moment: on the own main cylinder"
    });
    for lost in &briefing.lost_stages {
        without(rail, report, lost);
    }
    let mut endings = briefing.lost_stages.iter().flat_map(|lost| &lost.divers);
    if endings.any(|diver| rail.shows(&diver.name) && misses_stops(&diver.ending)) {
        report.paragraph(NEVER_A_PLAN);
    }
}

fn misses_stops(ending: &WithoutStage) -> bool {
    match ending {
        WithoutStage::OnOwnGas { main, .. } => !matches!(main, RescueOutcome::EveryStop { .. }),
        WithoutStage::NoWayUp => false,
    }
}

/// Each moment that is the worst for somebody, or every one where nobody's gas was worked out, and
/// the divers whose it is.
fn without(rail: &Rail<'_>, report: &mut Report, lost: &LostStage) {
    for (index, moment) in lost.moments.iter().enumerate() {
        let divers = lost.divers.iter();
        let of_it = |diver: &&DiverWithoutStage| diver.moment == index && rail.shows(&diver.name);
        let divers: Vec<&DiverWithoutStage> = divers.filter(of_it).collect();
        if !divers.is_empty() || lost.divers.is_empty() {
            report.paragraph(moment_words(rail, lost, moment));
        }
        for diver in divers {
            if let Some(words) = diver_words(rail, diver) {
                report.paragraph(words);
            }
        }
    }
}

/// `Without EAN50 from 32 m, minute 38: 17 minutes of stops from 12 m up, back on the surface at
/// minute 60.`
fn moment_words(rail: &Rail<'_>, lost: &LostStage, moment: &LossMoment) -> String {
    let from = format!(
        "Without {} from {}, minute {}",
        lost.gas,
        rail.show.depth(moment.depth),
        minutes_down(moment.run_time)
    );
    let (up, time) = match (&moment.way_up, moment.surfacing(), moment.stop_time()) {
        (Ok(_), Some(up), Some(time)) => (minutes_up(up), minutes(minutes_up(time))),
        (Err(cause), ..) => return format!("{from}: no way up can be worked out: {cause}."),
        _ => return format!("{from}: no way up can be worked out."),
    };
    let pauses = |kind: fn(SegmentKind) -> bool| {
        let segments = moment.way_up.iter().flat_map(|way_up| &way_up.full);
        segments.filter(move |segment| kind(segment.kind))
    };
    let switches = pauses(|kind| kind == SegmentKind::Switch).next().is_some();
    let stops = if switches {
        "stops and gas switches"
    } else {
        "stops"
    };
    match pauses(SegmentKind::is_pause).next() {
        Some(first) => format!(
            "{from}: {time} of {stops} from {} up, back on the surface at minute {up}.",
            rail.show.depth(first.from)
        ),
        None => format!("{from}: no stop made, back on the surface at minute {up}."),
    }
}

/// `Sabine: every stop, 35 bar left.` Nothing more is known of a diver without a way up.
fn diver_words(rail: &Rail<'_>, diver: &DiverWithoutStage) -> Option<String> {
    let WithoutStage::OnOwnGas { main, stages } = &diver.ending else {
        return None;
    };
    let gauge = rail.gauge_of(&diver.name);
    let main = match main {
        // With a stage cylinder too small they are not made.
        RescueOutcome::EveryStop { left } if !diver.ending.is_covered() => format!(
            "the main cylinder is enough, {} left",
            gauge.pressure_down(*left)
        ),
        outcome => rescue_outcome_words(rail.show, gauge, outcome),
    };
    let mut said = vec![main];
    // Where the main cylinder ends it, what the others hold helps nobody.
    let ended = misses_stops(&diver.ending);
    let stages = stages.iter().filter(|stage| !(ended && stage.holds()));
    said.extend(stages.map(|stage| {
        let need = rail.show.volume_up(stage.need);
        let have = rail.show.volume_down(stage.have);
        if stage.holds() {
            format!(
                "the way up takes {need} of {}, {have} are carried",
                stage.gas
            )
        } else {
            format!(
                "NOT ENOUGH {}: the way up takes {need}, {have} are carried",
                stage.gas
            )
        }
    }));
    Some(format!("{}: {}.", diver.name, said.join("; ")))
}
