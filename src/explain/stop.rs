//! Why a stop lasts as long as it does.

use super::exchange::{Deciding, Inert, Stretch};
use super::expression::Expression;
use super::limit::upper;
use super::sheet::{Line, Sheet};
use super::site::{BAR, GIVEN, MINUTES, Site, Way, minutes_of, plain};
use super::steps::Step;
use crate::briefing::Briefing;
use crate::dive::{Moment, Schedule, Segment, SegmentKind};
use crate::quantity::show::minutes;
use crate::quantity::{Depth, RunTime, Time, UnitSystem};
use crate::tissue::Tissues;

const MINUTE: Time = Time::from_min(1.0);

/// One stop of the planned dive.
pub(super) struct Stop<'a> {
    site: Site<'a>,
    schedule: &'a Schedule,
    segment: Segment,
    /// The diver when it begins.
    start: Moment,
    /// Depth of the next level up.
    next: Depth,
    /// The factor in force there.
    factor: f64,
}

/// A question at a stop: leaving at some minute, what would be there on arriving at the next
/// level?
struct Attempt {
    leave: RunTime,
    leaving: Tissues,
    arriving: Tissues,
    /// The way up to the next level is barred.
    barred: bool,
}

/// One gas on the way to the next level, whenever the stop is left.
struct WayOn<'g> {
    gas: &'g Inert,
    start: Expression,
    inspired: Expression,
    rate: Expression,
    taken: Expression,
    up: Expression,
}

/// The stops of the planned dive, safety stops included, in order.
pub(super) fn stops(briefing: &Briefing, units: UnitSystem) -> Vec<Stop<'_>> {
    let schedule = &briefing.schedule;
    let flown = schedule
        .flown()
        .filter(|(segment, ..)| segment.kind.is_stop());
    flown
        .map(|(segment, start, _)| {
            let next = briefing.plan.rules().ascent.next_depth(segment.from);
            Stop {
                site: Site::new(&briefing.plan, units),
                schedule,
                segment: *segment,
                start: *start,
                next,
                factor: schedule.factors.at(next),
            }
        })
        .collect()
}

