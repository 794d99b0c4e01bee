//! Why a dive cannot be scheduled.

use crate::quantity::{Depth, Time};
use crate::rules::OutOfRange;
use crate::tissue::Excess;

/// Why a dive cannot be scheduled.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ScheduleError {
    /// A quantity that the model is not asked for.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// There is no level to dive to.
    #[error("a dive needs at least one level")]
    NoLevel,
    /// A level ends before it is reached.
    #[error(
        "level {number} lasts {:.1} min, but the travel to it alone takes {:.1} min",
        .time.as_min(), .travel.as_min()
    )]
    LevelTooShort {
        /// Number of the level, from 1.
        number: usize,
        /// Time it was given.
        time: Time,
        /// Time that the travel takes.
        travel: Time,
    },
    /// The tissues never let the diver go on.
    #[error(
        "the stop at {:.1} m does not clear within {bound_min} min: compartment {} holds {:.3} bar \
         of inert gas and may arrive at {:.1} m with {:.3} bar",
        .depth.as_m(), .excess.index + 1, .excess.total_bar, .next.as_m(), .excess.limit_bar
    )]
    StopCannotClear {
        /// Depth of the stop.
        depth: Depth,
        /// Depth that cannot be gone on to.
        next: Depth,
        /// The compartment that bars the way, on arrival at `next`.
        excess: Excess,
        /// Minutes after which the hold is given up.
        bound_min: u32,
    },
    /// A no-stop dive whose safety stop takes up too much gas.
    #[error(
        "the safety stop at {:.1} m takes up gas: compartment {} would surface with {:.3} bar of \
         inert gas where the high gradient factor allows {:.3} bar",
        .depth.as_m(), .excess.index + 1, .excess.total_bar, .excess.limit_bar
    )]
    SafetyStopOverloads {
        /// Depth of the safety stop.
        depth: Depth,
        /// The compartment over its limit at the surface.
        excess: Excess,
    },
}

/// As its message.
impl serde::Serialize for ScheduleError {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}
