//! `[reserve]`: what must be kept back.

use super::reader::{Reader, Table};
use crate::plan::{Hang, ReserveRules, TurnRule};
use crate::quantity::{Depth, GaugePressure, Time, UnitSystem};
use crate::rules::ranges::{FLOOR, HANG_DEPTH, HANG_TIME, SORT_OUT, STRESS};

const KEYS: &[&str] = &["stress", "sort_out", "floor", "turn", "hang"];
const HANG_KEYS: &[&str] = &["depth", "time"];
const HANG_EXAMPLE: &str = "{ depth = \"5 m\", time = \"10 min\" }";

pub(super) fn read(reader: &mut Reader, root: &Table<'_>, units: UnitSystem) -> ReserveRules {
    let mut rules = ReserveRules::standard(units);
    let Some(table) = reader.section(root, "reserve", KEYS) else {
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
    let table = reader.inner_table(reserve, "hang", HANG_KEYS, HANG_EXAMPLE)?;
    let depth = reader.required(&table, "depth", &HANG_DEPTH);
    let time = reader.required(&table, "time", &HANG_TIME);
    Some(Hang {
        depth: Depth::from_m(depth?.value),
        time: Time::from_min(time?.value),
    })
}
