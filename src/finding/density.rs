//! How dense the gas gets: how hard it is to breathe.

use super::case::Case;
use super::kind::{Help, Subject, Weight, Wording, kinds};
use crate::quantity::Depth;
use crate::quantity::show::hundredths_up;
use crate::site::{Environment, Mix, gas_density_g_l};
use serde::Serialize;

/// Gas density above which there is a caution, g/L.
///
/// Source: from memory: G. Anthony, S. J. Mitchell, *Respiratory physiology of rebreather diving*
/// (2016).
pub const ADVISED_DENSITY_G_L: f64 = 5.2;
/// Gas density above which there is a no-go, g/L. Source: that of [`ADVISED_DENSITY_G_L`].
pub const GREATEST_DENSITY_G_L: f64 = 6.2;

/// What can be found about the density of the gas.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum DensityFact {
    /// The gas is too dense to breathe at work.
    OverLimit {
        /// The gas.
        gas: Mix,
        /// Its density, g/L.
        density_g_l: f64,
        /// Where.
        depth: Depth,
        /// The limit, g/L.
        limit_g_l: f64,
    },
    /// The gas is denser than advised.
    High {
        /// The gas.
        gas: Mix,
        /// Its density, g/L.
        density_g_l: f64,
        /// Where.
        depth: Depth,
        /// What is advised, g/L.
        limit_g_l: f64,
    },
}

impl Subject for DensityFact {
    kinds! {
        Self::OverLimit { .. } =>
            "gas-density-over-limit", "gas too dense",
            "a gas denser than 6.2 g/L",
            Weight::NoGo, Help::Depth;
        Self::High { .. } =>
            "gas-density-high", "gas dense",
            "a gas denser than 5.2 g/L",
            Weight::Caution, Help::Depth;
    }

    fn message(&self, Wording { show, .. }: &Wording<'_>) -> String {
        match self {
            Self::OverLimit {
                gas,
                density_g_l,
                depth,
                limit_g_l,
            } => format!(
                "The density of {gas} at {} is {} g/L; the limit is {limit_g_l} g/L.",
                show.depth(*depth),
                hundredths_up(*density_g_l),
            ),
            Self::High {
                gas,
                density_g_l,
                depth,
                limit_g_l,
            } => format!(
                "The density of {gas} at {} is {} g/L, above the advised {limit_g_l} g/L: work \
                 is hard to breathe for.",
                show.depth(*depth),
                hundredths_up(*density_g_l),
            ),
        }
    }

    fn of_team(case: &Case<'_>) -> Vec<Self> {
        let rules = case.plan.rules();
        let density = |gas: &Mix, depth| gas_density_g_l(&rules.environment, *gas, depth);
        let own = case.divers.iter().map(|diver| diver.gas);
        let uses = case.deepest_use_of_each_gas().into_iter();
        uses.map(|(gas, depth)| {
            // Of what the divers breathe on the bottom the densest counts.
            let bottom = gas.is_same_gas(rules.bottom_gas);
            let own = own.clone().filter(|_| bottom);
            let denser = |x: &Mix, y: &Mix| density(x, depth).total_cmp(&density(y, depth));
            (own.max_by(denser).unwrap_or(gas), depth)
        })
        .filter_map(|(gas, depth)| too_dense(&rules.environment, gas, depth))
        .collect()
    }
}

/// Any gas, wherever it is breathed.
pub(super) fn too_dense(environment: &Environment, gas: Mix, depth: Depth) -> Option<DensityFact> {
    let density_g_l = gas_density_g_l(environment, gas, depth);
    if density_g_l > GREATEST_DENSITY_G_L {
        Some(DensityFact::OverLimit {
            gas,
            density_g_l,
            depth,
            limit_g_l: GREATEST_DENSITY_G_L,
        })
    } else if density_g_l > ADVISED_DENSITY_G_L {
        Some(DensityFact::High {
            gas,
            density_g_l,
            depth,
            limit_g_l: ADVISED_DENSITY_G_L,
        })
    } else {
        None
    }
}
