//! `[gas]`: what is breathed on the bottom and on the way up.

use toml::Spanned;
use toml::de::DeValue;

use super::described::describe;
use super::keys::{gas as keys, top};
use super::problem::Place;
use super::reader::{Given, Reader, Table};
use crate::quantity::Time;
use crate::rules::ranges::SWITCHES;
use crate::rules::{AscentRules, DiveRules};
use crate::site::Mix;

const LIST_ACCEPTED: &str = "a list of gases in quotes, as [\"EAN50\"]";

pub(super) struct Gases {
    pub(super) bottom: Mix,
    /// `None` where one of them is no gas.
    pub(super) decompression: Option<Vec<Mix>>,
    switch_time: Option<Time>,
    /// Whether the file says what is breathed on the bottom.
    pub(super) is_said: bool,
}

impl Gases {
    /// Whether any of them has helium.
    pub(super) fn have_helium(&self) -> bool {
        let planned = self.decompression.iter().flatten();
        let mut all = std::iter::once(&self.bottom).chain(planned);
        all.any(|gas| gas.helium() > 0.0)
    }

    /// The way up with the pause that the plan makes for a switch.
    pub(super) fn pause_in(&self, ascent: AscentRules) -> AscentRules {
        AscentRules {
            switch_time: self.switch_time.unwrap_or(ascent.switch_time),
            ..ascent
        }
    }
}

pub(super) fn read(reader: &mut Reader, root: &Table<'_>, standard: &DiveRules) -> Gases {
    let Some(table) = reader.section(root, &top::GAS_TABLE) else {
        return Gases {
            bottom: standard.bottom_gas,
            decompression: Some(standard.decompression.clone()),
            switch_time: None,
            is_said: false,
        };
    };
    let bottom = reader
        .mix(&table, &keys::BOTTOM)
        .unwrap_or(standard.bottom_gas);
    let decompression = decompression(reader, &table);
    let time = reader.quantity(&table, &keys::PAUSE);
    Gases {
        bottom,
        decompression,
        switch_time: time.map(|given| Time::from_min(given.value)),
        is_said: table.has(keys::BOTTOM.name),
    }
}

fn decompression(reader: &mut Reader, table: &Table<'_>) -> Option<Vec<Mix>> {
    let Some(value) = table.value(keys::DECOMPRESSION.name) else {
        return Some(Vec::new());
    };
    let Some(items) = value.get_ref().as_array() else {
        let place = table.place_of(keys::DECOMPRESSION.name);
        let message = format!(
            "`decompression` is {}, not a list",
            describe(value.get_ref())
        );
        let key = Some(keys::DECOMPRESSION.name);
        reader.refuse_at(place, &table.name, key, message, LIST_ACCEPTED, None);
        return None;
    };
    if let (Err(many), Some(beyond)) = (SWITCHES.check(items.len()), items.get(SWITCHES.most)) {
        let (place, key) = (Place::Span(beyond.span()), Some(keys::DECOMPRESSION.name));
        let message = format!("{} {} are too many", many.count, many.what);
        reader.refuse_at(place, &table.name, key, message, SWITCHES.describe(), None);
    }
    let mut gases: Option<Vec<Mix>> = Some(Vec::new());
    for item in items.iter().take(SWITCHES.most) {
        let gas = listed(reader, table, item, gases.as_deref().unwrap_or_default());
        gases = gases.zip(gas).map(|(mut gases, gas)| {
            gases.push(gas);
            gases
        });
    }
    gases
}

/// A gas of the list; one that is listed already is refused.
fn listed(
    reader: &mut Reader,
    table: &Table<'_>,
    item: &Spanned<DeValue<'_>>,
    known: &[Mix],
) -> Option<Mix> {
    let given = Given {
        value: (),
        at: Place::Span(item.span()),
        key: keys::DECOMPRESSION.name,
    };
    let Some(name) = item.get_ref().as_str() else {
        let message = format!("`decompression` holds {}", describe(item.get_ref()));
        reader.refuse(&table.name, &given, message, LIST_ACCEPTED);
        return None;
    };
    let gas = reader.read_mix(&table.name, &given.clone().map(|()| name))?;
    if known.iter().any(|known| known.is_same_gas(gas)) {
        let message = format!("`{gas}` is listed twice");
        reader.refuse(&table.name, &given, message, "each gas once");
    }
    Some(gas)
}
