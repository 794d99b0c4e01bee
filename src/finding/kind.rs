//! What every finding has, whatever its subject: a weight, a code, words, and what would help.

use super::case::Case;
use crate::gas::DiverBudget;
use crate::plan::Diver;
use crate::quantity::show::Show;
use serde::Serialize;

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Weight {
    /// The dive is off as planned.
    NoGo,
    /// The dive may go, but somebody must know this.
    Caution,
    /// Good to know.
    Note,
}

impl Weight {
    /// The word for it, in JSON and on the screen.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::NoGo => "no-go",
            Self::Caution => "caution",
            Self::Note => "note",
        }
    }
}

/// What would make a finding go away. The search for the nearest go asks it of no-gos.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Help {
    /// A shorter dive or a shallower one.
    TimeOrDepth,
    /// A shallower dive; no time helps.
    Depth,
    /// More gas in the main cylinder, or a shorter dive or a shallower one.
    MainGas,
    /// A later flight, or a shorter dive or a shallower one.
    LaterFlight,
    /// None of these: the site, the gases or the team would have to change.
    Other,
}

/// What is the same for all findings of a kind.
#[derive(Clone, Copy, Debug)]
pub(super) struct Kind {
    /// A name for scripts; does not change between versions.
    pub(super) code: &'static str,
    /// Two or three words for it.
    pub(super) in_short: &'static str,
    pub(super) weight: Weight,
    pub(super) help: Help,
}

/// Makes [`Subject::kind`] and, of the same rows, [`Subject::MEANINGS`]: neither can lack a fact.
///
/// A row: `pattern => code, two or three words, its meaning, weight, what would help;`
macro_rules! kinds {
    ($($fact:pat => $code:literal, $in_short:literal, $meaning:literal, $weight:expr, $help:expr;)+) => {
        const MEANINGS: &'static [(&'static str, &'static str)] = &[$(($code, $meaning)),+];

        fn kind(&self) -> $crate::finding::kind::Kind {
            match self {
                $($fact => $crate::finding::kind::Kind {
                    code: $code,
                    in_short: $in_short,
                    weight: $weight,
                    help: $help,
                },)+
            }
        }
    };
}
pub(super) use kinds;

/// How a finding is told, and about whom.
pub(super) struct Wording<'a> {
    /// In the units that were asked for.
    pub(super) show: Show,
    /// In the units of the diver's gauge.
    pub(super) gauge: Show,
    /// The diver; `None` for the whole team.
    pub(super) diver: Option<&'a str>,
}

impl<'a> Wording<'a> {
    /// Who it is about, at the beginning of a sentence.
    pub(super) fn who(&self) -> &'a str {
        self.diver.unwrap_or("The team")
    }
}

/// A subject: what can be found about it, and the rules that find it.
pub(super) trait Subject: Sized {
    /// The codes of all its facts, each once, and what each means.
    const MEANINGS: &'static [(&'static str, &'static str)];

    /// What kind of finding this is.
    fn kind(&self) -> Kind;

    /// A full sentence with the figures, rounded toward safety.
    fn message(&self, wording: &Wording<'_>) -> String;

    /// What is found for the whole team.
    fn of_team(_case: &Case<'_>) -> Vec<Self> {
        Vec::new()
    }

    /// What is found for one diver.
    fn of_diver(_case: &Case<'_>, _diver: &Diver, _budget: &DiverBudget) -> Vec<Self> {
        Vec::new()
    }
}
