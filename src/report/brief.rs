//! A briefing as a guide reads it out at the rail: the verdict, the dive, the way up, each
//! diver's gas, what if, the check before the water, the cautions. A no-go gets nothing that could
//! be followed into the water.

use super::part::{Part, Parts, Topic, joined};
use super::rail::Rail;
use super::sheet::{Align, CAUTIONS, Report, THIN_AIR, Table, Tone, together};
use super::{before, flying, gas, lost_stages, trouble};
use crate::briefing::{Briefing, NoStopMargin};
use crate::dive::{BOUND_MIN, Pause, SegmentKind};
use crate::finding::Verdict;
use crate::finding::Weight;
use crate::plan::TurnRule;
use crate::quantity::show::{
    Show, hundredths_up, limit_words, list, min_s_between, min_s_down, min_s_up, minutes,
    minutes_down, minutes_given, minutes_up, whole_up,
};
use crate::quantity::{Pressure, Time, UnitSystem};
use crate::site::Mix;
use crate::site::Water;

/// The whole briefing.
#[must_use]
pub fn brief(briefing: &Briefing, units: UnitSystem) -> Report {
    joined(brief_in_parts(briefing, units))
}

/// The whole briefing, part by part.
#[must_use]
pub fn brief_in_parts(briefing: &Briefing, units: UnitSystem) -> Vec<Part> {
    with_flying(briefing, &flying::of_brief(briefing, units), units)
}

/// The whole briefing, with what is said of flying after it, which a no-go leaves out.
pub(super) fn with_flying(briefing: &Briefing, flying: &str, units: UnitSystem) -> Vec<Part> {
    let rail = Rail::new(briefing, units);
    let verdict = briefing.verdict();
    let is_no_go = verdict == Verdict::NoGo;
    let has_team = !briefing.divers.is_empty();
    let mut parts = Parts::default();
    parts.add(Topic::Verdict, |report| rail.verdict(report));
    if is_no_go {
        parts.add(Topic::NearestGo, |report| rail.nearest_go(report));
    }
    parts.add(Topic::Before, |report| before::earlier_dives(&rail, report));
    parts.add(Topic::Dive, |report| rail.dive(report));
    parts.add(Topic::EachDiver, |report| before::each_diver(&rail, report));
    parts.add(Topic::WayUp, |report| rail.run_times(report));
    if is_no_go {
        parts.add(Topic::GasAskedFor, |report| {
            gas::as_asked_for(&rail, report)
        });
        parts.add(Topic::Ponies, |report| gas::ponies(&rail, report));
    } else {
        if has_team {
            parts.add(Topic::Gas, |report| gas::planned(&rail, report));
            parts.add(Topic::Hang, |report| gas::hang(&rail, report));
            parts.add(Topic::Stages, |report| gas::stages(&rail, report));
            parts.add(Topic::Ponies, |report| gas::ponies(&rail, report));
            parts.add(Topic::Late, |report| trouble::late(&rail, report));
            parts.add(Topic::LostGas, |report| trouble::lost_gas(&rail, report));
        }
        parts.add(Topic::LostStages, |report| {
            lost_stages::lost_stages(&rail, report);
        });
        parts.add(Topic::Skipper, |report| rail.skipper(report));
        if has_team {
            parts.add(Topic::RollCall, |report| rail.roll_call(report));
        }
        parts.add(Topic::RailCheck, |report| rail.rail_check(report));
    }
    parts.add(Topic::Cautions, |report| {
        report.heading("Cautions");
        if !is_no_go {
            report.paragraph(flying);
        } else if let Some(flying) = &briefing.flying_without {
            let sentence = flying::sentence(flying, Show(units));
            report.paragraph(format!("Without this dive, after the last one: {sentence}"));
        }
        if briefing.plan.rules().environment.is_at_altitude() {
            report.paragraph(THIN_AIR);
        }
        report.paragraph(CAUTIONS);
    });
    parts.add(Topic::VerdictAgain, |report| {
        report.space();
        report.marked(Tone::from(verdict), verdict.title(), rail.title());
    });
    parts.all
}

impl<'a> Rail<'a> {
    pub(super) fn verdict(&self, report: &mut Report) {
        let verdict = self.briefing.verdict();
        report.marked(Tone::from(verdict), verdict.title(), self.title());
        for finding in &self.briefing.findings {
            let message = finding.message(self.units);
            let tone = match finding.weight() {
                Weight::NoGo => Tone::NoGo,
                Weight::Caution => Tone::Caution,
                Weight::Note => Tone::Plain,
            };
            let mark = format!("  {:<7}", finding.weight().word());
            report.marked(tone, mark, message);
        }
        report.paragraph(self.assumes());
    }

