//! Texts as regular expressions, which every dialect of them reads alike.

use crate::quantity::Kind;

/// A number as the reader takes one: a sign, digits, at most one point.
const NUMBER: &str = r"[+\-−]?([0-9]+\.?[0-9]*|\.[0-9]+)";
const PER_CENT: &str = r"\s*([0-9]+\.?[0-9]*|\.[0-9]+)\s*";

/// A time of day.
pub(super) const TIME_OF_DAY: &str = r"^\s*([01]?[0-9]|2[0-3]):[0-5][0-9]\s*$";
/// Nothing but blanks.
pub(super) const BLANK: &str = r"^\s*$";
/// Something besides blanks.
pub(super) const NOT_BLANK: &str = r"\S";

/// A number and a unit of one of the kinds.
pub(super) fn quantity(kinds: &[Kind]) -> String {
    format!(r"^\s*{}\s*$", number_and_unit(kinds))
}

/// The same of one cylinder, or of each of two.
pub(super) fn twins(kind: Kind) -> String {
    format!(r"^\s*(2\s*[xX×]\s*)?{}\s*$", number_and_unit(&[kind]))
}

/// The name of a gas.
pub(super) fn gas() -> String {
    let [air, oxygen, nitrox] = ["air", "oxygen", "EAN"].map(in_any_case);
    format!(r"^\s*({air}|{oxygen}|{nitrox}{PER_CENT}|{PER_CENT}/{PER_CENT})\s*$")
}

fn number_and_unit(kinds: &[Kind]) -> String {
    let spellings = kinds.iter().flat_map(|kind| kind.spellings());
    let units: Vec<String> = spellings.map(in_any_case).collect();
    format!(r"{NUMBER}\s*({})", units.join("|"))
}

/// A word in letters of either case, with blanks around a stroke.
fn in_any_case(word: &str) -> String {
    let letter = |c: char| match c {
        '/' => r"\s*/\s*".to_owned(),
        ' ' => r"\s+".to_owned(),
        '.' => r"\.".to_owned(),
        c if c.is_ascii_alphabetic() => {
            format!("[{}{}]", c.to_ascii_lowercase(), c.to_ascii_uppercase())
        }
        c => c.to_string(),
    };
    word.chars().map(letter).collect()
}
