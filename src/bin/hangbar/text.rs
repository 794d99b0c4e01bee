//! A briefing as a guide reads it out at the rail: the verdict, the dive, the way up, each
//! diver's gas, each pony, the check before the water, the cautions.

use hangbar::ascent::switch_depth;
use hangbar::briefing::{Briefing, NoStopMargin};
use hangbar::finding::Weight;
use hangbar::gas_budget::{DiverBudget, PonyBudget, PonyVerdict, TurnRule};
use hangbar::oxygen::operating_depth;
use hangbar::schedule::{Segment, SegmentKind};
use hangbar::show::{Show, hundredths_up, minutes, minutes_down, minutes_up, whole_up};
use hangbar::units::{Depth, Pressure, Time, UnitSystem};

use crate::screen::{Screen, Tone, cell};

const CAUTIONS: &str = "\
These figures come from a model and from the plan; they know nothing of cold, work, age or health. \
They are for divers trained for this dive. Plan with your own training and tables, and defer to \
local rules and licensed practice. A gauge and a diver who wants to go up are always right.";

/// The oxygen pressure that a label's operating depth is reckoned with, bar.
const LABEL_PO2_BAR: f64 = 1.4;
const NAME_COLUMNS: usize = 14;

/// The whole briefing.
pub(crate) fn render(briefing: &Briefing, units: UnitSystem, colour: bool) -> String {
    let mut rail = Rail {
        briefing,
        show: Show(units),
        screen: Screen::new(colour),
    };
    rail.verdict(units);
    rail.dive();
    rail.run_times();
    if !briefing.divers.is_empty() {
        rail.gas();
        rail.stages();
        rail.ponies();
    }
    rail.rail_check();
    rail.screen.heading("Cautions");
    rail.screen.paragraph(CAUTIONS);
    rail.screen.finish()
}

/// A pause of the dive: everything that happens at one depth without moving.
struct Pause<'a> {
    depth: Depth,
    arrive: Time,
    leave: Time,
    segments: Vec<&'a Segment>,
}

struct Rail<'a> {
    briefing: &'a Briefing,
    show: Show,
    screen: Screen,
}

