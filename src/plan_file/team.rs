//! The divers of a plan and their cylinders.

use super::Overrides;
use super::problem::Place;
use super::reader::{Given, Reader, Table};
use super::sections::{mix, on_the_day};
use crate::plan::ranges::{
    Accepted, BREATHING, CAPACITY, DEPTH, FILL, OVERFILL, PRESSURE_RATE, WATER_VOLUME, WORKING,
};
use crate::plan::{Diver, LONGEST_NAME, Stage};
use crate::quantity::show::short_up;
use crate::quantity::{
    ATM_BAR, BreathingRate, Depth, FreeVolume, GaugePressure, PSI_BAR, UnitSystem, WaterVolume,
};
use crate::quantity::{QuantityError, nearest};
use crate::site::Mix;
use crate::site::{Cylinder, water_volume_of_rating};

const DIVER_KEYS: &[&str] = &[
    "name",
    "sac",
    "cylinder",
    "pony",
    "depth_limit",
    "stage",
    "gauge",
    "buddy",
];
const CYLINDER_KEYS: &[&str] = &["size", "rated", "at", "fill"];
const STAGE_KEYS: &[&str] = &["gas", "size", "rated", "at", "fill"];
const CYLINDER_EXAMPLE: &str = "{ size = \"12 L\", fill = \"200 bar\" }";
const CYLINDER_ACCEPTED: &str = "either size = \"12 L\", or rated = \"80 cuft\" with at = \
                                 \"3000 psi\"; and fill = \"200 bar\"; with size too, at may say the \
                                 working pressure";

/// The team; divers with problems are left out of it.
pub(super) fn divers(
    reader: &mut Reader,
    root: &Table<'_>,
    overrides: &Overrides,
    decompression: Option<&[Mix]>,
) -> Vec<Diver> {
    let tables = reader.tables(root, "diver", DIVER_KEYS).unwrap_or_default();
    let mut fills = Fills::new(overrides);
    let mut names: Vec<String> = Vec::new();
    let mut team = Vec::new();
    let mut buddies = Vec::new();
    for table in &tables {
        let name = name(reader, table, &mut names);
        let fill = name.as_deref().and_then(|name| fills.take(name));
        let buddy = reader.label(table, "buddy", LONGEST_NAME);
        let chosen = buddy.as_ref().map(|given| given.value.clone());
        if let Some((name, buddy)) = name.clone().zip(buddy) {
            buddies.push(Link {
                table: table.name.clone(),
                name,
                buddy,
            });
        }
        if let Some(diver) = diver(reader, table, name, fill, decompression) {
            team.push(Diver {
                buddy: chosen,
                ..diver
            });
        }
    }
    fills.refuse_rest(reader, &names);
    check_buddies(reader, &buddies, &names);
    team
}

/// A diver and the buddy named for that diver.
struct Link {
    table: String,
    name: String,
    buddy: Given<String>,
}

/// Buddies exist, and name each other or make a group of three.
fn check_buddies(reader: &mut Reader, links: &[Link], names: &[String]) {
    const ACCEPTED: &str = "two divers who name each other, or three in a group";
    for link in links {
        let buddy = &link.buddy.value;
        if !names.contains(buddy) {
            let message = format!("nobody is called \"{}\"", buddy);
            let meant = nearest(buddy, names.iter().map(String::as_str)).map(str::to_owned);
            let known = names.join(", ");
            let (place, key) = (link.buddy.at.clone(), Some("buddy"));
            reader.refuse_at(place, &link.table, key, message, known, meant);
            continue;
        }
        if *buddy == link.name {
            let message = format!("{buddy} cannot be their own buddy");
            reader.refuse(&link.table, &link.buddy, message, ACCEPTED);
            continue;
        }
        let group = buddy_group(links, &link.name);
        if group
            .iter()
            .any(|member| !names.iter().any(|name| name == member))
        {
            // Somebody in the group named nobody there is, which has been said.
            continue;
        }
        let everyone_names_one = group
            .iter()
            .all(|member| links.iter().any(|link| link.name == *member));
        if !everyone_names_one || group.len() > 3 {
            let message = if group.len() > 3 {
                format!(
                    "{} divers are linked as buddies: {}",
                    group.len(),
                    group.join(", ")
                )
            } else {
                format!(
                    "{} names {buddy} as buddy, but not the other way round",
                    link.name
                )
            };
            reader.refuse(&link.table, &link.buddy, message, ACCEPTED);
        }
    }
}

