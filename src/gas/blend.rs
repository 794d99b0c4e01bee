//! Partial pressure blending: how a cylinder is filled to a mix, gas after gas.

use std::fmt;

use crate::quantity::{
    GaugePressure, KPA_PER_BAR, MOLAR_GAS_CONSTANT, Pressure, Temperature, UnitSystem,
};
use crate::rules::OutOfRange;
use crate::rules::ranges::{AIR_PRESSURE, FILL, LEFT_IN_CYLINDER, WATER_TEMPERATURE};
use crate::site::{GasLaw, Mix, MolarDensity, RealGas};
use serde::Serialize;

/// Amounts below this share of the whole fill are none: rounding, far below any gauge.
const NONE_SHARE: f64 = 1e-9;
/// A pressure so little under a whole bar is that bar: rounding.
const WHOLE_BAR: f64 = 1e-9;

/// A gas in a cylinder, and what the gauge shows. Empty, it still holds the surface's pressure of it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CylinderGas {
    /// What the gauge shows.
    pub pressure: GaugePressure,
    /// The gas.
    pub gas: Mix,
}

impl fmt::Display for CylinderGas {
    /// `60 bar of EAN28`
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} of {}", self.pressure, self.gas)
    }
}

/// What is to be blended, of what, and where.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BlendAsked {
    /// What the cylinder holds before.
    pub start: CylinderGas,
    /// What it is to hold.
    pub target: CylinderGas,
    /// What is filled on top, after helium and oxygen: air as a rule.
    pub top: Mix,
    /// Temperature of the cylinder, the same all along.
    pub temperature: Temperature,
    /// Pressure of the air, which gauges read as zero.
    pub surface: Pressure,
}

/// One of the three gases that count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Component {
    /// Nitrogen.
    Nitrogen,
    /// Oxygen.
    Oxygen,
    /// Helium.
    Helium,
}

impl fmt::Display for Component {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Nitrogen => "nitrogen",
            Self::Oxygen => "oxygen",
            Self::Helium => "helium",
        })
    }
}

/// A gas that is added.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Added {
    /// Helium.
    Helium,
    /// Oxygen.
    Oxygen,
    /// The gas on top.
    Top(Mix),
}

impl fmt::Display for Added {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Helium => f.write_str("helium"),
            Self::Oxygen => f.write_str("oxygen"),
            Self::Top(mix) => write!(f, "{mix}"),
        }
    }
}

/// The cylinder after a step.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Filled {
    /// What the gauge shows, at the temperature asked for.
    pub to: GaugePressure,
    /// Fraction of oxygen in it.
    pub oxygen: f64,
    /// Fraction of helium in it.
    pub helium: f64,
}

/// A gas is added.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BlendStep {
    /// Which.
    pub adds: Added,
    /// The cylinder after it, by GERG-2008.
    pub real: Filled,
    /// The same by the ideal gas law.
    pub ideal: Filled,
}

/// A blend that both gas laws can make.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Blend {
    /// What was asked for.
    pub asked: BlendAsked,
    /// In this order: helium, oxygen, the gas on top; none that is not needed.
    pub steps: Vec<BlendStep>,
}

/// Why there is no blend.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BlendError {
    /// A pressure or a temperature that nobody fills at.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The cylinder holds more of something than the mix may.
    #[error("{} hold more {of} than {} may", .asked.start, .asked.target)]
    TooMuch {
        /// Of what.
        of: Component,
        /// What was asked for.
        asked: Box<BlendAsked>,
        /// The greatest whole bar of the same gas from which it works by both laws; `None` where not
        /// even an empty cylinder of it will do.
        drain_to: Option<GaugePressure>,
    },
    /// The gas on top brings more of something along than the mix may hold, whatever was before.
    #[error("{} on top brings more {of} than {} may hold", .asked.top, .asked.target)]
    WrongTop {
        /// Of what.
        of: Component,
        /// What was asked for.
        asked: Box<BlendAsked>,
    },
    /// Nitrogen comes from the gas on top alone.
    #[error("{top} has no nitrogen, and what is filled on top brings it")]
    TopWithoutNitrogen {
        /// The gas on top.
        top: Mix,
    },
}

