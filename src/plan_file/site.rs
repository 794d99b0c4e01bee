//! `[site]`: the water and the air above it.

use super::keys::{site as keys, top};
use super::on_the_day::Overrides;
use super::reader::{Given, Reader, Table};
use crate::plan::{Arrival, Site};
use crate::quantity::{Altitude, Pressure, Speed, Temperature, Time, nearest};
use crate::rules::ranges::{ALTITUDE, ARRIVED, DENSITY};
use crate::site::Water;

pub(super) fn read(reader: &mut Reader, root: &Table<'_>, overrides: &Overrides) -> Site {
    let mut site = Site::default();
    if let Some(table) = reader.section(root, &top::SITE_TABLE) {
        site.water = water(reader, &table).unwrap_or_default();
        (site.altitude, site.surface_pressure) = air(reader, &table);
        if let Some(temperature) = reader.quantity(&table, &keys::TEMPERATURE) {
            site.temperature = Temperature::from_kelvin(temperature.value);
        }
        let current = reader.quantity(&table, &keys::SITE_CURRENT);
        site.current = current.map(|given| Speed::from_m_min(given.value));
        site.arrival = arrival(reader, &table);
    }
    on_the_day(reader, &mut site, overrides);
    site
}

/// How the divers came, where they are not adapted; the altitude of home asks for the time.
fn arrival(reader: &mut Reader, table: &Table<'_>) -> Option<Arrival> {
    let arrived = reader.quantity(table, &keys::SITE_ARRIVED);
    let home = reader.quantity(table, &keys::HOME_ALTITUDE);
    if table.has(keys::HOME_ALTITUDE.name) && !table.has(keys::SITE_ARRIVED.name) {
        reader.missing(table, keys::SITE_ARRIVED.name, ARRIVED.describe());
    }
    Some(Arrival {
        before_first_dive: Time::from_min(arrived?.value),
        home_altitude: home.map_or(Altitude::SEA_LEVEL, |given| Altitude::from_m(given.value)),
    })
}

/// What takes the place of the file's own.
fn on_the_day(reader: &mut Reader, site: &mut Site, overrides: &Overrides) {
    if let Some(given) = overrides.water() {
        let water = water_of(reader, "[site]", &given);
        site.water = water.unwrap_or_default();
    }
    if let Some(given) = overrides.altitude()
        && let Some(altitude) = reader.read_quantity("[site]", &given, &ALTITUDE)
    {
        site.altitude = Some(Altitude::from_m(altitude.value));
        site.surface_pressure = None;
    }
    let home = overrides.home_altitude();
    let home = home.and_then(|given| reader.read_quantity("[site]", &given, &ALTITUDE));
    let home = home.map(|given| Altitude::from_m(given.value));
    if let Some(given) = overrides.arrived() {
        if let Some(arrived) = reader.read_quantity("[site]", &given, &ARRIVED) {
            let of_plan = site.arrival.map(|arrival| arrival.home_altitude);
            site.arrival = Some(Arrival {
                before_first_dive: Time::from_min(arrived.value),
                home_altitude: home.or(of_plan).unwrap_or(Altitude::SEA_LEVEL),
            });
        }
    } else if let Some((home, arrival)) = home.zip(site.arrival.as_mut()) {
        arrival.home_altitude = home;
    } else if let Some(given) = overrides.home_altitude() {
        let message = "`home_altitude` is given, and nobody says how long ago they came";
        reader.refuse("[site]", &given, message, "--home-altitude with --arrived");
    }
}

/// The altitude and the pressure of the air; at most one of them may be given.
fn air(reader: &mut Reader, table: &Table<'_>) -> (Option<Altitude>, Option<Pressure>) {
    let altitude = reader.quantity(table, &keys::SITE_ALTITUDE);
    let pressure = reader.quantity(table, &keys::SURFACE_PRESSURE);
    if table.has(keys::SITE_ALTITUDE.name) && table.has(keys::SURFACE_PRESSURE.name) {
        reader.refuse_at(
            table.place_of(keys::SURFACE_PRESSURE.name),
            &table.name,
            Some(keys::SURFACE_PRESSURE.name),
            "both `altitude` and `surface_pressure` are given",
            "one of the two",
            None,
        );
    }
    let altitude = altitude.map(|given| Altitude::from_m(given.value));
    let pressure = pressure.map(|given| Pressure::from_bar(given.value));
    (altitude, pressure)
}

fn water_accepted() -> String {
    let names: Vec<String> = Water::names().map(|name| format!("\"{name}\"")).collect();
    format!("{} or a density, {}", names.join(", "), DENSITY.describe())
}

fn water(reader: &mut Reader, table: &Table<'_>) -> Option<Water> {
    let given = reader.text(table, keys::WATER.name, water_accepted)?;
    water_of(reader, &table.name, &given)
}

fn water_of(reader: &mut Reader, table: &str, given: &Given<&str>) -> Option<Water> {
    let text = given.value.trim();
    if text.starts_with(|c: char| c.is_ascii_digit()) {
        let density = reader.read_quantity(table, given, &DENSITY)?;
        return Some(Water::Density {
            kg_per_m3: density.value,
        });
    }
    let named = Water::named(text);
    if named.is_none() {
        let meant = nearest(text, Water::names()).map(str::to_owned);
        let message = format!("`water` is \"{text}\"");
        let (place, key) = (given.at.clone(), Some(keys::WATER.name));
        reader.refuse_at(place, table, key, message, water_accepted(), meant);
    }
    named
}
