//! Cylinders: how large, how full.

use super::keys::{QuantityKey, TableKey, team as keys};
use super::problem::Place;
use super::reader::{Given, Reader, Table};
use crate::quantity::show::short_up;
use crate::quantity::{FreeVolume, GaugePressure, Kind, PSI_BAR, WaterVolume};
use crate::rules::ranges::{Accepted, FILL, OVERFILL, WATER_VOLUME};
use crate::site::{Cylinder, water_volume_of_rating};

const EXAMPLE: &str = "{ size = \"12 L\", fill = \"200 bar\" }";
/// How the gas is said that a cylinder holds when full, as the trade's sizes are.
const RATED: &str = "a rating is given as rated = \"80 cuft\" with at = \"3000 psi\"";
/// What a cylinder may say of itself.
pub(super) const ACCEPTED: &str = "either size = \"12 L\", or rated = \"80 cuft\" with at = \
                                   \"3000 psi\"; and fill = \"200 bar\"; with size too, at may say \
                                   the working pressure";

/// A cylinder under a key of a diver; the day's fill, where there is one, in place of its own.
pub(super) fn under(
    reader: &mut Reader,
    table: &Table<'_>,
    key: &TableKey,
    instead: Option<&Given<&str>>,
) -> Option<Cylinder> {
    let table = reader.inner_table(table, key, EXAMPLE)?;
    read(reader, &table, instead)
}

/// As [`under`], for a cylinder that may say what is in it: its table.
pub(super) fn of_a_gas<'t>(
    reader: &mut Reader,
    table: &Table<'t>,
    key: &TableKey,
) -> Option<Table<'t>> {
    reader.inner_table(table, key, EXAMPLE)
}

/// A cylinder by its inner volume or by its rating, and its fill.
pub(super) fn read(
    reader: &mut Reader,
    table: &Table<'_>,
    instead: Option<&Given<&str>>,
) -> Option<Cylinder> {
    let (water, working) = size(reader, table);
    let fill = fill(reader, table, working, instead);
    Some(Cylinder {
        water: water?,
        fill: fill?,
        working,
    })
}

/// Inner volume and working pressure, as far as they are given.
fn size(reader: &mut Reader, table: &Table<'_>) -> (Option<WaterVolume>, Option<GaugePressure>) {
    let what = match (
        table.has(keys::SIZE.name),
        table.has(keys::RATED.name),
        table.has(keys::AT.name),
    ) {
        (true, false, has_at) => {
            let size = volume(reader, table, &keys::SIZE);
            let working = has_at.then(|| working_pressure(reader, table)).flatten();
            return (size.map(|given| WaterVolume::from_l(given.value)), working);
        }
        (false, true, true) => return rated(reader, table),
        (false, false, false) => "the cylinder has neither `size` nor `rated`",
        (true, true, _) => "the cylinder has both `size` and `rated`",
        (false, true, false) => "`rated` is given without `at`",
        (false, false, true) => "`at` is given without `size` or `rated`",
    };
    let keys = [keys::SIZE.name, keys::RATED.name, keys::AT.name];
    if !keys.iter().any(|key| reader.is_misspelled(table, key)) {
        let place = Place::Span(table.span.clone());
        reader.refuse_at(place, &table.name, None, what, ACCEPTED, None);
    }
    (None, None)
}

/// The file's own fill is checked even where another takes its place.
fn fill(
    reader: &mut Reader,
    table: &Table<'_>,
    working: Option<GaugePressure>,
    instead: Option<&Given<&str>>,
) -> Option<GaugePressure> {
    if !table.has(keys::FILLED.name) && instead.is_none() {
        reader.missing(table, keys::FILLED.name, FILL.describe());
    }
    let own = reader.quantity(table, &keys::FILLED);
    check_fill(reader, table, own.as_ref(), working);
    let fill = match instead {
        Some(given) => {
            let given = reader.read_quantity(&table.name, given, &FILL);
            check_fill(reader, table, given.as_ref(), working);
            given
        }
        None => own,
    };
    fill.map(|given| GaugePressure::from_bar(given.value))
}

fn working_pressure(reader: &mut Reader, table: &Table<'_>) -> Option<GaugePressure> {
    let at = reader.quantity(table, &keys::AT);
    at.map(|given| GaugePressure::from_bar(given.value))
}

/// An inner volume or a capacity: of one cylinder, or of two equal ones with an open manifold,
/// written `"2x10 L"`.
fn volume(reader: &mut Reader, table: &Table<'_>, key: &QuantityKey) -> Option<Given<f64>> {
    let given = reader.quantity_text(table, key)?;
    let (key, accepted) = (key.name, key.kind);
    let twins = || {
        format!(
            "{}; twins, two equal cylinders with an open manifold, as \"2x{}\"",
            accepted.describe(),
            accepted.example
        )
    };
    match Count::of(given.value) {
        Count::One => {
            let words = || {
                if Count::may_be_meant(given.value) {
                    twins()
                } else if is_rating(given.value, accepted) {
                    format!("{}; {RATED}", accepted.describe())
                } else {
                    accepted.describe()
                }
            };
            reader.read_quantity_saying(&table.name, &given, accepted, words)
        }
        Count::Two { each } => {
            let one = given.clone().map(|_| each);
            let one = reader.read_quantity_saying(&table.name, &one, accepted, twins)?;
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
            reader.refuse(&table.name, &given, message, twins());
            None
        }
    }
}

/// Whether the gas that a cylinder holds is given where the water is wanted that it would hold.
fn is_rating(text: &str, accepted: &Accepted) -> bool {
    let is = |kind: Kind| kind.parse(text).is_ok();
    accepted.kind == Kind::WaterVolume && !is(accepted.kind) && is(Kind::Capacity)
}

fn rated(reader: &mut Reader, table: &Table<'_>) -> (Option<WaterVolume>, Option<GaugePressure>) {
    let capacity = volume(reader, table, &keys::RATED);
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
        let accepted = format!(
            "an inner volume of {}; one that is known itself is given as size = \"12 L\"",
            range_of(&WATER_VOLUME)
        );
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
