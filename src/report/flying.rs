//! Flying, or driving up, after the dive: how long not to.

use super::sheet::{Align, Report, Table};
use crate::briefing::Briefing;
use crate::day::Day;
use crate::plan::USUAL_CABIN_ALTITUDE;
use crate::quantity::UnitSystem;
use crate::quantity::show::{Show, hours_min};
use crate::surface::{
    Exposure, Flying, GUIDANCE_FROM, GUIDANCE_TO, GuidanceReach, LONGEST_WAIT_MIN, WaitDecidedBy,
};

/// How much a day says of flying after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FlyingShown {
    /// What is advised, until when, and what decides.
    InShort,
    /// What the published guidance says too, where it is from, and what the model asks of each.
    InFull,
}

/// Where the published minimum is from, in short; see [`Exposure`].
const SOURCE: &str = "DAN 2002";

/// How long nobody may fly or drive up, and what becomes of a flight that is booked.
pub(super) fn of_brief(briefing: &Briefing, units: UnitSystem) -> String {
    let flying = &briefing.flying;
    let booked = booked(flying).map(|booked| format!(" {booked}"));
    sentence(flying, Show(units)) + &booked.unwrap_or_default()
}

/// The longer of the model's wait and the published one, until when that is, and the other one. The
/// model's alone is no advice where it is the shorter one, and does not stand there as if it were.
pub(super) fn sentence(flying: &Flying, show: Show) -> String {
    advice(flying, show) + &beyond(flying, show)
}

fn advice(flying: &Flying, show: Show) -> String {
    let cabin = show.cabin_height(flying.cabin_altitude);
    let (no_flying, published) = (no_flying(flying), published(flying, show));
    let minimum = flying.exposure.wait_min();
    match (flying.model.minutes(), flying.decided_by()) {
        (Some(model), WaitDecidedBy::Published) => {
            let asked = if flying.cabin_altitude == USUAL_CABIN_ALTITUDE {
                "Model".to_owned()
            } else {
                format!("Model for {cabin}")
            };
            let model_wait = hours_min(model);
            let judged = if model < minimum {
                "too short"
            } else {
                "the same"
            };
            format!("{no_flying}: published {published}. {asked} {model_wait}: {judged}.")
        }
        (Some(_), WaitDecidedBy::Model) => {
            let minimum = hours_min(minimum);
            format!("{no_flying}: the model, for {cabin}. Published: {minimum} {published}.")
        }
        (None, _) => format!(
            "{no_flying}: the model finds no end within {}, for {cabin}. Published: {} {published}.",
            hours_min(LONGEST_WAIT_MIN),
            hours_min(minimum),
        ),
    }
}

/// What is advised after a day, with the flight that is booked.
pub(super) fn after_the_day(day: &Day, shown: FlyingShown, show: Show, report: &mut Report) {
    let flying = &day.flying;
    report.heading("Flying, or driving up, after the day");
    report.paragraph(sentence(flying, show));
    if !flying.leaves_too_soon()
        && let Some(booked) = booked(flying)
    {
        report.paragraph(booked);
    }
    if shown == FlyingShown::InShort {
        return;
    }
    report.paragraph(format!(
        "Published: {}; at least 12 h after a single no-stop dive, 18 h after several dives a day or \
         several days of diving, \"substantially longer\" than 18 h after a dive with compulsory \
         stops, taken as 24 h here. It is for air, for cabins of {} to {}, and for divers without \
         symptoms.",
        Exposure::SOURCE,
        show.cabin_height(GUIDANCE_FROM),
        show.cabin_height(GUIDANCE_TO)
    ));
    report.paragraph(format!(
        "What the model alone asks of each diver, for {}. It is no leave to fly: waits as short \
         failed in trials. All keep the wait above.",
        show.cabin_height(flying.cabin_altitude)
    ));
    let mut table = Table::new(&[("diver", Align::Left), ("model alone", Align::Right)]);
    for (person, wait) in day.people.iter().zip(&flying.divers) {
        let wait = wait.minutes().map_or_else(
            || format!("over {}", hours_min(LONGEST_WAIT_MIN)),
            hours_min,
        );
        table.rows.push(vec![person.name.clone(), wait]);
    }
    report.table(table);
}

/// `(DAN 2002) for several dives`; what it is for, where that is not what was asked about.
fn published(flying: &Flying, show: Show) -> String {
    let gas = if flying.on_air { "" } else { ", for air" };
    let reach = match flying.reach {
        GuidanceReach::Covered => String::new(),
        GuidanceReach::CabinBelow | GuidanceReach::CabinAbove => format!(
            ", for cabins of {} to {}",
            show.cabin_height(GUIDANCE_FROM),
            show.cabin_height(GUIDANCE_TO)
        ),
    };
    let exposure = match flying.exposure {
        Exposure::OneNoStopDive => "for one no-stop dive; 18 h after days of diving",
        Exposure::SeveralDives => "for several dives",
        Exposure::CompulsoryStops => "as well over 18 h after compulsory stops",
    };
    format!("({SOURCE}{gas}{reach}) {exposure}")
}

/// `No flying or driving up for 12 h after surfacing, until 22:01`
pub(super) fn no_flying(flying: &Flying) -> String {
    let what = "No flying or driving up";
    let Some(wait) = flying.advised_min() else {
        return what.to_owned();
    };
    let wait = hours_min(wait);
    let until = flying.not_before.map(|at| format!(", until {at}"));
    format!(
        "{what} for {wait} after surfacing{}",
        until.unwrap_or_default()
    )
}

/// The same for a small screen, with what days of diving make of it and a height that is not the usual
/// one.
pub(super) fn in_short(flying: &Flying, show: Show) -> String {
    let days = match flying.exposure {
        Exposure::OneNoStopDive => "; 18 h after days of diving",
        Exposure::SeveralDives | Exposure::CompulsoryStops => "",
    };
    let cabin = if flying.cabin_altitude == USUAL_CABIN_ALTITUDE {
        String::new()
    } else {
        format!(" Counted for {}.", show.cabin_height(flying.cabin_altitude))
    };
    format!(
        "{}{days}.{cabin}{}",
        no_flying(flying),
        beyond(flying, show)
    )
}

/// That nothing published reaches so high a cabin; nothing where it does.
fn beyond(flying: &Flying, show: Show) -> String {
    if flying.reach != GuidanceReach::CabinAbove {
        return String::new();
    }
    format!(
        " Nothing published reaches {}: this may be too short.",
        show.cabin_height(flying.cabin_altitude)
    )
}

/// The flight that is booked, and which day that is; nothing where none is.
pub(super) fn booked(flying: &Flying) -> Option<String> {
    let leaves = flying.leaves?;
    Some(format!("The flight at {} keeps that.", leaves.on_the_day()))
}
