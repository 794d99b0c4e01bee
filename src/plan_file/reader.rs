//! Walks the parsed file by hand, so that every value keeps its place and every problem is kept.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::described::describe;
use super::keys::{Section, TableKey, TablesKey};
use super::problem::{Found, Place, Raw};
use crate::letters::quotable;
use crate::quantity::nearest;
use crate::rules::ranges::AtMost;

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
    found: Found,
    /// The top of the file, whose keys that are no tables stand above every table.
    top: Option<&'static Section>,
}

impl Reader {
    pub(super) fn into_found(self) -> Found {
        self.found
    }

    /// The whole file; checks the names of its keys. One of them that is no table, written below a
    /// table, is taken for that table's, and told where it belongs.
    pub(super) fn root<'t>(
        &mut self,
        root: &'t Spanned<DeTable<'t>>,
        section: &'static Section,
    ) -> Table<'t> {
        self.top = Some(section);
        let table = Table {
            name: String::new(),
            span: 0..0,
            entries: root.get_ref(),
        };
        self.check_keys(&table, section);
        table
    }

    /// Whether a word is a key that stands above every table.
    fn stands_above(&self, word: &str) -> bool {
        let mut above = self.top.iter().flat_map(|top| top.keys);
        above.any(|key| key.name == word && key.holds.table().is_none())
    }

    fn check_keys(&mut self, table: &Table<'_>, section: &Section) {
        for key in table.entries.keys() {
            let word: &str = key.get_ref();
            let is_above = !table.name.is_empty() && self.stands_above(word);
            if !section.has(word) {
                let keys = section.names();
                self.found.note(|| Raw {
                    place: Place::Span(key.span()),
                    table: table.name.clone(),
                    key: None,
                    message: format!("unknown key `{}`", quotable(word)),
                    accepted: Some(match (keys.join(", "), is_above) {
                        (known, false) => known,
                        (known, true) => {
                            format!("`{word}` above the first [table]; here: {known}")
                        }
                    }),
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
        self.found.note(|| Raw {
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
        self.found.note(|| Raw {
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
        self.found.kept().iter().any(|known| {
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
        self.found.note(|| Raw {
            place,
            table: table.to_owned(),
            key: key.map(str::to_owned),
            message: message.into(),
            accepted: Some(accepted.into()),
            meant,
        });
    }

    /// A value that is something else than it should be.
    pub(super) fn wrong_type(
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

    /// A table of the file, `[key]`; checks the names of its keys.
    pub(super) fn section<'t>(&mut self, root: &Table<'t>, key: &TableKey) -> Option<Table<'t>> {
        let accepted = || {
            let keys = key.kind.names().join(", ");
            format!("one [{}], in single brackets, with {keys}", key.name)
        };
        self.table(root, key, accepted)
    }

    /// A table inside a table, as an example shows it; checks the names of its keys.
    pub(super) fn inner_table<'t>(
        &mut self,
        parent: &Table<'t>,
        key: &TableKey,
        example: &str,
    ) -> Option<Table<'t>> {
        let accepted = || {
            let keys = key.kind.names().join(", ");
            format!("a table with {keys}, as {} = {example}", key.name)
        };
        self.table(parent, key, accepted)
    }

    fn table<'t>(
        &mut self,
        parent: &Table<'t>,
        TableKey { name: key, kind }: &TableKey,
        accepted: impl FnOnce() -> String,
    ) -> Option<Table<'t>> {
        let value = parent.value(key)?;
        let Some(entries) = value.get_ref().as_table() else {
            self.wrong_type(parent, key, value, accepted());
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
        self.check_keys(&table, kind);
        Some(table)
    }

    /// A list of tables inside a table; checks the names of their keys.
    pub(super) fn tables<'t>(
        &mut self,
        parent: &Table<'t>,
        key: &TablesKey,
    ) -> Option<Vec<Table<'t>>> {
        let (TablesKey { name: key, .. }, section) = (key, key.kind.0);
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
            let keys = section.names().join(", ");
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
            self.check_keys(&table, section);
            tables.push(table);
        }
        Some(tables)
    }

    /// Whether there are no more tables than are accepted. Those beyond are taken away.
    pub(super) fn are_few(&mut self, tables: &mut Vec<Table<'_>>, most: &AtMost) -> bool {
        let (Err(many), Some(beyond)) = (most.check(tables.len()), tables.get(most.most)) else {
            return true;
        };
        let (place, table) = (Place::Span(beyond.span.clone()), beyond.name.clone());
        let message = format!("{} {} are too many", many.count, many.what);
        self.refuse_at(place, &table, None, message, most.describe(), None);
        tables.truncate(most.most);
        false
    }
}

impl<'t> Table<'t> {
    /// A value as it stands.
    pub(super) fn value(&self, key: &str) -> Option<&'t Value<'t>> {
        self.entries.get(key)
    }

    pub(super) fn says_nothing(&self) -> bool {
        self.entries.is_empty()
    }

    pub(super) fn has(&self, key: &str) -> bool {
        self.value(key).is_some()
    }

    /// Where a key's value stands, or the table itself.
    pub(super) fn place_of(&self, key: &str) -> Place {
        Place::Span(self.value(key).map_or(self.span.clone(), Spanned::span))
    }
}
