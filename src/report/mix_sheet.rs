//! What is asked about a gas, and what comes of it.

use super::before::Origin;
use crate::dive::{LimitCell, LimitColumn, limit_table, switch_depth};
use crate::finding::{Fact, Finding, OxygenFact, Weight, findings_of_bottom_gas};
use crate::gas::{Blend, BlendAsked, BlendError, CylinderGas, blend};
use crate::plan::{Plan, Site};
use crate::quantity::show::Show;
use crate::quantity::{Depth, GaugePressure, Pressure, Speed, Temperature, UnitSystem};
use crate::rules::ranges::{DEPTH, OXYGEN};
use crate::rules::{DiveRules, OutOfRange};
use crate::site::{
    Environment, Mix, Narcotic, depth_of_density, equivalent_air_depth, equivalent_narcotic_depth,
    gas_density_g_l, operating_depth, oxygen_pressure, richest_nitrox,
};
use crate::tissue::{GradientFactors, Tissues};

/// Which gas is asked about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GasWanted {
    /// This one, at a depth or at none.
    Named {
        /// The gas.
        gas: Mix,
        /// The depth.
        depth: Option<Depth>,
    },
    /// The richest nitrox for a depth.
    RichestFor(Depth),
}

/// A blend that is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BlendWanted {
    /// To this pressure.
    pub fill: GaugePressure,
    /// From what the cylinder holds.
    pub start: CylinderGas,
    /// What is filled on top.
    pub top: Mix,
    /// Temperature of the cylinder; if none, the plan's or 15 °C.
    pub temperature: Option<Temperature>,
}

/// What is asked about a gas.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MixAsked {
    /// Which gas, and where.
    pub gas: GasWanted,
    /// Oxygen pressure up to which it is a bottom gas.
    pub oxygen_limit: Pressure,
    /// Gradient factors of the no-stop limit; if none, the plan's or the usual.
    pub factors: Option<GradientFactors>,
    /// How to blend it.
    pub blend: Option<BlendWanted>,
}

/// Why there is nothing to say about a gas.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum MixError {
    /// A depth or a rule that the model is not asked for.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Even air has more oxygen there than the limit.
    #[error("no nitrox: at {depth} even air has more than {limit} of oxygen")]
    NoNitrox {
        /// Where.
        depth: Depth,
        /// The limit.
        limit: Pressure,
        /// Where air reaches it.
        air_to: Depth,
    },
    /// It cannot be blended so.
    #[error(transparent)]
    Blend(#[from] BlendError),
}

/// A no-stop limit, or why there is none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum MixLimit {
    /// The gas is a no-go there.
    NoGo,
    /// As in a table of limits.
    Cell(LimitCell),
}

/// A gas at a depth.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct MixAtDepth {
    /// The depth.
    pub depth: Depth,
    /// Oxygen pressure.
    pub po2: Pressure,
    /// Density, g/L.
    pub density_g_l: f64,
    /// Equivalent air depth.
    pub air_depth: Depth,
    /// Equivalent narcotic depth, oxygen counted.
    pub narcotic_depth: Depth,
    /// Equivalent narcotic depth by nitrogen alone.
    pub narcotic_depth_nitrogen: Depth,
    /// No-stop limit.
    pub limit: MixLimit,
}

/// All there is to say about a gas, and what it was worked out for.
#[derive(Clone, Debug, PartialEq)]
pub struct MixSheet {
    title: Option<String>,
    rules: DiveRules,
    /// Whether the tissues are as if nobody had dived before.
    clean: bool,
    origin: Origin,
    richest: bool,
    oxygen_limit: Pressure,
    at: Option<MixAtDepth>,
    findings: Vec<Finding>,
    blend: Option<Blend>,
    /// Whether a blend was asked for that a no-go does not get.
    withheld: bool,
}

