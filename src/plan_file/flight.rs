//! Going up after the dive: of the day alone, for a file has no key for it.

use super::on_the_day::Overrides;
use super::problem::Place;
use super::reader::Reader;
use crate::plan::{Flight, FlightTime, USUAL_CABIN_ALTITUDE};
use crate::quantity::Altitude;
use crate::rules::ranges::CABIN_ALTITUDE;

const CABIN_OPTION: &str = "--cabin-altitude";
const FLIGHT_OPTION: &str = "--fly-at";

/// `has_splash`: whether the plan, or the day, says when they leave the surface.
pub(super) fn read(reader: &mut Reader, overrides: &Overrides, has_splash: bool) -> Flight {
    let cabin = overrides.cabin_altitude.as_deref();
    let cabin = cabin.and_then(|text| cabin_altitude(reader, text));
    let leaves = overrides.fly_at.as_deref();
    let leaves = leaves.and_then(|text| fly_at(reader, text, has_splash));
    Flight {
        cabin_altitude: cabin.unwrap_or(USUAL_CABIN_ALTITUDE),
        leaves,
    }
}

fn cabin_altitude(reader: &mut Reader, text: &str) -> Option<Altitude> {
    let message = match CABIN_ALTITUDE.kind.parse(text) {
        Ok(metres) if CABIN_ALTITUDE.contains(metres) => return Some(Altitude::from_m(metres)),
        Ok(_) => format!("a cabin altitude of {} is out of range", text.trim()),
        Err(error) => format!("cabin altitude: {error}"),
    };
    refuse(reader, CABIN_OPTION, message, CABIN_ALTITUDE.describe());
    None
}

fn fly_at(reader: &mut Reader, text: &str, has_splash: bool) -> Option<FlightTime> {
    let Ok(leaves) = text.parse() else {
        let message = format!("`{}` is no time of a flight", text.trim());
        refuse(reader, FLIGHT_OPTION, message, FlightTime::ACCEPTED);
        return None;
    };
    if has_splash {
        return Some(leaves);
    }
    let message = "nobody says when they leave the surface, so no time of day can be compared";
    let accepted = "--fly-at with --splash, or with a plan that has `splash`";
    refuse(reader, FLIGHT_OPTION, message, accepted);
    None
}

fn refuse(
    reader: &mut Reader,
    option: &'static str,
    message: impl Into<String>,
    accepted: impl Into<String>,
) {
    let place = Place::Override(option);
    reader.refuse_at(place, "", None, message, accepted, None);
}
