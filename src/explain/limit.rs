//! Why the no-stop limit is what it is.

use super::exchange::{Deciding, Inert, Stretch};
use super::expression::Expression;
use super::rest;
use super::sheet::{Line, Sheet, upper};
use super::site::{BAR, GIVEN, MINUTES, Site, Way, plain};
use super::steps::Step;
use crate::briefing::Briefing;
use crate::dive::{BOUND_MIN, NoStopLimit, Reach};
use crate::quantity::show::{limit_words, minutes, minutes_down, minutes_given};
use crate::quantity::{Depth, Time, UnitSystem};
use crate::surface::{Rest, Since};
use crate::tissue::{SURFACE_NITROGEN, WATER_VAPOUR_BAR};

/// Usual decimals of the limit, min.
const LIMIT_MIN: usize = 2;

/// The dive that the limit is about: down, along for as long as it allows, straight up.
struct Limit<'a> {
    site: Site<'a>,
    depth: Depth,
    found: &'a NoStopLimit,
    deciding: Deciding<'a>,
    /// Minutes at depth that the lines are written for.
    stay: Time,
    /// Whether nobody has dived before.
    clean: bool,
    /// The time at the surface that the start comes from, where the plan has one.
    rest: Option<&'a Rest>,
    /// Whose limit it is, where divers differ; what the team starts with.
    whose: String,
}

/// The straight ascent with one gas: what is breathed on leaving the bottom, the share of what was
/// held that is left, what it brings whatever was held, and the half-time.
struct WayUp {
    inspired: Expression,
    left: Expression,
    brings: Expression,
    half_time: Expression,
}

/// The title and the steps.
pub(super) fn explain(briefing: &Briefing, units: UnitSystem) -> (String, Vec<Step>) {
    let limit = Limit::of(briefing, units);
    let answer = match limit.found.reach {
        Reach::Nothing => "0 minutes".to_owned(),
        Reach::Until(time) => minutes(minutes_down(time)),
        Reach::Unlimited => format!("none within {BOUND_MIN} minutes"),
    };
    let gas = briefing.plan.rules().bottom_gas;
    let title = format!("No-stop limit at {} on {gas}: {answer}", limit.at());
    (title, Sheet::written(|sheet| limit.write(sheet)))
}

impl<'a> Limit<'a> {
    fn of(briefing: &'a Briefing, units: UnitSystem) -> Self {
        let site = Site::new(&briefing.plan, units);
        let rules = site.rules();
        let found = &briefing.no_stop_limit;
        let helium = !found.start.tissues.know_nitrogen_alone(rules.bottom_gas);
        Self {
            site,
            depth: found.arrival.depth,
            found,
            deciding: Deciding::new(rules, found.compartment, helium),
            stay: found.leaving.run_time - found.arrival.run_time,
            clean: briefing.plan.starts_clean(),
            rest: briefing.rests.last(),
            whose: whose(briefing),
        }
    }

    fn at(&self) -> String {
        self.site.show.depth(self.depth)
    }

    fn write(&self, sheet: &mut Sheet) {
        let who = self.deciding.name();
        let first = match self.found.reach {
            Reach::Nothing => format!(
                "Going down to {} and straight up again is already too much for {who}.",
                self.at()
            ),
            Reach::Until(_) => format!(
                "Of the sixteen, {who} decides: after a straight ascent it is the first to \
                 surface with all that the high factor lets it hold."
            ),
            Reach::Unlimited => format!(
                "Of the sixteen, {who} comes nearest to its limit, and {BOUND_MIN} minutes do not \
                 take it there."
            ),
        };
        sheet.words(first);
        if !self.whose.is_empty() {
            sheet.words(self.whose.as_str());
        }
        let surface = self.site.surface(sheet);
        let bottom = self.site.ambient(sheet, &surface, ("P", "d"), self.depth);
        let down = self
            .site
            .travel_time(sheet, Way::Down, (Depth::SURFACE, self.depth));
        let starts = self.starts(sheet, &surface);
        let gases = self.deciding.gases.iter().zip(starts);
        let arrived: Vec<Expression> = gases
            .map(|(gas, start)| self.arrived(sheet, (gas, start), &surface, &down))
            .collect();
        match arrived.as_slice() {
            [arrived] => self.one_gas(sheet, (&surface, &bottom), &down, arrived),
            _ => self.two_gases(sheet, (&surface, &bottom), &down, arrived),
        }
    }