impl MixSheet {
    /// Works it out in the water, by the rates and from the tissues of a plan.
    ///
    /// # Errors
    /// [`MixError`] where a depth is none to dive to, no nitrox fits, or the blend cannot be made.
    pub fn work_out(plan: &Plan, asked: &MixAsked) -> Result<Self, MixError> {
        let (rules, start) = (plan.rules(), &plan.start().tissues);
        Ok(Self {
            title: plan.title().map(str::to_owned),
            clean: plan.starts_clean(),
            origin: Origin::of(plan),
            ..Self::from_tissues(rules, start, plan.site().temperature, asked)?
        })
    }

    /// As [`MixSheet::work_out`], where there is no plan: by rules, from clean tissues, at 15 °C.
    ///
    /// # Errors
    /// As [`MixSheet::work_out`].
    pub fn by_rules(rules: &DiveRules, asked: &MixAsked) -> Result<Self, MixError> {
        let clean = Tissues::clean(rules.environment.surface());
        Self::from_tissues(rules, &clean, Site::default().temperature, asked)
    }

    fn from_tissues(
        rules: &DiveRules,
        start: &Tissues,
        temperature: Temperature,
        asked: &MixAsked,
    ) -> Result<Self, MixError> {
        check(rules, asked)?;
        let environment = &rules.environment;
        let (gas, depth, richest) = match asked.gas {
            GasWanted::Named { gas, depth } => (gas, depth, false),
            GasWanted::RichestFor(depth) => {
                let gas = richest_for(environment, depth, asked.oxygen_limit)?;
                (gas, Some(depth), true)
            }
        };
        let rules = DiveRules {
            bottom_gas: gas,
            factors: asked.factors.unwrap_or(rules.factors),
            ..rules.clone()
        };
        let findings = findings_of_bottom_gas(environment, gas, depth);
        let no_go = findings.iter().any(is_no_go);
        let at = depth.map(|depth| {
            let column = LimitColumn {
                gas,
                factors: rules.factors,
            };
            let table = limit_table(&rules, start, &[column], &[depth], asked.oxygen_limit)?;
            let cell = table.first().and_then(|row| row.cells.first());
            let limit = match cell {
                Some(cell) if !no_go => MixLimit::Cell(*cell),
                _ => MixLimit::NoGo,
            };
            Ok::<_, OutOfRange>(at_depth(environment, gas, depth, limit))
        });
        let wanted = asked.blend.filter(|_| !no_go);
        let blend = wanted.map(|wanted| {
            blend(&BlendAsked {
                start: wanted.start,
                target: CylinderGas {
                    pressure: wanted.fill,
                    gas,
                },
                top: wanted.top,
                temperature: wanted.temperature.unwrap_or(temperature),
                surface: environment.surface(),
            })
        });
        Ok(Self {
            title: None,
            clean: true,
            origin: Origin::default(),
            richest,
            oxygen_limit: asked.oxygen_limit,
            at: at.transpose()?,
            findings,
            blend: blend.transpose()?,
            withheld: no_go && asked.blend.is_some(),
            rules,
        })
    }

    /// The plan's title.
    #[must_use]
    pub fn title(&self) -> Option<&str> {
        self.title.as_deref()
    }

    /// The gas.
    #[must_use]
    pub const fn gas(&self) -> Mix {
        self.rules.bottom_gas
    }

    /// Whether it was found as the richest nitrox for the depth.
    #[must_use]
    pub const fn is_richest(&self) -> bool {
        self.richest
    }

    /// Water and air.
    #[must_use]
    pub const fn environment(&self) -> &Environment {
        &self.rules.environment
    }

    /// Speed on the way down.
    #[must_use]
    pub const fn descent_rate(&self) -> Speed {
        self.rules.descent_rate
    }

    /// Speed on the way up.
    #[must_use]
    pub const fn ascent_rate(&self) -> Speed {
        self.rules.ascent.rate
    }

