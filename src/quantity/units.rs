//! Quantities of the trade as types: one stored unit each, said at the field.
//!
//! Constructors and accessors name their unit. Absolute pressures ([`Pressure`]) and what a
//! cylinder's gauge shows ([`GaugePressure`]) are different types and do not mix by accident.

/// One standard atmosphere in bar.
///
/// Source: definition (10th CGPM, 1954).
pub const ATM_BAR: f64 = 1.01325;
/// Standard gravity in m/s².
///
/// Source: definition (3rd CGPM, 1901).
pub const GRAVITY_M_S2: f64 = 9.806_65;
/// One foot in metres.
///
/// Source: definition (international foot, 1959).
pub const FOOT_M: f64 = 0.3048;
/// One pound-force per square inch in bar.
///
/// Source: from the pound, the inch and standard gravity, all exact.
pub const PSI_BAR: f64 = 0.068_947_572_931_68;
/// One cubic foot in litres: 0.3048³ m³.
pub const CUBIC_FOOT_L: f64 = 28.316_846_592;
/// One pound in kilograms.
///
/// Source: definition (international pound, 1959).
pub const POUND_KG: f64 = 0.453_592_37;
/// One knot in metres a minute: 1852 m in an hour.
pub const KNOT_M_MIN: f64 = 1852.0 / 60.0;
/// Kilopascals in a bar.
pub const KPA_PER_BAR: f64 = 100.0;
/// Molar gas constant, J/(mol·K) or kPa·L/(mol·K).
///
/// Source: exact since the SI of 2019 (k·N_A), to ten digits. The equation of state has a value of
/// its own, which belongs to its coefficients.
pub const MOLAR_GAS_CONSTANT: f64 = 8.314_462_618;
/// Zero degrees Celsius in kelvin.
pub const CELSIUS_ZERO_K: f64 = 273.15;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:literal, $($from:ident / $as:ident = $factor:expr),+) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name(f64); // stored in the unit of the first constructor

        impl $name {
            $(
                #[doc = concat!("From the unit that the name says; stored in ", $unit, ".")]
                #[must_use]
                pub const fn $from(value: f64) -> Self {
                    Self(value * $factor)
                }

                /// In the unit that the name says.
                #[must_use]
                pub const fn $as(self) -> f64 {
                    self.0 / $factor
                }
            )+

            /// The lesser of two.
            #[must_use]
            pub const fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }

            /// The greater of two.
            #[must_use]
            pub const fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }
        }
    };
}

macro_rules! additive {
    ($($name:ident),+) => {$(
        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
                parts.fold(Self(0.0), |sum, part| sum + part)
            }
        }
    )+};
}

quantity!(
    /// Depth below the surface.
    Depth, "metres", from_m / as_m = 1.0, from_ft / as_ft = FOOT_M
);
quantity!(
    /// Height of the site above mean sea level (below it: negative).
    Altitude, "metres", from_m / as_m = 1.0, from_ft / as_ft = FOOT_M
);
quantity!(
    /// Absolute pressure.
    Pressure, "bar absolute", from_bar / as_bar = 1.0, from_atm / as_atm = ATM_BAR
);
quantity!(
    /// Pressure above the surface's, as a cylinder's gauge shows it.
    GaugePressure, "bar gauge", from_bar / as_bar = 1.0, from_psi / as_psi = PSI_BAR
);
quantity!(
    /// A stretch of time. A moment of a dive is a [`RunTime`](super::RunTime).
    Time, "minutes", from_min / as_min = 1.0
);
quantity!(
    /// Vertical speed or speed through the water, always positive.
    Speed, "metres a minute", from_m_min / as_m_min = 1.0,
    from_ft_min / as_ft_min = FOOT_M, from_knots / as_knots = KNOT_M_MIN
);
quantity!(
    /// Gas as litres at 1 atm and the cylinder's temperature.
    FreeVolume, "free litres", from_l / as_l = 1.0, from_cuft / as_cuft = CUBIC_FOOT_L
);
quantity!(
    /// Inner volume of a cylinder.
    WaterVolume, "litres of water", from_l / as_l = 1.0
);
quantity!(
    /// Gas breathed at the surface in a minute.
    BreathingRate, "free litres a minute", from_l_min / as_l_min = 1.0,
    from_cuft_min / as_cuft_min = CUBIC_FOOT_L
);
quantity!(
    /// Mass.
    Mass, "kilograms", from_kg / as_kg = 1.0, from_lb / as_lb = POUND_KG
);
quantity!(
    /// Thermodynamic temperature.
    Temperature, "kelvin", from_kelvin / as_kelvin = 1.0
);
quantity!(
    /// Pressure in atmospheres integrated over time: a breathing rate times this is a free volume.
    AtmMinutes, "atm·min", from_atm_min / as_atm_min = 1.0
);
additive!(
    Time,
    FreeVolume,
    BreathingRate,
    AtmMinutes,
    GaugePressure,
    Mass
);

