//! Gases of a UDDF file by their ids, which may be named before they are defined.

use std::collections::BTreeMap;

use crate::site::{LEAST_OXYGEN_PCT, Mix};

use super::super::log::RecordError;
use super::super::words::quoted;
use super::element::Element;
use super::value::Value;

/// More gases than a whole log book names.
const MOST_GASES: usize = 10_000;
/// Longest id, in bytes.
const MOST_ID: usize = 256;
/// Gases in the air that a file may leave out or round away: the fractions come to 1 within this.
const LEFT_OUT: f64 = 0.015;

/// What fractions are accepted.
const FRACTIONS: &str = "fractions of 1, as 0.32 for 32 %, of oxygen (0.05 to 1), helium and \
    nitrogen that come to 1";

/// Ids and the gases behind them.
#[derive(Default)]
pub(super) struct Gases {
    numbers: BTreeMap<String, usize>,
    entries: Vec<Entry>,
    draft: Draft,
}

struct Entry {
    /// Where it is first named.
    line: u64,
    mix: Option<Mix>,
}

/// A `mix` while it is read.
#[derive(Default)]
struct Draft {
    line: u64,
    id: Option<String>,
    oxygen: Option<f64>,
    helium: Option<f64>,
    nitrogen: Option<f64>,
    others: f64,
}

impl Gases {
    /// The number of an id, a new one if need be.
    pub(super) fn number(&mut self, id: &str, line: u64) -> Result<usize, RecordError> {
        if let Some(number) = self.numbers.get(id) {
            return Ok(*number);
        }
        let number = self.entries.len();
        if id.len() > MOST_ID || number == MOST_GASES {
            let message = format!("the id {} is too long, or one too many", quoted(id));
            let accepted = format!("up to {MOST_GASES} ids of at most {MOST_ID} bytes");
            return Err(RecordError::new(Some(line), message, accepted));
        }
        self.numbers.insert(id.to_owned(), number);
        self.entries.push(Entry { line, mix: None });
        Ok(number)
    }

    /// The gas of a number; a gas that is named must be defined somewhere in the file.
    pub(super) fn mix(&self, number: usize) -> Result<Mix, RecordError> {
        let entry = self.entries.get(number);
        if let Some(mix) = entry.and_then(|entry| entry.mix) {
            return Ok(mix);
        }
        let id = self.numbers.iter().find(|(_, known)| **known == number);
        let id = quoted(id.map_or("", |(id, _)| id));
        let message = format!("`switchmix` names {id}, and no `mix` has that id");
        let accepted = "the id of a `mix` in `gasdefinitions`";
        let line = entry.map(|entry| entry.line);
        Err(RecordError::new(line, message, accepted).about("switchmix"))
    }

    /// A `mix` begins.
    pub(super) fn begin(&mut self, id: Option<&str>, line: u64) {
        self.draft = Draft {
            line,
            id: id.map(str::to_owned),
            ..Draft::default()
        };
    }

    /// A fraction of the `mix`.
    pub(super) fn set(&mut self, element: Element, value: Value<'_>) -> Result<(), RecordError> {
        let fraction = value.amount("a fraction of 1")?;
        let draft = &mut self.draft;
        match element {
            Element::Oxygen => value.once(&mut draft.oxygen, fraction),
            Element::Helium => value.once(&mut draft.helium, fraction),
            Element::Nitrogen => value.once(&mut draft.nitrogen, fraction),
            _ => {
                draft.others += fraction;
                Ok(())
            }
        }
    }

    /// A `mix` ends.
    pub(super) fn end(&mut self) -> Result<(), RecordError> {
        let draft = std::mem::take(&mut self.draft);
        let mix = draft.mix()?;
        // Nobody can breathe what has no id.
        let Some(id) = &draft.id else {
            return Ok(());
        };
        let number = self.number(id, draft.line)?;
        match self
            .entries
            .get_mut(number)
            .map(|entry| entry.mix.replace(mix))
        {
            Some(Some(_)) => {
                let message = format!("two gases have the id {}", quoted(id));
                Err(RecordError::new(Some(draft.line), message, "each id once").about("mix"))
            }
            _ => Ok(()),
        }
    }
}

impl Draft {
    fn mix(&self) -> Result<Mix, RecordError> {
        let refuse = |what: String| {
            let name = quoted(self.id.as_deref().unwrap_or("without an id"));
            let message = format!("the gas {name} {what}");
            RecordError::new(Some(self.line), message, FRACTIONS).about("mix")
        };
        let Some(oxygen) = self.oxygen else {
            return Err(refuse("has no `o2`".to_owned()));
        };
        let helium = self.helium.unwrap_or_default();
        if self.others > LEFT_OUT {
            return Err(refuse("has argon or hydrogen in it".to_owned()));
        }
        let sum = oxygen + helium + self.nitrogen.unwrap_or_default();
        let is_whole = self.nitrogen.is_none() || (sum - 1.0).abs() <= LEFT_OUT;
        if oxygen > 1.0 || helium > 1.0 || sum > 1.0 + LEFT_OUT || !is_whole {
            return Err(refuse(format!(
                "has impossible fractions: o2 {oxygen:.4}, he {helium:.4}, together with n2 {sum:.4}"
            )));
        }
        let (oxygen, helium) = (percent(oxygen), percent(helium));
        let mix = if helium > 0.0 {
            Mix::trimix(oxygen, helium)
        } else {
            Mix::nitrox(oxygen)
        };
        let mix = mix.map_err(|_| {
            refuse(format!(
                "has {oxygen} % of oxygen and {helium} % of helium; the least oxygen is \
                 {LEAST_OXYGEN_PCT} %"
            ))
        })?;
        let named = [Mix::AIR, Mix::OXYGEN];
        Ok(named
            .into_iter()
            .find(|known| known.is_same_gas(mix))
            .unwrap_or(mix))
    }
}

/// 0.29 is 29 per cent, not a last bit less.
fn percent(fraction: f64) -> f64 {
    (fraction * 1e8).round() / 1e6
}
