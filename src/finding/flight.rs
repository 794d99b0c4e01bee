//! A flight that is booked too soon after the dive.

use super::case::Case;
use super::kind::{Help, Subject, Weight, Wording, kinds};
use crate::plan::DayTime;
use crate::quantity::Altitude;
use crate::quantity::show::hours_min;
use crate::surface::{Exposure, LONGEST_WAIT_MIN, WaitDecidedBy, flying_after};
use serde::Serialize;

/// What can be found about a flight after the dive.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum FlightFact {
    /// It leaves before the wait that is advised is over.
    TooSoon {
        /// When it leaves.
        leaves: DayTime,
        /// Altitude that its cabin is kept at.
        cabin_altitude: Altitude,
        /// The wait that is advised after surfacing, the moment at which it is over, and by how
        /// much the flight leaves before that; `None` where the model finds no end.
        advised: Option<AdvisedWait>,
        /// What the advice comes from.
        decided_by: WaitDecidedBy,
        /// What the published guidance counts the day as.
        exposure: Exposure,
    },
}

/// A wait that is advised, and a flight that does not keep it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AdvisedWait {
    /// The wait after surfacing, whole minutes.
    pub wait_min: u32,
    /// When it is over.
    pub not_before: DayTime,
    /// How much too soon the flight leaves, whole minutes.
    pub too_soon_min: u32,
}

impl Subject for FlightFact {
    kinds! {
        Self::TooSoon { .. } =>
            "flies-too-soon", "flight too soon",
            "a flight (`--fly-at`) before the published minimum or the model's wait is over",
            Weight::NoGo, Help::LaterFlight;
    }

    fn message(&self, Wording { show, .. }: &Wording<'_>) -> String {
        let Self::TooSoon {
            leaves,
            cabin_altitude,
            advised,
            decided_by,
            exposure,
        } = self;
        let cabin = show.cabin_height(*cabin_altitude);
        let Some(advised) = advised else {
            return format!(
                "The flight at {} is too soon: {} after surfacing the model is still over its \
                 limits for a cabin at {cabin}.",
                leaves.on_the_day(),
                hours_min(LONGEST_WAIT_MIN),
            );
        };
        let asked_by = match decided_by {
            WaitDecidedBy::Published => {
                format!("the published minimum after {}", exposure_words(*exposure))
            }
            WaitDecidedBy::Model => format!("the model's for a cabin at {cabin}"),
        };
        format!(
            "The flight at {} is {} too soon: not before {}, {} after surfacing, {asked_by}.",
            leaves.on_the_day(),
            hours_min(advised.too_soon_min),
            advised.not_before,
            hours_min(advised.wait_min),
        )
    }

    fn of_team(case: &Case<'_>) -> Vec<Self> {
        too_soon(case).into_iter().collect()
    }
}

/// What the published guidance counts a day as.
const fn exposure_words(exposure: Exposure) -> &'static str {
    match exposure {
        Exposure::OneNoStopDive => "one no-stop dive",
        Exposure::SeveralDives => "several dives",
        Exposure::CompulsoryStops => "a dive with compulsory stops",
    }
}

fn too_soon(case: &Case<'_>) -> Option<FlightFact> {
    case.plan.flight().leaves?;
    let flying = flying_after(case.plan, case.schedule, &[]);
    let leaves = flying.leaves.filter(|_| flying.leaves_too_soon())?;
    let wait = flying.advised_min().zip(flying.not_before);
    let advised = wait.map(|(wait_min, not_before)| AdvisedWait {
        wait_min,
        not_before,
        too_soon_min: u32::try_from(not_before.minutes_since(leaves)).unwrap_or(0),
    });
    Some(FlightFact::TooSoon {
        leaves,
        cabin_altitude: flying.cabin_altitude,
        advised,
        decided_by: flying.decided_by(),
        exposure: flying.exposure,
    })
}