impl Temperature {
    /// From degrees Celsius.
    #[must_use]
    pub const fn from_celsius(celsius: f64) -> Self {
        Self(celsius + CELSIUS_ZERO_K)
    }

    /// In degrees Celsius.
    #[must_use]
    pub const fn as_celsius(self) -> f64 {
        self.0 - CELSIUS_ZERO_K
    }
}

impl Time {
    /// Times closer than this are the same: rounding noise of a run time, far below a second.
    pub const SAME: Self = Self(1e-9);

    /// Whether both are the same but for [`Time::SAME`].
    ///
    /// # Example
    /// ```
    /// use hangbar::quantity::Time;
    /// let (sum, whole) = (Time::from_min(0.1 + 0.2), Time::from_min(0.3));
    /// assert!(sum != whole && sum.is_at(whole) && !sum.is_over(whole));
    /// assert!(Time::from_min(0.31).is_over(whole));
    /// ```
    #[must_use]
    pub const fn is_at(self, other: Self) -> bool {
        (self.0 - other.0).abs() <= Self::SAME.0
    }

    /// Whether this is longer by more than [`Time::SAME`].
    #[must_use]
    pub const fn is_over(self, other: Self) -> bool {
        self.0 > other.0 + Self::SAME.0
    }
}

impl Altitude {
    /// The sea.
    pub const SEA_LEVEL: Self = Self(0.0);
}

impl Depth {
    /// The surface of the water.
    pub const SURFACE: Self = Self(0.0);
    /// Depths closer than this are the same: rounding noise, as of 10 ft in metres.
    pub const SAME: Self = Self(1e-9);

    /// Whether both are the same but for [`Depth::SAME`].
    ///
    /// # Example
    /// ```
    /// use hangbar::quantity::Depth;
    /// let (feet, metres) = (Depth::from_ft(100.0), Depth::from_m(30.48));
    /// assert!(feet.is_at(metres) && !feet.is_below(metres) && !feet.is_above(metres));
    /// assert!(Depth::from_ft(101.0).is_below(metres));
    /// ```
    #[must_use]
    pub const fn is_at(self, other: Self) -> bool {
        (self.0 - other.0).abs() <= Self::SAME.0
    }

    /// Whether this is deeper by more than [`Depth::SAME`].
    #[must_use]
    pub const fn is_below(self, other: Self) -> bool {
        self.0 > other.0 + Self::SAME.0
    }

    /// Whether this is shallower by more than [`Depth::SAME`].
    #[must_use]
    pub const fn is_above(self, other: Self) -> bool {
        self.0 < other.0 - Self::SAME.0
    }
}

impl Pressure {
    /// Whether both are the same but for rounding, 1e-9 bar.
    #[must_use]
    pub const fn is_at(self, other: Self) -> bool {
        (self.0 - other.0).abs() <= GaugePressure::SAME.0
    }

    /// Whether this is higher by more than rounding, 1e-9 bar.
    ///
    /// # Example
    /// ```
    /// use hangbar::quantity::Pressure;
    /// let (product, limit) = (Pressure::from_bar(0.4 * 3.5), Pressure::from_bar(1.4));
    /// assert!(product != limit && !product.is_over(limit) && product.is_within(limit));
    /// assert!(Pressure::from_bar(1.41).is_over(limit));
    /// ```
    #[must_use]
    pub const fn is_over(self, other: Self) -> bool {
        self.0 > other.0 + GaugePressure::SAME.0
    }

    /// Whether this is at most a limit, but for rounding, 1e-9 bar; no for what is no number.
    #[must_use]
    pub const fn is_within(self, limit: Self) -> bool {
        self.0 <= limit.0 + GaugePressure::SAME.0
    }
}

impl GaugePressure {
    /// Pressures closer than this are the same: rounding noise, as of 3000 psi in bar.
    pub const SAME: Self = Self(1e-9);

    /// Whether this is higher by more than [`GaugePressure::SAME`].
    ///
    /// # Example
    /// ```
    /// use hangbar::quantity::GaugePressure;
    /// let limit = GaugePressure::from_bar(200.0) * 1.1;
    /// assert!(!GaugePressure::from_bar(220.0).is_over(limit));
    /// assert!(GaugePressure::from_bar(221.0).is_over(limit));
    /// ```
    #[must_use]
    pub const fn is_over(self, other: Self) -> bool {
        self.0 > other.0 + Self::SAME.0
    }
}

impl std::ops::Mul<AtmMinutes> for BreathingRate {
    type Output = FreeVolume;
    /// Free gas used: `V = V̇ · ∫ P/(1 atm) dt`, with V̇ in free L/min.
    fn mul(self, exposure: AtmMinutes) -> FreeVolume {
        FreeVolume(self.0 * exposure.0)
    }
}

/// Which units a plan is written in and a briefing is read out in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum UnitSystem {
    /// Metres, bar, litres.
    #[default]
    Metric,
    /// Feet, psi, cubic feet.
    Imperial,
}
