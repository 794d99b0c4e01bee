//! The sections of the file, one function each, and what they must agree on.

use toml::Spanned;
use toml::de::DeTable;

use super::Overrides;
use super::problem::Place;
use super::profile::{self, required};
use super::reader::{Given, Reader, Table, describe};
use super::team;
use crate::plan::ranges::{
    AIR_PRESSURE, ALTITUDE, ASCENT_RATE, CURRENT, DENSITY, DEPTH, FLOOR, HANG_DEPTH, HANG_TIME,
    OVERDUE_AFTER, SAFETY_DEPTH, SAFETY_TIME, SORT_OUT, STRESS, SWITCH_TIME, WATER_TEMPERATURE,
};
use crate::plan::{AscentRules, LastStop, SafetyStop, StopSpacing};
use crate::plan::{DiveRules, LONGEST_EMERGENCY, LONGEST_TITLE};
use crate::plan::{Hang, ReserveRules, TurnRule};
use crate::plan::{Level, PlanBuilder, Site, Surface, TimeOfDay};
use crate::quantity::{
    Altitude, Depth, GaugePressure, Pressure, Speed, Temperature, Time, UnitSystem,
};
use crate::site::GasLaw;
use crate::site::Mix;
use crate::site::Water;
use crate::tissue::{CompartmentSet, FirstCompartment, GradientFactors};

const ROOT_KEYS: &[&str] = &[
    "title", "units", "splash", "site", "profile", "ascent", "model", "gas", "reserve", "surface",
    "diver", "before",
];
const SITE_KEYS: &[&str] = &[
    "water",
    "altitude",
    "surface_pressure",
    "temperature",
    "current",
];
const ASCENT_KEYS: &[&str] = &["rate", "stop_spacing", "last_stop", "safety_stop"];
const SAFETY_STOP_EXAMPLE: &str = "{ depth = \"5 m\", time = \"3 min\" }";
const SAFETY_STOP_KEYS: &[&str] = &["depth", "time"];
const MODEL_KEYS: &[&str] = &["gradient_factors", "first_compartment", "gas_law"];
const GAS_KEYS: &[&str] = &["bottom", "decompression", "switch_time"];
const RESERVE_KEYS: &[&str] = &["stress", "sort_out", "floor", "turn", "hang"];
const HANG_KEYS: &[&str] = &["depth", "time"];
const SURFACE_KEYS: &[&str] = &["overdue_after", "emergency"];

const FACTORS_ACCEPTED: &str =
    "two per cents from 5 to 100, the low one first, as [40, 85]; low at most high";

