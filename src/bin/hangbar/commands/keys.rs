//! `hangbar keys`: every key of a plan file, or of a record.

use hangbar::report::{self, KeyFile, KeySheet, NoSuchTable, document};

use crate::args::{Format, KeysArgs};
use crate::outcome::{Outcome, Status};
use crate::paper::{columns, wants_colour};
use crate::refusal::Refusal;
use crate::render::json;
use crate::render::terminal::Terminal;

pub(super) fn run(args: &KeysArgs) -> Result<Outcome, Refusal> {
    let file = if args.record {
        KeyFile::Record
    } else {
        KeyFile::Plan
    };
    let sheet = match &args.table {
        Some(name) => KeySheet::of(file, name).map_err(refusal)?,
        None => KeySheet::all(file),
    };
    let output = match args.format {
        Format::Text => {
            let colour = wants_colour(args.color);
            let report = report::keys(&sheet);
            Ok(Terminal::draw(&report, colour, columns(&args.width)))
        }
        Format::Json => json::pretty(document::Keys::try_from(&sheet)),
    };
    Ok(Outcome::of(output, Status::Go))
}

fn refusal(error: NoSuchTable) -> Refusal {
    let meant = error.meant.as_ref();
    let meant = meant.map(|meant| format!("; did you mean {meant}?"));
    Refusal::Option {
        option: "TABLE",
        message: format!("{error}{}", meant.unwrap_or_default()),
        accepted: Some(error.known.join(", ")),
    }
}
