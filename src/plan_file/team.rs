//! `[[diver]]`: the team.

use super::buddies::{self, Link};
use super::cylinder;
use super::gas::Gases;
use super::keys::{team as keys, top};
use super::on_the_day::{Fills, Overrides};
use super::reader::{Given, Reader, Table};
use crate::plan::{Diver, Pony, Stage};
use crate::quantity::{ATM_BAR, BreathingRate, Depth, QuantityError};
use crate::rules::ranges::{BREATHING, PRESSURE_RATE};
use crate::site::{Cylinder, Mix};

/// The team as it was read.
pub(super) struct Team {
    /// The divers, but for those with problems.
    pub(super) divers: Vec<Diver>,
    /// All names that could be read.
    pub(super) names: Vec<String>,
    /// Whether those are the names of all.
    pub(super) are_all_named: bool,
}

/// The team; divers with problems are left out of it.
pub(super) fn read(
    reader: &mut Reader,
    root: &Table<'_>,
    overrides: &Overrides,
    gases: &Gases,
) -> Team {
    let tables = reader.tables(root, &top::DIVER_TABLES);
    let mut tables = tables.unwrap_or_default();
    reader.are_few(&mut tables, top::DIVER_TABLES.kind.1);
    let mut fills = Fills::new(overrides);
    let mut names: Vec<String> = Vec::new();
    let mut links = Vec::new();
    let mut team = Vec::new();
    for table in &tables {
        let name = name(reader, table, &mut names);
        let fill = name.as_deref().and_then(|name| fills.take(name));
        let buddy = reader.label(table, &keys::BUDDY);
        let chosen = buddy.as_ref().map(|given| given.value.clone());
        if let Some((name, buddy)) = name.clone().zip(buddy) {
            links.push(Link {
                table: table.name.clone(),
                name,
                buddy,
            });
        }
        if let Some(diver) = diver(reader, table, name, fill.as_ref(), gases) {
            team.push(Diver {
                buddy: chosen,
                ..diver
            });
        }
    }
    let are_all_named = names.len() == tables.len();
    fills.refuse_rest(reader, &names);
    buddies::check(reader, &links, &names, are_all_named);
    Team {
        divers: team,
        names,
        are_all_named,
    }
}

fn name(reader: &mut Reader, table: &Table<'_>, names: &mut Vec<String>) -> Option<String> {
    if !table.has(keys::NAME.name) {
        reader.missing(table, keys::NAME.name, "the diver's name, as \"Ines\"");
    }
    let name = reader.label(table, &keys::NAME)?;
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
    fill: Option<&Given<&str>>,
    gases: &Gases,
) -> Option<Diver> {
    let cylinder = cylinder::under(reader, table, &keys::CYLINDER, fill);
    if !table.has(keys::CYLINDER.name) {
        let accepted = format!("{{ … }} with {}", cylinder::ACCEPTED);
        reader.missing(table, keys::CYLINDER.name, accepted);
    }
    let breathing = breathing(reader, table, cylinder.as_ref());
    let gas = own_gas(reader, table, gases);
    let pony = pony(reader, table, gases);
    let stages = stages(reader, table, gases.decompression.as_deref());
    let depth_limit = reader.quantity(table, &keys::DEPTH_LIMIT);
    let gauge = reader.word(table, &keys::GAUGE);
    Some(Diver {
        name: name?,
        breathing: breathing?,
        cylinder: cylinder?,
        gas,
        pony,
        stages,
        depth_limit: depth_limit.map(|given| Depth::from_m(given.value)),
        gauge: gauge.map(|given| given.value),
        buddy: None,
    })
}

fn pony(reader: &mut Reader, table: &Table<'_>, gases: &Gases) -> Option<Pony> {
    let table = cylinder::of_a_gas(reader, table, &keys::PONY)?;
    let gas = own_gas(reader, &table, gases);
    let cylinder = cylinder::read(reader, &table, None)?;
    Some(Pony { cylinder, gas })
}

/// A gas beside the plan's: air or nitrox, and neither beside helium.
fn own_gas(reader: &mut Reader, table: &Table<'_>, gases: &Gases) -> Option<Mix> {
    let gas = reader.mix(table, &keys::OWN_GAS)?;
    let message = if gas.helium() > 0.0 {
        format!("`gas` is {gas}: helium in one cylinder beside others without it")
    } else if gases.have_helium() {
        format!("`gas` is {gas} beside a plan with helium")
    } else {
        return Some(gas);
    };
    let (place, key) = (table.place_of(keys::OWN_GAS.name), Some(keys::OWN_GAS.name));
    let accepted = "air or nitrox, as \"EAN32\", in a plan without helium";
    reader.refuse_at(place, &table.name, key, message, accepted, None);
    None
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
    if !table.has(keys::SAC.name) {
        reader.missing(table, keys::SAC.name, accepted);
        return None;
    }
    let given = reader.quantity_text(table, &keys::SAC)?;
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

/// Stage cylinders; each must hold a gas that the plan lists for the way up.
fn stages(reader: &mut Reader, table: &Table<'_>, decompression: Option<&[Mix]>) -> Vec<Stage> {
    let tables = reader.tables(table, &keys::STAGE);
    let mut tables = tables.unwrap_or_default();
    reader.are_few(&mut tables, keys::STAGE.kind.1);
    let mut stages = Vec::new();
    for stage in &tables {
        let gas = stage_gas(reader, stage, decompression);
        let cylinder = cylinder::read(reader, stage, None);
        if let Some((gas, cylinder)) = gas.zip(cylinder) {
            stages.push(Stage { gas, cylinder });
        }
    }
    stages
}

fn stage_gas(reader: &mut Reader, stage: &Table<'_>, decompression: Option<&[Mix]>) -> Option<Mix> {
    if !stage.has(keys::OWN_GAS.name) {
        reader.missing(stage, keys::OWN_GAS.name, Mix::ACCEPTED);
    }
    let gas = reader.mix(stage, &keys::OWN_GAS)?;
    if let Some(planned) = decompression
        && !planned.iter().any(|planned| planned.is_same_gas(gas))
    {
        let names: Vec<String> = planned.iter().map(|gas| format!("\"{gas}\"")).collect();
        let accepted = match names.as_slice() {
            [] => "none: [gas] lists no `decompression` gas".to_owned(),
            names => format!("what [gas] lists as `decompression`: {}", names.join(", ")),
        };
        let message = format!("a stage cylinder of {gas}, which the plan never breathes");
        let (place, key) = (stage.place_of(keys::OWN_GAS.name), Some(keys::OWN_GAS.name));
        reader.refuse_at(place, &stage.name, key, message, accepted, None);
    }
    Some(gas)
}
