//! A plan to begin with, every key of it explained.

use std::fmt::Write as _;

use super::keys::{Holds, Key, Section, Without, profile, team, top};
use crate::quantity::UnitSystem;
use crate::rules::ranges::DIVERS;

/// Columns of a line.
const COLUMNS: usize = 80;
/// Stands behind every figure that is nobody's yet.
const MARK: &str = "# an example: put in your own";
const TITLE: &str = "Starter plan: put in your own figures";

/// Nobody, or more divers than a plan may have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("a starter plan for {0} divers")]
#[non_exhaustive]
pub struct StarterError(usize);

impl StarterError {
    /// How many there may be.
    #[must_use]
    pub fn accepted(&self) -> String {
        format!("1 to {} {}", DIVERS.most, DIVERS.what)
    }
}

/// The text of a plan to begin with, in metric or in imperial units, for so many divers.
///
/// Every key is in it with its range and what holds without it. Depth, time, consumption and
/// cylinders are examples, marked as such, of a shallow dive with a large consumption: it can be
/// briefed as it is, and its title says that its figures are nobody's.
///
/// # Errors
/// [`StarterError`] unless there is a diver, and no more than a plan may have.
///
/// # Example
/// ```
/// use hangbar::plan_file::{read, starter_plan};
/// use hangbar::quantity::UnitSystem;
/// let plan = read(&starter_plan(UnitSystem::Imperial, 4)?)?;
/// assert_eq!(plan.divers().len(), 4);
/// assert_eq!(plan.title(), Some("Starter plan: put in your own figures"));
/// assert!(starter_plan(UnitSystem::Metric, 0).is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn starter_plan(units: UnitSystem, divers: usize) -> Result<String, StarterError> {
    if divers == 0 || DIVERS.check(divers).is_err() {
        return Err(StarterError(divers));
    }
    let mut starter = Starter {
        units,
        text: String::new(),
    };
    starter.head();
    let keys = || top::PLAN.keys.iter();
    for key in keys().filter(|key| key.holds.table().is_none()) {
        let value = match key.name {
            name if name == top::TITLE.name => Some(format!("\"{TITLE}\"")),
            name if name == top::UNITS.name => Some(top::UNITS.kind.quoted(units)),
            _ => None,
        };
        starter.explained(key, value, "");
    }
    for key in keys() {
        match key.holds {
            Holds::Table(section) => {
                starter.header(&format!("[{}]", key.name), section);
                starter.keys_of(section, &examples(key.name, units));
            }
            Holds::Tables(section, _) if key.name == top::DIVER_TABLES.name => {
                starter.divers(section, divers);
            }
            Holds::Tables(section, _) => {
                starter.header(&format!("#[[{}]]", key.name), section);
                starter.keys_of(section, &[]);
            }
            _ => {}
        }
    }
    Ok(starter.text)
}

/// The figures of a table that a plan cannot do without: those of a short, shallow dive of divers
/// who breathe much.
fn examples(table: &str, units: UnitSystem) -> Vec<(&'static str, &'static str)> {
    let of = |metric: &'static str, imperial: &'static str| match units {
        UnitSystem::Metric => metric,
        UnitSystem::Imperial => imperial,
    };
    if table == top::PROFILE_TABLE.name {
        vec![
            (profile::ONE_DEPTH.name, of("\"10 m\"", "\"30 ft\"")),
            (profile::BOTTOM_TIME.name, "\"20 min\""),
        ]
    } else if table == top::DIVER_TABLES.name {
        vec![
            (team::SAC.name, of("\"25 L/min\"", "\"0.9 cuft/min\"")),
            (
                team::CYLINDER.name,
                of(
                    "{ size = \"12 L\", fill = \"200 bar\" }",
                    "{ rated = \"80 cuft\", at = \"3000 psi\", fill = \"3000 psi\" }",
                ),
            ),
        ]
    } else {
        Vec::new()
    }
}

/// The text under way.
struct Starter {
    units: UnitSystem,
    text: String,
}

impl Starter {
    fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    fn comment(&mut self, text: &str) {
        let options = textwrap::Options::new(COLUMNS)
            .word_splitter(textwrap::WordSplitter::NoHyphenation)
            .initial_indent("# ")
            .subsequent_indent("# ");
        for line in textwrap::wrap(text, options) {
            self.line(&line);
        }
    }

    fn head(&mut self) {
        self.comment(
            "A plan to begin with. It is nobody's dive: what is marked as an example must be put in \
             before anybody dives by it. Depth and time are those of your dive, consumption and \
             cylinders those of your divers; then change the title.",
        );
        self.line("#");
        self.comment(
            "A line as #key = … does nothing. It shows what holds without the key, or, where the \
             line above it says that nothing does, how it is written. Take its # away and change \
             it. `hangbar keys` says the same of every key.",
        );
        self.line("#");
        self.comment(
            "An editor that completes TOML by a schema takes the one that `hangbar schema plan` \
             gives: as plan.schema.json beside this file, with a first line",
        );
        self.line("# #:schema ./plan.schema.json");
        self.comment("that begins with its second #.");
        self.text.push('\n');
    }

    fn header(&mut self, header: &str, section: &Section) {
        let about = format!("{}.", capital(section.about));
        self.text.push('\n');
        self.comment(&about);
        self.line(header);
    }

    fn keys_of(&mut self, section: &Section, examples: &[(&str, &str)]) {
        for key in section.keys {
            let example = examples.iter().find(|(name, _)| *name == key.name);
            let value = example.map(|(_, value)| (*value).to_owned());
            self.explained(key, value, MARK);
        }
    }

    /// A key with what it is above it: with a value, or behind a `#`.
    fn explained(&mut self, key: &Key, value: Option<String>, mark: &str) {
        self.comment(&explanation(key, self.units));
        match value {
            Some(value) => self.marked(key.name, &value, mark),
            None => {
                let usual = key.without.value(self.units);
                let shown = usual.unwrap_or_else(|| key.holds.example(self.units));
                self.line(&format!("#{} = {shown}", key.name));
            }
        }
    }

    /// A key and its value with the mark behind it, or above it where there is no room.
    fn marked(&mut self, key: &str, value: &str, mark: &str) {
        let line = format!("{key} = {value}");
        if mark.is_empty() {
            self.line(&line);
        } else if line.len() + mark.len() + 2 <= COLUMNS {
            self.line(&format!("{line}  {mark}"));
        } else {
            self.line(mark);
            self.line(&line);
        }
    }

    /// The first with every key, the others with what each must have.
    fn divers(&mut self, section: &Section, count: usize) {
        let examples = examples(top::DIVER_TABLES.name, self.units);
        let header = format!("[[{}]]", top::DIVER_TABLES.name);
        for number in 1..=count {
            let name = format!("\"Diver {number}\"");
            if number == 1 {
                self.header(&header, section);
                let name = [(team::NAME.name, name.as_str())];
                self.keys_of(section, &[&name[..], &examples].concat());
                continue;
            }
            let _ = write!(self.text, "\n{header}\n");
            for (key, value) in [(team::NAME.name, name.as_str())].iter().chain(&examples) {
                self.marked(key, value, MARK);
            }
        }
    }
}

/// What a key is, what it may hold, and what holds without it.
fn explanation(key: &Key, units: UnitSystem) -> String {
    let without = match key.without {
        Without::Required => "Must be there.".to_owned(),
        Without::As(value) => format!("Without it: {}.", value(units)),
        Without::Or(words) | Without::Said(words) => format!("Without it: {words}."),
    };
    format!(
        "{}: {}. Accepted: {}. {without}",
        key.name,
        key.about,
        key.holds.accepted()
    )
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}
