//! Why there is no debrief.

use crate::briefing::BriefingError;

/// Why there is no debrief.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum DebriefError {
    /// The plan has nobody whose record could be held against it.
    #[error("the plan has no [[diver]]: a record is of a diver of the plan")]
    NoDiver,
    /// There is no record.
    #[error("there is no record")]
    NoRecord,
    /// The plan has no briefing.
    #[error(transparent)]
    Plan(#[from] BriefingError),
    /// Nobody knows whose a record is.
    #[error("{file} does not say whose dive it is")]
    Whose {
        /// The record.
        file: String,
        /// Who dives by the plan.
        names: Vec<String>,
    },
    /// A record is of somebody who is not in the plan.
    #[error("{file}: nobody of the plan is called \"{name}\"")]
    Nobody {
        /// The record.
        file: String,
        /// The name.
        name: String,
        /// The name that was probably meant.
        meant: Option<String>,
        /// Who dives by the plan.
        names: Vec<String>,
    },
    /// In a record nobody dives.
    #[error("{file}, dive {number}: nobody is deeper than 0.3 m")]
    NoDive {
        /// The record.
        file: String,
        /// Which dive of it, from 1.
        number: usize,
    },
    /// A pencil log cannot have been dived.
    #[error("{file}, line {line}, {name}: {why}")]
    Pencil {
        /// The record.
        file: String,
        /// Line of the table.
        line: u64,
        /// Whose it is.
        name: String,
        /// Why.
        why: String,
    },
}

impl DebriefError {
    /// The record that it is about; `None` where it is the plan or the command.
    #[must_use]
    pub fn file(&self) -> Option<&str> {
        match self {
            Self::NoDiver | Self::NoRecord | Self::Plan(_) => None,
            Self::Whose { file, .. }
            | Self::Nobody { file, .. }
            | Self::NoDive { file, .. }
            | Self::Pencil { file, .. } => Some(file),
        }
    }

    /// What is accepted instead.
    #[must_use]
    pub fn accepted(&self) -> Option<String> {
        match self {
            Self::NoDiver => Some("a plan with a [[diver]] for each record".to_owned()),
            Self::NoRecord => Some("at least one record".to_owned()),
            Self::Plan(_) => None,
            Self::Whose { file, names } => Some(format!(
                "NAME={file} with the name of a diver of the plan: {}; or a line `# diver: NAME` \
                 in it",
                names.join(", ")
            )),
            Self::Nobody { meant, names, .. } => {
                let meant = meant
                    .as_ref()
                    .map_or_else(String::new, |meant| format!("; did you mean `{meant}`?"));
                Some(format!("a diver of the plan: {}{meant}", names.join(", ")))
            }
            Self::NoDive { .. } => Some("a record of a dive".to_owned()),
            Self::Pencil { .. } => {
                Some("a greatest depth and a bottom time that were dived by this plan".to_owned())
            }
        }
    }
}
