//! Which keys somebody asks about.

use crate::plan_file::{PLAN_KEYS, Placed, RECORD_KEYS};
use crate::quantity::nearest;

/// A kind of file that has keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeyFile {
    /// A plan.
    Plan,
    /// What divers wrote down of a dive.
    Record,
}

/// The keys of a file, or of one of its tables and those in it.
#[derive(Debug)]
pub struct KeySheet {
    file: KeyFile,
    tables: Vec<Placed>,
}

/// No table of the file is called so.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("no table of the file is called {}", crate::letters::quotable(.name))]
#[non_exhaustive]
pub struct NoSuchTable {
    /// What was asked for.
    pub name: String,
    /// The name that was probably meant.
    pub meant: Option<String>,
    /// All names.
    pub known: Vec<String>,
}

/// The name of the keys above every table.
const TOP: &str = "top";

impl KeySheet {
    /// All keys of a file.
    #[must_use]
    pub fn all(file: KeyFile) -> Self {
        let root = match file {
            KeyFile::Plan => &PLAN_KEYS,
            KeyFile::Record => &RECORD_KEYS,
        };
        Self {
            file,
            tables: root.placed(),
        }
    }

    /// The keys of a table, as `site` or `diver.cylinder`, and of those in it; `top` are the keys
    /// above every table. Brackets around the name are nothing.
    ///
    /// # Errors
    /// [`NoSuchTable`] where no table is called so.
    ///
    /// # Example
    /// ```
    /// use hangbar::report::{KeyFile, KeySheet, keys};
    /// let site = KeySheet::of(KeyFile::Plan, "site")?;
    /// assert!(keys(&site).blocks.len() > 3);
    /// let slip = KeySheet::of(KeyFile::Plan, "divers").unwrap_err();
    /// assert_eq!(slip.meant.as_deref(), Some("diver"));
    /// # Ok::<(), hangbar::report::NoSuchTable>(())
    /// ```
    pub fn of(file: KeyFile, name: &str) -> Result<Self, NoSuchTable> {
        let Self { tables, .. } = Self::all(file);
        let names = tables.iter().map(|table| name_of(table).to_owned());
        let known: Vec<String> = names.collect();
        let wanted = name.trim().trim_matches(['[', ']']);
        let Some(wanted) = known.iter().find(|known| *known == wanted) else {
            return Err(NoSuchTable {
                name: name.to_owned(),
                meant: nearest(wanted, known.iter().map(String::as_str)).map(str::to_owned),
                known,
            });
        };
        let is_in = |table: &Placed| {
            let below = name_of(table).strip_prefix(wanted.as_str());
            below.is_some_and(|below| below.is_empty() || below.starts_with('.'))
        };
        Ok(Self {
            file,
            tables: tables.into_iter().filter(is_in).collect(),
        })
    }

    /// Of which file.
    #[must_use]
    pub const fn file(&self) -> KeyFile {
        self.file
    }

    pub(super) fn tables(&self) -> &[Placed] {
        &self.tables
    }
}

fn name_of(table: &Placed) -> &str {
    match table.path.as_str() {
        "" => TOP,
        path => path,
    }
}
