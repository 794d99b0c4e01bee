//! Gradient factors.

use std::fmt;
use std::ops::RangeInclusive;
use std::str::FromStr;

use crate::letters::quotable;
use crate::quantity::{plain_decimal, serde_as_text};

/// Gradient factors: the share of the tolerated supersaturation that may be used, at the first
/// stop (low) and at the surface (high).
///
/// As text, the two per cents: `40/85`. Serde takes and gives the same.
///
/// # Example
/// ```
/// use hangbar::tissue::GradientFactors;
/// let factors: GradientFactors = "30/70".parse()?;
/// assert_eq!(factors.to_string(), "30/70");
/// assert_eq!(serde_json::to_string(&factors)?, "\"30/70\"");
/// assert!("70/30".parse::<GradientFactors>().is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GradientFactors {
    low_pct: f64,
    high_pct: f64,
}

/// Why a pair of gradient factors is refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FactorError {
    /// The text is no pair of per cents.
    #[error("`{}` is not a low and a high per cent, as 40/85", quotable(.0))]
    NoPair(String),
    /// A factor outside 5 to 100 per cent.
    #[error("a gradient factor of {0} % is outside 5 % to 100 %")]
    OutOfRange(f64),
    /// The low factor is over the high one.
    #[error("the low gradient factor, {0} %, is over the high one, {1} %")]
    LowOverHigh(f64, f64),
}

impl GradientFactors {
    /// What either of them may be, per cent.
    pub(crate) const ACCEPTED_PCT: RangeInclusive<f64> = 5.0..=100.0;

    /// A pair in per cent.
    ///
    /// # Errors
    /// [`FactorError::OutOfRange`] unless both are in `5..=100`;
    /// [`FactorError::LowOverHigh`] unless `low_pct <= high_pct`.
    ///
    /// # Example
    /// ```
    /// use hangbar::tissue::GradientFactors;
    /// assert!(GradientFactors::from_pct(40.0, 85.0).is_ok());
    /// assert!(GradientFactors::from_pct(90.0, 85.0).is_err());
    /// ```
    pub fn from_pct(low_pct: f64, high_pct: f64) -> Result<Self, FactorError> {
        for pct in [low_pct, high_pct] {
            if !Self::ACCEPTED_PCT.contains(&pct) {
                return Err(FactorError::OutOfRange(pct));
            }
        }
        if low_pct > high_pct {
            return Err(FactorError::LowOverHigh(low_pct, high_pct));
        }
        Ok(Self { low_pct, high_pct })
    }

    /// The low factor, 0.05 to 1.
    #[must_use]
    pub const fn low(self) -> f64 {
        self.low_pct / 100.0
    }

    /// The high factor, 0.05 to 1.
    #[must_use]
    pub const fn high(self) -> f64 {
        self.high_pct / 100.0
    }
}

impl Default for GradientFactors {
    /// 40/85.
    fn default() -> Self {
        Self {
            low_pct: 40.0,
            high_pct: 85.0,
        }
    }
}

impl fmt::Display for GradientFactors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.low_pct, self.high_pct)
    }
}

impl FromStr for GradientFactors {
    type Err = FactorError;

    fn from_str(text: &str) -> Result<Self, FactorError> {
        let pair = text.split_once('/');
        let pair = pair.and_then(|(low, high)| plain_decimal(low).zip(plain_decimal(high)));
        let (low, high) = pair.ok_or_else(|| FactorError::NoPair(text.to_owned()))?;
        Self::from_pct(low, high)
    }
}

serde_as_text!(
    GradientFactors,
    "the low and the high per cent, as \"40/85\""
);

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

    use super::{FactorError, GradientFactors};

    #[test]
    fn a_pair_reads_back_what_it_writes() {
        for text in ["5/100", "29/57", "33.3/70", "100/100", "7.1/14.7"] {
            let factors: GradientFactors = text.parse().unwrap();
            assert_eq!(factors.to_string(), text);
        }
    }

    #[test]
    fn text_that_is_no_pair_is_told_from_factors_out_of_range() {
        for text in [
            "",
            "40",
            "40/",
            "40/85/",
            "-40/85",
            "4e1/85",
            "nan/85",
            "40 % / 85 %",
        ] {
            let refused = text.parse::<GradientFactors>();
            assert_eq!(refused, Err(FactorError::NoPair(text.to_owned())));
        }
        let refused = "4/85".parse::<GradientFactors>();
        assert_eq!(refused, Err(FactorError::OutOfRange(4.0)));
    }
}
