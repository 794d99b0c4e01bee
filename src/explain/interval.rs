//! What time at the surface leaves, and why the least surface interval is what it is.

use super::exchange::{Deciding, Inert, Stretch};
use super::expression::Expression;
use super::rest;
use super::sheet::{Line, Sheet, upper};
use super::site::{BAR, GIVEN, MINUTES, Site, Way, plain};
use super::steps::Step;
use crate::briefing::Briefing;
use crate::dive::Segment;
use crate::quantity::UnitSystem;
use crate::quantity::show::{minutes, minutes_down, minutes_given};
use crate::rules::CNS_HALF_TIME;
use crate::surface::{
    IntervalReach, IntervalTrial, LONGEST_INTERVAL_MIN, LeastInterval, Rest, Since,
};

/// Usual decimals of a share of the oxygen limits, per cent.
const CNS: usize = 2;

/// Time at the surface before the dive.
struct Interval<'a> {
    site: Site<'a>,
    briefing: &'a Briefing,
    rest: &'a Rest,
    /// The compartment that decides the no-stop limit.
    deciding: usize,
    /// Whether helium is held from before.
    helium: bool,
}

/// The way of one gas through the dive: of what it held before the share that is left on surfacing,
/// and what the dive brings, whatever it held.
struct Through {
    left: Expression,
    brings: Expression,
}

/// The titles and the steps: since coming from another altitude, since the dive before.
pub(super) fn explain(briefing: &Briefing, units: UnitSystem) -> Vec<(String, Vec<Step>)> {
    let rests = briefing.rests.iter();
    rests
        .map(|rest| {
            let interval = Interval {
                site: Site::new(&briefing.plan, units),
                briefing,
                rest,
                deciding: briefing.no_stop_limit.compartment,
                helium: rest.before.tissues.hold_helium(),
            };
            let title = interval.title();
            (title, Sheet::written(|sheet| interval.write(sheet)))
        })
        .collect()
}

