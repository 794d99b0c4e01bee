//! Values of a form: an empty text is one that nobody has filled in.

use super::keys::QuantityKey;
use super::reader::{Given, Reader, Table};

impl Table<'_> {
    /// Whether a key is there and nothing has been put in it.
    pub(super) fn is_empty(&self, key: &str) -> bool {
        let text = self.value(key).and_then(|value| value.get_ref().as_str());
        text.is_some_and(|text| text.trim().is_empty())
    }

    /// A text as it is written, for messages.
    pub(super) fn written(&self, key: &str) -> &str {
        let text = self.value(key).and_then(|value| value.get_ref().as_str());
        text.unwrap_or_default().trim()
    }
}

impl Reader {
    /// Refuses a key that must be filled in and is not.
    pub(super) fn refuse_empty(
        &mut self,
        table: &Table<'_>,
        key: &'static str,
        accepted: impl Into<String>,
    ) {
        let (place, message) = (table.place_of(key), format!("`{key}` is not filled in"));
        self.refuse_at(place, &table.name, Some(key), message, accepted, None);
    }

    /// A quantity that must be filled in.
    pub(super) fn filled_in(&mut self, table: &Table<'_>, key: &QuantityKey) -> Option<Given<f64>> {
        if table.is_empty(key.name) {
            self.refuse_empty(table, key.name, key.kind.describe());
            return None;
        }
        self.required(table, key)
    }

    /// A quantity that may be left out or empty.
    pub(super) fn if_filled_in(
        &mut self,
        table: &Table<'_>,
        key: &QuantityKey,
    ) -> Option<Given<f64>> {
        (!table.is_empty(key.name)).then(|| self.quantity(table, key))?
    }
}
