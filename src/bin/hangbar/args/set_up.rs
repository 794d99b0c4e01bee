//! To begin with: a plan, keys, schemas, the shell, the manual.

use std::path::PathBuf;

use clap::Args;
use hangbar::report::SchemaOf;

use super::examples::{self, AFTER_HELP};
use super::shown::{Color, Format, Width};
use super::values::schema_of;

#[derive(Debug, Args)]
#[command(before_help = examples::COMPLETIONS)]
pub(crate) struct CompletionsArgs {
    /// The shell
    #[arg(value_enum)]
    pub(crate) shell: clap_complete::Shell,
}

#[derive(Debug, Args)]
#[command(before_help = examples::MANUAL)]
pub(crate) struct ManualArgs {
    /// The command whose page it is; left out: that of hangbar itself
    #[arg(value_name = "COMMAND", conflicts_with = "into")]
    pub(crate) command: Option<String>,

    /// Write every page into this folder, in the place of older ones
    #[arg(long, value_name = "FOLDER")]
    pub(crate) into: Option<PathBuf>,
}

#[derive(Debug, Args)]
#[command(before_help = examples::NEW, after_help = AFTER_HELP)]
pub(crate) struct NewArgs {
    /// The plan's new file, or - for standard output. Writes over nothing
    #[arg(value_name = "FILE.toml")]
    pub(crate) file: PathBuf,

    /// A plan in feet, psi and cubic feet
    #[arg(long)]
    pub(crate) imperial: bool,

    /// How many divers, 1 to 50
    #[arg(long, value_name = "NUMBER", default_value_t = 2)]
    pub(crate) divers: usize,
}

#[derive(Debug, Args)]
#[command(before_help = examples::SCHEMA, after_help = AFTER_HELP)]
pub(crate) struct SchemaArgs {
    /// Of which file or document
    #[arg(value_name = "NAME", value_parser = schema_of())]
    pub(crate) of: SchemaOf,
}

#[derive(Debug, Args)]
#[command(before_help = examples::KEYS, after_help = AFTER_HELP)]
pub(crate) struct KeysArgs {
    /// One table and those in it, as site or diver.cylinder; top: the keys above every table
    #[arg(value_name = "TABLE")]
    pub(crate) table: Option<String>,

    /// The keys of what divers write down of a dive, as brief --record lays it out
    #[arg(long)]
    pub(crate) record: bool,

    /// Text for people, or JSON for scripts
    #[arg(long, value_enum, default_value_t = Format::Text, help_heading = "Output")]
    pub(crate) format: Format,

    /// Colour: on a terminal, always, or never
    #[arg(long, value_enum, default_value_t = Color::Auto, help_heading = "Output")]
    pub(crate) color: Color,

    #[command(flatten)]
    pub(crate) width: Width,
}