/// The whole plan; `None` only where a problem has been noted.
pub(super) fn plan(
    reader: &mut Reader,
    root: &Spanned<DeTable<'_>>,
    overrides: &Overrides,
) -> Option<PlanBuilder> {
    let root = reader.root(root, ROOT_KEYS);
    let title = reader.label(&root, "title", LONGEST_TITLE);
    let systems = [
        ("metric", UnitSystem::Metric),
        ("imperial", UnitSystem::Imperial),
    ];
    let units = reader
        .word(&root, "units", &systems)
        .map_or(UnitSystem::Metric, |given| given.value);
    let splash = splash(reader, &root, overrides);
    refuse_earlier_dives(reader, &root);

    let standard = DiveRules::standard(units);
    let site = site(reader, &root, overrides);
    let profile_table = reader.section(&root, "profile", profile::PROFILE_KEYS);
    let profile = profile::profile(reader, &root, profile_table.as_ref(), &standard, overrides);
    let staged = profile_table
        .as_ref()
        .and_then(|table| reader.flag(table, "staged"))
        .is_some_and(|given| given.value);
    let swim = profile_table.and_then(|table| profile::swim(reader, &table, site.current));
    let ascent = ascent(reader, &root, standard.ascent);
    let (factors, compartments, gas_law) = model(reader, &root);
    let (bottom_gas, decompression, switch_time) = gas(reader, &root);
    let reserve = ReserveRules {
        swim,
        ..reserve(reader, &root, units)
    };
    let surface = surface(reader, &root);
    let divers = team::divers(reader, &root, overrides, decompression.as_deref());

    let (levels, descent_rate) = profile?;
    let mut ascent = ascent?;
    if let Some(text) = &overrides.ascent_rate {
        let given = on_the_day("rate", text, "--ascent-rate");
        let rate = reader.read_quantity("[ascent]", &given, &ASCENT_RATE);
        ascent.rate = rate.map_or(ascent.rate, |rate| Speed::from_m_min(rate.value));
    }
    ascent.switch_time = switch_time.unwrap_or(ascent.switch_time);
    profile::check_travel(reader, &levels, descent_rate, ascent.rate);
    let mut plan = PlanBuilder::new(units)
        .site(site)
        .rules(DiveRules {
            environment: site.environment(),
            compartments,
            factors,
            descent_rate,
            ascent,
            bottom_gas,
            decompression: decompression.unwrap_or_default(),
        })
        .gas_law(gas_law)
        .reserve(reserve)
        .surface(surface);
    if let Some(title) = title {
        plan = plan.title(title.value);
    }
    if let Some(splash) = splash {
        plan = plan.splash(splash);
    }
    if staged {
        plan = plan.staged();
    }
    for Level { depth, time } in levels.into_iter().map(|level| level.value) {
        plan = plan.level(depth, time);
    }
    for diver in divers {
        plan = plan.diver(diver);
    }
    Some(plan)
}

fn splash(reader: &mut Reader, root: &Table<'_>, overrides: &Overrides) -> Option<TimeOfDay> {
    const ACCEPTED: &str = "a time of day from \"00:00\" to \"23:59\", in quotes, with two digits of \
                            minutes, as \"9:40\"";
    const ON_THE_DAY: &str =
        "a time of day from 00:00 to 23:59, with two digits of minutes, as 9:40";
    let own = reader.text(root, "splash", ACCEPTED);
    let own = own.and_then(|given| time_of_day(reader, &given, ACCEPTED));
    match &overrides.splash {
        Some(text) => {
            let given = on_the_day("splash", text, "--splash");
            time_of_day(reader, &given, ON_THE_DAY)
        }
        None => own,
    }
}

/// A value from the command line in place of a key's.
pub(super) fn on_the_day<'t>(
    key: &'static str,
    text: &'t str,
    option: &'static str,
) -> Given<&'t str> {
    Given {
        value: text,
        at: Place::Override(option),
        key,
    }
}

fn time_of_day(reader: &mut Reader, given: &Given<&str>, accepted: &str) -> Option<TimeOfDay> {
    let time = given.value.parse().ok();
    if time.is_none() {
        let message = format!("`splash` is \"{}\"", given.value);
        reader.refuse("", given, message, accepted);
    }
    time
}

fn refuse_earlier_dives(reader: &mut Reader, root: &Table<'_>) {
    if root.has("before") {
        reader.refuse_at(
            root.place_of("before"),
            "[[before]]",
            None,
            "earlier dives of the day cannot be reckoned with yet, and a plan that ignored them \
             would promise too much",
            "the first dive of the day, without [[before]]",
            None,
        );
    }
}

