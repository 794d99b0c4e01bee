//! Walks the parsed file by hand, so that every value keeps its place and every problem is kept.

use std::ops::{Range, RangeInclusive};

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::problem::{Place, Raw};
use crate::plan::may_be_shown;
use crate::plan::ranges::Accepted;
use crate::quantity::{Kind, QuantityError, nearest};

/// A checked value and where it came from.
#[derive(Clone, Debug)]
pub(super) struct Given<T> {
    pub(super) value: T,
    pub(super) at: Place,
    pub(super) key: &'static str,
}

impl<T> Given<T> {
    pub(super) fn map<U>(self, change: impl FnOnce(T) -> U) -> Given<U> {
        Given {
            value: change(self.value),
            at: self.at,
            key: self.key,
        }
    }
}

/// A table of the file under its name for messages.
#[derive(Clone, Debug)]
pub(super) struct Table<'t> {
    pub(super) name: String,
    pub(super) span: Range<usize>,
    entries: &'t DeTable<'t>,
}

type Value<'t> = Spanned<DeValue<'t>>;

/// Collects what is wrong while the file is walked.
#[derive(Debug, Default)]
pub(super) struct Reader {
    problems: Vec<Raw>,
}

impl Reader {
    pub(super) fn into_problems(self) -> Vec<Raw> {
        self.problems
    }

    /// The whole file; checks the names of its keys.
    pub(super) fn root<'t>(&mut self, root: &'t Spanned<DeTable<'t>>, keys: &[&str]) -> Table<'t> {
        let table = Table {
            name: String::new(),
            span: 0..0,
            entries: root.get_ref(),
        };
        self.check_keys(&table, keys);
        table
    }

    fn check_keys(&mut self, table: &Table<'_>, keys: &[&str]) {
        for key in table.entries.keys() {
            let word: &str = key.get_ref();
            if !keys.contains(&word) {
                self.problems.push(Raw {
                    place: Place::Span(key.span()),
                    table: table.name.clone(),
                    key: None,
                    message: format!("unknown key `{}`", word.escape_debug()),
                    accepted: Some(keys.join(", ")),
                    meant: nearest(word, keys.iter().copied()).map(str::to_owned),
                });
            }
        }
    }

    /// Something wrong with a value that was given.
    pub(super) fn refuse<T>(
        &mut self,
        table: &str,
        given: &Given<T>,
        message: impl Into<String>,
        accepted: impl Into<String>,
    ) {
        self.problems.push(Raw {
            place: given.at.clone(),
            table: table.to_owned(),
            key: Some(given.key.to_owned()),
            message: message.into(),
            accepted: Some(accepted.into()),
            meant: None,
        });
    }

    /// A key that a table must have and has not.
    ///
    /// Said once: where the key is there but misspelled, that has been noted already.
    pub(super) fn missing(&mut self, table: &Table<'_>, key: &str, accepted: impl Into<String>) {
        if self.is_misspelled(table, key) {
            return;
        }
        self.problems.push(Raw {
            place: Place::Span(table.span.clone()),
            table: table.name.clone(),
            key: Some(key.to_owned()),
            message: format!("`{key}` is missing"),
            accepted: Some(accepted.into()),
            meant: None,
        });
    }

    /// Whether a key of a table that nobody knows was probably meant to be this one.
    pub(super) fn is_misspelled(&self, table: &Table<'_>, key: &str) -> bool {
        self.problems.iter().any(|known| {
            known.key.is_none() && known.table == table.name && known.meant.as_deref() == Some(key)
        })
    }

    /// Something wrong with a table or an override as a whole, or with a key that is no [`Given`].
    pub(super) fn refuse_at(
        &mut self,
        place: Place,
        table: &str,
        key: Option<&str>,
        message: impl Into<String>,
        accepted: impl Into<String>,
        meant: Option<String>,
    ) {
        self.problems.push(Raw {
            place,
            table: table.to_owned(),
            key: key.map(str::to_owned),
            message: message.into(),
            accepted: Some(accepted.into()),
            meant,
        });
    }

    fn wrong_type(
        &mut self,
        table: &Table<'_>,
        key: &'static str,
        value: &Value<'_>,
        accepted: String,
    ) {
        let given = Given {
            value: (),
            at: Place::Span(value.span()),
            key,
        };
        let message = format!("`{key}` is {}", describe(value.get_ref()));
        self.refuse(&table.name, &given, message, accepted);
    }