    /// What the figures take for granted, in a line or two.
    fn assumes(&self) -> String {
        let plan = &self.briefing.plan;
        let water = match plan.site().water {
            Water::Sea => "sea water".to_owned(),
            Water::Fresh => "fresh water".to_owned(),
            Water::En13319 => "water of 0.1 bar a metre".to_owned(),
            Water::Density { kg_per_m3 } => format!("water of {kg_per_m3} kg/m3"),
        };
        let surface = plan.rules().environment.surface();
        let sea_level = Pressure::from_atm(1.0);
        let air = if surface.is_at(sea_level) {
            "at sea level".to_owned()
        } else {
            let height = plan.site().altitude.map_or_else(
                || "with the air".to_owned(),
                |height| format!("at {},", self.show.height(height)),
            );
            format!("{height} at {:.3} bar", surface.as_bar())
        };
        let air = match plan.site().arrival {
            Some(arrival) => {
                let dive = if plan.history().dives.is_empty() || plan.before().is_empty() {
                    "the dive"
                } else {
                    "the first dive"
                };
                let came = before::came_words(&arrival, dive, self.show);
                format!("{air}, divers who {came}")
            }
            None if surface.is_at(sea_level) => air,
            None => format!("{air}, the divers adapted to it"),
        };
        let factors = plan.rules().factors;
        let turn = match plan.reserve().turn {
            TurnRule::Half => "turn at half",
            TurnRule::Third => "turn at a third",
            TurnRule::All => "no turn: the dive need not come back",
        };
        let team = if plan.divers().is_empty() {
            String::new()
        } else if self.briefing.verdict() == Verdict::NoGo {
            // There is nothing to turn at.
            let stress = plan.reserve().stress;
            format!(", trouble breathed {stress} times as hard")
        } else {
            let stress = plan.reserve().stress;
            format!(", trouble breathed {stress} times as hard, {turn}")
        };
        let first = match plan.history().dives.len() {
            0 if plan.starts_clean() || plan.site().arrival.is_some() => {
                "the first dive of the day".to_owned()
            }
            0 => "the tissues and oxygen doses of earlier dives".to_owned(),
            1 => "the earlier dive as told".to_owned(),
            count => format!("the {count} earlier dives as told"),
        };
        format!(
            "Assumes {first}, {water} {air}, gradient factors {:.0}/{:.0}{team}.",
            factors.low() * 100.0,
            factors.high() * 100.0,
        )
    }

    /// What would make a no-go a go, a line each.
    pub(super) fn nearest_go(&self, report: &mut Report) {
        let nearest = &self.briefing.nearest_go;
        report.heading("The nearest go: one change alone, the rest as planned");
        if nearest.is_empty() {
            report.paragraph(
                "No shorter bottom time, lesser depth, higher fill or larger cylinder alone makes \
                 this a go. Plan another dive.",
            );
            return;
        }
        if let Some(time) = nearest.bottom_time_min {
            let text = self.shorter_words(time);
            report.marked(Tone::Plain, "  time    ", text);
        }
        if let Some(depth) = nearest.depth {
            let depth = self.show.depth_limit(depth);
            report.marked(
                Tone::Plain,
                "  depth   ",
                format!("No deeper than {depth}."),
            );
        }
        let fills: Vec<String> = nearest
            .fills
            .iter()
            .map(|(name, fill)| together(name, &self.gauge_of(name).pressure_up(*fill)))
            .collect();
        if !fills.is_empty() {
            let text = format!("{}, if the cylinder is rated for it.", list(&fills));
            report.marked(Tone::Plain, "  fill    ", text);
        }
        let cylinders: Vec<String> = nearest
            .cylinders
            .iter()
            .map(|(name, water, contents)| {
                let size = match self.gauge_of(name).0 {
                    UnitSystem::Metric => self.show.water_up(*water),
                    UnitSystem::Imperial => {
                        format!("{} of gas", self.gauge_of(name).volume_up(*contents))
                    }
                };
                together(name, &size)
            })
            .collect();
        if let Some(wait) = nearest.wait {
            let text = format!("{}.", before::longer(wait));
            report.marked(Tone::Plain, "  wait    ", text);
        }
        if let Some(at) = nearest.flight_not_before {
            let text = format!("Not before {}.", at.on_the_day());
            report.marked(Tone::Plain, "  flight  ", text);
        }
        if !cylinders.is_empty() {
            let text = format!("{}, filled to the same pressure.", list(&cylinders));
            report.marked(Tone::Plain, "  cylinder", text);
        }
    }

