//! The tables of tests/data: comments, a heading, rows of numbers and words.

/// The rows of a table as so many fields: no comments, no heading.
pub(crate) fn rows<const FIELDS: usize>(
    text: &'static str,
) -> impl Iterator<Item = [&'static str; FIELDS]> {
    text.lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| {
            let fields: Vec<_> = line.split(',').collect();
            fields.try_into().expect("as many fields as are read")
        })
}

pub(crate) fn number(field: &str) -> f64 {
    field.parse().expect("a number in a table of tests/data")
}
