//! A briefing and the units it is read out in.

use super::sheet::{Report, Tone};
use crate::briefing::Briefing;
use crate::finding::Verdict;
use crate::gas::DiverBudget;
use crate::quantity::UnitSystem;
use crate::quantity::show::Show;

pub(super) struct Rail<'a> {
    pub(super) briefing: &'a Briefing,
    pub(super) units: UnitSystem,
    pub(super) show: Show,
    /// Of whom alone it is read out.
    only: Option<&'a str>,
}

impl<'a> Rail<'a> {
    pub(super) const fn new(briefing: &'a Briefing, units: UnitSystem) -> Self {
        Self {
            briefing,
            units,
            show: Show(units),
            only: None,
        }
    }

    /// One diver's part of it.
    pub(super) const fn of_one(briefing: &'a Briefing, units: UnitSystem, name: &'a str) -> Self {
        let whole = Self::new(briefing, units);
        Self {
            only: Some(name),
            ..whole
        }
    }

    /// Whether it is read out for everybody.
    pub(super) const fn is_of_all(&self) -> bool {
        self.only.is_none()
    }

    /// Whether a diver's figures are part of it.
    pub(super) fn shows(&self, name: &str) -> bool {
        self.only.is_none_or(|only| only == name)
    }

    /// The divers whose figures are part of it.
    pub(super) fn shown(&self) -> impl Iterator<Item = &'a DiverBudget> {
        let divers = self.briefing.divers.iter();
        divers.filter(|diver| self.shows(&diver.name))
    }

    /// How a diver's pressures are shown: in the units of the own gauge.
    pub(super) fn gauge_of(&self, name: &str) -> Show {
        let mut divers = self.briefing.divers.iter();
        let own = divers
            .find(|diver| diver.name == name)
            .and_then(|diver| diver.gauge);
        Show(own.unwrap_or(self.units))
    }

    /// A no-go is one on every screen.
    pub(super) fn no_go_line(&self, report: &mut Report) {
        if self.briefing.verdict() == Verdict::NoGo {
            let text = "as planned: these are the figures of a dive that may not go.";
            report.marked(Tone::NoGo, "  NO-GO", text);
        }
    }

    /// The title, cut to so many characters.
    pub(super) fn short_title(&self, longest: usize) -> String {
        cut(self.title(), longest)
    }

    pub(super) fn title(&self) -> &'a str {
        self.briefing.plan.title().unwrap_or("Untitled dive")
    }
}

/// A text cut to so many characters, the last one an ellipsis where it was longer.
pub(super) fn cut(text: &str, longest: usize) -> String {
    if text.chars().count() <= longest {
        return text.to_owned();
    }
    let kept: String = text.chars().take(longest.saturating_sub(1)).collect();
    kept + "…"
}