    /// A shorter bottom time; levels that it leaves out are no longer part of the dive.
    fn shorter_words(&self, time: u32) -> String {
        let plan = &self.briefing.plan;
        let shorter = minutes(f64::from(time));
        let left = plan.left_at(Time::from_min(f64::from(time)));
        match left.as_ref().and_then(|left| left.levels().last()) {
            Some(last)
                if left
                    .as_ref()
                    .is_some_and(|l| l.levels().len() < plan.levels().len()) =>
            {
                format!(
                    "{shorter} of bottom time in all: the dive ends at {}, without the levels \
                     after it.",
                    self.show.depth(last.depth)
                )
            }
            _ => format!("{shorter} of bottom time."),
        }
    }

    pub(super) fn dive(&self, report: &mut Report) {
        report.heading(match self.briefing.verdict() {
            Verdict::NoGo => "The dive as asked for, not to be dived",
            Verdict::Go | Verdict::ScheduleOnly => "The dive",
        });
        report.paragraph(self.dive_sentence());
        report.paragraph(self.limit_sentence());
        before::limit_sentences(self, report);
        let oxygen = &self.briefing.oxygen;
        report.paragraph(format!(
            "Oxygen: at most {} bar; CNS {} %, OTU {}.",
            hundredths_up(oxygen.max_po2_bar),
            whole_up(oxygen.cns_pct),
            whole_up(oxygen.otu),
        ));
    }

    fn dive_sentence(&self) -> String {
        let (plan, schedule) = (&self.briefing.plan, &self.briefing.schedule);
        let mut sentence = self.levels_on_gas();
        if plan.levels().len() > 1 {
            let bottom = minutes_given(schedule.bottom_time);
            sentence.push_str(&format!(", {bottom} of bottom time in all"));
        }
        let stop_time = minutes(minutes_up(schedule.stop_time()));
        let first = schedule.pauses().next();
        let switches = schedule
            .pauses()
            .any(|pause| pause.kind == SegmentKind::Switch);
        let stops = if switches {
            "stops and gas switches"
        } else {
            "stops"
        };
        sentence.push_str(&match first {
            Some(pause) if schedule.staged => {
                format!(
                    ", {stop_time} of {stops} from {} up",
                    self.show.depth(pause.from)
                )
            }
            Some(pause) => {
                format!(
                    ", a safety stop of {stop_time} at {}",
                    self.show.depth(pause.from)
                )
            }
            None => ", straight up".to_owned(),
        });
        let up = minutes_up(schedule.run_time());
        sentence.push_str(&format!(", back on the surface at minute {up}."));
        sentence
    }

    /// `27 m for 15 minutes on air`
    pub(super) fn levels_on_gas(&self) -> String {
        let plan = &self.briefing.plan;
        let levels: Vec<String> = plan
            .levels()
            .iter()
            .map(|level| {
                let time = minutes_given(level.time);
                format!("{} for {time}", self.show.depth(level.depth))
            })
            .collect();
        format!("{} on {}", levels.join(", then "), self.gas_words())
    }

    /// `air`; of several gases the one that the schedule is flown on.
    pub(super) fn gas_words(&self) -> String {
        let plan = &self.briefing.plan;
        let flown = plan.rules().bottom_gas;
        if plan.gases_differ() {
            format!("{flown}, the leanest gas")
        } else {
            flown.to_string()
        }
    }

