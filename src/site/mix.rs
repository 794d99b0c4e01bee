//! Breathing gases: fractions of oxygen, helium and nitrogen.

use std::fmt;
use std::str::FromStr;

use crate::letters::quotable;
use crate::quantity::{plain_decimal, serde_as_text};

/// Least oxygen that a mix may hold, per cent.
pub const LEAST_OXYGEN_PCT: f64 = 5.0;

/// Shares closer than this are the same, per cent.
const SAME_PCT: f64 = 1e-9;

/// Molar masses, g/mol. Source: IUPAC atomic weights.
const OXYGEN_G_MOL: f64 = 31.998;
const NITROGEN_G_MOL: f64 = 28.014;
const HELIUM_G_MOL: f64 = 4.0026;

/// A breathing gas. Fractions are mole fractions; what is neither oxygen nor helium is nitrogen.
///
/// Prints as it was named: `air`, `EAN32`, `18/45`, `oxygen`. Serde takes and gives the same text.
///
/// # Example
/// ```
/// use hangbar::site::Mix;
/// let mix: Mix = "18/45".parse()?;
/// assert!((mix.nitrogen() - 0.37).abs() < 1e-12);
/// assert!("EAN4".parse::<Mix>().is_err());
///
/// assert_eq!(serde_json::to_string(&mix)?, "\"18/45\"");
/// assert!(serde_json::from_str::<Mix>("32").is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Mix {
    oxygen_pct: f64,
    helium_pct: f64,
    name: Name,
}

#[derive(Clone, Copy, Debug)]
enum Name {
    Air,
    Nitrox,
    Trimix,
    Oxygen,
}

/// Why a mix is refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum MixError {
    /// The text is none of the accepted forms.
    #[error("`{}` is not the name of a gas", quotable(.0))]
    Name(String),
    /// Less than 5 or more than 100 per cent of oxygen.
    #[error("{0} % of oxygen is outside 5 % to 100 %")]
    Oxygen(f64),
    /// Oxygen and helium together are more than the whole.
    #[error("{0} % of oxygen and {1} % of helium are more than 100 %")]
    Sum(f64, f64),
}

impl Mix {
    /// Air as the model takes it: 21 % oxygen, 79 % nitrogen.
    pub const AIR: Self = Self {
        oxygen_pct: 21.0,
        helium_pct: 0.0,
        name: Name::Air,
    };
    /// Nothing but oxygen.
    pub const OXYGEN: Self = Self {
        oxygen_pct: 100.0,
        helium_pct: 0.0,
        name: Name::Oxygen,
    };
    /// The forms a plan may use, for messages.
    pub const ACCEPTED: &str = "\"air\", \"oxygen\", nitrox as \"EAN32\", trimix as \"18/45\"";

    /// Nitrox with so many per cent of oxygen.
    ///
    /// # Errors
    /// [`MixError::Oxygen`] unless `5 <= oxygen_pct <= 100`.
    pub fn nitrox(oxygen_pct: f64) -> Result<Self, MixError> {
        Self::checked(oxygen_pct, 0.0, Name::Nitrox)
    }

    /// Trimix (or heliox) with so many per cent of oxygen and helium.
    ///
    /// # Errors
    /// [`MixError::Oxygen`] unless `5 <= oxygen_pct <= 100`; [`MixError::Sum`] unless
    /// `0 <= helium_pct` and both together are at most 100.
    pub fn trimix(oxygen_pct: f64, helium_pct: f64) -> Result<Self, MixError> {
        Self::checked(oxygen_pct, helium_pct, Name::Trimix)
    }

    fn checked(oxygen_pct: f64, helium_pct: f64, name: Name) -> Result<Self, MixError> {
        if !(LEAST_OXYGEN_PCT..=100.0).contains(&oxygen_pct) {
            return Err(MixError::Oxygen(oxygen_pct));
        }
        if !(0.0..=100.0 - oxygen_pct).contains(&helium_pct) {
            return Err(MixError::Sum(oxygen_pct, helium_pct));
        }
        Ok(Self {
            oxygen_pct,
            helium_pct,
            name,
        })
    }

    /// Fraction of oxygen, 0.05 to 1.
    #[must_use]
    pub const fn oxygen(self) -> f64 {
        self.oxygen_pct / 100.0
    }

    /// Fraction of helium.
    #[must_use]
    pub const fn helium(self) -> f64 {
        self.helium_pct / 100.0
    }

    /// Fraction of nitrogen: the rest.
    #[must_use]
    pub const fn nitrogen(self) -> f64 {
        (100.0 - self.oxygen_pct - self.helium_pct) / 100.0
    }

    /// Molar mass, g/mol: `Σ fraction·M`.
    #[must_use]
    pub const fn molar_mass_g_mol(self) -> f64 {
        self.oxygen() * OXYGEN_G_MOL
            + self.nitrogen() * NITROGEN_G_MOL
            + self.helium() * HELIUM_G_MOL
    }

    /// Whether both are the same gas, whatever they are called.
    #[must_use]
    pub fn is_same_gas(self, other: Self) -> bool {
        let same = |a: f64, b: f64| (a - b).abs() < SAME_PCT;
        same(self.oxygen_pct, other.oxygen_pct) && same(self.helium_pct, other.helium_pct)
    }

    /// Whether this gas holds more oxygen than the other.
    #[must_use]
    pub fn is_richer_than(self, other: Self) -> bool {
        self.oxygen_pct > other.oxygen_pct + SAME_PCT
    }
}

impl PartialEq for Mix {
    /// The same gas, whatever it is called.
    fn eq(&self, other: &Self) -> bool {
        self.is_same_gas(*other)
    }
}

impl fmt::Display for Mix {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.name {
            Name::Air => f.pad("air"),
            Name::Oxygen => f.pad("oxygen"),
            Name::Nitrox => f.pad(&format!("EAN{}", self.oxygen_pct)),
            Name::Trimix => f.pad(&format!("{}/{}", self.oxygen_pct, self.helium_pct)),
        }
    }
}

impl FromStr for Mix {
    type Err = MixError;

    fn from_str(text: &str) -> Result<Self, MixError> {
        let unknown = || MixError::Name(text.to_owned());
        let trimmed = text.trim();
        if trimmed.eq_ignore_ascii_case("air") {
            return Ok(Self::AIR);
        }
        if trimmed.eq_ignore_ascii_case("oxygen") {
            return Ok(Self::OXYGEN);
        }
        if let Some(prefix) = trimmed.get(..3)
            && prefix.eq_ignore_ascii_case("ean")
        {
            return Self::nitrox(percent(&trimmed[3..]).ok_or_else(unknown)?);
        }
        if let Some((oxygen, helium)) = trimmed.split_once('/') {
            let oxygen = percent(oxygen).ok_or_else(unknown)?;
            let helium = percent(helium).ok_or_else(unknown)?;
            return Self::trimix(oxygen, helium);
        }
        Err(unknown())
    }
}

/// Digits with at most one point, a finite number.
fn percent(text: &str) -> Option<f64> {
    plain_decimal(text).filter(|value| value.is_finite())
}

serde_as_text!(Mix, "the name of a gas, as \"EAN32\"");