/// Everybody who is linked to a diver by the buddies named, the diver included.
fn buddy_group<'l>(links: &'l [Link], name: &'l str) -> Vec<&'l str> {
    let mut group = vec![name];
    let mut next = 0;
    while let Some(&member) = group.get(next) {
        for link in links {
            let (one, other) = (link.name.as_str(), link.buddy.value.as_str());
            for linked in [(one, other), (other, one)] {
                if linked.0 == member && !group.contains(&linked.1) {
                    group.push(linked.1);
                }
            }
        }
        next += 1;
    }
    group
}

/// The `--fill` overrides and which of them have found their diver.
struct Fills<'o> {
    given: Vec<(&'o str, &'o str, bool)>,
}

impl<'o> Fills<'o> {
    const OPTION: &'static str = "--fill";

    fn new(overrides: &'o Overrides) -> Self {
        let given = overrides.fills.iter();
        Self {
            given: given
                .map(|(name, fill)| (name.trim(), fill.as_str(), false))
                .collect(),
        }
    }

    fn take(&mut self, name: &str) -> Option<&'o str> {
        // A second fill for the same diver stays behind and is refused.
        let found = self
            .given
            .iter_mut()
            .find(|(wanted, _, _)| *wanted == name)?;
        found.2 = true;
        Some(found.1)
    }

    fn refuse_rest(&self, reader: &mut Reader, names: &[String]) {
        for (name, _, used) in &self.given {
            if *used {
                continue;
            }
            let message = if names.is_empty() {
                format!("nobody is called \"{name}\": the plan has no diver")
            } else if names.iter().any(|known| known == name) {
                format!("two fills are given for {name}")
            } else {
                format!("nobody is called \"{name}\"")
            };
            let known = match names {
                [] => "--fill for a plan with a [[diver]]".to_owned(),
                names => format!("once each: {}", names.join(", ")),
            };
            let others = names
                .iter()
                .map(String::as_str)
                .filter(|known| known != name);
            let meant = nearest(name, others);
            let place = Place::Override(Self::OPTION);
            let meant = meant.map(str::to_owned);
            reader.refuse_at(place, "[[diver]]", None, message, known, meant);
        }
    }
}

fn name(reader: &mut Reader, table: &Table<'_>, names: &mut Vec<String>) -> Option<String> {
    if !table.has("name") {
        reader.missing(table, "name", "the diver's name, as \"Ines\"");
    }
    let name = reader.label(table, "name", LONGEST_NAME)?;
    if names.contains(&name.value) {
        let message = format!("a diver called {} is already in the team", name.value);
        reader.refuse(&table.name, &name, message, "each name once");
    }
    names.push(name.value.clone());
    Some(name.value)
}

fn diver(
    reader: &mut Reader,
    table: &Table<'_>,
    name: Option<String>,
    fill: Option<&str>,
    decompression: Option<&[Mix]>,
) -> Option<Diver> {
    let cylinder = cylinder(reader, table, "cylinder", fill);
    if !table.has("cylinder") {
        reader.missing(
            table,
            "cylinder",
            format!("{{ … }} with {CYLINDER_ACCEPTED}"),
        );
    }
    let breathing = breathing(reader, table, cylinder.as_ref());
    let pony = pony(reader, table);
    let stages = stages(reader, table, decompression);
    let depth_limit = reader.quantity(table, "depth_limit", &DEPTH);
    let gauges = [("bar", UnitSystem::Metric), ("psi", UnitSystem::Imperial)];
    let gauge = reader.word(table, "gauge", &gauges);
    Some(Diver {
        name: name?,
        breathing: breathing?,
        cylinder: cylinder?,
        pony,
        stages,
        depth_limit: depth_limit.map(|given| Depth::from_m(given.value)),
        gauge: gauge.map(|given| given.value),
        buddy: None,
    })
}

/// A volume a minute, or a pressure a minute of the diver's own cylinder: by the ideal gas law,
/// as the trade converts it.
///
/// ```text
/// V̇ = rate · V_w / (1 atm)
/// ```
fn breathing(
    reader: &mut Reader,
    table: &Table<'_>,
    cylinder: Option<&Cylinder>,
) -> Option<BreathingRate> {
    let accepted = format!(
        "{}, or a pressure rate of the own cylinder, as \"{}\"",
        BREATHING.describe(),
        PRESSURE_RATE.example
    );
    if !table.has("sac") {
        reader.missing(table, "sac", accepted);
        return None;
    }
    let given = reader.quantity_text(table, "sac", &BREATHING)?;
    if let Err(QuantityError::OtherKind { measures, .. }) = BREATHING.kind.parse(given.value)
        && measures == PRESSURE_RATE.kind
    {
        let rate = reader.read_quantity(&table.name, &given, &PRESSURE_RATE)?;
        let litres = rate.value * cylinder?.water.as_l() / ATM_BAR;
        if !BREATHING.contains(litres) {
            let message = format!(
                "`sac` of {} comes to {litres:.1} L/min from this diver's cylinder",
                given.value.trim()
            );
            reader.refuse(&table.name, &given, message, BREATHING.describe());
            return None;
        }
        return Some(BreathingRate::from_l_min(litres));
    }
    let rate = reader.read_quantity(&table.name, &given, &BREATHING)?;
    Some(BreathingRate::from_l_min(rate.value))
}