/// How a mix is blended by partial pressures: helium first, then oxygen, then the gas on top.
///
/// ```text
/// n_T = ρ(p_T + P_surface; target)      n_0 = ρ(p_0 + P_surface; start)      mol per litre of cylinder
/// t   = (n_T·x_N2 − n_0·y_N2)/a_N2                       gas on top
/// o   = n_T·x_O2 − n_0·y_O2 − t·a_O2                     oxygen
/// h   = n_T·x_He − n_0·y_He − t·a_He                     helium
/// after helium   p = P(n_0·y + h) − P_surface
/// after oxygen   p = P(n_0·y + h + o) − P_surface
/// ```
/// `x`, `y`, `a`: mole fractions of the target, the start, the gas on top; `p`: gauge; `ρ` and `P`: molar
/// density and absolute pressure of the mixture that is in the cylinder at that moment, by GERG-2008
/// (see [`RealGas`]) and, beside it, by the ideal gas law, `P = n·R·T`. Every pressure is that at
/// the one temperature asked for: gas that is still warm from filling shows more.
///
/// # Errors
/// [`BlendError`] where `t`, `o` or `h` would be less than nothing by either law, the gas on top has no
/// nitrogen, or a quantity is out of its range.
///
/// # Source
/// Conservation of moles; O. Kunz, W. Wagner, J. Chem. Eng. Data 57 (2012) 3032.
///
/// # Example
/// ```
/// use hangbar::gas::{BlendAsked, BlendError, CylinderGas, blend};
/// use hangbar::quantity::{GaugePressure, Pressure, Temperature};
/// use hangbar::site::Mix;
///
/// let asked = BlendAsked {
///     start: CylinderGas { pressure: GaugePressure::from_bar(0.0), gas: Mix::AIR },
///     target: CylinderGas { pressure: GaugePressure::from_bar(200.0), gas: Mix::nitrox(32.0)? },
///     top: Mix::AIR,
///     temperature: Temperature::from_celsius(15.0),
///     surface: Pressure::from_atm(1.0),
/// };
/// let steps = blend(&asked)?.steps;
/// // (0.32 − 0.21)/0.79 of 201.01325 bar, and the air that was in it.
/// assert_eq!(steps[0].adds.to_string(), "oxygen");
/// assert!((steps[0].ideal.to.as_bar() - 27.99).abs() < 0.01);
///
/// let full = CylinderGas { pressure: GaugePressure::from_bar(190.0), gas: Mix::AIR };
/// let refused = blend(&BlendAsked { start: full, ..asked });
/// assert!(matches!(refused, Err(BlendError::TooMuch { drain_to: Some(_), .. })));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn blend(asked: &BlendAsked) -> Result<Blend, BlendError> {
    check(asked)?;
    let laws = [GasLaw::Real, GasLaw::Ideal].map(|law| ByLaw { asked, law });
    let [real, ideal] = laws.map(|law| law.additions(asked.start.pressure));
    let (real, ideal) = match (real, ideal) {
        (Ok(real), Ok(ideal)) => (real, ideal),
        (Err(of), _) | (_, Err(of)) => return Err(why_not(asked, &laws, of)),
    };
    let [by_real, by_ideal] = [laws[0].fill(&real), laws[1].fill(&ideal)];
    let order = [Added::Helium, Added::Oxygen, Added::Top(asked.top)];
    let steps = order
        .into_iter()
        .enumerate()
        .map(|(index, adds)| BlendStep {
            adds,
            real: by_real[index],
            ideal: by_ideal[index],
        });
    let needed = [real, ideal].map(|additions| additions.needed());
    let steps = steps
        .zip(0..)
        .filter(|(_, index)| needed[0][*index] || needed[1][*index]);
    Ok(Blend {
        asked: *asked,
        steps: steps.map(|(step, _)| step).collect(),
    })
}

