//! What a briefing and a what-if both say in JSON about lost gas and leaving late.

use hangbar::gas::{LostGas, Rescue, RescueOutcome};
use hangbar::whatif::{BadFrom, LATE_BOUND_MIN, LateTable};
use serde::Serialize;

#[derive(Serialize)]
pub(crate) struct LateRow<'a> {
    bound_min: u32,
    stops_from_min: Option<u32>,
    stops_state: &'static str,
    unknown: Vec<UnknownRow>,
    divers: Vec<LateDiver<'a>>,
}

/// Why something is not known from a minute on.
#[derive(Serialize)]
struct UnknownRow {
    from_min: u32,
    because: String,
}

#[derive(Serialize)]
struct LateDiver<'a> {
    name: &'a str,
    reserve_gone_from_min: Option<u32>,
    reserve_gone_state: &'static str,
    empty_from_min: Option<u32>,
    empty_state: &'static str,
    stage_short_from_min: Option<u32>,
    stage_short_state: &'static str,
    pony_stops_from_min: Option<u32>,
    pony_stops_state: Option<&'static str>,
}

impl<'a> LateRow<'a> {
    pub(crate) fn new(late: &'a LateTable) -> Self {
        let divers = late.divers.iter().map(|diver| LateDiver {
            name: &diver.name,
            reserve_gone_from_min: diver.reserve_gone.first_minute(),
            reserve_gone_state: diver.reserve_gone.word(),
            empty_from_min: diver.empty.first_minute(),
            empty_state: diver.empty.word(),
            stage_short_from_min: diver.stage_short.first_minute(),
            stage_short_state: diver.stage_short.word(),
            pony_stops_from_min: diver.pony_stops.and_then(BadFrom::first_minute),
            pony_stops_state: diver.pony_stops.map(BadFrom::word),
        });
        // The first minute that cannot be scheduled is the same for every question that meets it.
        let unknown = late.answers().filter_map(|answer| match answer {
            BadFrom::Unknown { from, cause, .. } => Some(UnknownRow {
                from_min: from,
                because: cause.to_string(),
            }),
            BadFrom::AsPlanned | BadFrom::Minute(_) | BadFrom::NotWithinBound => None,
        });
        Self {
            bound_min: LATE_BOUND_MIN,
            stops_from_min: late.stops.first_minute(),
            stops_state: late.stops.word(),
            unknown: unknown.take(1).collect(),
            divers: divers.collect(),
        }
    }
}

#[derive(Serialize)]
pub(crate) struct LostGasRow<'a> {
    name: &'a str,
    shared: Option<RescueRow<'a>>,
    pony: Option<RescueRow<'a>>,
}

#[derive(Serialize)]
struct RescueRow<'a> {
    donor: Option<&'a str>,
    run_time_min: f64,
    depth_m: f64,
    outcome: &'static str,
    left_bar: Option<f64>,
    empty_min: Option<f64>,
    empty_m: Option<f64>,
    missed_stops_min: Option<f64>,
}

impl<'a> LostGasRow<'a> {
    pub(crate) fn new(lost: &'a LostGas) -> Self {
        Self {
            name: &lost.name,
            shared: lost.shared.as_ref().map(RescueRow::new),
            pony: lost.pony.as_ref().map(RescueRow::new),
        }
    }
}

impl<'a> RescueRow<'a> {
    fn new(rescue: &'a Rescue) -> Self {
        let row = Self {
            donor: rescue.donor.as_deref(),
            run_time_min: rescue.run_time.as_min(),
            depth_m: rescue.depth.as_m(),
            outcome: "every-stop",
            left_bar: None,
            empty_min: None,
            empty_m: None,
            missed_stops_min: None,
        };
        match rescue.outcome {
            RescueOutcome::EveryStop { left } => Self {
                left_bar: Some(left.as_bar()),
                ..row
            },
            RescueOutcome::StopsMissed {
                empty_at,
                empty_depth,
                missed,
            } => Self {
                outcome: "stops-missed",
                empty_min: Some(empty_at.as_min()),
                empty_m: Some(empty_depth.as_m()),
                missed_stops_min: Some(missed.as_min()),
                ..row
            },
            RescueOutcome::NotEnough { empty_depth } => Self {
                outcome: "not-enough",
                empty_m: Some(empty_depth.as_m()),
                ..row
            },
        }
    }
}