    /// The no-stop limit and how the plan stands to it: a margin is never an offer.
    fn limit_sentence(&self) -> String {
        let briefing = self.briefing;
        let schedule = &briefing.schedule;
        let deepest = self.show.depth(schedule.deepest());
        let limit = limit_words(briefing.no_stop_limit.time(), BOUND_MIN);
        let several = briefing.plan.levels().len() > 1;
        let alone = if several { " alone" } else { "" };
        let margin = match briefing.no_stop_margin {
            NoStopMargin::Past { by, since } if several => format!(
                "The profile is past it from minute {} on, at {}, and ends {} past it: a staged \
                 dive.",
                minutes_down(since.from),
                self.show.depth(since.depth),
                minutes(minutes_up(by))
            ),
            NoStopMargin::Past { by, .. } => format!(
                "The plan is {} past it: a staged dive.",
                minutes(minutes_up(by))
            ),
            _ if !briefing.not_straight_up.is_empty() => {
                let since = &briefing.not_straight_up[0];
                format!(
                    "The profile is past it from minute {} on, at {}; only its later levels make \
                     it one that ends without stops.",
                    minutes_down(since.from),
                    self.show.depth(since.depth)
                )
            }
            NoStopMargin::Left(time) if minutes_down(time) < 1.0 => {
                "The plan is at the limit, without a margin.".to_owned()
            }
            NoStopMargin::Left(time) if several => format!(
                "The profile stays inside it all along, at its end by {}: a margin, not bottom \
                 time.",
                minutes(minutes_down(time))
            ),
            NoStopMargin::Left(time) => format!(
                "The plan stays {} inside it: a margin, not bottom time.",
                minutes(minutes_down(time))
            ),
            NoStopMargin::Unlimited => "The plan stays inside it.".to_owned(),
        };
        format!("No-stop limit at {deepest}{alone}: {limit}. {margin}")
    }

    /// Minutes and seconds, so that arriving, staying and leaving add up; the time of day of
    /// leaving where the splash is known. Nobody stays down longer or leaves a stop earlier than
    /// planned: levels are left rounded down and stops rounded up.
    fn run_times(&self, report: &mut Report) {
        let schedule = &self.briefing.schedule;
        let plan = &self.briefing.plan;
        report.heading("Run time in minutes:seconds");
        let mut columns = vec![
            ("depth", Align::Right),
            ("arrive", Align::Right),
            ("stay", Align::Right),
            ("leave", Align::Right),
        ];
        if plan.splash().is_some() {
            columns.push(("time of day\nwhen leaving", Align::Right));
        }
        columns.push(("", Align::Left));
        let mut table = Table::new(&columns).read_first(&["depth", "arrive", "stay", "leave"]);
        for pause in schedule.pauses_by_depth() {
            let on_the_bottom = pause.leave <= schedule.leave_bottom();
            let (leave, minute) = if on_the_bottom {
                (min_s_down(pause.leave), minutes_down(pause.leave))
            } else {
                (min_s_up(pause.leave), minutes_up(pause.leave))
            };
            let mut row = vec![
                self.show.depth(pause.depth),
                min_s_up(pause.arrive),
                min_s_between(pause.arrive, pause.leave, !on_the_bottom),
                leave,
            ];
            row.extend(plan.time_of_day(minute).map(|time| time.to_string()));
            row.push(self.pause_words(&pause));
            table.rows.push(row);
        }
        let mut row = vec![
            "surface".to_owned(),
            min_s_up(schedule.run_time()),
            String::new(),
            String::new(),
        ];
        let up = minutes_up(schedule.run_time());
        row.extend(plan.time_of_day(up).map(|time| time.to_string()));
        row.push(String::new());
        table.rows.push(row);
        report.table(table);
        let rate = self
            .show
            .vertical_speed(self.briefing.plan.rules().ascent.rate);
        report.paragraph(format!("On the way up no faster than {rate}."));
    }

    /// What a pause is for. On a staged dive every stop is one: none may be left out.
    fn pause_words(&self, pause: &Pause<'_>) -> String {
        let schedule = &self.briefing.schedule;
        let differ = self.briefing.plan.gases_differ();
        let on = |gas: Mix| {
            if differ {
                "each on own gas".to_owned()
            } else {
                format!("on {gas}")
            }
        };
        let words: Vec<String> = pause
            .segments
            .iter()
            .map(|segment| match segment.kind {
                SegmentKind::Level if segment.end.is_at(schedule.leave_bottom()) => {
                    format!("leave the bottom, {}", on(segment.gas))
                }
                SegmentKind::Level => format!("level, {}", on(segment.gas)),
                SegmentKind::SafetyStop if !schedule.staged => "safety stop".to_owned(),
                SegmentKind::Switch => format!("switch to {}", segment.gas),
                SegmentKind::SafetyStop
                | SegmentKind::Stop
                | SegmentKind::Ascent
                | SegmentKind::Descent => "stop".to_owned(),
            })
            .collect();
        words.join(", then ")
    }
}
