//! The tables of a file in order, each with its place.

use super::row::{Holds, Section};

/// A table and where it stands.
#[derive(Debug)]
pub(crate) struct Placed {
    /// Names of the keys that lead to it with points between; empty at the top.
    pub(crate) path: String,
    /// The table as messages name it: `[site]`, `[[profile.level]]`, `[[diver]] cylinder`; empty at
    /// the top.
    pub(crate) header: String,
    pub(crate) section: &'static Section,
    /// How many of it there may be; `None` of a table that stands once.
    pub(crate) most: Option<usize>,
}

impl Section {
    /// This table at the top of a file, and behind it every one below it.
    pub(crate) fn placed(&'static self) -> Vec<Placed> {
        let mut placed = vec![Placed {
            path: String::new(),
            header: String::new(),
            section: self,
            most: None,
        }];
        // Grows while it is gone through: no table of the files holds itself.
        let mut next = 0;
        while let Some(above) = placed.get(next) {
            let below: Vec<Placed> = above.below().collect();
            next += 1;
            placed.splice(next..next, below);
        }
        placed
    }
}

impl Placed {
    fn below(&self) -> impl Iterator<Item = Self> {
        let keys = self.section.keys.iter();
        keys.filter_map(|key| {
            let most = match key.holds {
                Holds::Tables(_, most) => Some(most.most),
                _ => None,
            };
            Some(Self {
                path: match self.path.as_str() {
                    "" => key.name.to_owned(),
                    path => format!("{path}.{}", key.name),
                },
                header: self.header_below(key.name, most.is_some()),
                section: key.holds.table()?,
                most,
            })
        })
    }

    fn header_below(&self, key: &str, is_list: bool) -> String {
        match (self.header.as_str(), self.most, is_list) {
            ("", _, false) => format!("[{key}]"),
            ("", _, true) => format!("[[{key}]]"),
            (_, None, true) => format!("[[{}.{key}]]", self.path),
            (header, ..) => format!("{header} {key}"),
        }
    }
}
