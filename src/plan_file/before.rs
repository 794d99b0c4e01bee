//! `[[before]]`: earlier dives of the day.

use toml::de::DeValue;

use super::described::describe;
use super::keys::{profile as keys, top};
use super::on_the_day::Overrides;
use super::problem::Place;
use super::profile::{Levels, check_times, levels};
use super::reader::{Given, Reader, Table};
use super::team::Team;
use crate::letters::composed;
use crate::plan::EarlierDive;
use crate::quantity::show::minutes_down;
use crate::quantity::{Speed, Time, nearest};

const LEVELS: &str = "[[before.level]]";

/// An earlier dive and where it stands in the file.
pub(super) struct Before {
    pub(super) dive: EarlierDive,
    pub(super) place: Place,
}

/// The earlier dives, oldest first; those with problems are left out.
pub(super) fn read(
    reader: &mut Reader,
    root: &Table<'_>,
    rates: (Speed, Speed),
    team: &Team,
) -> Vec<Before> {
    let tables = reader.tables(root, &top::BEFORE_TABLES);
    let mut tables = tables.unwrap_or_default();
    if !reader.are_few(&mut tables, top::BEFORE_TABLES.kind.1) {
        return Vec::new();
    }
    let dives = tables.iter().map(|table| {
        let dive = dive(reader, table, rates, team)?;
        let place = Place::Span(table.span.clone());
        Some(Before { dive, place })
    });
    dives.collect::<Vec<_>>().into_iter().flatten().collect()
}

/// The last earlier dive is over when it is: another splash than the plan's is another interval.
pub(super) fn wait_longer(reader: &mut Reader, before: &mut [Before], later: Time) {
    let Some(last) = before.last_mut() else {
        return;
    };
    let planned = last.dive.surface_interval;
    let interval = planned + later;
    if Time::from_min(0.0).is_over(interval) {
        let message = "they would be in before they are back from the earlier dive".to_owned();
        let accepted = format!(
            "at most {} min earlier than `splash` of the plan",
            minutes_down(planned)
        );
        let place = Place::Override("--splash");
        reader.refuse_at(place, "", None, message, accepted, None);
    }
    last.dive.surface_interval = interval;
}

fn dive(
    reader: &mut Reader,
    table: &Table<'_>,
    rates: (Speed, Speed),
    team: &Team,
) -> Option<EarlierDive> {
    let levels: Option<Levels> = levels(reader, table, LEVELS, &Overrides::default());
    if let Some(levels) = &levels {
        check_times(
            reader,
            levels,
            rates,
            (&table.name, &format!("{} level", table.name)),
        );
    }
    let gas = reader.mix(table, &keys::BEFORE_GAS);
    let interval = reader.required(table, &keys::INTERVAL);
    let divers = divers(reader, table, team);
    Some(EarlierDive {
        levels: levels?.into_iter().map(|level| level.value).collect(),
        gas,
        surface_interval: Time::from_min(interval?.value),
        divers,
    })
}

/// Who dived it; each must be in the team, or a slip of the pen would make somebody fresh.
fn divers(reader: &mut Reader, table: &Table<'_>, team: &Team) -> Option<Vec<String>> {
    let value = table.value(keys::WHO.name)?;
    let names = team.names.as_slice();
    let accepted = match names {
        [] => "no `divers` where the plan has no [[diver]]".to_owned(),
        names => format!("a list of names of the team: {}", names.join(", ")),
    };
    let items = value.get_ref().as_array().filter(|items| !items.is_empty());
    let Some(items) = items else {
        let what = match value.get_ref() {
            DeValue::Array(_) => "empty".to_owned(),
            other => describe(other),
        };
        let message = format!("`divers` is {what}");
        let place = table.place_of(keys::WHO.name);
        reader.refuse_at(
            place,
            &table.name,
            Some(keys::WHO.name),
            message,
            accepted,
            None,
        );
        return None;
    };
    let mut divers: Vec<String> = Vec::new();
    for item in items.iter() {
        let given = Given {
            value: (),
            at: Place::Span(item.span()),
            key: keys::WHO.name,
        };
        let Some(name) = item.get_ref().as_str().map(str::trim).map(composed) else {
            let message = format!("`divers` holds {}", describe(item.get_ref()));
            reader.refuse(&table.name, &given, message, &accepted);
            continue;
        };
        if divers.contains(&name) {
            let message = format!("`divers` has {name} twice");
            reader.refuse(&table.name, &given, message, "each name once");
        } else if names.contains(&name) {
            divers.push(name);
        } else if team.are_all_named {
            // Where a name could not be read, that has been said.
            let meant = nearest(&name, names.iter().map(String::as_str)).map(str::to_owned);
            let message = format!("`divers`: nobody in the team is called \"{name}\"");
            let key = Some(keys::WHO.name);
            reader.refuse_at(given.at, &table.name, key, message, &accepted, meant);
        }
    }
    Some(divers)
}