fn pony(reader: &mut Reader, table: &Table<'_>) -> Option<Cylinder> {
    cylinder(reader, table, "pony", None)
}

/// Stage cylinders; each must hold a gas that the plan lists for the way up.
fn stages(reader: &mut Reader, table: &Table<'_>, decompression: Option<&[Mix]>) -> Vec<Stage> {
    let tables = reader
        .tables(table, "stage", STAGE_KEYS)
        .unwrap_or_default();
    let mut stages = Vec::new();
    for stage in &tables {
        if !stage.has("gas") {
            reader.missing(stage, "gas", Mix::ACCEPTED);
        }
        let gas = mix(reader, stage, "gas");
        if let Some((gas, planned)) = gas.zip(decompression)
            && !planned.iter().any(|planned| planned.is_same_gas(gas))
        {
            let names: Vec<String> = planned.iter().map(|gas| format!("\"{gas}\"")).collect();
            let accepted = match names.as_slice() {
                [] => "none: [gas] lists no `decompression` gas".to_owned(),
                names => format!("what [gas] lists as `decompression`: {}", names.join(", ")),
            };
            let message = format!("a stage cylinder of {gas}, which the plan never breathes");
            let (place, key) = (stage.place_of("gas"), Some("gas"));
            reader.refuse_at(place, &stage.name, key, message, accepted, None);
        }
        let cylinder = read_cylinder(reader, stage, None);
        if let Some((gas, cylinder)) = gas.zip(cylinder) {
            stages.push(Stage { gas, cylinder });
        }
    }
    stages
}

fn cylinder(
    reader: &mut Reader,
    table: &Table<'_>,
    key: &'static str,
    fill: Option<&str>,
) -> Option<Cylinder> {
    let table = reader.inner_table(table, key, CYLINDER_KEYS, CYLINDER_EXAMPLE)?;
    read_cylinder(reader, &table, fill)
}

/// A cylinder by its inner volume or by its rating, and its fill.
fn read_cylinder(
    reader: &mut Reader,
    table: &Table<'_>,
    override_fill: Option<&str>,
) -> Option<Cylinder> {
    let (water, working) = match (table.has("size"), table.has("rated"), table.has("at")) {
        (true, false, has_at) => {
            let size = volume(reader, table, "size", &WATER_VOLUME);
            let working = has_at.then(|| working_pressure(reader, table)).flatten();
            (size.map(|given| WaterVolume::from_l(given.value)), working)
        }
        (false, true, true) => rated(reader, table),
        (has_size, has_rated, has_at) => {
            let what = match (has_size, has_rated, has_at) {
                (false, false, false) => "the cylinder has neither `size` nor `rated`",
                (true, _, _) => "the cylinder has both `size` and `rated`",
                (false, true, _) => "`rated` is given without `at`",
                (false, false, true) => "`at` is given without `size` or `rated`",
            };
            let keys = ["size", "rated", "at"];
            if !keys.iter().any(|key| reader.is_misspelled(table, key)) {
                let place = Place::Span(table.span.clone());
                reader.refuse_at(place, &table.name, None, what, CYLINDER_ACCEPTED, None);
            }
            (None, None)
        }
    };
    if !table.has("fill") && override_fill.is_none() {
        reader.missing(table, "fill", FILL.describe());
    }
    let own = reader.quantity(table, "fill", &FILL);
    check_fill(reader, table, own.as_ref(), working);
    let fill = match override_fill {
        Some(text) => {
            let given = on_the_day("fill", text, Fills::OPTION);
            let given = reader.read_quantity(&table.name, &given, &FILL);
            check_fill(reader, table, given.as_ref(), working);
            given
        }
        None => own,
    };
    Some(Cylinder {
        water: water?,
        fill: GaugePressure::from_bar(fill?.value),
        working,
    })
}

fn working_pressure(reader: &mut Reader, table: &Table<'_>) -> Option<GaugePressure> {
    let at = reader.quantity(table, "at", &WORKING);
    at.map(|given| GaugePressure::from_bar(given.value))
}

