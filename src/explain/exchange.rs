//! Gas exchange of one compartment, and what it may hold.

use super::expression::Expression;
use super::sheet::{Line, Sheet};
use super::site::{BAR, GIVEN, Site, Way, plain};
use crate::quantity::Pressure;
use crate::rules::DiveRules;
use crate::site::Mix;
use crate::tissue::{Coefficients, Loading, Tissues, WATER_VAPOUR_BAR};

/// Usual decimals of a share that a pressure is multiplied by.
const SHARE: usize = 5;

/// One inert gas in the compartment that decides.
pub(super) struct Inert {
    pub(super) name: &'static str,
    suffix: &'static str,
    pub(super) coefficients: Coefficients,
    fraction: fn(Mix) -> f64,
    held: fn(&Loading) -> f64,
}

/// The compartment that decides, and the gases that matter in it.
pub(super) struct Deciding<'a> {
    rules: &'a DiveRules,
    pub(super) index: usize,
    pub(super) gases: Vec<Inert>,
}

/// A change of depth, or none, as gas exchange sees it.
pub(super) struct Stretch<'e> {
    /// What it holds at the end, as a title.
    pub(super) title: String,
    /// Symbol of that, without the gas.
    pub(super) symbol: &'e str,
    /// What it holds at the start; `None` where it would hold nothing.
    pub(super) start: Option<Expression>,
    /// Share of the way to the inspired pressure that is made, see [`Inert::share_taken`].
    pub(super) taken: Expression,
    /// Inspired pressure at the start.
    pub(super) inspired: Expression,
    /// Change of the inspired pressure, bar/min, where there is any.
    pub(super) rate: Option<Expression>,
    /// How long it takes.
    pub(super) time: Expression,
    /// What it holds at the end in the model; `None` of what the model has no value of its own for.
    pub(super) model: Option<f64>,
}

impl Inert {
    /// A symbol of this gas.
    pub(super) fn symbol(&self, base: &str) -> String {
        format!("{base}{}", self.suffix)
    }

    pub(super) fn fraction_in(&self, mix: Mix) -> f64 {
        (self.fraction)(mix)
    }

    /// What a compartment holds of it.
    pub(super) fn held(&self, tissues: &Tissues, index: usize) -> f64 {
        (self.held)(&tissues.loading(index))
    }

    pub(super) fn fraction(&self, sheet: &mut Sheet, mix: Mix) -> Expression {
        let meaning = format!("share of {} in {mix}, which is breathed", self.name);
        let value = self.fraction_in(mix);
        sheet.given(&self.symbol("f"), meaning, value, SHARE)
    }

    pub(super) fn half_time(&self, sheet: &mut Sheet) -> Expression {
        let meaning = format!("half-time of the compartment for {}, min", self.name);
        let value = self.coefficients.half_time.as_min();
        sheet.given(&self.symbol("T"), meaning, value, GIVEN)
    }

