//! Values of the file in words, for messages.

use toml::de::DeValue;

use crate::letters::quotable;

/// More items of a list, or keys of a table, than this are not told apart.
const LONGEST_LIST: usize = 4;

/// What a value is, for a message: `the text "12 L"`, `a list with 1 table in it`.
pub(super) fn describe(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => format!("the text \"{}\"", quotable(text)),
        DeValue::Integer(integer) => format!("the number {}", quotable(&integer.to_string())),
        DeValue::Float(float) => format!("the number {}", quotable(&float.to_string())),
        DeValue::Boolean(value) => format!("{value}"),
        DeValue::Datetime(value) => format!("the date or time {value}"),
        DeValue::Array(items) if items.is_empty() => "an empty list".to_owned(),
        DeValue::Array(items) if items.iter().all(|item| item.get_ref().is_table()) => {
            format!("a list with {} in it", counted(items.len(), "table"))
        }
        DeValue::Array(items) => {
            let shown = items.iter().map(|item| match item.get_ref() {
                DeValue::String(text) => format!("\"{}\"", quotable(text)),
                DeValue::Integer(number) => quotable(&number.to_string()),
                DeValue::Float(number) => quotable(&number.to_string()),
                DeValue::Array(items) => {
                    format!("another list of {}", counted(items.len(), "item"))
                }
                DeValue::Table(_) => "a table".to_owned(),
                DeValue::Boolean(_) | DeValue::Datetime(_) => describe(item.get_ref()),
            });
            format!("the list [{}]", first_few(shown))
        }
        DeValue::Table(table) if table.is_empty() => "an empty table".to_owned(),
        DeValue::Table(table) => {
            let keys = if table.len() == 1 { "key" } else { "keys" };
            let names = table
                .keys()
                .map(|key| format!("`{}`", quotable(key.get_ref())));
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
