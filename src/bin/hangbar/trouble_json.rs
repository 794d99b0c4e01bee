//! What a briefing and a what-if both say in JSON about lost gas and leaving late.

use hangbar::deviation::{LATE_BOUND_MIN, LateTable};
use hangbar::lost_gas::{LostGas, Rescue, RescueOutcome};
use serde::Serialize;

#[derive(Serialize)]
pub(crate) struct LateRow<'a> {
    bound_min: u32,
    stops_from_min: Option<u32>,
    divers: Vec<LateDiver<'a>>,
}

#[derive(Serialize)]
struct LateDiver<'a> {
    name: &'a str,
    reserve_gone_from_min: Option<u32>,
    empty_from_min: Option<u32>,
    pony_stops_from_min: Option<u32>,
}

impl<'a> LateRow<'a> {
    pub(crate) fn new(late: &'a LateTable) -> Self {
        let divers = late.divers.iter().map(|diver| LateDiver {
            name: &diver.name,
            reserve_gone_from_min: diver.reserve_gone_from_min,
            empty_from_min: diver.empty_from_min,
            pony_stops_from_min: diver.pony_stops_from_min,
        });
        Self {
            bound_min: LATE_BOUND_MIN,
            stops_from_min: late.stops_from_min,
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
