//! The plan's water and air: ambient pressures, speeds and times on the way.

use super::expression::Expression;
use super::sheet::{Line, Sheet};
use crate::plan::Plan;
use crate::quantity::show::Show;
use crate::quantity::{ATM_BAR, Depth, Pressure, RunTime, UnitSystem};
use crate::rules::DiveRules;
use crate::site::{LAPSE_K_M, SEA_LEVEL_K, TROPOSPHERE_EXPONENT};

/// Usual decimals of a pressure in bar.
pub(super) const BAR: usize = 4;
/// Usual decimals of a depth, a speed or a coefficient that is taken as it is.
pub(super) const GIVEN: usize = 4;
/// Usual decimals of a time in minutes: short ones too leave a rate and a share theirs.
pub(super) const MINUTES: usize = 6;
/// Decimals of bar a metre.
const BAR_PER_M: usize = 6;
/// Decimals of the pressure at the surface.
pub(super) const SURFACE_BAR: usize = 5;

/// A constant of the model as both lines write it.
pub(super) fn plain(value: f64) -> Expression {
    Expression::constant(&format!("{value}"))
}

/// Down or up.
#[derive(Clone, Copy)]
pub(super) enum Way {
    Down,
    Up,
}

impl Way {
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Down => "down",
            Self::Up => "up",
        }
    }
}

/// The plan's water and air, and how depths are called.
pub(super) struct Site<'a> {
    pub(super) plan: &'a Plan,
    pub(super) show: Show,
}

impl<'a> Site<'a> {
    pub(super) const fn new(plan: &'a Plan, units: UnitSystem) -> Self {
        Self {
            plan,
            show: Show(units),
        }
    }

    pub(super) const fn rules(&self) -> &'a DiveRules {
        self.plan.rules()
    }

    /// `36 m`, `the surface`
    pub(super) fn at(&self, depth: Depth) -> String {
        if depth.as_m() > 0.0 {
            self.show.depth(depth)
        } else {
            "the surface".to_owned()
        }
    }

    pub(super) fn ambient_bar(&self, depth: Depth) -> Pressure {
        self.rules().environment.ambient(depth)
    }

    /// Pressure at the surface: given, or from the altitude.
    pub(super) fn surface(&self, sheet: &mut Sheet) -> Expression {
        let surface = self.rules().environment.surface().as_bar();
        let Some(altitude) = self.plan.site().altitude else {
            let meaning = "pressure at the surface, bar";
            return sheet.given("P_s", meaning, surface, SURFACE_BAR);
        };
        let meaning = "height of the site above sea level, m";
        let height = sheet.given("h", meaning, altitude.as_m(), GIVEN);
        let line = Line {
            title: "Pressure at the surface, by the standard atmosphere".to_owned(),
            symbol: "P_s",
            unit: "bar",
            decimals: sheet.working(SURFACE_BAR),
        };
        sheet.equation(line, Self::standard_air(height), surface)
    }

    /// Pressure of the standard atmosphere at a height.
    ///
    /// ```text
    /// P = 1.01325·(1 − 0.0065·h/288.15)^5.2558761
    /// ```
    pub(super) fn standard_air(height: Expression) -> Expression {
        let cooler = plain(1.0) - plain(LAPSE_K_M) * height / plain(SEA_LEVEL_K);
        plain(ATM_BAR) * cooler.power(plain(TROPOSPHERE_EXPONENT))
    }

    /// What a metre of water adds.
    pub(super) fn water(&self, sheet: &mut Sheet) -> Expression {
        let bar_per_m = self.rules().environment.bar_per_m();
        let meaning = "what a metre of this water adds, bar";
        sheet.given("w", meaning, bar_per_m, BAR_PER_M)
    }

    /// `d`, or `d_next` for the next level up.
    pub(super) fn depth(&self, sheet: &mut Sheet, symbol: &str, depth: Depth) -> Expression {
        let meaning = match symbol {
            "d_next" => "depth of the next level, m",
            _ => "depth, m",
        };
        sheet.given(symbol, meaning, depth.as_m(), GIVEN)
    }

    /// ```text
    /// P = P_s + w·d
    /// ```
    /// At the surface that is `P_s` itself, and no line is written.
    pub(super) fn ambient(
        &self,
        sheet: &mut Sheet,
        surface: &Expression,
        (symbol, depth_symbol): (&str, &str),
        depth: Depth,
    ) -> Expression {
        if depth.as_m() <= 0.0 {
            return surface.clone();
        }
        let water = self.water(sheet);
        let metres = self.depth(sheet, depth_symbol, depth);
        let line = Line {
            title: format!("Ambient pressure at {}", self.at(depth)),
            symbol,
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        let model = self.ambient_bar(depth).as_bar();
        sheet.equation(line, surface.clone() + water * metres, model)
    }

    pub(super) fn speed(&self, sheet: &mut Sheet, way: Way) -> Expression {
        let rules = self.rules();
        let (symbol, speed) = match way {
            Way::Down => ("v_down", rules.descent_rate),
            Way::Up => ("v_up", rules.ascent.rate),
        };
        let meaning = format!("speed on the way {}, m/min", way.word());
        sheet.given(symbol, meaning, speed.as_m_min(), GIVEN)
    }

    /// Time of a change of depth.
    ///
    /// ```text
    /// t = (d − d_next)/v      to or from the surface d/v
    /// ```
    pub(super) fn travel_time(
        &self,
        sheet: &mut Sheet,
        way: Way,
        (from, to): (Depth, Depth),
    ) -> Expression {
        let speed = self.speed(sheet, way);
        let deep = self.depth(sheet, "d", from.max(to));
        let shallow = from.min(to);
        let distance = if shallow.as_m() > 0.0 {
            deep - self.depth(sheet, "d_next", shallow)
        } else {
            deep
        };
        let line = Line {
            title: format!("Time from {} to {}", self.at(from), self.at(to)),
            symbol: match way {
                Way::Down => "t_down",
                Way::Up => "t_up",
            },
            unit: "min",
            decimals: sheet.working(MINUTES),
        };
        sheet.derived(line, distance / speed)
    }
}

/// Minutes as words give them: at most two decimals.
pub(super) fn minutes_of(time: RunTime) -> String {
    format!("{}", (time.as_min() * 100.0).round() / 100.0)
}
