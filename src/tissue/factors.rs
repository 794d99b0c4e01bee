//! Gradient factors.

/// Gradient factors: the share of the tolerated supersaturation that may be used, at the first
/// stop (low) and at the surface (high).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GradientFactors {
    low: f64,
    high: f64,
}

/// Why a pair of gradient factors is refused.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FactorError {
    /// A factor outside 5 to 100 per cent.
    #[error("a gradient factor of {0} % is outside 5 % to 100 %")]
    OutOfRange(f64),
    /// The low factor is over the high one.
    #[error("the low gradient factor, {0} %, is over the high one, {1} %")]
    LowOverHigh(f64, f64),
}

impl GradientFactors {
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
            if !(5.0..=100.0).contains(&pct) {
                return Err(FactorError::OutOfRange(pct));
            }
        }
        if low_pct > high_pct {
            return Err(FactorError::LowOverHigh(low_pct, high_pct));
        }
        Ok(Self {
            low: low_pct / 100.0,
            high: high_pct / 100.0,
        })
    }

    /// The low factor, 0.05 to 1.
    #[must_use]
    pub const fn low(self) -> f64 {
        self.low
    }

    /// The high factor, 0.05 to 1.
    #[must_use]
    pub const fn high(self) -> f64 {
        self.high
    }
}

impl Default for GradientFactors {
    /// 40/85.
    fn default() -> Self {
        Self {
            low: 0.40,
            high: 0.85,
        }
    }
}
