//! Texts as regular expressions, which every dialect of them reads alike.

use crate::rules::ranges::Accepted;

/// A number as the reader takes one behind its sign: digits, at most one point.
const NUMBER: &str = r"([0-9]+\.?[0-9]*|\.[0-9]+)";
const PER_CENT: &str = r"\s*([0-9]+\.?[0-9]*|\.[0-9]+)\s*";

/// A time of day.
pub(super) const TIME_OF_DAY: &str = r"^\s*([01]?[0-9]|2[0-3]):[0-5][0-9]\s*$";
/// Nothing but blanks.
pub(super) const BLANK: &str = r"^\s*$";
/// Something besides blanks.
pub(super) const NOT_BLANK: &str = r"\S";

/// A number and a unit of one of the ranges.
pub(super) fn quantity(accepted: &[&Accepted]) -> String {
    format!(r"^\s*{}\s*$", number_and_unit(accepted))
}

/// The same of one cylinder, or of each of two.
pub(super) fn twins(accepted: &Accepted) -> String {
    format!(r"^\s*(2\s*[xX×]\s*)?{}\s*$", number_and_unit(&[accepted]))
}

/// The name of a gas.
pub(super) fn gas() -> String {
    let [air, oxygen, nitrox] = ["air", "oxygen", "EAN"].map(in_any_case);
    format!(r"^\s*({air}|{oxygen}|{nitrox}{PER_CENT}|{PER_CENT}/{PER_CENT})\s*$")
}

fn number_and_unit(accepted: &[&Accepted]) -> String {
    let spellings = accepted.iter().flat_map(|one| one.kind.spellings());
    let units: Vec<String> = spellings.map(in_any_case).collect();
    let may_be_below = |one: &&Accepted| one.kind.in_first_unit(one.least) < 0.0;
    let sign = if accepted.iter().any(may_be_below) {
        r"[+\-−]?"
    } else {
        r"\+?"
    };
    format!(r"{sign}{NUMBER}\s*({})", units.join("|"))
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
