//! What must be kept back, and which share of the rest goes out.

use crate::quantity::{Depth, GaugePressure, Speed, Time, UnitSystem};
use serde::Serialize;

/// Which share of the gas above the reserve is used on the way out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum TurnRule {
    /// Out and back: half.
    #[default]
    Half,
    /// A third.
    Third,
    /// All: the dive need not come back to where it began.
    All,
}

impl TurnRule {
    /// The share.
    #[must_use]
    pub const fn share(self) -> f64 {
        match self {
            Self::Half => 1.0 / 2.0,
            Self::Third => 1.0 / 3.0,
            Self::All => 1.0,
        }
    }
}

/// Share of the gas that may be used going out with a current by a diver who must return
/// against it.
///
/// ```text
/// (v − c)/(2v)      v: swim speed   c: current
/// ```
/// 0 where the current cannot be swum against; not a number where one of them is no speed.
#[must_use]
pub fn share_returning_against(current: Speed, swim: Speed) -> f64 {
    let (c, v) = (current.as_m_min(), swim.as_m_min());
    if !(c.is_finite() && v.is_finite() && c >= 0.0 && v > 0.0) {
        return f64::NAN;
    }
    ((v - c) / (2.0 * v)).max(0.0)
}

/// A hang that each diver must be able to make on the own main cylinder, over and above the
/// planned way up.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Hang {
    /// Where.
    pub depth: Depth,
    /// How long, on top of the stop that is made there anyway.
    pub time: Time,
}

/// A current and which way the dive goes out in it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SwimPlan {
    /// The current.
    pub current: Speed,
    /// Speed of the slowest swimmer through the water.
    pub swim: Speed,
    /// Which way the dive goes out.
    pub out: OutBound,
}

/// Which way a dive goes out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum OutBound {
    /// With the current: the way back is against it.
    With,
    /// Against the current.
    Against,
}

/// Rules of the reserve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ReserveRules {
    /// How much harder divers in trouble breathe.
    pub stress: f64,
    /// Time to sort the trouble out at depth.
    pub sort_out: Time,
    /// Minimum gas is never less than this.
    pub floor: GaugePressure,
    /// Turn rule.
    pub turn: TurnRule,
    /// The hang that each diver must have gas for on leaving the bottom.
    pub hang: Option<Hang>,
    /// The current, where the plan says how the team swims in it.
    pub swim: Option<SwimPlan>,
}

impl ReserveRules {
    /// What holds where a plan in these units says nothing: stress 1.5, 1 min to sort the trouble
    /// out, a floor of 50 bar or 500 psi, half of the gas out, no hang, no current.
    #[must_use]
    pub fn standard(units: UnitSystem) -> Self {
        Self {
            stress: 1.5,
            sort_out: Time::from_min(1.0),
            floor: match units {
                UnitSystem::Metric => GaugePressure::from_bar(50.0),
                UnitSystem::Imperial => GaugePressure::from_psi(500.0),
            },
            turn: TurnRule::default(),
            hang: None,
            swim: None,
        }
    }

    /// Share of the gas above the reserve that is used on the way out.
    ///
    /// The turn rule's; where the team must come back against a current, not more than
    /// [`share_returning_against`]. A team that need not come back
    /// ([`TurnRule::All`]) is not held to it.
    #[must_use]
    pub fn turn_share(&self) -> f64 {
        let share = self.turn.share();
        match (self.turn, self.swim) {
            (TurnRule::Half | TurnRule::Third, Some(swim)) if swim.out == OutBound::With => {
                share.min(share_returning_against(swim.current, swim.swim))
            }
            _ => share,
        }
    }

    /// Whether the current is one that the team cannot swim against but has to.
    #[must_use]
    pub fn current_is_too_strong(&self) -> bool {
        let must_swim_against =
            |swim: &SwimPlan| swim.out == OutBound::Against || self.turn != TurnRule::All;
        self.swim
            .is_some_and(|swim| must_swim_against(&swim) && swim.current >= swim.swim)
    }
}