/// An inner volume or a capacity: of one cylinder, or of two equal ones with an open manifold,
/// written `"2x10 L"`.
fn volume(
    reader: &mut Reader,
    table: &Table<'_>,
    key: &'static str,
    accepted: &Accepted,
) -> Option<Given<f64>> {
    let given = reader.quantity_text(table, key, accepted)?;
    let twins = format!(
        "{}; twins, two equal cylinders with an open manifold, as \"2x{}\"",
        accepted.describe(),
        accepted.example
    );
    match Count::of(given.value) {
        Count::One => {
            let words = if Count::may_be_meant(given.value) {
                twins
            } else {
                accepted.describe()
            };
            reader.read_quantity_saying(&table.name, &given, accepted, &words)
        }
        Count::Two { each } => {
            let one = given.clone().map(|_| each);
            let one = reader.read_quantity_saying(&table.name, &one, accepted, &twins)?;
            let both = one.map(|value| 2.0 * value);
            if !accepted.contains(both.value) {
                let message = format!("`{key}` is {}, out of range", given.value.trim());
                let words = format!("{} for both together", range_of(accepted));
                reader.refuse(&table.name, &both, message, words);
                return None;
            }
            Some(both)
        }
        Count::Other => {
            let message = format!("`{key}` is \"{}\"", given.value.trim());
            reader.refuse(&table.name, &given, message, twins);
            None
        }
    }
}

/// How many cylinders a text speaks of.
#[derive(Debug, PartialEq, Eq)]
enum Count<'t> {
    One,
    Two {
        /// The text of one of them.
        each: &'t str,
    },
    /// A number of cylinders that no manifold joins, or none behind it.
    Other,
}

impl<'t> Count<'t> {
    const TIMES: [char; 3] = ['x', 'X', '×'];

    fn of(text: &'t str) -> Self {
        let trimmed = text.trim();
        let count = trimmed.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
        let (count, rest) = trimmed.split_at(trimmed.len() - count.len());
        let each = rest.trim_start().strip_prefix(Self::TIMES);
        match (count, each.map(str::trim)) {
            ("", _) | (_, None) => Self::One,
            (_, Some("")) => Self::Other,
            ("2", Some(each)) => Self::Two { each },
            (_, Some(_)) => Self::Other,
        }
    }

    /// Whether a text that is no count may have been meant as one: `"10 L x 2"`, `"twin 10 L"`.
    fn may_be_meant(text: &str) -> bool {
        let lower = text.to_lowercase();
        let words = ["twin", "double", "two", "*"];
        lower.contains(Self::TIMES) || words.iter().any(|word| lower.contains(word))
    }
}

fn rated(reader: &mut Reader, table: &Table<'_>) -> (Option<WaterVolume>, Option<GaugePressure>) {
    let capacity = volume(reader, table, "rated", &CAPACITY);
    let working = working_pressure(reader, table);
    let Some((capacity, pressure)) = capacity.zip(working) else {
        return (None, working);
    };
    let water = water_volume_of_rating(FreeVolume::from_l(capacity.value), pressure);
    if !WATER_VOLUME.contains(water.as_l()) {
        let message = format!(
            "this rating means an inner volume of {:.2} L, which no diver's cylinder has",
            water.as_l()
        );
        let accepted = format!("an inner volume of {}", range_of(&WATER_VOLUME));
        reader.refuse(&table.name, &capacity, message, accepted);
        return (None, working);
    }
    (Some(water), working)
}

fn range_of(accepted: &Accepted) -> String {
    accepted.kind.range(accepted.least, accepted.greatest)
}

/// A fill above what the cylinder is rated for by more than 10 % is refused.
fn check_fill(
    reader: &mut Reader,
    table: &Table<'_>,
    fill: Option<&Given<f64>>,
    working: Option<GaugePressure>,
) {
    let Some((fill, working)) = fill.zip(working) else {
        return;
    };
    let limit = working * (1.0 + OVERFILL);
    let most = limit.as_bar();
    if GaugePressure::from_bar(fill.value).is_over(limit) {
        let message = format!(
            "a fill of {:.0} bar ({:.0} psi) is {} % above the working pressure",
            fill.value,
            fill.value / PSI_BAR,
            short_up((fill.value / working.as_bar() - 1.0) * 100.0)
        );
        let accepted = format!(
            "at most 10 % above it: {:.0} bar ({:.0} psi)",
            most.floor(),
            (most / PSI_BAR).floor()
        );
        reader.refuse(&table.name, fill, message, accepted);
    }
}
