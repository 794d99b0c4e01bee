//! `hangbar new`: a plan to begin with.

use std::path::Path;

use hangbar::plan_file::starter_plan;
use hangbar::quantity::UnitSystem;

use crate::args::NewArgs;
use crate::outcome::Outcome;
use crate::refusal::Refusal;
use crate::render::names::{harmless, is_standard_input};
use crate::written::write_new;

const NEW_FILE: &str = "the name of a new file that ends in .toml, or - for standard output";

pub(super) fn run(args: &NewArgs) -> Result<Outcome, Refusal> {
    let units = if args.imperial {
        UnitSystem::Imperial
    } else {
        UnitSystem::Metric
    };
    let text = starter_plan(units, args.divers).map_err(|error| Refusal::Option {
        option: "--divers",
        message: error.to_string(),
        accepted: Some(error.accepted()),
    })?;
    if is_standard_input(&args.file) {
        return Ok(Outcome {
            output: text,
            ..Outcome::default()
        });
    }
    is_named_as_a_plan(&args.file)?;
    write_new(&args.file, &text).map_err(refused)?;
    let shown = harmless(&args.file.to_string_lossy());
    Ok(Outcome {
        errors: format!(
            "note: wrote a starter plan to {shown}: its figures are examples, put in your own\n"
        ),
        ..Outcome::default()
    })
}

fn is_named_as_a_plan(path: &Path) -> Result<(), Refusal> {
    let ending = path.extension();
    if ending.is_some_and(|ending| ending.eq_ignore_ascii_case("toml")) {
        return Ok(());
    }
    let shown = harmless(&path.to_string_lossy());
    Err(refused(format!("{shown} is no name for a plan")))
}

fn refused(message: String) -> Refusal {
    Refusal::Option {
        option: "FILE.toml",
        message,
        accepted: Some(NEW_FILE.to_owned()),
    }
}
