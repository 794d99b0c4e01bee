//! Single values of the file: words, numbers, quantities, gases.

use toml::de::DeValue;

use super::described::counted;
use super::keys::{NumberKey, OwnKey, QuantityKey, Spelled, TextKey, WordKey};
use super::problem::Place;
use super::reader::{Given, Reader, Table};
use crate::letters::{composed, may_be_shown, quotable};
use crate::plan::TimeOfDay;
use crate::quantity::{Kind, QuantityError, nearest};
use crate::rules::ranges::Accepted;
use crate::site::Mix;

impl Reader {
    /// A string; what is accepted is put into words only where it is none.
    pub(super) fn text<'t>(
        &mut self,
        table: &Table<'t>,
        key: &'static str,
        accepted: impl FnOnce() -> String,
    ) -> Option<Given<&'t str>> {
        let value = table.value(key)?;
        let Some(text) = value.get_ref().as_str() else {
            self.wrong_type(table, key, value, accepted());
            return None;
        };
        Some(Given {
            value: text,
            at: Place::Span(value.span()),
            key,
        })
    }

    /// A string that will be shown, composed: not empty, all of it to be seen, not too long.
    pub(super) fn label(
        &mut self,
        table: &Table<'_>,
        &TextKey {
            name: key,
            kind: longest,
        }: &TextKey,
    ) -> Option<Given<String>> {
        let accepted = || format!("1 to {longest} characters on one line");
        let given = self.text(table, key, accepted)?;
        let text = composed(given.value.trim());
        let message = if text.is_empty() {
            format!("`{key}` is empty")
        } else if let Some(c) = text.chars().find(|c| !may_be_shown(*c)) {
            let written = c.escape_default();
            format!("`{key}` holds a character that cannot be shown, {written}")
        } else if text.chars().count() > longest {
            let characters = counted(text.chars().count(), "character");
            format!("`{key}` has {characters}")
        } else {
            return Some(given.map(|_| text));
        };
        self.refuse(&table.name, &given, message, accepted());
        None
    }

    /// A word from a list.
    pub(super) fn word<T: Copy + std::fmt::Debug>(
        &mut self,
        table: &Table<'_>,
        &WordKey {
            name: key,
            kind: words,
        }: &WordKey<T>,
    ) -> Option<Given<T>> {
        let accepted = || {
            let quoted = words.words().into_iter().map(|word| format!("\"{word}\""));
            quoted.collect::<Vec<_>>().join(", ")
        };
        let given = self.text(table, key, accepted)?;
        if let Some(value) = words.meaning(given.value) {
            return Some(given.map(|_| value));
        }
        let message = format!("`{key}` is \"{}\"", quotable(given.value));
        let meant = nearest(given.value, words.words());
        let meant = meant.map(str::to_owned);
        self.refuse_at(given.at, &table.name, Some(key), message, accepted(), meant);
        None
    }

    /// True or false.
    pub(super) fn flag(&mut self, table: &Table<'_>, key: &OwnKey) -> Option<Given<bool>> {
        let key = key.name;
        let value = table.value(key)?;
        let Some(flag) = value.get_ref().as_bool() else {
            self.wrong_type(
                table,
                key,
                value,
                "true or false, without quotes".to_owned(),
            );
            return None;
        };
        Some(Given {
            value: flag,
            at: Place::Span(value.span()),
            key,
        })
    }

    /// A plain number in a range.
    pub(super) fn number(
        &mut self,
        table: &Table<'_>,
        &NumberKey {
            name: key,
            kind: range,
        }: &NumberKey,
    ) -> Option<Given<f64>> {
        let value = table.value(key)?;
        let number = plain_number(value.get_ref()).filter(|number| range.contains(number));
        let Some(number) = number else {
            let accepted = format!("a number from {} to {}", range.start(), range.end());
            self.wrong_type(table, key, value, accepted);
            return None;
        };
        Some(Given {
            value: number,
            at: Place::Span(value.span()),
            key,
        })
    }

    /// The numbers of a list; the list must have so many.
    pub(super) fn numbers<const N: usize>(
        &mut self,
        table: &Table<'_>,
        key: &OwnKey,
        accepted: &str,
    ) -> Option<Given<[f64; N]>> {
        let key = key.name;
        let value = table.value(key)?;
        let list = value.get_ref().as_array().map(|array| {
            let numbers = array.iter().map(|item| plain_number(item.get_ref()));
            numbers.collect::<Option<Vec<f64>>>()
        });
        let numbers = list
            .flatten()
            .and_then(|list| <[f64; N]>::try_from(list).ok());
        let Some(numbers) = numbers else {
            self.wrong_type(table, key, value, accepted.to_owned());
            return None;
        };
        Some(Given {
            value: numbers,
            at: Place::Span(value.span()),
            key,
        })
    }

    /// A quantity with its unit, in an accepted range; stored unit of the kind.
    pub(super) fn quantity(&mut self, table: &Table<'_>, key: &QuantityKey) -> Option<Given<f64>> {
        let given = self.quantity_text(table, key)?;
        self.read_quantity(&table.name, &given, key.kind)
    }

    /// As [`Reader::quantity`], of a key that must be there.
    pub(super) fn required(&mut self, table: &Table<'_>, key: &QuantityKey) -> Option<Given<f64>> {
        if !table.has(key.name) {
            self.missing(table, key.name, key.kind.describe());
        }
        self.quantity(table, key)
    }

    /// The text of a quantity; a bare number gets the advice to add a unit.
    pub(super) fn quantity_text<'t>(
        &mut self,
        table: &Table<'t>,
        &QuantityKey {
            name: key,
            kind: accepted,
        }: &QuantityKey,
    ) -> Option<Given<&'t str>> {
        let value = table.value(key)?;
        if let Some(number) = plain_number(value.get_ref()) {
            let given = Given {
                value: (),
                at: Place::Span(value.span()),
                key,
            };
            let message = format!(
                "`{key}` is the bare number {}; {} needs its unit, {}, in quotes",
                quotable(&number.to_string()),
                accepted.kind.with_article(),
                accepted.kind.units()
            );
            self.refuse(&table.name, &given, message, accepted.describe());
            return None;
        }
        self.text(table, key, || accepted.describe())
    }

    /// Reads a quantity from text that came from the file or an override.
    pub(super) fn read_quantity(
        &mut self,
        table: &str,
        given: &Given<&str>,
        accepted: &Accepted,
    ) -> Option<Given<f64>> {
        self.read_quantity_saying(table, given, accepted, || accepted.describe())
    }

    /// As [`Reader::read_quantity`], with other words for what is accepted.
    pub(super) fn read_quantity_saying(
        &mut self,
        table: &str,
        given: &Given<&str>,
        accepted: &Accepted,
        words: impl FnOnce() -> String,
    ) -> Option<Given<f64>> {
        let key = given.key;
        match accepted.kind.parse(given.value) {
            Ok(value) if accepted.contains(value) => Some(given.clone().map(|_| value)),
            Ok(_) => {
                let message = format!("`{key}` is {}, out of range", quotable(given.value));
                self.refuse(table, given, message, words());
                None
            }
            Err(error) => {
                let meant = match &error {
                    QuantityError::UnknownUnit { meant, .. } => meant.map(str::to_owned),
                    QuantityError::OtherKind { unit, .. } => unit_meant(unit, accepted.kind),
                    _ => None,
                };
                let message = format!("`{key}`: {error}");
                let place = given.at.clone();
                self.refuse_at(place, table, Some(key), message, words(), meant);
                None
            }
        }
    }

    /// A time of day.
    pub(super) fn time_of_day(
        &mut self,
        table: &Table<'_>,
        key: &OwnKey,
    ) -> Option<Given<TimeOfDay>> {
        const ACCEPTED: &str = "a time of day from \"00:00\" to \"23:59\", in quotes, with two \
                                digits of minutes, as \"9:40\"";
        let given = self.text(table, key.name, || ACCEPTED.to_owned())?;
        self.read_time_of_day(&table.name, &given, ACCEPTED)
    }

    /// Reads a time of day from text that came from the file or an override.
    pub(super) fn read_time_of_day(
        &mut self,
        table: &str,
        given: &Given<&str>,
        accepted: &str,
    ) -> Option<Given<TimeOfDay>> {
        let Ok(time) = given.value.parse() else {
            let message = format!("`{}` is \"{}\"", given.key, quotable(given.value));
            self.refuse(table, given, message, accepted);
            return None;
        };
        Some(given.clone().map(|_| time))
    }

    /// A gas by its name.
    pub(super) fn mix(&mut self, table: &Table<'_>, key: &OwnKey) -> Option<Mix> {
        let given = self.text(table, key.name, || Mix::ACCEPTED.to_owned())?;
        self.read_mix(&table.name, &given)
    }

    /// Reads the name of a gas.
    pub(super) fn read_mix(&mut self, table: &str, given: &Given<&str>) -> Option<Mix> {
        match given.value.parse::<Mix>() {
            Ok(mix) => Some(mix),
            Err(error) => {
                self.refuse(table, given, error.to_string(), Mix::ACCEPTED);
                None
            }
        }
    }
}

/// The unit that was meant where one of another kind is given: `m` for minutes and the other way
/// round, and what a minute has in the place of what it is of.
fn unit_meant(unit: &str, kind: Kind) -> Option<String> {
    let is_one = |unit: &String| kind.parse(&format!("1 {unit}")).is_ok();
    let meant = match (unit, kind) {
        ("m", Kind::Time) => "min".to_owned(),
        ("min", Kind::Depth) => "m".to_owned(),
        _ => match unit.strip_suffix("/min") {
            Some(of_a_minute) => of_a_minute.to_owned(),
            None => format!("{unit}/min"),
        },
    };
    Some(meant).filter(is_one)
}

/// A finite integer or float.
fn plain_number(value: &DeValue<'_>) -> Option<f64> {
    let number: f64 = match value {
        DeValue::Integer(integer) if integer.radix() == 10 => {
            integer.as_str().replace('_', "").parse().ok()?
        }
        DeValue::Float(float) => float.as_str().replace('_', "").parse().ok()?,
        _ => return None,
    };
    number.is_finite().then_some(number)
}