    /// ```text
    /// p_in = (P − 0.0627)·f
    /// ```
    pub(super) fn inspired(
        &self,
        sheet: &mut Sheet,
        (symbol, at): (&str, &str),
        ambient: &Expression,
        mix: Mix,
    ) -> Expression {
        let fraction = self.fraction(sheet, mix);
        let line = Line {
            title: format!(
                "Inspired {} at {at}, less the lung's water vapour",
                self.name
            ),
            symbol: &self.symbol(symbol),
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        let dry = ambient.clone() - plain(WATER_VAPOUR_BAR);
        sheet.derived(line, dry * fraction)
    }

    /// How fast the inspired pressure changes at a speed.
    ///
    /// ```text
    /// r = v·w·f      on the way up −v·w·f
    /// ```
    pub(super) fn rate(
        &self,
        sheet: &mut Sheet,
        site: &Site<'_>,
        way: Way,
        mix: Mix,
    ) -> Expression {
        let fraction = self.fraction(sheet, mix);
        let water = site.water(sheet);
        let speed = site.speed(sheet, way);
        let speed = match way {
            Way::Down => speed,
            Way::Up => -speed,
        };
        let line = Line {
            title: format!(
                "Change of inspired {} a minute on the way {}",
                self.name,
                way.word()
            ),
            symbol: &self.symbol(match way {
                Way::Down => "r_down",
                Way::Up => "r_up",
            }),
            unit: "bar/min",
            decimals: sheet.working(BAR + 1),
        };
        sheet.derived(line, speed * water * fraction)
    }

    /// Decimals of a share that is multiplied by `r·T/ln 2`: as many as leave a pressure its own.
    fn share_decimals(&self, sheet: &Sheet, rate: f64) -> usize {
        let size = (rate * self.coefficients.half_time.as_min() / std::f64::consts::LN_2).abs();
        let mut decimals = sheet.working(SHARE);
        let mut reach = 1.0;
        while reach < size && decimals < sheet.working(2 * SHARE) {
            decimals += 1;
            reach *= 10.0;
        }
        decimals
    }

    /// Share of a pressure that is left after a time.
    ///
    /// ```text
    /// alpha = 2^(−t/T)
    /// ```
    pub(super) fn share_left(
        &self,
        sheet: &mut Sheet,
        time: &Expression,
        rate: &Expression,
    ) -> Expression {
        let half_time = self.half_time(sheet);
        let line = Line {
            title: "Share that is left: half of it after each half-time".to_owned(),
            symbol: &self.symbol("alpha"),
            unit: "",
            decimals: self.share_decimals(sheet, rate.unrounded()),
        };
        sheet.derived(line, plain(2.0).power(-time.clone() / half_time))
    }

    /// Share of the way to the inspired pressure that is made in a time.
    ///
    /// ```text
    /// E = 1 − 2^(−t/T)
    /// ```
    pub(super) fn share_taken(
        &self,
        sheet: &mut Sheet,
        symbol: &str,
        time: &Expression,
        rate: Option<&Expression>,
    ) -> Expression {
        let half_time = self.half_time(sheet);
        let rate = rate.map_or(0.0, Expression::unrounded);
        let line = Line {
            title: "Share of the way to the inspired pressure".to_owned(),
            symbol: &self.symbol(symbol),
            unit: "",
            decimals: self.share_decimals(sheet, rate),
        };
        let left = plain(2.0).power(-time.clone() / half_time);
        sheet.derived(line, plain(1.0) - left)
    }

    /// Gas exchange over a stretch.
    ///
    /// ```text
    /// p = p_0 + (p_in − p_0)·E + r·(t − T/ln 2·E)
    /// ```
    /// without the last part where the depth stays the same, and without `p_0` where the start is
    /// 0. See [`crate::tissue::exchange`].
    pub(super) fn exchange(&self, sheet: &mut Sheet, stretch: Stretch<'_>) -> Expression {
        let half_time = self.half_time(sheet);
        let taken = stretch.taken;
        let mut end = match stretch.start {
            Some(start) => start.clone() + (stretch.inspired - start) * taken.clone(),
            None => stretch.inspired * taken.clone(),
        };
        if let Some(rate) = stretch.rate {
            end = end + rate * (stretch.time - half_time / plain(2.0).ln() * taken);
        }
        let line = Line {
            title: stretch.title,
            symbol: &self.symbol(stretch.symbol),
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        match stretch.model {
            Some(model) => sheet.equation(line, end, model),
            None => sheet.derived(line, end),
        }
    }
}

impl<'a> Deciding<'a> {
    pub(super) fn new(rules: &'a DiveRules, index: usize, with_helium: bool) -> Self {
        let compartment = &rules.compartments.compartments()[index];
        let suffix = |suffix: &'static str| if with_helium { suffix } else { "" };
        let mut gases = vec![Inert {
            name: "nitrogen",
            suffix: suffix("_N2"),
            coefficients: compartment.nitrogen,
            fraction: Mix::nitrogen,
            held: |loading| loading.n2_bar,
        }];
        if with_helium {
            gases.push(Inert {
                name: "helium",
                suffix: suffix("_He"),
                coefficients: compartment.helium,
                fraction: Mix::helium,
                held: |loading| loading.he_bar,
            });
        }
        Self {
            rules,
            index,
            gases,
        }
    }

    /// `compartment 5 (half-time 27 min)`
    pub(super) fn name(&self) -> String {
        let half_times: Vec<String> = self
            .gases
            .iter()
            .map(|gas| {
                let minutes = gas.coefficients.half_time.as_min();
                match self.gases.len() {
                    1 => format!("half-time {minutes} min"),
                    _ => format!("{} {minutes} min", gas.name),
                }
            })
            .collect();
        format!("compartment {} ({})", self.index + 1, half_times.join(", "))
    }

    /// Both gases together; with one gas, that one.
    pub(super) fn total(
        &self,
        sheet: &mut Sheet,
        (symbol, at): (&str, &str),
        held: &[Expression],
    ) -> Expression {
        match held {
            [one] => one.clone(),
            _ => {
                let line = Line {
                    title: format!("Inert gas {at}, both together"),
                    symbol,
                    unit: "bar",
                    decimals: sheet.working(BAR),
                };
                sheet.derived(line, sum(held))
            }
        }
    }

    /// What it may hold at an ambient pressure.
    ///
    /// ```text
    /// M = a + P/b      L = P + G·(M − P)
    /// ```
    /// With two gases `a` and `b` are the means weighted by what it holds of each.
    pub(super) fn limit(
        &self,
        sheet: &mut Sheet,
        at: &str,
        (ambient, factor): (&Expression, Expression),
        held: &[Expression],
        tissues: &Tissues,
    ) -> Expression {
        let a = self.coefficient(sheet, "a", |gas| gas.a_bar, held);
        let b = self.coefficient(sheet, "b", |gas| gas.b, held);
        let pressure = Pressure::from_bar(ambient.unrounded());
        let model = |factor: f64| {
            let set = &self.rules.compartments;
            tissues.limit_bar(set, self.index, pressure, factor)
        };
        let line = Line {
            title: format!("Most that it tolerates at {at}: the M-value"),
            symbol: "M",
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        let tolerated = sheet.equation(line, a + ambient.clone() / b, model(1.0));
        let line = Line {
            title: format!("What the factor lets it hold at {at}"),
            symbol: "L",
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        let model = model(factor.unrounded());
        let share = factor * (tolerated - ambient.clone());
        sheet.equation(line, ambient.clone() + share, model)
    }

    fn coefficient(
        &self,
        sheet: &mut Sheet,
        symbol: &str,
        of: impl Fn(&Coefficients) -> f64,
        held: &[Expression],
    ) -> Expression {
        let own: Vec<Expression> = self
            .gases
            .iter()
            .map(|gas| {
                let meaning = match symbol {
                    "a" => format!("where the line of M-values begins, for {}, bar", gas.name),
                    _ => format!("inverse of its slope, for {}", gas.name),
                };
                let value = of(&gas.coefficients);
                sheet.given(&gas.symbol(symbol), meaning, value, GIVEN)
            })
            .collect();
        match (own.as_slice(), held) {
            ([nitrogen, helium], [n2, he]) => {
                let line = Line {
                    title: format!("{symbol}, by how much of each gas it holds"),
                    symbol,
                    unit: if symbol == "a" { "bar" } else { "" },
                    decimals: sheet.working(SHARE),
                };
                let weighted = nitrogen.clone() * n2.clone() + helium.clone() * he.clone();
                sheet.derived(line, weighted / (n2.clone() + he.clone()))
            }
            _ => own.into_iter().next().unwrap_or_else(|| plain(1.0)),
        }
    }
}

/// All of them, one after the other.
pub(super) fn sum(parts: &[Expression]) -> Expression {
    let mut parts = parts.iter().cloned();
    let first = parts.next().unwrap_or_else(|| plain(0.0));
    parts.fold(first, |sum, part| sum + part)
}
