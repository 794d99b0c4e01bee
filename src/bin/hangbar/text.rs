//! A briefing as a guide reads it out at the rail: the verdict, the dive, the way up, each
//! diver's gas, what if, the check before the water, the cautions.

use hangbar::briefing::{Briefing, NoStopMargin};
use hangbar::finding::Weight;
use hangbar::mix::Mix;
use hangbar::oxygen::operating_depth;
use hangbar::schedule::{Segment, SegmentKind};
use hangbar::show::{Show, hundredths_up, knots, minutes, minutes_down, minutes_up, whole_up};
use hangbar::units::{Depth, Pressure, Time, UnitSystem};

use crate::clock::Clock;
use crate::screen::{Screen, Tone};
use crate::{gas_text, trouble_text};

pub(crate) const CAUTIONS: &str = "\
These figures come from a model and from the plan; they know nothing of cold, work, age or health. \
They are for divers trained for this dive. Plan with your own training and tables, and defer to \
local rules and licensed practice. A gauge and a diver who wants to go up are always right.";

/// The oxygen pressure that a label's operating depth is reckoned with, bar.
const LABEL_PO2_BAR: f64 = 1.4;

/// The whole briefing.
pub(crate) fn render(briefing: &Briefing, units: UnitSystem, colour: bool) -> String {
    let mut screen = Screen::new(colour);
    let rail = Rail::new(briefing, units);
    rail.verdict(&mut screen);
    rail.dive(&mut screen);
    rail.run_times(&mut screen);
    if !briefing.divers.is_empty() {
        gas_text::render(&rail, &mut screen);
        trouble_text::render(&rail, &mut screen);
    }
    rail.skipper(&mut screen);
    if !briefing.divers.is_empty() {
        rail.roll_call(&mut screen);
    }
    rail.rail_check(&mut screen);
    screen.heading("Cautions");
    screen.paragraph(CAUTIONS);
    screen.finish()
}

/// A pause of the dive: everything that happens at one depth without moving.
struct Pause<'a> {
    depth: Depth,
    arrive: Time,
    leave: Time,
    segments: Vec<&'a Segment>,
}

/// A briefing and the units it is read out in.
pub(crate) struct Rail<'a> {
    pub(crate) briefing: &'a Briefing,
    units: UnitSystem,
    pub(crate) show: Show,
}

impl<'a> Rail<'a> {
    pub(crate) const fn new(briefing: &'a Briefing, units: UnitSystem) -> Self {
        Self {
            briefing,
            units,
            show: Show(units),
        }
    }

    /// How a diver's pressures are shown: in the units of the own gauge.
    pub(crate) fn gauge_of(&self, name: &str) -> Show {
        let mut divers = self.briefing.divers.iter();
        let own = divers
            .find(|diver| diver.name == name)
            .and_then(|diver| diver.gauge);
        Show(own.unwrap_or(self.units))
    }

    fn verdict(&self, screen: &mut Screen) {
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
        screen.hanging_in(tone, &format!("{word}  "), title);
        for finding in &self.briefing.findings {
            let message = finding.message(self.units);
            match finding.weight() {
                Weight::NoGo => screen.hanging_in(Tone::NoGo, "  no-go    ", &message),
                Weight::Caution => screen.hanging_in(Tone::Caution, "  caution  ", &message),
                Weight::Note => screen.hanging("  note     ", &message),
            }
        }
    }