fn site(reader: &mut Reader, root: &Table<'_>, overrides: &Overrides) -> Site {
    let mut site = Site::default();
    if let Some(table) = reader.section(root, "site", SITE_KEYS) {
        site.water = water(reader, &table).unwrap_or_default();
        let altitude = reader.quantity(&table, "altitude", &ALTITUDE);
        let pressure = reader.quantity(&table, "surface_pressure", &AIR_PRESSURE);
        if table.has("altitude") && table.has("surface_pressure") {
            reader.refuse_at(
                table.place_of("surface_pressure"),
                &table.name,
                Some("surface_pressure"),
                "both `altitude` and `surface_pressure` are given",
                "one of the two",
                None,
            );
        }
        if let Some(altitude) = altitude {
            site.altitude = Some(Altitude::from_m(altitude.value));
        }
        site.surface_pressure = pressure.map(|given| Pressure::from_bar(given.value));
        if let Some(temperature) = reader.quantity(&table, "temperature", &WATER_TEMPERATURE) {
            site.temperature = Temperature::from_kelvin(temperature.value);
        }
        let current = reader.quantity(&table, "current", &CURRENT);
        site.current = current.map(|given| Speed::from_m_min(given.value));
    }
    if let Some(text) = &overrides.water {
        let given = on_the_day("water", text, "--water");
        let water = water_of(reader, "[site]", &given, water_accepted());
        site.water = water.unwrap_or_default();
    }
    if let Some(text) = &overrides.altitude {
        let given = on_the_day("altitude", text, "--altitude");
        if let Some(altitude) = reader.read_quantity("[site]", &given, &ALTITUDE) {
            site.altitude = Some(Altitude::from_m(altitude.value));
            site.surface_pressure = None;
        }
    }
    site
}

fn water_accepted() -> String {
    format!(
        "\"sea\", \"fresh\", \"en13319\" or a density, {}",
        DENSITY.describe()
    )
}

fn water(reader: &mut Reader, table: &Table<'_>) -> Option<Water> {
    let accepted = water_accepted();
    let given = reader.text(table, "water", &accepted)?;
    water_of(reader, &table.name, &given, accepted)
}

fn water_of(
    reader: &mut Reader,
    table: &str,
    given: &Given<&str>,
    accepted: String,
) -> Option<Water> {
    match given.value.trim() {
        text if text.starts_with(|c: char| c.is_ascii_digit()) => {
            let density = reader.read_quantity(table, given, &DENSITY)?;
            Some(Water::Density {
                kg_per_m3: density.value,
            })
        }
        text => {
            let named = Water::named(text);
            if named.is_some() {
                return named;
            }
            let meant = crate::quantity::nearest(text, Water::names());
            reader.refuse_at(
                given.at.clone(),
                table,
                Some("water"),
                format!("`water` is \"{}\"", text),
                accepted,
                meant.map(str::to_owned),
            );
            None
        }
    }
}

/// The way up: what the file says in place of the standard.
fn ascent(reader: &mut Reader, root: &Table<'_>, standard: AscentRules) -> Option<AscentRules> {
    let mut rules = standard;
    let Some(table) = reader.section(root, "ascent", ASCENT_KEYS) else {
        return (!root.has("ascent")).then_some(rules);
    };
    if let Some(rate) = reader.quantity(&table, "rate", &ASCENT_RATE) {
        rules.rate = Speed::from_m_min(rate.value);
    }
    let spacings = [StopSpacing::ThreeMetres, StopSpacing::TenFeet];
    let spacing = reader.quantity_text(&table, "stop_spacing", &DEPTH);
    if let Some(text) = spacing
        && let Some(spacing) = reader.read_quantity(&table.name, &text, &DEPTH)
    {
        match spacings
            .iter()
            .find(|known| known.below(1).is_at(Depth::from_m(spacing.value)))
        {
            Some(known) => rules.spacing = *known,
            None => reader.refuse(
                &table.name,
                &spacing,
                format!(
                    "`stop_spacing` is {}; stops are 3 m or 10 ft apart",
                    text.value.trim()
                ),
                "\"3 m\" or \"10 ft\"",
            ),
        }
    }
    if let Some(text) = reader.quantity_text(&table, "last_stop", &DEPTH)
        && let Some(last) = reader.read_quantity(&table.name, &text, &DEPTH)
    {
        let depth = Depth::from_m(last.value);
        if depth.is_at(rules.spacing.below(1)) {
            rules.last_stop = LastStop::OneSpacing;
        } else if depth.is_at(rules.spacing.below(2)) {
            rules.last_stop = LastStop::TwoSpacings;
        } else {
            let accepted = match rules.spacing {
                StopSpacing::ThreeMetres => "\"3 m\" or \"6 m\" with stops 3 m apart",
                StopSpacing::TenFeet => "\"10 ft\" or \"20 ft\" with stops 10 ft apart",
            };
            let message = format!(
                "`last_stop` is {}; the last stop is one or two stop spacings deep",
                text.value.trim()
            );
            reader.refuse(&table.name, &last, message, accepted);
        }
    }
    if table.has("safety_stop") {
        rules.safety_stop = safety_stop(reader, &table, rules.safety_stop);
    }
    Some(rules)
}

