//! Nitrogen that rises where helium falls: a gas switch that may bring on what it should cure.

use super::case::Case;
use super::kind::{Help, Subject, Weight, Wording, kinds};
use crate::dive::Segment;
use crate::quantity::Depth;
use crate::quantity::show::hundredths_up;
use crate::site::{Environment, Mix};
use crate::tissue::{WATER_VAPOUR_BAR, WITHIN_BAR};
use serde::Serialize;

/// Share of the fall of the inspired helium pressure that the inspired nitrogen pressure may rise by.
///
/// Source: a rule of thumb, the rule of fifths (common practice, no source).
const NITROGEN_SHARE: f64 = 1.0 / 5.0;

/// What can be found about switches from helium to nitrogen.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum InertGasJumpFact {
    /// A switch on the way up raises nitrogen by more than a fifth of the fall of helium.
    Jump {
        /// The gas breathed before.
        from: Mix,
        /// The gas switched to.
        to: Mix,
        /// Where.
        depth: Depth,
        /// Rise of the inspired nitrogen pressure, bar.
        nitrogen_rise_bar: f64,
        /// Fall of the inspired helium pressure, bar.
        helium_fall_bar: f64,
    },
}

impl Subject for InertGasJumpFact {
    kinds! {
        Self::Jump { .. } =>
            "inert-gas-jump", "inert gas jump",
            "a gas switch on the way up raises the inspired nitrogen pressure by more than a fifth of the fall of helium (a rule of thumb)",
            Weight::Caution, Help::Other;
    }

    fn message(&self, Wording { show, .. }: &Wording<'_>) -> String {
        let Self::Jump {
            from,
            to,
            depth,
            nitrogen_rise_bar,
            helium_fall_bar,
        } = self;
        format!(
            "The switch from {from} to {to} at {} raises the nitrogen pressure by {} bar, more than \
             a fifth of the {} bar by which helium falls: a rule of thumb warns of that.",
            show.depth(*depth),
            hundredths_up(*nitrogen_rise_bar),
            hundredths_up(*helium_fall_bar),
        )
    }

    fn of_team(case: &Case<'_>) -> Vec<Self> {
        let environment = &case.plan.rules().environment;
        let pairs = case.schedule.segments.windows(2);
        pairs
            .filter_map(|pair| jump(environment, &pair[0], &pair[1]))
            .collect()
    }
}

/// A switch between two segments, if it is one that jumps.
///
/// ```text
/// ΔN2 = (P − 0.0627)·(f_N2,to − f_N2,from)      ΔHe = (P − 0.0627)·(f_He,from − f_He,to)
/// jump where ΔHe > 0 and ΔN2 > ΔHe/5             pressures in bar
/// ```
fn jump(environment: &Environment, before: &Segment, after: &Segment) -> Option<InertGasJumpFact> {
    let (from, to, depth) = (before.gas, after.gas, after.from);
    let inspired = environment.ambient(depth).as_bar() - WATER_VAPOUR_BAR;
    let nitrogen_rise_bar = inspired * (to.nitrogen() - from.nitrogen());
    let helium_fall_bar = inspired * (from.helium() - to.helium());
    let jumps = helium_fall_bar > WITHIN_BAR
        && nitrogen_rise_bar > NITROGEN_SHARE * helium_fall_bar + WITHIN_BAR;
    jumps.then_some(InertGasJumpFact::Jump {
        from,
        to,
        depth,
        nitrogen_rise_bar,
        helium_fall_bar,
    })
}