    /// A string.
    pub(super) fn text<'t>(
        &mut self,
        table: &Table<'t>,
        key: &'static str,
        accepted: &str,
    ) -> Option<Given<&'t str>> {
        let value = table.value(key)?;
        let Some(text) = value.get_ref().as_str() else {
            self.wrong_type(table, key, value, accepted.to_owned());
            return None;
        };
        Some(Given {
            value: text,
            at: Place::Span(value.span()),
            key,
        })
    }

    /// A string that will be shown: not empty, no control characters, not too long.
    pub(super) fn label(
        &mut self,
        table: &Table<'_>,
        key: &'static str,
        longest: usize,
    ) -> Option<Given<String>> {
        let accepted = format!("1 to {longest} characters on one line");
        let given = self.text(table, key, &accepted)?;
        let text = given.value.trim();
        let message = if text.is_empty() {
            format!("`{key}` is empty")
        } else if !text.chars().all(may_be_shown) {
            format!("`{key}` holds a control character")
        } else if text.chars().count() > longest {
            let characters = counted(text.chars().count(), "character");
            format!("`{key}` has {characters}")
        } else {
            let text = text.to_owned();
            return Some(given.map(|_| text));
        };
        self.refuse(&table.name, &given, message, accepted);
        None
    }

    /// A word from a list.
    pub(super) fn word<T: Copy>(
        &mut self,
        table: &Table<'_>,
        key: &'static str,
        words: &[(&str, T)],
    ) -> Option<Given<T>> {
        let quoted: Vec<String> = words
            .iter()
            .map(|(word, _)| format!("\"{word}\""))
            .collect();
        let accepted = quoted.join(", ");
        let given = self.text(table, key, &accepted)?;
        if let Some((_, value)) = words.iter().find(|(word, _)| *word == given.value) {
            return Some(given.map(|_| *value));
        }
        self.problems.push(Raw {
            place: given.at,
            table: table.name.clone(),
            key: Some(key.to_owned()),
            message: format!("`{key}` is \"{}\"", given.value),
            accepted: Some(accepted),
            meant: nearest(given.value, words.iter().map(|(word, _)| *word)).map(str::to_owned),
        });
        None
    }

    /// True or false.
    pub(super) fn flag(&mut self, table: &Table<'_>, key: &'static str) -> Option<Given<bool>> {
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
        key: &'static str,
        range: &RangeInclusive<f64>,
    ) -> Option<Given<f64>> {
        let value = table.value(key)?;
        let accepted = format!("a number from {} to {}", range.start(), range.end());
        let number = plain_number(value.get_ref()).filter(|number| range.contains(number));
        let Some(number) = number else {
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
        key: &'static str,
        accepted: &str,
    ) -> Option<Given<[f64; N]>> {
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
    pub(super) fn quantity(
        &mut self,
        table: &Table<'_>,
        key: &'static str,
        accepted: &Accepted,
    ) -> Option<Given<f64>> {
        let given = self.quantity_text(table, key, accepted)?;
        self.read_quantity(&table.name, &given, accepted)
    }

    /// The text of a quantity; a bare number gets the advice to add a unit.
    pub(super) fn quantity_text<'t>(
        &mut self,
        table: &Table<'t>,
        key: &'static str,
        accepted: &Accepted,
    ) -> Option<Given<&'t str>> {
        let value = table.value(key)?;
        if let Some(number) = plain_number(value.get_ref()) {
            let given = Given {
                value: (),
                at: Place::Span(value.span()),
                key,
            };
            let message = format!(
                "`{key}` is the bare number {number}; {} needs its unit, {}, in quotes",
                accepted.kind.with_article(),
                accepted.kind.units()
            );
            self.refuse(&table.name, &given, message, accepted.describe());
            return None;
        }
        self.text(table, key, &accepted.describe())
    }

    /// Reads a quantity from text that came from the file or an override.
    pub(super) fn read_quantity(
        &mut self,
        table: &str,
        given: &Given<&str>,
        accepted: &Accepted,
    ) -> Option<Given<f64>> {
        self.read_quantity_saying(table, given, accepted, &accepted.describe())
    }

    /// As [`Reader::read_quantity`], with other words for what is accepted.
    pub(super) fn read_quantity_saying(
        &mut self,
        table: &str,
        given: &Given<&str>,
        accepted: &Accepted,
        words: &str,
    ) -> Option<Given<f64>> {
        let key = given.key;
        match accepted.kind.parse(given.value) {
            Ok(value) if accepted.contains(value) => Some(given.clone().map(|_| value)),
            Ok(_) => {
                let message = format!("`{key}` is {}, out of range", given.value.trim());
                self.refuse(table, given, message, words);
                None
            }
            Err(error) => {
                let meant = match &error {
                    QuantityError::UnknownUnit { meant, .. } => meant.map(str::to_owned),
                    QuantityError::OtherKind { unit, .. }
                        if unit == "m" && accepted.kind == Kind::Time =>
                    {
                        Some("min".to_owned())
                    }
                    _ => None,
                };
                self.problems.push(Raw {
                    place: given.at.clone(),
                    table: table.to_owned(),
                    key: Some(key.to_owned()),
                    message: format!("`{key}`: {}", error),
                    accepted: Some(words.to_owned()),
                    meant,
                });
                None
            }
        }
    }

    /// A table of the file, `[key]`; checks the names of its keys.
    pub(super) fn section<'t>(
        &mut self,
        root: &Table<'t>,
        key: &'static str,
        keys: &[&str],
    ) -> Option<Table<'t>> {
        let accepted = format!("one [{key}], in single brackets, with {}", keys.join(", "));
        self.table(root, key, keys, accepted)
    }

    /// A table inside a table, as an example shows it; checks the names of its keys.
    pub(super) fn inner_table<'t>(
        &mut self,
        parent: &Table<'t>,
        key: &'static str,
        keys: &[&str],
        example: &str,
    ) -> Option<Table<'t>> {
        let accepted = format!("a table with {}, as {key} = {example}", keys.join(", "));
        self.table(parent, key, keys, accepted)
    }

    fn table<'t>(
        &mut self,
        parent: &Table<'t>,
        key: &'static str,
        keys: &[&str],
        accepted: String,
    ) -> Option<Table<'t>> {
        let value = parent.value(key)?;
        let Some(entries) = value.get_ref().as_table() else {
            self.wrong_type(parent, key, value, accepted);
            return None;
        };
        let name = if parent.name.is_empty() {
            format!("[{key}]")
        } else {
            format!("{} {key}", parent.name)
        };
        let table = Table {
            name,
            span: value.span(),
            entries,
        };
        self.check_keys(&table, keys);
        Some(table)
    }

    /// A list of tables inside a table; checks the names of their keys.
    pub(super) fn tables<'t>(
        &mut self,
        parent: &Table<'t>,
        key: &'static str,
        keys: &[&str],
    ) -> Option<Vec<Table<'t>>> {
        let value = parent.value(key)?;
        let path = if parent.name.is_empty() {
            format!("[[{key}]]")
        } else if let Some(outer) = parent.name.strip_prefix('[')
            && !outer.starts_with('[')
        {
            format!("[[{}.{key}]]", outer.trim_end_matches(']'))
        } else {
            format!("{} {key}", parent.name)
        };
        let items = value.get_ref().as_array().and_then(|array| {
            let tables = array
                .iter()
                .map(|item| item.get_ref().as_table().map(|t| (item, t)));
            tables.collect::<Option<Vec<_>>>()
        });
        let Some(items) = items else {
            let keys = keys.join(", ");
            let accepted = if path.starts_with("[[") && path.ends_with("]]") {
                format!("one {path} table each, in double brackets, with {keys}")
            } else {
                format!("a list of tables, as {key} = [{{ … }}, {{ … }}], each with {keys}")
            };
            self.wrong_type(parent, key, value, accepted);
            return None;
        };
        let mut tables = Vec::with_capacity(items.len());
        for (index, (item, entries)) in items.into_iter().enumerate() {
            let table = Table {
                name: format!("{path} {}", index + 1),
                span: item.span(),
                entries,
            };
            self.check_keys(&table, keys);
            tables.push(table);
        }
        Some(tables)
    }
}

