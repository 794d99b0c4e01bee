//! `hangbar/keys/1`: the keys of a file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::super::key_sheet::{KeyFile, KeySheet};
use super::finite::{NotFinite, finite};
use super::nullable::nullable;
use crate::plan_file::{self, Holds, Without};
use crate::quantity::UnitSystem;
use crate::rules::ranges::Accepted;

/// The keys of a file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Keys {
    /// Name and number of the document's form.
    #[schemars(extend("const" = Keys::SCHEMA))]
    pub schema: String,
    /// Whose keys they are: `plan` or `record` (what divers write down of a dive).
    pub file: KeysOf,
    /// The tables, each before those in it.
    pub tables: Vec<KeyTable>,
}

/// A file that has keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum KeysOf {
    /// A plan.
    Plan,
    /// What divers wrote down of a dive.
    Record,
}

/// A table of a file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct KeyTable {
    /// Names of the keys that lead to it with points between; empty at the top.
    pub path: String,
    /// How many of it there may be; null of a table that stands once.
    #[serde(deserialize_with = "nullable")]
    pub most: Option<usize>,
    /// What it is about.
    pub about: String,
    /// Its keys.
    pub keys: Vec<Key>,
}

/// A key.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct Key {
    /// Its name.
    pub name: String,
    /// What it is.
    pub about: String,
    /// What it may hold: `quantity`, `word`, `word-or-quantity`, `number`, `two-numbers`,
    /// `flag`, `text`, `time-of-day`, `gas`, `gases`, `names`, `table`, `table-or-false` or
    /// `tables`.
    pub holds: KeyHolds,
    /// What is accepted.
    pub accepted: String,
    /// The ranges that its value may be in, one of them; empty of a key that holds no number.
    pub ranges: Vec<KeyRange>,
    /// The words that it may hold; empty of a key that holds none.
    pub words: Vec<String>,
    /// The greatest number of characters or of items of a list; null without one.
    #[serde(deserialize_with = "nullable")]
    pub most: Option<usize>,
    /// Whether it must be there.
    pub required: bool,
    /// What it is without it in a metric plan, as a file has it; null where it is as no value.
    #[serde(deserialize_with = "nullable")]
    pub without_metric: Option<String>,
    /// The same in an imperial plan; null likewise.
    #[serde(deserialize_with = "nullable")]
    pub without_imperial: Option<String>,
    /// What holds without it; null where a value says it, or where it must be there.
    #[serde(deserialize_with = "nullable")]
    pub without: Option<String>,
}

/// What a key may hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum KeyHolds {
    /// A text of a number and its unit.
    Quantity,
    /// One of the words.
    Word,
    /// One of the words, or a text of a number and its unit.
    WordOrQuantity,
    /// A number.
    Number,
    /// A list of two numbers.
    TwoNumbers,
    /// True or false.
    Flag,
    /// A text.
    Text,
    /// A text of hours and minutes.
    TimeOfDay,
    /// The name of a gas.
    Gas,
    /// A list of names of gases.
    Gases,
    /// A list of names of divers.
    Names,
    /// A table.
    Table,
    /// A table, or false.
    TableOrFalse,
    /// A list of tables.
    Tables,
}

/// A range, both ends included.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub struct KeyRange {
    /// The least that is accepted, in the first of the units.
    pub least: f64,
    /// The greatest that is accepted, in the first of the units.
    pub greatest: f64,
    /// The units, each as it is written first; empty of a plain number.
    pub units: Vec<String>,
    /// A value as it is written; null of a plain number.
    #[serde(deserialize_with = "nullable")]
    pub example: Option<String>,
}

impl Keys {
    /// Name and number of the document's form.
    pub const SCHEMA: &'static str = "hangbar/keys/1";
}

impl TryFrom<&KeySheet> for Keys {
    type Error = NotFinite;

    fn try_from(sheet: &KeySheet) -> Result<Self, NotFinite> {
        let tables = sheet.tables().iter().map(|placed| KeyTable {
            path: placed.path.clone(),
            most: placed.most,
            about: placed.section.about.to_owned(),
            keys: placed.section.keys.iter().map(Key::from).collect(),
        });
        finite(Self {
            schema: Self::SCHEMA.to_owned(),
            file: match sheet.file() {
                KeyFile::Plan => KeysOf::Plan,
                KeyFile::Record => KeysOf::Record,
            },
            tables: tables.collect(),
        })
    }
}

impl From<&plan_file::Key> for Key {
    fn from(key: &plan_file::Key) -> Self {
        Self {
            name: key.name.to_owned(),
            about: key.about.to_owned(),
            holds: KeyHolds::from(&key.holds),
            accepted: key.holds.accepted(),
            ranges: ranges(&key.holds),
            words: key.holds.words(),
            most: key.holds.most(),
            required: matches!(key.without, Without::Required),
            without_metric: key.without.value(UnitSystem::Metric),
            without_imperial: key.without.value(UnitSystem::Imperial),
            without: key.without.words().map(str::to_owned),
        }
    }
}

impl From<&Holds> for KeyHolds {
    fn from(holds: &Holds) -> Self {
        match holds {
            Holds::Quantity(_) | Holds::Twins(_) | Holds::Either(..) | Holds::Some(..) => {
                Self::Quantity
            }
            Holds::Word(_) => Self::Word,
            Holds::WordOr(..) => Self::WordOrQuantity,
            Holds::Number(_) => Self::Number,
            Holds::Pair(_) => Self::TwoNumbers,
            Holds::Flag => Self::Flag,
            Holds::Text(_) => Self::Text,
            Holds::TimeOfDay => Self::TimeOfDay,
            Holds::Gas(_) => Self::Gas,
            Holds::Gases(_) => Self::Gases,
            Holds::Names => Self::Names,
            Holds::Table(_) => Self::Table,
            Holds::TableOrFalse(_) => Self::TableOrFalse,
            Holds::Tables(..) => Self::Tables,
        }
    }
}

fn ranges(holds: &Holds) -> Vec<KeyRange> {
    match holds {
        Holds::Number(range) | Holds::Pair(range) => vec![KeyRange {
            least: *range.start(),
            greatest: *range.end(),
            units: Vec::new(),
            example: None,
        }],
        other => other.quantities().into_iter().map(KeyRange::from).collect(),
    }
}

impl From<&Accepted> for KeyRange {
    fn from(accepted: &Accepted) -> Self {
        let units: Vec<&str> = accepted.kind.unit_names().collect();
        Self {
            least: accepted.kind.in_first_unit(accepted.least),
            greatest: accepted.kind.in_first_unit(accepted.greatest),
            units: units.into_iter().map(str::to_owned).collect(),
            example: Some(accepted.example.to_owned()),
        }
    }
}
