//! The rules of a dive in plain numbers, and a dive under way.

use super::body::{Body, Gas, Stretch};
use super::table::Table;
use crate::dive::SegmentKind;
use crate::rules::{DiveRules, LastStop, StopSpacing};
use crate::site::Mix;

/// Run times closer than this are the same, minutes.
const SAME_MIN: f64 = 1e-9;
/// Depths closer than this are the same, metres; stop levels as a share of the spacing.
pub(super) const SAME_M: f64 = 1e-9;

/// What decides a schedule. Figures are plain numbers in minutes, metres, bar and litres: a referee
/// that shared the types of the first engine would share their conversions.
#[derive(Clone, Debug)]
pub(super) struct Rules<'a> {
    pub(super) table: &'a Table,
    pub(super) surface_bar: f64,
    pub(super) bar_per_m: f64,
    pub(super) low: f64,
    pub(super) high: f64,
    pub(super) descent: f64,
    pub(super) ascent: f64,
    pub(super) spacing_m: f64,
    pub(super) last_stop: u32,
    /// Depth and time.
    pub(super) safety: Option<(f64, f64)>,
    pub(super) switch_min: f64,
    pub(super) bottom: Gas,
    pub(super) decompression: Vec<Gas>,
    /// Added to every limit, bar: who is within by a hair is so by either engine or by one.
    pub(super) lean_bar: f64,
}

impl From<Mix> for Gas {
    fn from(mix: Mix) -> Self {
        Self {
            oxygen: mix.oxygen(),
            nitrogen: mix.nitrogen(),
            helium: mix.helium(),
        }
    }
}

impl<'a> Rules<'a> {
    pub(super) fn of(rules: &DiveRules, table: &'a Table, lean_bar: f64) -> Self {
        let ascent = &rules.ascent;
        Self {
            table,
            surface_bar: rules.environment.surface().as_bar(),
            bar_per_m: rules.environment.bar_per_m(),
            low: rules.factors.low(),
            high: rules.factors.high(),
            descent: rules.descent_rate.as_m_min(),
            ascent: ascent.rate.as_m_min(),
            spacing_m: match ascent.spacing {
                StopSpacing::ThreeMetres => 3.0,
                StopSpacing::TenFeet => 3.048,
            },
            last_stop: match ascent.last_stop {
                LastStop::OneSpacing => 1,
                LastStop::TwoSpacings => 2,
            },
            safety: ascent
                .safety_stop
                .map(|stop| (stop.depth.as_m(), stop.time.as_min())),
            switch_min: ascent.switch_time.as_min(),
            bottom: rules.bottom_gas.into(),
            decompression: rules
                .decompression
                .iter()
                .map(|mix| (*mix).into())
                .collect(),
            lean_bar,
        }
    }

    pub(super) fn ambient(&self, depth_m: f64) -> f64 {
        self.surface_bar + self.bar_per_m * depth_m
    }

    /// Whether all compartments are within a factor at a depth.
    pub(super) fn within(&self, body: &Body, depth_m: f64, factor: f64) -> bool {
        self.table.over(body, self.ambient(depth_m), factor) <= self.lean_bar
    }

    /// Number of the shallowest stop level that is not above a depth; 0 is the surface.
    pub(super) fn level_at(&self, depth_m: f64) -> u32 {
        number(depth_m / self.spacing_m - SAME_M)
    }

    /// The next level up: its number and depth, 0 for the surface.
    pub(super) fn above(&self, depth_m: f64) -> (u32, f64) {
        let level = self.level_at(depth_m).saturating_sub(1);
        if level < self.last_stop {
            return (0, 0.0);
        }
        (level, f64::from(level) * self.spacing_m)
    }

    /// Tissues after a stretch.
    pub(super) fn after(
        &self,
        body: &Body,
        from_m: f64,
        to_m: f64,
        minutes: f64,
        gas: Gas,
    ) -> Body {
        let mut body = *body;
        if minutes > 0.0 {
            let pace = self.table.pace(minutes, body.meets_helium(gas));
            body.go(&pace, &self.stretch(from_m, to_m, gas), |_, _| ());
        }
        body
    }

    pub(super) fn stretch(&self, from_m: f64, to_m: f64, gas: Gas) -> Stretch {
        Stretch {
            from_bar: self.ambient(from_m),
            to_bar: self.ambient(to_m),
            gas,
        }
    }

    /// Whether a straight ascent on the bottom gas surfaces within the high factor.
    pub(super) fn is_open(&self, body: &Body, depth_m: f64) -> bool {
        self.over_straight_up(body, depth_m) <= self.lean_bar
    }

