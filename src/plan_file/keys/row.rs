//! What a row of the table of keys is.

use std::fmt::Debug;
use std::ops::RangeInclusive;

use crate::quantity::UnitSystem;
use crate::rules::ranges::{Accepted, AtMost};

/// A table of a file, its keys in the order in which messages name them.
#[derive(Debug)]
pub(crate) struct Section {
    /// What it is about.
    pub(crate) about: &'static str,
    pub(crate) keys: &'static [Key],
    /// Ways to say what it must say: it has the keys of one of them, and none that another has of
    /// those that [`Without::Or`] marks.
    pub(crate) ways: &'static [&'static [&'static str]],
    /// Keys that want another one beside them.
    pub(crate) needs: &'static [(&'static str, &'static str)],
    /// Keys of which no two stand beside each other.
    pub(crate) apart: &'static [&'static str],
}

/// A key of a file.
#[derive(Debug)]
pub(crate) struct Key {
    pub(crate) name: &'static str,
    pub(crate) holds: Holds,
    pub(crate) without: Without,
    /// What it is, in a line that goes on behind the key.
    pub(crate) about: &'static str,
}

/// What a key may hold.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Holds {
    /// A quantity.
    Quantity(&'static Accepted),
    /// A quantity of one cylinder or of each of two.
    Twins(&'static Accepted),
    /// A quantity of one kind or of the other.
    Either(&'static Accepted, &'static Accepted),
    /// Some of the quantities of a range.
    Some(&'static Accepted, fn() -> Vec<String>),
    /// A word of a list.
    Word(&'static (dyn Spelled + Sync)),
    /// A word of a list, or a quantity.
    WordOr(fn() -> Vec<&'static str>, &'static Accepted),
    /// A number.
    Number(&'static RangeInclusive<f64>),
    /// Two numbers, the first at most the second.
    Pair(&'static RangeInclusive<f64>),
    /// True or false.
    Flag,
    /// A text of so many characters at most.
    Text(usize),
    /// A time of day.
    TimeOfDay,
    /// A gas, as this one.
    Gas(&'static str),
    /// A list of gases.
    Gases(&'static AtMost),
    /// A list of divers.
    Names,
    /// A table.
    Table(&'static Section),
    /// A table, or false.
    TableOrFalse(&'static Section),
    /// A list of tables.
    Tables(&'static Section, &'static AtMost),
}

/// What holds where a key is left out.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Without {
    /// It must not be left out.
    Required,
    /// It may be left out where another key says the same, as words say.
    Or(&'static str),
    /// The same as with this value, as a file in these units has it.
    As(fn(UnitSystem) -> String),
    /// What words say.
    Said(&'static str),
}

/// Words that a key may hold.
pub(crate) trait Spelled: Debug {
    fn words(&self) -> Vec<&'static str>;
}

/// Words and what each means.
#[derive(Debug)]
pub(crate) struct Words<T: 'static>(pub(super) &'static [(&'static str, T)]);

impl<T: Copy> Words<T> {
    pub(crate) fn meaning(&self, word: &str) -> Option<T> {
        let mut words = self.0.iter();
        words.find_map(|(known, value)| (*known == word).then_some(*value))
    }

    /// The word for a value, in quotes.
    pub(crate) fn quoted(&self, value: T) -> String
    where
        T: PartialEq,
    {
        let word = self.0.iter().find(|(_, known)| *known == value);
        format!("\"{}\"", word.map_or("", |(word, _)| word))
    }
}

impl<T: Debug> Spelled for Words<T> {
    fn words(&self) -> Vec<&'static str> {
        self.0.iter().map(|(word, _)| *word).collect()
    }
}

/// A key by what the reader must know of it.
#[derive(Clone, Copy)]
pub(crate) struct Named<K> {
    pub(crate) name: &'static str,
    pub(crate) kind: K,
}

pub(crate) type QuantityKey = Named<&'static Accepted>;
pub(crate) type WordKey<T> = Named<&'static Words<T>>;
pub(crate) type NumberKey = Named<&'static RangeInclusive<f64>>;
/// The greatest number of characters.
pub(crate) type TextKey = Named<usize>;
pub(crate) type TableKey = Named<&'static Section>;
pub(crate) type TablesKey = Named<(&'static Section, &'static AtMost)>;
/// What is held says the reader of the key itself.
pub(crate) type OwnKey = Named<()>;

impl<K> Named<K> {
    pub(super) const fn new(name: &'static str, kind: K) -> Self {
        Self { name, kind }
    }

    /// The row of the key, by what it holds.
    pub(super) const fn holding(&self, holds: Holds, without: Without, about: &'static str) -> Key {
        Key {
            name: self.name,
            holds,
            without,
            about,
        }
    }
}

impl QuantityKey {
    pub(super) const fn row(&self, without: Without, about: &'static str) -> Key {
        self.holding(Holds::Quantity(self.kind), without, about)
    }
}

impl<T: Sync + Debug> WordKey<T> {
    pub(super) const fn row(&self, without: Without, about: &'static str) -> Key {
        self.holding(Holds::Word(self.kind), without, about)
    }
}

impl NumberKey {
    pub(super) const fn row(&self, without: Without, about: &'static str) -> Key {
        self.holding(Holds::Number(self.kind), without, about)
    }
}

impl TextKey {
    pub(super) const fn row(&self, without: Without, about: &'static str) -> Key {
        self.holding(Holds::Text(self.kind), without, about)
    }
}

impl TableKey {
    pub(super) const fn row(&self, without: Without, about: &'static str) -> Key {
        self.holding(Holds::Table(self.kind), without, about)
    }
}

impl TablesKey {
    pub(super) const fn row(&self, without: Without, about: &'static str) -> Key {
        self.holding(Holds::Tables(self.kind.0, self.kind.1), without, about)
    }
}

impl Section {
    /// Keys that stand each by itself.
    pub(super) const fn new(about: &'static str, keys: &'static [Key]) -> Self {
        Self {
            about,
            keys,
            ways: &[],
            needs: &[],
            apart: &[],
        }
    }

    /// The names of its keys.
    pub(crate) fn names(&self) -> Vec<&'static str> {
        self.keys.iter().map(|key| key.name).collect()
    }

    pub(crate) fn has(&self, name: &str) -> bool {
        self.keys.iter().any(|key| key.name == name)
    }
}

impl Holds {
    /// The quantities that it may be, one of them.
    pub(crate) fn quantities(&self) -> Vec<&'static Accepted> {
        match self {
            Self::Quantity(one) | Self::Twins(one) | Self::Some(one, _) | Self::WordOr(_, one) => {
                vec![one]
            }
            Self::Either(one, other) => vec![one, other],
            _ => Vec::new(),
        }
    }

    /// The words that it may be, one of them.
    pub(crate) fn words(&self) -> Vec<String> {
        let words = match self {
            Self::Word(words) => words.words(),
            Self::WordOr(words, _) => words(),
            Self::Some(_, values) => return values(),
            _ => Vec::new(),
        };
        words.into_iter().map(str::to_owned).collect()
    }

    /// The greatest number of characters, or of items of a list.
    pub(crate) const fn most(&self) -> Option<usize> {
        match self {
            Self::Text(longest) => Some(*longest),
            Self::Gases(most) | Self::Tables(_, most) => Some(most.most),
            _ => None,
        }
    }

    /// The table that stands under the key.
    pub(crate) const fn table(&self) -> Option<&'static Section> {
        match self {
            Self::Table(section) | Self::TableOrFalse(section) | Self::Tables(section, _) => {
                Some(section)
            }
            _ => None,
        }
    }
}

impl Without {
    /// What holds then, where words say it.
    pub(crate) const fn words(self) -> Option<&'static str> {
        match self {
            Self::Or(words) | Self::Said(words) => Some(words),
            Self::Required | Self::As(_) => None,
        }
    }

    /// The value that it is as, where there is one.
    pub(crate) fn value(self, units: UnitSystem) -> Option<String> {
        match self {
            Self::As(value) => Some(value(units)),
            Self::Required | Self::Or(_) | Self::Said(_) => None,
        }
    }
}
