//! How divers are called where room is short: by the first of their names, if nobody else is.

use hangbar::report::{Block, Report, Table};

/// A name, and what its diver is called.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::render) struct Call {
    name: String,
    call: String,
}

/// Whether a word is written as a name is: no sentence has two of them side by side by chance.
fn is_named(word: &str) -> bool {
    word.chars().next().is_some_and(char::is_uppercase)
}

/// The calls of a team, only of those who have a shorter one.
pub(in crate::render) fn calls<'a>(names: impl Iterator<Item = &'a str> + Clone) -> Vec<Call> {
    let first = |name: &'a str| name.split(' ').next().unwrap_or(name);
    let shorter = names.clone().filter(|name| {
        let words: Vec<&str> = name.split(' ').collect();
        let call = first(name);
        let others = names.clone().filter(|other| other != name);
        let is_own = others.clone().count() + 1 == names.clone().count()
            && others.clone().all(|other| first(other) != call);
        let named = words.iter().filter(|word| is_named(word)).count();
        named > 1 && is_named(words[0]) && is_own
    });
    let mut calls: Vec<Call> = shorter
        .map(|name| Call {
            name: name.to_owned(),
            call: first(name).to_owned(),
        })
        .collect();
    // A name that is the beginning of another one waits for it.
    calls.sort_by_key(|call| std::cmp::Reverse(call.name.len()));
    calls
}

/// What of a name is called, and what is not.
pub(in crate::render) fn parted<'a>(name: &'a str, calls: &[Call]) -> (&'a str, &'a str) {
    let call = calls.iter().find(|call| call.name == name);
    name.split_at(call.map_or(name.len(), |call| call.call.len()))
}

/// A text in which everybody is called.
fn called(text: &str, calls: &[Call]) -> String {
    let mut short = String::with_capacity(text.len());
    let mut at = 0;
    while let Some(c) = text[at..].chars().next() {
        let inside = text[..at]
            .chars()
            .next_back()
            .is_some_and(char::is_alphanumeric);
        let named = calls.iter().filter(|_| !inside).find(|call| {
            let rest = text[at..].strip_prefix(call.name.as_str());
            rest.is_some_and(|rest| !rest.chars().next().is_some_and(char::is_alphanumeric))
        });
        match named {
            Some(call) => {
                short.push_str(&call.call);
                at += call.name.len();
            }
            None => {
                short.push(c);
                at += c.len_utf8();
            }
        }
    }
    short
}

/// A report in which everybody is called.
pub(in crate::render) fn calling(report: &Report, calls: &[Call]) -> Report {
    let blocks = report.blocks.iter().map(|block| match block {
        Block::Paragraph(text) => Block::Paragraph(called(text, calls)),
        Block::Marked { tone, mark, text } => Block::Marked {
            tone: *tone,
            mark: mark.clone(),
            text: called(text, calls),
        },
        Block::Table(table) => Block::Table(Table {
            units: table.units.clone(),
            columns: table.columns.clone(),
            rows: table
                .rows
                .iter()
                .map(|row| row.iter().map(|cell| called(cell, calls)).collect())
                .collect(),
        }),
        other => other.clone(),
    });
    Report {
        blocks: blocks.collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::{called, calls, parted};

    const TEAM: [&str; 6] = [
        "Anna Lind",
        "Anna Lind-Holm",
        "Bo Ek",
        "Bo",
        "Runa von Haugen",
        "the way up",
    ];

    #[test]
    fn only_who_is_alone_with_the_first_name_is_called_by_it() {
        let calls = calls(TEAM.iter().copied());
        assert_eq!(
            called(
                "Runa von Haugen at 5 m: on Anna Lind's gas the way up, Bo Ek's not",
                &calls
            ),
            "Runa at 5 m: on Anna Lind's gas the way up, Bo Ek's not"
        );
        assert_eq!(parted("Runa von Haugen", &calls), ("Runa", " von Haugen"));
        assert_eq!(parted("Bo Ek", &calls), ("Bo Ek", ""));
    }

    #[test]
    fn a_name_inside_another_word_stays() {
        let calls = calls(["Ida Moe", "Ida-Marie Moe", "Jo Dal"].into_iter());
        assert_eq!(
            called("Jo Dal, Jo Dale, xJo Dal", &calls),
            "Jo, Jo Dale, xJo Dal"
        );
        assert_eq!(called("Ida Moe, Ida-Marie Moe", &calls), "Ida, Ida-Marie");
    }
}
