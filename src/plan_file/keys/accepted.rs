//! What a key may hold, in words and by an example.

use std::ops::RangeInclusive;

use super::row::{Holds, Section, Without};
use crate::quantity::{Kind, UnitSystem};
use crate::rules::ranges::Accepted;
use crate::site::Mix;

impl Holds {
    /// What is accepted.
    pub(crate) fn accepted(&self) -> String {
        match self {
            Self::Quantity(accepted) => accepted.describe(),
            Self::Twins(accepted) => format!(
                "{}, or twins as \"2x{}\"",
                accepted.describe(),
                accepted.example
            ),
            Self::Either(one, other) => format!("{}; or {}", one.describe(), other.describe()),
            Self::Some(_, values) => one_of(values()),
            Self::Word(words) => one_of(words.words()),
            Self::WordOr(words, other) => {
                format!("{}, or {}", quoted(words()).join(", "), other.describe())
            }
            Self::Number(range) => from_to(range),
            Self::Pair(range) => format!("two numbers, each {}, as [30, 70]", from_to(range)),
            Self::Flag => "true or false".to_owned(),
            Self::Text(longest) => format!("a text of 1 to {longest} characters"),
            Self::TimeOfDay => "\"00:00\" to \"23:59\", as \"9:40\"".to_owned(),
            Self::Gas(_) => Mix::ACCEPTED.to_owned(),
            Self::Gases(most) => format!("a list of {}, as [\"EAN50\"]", most.describe()),
            Self::Names => "a list of names, as [\"Ines\"]".to_owned(),
            Self::Table(section) => match inline(section, UnitSystem::Metric) {
                Some(table) => format!("a table, as {table}"),
                None => "a table".to_owned(),
            },
            Self::TableOrFalse(_) => "a table, or false for none".to_owned(),
            Self::Tables(_, most) => format!("a list of tables, {}", most.describe()),
        }
    }

    /// A value as a file has it, to show how one is written.
    pub(crate) fn example(&self, units: UnitSystem) -> String {
        match self {
            Self::Quantity(accepted)
            | Self::Twins(accepted)
            | Self::Either(accepted, _)
            | Self::Some(accepted, _) => format!("\"{}\"", example_in(accepted, units)),
            Self::Word(words) => first_quoted(words.words()),
            Self::WordOr(words, _) => first_quoted(words()),
            Self::Number(range) => range.start().to_string(),
            Self::Pair(_) => "[30, 70]".to_owned(),
            Self::Flag => true.to_string(),
            Self::Text(_) => "\"…\"".to_owned(),
            Self::TimeOfDay => "\"09:40\"".to_owned(),
            Self::Gas(example) => format!("\"{example}\""),
            Self::Gases(_) => "[\"EAN50\"]".to_owned(),
            Self::Names => "[\"Ines\"]".to_owned(),
            Self::Table(section) | Self::TableOrFalse(section) => {
                inline(section, units).unwrap_or_else(|| "{}".to_owned())
            }
            Self::Tables(section, _) => {
                format!("[{}]", inline(section, units).unwrap_or_default())
            }
        }
    }
}

/// A table on one line, with the keys that it must have, and the first of those of which it must
/// have one; `None` of one that may be empty.
fn inline(section: &Section, units: UnitSystem) -> Option<String> {
    let mut one_way = section.keys.iter();
    let one_way = one_way.find(|key| matches!(key.without, Without::Or(_)));
    let keys = section.keys.iter().filter(|key| {
        let is_required = matches!(key.without, Without::Required);
        is_required || one_way.is_some_and(|one_way| one_way.name == key.name)
    });
    let keys: Vec<String> = keys
        .map(|key| format!("{} = {}", key.name, key.holds.example(units)))
        .collect();
    (!keys.is_empty()).then(|| format!("{{ {} }}", keys.join(", ")))
}

fn quoted(words: Vec<impl AsRef<str>>) -> Vec<String> {
    let words = words.iter();
    words.map(|word| format!("\"{}\"", word.as_ref())).collect()
}

fn first_quoted(words: Vec<&str>) -> String {
    quoted(words).into_iter().next().unwrap_or_default()
}

/// `"half", "third" or "all"`
fn one_of(words: Vec<impl AsRef<str>>) -> String {
    let words = quoted(words);
    match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => words.concat(),
    }
}

fn from_to(range: &RangeInclusive<f64>) -> String {
    format!("{} to {}", range.start(), range.end())
}

/// The example of a range in units of a system, to two digits where it is another's.
fn example_in(accepted: &Accepted, units: UnitSystem) -> String {
    let Accepted { kind, example, .. } = accepted;
    let number_of = |text: &str| -> Option<f64> { text.split(' ').next()?.parse().ok() };
    let converted = || {
        let written = kind.written(kind.parse(example).ok()?, units);
        let (number, unit) = (number_of(&written)?, written.split_once(' ')?.1.to_owned());
        let digits = 10_f64.powf(number.abs().log10().floor() - 1.0);
        let rounded = (number / digits).round() * digits;
        Some(kind.written(kind.parse(&format!("{rounded} {unit}")).ok()?, units))
    };
    match (kind, units) {
        // What is written so is everybody's.
        (Kind::Capacity | Kind::WaterSpeed, _) | (_, UnitSystem::Metric) => (*example).to_owned(),
        (_, UnitSystem::Imperial) => converted().unwrap_or_else(|| (*example).to_owned()),
    }
}