    /// What it holds of each gas before the dive; `None` of a gas that it does not hold.
    fn starts(&self, sheet: &mut Sheet, surface: &Expression) -> Vec<Option<Expression>> {
        let gases = &self.deciding.gases;
        let rested = self.rest.filter(|_| !self.clean).map(|rest| {
            let air = rest::air(sheet, gases, surface);
            (rest, air)
        });
        let start = |gas: &Inert| {
            let index = self.deciding.index;
            let held = gas.held(&self.found.start.tissues, index);
            if held <= 0.0 {
                return None;
            }
            let name = upper(gas.name);
            let Some((rest, air)) = &rested else {
                return Some(self.start_without_rest(sheet, gas, surface, held));
            };
            let before = rest::before(sheet, rest, gas, index)?;
            let time = rest::time(sheet, rest.time.as_min());
            let title = format!("{name} before the dive: what the time at the surface leaves");
            Some(rest::after(
                sheet,
                title,
                gas,
                (before, air.as_ref(), &time),
                held,
            ))
        };
        gases.iter().map(start).collect()
    }

    /// In balance with air, or as it is given.
    fn start_without_rest(
        &self,
        sheet: &mut Sheet,
        gas: &Inert,
        surface: &Expression,
        held: f64,
    ) -> Expression {
        if !self.clean {
            let meaning = format!("{} that it holds before the dive, bar", gas.name);
            return sheet.given(&gas.symbol("p_0"), meaning, held, BAR);
        }
        let line = Line {
            title: format!("{} before the dive, in balance with air", upper(gas.name)),
            symbol: &gas.symbol("p_0"),
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        let dry = surface.clone() - plain(WATER_VAPOUR_BAR);
        sheet.equation(line, dry * plain(SURFACE_NITROGEN), held)
    }

    /// What it holds of a gas on arriving at the depth.
    fn arrived(
        &self,
        sheet: &mut Sheet,
        (gas, start): (&Inert, Option<Expression>),
        surface: &Expression,
        down: &Expression,
    ) -> Expression {
        let mix = self.site.rules().bottom_gas;
        let inspired = gas.inspired(sheet, ("p_in0", "the surface"), surface, mix);
        let rate = gas.rate(sheet, &self.site, Way::Down, mix);
        let title = format!(
            "{} that it holds on arriving at {}",
            upper(gas.name),
            self.at()
        );
        let stretch = Stretch {
            title,
            symbol: "p_d",
            start,
            taken: gas.share_taken(sheet, "E_down", down, Some(&rate)),
            inspired,
            rate: Some(rate),
            time: down.clone(),
            model: Some(gas.held(&self.found.arrival.tissues, self.deciding.index)),
        };
        gas.exchange(sheet, stretch)
    }

    /// What the high factor allows at the surface.
    fn limit(&self, sheet: &mut Sheet, surface: &Expression, held: &[Expression]) -> Expression {
        let high = self.site.rules().factors.high();
        let high = sheet.given("G", "the high gradient factor", high, GIVEN);
        let given = (surface, high);
        self.deciding
            .limit(sheet, "the surface", given, held, &self.found.surfacing)
    }

    fn one_gas(
        &self,
        sheet: &mut Sheet,
        (surface, bottom): (&Expression, &Expression),
        down: &Expression,
        arrived: &Expression,
    ) {
        let Some(gas) = self.deciding.gases.first() else {
            return;
        };
        let limit = self.limit(sheet, surface, &[]);
        let way_up = self.way_up(sheet, gas, bottom);
        if matches!(self.found.reach, Reach::Nothing) {
            let line = Line {
                title: "What it would hold at the surface".to_owned(),
                symbol: "p_s",
                unit: "bar",
                decimals: sheet.working(BAR),
            };
            let model = gas.held(&self.found.surfacing, self.deciding.index);
            let held = way_up.left * arrived.clone() + way_up.brings;
            let held = sheet.equation(line, held, model);
            self.over(sheet, held, limit, true);
            sheet.words("Above 0: over the limit, so the no-stop limit is 0 minutes.");
            return;
        }
        let line = Line {
            title: format!("Most that it may hold on leaving {}", self.at()),
            symbol: "p_max",
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        let most = sheet.derived(line, (limit - way_up.brings) / way_up.left);
        let room = way_up.inspired.clone() - most;
        if room.unrounded() <= 0.0 {
            let line = Line {
                title: "How far what is breathed lies above that".to_owned(),
                symbol: "x",
                unit: "bar",
                decimals: sheet.working(BAR),
            };
            let model = room.unrounded();
            sheet.compared(line, room, model, false);
            sheet.words(
                "Not above 0: however long the stay, it never holds more than it may. No limit.",
            );
            return;
        }
        let ratio = (way_up.inspired - arrived.clone()) / room;
        let stay = way_up.half_time / plain(2.0).ln() * ratio.ln();
        self.stay(sheet, down, stay);
    }

    /// What the straight ascent does with what the compartment holds of its one gas.
    fn way_up(&self, sheet: &mut Sheet, gas: &Inert, bottom: &Expression) -> WayUp {
        let mix = self.site.rules().bottom_gas;
        sheet.words(
            "The straight ascent: of what it holds on leaving the bottom the share alpha is left \
             at the surface, and the way up itself brings C, whatever it held.",
        );
        let ways = (self.depth, Depth::SURFACE);
        let up = self.site.travel_time(sheet, Way::Up, ways);
        let inspired = gas.inspired(sheet, ("p_in", &self.at()), bottom, mix);
        let rate = gas.rate(sheet, &self.site, Way::Up, mix);
        let left = gas.share_left(sheet, &up, &rate);
        let line = Line {
            title: "What the way up brings".to_owned(),
            symbol: "C",
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        let taken = plain(1.0) - left.clone();
        let half_time = gas.half_time(sheet);
        let net = up - half_time.clone() / plain(2.0).ln() * taken.clone();
        let brings = sheet.derived(line, inspired.clone() * taken + rate * net);
        WayUp {
            inspired,
            left,
            brings,
            half_time,
        }
    }

    /// The time at depth by the closed form, and the limit with it.
    fn stay(&self, sheet: &mut Sheet, down: &Expression, stay: Expression) {
        let line = Line {
            title: "Time at depth until it holds that".to_owned(),
            symbol: "t",
            unit: "min",
            decimals: sheet.closing(LIMIT_MIN),
        };
        let stay = match self.found.reach {
            Reach::Until(_) => sheet.equation(line, stay, self.stay.as_min()),
            _ => sheet.derived(line, stay),
        };
        self.close(sheet, down, stay);
    }

    /// There is no closed form: the check at the limit that was found by trial.
    fn two_gases(
        &self,
        sheet: &mut Sheet,
        (surface, bottom): (&Expression, &Expression),
        down: &Expression,
        arrived: Vec<Expression>,
    ) {
        let stay = self.stay_found(sheet);
        let ways = (self.depth, Depth::SURFACE);
        let up = self.site.travel_time(sheet, Way::Up, ways);
        let gases = self.deciding.gases.iter().zip(arrived);
        let held: Vec<Expression> = gases
            .map(|(gas, arrived)| self.surfaced(sheet, gas, (bottom, stay.as_ref(), &up), arrived))
            .collect();
        let total = self.deciding.total(sheet, ("p_s", "on surfacing"), &held);
        let limit = self.limit(sheet, surface, &held);
        match self.found.reach {
            Reach::Nothing => {
                self.over(sheet, total, limit, true);
                sheet.words("Above 0: over the limit, so the no-stop limit is 0 minutes.");
            }
            Reach::Until(_) => {
                let line = Line {
                    title: "How far over the limit that is".to_owned(),
                    symbol: "x",
                    unit: "bar",
                    decimals: sheet.working(BAR),
                };
                sheet.derived(line, total - limit);
                sheet.words("0, but for rounding: it surfaces with just what it may hold.");
                if let Some(stay) = stay {
                    self.close(sheet, down, stay);
                }
            }
            Reach::Unlimited => {
                self.over(sheet, total, limit, false);
                sheet.words("Not above 0: still within the limit.");
            }
        }
    }

    /// The time at depth that was found by trial; `None` where there is none.
    fn stay_found(&self, sheet: &mut Sheet) -> Option<Expression> {
        let meaning = match self.found.reach {
            Reach::Nothing => return None,
            Reach::Until(_) => {
                sheet.words(
                    "With two inert gases there is no formula for the time: it was found by \
                     trial, minute by minute and then by halving. The lines below check it.",
                );
                "time at depth that was found, min".to_owned()
            }
            Reach::Unlimited => format!("time at depth that makes {BOUND_MIN} min in all, min"),
        };
        Some(sheet.given("t", meaning, self.stay.as_min(), MINUTES))
    }

    /// What it holds of one of two gases on surfacing.
    fn surfaced(
        &self,
        sheet: &mut Sheet,
        gas: &Inert,
        (bottom, stay, up): (&Expression, Option<&Expression>, &Expression),
        arrived: Expression,
    ) -> Expression {
        let mix = self.site.rules().bottom_gas;
        let (name, at) = (upper(gas.name), self.at());
        let inspired = gas.inspired(sheet, ("p_in", &at), bottom, mix);
        let mut leaving = arrived;
        if let Some(stay) = stay {
            let stretch = Stretch {
                title: format!("{name} that it holds on leaving {at}"),
                symbol: "p_b",
                start: Some(leaving),
                taken: gas.share_taken(sheet, "E", stay, None),
                inspired: inspired.clone(),
                rate: None,
                time: stay.clone(),
                model: Some(gas.held(&self.found.leaving.tissues, self.deciding.index)),
            };
            leaving = gas.exchange(sheet, stretch);
        }
        let rate = gas.rate(sheet, &self.site, Way::Up, mix);
        let stretch = Stretch {
            title: format!("{name} that it holds on surfacing"),
            symbol: "p_s",
            start: Some(leaving),
            taken: gas.share_taken(sheet, "E_up", up, Some(&rate)),
            inspired,
            rate: Some(rate),
            time: up.clone(),
            model: Some(gas.held(&self.found.surfacing, self.deciding.index)),
        };
        gas.exchange(sheet, stretch)
    }

    fn over(&self, sheet: &mut Sheet, held: Expression, limit: Expression, is_over: bool) {
        let line = Line {
            title: "How far over the limit that is".to_owned(),
            symbol: "x",
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        let over = held - limit;
        let model = over.unrounded();
        sheet.compared(line, over, model, is_over);
    }

    /// The descent and the time at depth.
    fn close(&self, sheet: &mut Sheet, down: &Expression, stay: Expression) {
        let line = Line {
            title: "With the descent".to_owned(),
            symbol: "t_limit",
            unit: "min",
            decimals: sheet.closing(LIMIT_MIN),
        };
        let whole = down.clone() + stay;
        let shown = |value: f64| format!("{}", minutes_down(Time::from_min(value)));
        match self.found.reach {
            Reach::Until(time) => {
                sheet.closed(line, whole, time.as_min(), shown);
                let minutes = minutes(minutes_down(time));
                sheet.words(format!("The briefing says {minutes}: whole ones, down."));
            }
            _ => {
                sheet.derived(line, whole);
                sheet.words(format!(
                    "Past {BOUND_MIN} minutes: that counts as no limit."
                ));
            }
        }
    }
}

/// What the team starts with, and who sets its limit; nothing of a team that starts clean and
/// alike.
fn whose(briefing: &Briefing) -> String {
    let mut words = Vec::new();
    let clean = briefing.plan.starts_clean();
    match briefing.rests.last().filter(|_| !clean) {
        Some(rest) => words.push(format!(
            "The dive begins {} after {}.",
            minutes_given(rest.time),
            match rest.since {
                Since::EarlierDive => "surfacing from the dive before",
                Since::Arrival(_) => "the divers came from another altitude",
            }
        )),
        None if !clean => {
            words.push("The dive begins with the tissues of earlier dives.".to_owned());
        }
        None => {}
    }
    if let Some(set_by) = briefing.limit_set_by {
        let name = &briefing.divers[set_by.diver].name;
        let own = limit_words(briefing.own[set_by.diver].limit.time(), BOUND_MIN);
        let what = match (
            briefing.plan.histories_differ(),
            briefing.plan.gases_differ(),
        ) {
            (true, true) => {
                "the most that any diver holds in each compartment, on the leanest gas that one \
                 breathes"
            }
            (true, false) => "the most that any diver holds in each compartment",
            (false, _) => "the leanest gas that a diver breathes",
        };
        words.push(format!(
            "It is the limit of the whole team: it is worked out with {what}. {name} sets it, \
             whose own limit, {own}, is the least of any diver's."
        ));
    }
    words.join(" ")
}