    /// Gradient factors of the no-stop limit.
    #[must_use]
    pub const fn factors(&self) -> GradientFactors {
        self.rules.factors
    }

    /// Oxygen pressure up to which it is a bottom gas.
    #[must_use]
    pub const fn oxygen_limit(&self) -> Pressure {
        self.oxygen_limit
    }

    /// Maximum operating depth for an oxygen pressure; `None` where the surface is too deep.
    #[must_use]
    pub fn operating_depth(&self, limit: Pressure) -> Option<Depth> {
        let depth = operating_depth(self.environment(), self.gas(), limit);
        (depth.as_m() >= 0.0).then_some(depth)
    }

    /// The deepest stop at which a staged ascent breathes it; `None` where it does not.
    #[must_use]
    pub fn switch_depth(&self) -> Option<Depth> {
        switch_depth(&self.rules, self.gas())
    }

    /// Where it has a density, g/L.
    #[must_use]
    pub fn depth_of_density(&self, density_g_l: f64) -> Depth {
        depth_of_density(self.environment(), self.gas(), density_g_l)
    }

    /// The gas at the depth asked about.
    #[must_use]
    pub const fn at_depth(&self) -> Option<&MixAtDepth> {
        self.at.as_ref()
    }

    /// What a dive on it as bottom gas would be told, no-gos first.
    #[must_use]
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// Whether it may not be breathed so.
    #[must_use]
    pub fn is_no_go(&self) -> bool {
        self.findings.iter().any(is_no_go)
    }

    /// Whether it may not be breathed at the surface.
    #[must_use]
    pub fn is_too_lean(&self) -> bool {
        let too_low =
            |finding: &Finding| matches!(finding.fact, Fact::Oxygen(OxygenFact::TooLow { .. }));
        self.findings.iter().any(too_low)
    }

    /// From whose tissues its no-stop limit is, as it goes on behind "From".
    pub(super) fn start_words(&self, show: Show) -> String {
        self.origin.words(self.clean, show)
    }

    /// Whether a blend was asked for that a no-go does not get.
    #[must_use]
    pub const fn is_blend_withheld(&self) -> bool {
        self.withheld
    }

    /// How it is blended; a no-go is not.
    #[must_use]
    pub const fn blend(&self) -> Option<&Blend> {
        self.blend.as_ref()
    }
}

fn is_no_go(finding: &Finding) -> bool {
    finding.weight() == Weight::NoGo
}

/// Refuses what the model is not asked for.
fn check(rules: &DiveRules, asked: &MixAsked) -> Result<(), OutOfRange> {
    rules.check(UnitSystem::Metric)?;
    OXYGEN.check(asked.oxygen_limit.as_bar(), UnitSystem::Metric)?;
    let depth = match asked.gas {
        GasWanted::Named { depth, .. } => depth,
        GasWanted::RichestFor(depth) => Some(depth),
    };
    depth.map_or(Ok(()), |depth| {
        DEPTH.check(depth.as_m(), UnitSystem::Metric)
    })
}

fn richest_for(environment: &Environment, depth: Depth, limit: Pressure) -> Result<Mix, MixError> {
    richest_nitrox(environment, depth, limit).ok_or_else(|| MixError::NoNitrox {
        depth,
        limit,
        air_to: operating_depth(environment, Mix::AIR, limit),
    })
}

fn at_depth(environment: &Environment, gas: Mix, depth: Depth, limit: MixLimit) -> MixAtDepth {
    let narcotic = |how| equivalent_narcotic_depth(environment, gas, depth, how);
    MixAtDepth {
        depth,
        po2: oxygen_pressure(environment, gas, depth),
        density_g_l: gas_density_g_l(environment, gas, depth),
        air_depth: equivalent_air_depth(environment, gas, depth),
        narcotic_depth: narcotic(Narcotic::OxygenToo),
        narcotic_depth_nitrogen: narcotic(Narcotic::NitrogenAlone),
        limit,
    }
}
