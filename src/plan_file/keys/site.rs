//! The keys of `[site]`.

use super::row::{Holds, Named, OwnKey, QuantityKey, Section, Without};
use super::usual::quoted;
use crate::plan::Site;
use crate::quantity::{Altitude, Kind};
use crate::rules::ranges::{AIR_PRESSURE, ALTITUDE, ARRIVED, CURRENT, DENSITY, WATER_TEMPERATURE};
use crate::site::Water;

pub(crate) const WATER: OwnKey = Named::new("water", ());
pub(crate) const SITE_ALTITUDE: QuantityKey = Named::new("altitude", &ALTITUDE);
pub(crate) const SURFACE_PRESSURE: QuantityKey = Named::new("surface_pressure", &AIR_PRESSURE);
pub(crate) const TEMPERATURE: QuantityKey = Named::new("temperature", &WATER_TEMPERATURE);
pub(crate) const SITE_CURRENT: QuantityKey = Named::new("current", &CURRENT);
pub(crate) const SITE_ARRIVED: QuantityKey = Named::new("arrived", &ARRIVED);
pub(crate) const HOME_ALTITUDE: QuantityKey = Named::new("home_altitude", &ALTITUDE);

pub(crate) static SITE: Section = Section {
    needs: &[(HOME_ALTITUDE.name, SITE_ARRIVED.name)],
    apart: &[SITE_ALTITUDE.name, SURFACE_PRESSURE.name],
    ..Section::new(
        "the water and the air above it",
        &[
            WATER.holding(
                Holds::WordOr(|| Water::names().collect(), &DENSITY),
                Without::As(|_| format!("\"{}\"", Water::default())),
                "the water, by name or by density",
            ),
            SITE_ALTITUDE.row(
                Without::As(|units| quoted(Kind::Altitude, Altitude::SEA_LEVEL.as_m(), units)),
                "altitude of the site; not beside surface_pressure",
            ),
            SURFACE_PRESSURE.row(
                Without::Said("that of the altitude"),
                "pressure of the air, where it is known itself; not beside altitude",
            ),
            TEMPERATURE.row(
                Without::As(|units| {
                    let usual = Site::default().temperature.as_kelvin();
                    quoted(Kind::Temperature, usual, units)
                }),
                "temperature of the cylinders",
            ),
            SITE_CURRENT.row(Without::Said("no current is counted"), "the current"),
            SITE_ARRIVED.row(
                Without::Said("they are taken as adapted to the altitude"),
                "how long before the first dive of the day the divers came to the altitude",
            ),
            HOME_ALTITUDE.row(
                Without::As(|units| quoted(Kind::Altitude, Altitude::SEA_LEVEL.as_m(), units)),
                "the altitude that they came from; only with arrived",
            ),
        ],
    )
};
