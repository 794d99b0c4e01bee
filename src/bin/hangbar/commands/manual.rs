//! `hangbar manual`: the help of each command as a manual page.

use std::path::Path;

use clap::{Command, CommandFactory};
use clap_mangen::Man;

use crate::args::{Cli, ManualArgs};
use crate::outcome::{Outcome, Status};
use crate::refusal::Refusal;
use crate::render::names::harmless;
use crate::written::replace;

pub(super) fn run(args: &ManualArgs) -> Result<Outcome, Refusal> {
    let pages = pages();
    match &args.into {
        Some(folder) => into(folder, &pages),
        None => {
            let wanted = args.command.as_deref();
            let page = pages.iter().find(|page| page.command.as_deref() == wanted);
            let page = page.ok_or_else(|| nobody_s(wanted.unwrap_or_default(), &pages))?;
            Ok(Outcome::of(page.text(), Status::Go))
        }
    }
}

/// A page: of a command, or of all of it.
struct Page {
    command: Option<String>,
    words: Command,
}

impl Page {
    /// As `hangbar-brief`.
    fn name(&self) -> String {
        let command = self.command.as_deref();
        command.map_or_else(|| "hangbar".to_owned(), |name| format!("hangbar-{name}"))
    }

    fn text(&self) -> Result<String, String> {
        let mut text = Vec::new();
        let page = Man::new(self.words.clone()).title(self.name().to_uppercase());
        page.render(&mut text).map_err(|error| error.to_string())?;
        String::from_utf8(text).map_err(|error| error.to_string())
    }
}

fn pages() -> Vec<Page> {
    let mut whole = Cli::command().disable_help_subcommand(true);
    whole.build();
    let commands = whole.get_subcommands().map(|command| {
        let name = command.get_name().to_owned();
        Page {
            words: command.clone().display_name(format!("hangbar-{name}")),
            command: Some(name),
        }
    });
    let commands: Vec<Page> = commands.collect();
    let first = Page {
        command: None,
        words: whole,
    };
    std::iter::once(first).chain(commands).collect()
}

fn into(folder: &Path, pages: &[Page]) -> Result<Outcome, Refusal> {
    let mut told = String::new();
    for page in pages {
        let file = folder.join(format!("{}.1", page.name()));
        let text = page.text().map_err(Refusal::Check)?;
        replace(&file, &text).map_err(|message| Refusal::Option {
            option: "--into",
            message,
            accepted: Some("a folder that is there and may be written to".to_owned()),
        })?;
        let shown = harmless(&file.to_string_lossy());
        told.push_str(&format!("wrote {shown}\n"));
    }
    Ok(Outcome::of(Ok(told), Status::Go))
}

fn nobody_s(wanted: &str, pages: &[Page]) -> Refusal {
    let names = pages.iter().filter_map(|page| page.command.as_deref());
    let names: Vec<&str> = names.collect();
    Refusal::Option {
        option: "COMMAND",
        message: format!("there is no command `{}`", harmless(wanted)),
        accepted: Some(format!("one of {}", names.join(", "))),
    }
}
