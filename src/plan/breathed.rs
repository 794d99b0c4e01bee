//! Who breathes what: each diver the own bottom gas, and the schedule flown on the leanest.

use super::checked::Plan;
use crate::dive::Segment;
use crate::oxygen::OxygenExposure;
use crate::rules::DiveRules;
use crate::site::Mix;

impl Plan {
    /// Whether the divers differ in what they breathe on the bottom.
    #[must_use]
    pub fn gases_differ(&self) -> bool {
        let flown = self.rules().bottom_gas;
        let gases = (0..self.divers().len()).map(|index| self.gas_of(index));
        gases.into_iter().any(|gas| !gas.is_same_gas(flown))
    }

    /// What a diver breathes on the bottom; the plan's bottom gas for who is not in the team.
    #[must_use]
    pub fn gas_of(&self, diver: usize) -> Mix {
        let diver = self.divers().get(diver);
        diver.and_then(|diver| diver.gas).unwrap_or(self.gas())
    }

    /// What is in a diver's pony bottle; `None` without one.
    #[must_use]
    pub fn pony_gas_of(&self, diver: usize) -> Option<Mix> {
        let pony = self.divers().get(diver)?.pony.as_ref()?;
        Some(pony.gas.unwrap_or(self.gas()))
    }

    /// The rules of the dive as one diver dives it: on the own bottom gas.
    #[must_use]
    pub fn rules_of(&self, diver: usize) -> DiveRules {
        DiveRules {
            bottom_gas: self.gas_of(diver),
            ..self.rules().clone()
        }
    }

    /// Segments of this dive as one diver breathes them: on the own bottom gas.
    #[must_use]
    pub fn breathed_by(&self, diver: usize, segments: &[Segment]) -> Vec<Segment> {
        let (flown, own) = (self.rules().bottom_gas, self.gas_of(diver));
        let breathed = segments.iter().map(|segment| Segment {
            gas: if segment.gas.is_same_gas(flown) {
                own
            } else {
                segment.gas
            },
            ..*segment
        });
        breathed.collect()
    }

    /// Oxygen of the day so far and of these segments of the dive, for one diver on the own gas.
    #[must_use]
    pub fn oxygen_of(&self, diver: usize, segments: &[Segment]) -> OxygenExposure {
        let breathed = self.breathed_by(diver, segments);
        let oxygen = OxygenExposure::of(&self.rules().environment, &breathed);
        oxygen.on_top_of(self.starts().get(diver).unwrap_or(self.start()))
    }

    /// Oxygen of the day so far and of these segments: of each figure the highest of any diver.
    #[must_use]
    pub fn oxygen(&self, segments: &[Segment]) -> OxygenExposure {
        if self.histories_differ() || self.gases_differ() {
            let mut last: Option<(Mix, OxygenExposure)> = None;
            let each = (0..self.divers().len()).map(|diver| {
                let gas = self.gas_of(diver);
                // Most breathe what the one before them does.
                let known = last.filter(|(known, _)| known.is_same_gas(gas));
                let oxygen = known.map_or_else(
                    || {
                        let breathed = self.breathed_by(diver, segments);
                        OxygenExposure::of(&self.rules().environment, &breathed)
                    },
                    |(_, oxygen)| oxygen,
                );
                last = Some((gas, oxygen));
                oxygen.on_top_of(self.starts().get(diver).unwrap_or(self.start()))
            });
            each.reduce(OxygenExposure::most).unwrap_or_default()
        } else {
            let oxygen = OxygenExposure::of(&self.rules().environment, segments);
            oxygen.on_top_of(self.start())
        }
    }
}