impl Rail<'_> {
    fn verdict(&mut self, units: UnitSystem) {
        let go = self.briefing.is_go();
        let (word, tone) = if go {
            ("GO", Tone::Go)
        } else {
            ("NO-GO", Tone::NoGo)
        };
        let title = self
            .briefing
            .plan
            .title
            .as_deref()
            .unwrap_or("Untitled dive");
        self.screen.hanging_in(tone, &format!("{word}  "), title);
        for finding in self.briefing.findings_of(Weight::NoGo) {
            let message = finding.message(units);
            self.screen.hanging_in(Tone::NoGo, "  no-go    ", &message);
        }
        for finding in self.briefing.findings_of(Weight::Caution) {
            let message = finding.message(units);
            self.screen
                .hanging_in(Tone::Caution, "  caution  ", &message);
        }
        for finding in self.briefing.findings_of(Weight::Note) {
            self.screen.hanging("  note     ", &finding.message(units));
        }
    }

    fn dive(&mut self) {
        self.screen.heading("The dive");
        let sentence = self.dive_sentence();
        self.screen.paragraph(&sentence);
        let limit = self.limit_sentence();
        self.screen.paragraph(&limit);
        let oxygen = &self.briefing.oxygen;
        let doses = format!(
            "Oxygen: at most {} bar; CNS {} %, OTU {}.",
            hundredths_up(oxygen.max_po2_bar),
            whole_up(oxygen.cns_pct),
            whole_up(oxygen.otu),
        );
        self.screen.paragraph(&doses);
        let up = minutes_up(self.briefing.schedule.run_time());
        let clock = self.briefing.plan.splash.map(|splash| {
            // A run time is far below what a u32 holds.
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "see above"
            )]
            let up_at = splash.after(up as u32);
            format!(", {up_at} with a splash at {splash}")
        });
        let skipper = format!(
            "Skipper: expect the team on the surface at minute {up}{}.",
            clock.unwrap_or_default()
        );
        self.screen.paragraph(&skipper);
    }

    fn dive_sentence(&self) -> String {
        let (plan, schedule) = (&self.briefing.plan, &self.briefing.schedule);
        let gas = plan.rules.bottom_gas;
        let levels: Vec<String> = plan
            .levels
            .iter()
            .map(|level| {
                let time = minutes(minutes_down(level.time));
                format!("{} for {time}", self.show.depth(level.depth))
            })
            .collect();
        let mut sentence = format!("{} on {gas}", levels.join(", then "));
        if plan.levels.len() > 1 {
            let bottom = minutes(minutes_down(schedule.bottom_time));
            sentence.push_str(&format!(", {bottom} of bottom time in all"));
        }
        let stops = schedule
            .way_up
            .iter()
            .filter(|segment| segment.kind != SegmentKind::Ascent);
        let stop_time = minutes_up(stops.clone().map(Segment::time).sum());
        let first = stops.map(|segment| segment.from).next();
        sentence.push_str(&match first {
            Some(depth) if schedule.staged => format!(
                ", {} of stops from {} up",
                minutes(stop_time),
                self.show.depth(depth)
            ),
            Some(depth) => format!(
                ", a safety stop of {} at {}",
                minutes(stop_time),
                self.show.depth(depth)
            ),
            None => ", straight up".to_owned(),
        });
        let up = minutes_up(schedule.run_time());
        sentence.push_str(&format!(", back on the surface at minute {up}."));
        sentence
    }

    fn limit_sentence(&self) -> String {
        let briefing = self.briefing;
        let deepest = self.show.depth(briefing.schedule.deepest());
        let limit = match briefing.no_stop_limit {
            Some(limit) => minutes(minutes_down(limit)),
            None => "more than 999 minutes".to_owned(),
        };
        if briefing.plan.levels.len() == 1 {
            let margin = match briefing.no_stop_margin {
                NoStopMargin::Left(time) => {
                    format!("the plan leaves {} of it", minutes(minutes_down(time)))
                }
                NoStopMargin::Past(time) => {
                    format!(
                        "the plan is {} past it: a staged dive",
                        minutes(minutes_up(time))
                    )
                }
                NoStopMargin::Unlimited => "the plan stays inside it".to_owned(),
            };
            return format!("No-stop limit at {deepest}: {limit}; {margin}.");
        }
        let last = self.show.depth(briefing.schedule.last_depth());
        let margin = match briefing.no_stop_margin {
            NoStopMargin::Left(time) => format!(
                "After this profile {} more at {last} would still be no-stop.",
                minutes(minutes_down(time))
            ),
            NoStopMargin::Past(time) => format!(
                "This profile leaves {last} {} past the no-stop time: a staged dive.",
                minutes(minutes_up(time))
            ),
            NoStopMargin::Unlimited => {
                format!("After this profile {last} has no no-stop limit within 999 minutes.")
            }
        };
        format!("No-stop limit at {deepest} alone: {limit}. {margin}")
    }

    fn pauses(&self) -> Vec<Pause<'_>> {
        let mut pauses: Vec<Pause<'_>> = Vec::new();
        for segment in &self.briefing.schedule.segments {
            if matches!(segment.kind, SegmentKind::Ascent | SegmentKind::Descent) {
                continue;
            }
            match pauses.last_mut() {
                Some(pause) if pause.leave == segment.start && pause.depth == segment.from => {
                    pause.leave = segment.end;
                    pause.segments.push(segment);
                }
                _ => pauses.push(Pause {
                    depth: segment.from,
                    arrive: segment.start,
                    leave: segment.end,
                    segments: vec![segment],
                }),
            }
        }
        pauses
    }

    fn run_times(&mut self) {
        self.screen.heading("Run time in minutes");
        self.screen.line("     depth   arrive   leave");
        let bottom_time = self.briefing.schedule.bottom_time;
        let mut rows = Vec::new();
        for pause in self.pauses() {
            // Never stay down longer, never leave a stop earlier, than planned.
            let planned = pause.leave <= bottom_time;
            let leave = if planned {
                minutes_down(pause.leave)
            } else {
                minutes_up(pause.leave)
            };
            rows.push(format!(
                "{:>10}   {:>6}   {leave:>5}   {}",
                self.show.depth(pause.depth),
                minutes_down(pause.arrive),
                self.pause_words(&pause),
            ));
        }
        let up = minutes_up(self.briefing.schedule.run_time());
        rows.push(format!("   surface   {up:>6}"));
        for row in rows {
            self.screen.line(&row);
        }
        let rules = &self.briefing.plan.rules;
        let rate = self.show.vertical_speed(rules.ascent.rate);
        self.screen
            .paragraph(&format!("On the way up no faster than {rate}."));
    }

    fn pause_words(&self, pause: &Pause<'_>) -> String {
        let last = self.briefing.schedule.bottom_time;
        let mut words = Vec::new();
        for segment in &pause.segments {
            words.push(match segment.kind {
                SegmentKind::Level if segment.end == last => {
                    format!("leave the bottom, on {}", segment.gas)
                }
                SegmentKind::Level => format!("level, on {}", segment.gas),
                SegmentKind::Stop => "stop".to_owned(),
                SegmentKind::SafetyStop => "safety stop".to_owned(),
                SegmentKind::Switch => format!("switch to {}", segment.gas),
                SegmentKind::Ascent | SegmentKind::Descent => String::new(),
            });
        }
        words.join(", then ")
    }

    fn gas(&mut self) {
        let unit = self.show.pressure_unit();
        self.screen.heading(&format!("Gas in {unit}"));
        self.screen
            .line("                         turn    turn   minimum    leaves     back      gas");
        self.screen
            .line("  diver           fill     at     due       gas    bottom   aboard    limit");
        for diver in &self.briefing.divers {
            let row = self.gas_row(diver);
            self.screen.line(&row);
        }
        self.gas_sentences();
    }

    fn gas_row(&self, diver: &DiverBudget) -> String {
        let show = self.show;
        let due = match diver.turn_due {
            None => "not due".to_owned(),
            Some(time) => format!("{} min", minutes_down(time)),
        };
        let left = |pressure: Option<_>| {
            pressure.map_or_else(|| "empty".to_owned(), |p| show.pressure_number_down(p))
        };
        let limit = match diver.gas_limit_min {
            0 => "none".to_owned(),
            minutes => format!("{minutes} min"),
        };
        format!(
            "  {} {:>6} {:>6} {due:>7} {:>9} {:>9} {:>8} {limit:>8}",
            cell(&diver.name, NAME_COLUMNS),
            show.pressure_number_up(diver.fill),
            show.pressure_number_up(diver.turn),
            show.pressure_number_up(diver.minimum_gas),
            left(diver.leaving),
            left(diver.end),
        )
    }

    fn gas_sentences(&mut self) {
        let briefing = self.briefing;
        let limiting = briefing.limiting_divers();
        let names: Vec<&str> = limiting.iter().map(|diver| diver.name.as_str()).collect();
        if let Some(first) = limiting.first() {
            let sentence = match first.gas_limit_min {
                0 => format!(
                    "{} limits the team: the gas is enough for no bottom time at all.",
                    list(&names)
                ),
                limit => format!(
                    "{} {} the team: gas for {} of bottom time.",
                    list(&names),
                    if names.len() == 1 { "limits" } else { "limit" },
                    minutes(f64::from(limit)),
                ),
            };
            self.screen.paragraph(&sentence);
        }
        let turn = match briefing.plan.reserve.turn {
            TurnRule::Half => "half of what is above the minimum goes out, half comes back",
            TurnRule::Third => "a third of what is above the minimum goes out",
            TurnRule::All => "all that is above the minimum may be used on the bottom",
        };
        self.screen.paragraph(&format!(
            "Turn at the turn pressure whatever the minute: {turn}."
        ));
        let each: Vec<String> = briefing
            .divers
            .iter()
            .map(|diver| {
                format!(
                    "{} {}",
                    diver.name,
                    self.show.pressure_up(diver.minimum_gas)
                )
            })
            .collect();
        let leave = minutes_down(briefing.schedule.bottom_time);
        self.screen.paragraph(&format!(
            "Leave the bottom together at minute {leave}, or at once when one gauge is down to: \
             {}.",
            each.join(", ")
        ));
    }

    fn stages(&mut self) {
        let briefing = self.briefing;
        let any = briefing.divers.iter().any(|diver| !diver.stages.is_empty());
        if !any {
            return;
        }
        self.screen.heading("Stage cylinders");
        for diver in &briefing.divers {
            for stage in &diver.stages {
                let from = switch_depth(&briefing.plan.rules, stage.gas)
                    .map(|depth| format!(", never deeper than {}", self.show.depth_limit(depth)));
                let line = format!(
                    "{}: {}{}; must hold {}, holds {}.",
                    diver.name,
                    stage.gas,
                    from.unwrap_or_default(),
                    self.show.volume_up(stage.need),
                    self.show.volume_down(stage.have),
                );
                self.screen.hanging("  ", &line);
            }
        }
    }

    fn ponies(&mut self) {
        let briefing = self.briefing;
        let ponies = briefing.divers.iter().filter_map(|diver| {
            let pony = diver.pony.as_ref()?;
            Some((diver.name.as_str(), pony))
        });
        let sentences: Vec<String> = ponies
            .map(|(name, pony)| self.pony_words(name, pony))
            .collect();
        if sentences.is_empty() {
            return;
        }
        self.screen.heading("Ponies");
        for sentence in sentences {
            self.screen.paragraph(&sentence);
        }
        self.screen.paragraph(
            "A pony is for getting up when the main supply fails. It buys no bottom time and is in \
             no figure above.",
        );
    }

    fn pony_words(&self, name: &str, pony: &PonyBudget) -> String {
        let have = self.show.volume_down(pony.have);
        let straight = self.show.volume_up(pony.need_ascent);
        let full = self.show.volume_up(pony.need_full);
        let until = match pony.covers_until_min {
            0 => "at no bottom time".to_owned(),
            limit => format!("up to {} of bottom time", minutes(f64::from(limit))),
        };
        match pony.verdict {
            PonyVerdict::CoversAll => format!(
                "{name}'s pony gives {have}. It covers the way up with every stop ({full}), \
                 {until}; not a minute on the bottom beyond that."
            ),
            PonyVerdict::CoversAscentOnly => format!(
                "{name}'s pony gives {have}. It covers a straight ascent ({straight}); it does \
                 not cover the stops ({full}): for those it would do {until}."
            ),
            PonyVerdict::Short => format!(
                "{name}'s pony gives {have}. It covers nothing: a straight ascent alone takes \
                 {straight}, every stop {full}. It would do {until}; plan as if it were not there."
            ),
        }
    }

    fn rail_check(&mut self) {
        let briefing = self.briefing;
        let gas = briefing.plan.rules.bottom_gas;
        self.screen.heading("At the rail, each diver");
        let fills: Vec<String> = briefing
            .divers
            .iter()
            .map(|diver| format!("{} {}", diver.name, self.show.pressure_up(diver.fill)))
            .collect();
        let mark = "  [ ] ";
        self.screen.hanging(mark, "Valve fully open.");
        if fills.is_empty() {
            self.screen
                .hanging(mark, "Gauge read against the planned fill.");
        } else {
            self.screen.hanging(
                mark,
                &format!(
                    "Gauge against the planned fill: {}. Less than that is another plan.",
                    fills.join(", ")
                ),
            );
        }
        self.screen.hanging(
            mark,
            "Two breaths from each second stage, eyes on the gauge: the needle stays still.",
        );
        if gas.is_same_gas(hangbar::mix::Mix::AIR) {
            self.screen
                .hanging(mark, "Air in the cylinder, not somebody's nitrox.");
        } else {
            let environment = &briefing.plan.rules.environment;
            let limit = Pressure::from_bar(LABEL_PO2_BAR);
            let depth = self
                .show
                .depth_limit(operating_depth(environment, gas, limit));
            self.screen.hanging(
                mark,
                &format!("Gas analysed and marked: {gas}, MOD {depth} at {LABEL_PO2_BAR} bar."),
            );
        }
        if briefing.divers.iter().any(|diver| diver.pony.is_some()) {
            self.screen.hanging(
                mark,
                "Pony: valve open, gauge read, breathed from, in reach of either hand.",
            );
        }
        if !briefing.plan.rules.decompression.is_empty() {
            self.screen.hanging(
                mark,
                "Stage cylinders: analysed, marked with their switch depth, breathed from.",
            );
        }
        self.screen.hanging(
            mark,
            "Partner's spare second stage found and breathed from; buoyancy inflates and vents; \
             weights and releases known; timer and depth gauge on.",
        );
    }
}

/// `Ines`, `Ines and Tom`, `Ines, Tom and Kai`.
fn list(names: &[&str]) -> String {
    match names.split_last() {
        Some((last, [])) => (*last).to_owned(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    }
}
