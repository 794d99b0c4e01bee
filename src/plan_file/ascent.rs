//! `[ascent]`: the way up.

use super::described::describe;
use super::keys::{ascent as keys, top};
use super::on_the_day::Overrides;
use super::reader::{Reader, Table};
use crate::quantity::{Depth, Speed, Time};
use crate::rules::ranges::{ASCENT_RATE, DEPTH};
use crate::rules::{AscentRules, LastStop, SafetyStop, StopSpacing};

const SAFETY_STOP_EXAMPLE: &str = "{ depth = \"5 m\", time = \"3 min\" }";

/// What the file says in place of the standard; `None` where `ascent` is no table.
pub(super) fn read(
    reader: &mut Reader,
    root: &Table<'_>,
    standard: AscentRules,
) -> Option<AscentRules> {
    let mut rules = standard;
    let Some(table) = reader.section(root, &top::ASCENT_TABLE) else {
        return (!root.has(top::ASCENT_TABLE.name)).then_some(rules);
    };
    if let Some(rate) = reader.quantity(&table, &keys::RATE_UP) {
        rules.rate = Speed::from_m_min(rate.value);
    }
    rules.spacing = spacing(reader, &table).unwrap_or(rules.spacing);
    rules.last_stop = last_stop(reader, &table, rules.spacing).unwrap_or(rules.last_stop);
    if table.has(keys::SAFETY.name) {
        rules.safety_stop = safety_stop(reader, &table, rules.safety_stop);
    }
    Some(rules)
}

/// The rules with the day's speed.
pub(super) fn on_the_day(
    reader: &mut Reader,
    overrides: &Overrides,
    rules: AscentRules,
) -> AscentRules {
    let given = overrides.ascent_rate();
    let rate = given.and_then(|given| reader.read_quantity("[ascent]", &given, &ASCENT_RATE));
    AscentRules {
        rate: rate.map_or(rules.rate, |rate| Speed::from_m_min(rate.value)),
        ..rules
    }
}

fn spacing(reader: &mut Reader, table: &Table<'_>) -> Option<StopSpacing> {
    let text = reader.quantity_text(table, &keys::SPACING)?;
    let given = reader.read_quantity(&table.name, &text, &DEPTH)?;
    let asked = Depth::from_m(given.value);
    let mut known = keys::SPACINGS.into_iter();
    let spacing = known.find(|known| known.below(1).is_at(asked));
    if spacing.is_none() {
        let message = format!(
            "`stop_spacing` is {}; stops are 3 m or 10 ft apart",
            text.value.trim()
        );
        reader.refuse(&table.name, &given, message, "\"3 m\" or \"10 ft\"");
    }
    spacing
}

fn last_stop(reader: &mut Reader, table: &Table<'_>, spacing: StopSpacing) -> Option<LastStop> {
    let text = reader.quantity_text(table, &keys::LAST_STOP)?;
    let given = reader.read_quantity(&table.name, &text, &DEPTH)?;
    let asked = Depth::from_m(given.value);
    let mut known = keys::LAST_STOPS.into_iter();
    let known = known.find(|(spacings, _)| asked.is_at(spacing.below(*spacings)));
    if let Some((_, last_stop)) = known {
        return Some(last_stop);
    }
    let accepted = match spacing {
        StopSpacing::ThreeMetres => "\"3 m\" or \"6 m\" with stops 3 m apart",
        StopSpacing::TenFeet => "\"10 ft\" or \"20 ft\" with stops 10 ft apart",
    };
    let message = format!(
        "`last_stop` is {}; the last stop is one or two stop spacings deep",
        text.value.trim()
    );
    reader.refuse(&table.name, &given, message, accepted);
    None
}

/// A table, or false for none.
fn safety_stop(
    reader: &mut Reader,
    ascent: &Table<'_>,
    standard: Option<SafetyStop>,
) -> Option<SafetyStop> {
    let value = ascent.value(keys::SAFETY.name)?;
    if value.get_ref().as_bool() == Some(false) {
        return None;
    }
    if !value.get_ref().is_table() {
        reader.refuse_at(
            ascent.place_of(keys::SAFETY.name),
            &ascent.name,
            Some(keys::SAFETY.name),
            format!("`safety_stop` is {}", describe(value.get_ref())),
            format!("{SAFETY_STOP_EXAMPLE}, or false for none, without quotes"),
            None,
        );
        return None;
    }
    let table = reader.inner_table(ascent, &keys::SAFETY, SAFETY_STOP_EXAMPLE)?;
    let depth = reader.quantity(&table, &keys::SAFE_DEPTH);
    let time = reader.quantity(&table, &keys::SAFE_TIME);
    let standard = standard?;
    Some(SafetyStop {
        depth: depth.map_or(standard.depth, |given| Depth::from_m(given.value)),
        time: time.map_or(standard.time, |given| Time::from_min(given.value)),
    })
}
