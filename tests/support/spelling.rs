//! Quantities of a plan spelled in the one or the other units.

use hangbar::quantity::{CUBIC_FOOT_L, FOOT_M, KNOT_M_MIN, PSI_BAR};

/// In which units the quantities of a plan are spelled.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Spelling {
    Metric,
    Imperial,
}

impl Spelling {
    /// To full precision: the shortest decimal that reads back as the same f64.
    fn spell(self, value: f64, metric: &str, imperial: &str, one_imperial: f64) -> String {
        match self {
            Self::Metric => format!("\"{value} {metric}\""),
            Self::Imperial => format!("\"{} {imperial}\"", value / one_imperial),
        }
    }

    pub(crate) fn depth(self, m: f64) -> String {
        self.spell(m, "m", "ft", FOOT_M)
    }

    pub(crate) fn pressure(self, bar: f64) -> String {
        self.spell(bar, "bar", "psi", PSI_BAR)
    }

    pub(crate) fn speed(self, m_min: f64) -> String {
        self.spell(m_min, "m/min", "ft/min", FOOT_M)
    }

    pub(crate) fn current(self, m_min: f64) -> String {
        self.spell(m_min, "m/min", "kn", KNOT_M_MIN)
    }

    pub(crate) fn breathing(self, l_min: f64) -> String {
        self.spell(l_min, "L/min", "cuft/min", CUBIC_FOOT_L)
    }

    pub(crate) fn pressure_rate(self, bar_min: f64) -> String {
        self.spell(bar_min, "bar/min", "psi/min", PSI_BAR)
    }

    pub(crate) fn capacity(self, litres: f64) -> String {
        self.spell(litres, "L", "cuft", CUBIC_FOOT_L)
    }

    pub(crate) fn temperature(self, celsius: f64) -> String {
        match self {
            Self::Metric => format!("\"{celsius} C\""),
            Self::Imperial => format!("\"{} F\"", celsius * 9.0 / 5.0 + 32.0),
        }
    }
}
