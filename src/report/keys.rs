//! The keys of a file: what each is, what it may hold, what holds without it.

use super::key_sheet::{KeyFile, KeySheet};
use super::sheet::{Align, NO_BREAK, Report, Table};
use crate::plan_file::{Key, Placed, Without};
use crate::quantity::UnitSystem;

/// The keys of a file in words.
#[must_use]
pub fn keys(sheet: &KeySheet) -> Report {
    let mut report = Report::default();
    report.title(
        "",
        match sheet.file() {
            KeyFile::Plan => "Keys of a plan file",
            KeyFile::Record => "Keys of a record that divers write down",
        },
    );
    report.paragraph(
        "A quantity is a text of a number and its unit, in any of the units named. Unknown keys \
         are errors.",
    );
    for placed in sheet.tables() {
        report.heading(heading(placed));
        let mut table = Table::new(&[("", Align::Left), ("", Align::Left)]);
        for key in placed.section.keys {
            table.rows.push(vec![key.name.to_owned(), about(key)]);
        }
        report.table(table);
    }
    report
}

fn heading(placed: &Placed) -> String {
    let about = placed.section.about;
    match placed.header.as_str() {
        "" => format!("At the top: {about}"),
        header => format!("{header}: {about}"),
    }
}

fn about(key: &Key) -> String {
    let mut letters = key.about.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    let about = first.unwrap_or_default() + letters.as_str();
    let accepted = key.holds.accepted();
    format!(
        "{}. {}",
        whole(&format!("{about}: {accepted}")),
        without(key.without)
    )
}

fn without(without: Without) -> String {
    match without {
        Without::Required => "Must be there.".to_owned(),
        Without::Or(words) | Without::Said(words) => format!("Without it: {words}."),
        Without::As(value) => {
            let (metric, imperial) = (value(UnitSystem::Metric), value(UnitSystem::Imperial));
            if metric == imperial {
                format!("Without it: {}.", whole(&metric))
            } else {
                let (metric, imperial) = (whole(&metric), whole(&imperial));
                format!("Without it: {metric}, or {imperial} in imperial plans.")
            }
        }
    }
}

/// What stands in quotes is not parted by the end of a line.
fn whole(text: &str) -> String {
    let pieces = text.split('"').enumerate();
    let pieces: Vec<String> = pieces
        .map(|(index, piece)| match index % 2 {
            0 => piece.to_owned(),
            _ => piece.replace(' ', NO_BREAK),
        })
        .collect();
    pieces.join("\"")
}
