//! Serde for types that are text outside: what `Display` writes, `FromStr` reads.

use std::fmt;
use std::marker::PhantomData;
use std::str::FromStr;

use serde::de::{Deserializer, Error, Visitor};

/// `Serialize` and `Deserialize` of a type by its text; the words say what is expected where
/// something else is found.
macro_rules! serde_as_text {
    ($name:ident, $expected:expr) => {
        /// As text.
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }

        /// From text.
        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                $crate::quantity::serde_text::from_text(deserializer, $expected)
            }
        }
    };
}
pub(crate) use serde_as_text;

pub(crate) fn from_text<'de, T, D>(deserializer: D, expected: &str) -> Result<T, D::Error>
where
    T: FromStr<Err: fmt::Display>,
    D: Deserializer<'de>,
{
    let value = PhantomData;
    deserializer.deserialize_str(Text { expected, value })
}

struct Text<'e, T> {
    expected: &'e str,
    value: PhantomData<T>,
}

impl<T: FromStr<Err: fmt::Display>> Visitor<'_> for Text<'_, T> {
    type Value = T;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.expected)
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<T, E> {
        text.parse().map_err(E::custom)
    }
}