fn check(asked: &BlendAsked) -> Result<(), BlendError> {
    let units = UnitSystem::Metric;
    LEFT_IN_CYLINDER.check(asked.start.pressure.as_bar(), units)?;
    FILL.check(asked.target.pressure.as_bar(), units)?;
    WATER_TEMPERATURE.check(asked.temperature.as_kelvin(), units)?;
    AIR_PRESSURE.check(asked.surface.as_bar(), units)?;
    if asked.top.nitrogen() > NONE_SHARE {
        Ok(())
    } else {
        Err(BlendError::TopWithoutNitrogen { top: asked.top })
    }
}

/// What a blend fails by, and from which lower pressure of the same gas it would not.
fn why_not(asked: &BlendAsked, laws: &[ByLaw<'_>; 2], of: Component) -> BlendError {
    let drain_to = drained(laws);
    let vacuum = laws[0].additions_to([0.0; GASES]);
    match (drain_to, vacuum) {
        (None, Err(of)) => BlendError::WrongTop {
            of,
            asked: Box::new(*asked),
        },
        _ => BlendError::TooMuch {
            of,
            asked: Box::new(*asked),
            drain_to,
        },
    }
}

/// The greatest whole bar from which both laws can go on.
fn drained(laws: &[ByLaw<'_>; 2]) -> Option<GaugePressure> {
    let mut greatest = laws.iter().map(ByLaw::greatest_start);
    let greatest = greatest.try_fold(f64::INFINITY, |least, one| Some(least.min(one?.as_bar())))?;
    let whole = (greatest + WHOLE_BAR).floor();
    // Where rounding at the whole bar itself fails, the next one will do.
    let candidates = [whole, whole - 1.0].into_iter();
    let start = laws[0].asked.start.pressure.as_bar();
    // More of it would be no draining: a gas that alone could thin out what comes on top.
    let candidates = candidates.filter(|bar| (0.0..start).contains(bar));
    let mut candidates = candidates.map(GaugePressure::from_bar);
    candidates.find(|pressure| laws.iter().all(|law| law.additions(*pressure).is_ok()))
}

/// Nitrogen, oxygen and helium, in this order.
const GASES: usize = 3;
/// Moles of each in a litre of cylinder.
type Moles = [f64; GASES];

const fn fractions(mix: Mix) -> Moles {
    [mix.nitrogen(), mix.oxygen(), mix.helium()]
}

fn plus(moles: Moles, fractions: Moles, amount: f64) -> Moles {
    [0, 1, 2].map(|index| moles[index] + fractions[index] * amount)
}

/// What is added, mol per litre of cylinder; nothing is less than none.
#[derive(Clone, Copy, Debug)]
struct Additions {
    start: Moles,
    /// Helium, oxygen, the gas on top.
    amounts: [f64; GASES],
    /// All that is in the cylinder at the end.
    whole: f64,
}

impl Additions {
    fn needed(&self) -> [bool; GASES] {
        self.amounts.map(|amount| amount > NONE_SHARE * self.whole)
    }
}

/// The same blend by one gas law.
#[derive(Clone, Copy)]
struct ByLaw<'a> {
    asked: &'a BlendAsked,
    law: GasLaw,
}

impl ByLaw<'_> {
    /// Moles of a gas at a gauge pressure.
    fn moles(&self, held: CylinderGas) -> Moles {
        let absolute = Pressure::from_bar(held.pressure.as_bar() + self.asked.surface.as_bar());
        let density = match self.law {
            GasLaw::Real => {
                let gas = RealGas::new(held.gas, self.asked.temperature);
                gas.density(absolute).as_mol_per_l()
            }
            GasLaw::Ideal => absolute.as_bar() / self.ideal_slope(),
        };
        plus([0.0; GASES], fractions(held.gas), density)
    }

    /// What the gauge shows.
    fn gauge(&self, moles: Moles) -> GaugePressure {
        let density: f64 = moles.iter().sum();
        let absolute = match self.law {
            GasLaw::Real => {
                let fractions = moles.map(|amount| amount / density);
                let gas = RealGas::of_fractions(fractions, self.asked.temperature);
                gas.pressure(MolarDensity::from_mol_per_l(density)).as_bar()
            }
            GasLaw::Ideal => density * self.ideal_slope(),
        };
        GaugePressure::from_bar(absolute - self.asked.surface.as_bar())
    }

    /// `R·T`: bar/(mol/L).
    fn ideal_slope(&self) -> f64 {
        MOLAR_GAS_CONSTANT * self.asked.temperature.as_kelvin() / KPA_PER_BAR
    }

    /// What must be added to the start's gas at a pressure; what there is too much of otherwise.
    fn additions(&self, start: GaugePressure) -> Result<Additions, Component> {
        self.additions_to(self.moles(CylinderGas {
            pressure: start,
            ..self.asked.start
        }))
    }

    fn additions_to(&self, start: Moles) -> Result<Additions, Component> {
        let target = self.moles(self.asked.target);
        let whole: f64 = target.iter().sum();
        let on_top = fractions(self.asked.top);
        let missing = plus(target, start, -1.0);
        let top = missing[0] / on_top[0];
        let [_, oxygen, helium] = plus(missing, on_top, -top);
        let rows = [
            (helium, Component::Helium),
            (oxygen, Component::Oxygen),
            (top, Component::Nitrogen),
        ];
        let is_enough = |amount: f64| amount >= -NONE_SHARE * whole;
        if let Some((_, of)) = rows.iter().find(|(amount, _)| !is_enough(*amount)) {
            return Err(*of);
        }
        Ok(Additions {
            start,
            amounts: rows.map(|(amount, _)| amount.max(0.0)),
            whole,
        })
    }

    /// The greatest pressure of the start's gas from which nothing that is added is less than none; under
    /// 0 where even the surface's pressure of it is too much, `None` where less of it does not help.
    ///
    /// Each amount is affine in the moles at the start, `A − B·n`, so it is the least `A/B` of those
    /// that fall.
    fn greatest_start(&self) -> Option<GaugePressure> {
        let target = self.moles(self.asked.target);
        let (held, on_top) = (fractions(self.asked.start.gas), fractions(self.asked.top));
        let share = |of: Moles| of[0] / on_top[0];
        let [_, oxygen, helium] = plus(target, on_top, -share(target));
        let [_, oxygen_falls, helium_falls] = plus(held, on_top, -share(held));
        let lines = [
            (share(target), share(held)),
            (oxygen, oxygen_falls),
            (helium, helium_falls),
        ];
        let falling = lines.into_iter().filter(|(_, falls)| *falls > NONE_SHARE);
        let spare = NONE_SHARE * target.iter().sum::<f64>();
        let greatest = falling.map(|(at_none, falls)| (at_none + spare) / falls);
        let greatest = greatest
            .min_by(f64::total_cmp)
            .filter(|moles| *moles > 0.0)?;
        Some(self.gauge(plus([0.0; GASES], held, greatest)))
    }

    /// The cylinder after helium, after oxygen, and after the gas on top.
    fn fill(&self, additions: &Additions) -> [Filled; GASES] {
        let mut moles = additions.start;
        let [helium, oxygen, top] = additions.amounts;
        let pure = [([0.0, 0.0, 1.0], helium), ([0.0, 1.0, 0.0], oxygen)];
        let on_top = (fractions(self.asked.top), top);
        [pure[0], pure[1], on_top].map(|(fractions, amount)| {
            moles = plus(moles, fractions, amount);
            let whole: f64 = moles.iter().sum();
            Filled {
                to: self.gauge(moles),
                oxygen: moles[1] / whole,
                helium: moles[2] / whole,
            }
        })
    }
}