    /// By how much somebody surfaces over the high factor after a straight ascent on the bottom gas,
    /// bar; less than nothing where nobody does.
    pub(super) fn over_straight_up(&self, body: &Body, depth_m: f64) -> f64 {
        let up = self.after(body, depth_m, 0.0, depth_m / self.ascent, self.bottom);
        self.table.over(&up, self.surface_bar, self.high)
    }
}

/// The least whole number that is not less; none below 0.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "levels of some hundred metres; what is no such number saturates"
)]
fn number(of: f64) -> u32 {
    of.ceil().max(0.0) as u32
}

/// The first whole minute that is not before a run time.
pub(super) fn whole_minute(run_min: f64) -> f64 {
    (run_min - SAME_MIN).ceil()
}

/// The first whole minute behind a run time.
pub(super) fn minute_after(run_min: f64) -> f64 {
    (run_min + SAME_MIN).floor() + 1.0
}

/// A stretch of a dive.
#[derive(Clone, Copy, Debug)]
pub(super) struct Leg {
    pub(super) kind: SegmentKind,
    pub(super) from_m: f64,
    pub(super) to_m: f64,
    pub(super) start_min: f64,
    pub(super) end_min: f64,
    pub(super) gas: Gas,
}

impl Leg {
    pub(super) fn minutes(&self) -> f64 {
        self.end_min - self.start_min
    }

    /// ∫ P/(1 atm) dt by Simpson's rule, atm·min.
    pub(super) fn exposure(&self, rules: &Rules<'_>) -> f64 {
        let pressure = |depth_m: f64| rules.ambient(depth_m) / 1.013_25;
        let middle = f64::midpoint(self.from_m, self.to_m);
        let sum = pressure(self.from_m) + 4.0 * pressure(middle) + pressure(self.to_m);
        sum / 6.0 * self.minutes()
    }
}

/// Exposure to the bottom gas along legs.
pub(super) fn on_bottom_gas(rules: &Rules<'_>, legs: &[Leg]) -> f64 {
    let legs = legs.iter().filter(|leg| leg.gas.is(rules.bottom));
    legs.map(|leg| leg.exposure(rules)).sum()
}

/// A diver under way.
#[derive(Clone, Debug)]
pub(super) struct Diving {
    pub(super) body: Body,
    pub(super) run_min: f64,
    pub(super) depth_m: f64,
    pub(super) deepest_m: f64,
    pub(super) gas: Gas,
    pub(super) legs: Vec<Leg>,
}

impl Diving {
    pub(super) fn splash(rules: &Rules<'_>, body: Body) -> Self {
        Self {
            body,
            run_min: 0.0,
            depth_m: 0.0,
            deepest_m: 0.0,
            gas: rules.bottom,
            legs: Vec::new(),
        }
    }

    /// The same moment, nothing flown yet.
    pub(super) fn resumed(&self) -> Self {
        Self {
            legs: Vec::new(),
            ..*self
        }
    }

    /// Goes to a depth at a speed.
    pub(super) fn travel(&mut self, rules: &Rules<'_>, kind: SegmentKind, to_m: f64, speed: f64) {
        let minutes = (to_m - self.depth_m).abs() / speed;
        self.go(rules, kind, to_m, self.run_min + minutes);
    }

    /// Stays until a run time.
    pub(super) fn stay(&mut self, rules: &Rules<'_>, kind: SegmentKind, until_min: f64) {
        self.go(rules, kind, self.depth_m, until_min);
    }

    fn go(&mut self, rules: &Rules<'_>, kind: SegmentKind, to_m: f64, end_min: f64) {
        let minutes = end_min - self.run_min;
        self.body = rules.after(&self.body, self.depth_m, to_m, minutes, self.gas);
        self.is_at(kind, to_m, end_min);
    }

    /// Takes down a leg to where and when the diver now is; neighbouring ascents on one gas are one.
    pub(super) fn is_at(&mut self, kind: SegmentKind, to_m: f64, end_min: f64) {
        let leg = Leg {
            kind,
            from_m: self.depth_m,
            to_m,
            start_min: self.run_min,
            end_min,
            gas: self.gas,
        };
        self.depth_m = to_m;
        self.deepest_m = self.deepest_m.max(to_m);
        self.run_min = end_min;
        if leg.minutes() > SAME_MIN {
            join(&mut self.legs, leg);
        }
    }
}

/// Adds a leg; neighbouring ascents on one gas are one.
pub(super) fn join(legs: &mut Vec<Leg>, leg: Leg) {
    if let Some(last) = legs.last_mut()
        && last.kind == SegmentKind::Ascent
        && leg.kind == SegmentKind::Ascent
        && last.gas.is(leg.gas)
    {
        (last.to_m, last.end_min) = (leg.to_m, leg.end_min);
    } else {
        legs.push(leg);
    }
}
