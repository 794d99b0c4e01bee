//! Whether every number of a document is one.

use std::fmt::{self, Write};

use serde::Serialize;
use serde::ser::{Error, Impossible, SerializeSeq, SerializeStruct, Serializer};

/// Why there is no document: a figure in it is infinite or not a number. A defect of this program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotFinite {
    what: String,
}

impl fmt::Display for NotFinite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "internal check failed: {}", self.what)
    }
}

impl std::error::Error for NotFinite {}

impl Error for NotFinite {
    fn custom<T: fmt::Display>(what: T) -> Self {
        let what = what.to_string();
        Self { what }
    }
}

/// A document as it is, if every number in it is finite.
pub(super) fn finite<T: Serialize>(document: T) -> Result<T, NotFinite> {
    document.serialize(&mut Walk::default())?;
    Ok(document)
}

/// A way through a document by what serde is told of it: objects, lists and plain values.
#[derive(Debug, Default)]
struct Walk {
    /// The field that is looked at, as `divers[1].end_bar`.
    field: String,
}

impl Walk {
    fn look_at(&mut self, part: fmt::Arguments<'_>, value: &(impl Serialize + ?Sized)) -> Looked {
        let outside = self.field.len();
        self.field.write_fmt(part).map_err(NotFinite::custom)?;
        value.serialize(&mut *self)?;
        self.field.truncate(outside);
        Ok(())
    }

    fn no_place<T>(&self) -> Result<T, NotFinite> {
        let field = &self.field;
        Err(NotFinite::custom(format!(
            "{field} is neither an object nor a list nor a plain value"
        )))
    }
}

type Looked = Result<(), NotFinite>;

/// The items of a list.
struct Items<'w> {
    walk: &'w mut Walk,
    next: usize,
}

impl SerializeSeq for Items<'_> {
    type Ok = ();
    type Error = NotFinite;

    fn serialize_element<T: Serialize + ?Sized>(&mut self, value: &T) -> Looked {
        self.walk.look_at(format_args!("[{}]", self.next), value)?;
        self.next += 1;
        Ok(())
    }

    fn end(self) -> Looked {
        Ok(())
    }
}

impl SerializeStruct for &mut Walk {
    type Ok = ();
    type Error = NotFinite;

    fn serialize_field<T: Serialize + ?Sized>(&mut self, name: &'static str, value: &T) -> Looked {
        let dot = if self.field.is_empty() { "" } else { "." };
        self.look_at(format_args!("{dot}{name}"), value)
    }

    fn end(self) -> Looked {
        Ok(())
    }
}

/// Values that are never other than they should be.
macro_rules! fine {
    ($($name:ident: $type:ty),* $(,)?) => {
        $(fn $name(self, _: $type) -> Looked { Ok(()) })*
    };
}

/// Shapes that no document has.
macro_rules! no_place {
    ($($name:ident($($type:ty),*) -> $shape:ty),* $(,)?) => {
        $(fn $name(self, $(_: $type),*) -> Result<$shape, NotFinite> { self.no_place() })*
    };
}

type NoShape = Impossible<(), NotFinite>;

impl<'w> Serializer for &'w mut Walk {
    type Ok = ();
    type Error = NotFinite;
    type SerializeSeq = Items<'w>;
    type SerializeStruct = Self;
    type SerializeTuple = NoShape;
    type SerializeTupleStruct = NoShape;
    type SerializeTupleVariant = NoShape;
    type SerializeMap = NoShape;
    type SerializeStructVariant = NoShape;

    fine! {
        serialize_bool: bool, serialize_char: char, serialize_str: &str, serialize_bytes: &[u8],
        serialize_i8: i8, serialize_i16: i16, serialize_i32: i32, serialize_i64: i64,
        serialize_u8: u8, serialize_u16: u16, serialize_u32: u32, serialize_u64: u64,
        serialize_unit_struct: &'static str,
    }

    no_place! {
        serialize_tuple(usize) -> NoShape,
        serialize_tuple_struct(&'static str, usize) -> NoShape,
        serialize_tuple_variant(&'static str, u32, &'static str, usize) -> NoShape,
        serialize_map(Option<usize>) -> NoShape,
        serialize_struct_variant(&'static str, u32, &'static str, usize) -> NoShape,
    }

    fn serialize_f32(self, value: f32) -> Looked {
        self.serialize_f64(f64::from(value))
    }

    fn serialize_f64(self, value: f64) -> Looked {
        if value.is_finite() {
            Ok(())
        } else {
            let field = &self.field;
            Err(NotFinite::custom(format!("{field} is {value}")))
        }
    }

    fn serialize_none(self) -> Looked {
        Ok(())
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Looked {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Looked {
        Ok(())
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, _: &'static str) -> Looked {
        Ok(())
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, value: &T) -> Looked {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        value: &T,
    ) -> Looked {
        value.serialize(self)
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Items<'w>, NotFinite> {
        Ok(Items {
            walk: self,
            next: 0,
        })
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Self, NotFinite> {
        Ok(self)
    }
}

#[cfg(test)]
mod tests {
    use serde::Serialize;

    use super::finite;

    #[derive(Debug, PartialEq, Serialize)]
    struct Cylinder {
        fill_bar: f64,
        left_bar: Option<f64>,
    }

    #[derive(Debug, PartialEq, Serialize)]
    struct Team {
        cylinders: Vec<Cylinder>,
    }

    fn team(fill_bar: f64, left_bar: Option<f64>) -> Team {
        let full = Cylinder {
            fill_bar: 200.0,
            left_bar: None,
        };
        let other = Cylinder { fill_bar, left_bar };
        Team {
            cylinders: vec![full, other],
        }
    }

    #[test]
    fn finite_numbers_and_nulls_make_a_document() {
        for (fill, left) in [(0.0, None), (-0.0, Some(f64::MAX)), (1e-300, Some(-5.0))] {
            assert_eq!(finite(team(fill, left)), Ok(team(fill, left)));
        }
    }

    #[test]
    fn any_other_number_makes_none_and_its_field_is_told() {
        let told = |fill, left| finite(team(fill, left)).unwrap_err().to_string();
        assert_eq!(
            told(200.0, Some(f64::NAN)),
            "internal check failed: cylinders[1].left_bar is NaN"
        );
        assert_eq!(
            told(f64::INFINITY, None),
            "internal check failed: cylinders[1].fill_bar is inf"
        );
        assert!(told(f64::NEG_INFINITY, None).ends_with("fill_bar is -inf"));
    }
}