    fn dive(&self, screen: &mut Screen) {
        screen.heading("The dive");
        screen.paragraph(&self.dive_sentence());
        screen.paragraph(&self.limit_sentence());
        let oxygen = &self.briefing.oxygen;
        screen.paragraph(&format!(
            "Oxygen: at most {} bar; CNS {} %, OTU {}.",
            hundredths_up(oxygen.max_po2_bar),
            whole_up(oxygen.cns_pct),
            whole_up(oxygen.otu),
        ));
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
        let stop_time = minutes(minutes_up(stops.clone().map(Segment::time).sum()));
        let first = stops.map(|segment| self.show.depth(segment.from)).next();
        sentence.push_str(&match first {
            Some(depth) if schedule.staged => format!(", {stop_time} of stops from {depth} up"),
            Some(depth) => format!(", a safety stop of {stop_time} at {depth}"),
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

    /// Minutes, and times of day where the splash is known. Nobody stays down longer or leaves a
    /// stop earlier than planned, so levels are left rounded down and stops rounded up.
    fn run_times(&self, screen: &mut Screen) {
        let schedule = &self.briefing.schedule;
        let clock = Clock::of(&self.briefing.plan);
        screen.heading("Run time in minutes");
        let day = if clock.is_known() {
            "   time of day   "
        } else {
            "   "
        };
        screen.line(&format!("     depth   arrive   leave{day}"));
        for pause in self.pauses() {
            let arrive = minutes_down(pause.arrive);
            let leave = if pause.leave <= schedule.bottom_time {
                minutes_down(pause.leave)
            } else {
                minutes_up(pause.leave)
            };
            let day = match (clock.at(arrive), clock.at(leave)) {
                (Some(arrive), Some(leave)) => format!("   {arrive}-{leave}   "),
                _ => "   ".to_owned(),
            };
            let row = format!(
                "{:>10}   {arrive:>6}   {leave:>5}{day}",
                self.show.depth(pause.depth)
            );
            screen.hanging(&row, &self.pause_words(&pause));
        }
        let up = minutes_up(schedule.run_time());
        let day = clock
            .at(up)
            .map_or(String::new(), |time| format!("           {time}"));
        screen.line(&format!("   surface   {up:>6}{day}"));
        let rate = self
            .show
            .vertical_speed(self.briefing.plan.rules.ascent.rate);
        screen.paragraph(&format!("On the way up no faster than {rate}."));
    }

    fn pause_words(&self, pause: &Pause<'_>) -> String {
        let last = self.briefing.schedule.bottom_time;
        let words: Vec<String> = pause
            .segments
            .iter()
            .map(|segment| match segment.kind {
                SegmentKind::Level if segment.end == last => {
                    format!("leave the bottom, on {}", segment.gas)
                }
                SegmentKind::Level => format!("level, on {}", segment.gas),
                SegmentKind::SafetyStop => "safety stop".to_owned(),
                SegmentKind::Switch => format!("switch to {}", segment.gas),
                SegmentKind::Stop | SegmentKind::Ascent | SegmentKind::Descent => "stop".to_owned(),
            })
            .collect();
        words.join(", then ")
    }

    fn skipper(&self, screen: &mut Screen) {
        let (plan, schedule) = (&self.briefing.plan, &self.briefing.schedule);
        let clock = Clock::of(plan);
        screen.heading("For the skipper");
        let leave = minutes_down(schedule.bottom_time);
        let up = minutes_up(schedule.run_time());
        let overdue = minutes_up(schedule.run_time() + plan.surface.overdue_after);
        let at = |minute: f64| match clock.at(minute) {
            Some(time) => time.to_string(),
            None => format!("minute {minute}"),
        };
        let splash = clock.at(0.0).map_or_else(
            || "Start the clock at the splash.".to_owned(),
            |time| format!("Splash {time}."),
        );
        screen.paragraph(&format!(
            "{splash} They leave the bottom by {}, are up by {}, and are OVERDUE at {}.",
            at(leave),
            at(up),
            at(overdue),
        ));
        if let Some(drift) = self.briefing.drift() {
            let distance = self.show.distance_up(drift.metres);
            screen.paragraph(&format!(
                "Off the line the current of {} carries them {distance} on the way up.",
                knots(drift.current)
            ));
        }
        if let Some(emergency) = &plan.surface.emergency {
            screen.hanging("  Emergency: ", emergency);
        }
    }

    /// To be filled in by pencil.
    fn roll_call(&self, screen: &mut Screen) {
        screen.heading("Roll call");
        for diver in &self.briefing.divers {
            let name = crate::screen::cell(&diver.name, crate::screen::NAME_COLUMNS);
            let unit = self.gauge_of(&diver.name).pressure_unit();
            screen.line(&format!(
                "  {name}  in ...:...  ....... {unit}     out ...:...  ....... {unit}"
            ));
        }
    }

    fn rail_check(&self, screen: &mut Screen) {
        let briefing = self.briefing;
        let gas = briefing.plan.rules.bottom_gas;
        let mark = "  [ ] ";
        screen.heading("At the rail, each diver");
        let fills: Vec<String> = briefing
            .divers
            .iter()
            .map(|diver| {
                let fill = self.gauge_of(&diver.name).pressure_up(diver.fill);
                crate::screen::together(&diver.name, &fill)
            })
            .collect();
        let gauge = if fills.is_empty() {
            "Valve fully open; gauge read against the planned fill.".to_owned()
        } else {
            format!(
                "Valve fully open; gauge against the planned fill: {}. Less is another plan.",
                fills.join(", ")
            )
        };
        screen.hanging(mark, &gauge);
        screen.hanging(
            mark,
            "Two breaths from each second stage, eyes on the gauge: the needle stays still.",
        );
        if gas.is_same_gas(Mix::AIR) {
            screen.hanging(mark, "Air in the cylinder, not somebody's nitrox.");
        } else {
            let environment = &briefing.plan.rules.environment;
            let limit = Pressure::from_bar(LABEL_PO2_BAR);
            let depth = self
                .show
                .depth_limit(operating_depth(environment, gas, limit));
            screen.hanging(
                mark,
                &format!("Gas analysed and marked: {gas}, MOD {depth} at {LABEL_PO2_BAR} bar."),
            );
        }
        if briefing.divers.iter().any(|diver| diver.pony.is_some()) {
            screen.hanging(
                mark,
                "Pony: valve open, gauge read, breathed from, in reach.",
            );
        }
        if !briefing.plan.rules.decompression.is_empty() {
            screen.hanging(
                mark,
                "Stage cylinders: analysed, marked with their switch depth, breathed from.",
            );
        }
        screen.hanging(
            mark,
            "Partner's spare second stage found and breathed from; buoyancy inflates and vents; \
             weights and releases known; timer and depth gauge on.",
        );
    }
}
