//! What differs from the plan on the day, and how it takes a key's place.

use super::problem::Place;
use super::reader::{Given, Reader};
use crate::letters::composed;
use crate::quantity::nearest;

/// What differs from the plan on the day. Quantities are text with a unit, as in the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Overrides {
    /// Depth instead of the plan's; the plan must have one level.
    pub depth: Option<String>,
    /// Bottom time instead of the plan's: a longer one stretches the last level, a shorter one cuts
    /// the profile where it falls.
    pub bottom_time: Option<String>,
    /// Time of day of leaving the surface, as "09:40".
    pub splash: Option<String>,
    /// Water instead of the plan's.
    pub water: Option<String>,
    /// Altitude instead of the plan's altitude or surface pressure.
    pub altitude: Option<String>,
    /// How long before the first dive of the day the divers came, instead of the plan's.
    pub arrived: Option<String>,
    /// Where from, instead of the plan's.
    pub home_altitude: Option<String>,
    /// Speed on the way down instead of the plan's.
    pub descent_rate: Option<String>,
    /// Speed on the way up instead of the plan's.
    pub ascent_rate: Option<String>,
    /// Altitude that the cabin of a flight after the dive is kept at, or that of a pass.
    pub cabin_altitude: Option<String>,
    /// When that flight leaves, as "18:00" or "18:00+1".
    pub fly_at: Option<String>,
    /// Fills of main cylinders, as diver's name and pressure.
    pub fills: Vec<(String, String)>,
}

impl Overrides {
    pub(super) fn depth(&self) -> Option<Given<&str>> {
        instead(self.depth.as_deref(), "depth", "--depth")
    }

    pub(super) fn bottom_time(&self) -> Option<Given<&str>> {
        instead(self.bottom_time.as_deref(), "bottom_time", "--bottom-time")
    }

    pub(super) fn splash(&self) -> Option<Given<&str>> {
        instead(self.splash.as_deref(), "splash", "--splash")
    }

    pub(super) fn water(&self) -> Option<Given<&str>> {
        instead(self.water.as_deref(), "water", "--water")
    }

    pub(super) fn altitude(&self) -> Option<Given<&str>> {
        instead(self.altitude.as_deref(), "altitude", "--altitude")
    }

    pub(super) fn arrived(&self) -> Option<Given<&str>> {
        instead(self.arrived.as_deref(), "arrived", "--arrived")
    }

    pub(super) fn home_altitude(&self) -> Option<Given<&str>> {
        let text = self.home_altitude.as_deref();
        instead(text, "home_altitude", "--home-altitude")
    }

    pub(super) fn descent_rate(&self) -> Option<Given<&str>> {
        let text = self.descent_rate.as_deref();
        instead(text, "descent_rate", "--descent-rate")
    }

    pub(super) fn ascent_rate(&self) -> Option<Given<&str>> {
        instead(self.ascent_rate.as_deref(), "rate", "--ascent-rate")
    }
}

/// A value from the command line in place of a key's.
fn instead<'t>(
    text: Option<&'t str>,
    key: &'static str,
    option: &'static str,
) -> Option<Given<&'t str>> {
    text.map(|value| Given {
        value,
        at: Place::Override(option),
        key,
    })
}

/// The fills of the day and which of them have found their diver.
pub(super) struct Fills<'o> {
    given: Vec<(String, &'o str, bool)>,
}

impl<'o> Fills<'o> {
    const OPTION: &'static str = "--fill";

    pub(super) fn new(overrides: &'o Overrides) -> Self {
        let given = overrides.fills.iter();
        Self {
            given: given
                .map(|(name, fill)| (composed(name.trim()), fill.as_str(), false))
                .collect(),
        }
    }

    /// The fill of a diver; a second one for the same diver stays behind and is refused.
    pub(super) fn take(&mut self, name: &str) -> Option<Given<&'o str>> {
        let mut given = self.given.iter_mut();
        let found = given.find(|(wanted, _, _)| *wanted == name)?;
        found.2 = true;
        instead(Some(found.1), "fill", Self::OPTION)
    }

    /// Those that are left when every diver has taken one.
    pub(super) fn refuse_rest(&self, reader: &mut Reader, names: &[String]) {
        for (name, _, used) in &self.given {
            if *used {
                continue;
            }
            let message = if names.is_empty() {
                format!("nobody is called \"{name}\": the plan has no diver")
            } else if names.contains(name) {
                format!("two fills are given for {name}")
            } else {
                format!("nobody is called \"{name}\"")
            };
            let known = match names {
                [] => "--fill for a plan with a [[diver]]".to_owned(),
                names => format!("once each: {}", names.join(", ")),
            };
            let others = names
                .iter()
                .map(String::as_str)
                .filter(|known| known != name);
            let meant = nearest(name, others).map(str::to_owned);
            let place = Place::Override(Self::OPTION);
            reader.refuse_at(place, "[[diver]]", None, message, known, meant);
        }
    }
}