impl Stop<'_> {
    pub(super) const fn depth(&self) -> Depth {
        self.segment.from
    }

    /// The depth as people are shown it.
    pub(super) fn shown_depth(&self) -> String {
        self.site.show.depth(self.segment.from)
    }

    /// The title and the steps.
    pub(super) fn explain(&self) -> (String, Vec<Step>) {
        // On a staged dive no stop may be left out, whatever it is made for.
        let kind = match self.segment.kind {
            SegmentKind::SafetyStop if !self.schedule.staged => "Safety stop",
            _ => "Stop",
        };
        let title = format!(
            "{kind} at {}, minute {} to {}",
            self.shown_depth(),
            minutes_of(self.segment.start),
            minutes_of(self.segment.end)
        );
        let steps = if self.segment.kind == SegmentKind::SafetyStop {
            vec![Step::Words(self.safety_stop_words())]
        } else {
            let [earlier, planned] = self.attempts();
            Sheet::written(|sheet| self.write(sheet, &earlier, &planned))
        };
        (title, steps)
    }

    fn safety_stop_words(&self) -> String {
        let least = self.site.rules().ascent.safety_stop;
        let least = least.map_or(self.segment.time(), |stop| stop.time);
        let least = minutes(least.as_min());
        if self.schedule.staged {
            format!(
                "The way up was open on arriving here; the plan's safety stop asks for {least} at \
                 this level, to a whole minute of run time. The stops above are worked out with \
                 it: on a dive with compulsory stops none may be left out."
            )
        } else {
            format!(
                "By choice: {least}, as the plan has it. The straight ascent would surface within \
                 the high factor without it; no equation asks for it."
            )
        }
    }

    /// Whether it is held for no other reason than that the low factor barred the way here first.
    fn is_anchor_alone(&self) -> bool {
        let is_anchor = self.schedule.anchor() == Some(self.segment.from);
        is_anchor && self.segment.time() <= MINUTE
    }

    /// A minute early (or at once, where the stop is shorter), and as planned.
    fn attempts(&self) -> [Attempt; 2] {
        let earlier = (self.segment.end - MINUTE).max(self.segment.start);
        [earlier, self.segment.end].map(|leave| self.attempt(leave))
    }

    fn attempt(&self, leave: RunTime) -> Attempt {
        let rules = self.site.rules();
        let (set, gas) = (&rules.compartments, self.segment.gas);
        let here = self.site.ambient_bar(self.segment.from);
        let there = self.site.ambient_bar(self.next);
        let climb = rules.ascent.time_up(self.segment.from, self.next);
        let held = leave - self.segment.start;
        let leaving = self.start.tissues.after(set, gas, here, here, held);
        let arriving = leaving.after(set, gas, here, there, climb);
        Attempt {
            leave,
            leaving,
            arriving,
            barred: arriving.worst_excess(set, there, self.factor).is_some(),
        }
    }

    /// The compartment that bars the way in an attempt; where none does, the one nearest to it.
    fn deciding(&self, attempt: &Attempt) -> usize {
        let set = &self.site.rules().compartments;
        let there = self.site.ambient_bar(self.next);
        let worst = attempt.arriving.worst_excess(set, there, self.factor);
        worst.map_or_else(
            || attempt.arriving.gradient(set, there).index,
            |excess| excess.index,
        )
    }

    fn write(&self, sheet: &mut Sheet, earlier: &Attempt, planned: &Attempt) {
        let rules = self.site.rules();
        let helium = !self.start.tissues.know_nitrogen_alone(self.segment.gas);
        let deciding = Deciding::new(rules, self.deciding(earlier), helium);
        let next = self.site.at(self.next);
        sheet.words(self.why(earlier, planned, &deciding));
        let surface = self.site.surface(sheet);
        let here = self
            .site
            .ambient(sheet, &surface, ("P_here", "d"), self.segment.from);
        let there = self
            .site
            .ambient(sheet, &surface, ("P", "d_next"), self.next);
        let factor = self.factor(sheet);
        let one_gas = deciding.gases.len() == 1;
        let limit = one_gas.then(|| {
            let given = (&there, factor.clone());
            deciding.limit(sheet, &next, given, &[], &planned.arriving)
        });
        let ways = (self.segment.from, self.next);
        let up = self.site.travel_time(sheet, Way::Up, ways);
        let ways: Vec<WayOn<'_>> = deciding
            .gases
            .iter()
            .map(|gas| self.way_on(sheet, gas, deciding.index, &here, &up))
            .collect();
        let tried = earlier.barred.then_some(earlier);
        for attempt in tried.into_iter().chain([planned]) {
            let held = self.arrive(sheet, deciding.index, attempt, &ways);
            let total = deciding.total(sheet, ("p_2", "on arrival"), &held);
            let limit = limit.clone().unwrap_or_else(|| {
                let given = (&there, factor.clone());
                deciding.limit(sheet, &next, given, &held, &attempt.arriving)
            });
            self.compare(sheet, attempt, total - limit);
        }
    }

    /// Why the stop ends when it does, and whose limit it is about.
    fn why(&self, earlier: &Attempt, planned: &Attempt, deciding: &Deciding<'_>) -> String {
        let next = self.site.at(self.next);
        let who = deciding.name();
        let leave = minutes_of(planned.leave);
        if earlier.barred {
            format!(
                "The way up to {next} is open from minute {leave}, the first whole minute from \
                 which no compartment arrives there with more than the factor lets it hold. \
                 {} bars it longest.",
                upper(&who)
            )
        } else if self.is_anchor_alone() {
            format!(
                "With the low factor the way up to {next} was barred on arriving here, the first \
                 time on this dive: the anchor, from which the factor grows to the high one at \
                 the surface. Somebody has to stop where the low factor bars, so the stop lasts to \
                 the first whole minute, {leave}, although with the factor that now holds at \
                 {next} the way is open. Nearest to its limit is {who}."
            )
        } else {
            format!(
                "The tissues barred the way up to {next} on arriving here and would let it go \
                 before minute {leave}; the plan's safety stop holds until then. Nearest to its \
                 limit is {who}."
            )
        }
    }

    /// How far an attempt is over the limit, and what that means.
    fn compare(&self, sheet: &mut Sheet, attempt: &Attempt, over: Expression) {
        let minute = minutes_of(attempt.leave);
        let line = Line {
            title: format!("How far over the limit, leaving at minute {minute}"),
            symbol: "x",
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        let model = over.unrounded();
        sheet.compared(line, over, model, attempt.barred);
        sheet.words(if attempt.barred {
            format!("Above 0: at minute {minute} the way up is barred.")
        } else {
            let next = self.site.at(self.next);
            format!("Not above 0: at minute {minute} the way up to {next} is open.")
        });
    }

    /// The factor in force at the next level.
    ///
    /// ```text
    /// G(d) = high + (low − high)·d/anchor
    /// ```
    fn factor(&self, sheet: &mut Sheet) -> Expression {
        let factors = self.site.rules().factors;
        match self.schedule.anchor() {
            Some(anchor) if self.next < anchor => {
                let high = sheet.given("G_high", "the high gradient factor", factors.high(), GIVEN);
                let low = sheet.given("G_low", "the low gradient factor", factors.low(), GIVEN);
                let depth = self.site.depth(sheet, "d_next", self.next);
                let meaning = "first depth from which the way up was barred, m";
                let anchor = sheet.given("d_anchor", meaning, anchor.as_m(), GIVEN);
                let line = Line {
                    title: format!("Gradient factor at {}", self.site.at(self.next)),
                    symbol: "G",
                    unit: "",
                    decimals: sheet.working(BAR),
                };
                let slope = (low - high.clone()) * depth / anchor;
                sheet.equation(line, high + slope, self.factor)
            }
            _ => sheet.given("G", "the low gradient factor", factors.low(), GIVEN),
        }
    }

    /// What is the same for one gas whenever the stop is left.
    fn way_on<'g>(
        &self,
        sheet: &mut Sheet,
        gas: &'g Inert,
        index: usize,
        here: &Expression,
        up: &Expression,
    ) -> WayOn<'g> {
        let mix = self.segment.gas;
        let meaning = format!("{} that it holds when the stop begins, bar", gas.name);
        let start = gas.held(&self.start.tissues, index);
        let start = sheet.given(&gas.symbol("p_0"), meaning, start, BAR);
        let at = self.shown_depth();
        let inspired = gas.inspired(sheet, ("p_in", &at), here, mix);
        let rate = gas.rate(sheet, &self.site, Way::Up, mix);
        WayOn {
            gas,
            start,
            inspired,
            taken: gas.share_taken(sheet, "E_up", up, Some(&rate)),
            rate,
            up: up.clone(),
        }
    }

    /// What the compartment holds of each gas on arriving at the next level.
    fn arrive(
        &self,
        sheet: &mut Sheet,
        index: usize,
        attempt: &Attempt,
        ways: &[WayOn<'_>],
    ) -> Vec<Expression> {
        let minute = minutes_of(attempt.leave);
        let waits = attempt.leave > self.segment.start;
        let time = waits.then(|| self.time_held(sheet, attempt.leave));
        let mut held = Vec::new();
        for way in ways {
            let gas = way.gas;
            let leaving = match &time {
                None => way.start.clone(),
                Some(time) => {
                    let stretch = Stretch {
                        title: format!("{} on leaving at minute {minute}", upper(gas.name)),
                        symbol: "p_1",
                        start: Some(way.start.clone()),
                        taken: gas.share_taken(sheet, "E", time, None),
                        inspired: way.inspired.clone(),
                        rate: None,
                        time: time.clone(),
                        model: gas.held(&attempt.leaving, index),
                    };
                    gas.exchange(sheet, stretch)
                }
            };
            let next = self.site.at(self.next);
            let stretch = Stretch {
                title: format!("{} on arriving at {next}", upper(gas.name)),
                symbol: "p_2",
                start: Some(leaving),
                taken: way.taken.clone(),
                inspired: way.inspired.clone(),
                rate: Some(way.rate.clone()),
                time: way.up.clone(),
                model: gas.held(&attempt.arriving, index),
            };
            held.push(gas.exchange(sheet, stretch));
        }
        held
    }

    fn time_held(&self, sheet: &mut Sheet, leave: RunTime) -> Expression {
        let minute = minutes_of(leave);
        let meaning = "run time at which the stop begins, min";
        let begins = sheet.given("t_begins", meaning, self.segment.start.as_min(), MINUTES);
        let line = Line {
            title: format!("Time held when leaving at minute {minute}"),
            symbol: "t",
            unit: "min",
            decimals: sheet.working(MINUTES),
        };
        sheet.derived(line, plain(leave.as_min()) - begins)
    }
}
