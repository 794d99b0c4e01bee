//! `[reserve]`: what must be kept back.

use super::keys::{reserve as keys, top};
use super::reader::{Reader, Table};
use crate::plan::{Hang, ReserveRules};
use crate::quantity::{Depth, GaugePressure, Time, UnitSystem};

const HANG_EXAMPLE: &str = "{ depth = \"5 m\", time = \"10 min\" }";

pub(super) fn read(reader: &mut Reader, root: &Table<'_>, units: UnitSystem) -> ReserveRules {
    let mut rules = ReserveRules::standard(units);
    let Some(table) = reader.section(root, &top::RESERVE_TABLE) else {
        return rules;
    };
    if let Some(stress) = reader.number(&table, &keys::STRESS_FACTOR) {
        rules.stress = stress.value;
    }
    if let Some(time) = reader.quantity(&table, &keys::SORTING) {
        rules.sort_out = Time::from_min(time.value);
    }
    if let Some(floor) = reader.quantity(&table, &keys::LEAST) {
        rules.floor = GaugePressure::from_bar(floor.value);
    }
    if let Some(turn) = reader.word(&table, &keys::TURN) {
        rules.turn = turn.value;
    }
    rules.hang = hang(reader, &table);
    rules
}

fn hang(reader: &mut Reader, reserve: &Table<'_>) -> Option<Hang> {
    let table = reader.inner_table(reserve, &keys::HANG, HANG_EXAMPLE)?;
    let depth = reader.required(&table, &keys::HANG_AT);
    let time = reader.required(&table, &keys::HANG_FOR);
    Some(Hang {
        depth: Depth::from_m(depth?.value),
        time: Time::from_min(time?.value),
    })
}