fn safety_stop(
    reader: &mut Reader,
    ascent: &Table<'_>,
    default: Option<SafetyStop>,
) -> Option<SafetyStop> {
    let value = ascent.value("safety_stop")?;
    if value.get_ref().as_bool() == Some(false) {
        return None;
    }
    if !value.get_ref().is_table() {
        reader.refuse_at(
            ascent.place_of("safety_stop"),
            &ascent.name,
            Some("safety_stop"),
            format!("`safety_stop` is {}", describe(value.get_ref())),
            format!("{SAFETY_STOP_EXAMPLE}, or false for none, without quotes"),
            None,
        );
        return None;
    }
    let keys = SAFETY_STOP_KEYS;
    let table = reader.inner_table(ascent, "safety_stop", keys, SAFETY_STOP_EXAMPLE)?;
    let depth = reader.quantity(&table, "depth", &SAFETY_DEPTH);
    let time = reader.quantity(&table, "time", &SAFETY_TIME);
    let default = default?;
    Some(SafetyStop {
        depth: depth.map_or(default.depth, |given| Depth::from_m(given.value)),
        time: time.map_or(default.time, |given| Time::from_min(given.value)),
    })
}

fn model(reader: &mut Reader, root: &Table<'_>) -> (GradientFactors, CompartmentSet, GasLaw) {
    let mut factors = GradientFactors::default();
    let mut first = FirstCompartment::default();
    let mut law = GasLaw::default();
    if let Some(table) = reader.section(root, "model", MODEL_KEYS) {
        if let Some(pair) = reader.numbers::<2>(&table, "gradient_factors", FACTORS_ACCEPTED) {
            let [low, high] = pair.value;
            match GradientFactors::from_pct(low, high) {
                Ok(checked) => factors = checked,
                Err(error) => {
                    reader.refuse(&table.name, &pair, error.to_string(), FACTORS_ACCEPTED);
                }
            }
        }
        let compartments = [
            ("1b", FirstCompartment::FiveMinutes),
            ("1", FirstCompartment::FourMinutes),
        ];
        if let Some(chosen) = reader.word(&table, "first_compartment", &compartments) {
            first = chosen.value;
        }
        let laws = [("real", GasLaw::Real), ("ideal", GasLaw::Ideal)];
        if let Some(chosen) = reader.word(&table, "gas_law", &laws) {
            law = chosen.value;
        }
    }
    (factors, CompartmentSet::zh_l16c(first), law)
}

/// Bottom gas, decompression gases (`None` where one of them is no gas), time of a switch.
fn gas(reader: &mut Reader, root: &Table<'_>) -> (Mix, Option<Vec<Mix>>, Option<Time>) {
    let Some(table) = reader.section(root, "gas", GAS_KEYS) else {
        return (Mix::AIR, Some(Vec::new()), None);
    };
    let bottom = mix(reader, &table, "bottom").unwrap_or(Mix::AIR);
    let decompression = decompression(reader, &table);
    let time = reader.quantity(&table, "switch_time", &SWITCH_TIME);
    let time = time.map(|given| Time::from_min(given.value));
    (bottom, decompression, time)
}