impl Interval<'_> {
    fn title(&self) -> String {
        let time = minutes_given(self.rest.time);
        match self.rest.since {
            Since::EarlierDive => format!("Surface interval: {time} after the dive before"),
            Since::Arrival(_) => format!("{time} at the site before the first dive of the day"),
        }
    }

    fn write(&self, sheet: &mut Sheet) {
        sheet.words(self.what_happens());
        let surface = self.site.surface(sheet);
        let kept = self.compartment(self.deciding);
        let air = rest::air(sheet, &kept.gases, &surface);
        // Who comes from another altitude holds the same everywhere: there nothing leads.
        let leading = match self.rest.since {
            Since::EarlierDive => Some(self.rest.leading),
            Since::Arrival(_) => None,
        };
        if let Some(leading) = leading.filter(|leading| *leading != self.deciding) {
            sheet.words(format!(
                "{} leads when this time begins: it is nearest to what it may hold at the surface.",
                upper(&self.compartment(leading).name())
            ));
            self.leaves(sheet, leading, air.as_ref());
        }
        let also = if leading == Some(self.deciding) {
            " leads when this time begins, nearest to what it may hold at the surface, and"
        } else {
            ""
        };
        let is_last = self.briefing.rests.last() == Some(self.rest);
        let starts = if is_last {
            ", which starts from what this time leaves in it"
        } else {
            " of this dive"
        };
        sheet.words(format!(
            "{}{also} decides the no-stop limit{starts}.",
            upper(&kept.name())
        ));
        self.leaves(sheet, self.deciding, air.as_ref());
        self.oxygen(sheet);
        if matches!(self.rest.since, Since::EarlierDive)
            && let Some(least) = &self.briefing.least_interval
        {
            self.least(sheet, least, (&surface, air.as_ref()));
        }
    }

    /// A compartment, and the gases that it holds from before.
    fn compartment(&self, index: usize) -> Deciding<'_> {
        Deciding::new(self.site.rules(), index, self.helium)
    }

    fn what_happens(&self) -> String {
        let what = match self.rest.since {
            Since::EarlierDive => {
                "At the surface, on air, half of what a compartment holds above the inspired \
                 pressure goes in each half-time. What it holds when that begins comes from the \
                 dive before."
            }
            Since::Arrival(_) => {
                "At home, at another altitude, every compartment was in balance with the air. At \
                 the site half of the difference to the inspired pressure goes in each half-time."
            }
        };
        if self.briefing.plan.histories_differ() {
            format!(
                "{what} The team counts with the most that any of its divers holds, compartment by \
                 compartment."
            )
        } else {
            what.to_owned()
        }
    }

    /// ` (most in Tove)` where divers differ.
    fn most_in(&self, index: usize) -> String {
        if !self.briefing.plan.histories_differ() || self.helium {
            return String::new();
        }
        let diver = self.briefing.plan.divers().get(self.rest.most_in[index]);
        diver.map_or_else(String::new, |diver| format!(" (most in {})", diver.name))
    }

    /// What is left in one compartment.
    fn leaves(&self, sheet: &mut Sheet, index: usize, air: Option<&Expression>) {
        for gas in &self.compartment(index).gases {
            let Some(before) = rest::before(sheet, self.rest, gas, index) else {
                continue;
            };
            let time = rest::time(sheet, self.rest.time.as_min());
            let title = format!(
                "{} left in it before the dive{}",
                upper(gas.name),
                self.most_in(index)
            );
            let model = gas.held(&self.rest.after.tissues, index);
            rest::after(sheet, title, gas, (before, air, &time), model);
        }
    }

    /// ```text
    /// CNS_0 = CNS_up·2^(−t_rest/90)
    /// ```
    fn oxygen(&self, sheet: &mut Sheet) {
        let before = self.rest.before.cns_pct;
        if before <= 0.0 {
            return;
        }
        let each = if self.briefing.plan.divers().len() > 1 {
            ", the highest of any diver"
        } else {
            ""
        };
        sheet.words(format!(
            "Of the share of the oxygen limits (CNS) half goes every {} minutes. Oxygen tolerance \
             units (OTU) add up over the day.",
            CNS_HALF_TIME.as_min()
        ));
        let meaning = format!("CNS on surfacing from the dive before{each}, %");
        let before = sheet.given("CNS_up", meaning, before, BAR);
        let time = rest::time(sheet, self.rest.time.as_min());
        let line = Line {
            title: "CNS left before the dive".to_owned(),
            symbol: "CNS_0",
            unit: "%",
            decimals: sheet.working(CNS),
        };
        let left = plain(2.0).power(-time / plain(CNS_HALF_TIME.as_min()));
        sheet.equation(line, before * left, self.rest.after.cns_pct);
    }

    /// Why the least surface interval is what it is: the dive tried with one minute less.
    fn least(
        &self,
        sheet: &mut Sheet,
        least: &LeastInterval,
        (surface, air): (&Expression, Option<&Expression>),
    ) {
        // The compartment that bars a minute early, or, where nothing bars, comes nearest.
        let Some(first) = least.trials.first() else {
            return;
        };
        let rules = self.site.rules();
        let helium = self.helium || rules.bottom_gas.helium() > 0.0;
        let deciding = Deciding::new(rules, first.compartment, helium);
        sheet.words(self.why(least, &deciding));
        if least.reach == IntervalReach::Minutes(0) {
            return;
        }
        let one_gas = deciding.gases.len() == 1;
        let high = |sheet: &mut Sheet| {
            let high = rules.factors.high();
            sheet.given("G", "the high gradient factor", high, GIVEN)
        };
        let limit = one_gas.then(|| {
            let given = (surface, high(sheet));
            deciding.limit(sheet, "the surface", given, &[], &first.surfacing)
        });
        let through: Vec<Through> = deciding
            .gases
            .iter()
            .map(|gas| self.through(sheet, gas, surface, &least.segments))
            .collect();
        for trial in &least.trials {
            let gases = deciding.gases.iter().zip(&through);
            let held: Vec<Expression> = gases
                .map(|(gas, through)| self.surfaced(sheet, (gas, through), trial, &deciding, air))
                .collect();
            let total = deciding.total(sheet, ("p_s", "on surfacing"), &held);
            let limit = limit.clone().unwrap_or_else(|| {
                let given = (surface, high(sheet));
                deciding.limit(sheet, "the surface", given, &held, &trial.surfacing)
            });
            Self::compare(sheet, trial, total - limit);
        }
    }

    fn why(&self, least: &LeastInterval, deciding: &Deciding<'_>) -> String {
        let who = deciding.name();
        let trial = "The dive is tried after every whole minute at the surface: down, along, and \
                     straight up without a stop.";
        let planned = minutes_down(self.rest.time);
        match least.reach {
            IntervalReach::Minutes(0) => format!(
                "How long must it be? {trial} By the model it is a no-stop dive even without any \
                 minute there; two dives that close count as one all the same."
            ),
            IntervalReach::Minutes(least) => {
                let more = f64::from(least) - planned;
                let against = if more > 0.0 {
                    format!(
                        "the plan's {} are {} too short",
                        minutes(planned),
                        minutes(more)
                    )
                } else {
                    format!("the plan has {}", minutes(planned))
                };
                format!(
                    "How long must it be? {trial} {} is the least from which it is a no-stop dive; \
                     {against}. A minute less, and {who} would surface with more than the high \
                     factor lets it hold.",
                    minutes(f64::from(least))
                )
            }
            IntervalReach::NotEvenClean => format!(
                "How long must it be? No time at the surface makes it a no-stop dive: even from \
                 tissues in balance with air {who} would surface with more than the high factor \
                 lets it hold."
            ),
            IntervalReach::NotWithinBound => format!(
                "How long must it be? {trial} Up to {} it is no no-stop dive: {who} would still \
                 surface with more than the high factor lets it hold.",
                minutes(f64::from(LONGEST_INTERVAL_MIN))
            ),
        }
    }

    /// What one gas does through the dive, whatever was held before.
    ///
    /// ```text
    /// alpha = 2^(−t_dive/T)      C: from 0 through every part of the dive
    /// ```
    fn through(
        &self,
        sheet: &mut Sheet,
        gas: &Inert,
        surface: &Expression,
        segments: &[Segment],
    ) -> Through {
        let end = segments.last().map_or(0.0, |segment| segment.end.as_min());
        sheet.words(format!(
            "Of the {} that it holds before the dive the share alpha is left on surfacing; the \
             dive itself brings C, whatever it held. First C, part by part:",
            gas.name
        ));
        let mut brings = None;
        let mut known = None;
        for (index, segment) in segments.iter().enumerate() {
            let number = index + 1;
            let symbol = if number == segments.len() {
                "C".to_owned()
            } else {
                format!("C_{number}")
            };
            let inspired = match known.take() {
                Some((depth, inspired)) if segment.from.is_at(depth) => inspired,
                _ => self.inspired(sheet, gas, surface, segment),
            };
            // A part that stays where it is begins the next one with what is inspired there.
            known = segment
                .from
                .is_at(segment.to)
                .then(|| (segment.from, inspired.clone()));
            brings = Some(self.part(sheet, gas, (segment, &symbol), inspired, brings));
        }
        let whole = sheet.given("t_dive", "the whole dive, straight up, min", end, MINUTES);
        let left = gas.share_left(sheet, &whole, &plain(0.0));
        Through {
            left,
            brings: brings.unwrap_or_else(|| plain(0.0)),
        }
    }

    /// What is inspired of a gas when a part of the dive begins.
    fn inspired(
        &self,
        sheet: &mut Sheet,
        gas: &Inert,
        surface: &Expression,
        segment: &Segment,
    ) -> Expression {
        let at = self.site.at(segment.from);
        let ambient = self.site.ambient(sheet, surface, ("P", "d"), segment.from);
        gas.inspired(sheet, ("p_in", &at), &ambient, segment.gas)
    }

    /// What is brought by the end of one part of the dive.
    fn part(
        &self,
        sheet: &mut Sheet,
        gas: &Inert,
        (segment, symbol): (&Segment, &str),
        inspired: Expression,
        before: Option<Expression>,
    ) -> Expression {
        let (from, to) = (segment.from, segment.to);
        let mix = segment.gas;
        let way = match () {
            () if to > from => Some(Way::Down),
            () if to < from => Some(Way::Up),
            () => None,
        };
        let rate = way.map(|way| gas.rate(sheet, &self.site, way, mix));
        let minutes = segment.time().as_min();
        let time = sheet.given("t", "how long this part lasts, min", minutes, MINUTES);
        let taken = gas.share_taken(sheet, "E", &time, rate.as_ref());
        let title = match way {
            None => format!("Brought by the end of the time at {}", self.site.at(from)),
            Some(way) => format!("Brought on the way {} to {}", way.word(), self.site.at(to)),
        };
        let stretch = Stretch {
            title,
            symbol,
            start: before,
            taken,
            inspired,
            rate,
            time,
            model: None,
        };
        gas.exchange(sheet, stretch)
    }

    /// What it holds of one gas on surfacing, after one interval.
    fn surfaced(
        &self,
        sheet: &mut Sheet,
        (gas, through): (&Inert, &Through),
        trial: &IntervalTrial,
        deciding: &Deciding<'_>,
        air: Option<&Expression>,
    ) -> Expression {
        let index = deciding.index;
        let after = trial.minutes.map_or_else(
            || "from clean tissues".to_owned(),
            |least| format!("after {} at the surface", minutes(f64::from(least))),
        );
        let start = match trial.minutes {
            // In balance with air.
            None => air.cloned(),
            Some(least) => rest::before(sheet, self.rest, gas, index).map(|before| {
                let time = rest::time(sheet, f64::from(least));
                let title = format!("{} in it {after}", upper(gas.name));
                let model = gas.held(&trial.start.tissues, index);
                rest::after(sheet, title, gas, (before, air, &time), model)
            }),
        };
        let brings = through.brings.clone();
        let held = match start.filter(|_| gas.held(&trial.start.tissues, index) > 0.0) {
            Some(start) => through.left.clone() * start + brings,
            None => brings,
        };
        let line = Line {
            title: format!("{} on surfacing, {after}", upper(gas.name)),
            symbol: &gas.symbol("p_s"),
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        sheet.equation(line, held, gas.held(&trial.surfacing, index))
    }

    /// How far a trial is over the limit, and what that means.
    fn compare(sheet: &mut Sheet, trial: &IntervalTrial, over: Expression) {
        let after = trial.minutes.map_or_else(
            || "from clean tissues".to_owned(),
            |least| format!("after {}", minutes(f64::from(least))),
        );
        let line = Line {
            title: format!("How far over the limit, {after}"),
            symbol: "x",
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        let model = over.unrounded();
        sheet.compared(line, over, model, trial.barred_by.is_some());
        sheet.words(if trial.barred_by.is_some() {
            format!("Above 0: {after} it needs stops.")
        } else {
            format!("Not above 0, nor is any other compartment: {after} it is a no-stop dive.")
        });
    }
}
