//! A briefing and the units it is read out in.

use super::sheet::{Report, Tone};
use crate::briefing::Briefing;
use crate::finding::Verdict;
use crate::quantity::UnitSystem;
use crate::quantity::show::Show;

pub(super) struct Rail<'a> {
    pub(super) briefing: &'a Briefing,
    pub(super) units: UnitSystem,
    pub(super) show: Show,
}

impl<'a> Rail<'a> {
    pub(super) const fn new(briefing: &'a Briefing, units: UnitSystem) -> Self {
        Self {
            briefing,
            units,
            show: Show(units),
        }
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
