//! Pony bottles: an emergency supply, and what it is good for.

use super::need::LevelEnd;
use crate::quantity::{BreathingRate, FreeVolume, GaugePressure};
use crate::site::Mix;
use serde::Serialize;

/// A pony bottle is emptied down to this in an emergency.
pub const PONY_EMPTY: GaugePressure = GaugePressure::from_bar(10.0);

/// What a pony bottle is good for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PonyVerdict {
    /// The ascent with every stop.
    CoversAll,
    /// A straight ascent, but not the stops.
    CoversAscentOnly,
    /// Not even a straight ascent.
    Short,
}

/// A diver's pony bottle: an emergency supply that counts for nothing else.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct PonyBudget {
    /// What is in it.
    pub gas: Mix,
    /// Sort-out and a straight ascent, from the worst level end.
    pub need_ascent: FreeVolume,
    /// Which level's end that is, from 0.
    pub ascent_from: usize,
    /// Sort-out and the ascent with every stop, from the worst level end; not less than
    /// [`PonyBudget::need_ascent`].
    pub need_full: FreeVolume,
    /// Which level's end that is, from 0.
    pub full_from: usize,
    /// Contents down to [`PONY_EMPTY`].
    pub have: FreeVolume,
    /// Contents against needs.
    pub verdict: PonyVerdict,
}

impl PonyBudget {
    /// Of a pony that holds so much of a gas; `alone` is how its diver breathes in trouble.
    pub(super) fn new(gas: Mix, have: FreeVolume, alone: BreathingRate, ends: &[LevelEnd]) -> Self {
        let ascent_from = LevelEnd::worst(ends, |exposure| exposure.direct);
        let full_from = LevelEnd::worst(ends, |exposure| exposure.full);
        let need_ascent = alone * ends[ascent_from].emergency.exposure.direct;
        let need_full = alone * ends[full_from].emergency.exposure.full;
        let verdict = if have >= need_full {
            PonyVerdict::CoversAll
        } else if have >= need_ascent {
            PonyVerdict::CoversAscentOnly
        } else {
            PonyVerdict::Short
        };
        Self {
            gas,
            need_ascent,
            ascent_from,
            need_full,
            full_from,
            have,
            verdict,
        }
    }
}