fn decompression(reader: &mut Reader, table: &Table<'_>) -> Option<Vec<Mix>> {
    const ACCEPTED: &str = "a list of gases in quotes, as [\"EAN50\"]";
    let Some(value) = table.value("decompression") else {
        return Some(Vec::new());
    };
    let Some(items) = value.get_ref().as_array() else {
        let place = table.place_of("decompression");
        let message = format!(
            "`decompression` is {}, not a list",
            describe(value.get_ref())
        );
        let key = Some("decompression");
        reader.refuse_at(place, &table.name, key, message, ACCEPTED, None);
        return None;
    };
    let mut gases: Option<Vec<Mix>> = Some(Vec::new());
    for item in items.iter() {
        let given = Given {
            value: item.get_ref().as_str(),
            at: Place::Span(item.span()),
            key: "decompression",
        };
        let gas = match given.value {
            Some(name) => named_mix(reader, table, &given.clone().map(|_| name)),
            None => {
                let message = format!("`decompression` holds {}", describe(item.get_ref()));
                reader.refuse(&table.name, &given, message, ACCEPTED);
                None
            }
        };
        let known = gases.as_deref().unwrap_or_default();
        if let Some(gas) = gas
            && known.iter().any(|known| known.is_same_gas(gas))
        {
            let message = format!("`{gas}` is listed twice");
            reader.refuse(&table.name, &given, message, "each gas once");
        }
        gases = gases.zip(gas).map(|(mut gases, gas)| {
            gases.push(gas);
            gases
        });
    }
    gases
}

/// A gas by its name.
pub(super) fn mix(reader: &mut Reader, table: &Table<'_>, key: &'static str) -> Option<Mix> {
    let given = reader.text(table, key, Mix::ACCEPTED)?;
    named_mix(reader, table, &given)
}

fn named_mix(reader: &mut Reader, table: &Table<'_>, given: &Given<&str>) -> Option<Mix> {
    match given.value.parse::<Mix>() {
        Ok(mix) => Some(mix),
        Err(error) => {
            reader.refuse(&table.name, given, error.to_string(), Mix::ACCEPTED);
            None
        }
    }
}

fn reserve(reader: &mut Reader, root: &Table<'_>, units: UnitSystem) -> ReserveRules {
    let mut rules = ReserveRules::standard(units);
    let Some(table) = reader.section(root, "reserve", RESERVE_KEYS) else {
        return rules;
    };
    if let Some(stress) = reader.number(&table, "stress", &STRESS) {
        rules.stress = stress.value;
    }
    if let Some(time) = reader.quantity(&table, "sort_out", &SORT_OUT) {
        rules.sort_out = Time::from_min(time.value);
    }
    if let Some(floor) = reader.quantity(&table, "floor", &FLOOR) {
        rules.floor = GaugePressure::from_bar(floor.value);
    }
    let turns = [
        ("half", TurnRule::Half),
        ("third", TurnRule::Third),
        ("all", TurnRule::All),
    ];
    if let Some(turn) = reader.word(&table, "turn", &turns) {
        rules.turn = turn.value;
    }
    rules.hang = hang(reader, &table);
    rules
}

fn hang(reader: &mut Reader, reserve: &Table<'_>) -> Option<Hang> {
    const EXAMPLE: &str = "{ depth = \"5 m\", time = \"10 min\" }";
    let table = reader.inner_table(reserve, "hang", HANG_KEYS, EXAMPLE)?;
    let depth = required(reader, &table, "depth", &HANG_DEPTH, false);
    let time = required(reader, &table, "time", &HANG_TIME, false);
    Some(Hang {
        depth: Depth::from_m(depth?.value),
        time: Time::from_min(time?.value),
    })
}

fn surface(reader: &mut Reader, root: &Table<'_>) -> Surface {
    let mut surface = Surface::default();
    if let Some(table) = reader.section(root, "surface", SURFACE_KEYS) {
        if let Some(time) = reader.quantity(&table, "overdue_after", &OVERDUE_AFTER) {
            surface.overdue_after = Time::from_min(time.value);
        }
        let emergency = reader.label(&table, "emergency", LONGEST_EMERGENCY);
        surface.emergency = emergency.map(|given| given.value);
    }
    surface
}
