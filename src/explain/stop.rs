//! Why a stop lasts as long as it does.

use super::exchange::{Deciding, Inert, Stretch};
use super::expression::Expression;
use super::sheet::{Line, Sheet, upper};
use super::site::{BAR, GIVEN, MINUTES, Site, Way, minutes_of, plain};
use super::steps::Step;
use crate::briefing::Briefing;
use crate::dive::{self, Departure, Schedule, SegmentKind, Stop, StopReason};
use crate::quantity::show::minutes;
use crate::quantity::{Depth, RunTime, UnitSystem};

/// One stop of the planned dive, to be explained.
pub(super) struct StopWriter<'a> {
    site: Site<'a>,
    schedule: &'a Schedule,
    stop: Stop,
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
pub(super) fn stops(briefing: &Briefing, units: UnitSystem) -> Vec<StopWriter<'_>> {
    let schedule = &briefing.schedule;
    let stops = dive::stops(briefing.plan.rules(), schedule).into_iter();
    stops
        .map(|stop| StopWriter {
            site: Site::new(&briefing.plan, units),
            schedule,
            stop,
        })
        .collect()
}

impl StopWriter<'_> {
    pub(super) const fn depth(&self) -> Depth {
        self.stop.segment.from
    }

    /// The depth as people are shown it.
    pub(super) fn shown_depth(&self) -> String {
        self.site.show.depth(self.stop.segment.from)
    }

    /// The title and the steps.
    pub(super) fn explain(&self) -> (String, Vec<Step>) {
        // On a staged dive no stop may be left out, whatever it is made for.
        let kind = match self.stop.segment.kind {
            SegmentKind::SafetyStop if !self.schedule.staged => "Safety stop",
            _ => "Stop",
        };
        let title = format!(
            "{kind} at {}, minute {} to {}",
            self.shown_depth(),
            minutes_of(self.stop.segment.start),
            minutes_of(self.stop.segment.end)
        );
        let steps = if self.stop.reason == StopReason::Chosen {
            vec![Step::Words(self.safety_stop_words())]
        } else {
            Sheet::written(|sheet| self.write(sheet))
        };
        (title, steps)
    }

    fn safety_stop_words(&self) -> String {
        let least = self.site.rules().ascent.safety_stop;
        let least = least.map_or(self.stop.segment.time(), |stop| stop.time);
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

    fn write(&self, sheet: &mut Sheet) {
        let Stop { early, planned, .. } = &self.stop;
        let rules = self.site.rules();
        let helium = !self
            .stop
            .start
            .tissues
            .know_nitrogen_alone(self.stop.segment.gas);
        let deciding = Deciding::new(rules, early.compartment, helium);
        let next = self.site.at(self.stop.next);
        sheet.words(self.why(&deciding));
        let surface = self.site.surface(sheet);
        let here = self
            .site
            .ambient(sheet, &surface, ("P_here", "d"), self.stop.segment.from);
        let there = self
            .site
            .ambient(sheet, &surface, ("P", "d_next"), self.stop.next);
        let factor = self.factor(sheet);
        let one_gas = deciding.gases.len() == 1;
        let limit = one_gas.then(|| {
            let given = (&there, factor.clone());
            deciding.limit(sheet, &next, given, &[], &planned.arriving)
        });
        let ways = (self.stop.segment.from, self.stop.next);
        let up = self.site.travel_time(sheet, Way::Up, ways);
        let ways: Vec<WayOn<'_>> = deciding
            .gases
            .iter()
            .map(|gas| self.way_on(sheet, gas, deciding.index, &here, &up))
            .collect();
        let tried = (self.stop.reason == StopReason::Barred).then_some(early);
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
    fn why(&self, deciding: &Deciding<'_>) -> String {
        let next = self.site.at(self.stop.next);
        let who = deciding.name();
        let leave = minutes_of(self.stop.planned.leave);
        match self.stop.reason {
            StopReason::Barred => format!(
                "The way up to {next} is open from minute {leave}, the first whole minute from \
                 which no compartment arrives there with more than the factor lets it hold. \
                 {} bars it longest.",
                upper(&who)
            ),
            StopReason::Anchor => format!(
                "With the low factor the way up to {next} was barred on arriving here, the first \
                 time on this dive: the anchor, from which the factor grows to the high one at \
                 the surface. Somebody has to stop where the low factor bars, so the stop lasts to \
                 the first whole minute, {leave}, although with the factor that now holds at \
                 {next} the way is open. Nearest to its limit is {who}."
            ),
            StopReason::SafetyStop | StopReason::Chosen => format!(
                "The tissues barred the way up to {next} on arriving here and would let it go \
                 before minute {leave}; the plan's safety stop holds until then. Nearest to its \
                 limit is {who}."
            ),
        }
    }

    /// How far an attempt is over the limit, and what that means.
    fn compare(&self, sheet: &mut Sheet, attempt: &Departure, over: Expression) {
        let minute = minutes_of(attempt.leave);
        let line = Line {
            title: format!("How far over the limit, leaving at minute {minute}"),
            symbol: "x",
            unit: "bar",
            decimals: sheet.working(BAR),
        };
        let model = over.unrounded();
        sheet.compared(line, over, model, attempt.barred_by.is_some());
        sheet.words(if attempt.barred_by.is_some() {
            format!("Above 0: at minute {minute} the way up is barred.")
        } else {
            let next = self.site.at(self.stop.next);
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
            Some(anchor) if self.stop.next < anchor => {
                let high = sheet.given("G_high", "the high gradient factor", factors.high(), GIVEN);
                let low = sheet.given("G_low", "the low gradient factor", factors.low(), GIVEN);
                let depth = self.site.depth(sheet, "d_next", self.stop.next);
                let meaning = "first depth from which the way up was barred, m";
                let anchor = sheet.given("d_anchor", meaning, anchor.as_m(), GIVEN);
                let line = Line {
                    title: format!("Gradient factor at {}", self.site.at(self.stop.next)),
                    symbol: "G",
                    unit: "",
                    decimals: sheet.working(BAR),
                };
                let slope = (low - high.clone()) * depth / anchor;
                sheet.equation(line, high + slope, self.stop.factor)
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
        let mix = self.stop.segment.gas;
        let meaning = format!("{} that it holds when the stop begins, bar", gas.name);
        let start = gas.held(&self.stop.start.tissues, index);
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
        attempt: &Departure,
        ways: &[WayOn<'_>],
    ) -> Vec<Expression> {
        let minute = minutes_of(attempt.leave);
        let waits = attempt.leave > self.stop.segment.start;
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
                        model: Some(gas.held(&attempt.leaving, index)),
                    };
                    gas.exchange(sheet, stretch)
                }
            };
            let next = self.site.at(self.stop.next);
            let stretch = Stretch {
                title: format!("{} on arriving at {next}", upper(gas.name)),
                symbol: "p_2",
                start: Some(leaving),
                taken: way.taken.clone(),
                inspired: way.inspired.clone(),
                rate: Some(way.rate.clone()),
                time: way.up.clone(),
                model: Some(gas.held(&attempt.arriving, index)),
            };
            held.push(gas.exchange(sheet, stretch));
        }
        held
    }

    fn time_held(&self, sheet: &mut Sheet, leave: RunTime) -> Expression {
        let minute = minutes_of(leave);
        let meaning = "run time at which the stop begins, min";
        let begins = sheet.given(
            "t_begins",
            meaning,
            self.stop.segment.start.as_min(),
            MINUTES,
        );
        let line = Line {
            title: format!("Time held when leaving at minute {minute}"),
            symbol: "t",
            unit: "min",
            decimals: sheet.working(MINUTES),
        };
        sheet.derived(line, plain(leave.as_min()) - begins)
    }
}