impl<'t> Table<'t> {
    /// A value as it stands.
    pub(super) fn value(&self, key: &str) -> Option<&'t Value<'t>> {
        self.entries.get(key)
    }

    pub(super) fn has(&self, key: &str) -> bool {
        self.value(key).is_some()
    }

    /// Where a key's value stands, or the table itself.
    pub(super) fn place_of(&self, key: &str) -> Place {
        Place::Span(self.value(key).map_or(self.span.clone(), Spanned::span))
    }
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

/// More items of a list, or keys of a table, than this are not told apart.
const LONGEST_LIST: usize = 4;

/// What a value is, for a message: `the text "12 L"`, `a list with 1 table in it`.
pub(super) fn describe(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => format!("the text \"{text}\""),
        DeValue::Integer(integer) => format!("the number {integer}"),
        DeValue::Float(float) => format!("the number {float}"),
        DeValue::Boolean(value) => format!("{value}"),
        DeValue::Datetime(value) => format!("the date or time {value}"),
        DeValue::Array(items) if items.is_empty() => "an empty list".to_owned(),
        DeValue::Array(items) if items.iter().all(|item| item.get_ref().is_table()) => {
            format!("a list with {} in it", counted(items.len(), "table"))
        }
        DeValue::Array(items) => {
            let shown = items.iter().map(|item| match item.get_ref() {
                DeValue::String(text) => format!("\"{text}\""),
                DeValue::Integer(number) => number.to_string(),
                DeValue::Float(number) => number.to_string(),
                DeValue::Array(items) => {
                    format!("another list of {}", counted(items.len(), "item"))
                }
                DeValue::Table(_) => "a table".to_owned(),
                DeValue::Boolean(_) | DeValue::Datetime(_) => describe(item.get_ref()),
            });
            format!("a list of {}", first_few(shown))
        }
        DeValue::Table(table) if table.is_empty() => "an empty table".to_owned(),
        DeValue::Table(table) => {
            let keys = if table.len() == 1 { "key" } else { "keys" };
            let names = table
                .keys()
                .map(|key| format!("`{}`", key.get_ref().escape_debug()));
            format!("a table with the {keys} {}", first_few(names))
        }
    }
}

fn first_few(words: impl Iterator<Item = String>) -> String {
    let mut few: Vec<String> = words.take(LONGEST_LIST + 1).collect();
    if few.len() > LONGEST_LIST {
        few[LONGEST_LIST] = "…".to_owned();
    }
    few.join(", ")
}

/// `1 table`, `2 tables`; for nouns that take an s.
pub(super) fn counted(count: usize, noun: &str) -> String {
    match count {
        1 => format!("1 {noun}"),
        count => format!("{count} {noun}s"),
    }
}
