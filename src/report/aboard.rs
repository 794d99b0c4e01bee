//! What a briefing has for the boat: the clock, the drift, the roll call, the check before the water.

use super::rail::Rail;
use super::sheet::{Align, Report, Table, Tone, together};
use crate::plan::OutBound;
use crate::quantity::show::{knots, list, minutes, minutes_down, minutes_up};
use crate::quantity::{Pressure, RunTime};
use crate::site::{ADVISED_PO2_BAR, Mix, operating_depth};

impl Rail<'_> {
    /// Splash, leaving the bottom, surfacing and overdue, as times of day or minutes.
    pub(super) fn clock_sentence(&self) -> String {
        let (plan, schedule) = (&self.briefing.plan, &self.briefing.schedule);
        let leave = minutes_down(schedule.bottom_time);
        let up = minutes_up(schedule.run_time());
        let overdue = minutes_up(schedule.run_time() + plan.surface().overdue_after);
        let at = |minute: f64| match plan.time_of_day(minute) {
            Some(time) => time.to_string(),
            None => format!("minute {minute}"),
        };
        let splash = plan.time_of_day(0.0).map_or_else(
            || "Start the clock at the splash.".to_owned(),
            |time| format!("Splash {time}."),
        );
        format!(
            "{splash} They leave the bottom by {}, are up by {}, and are OVERDUE at {}.",
            at(leave),
            at(up),
            at(overdue),
        ) + &self.hang_clock()
    }

    /// When a team that makes the hang is up.
    fn hang_clock(&self) -> String {
        let (plan, schedule) = (&self.briefing.plan, &self.briefing.schedule);
        let Some(hang) = plan.reserve().hang else {
            return String::new();
        };
        let hung = schedule.run_time() + hang.time;
        let at = |time: RunTime| match plan.time_of_day(minutes_up(time)) {
            Some(time) => time.to_string(),
            None => format!("minute {}", minutes_up(time)),
        };
        format!(
            " If they make the hang of {}, they are up by {}, and OVERDUE at {}.",
            minutes(minutes_up(hang.time)),
            at(hung),
            at(hung + plan.surface().overdue_after),
        )
    }

    pub(super) fn skipper(&self, report: &mut Report) {
        let plan = &self.briefing.plan;
        report.heading("For the skipper");
        report.paragraph(self.clock_sentence());
        if let Some(drift) = self.briefing.drift() {
            let set_out = plan.reserve().swim.map(|swim| match swim.out {
                OutBound::With => " They set out with it.",
                OutBound::Against => " They set out against it.",
            });
            report.paragraph(format!(
                "Off the line the current of {} carries them {} over the whole dive, {} of it on \
                 the way up.{}",
                knots(drift.current),
                self.show.distance_up(drift.whole_dive_m),
                self.show.distance_up(drift.way_up_m),
                set_out.unwrap_or_default(),
            ));
        }
        if let Some(emergency) = &plan.surface().emergency {
            report.marked(Tone::Plain, "  Emergency:", emergency.clone());
        }
    }

    /// To be filled in by pencil.
    pub(super) fn roll_call(&self, report: &mut Report) {
        report.heading("Roll call");
        let mut table = Table::new(&[
            ("diver", Align::Left),
            ("in", Align::Right),
            ("with", Align::Right),
            ("out", Align::Right),
            ("with", Align::Right),
        ]);
        for diver in &self.briefing.divers {
            let gauge = format!("..... {}", self.gauge_of(&diver.name).pressure_unit());
            table.rows.push(vec![
                diver.name.clone(),
                "...:...".to_owned(),
                gauge.clone(),
                "...:...".to_owned(),
                gauge,
            ]);
        }
        report.table(table);
    }

    /// Whose cylinder must hold what, where gases differ.
    fn own_gases(&self) -> String {
        let each = self.briefing.divers.iter().zip(&self.briefing.own);
        let each = each.map(|(diver, own)| {
            if diver.gas.is_same_gas(Mix::AIR) {
                return together(&diver.name, &diver.gas.to_string());
            }
            let depth = self.show.depth_limit(own.operating_depth);
            together(&diver.name, &format!("{}, MOD {depth}", diver.gas))
        });
        let each: Vec<String> = each.collect();
        format!(
            "Gases differ: each diver's own analysed and marked, MOD at {ADVISED_PO2_BAR} bar: {}.",
            each.join("; ")
        )
    }

    /// Whose pony must hold another gas than the main cylinder.
    fn own_pony_gases(&self) -> Option<String> {
        let others = self.briefing.divers.iter().filter_map(|diver| {
            let gas = diver.pony.as_ref()?.gas;
            let differs = !gas.is_same_gas(diver.gas);
            differs.then(|| together(&diver.name, &gas.to_string()))
        });
        let others: Vec<String> = others.collect();
        (!others.is_empty()).then(|| format!("Pony gas analysed and marked: {}.", list(&others)))
    }

    pub(super) fn rail_check(&self, report: &mut Report) {
        let briefing = self.briefing;
        let gas = briefing.plan.rules().bottom_gas;
        report.heading("At the rail, each diver");
        let mut tick = |text: String| report.marked(Tone::Plain, "  [ ]", text);
        let fills: Vec<String> = briefing
            .divers
            .iter()
            .map(|diver| {
                let fill = self.gauge_of(&diver.name).pressure_read(diver.fill);
                together(&diver.name, &fill)
            })
            .collect();
        let valve = if fills.is_empty() {
            "Valve fully open; gauge read against the planned fill.".to_owned()
        } else {
            format!(
                "Valve fully open; gauge against the planned fill: {}. Less is another plan.",
                fills.join(", ")
            )
        };
        let mut items = vec![
            valve,
            "Two breaths from each second stage, eyes on the gauge: the needle stays still."
                .to_owned(),
        ];
        items.push(if briefing.plan.gases_differ() {
            self.own_gases()
        } else if gas.is_same_gas(Mix::AIR) {
            "Air in the cylinder, not somebody's nitrox.".to_owned()
        } else {
            let environment = &briefing.plan.rules().environment;
            let limit = Pressure::from_bar(ADVISED_PO2_BAR);
            let operating = operating_depth(environment, gas, limit);
            let depth = self.show.depth_limit(operating);
            let deepest = briefing.schedule.deepest();
            let beyond = if deepest > operating {
                let deepest = self.show.depth(deepest);
                format!(" This dive goes deeper than that: {deepest}.")
            } else {
                String::new()
            };
            format!("Gas analysed and marked: {gas}, MOD {depth} at {ADVISED_PO2_BAR} bar.{beyond}")
        });
        if let Some(ponies) = self.own_pony_gases() {
            items.push(ponies);
        }
        if briefing.divers.iter().any(|diver| diver.pony.is_some()) {
            items.push("Pony: valve open, gauge read, breathed from, in reach.".to_owned());
        }
        if !briefing.plan.rules().decompression.is_empty() {
            items.push(
                "Stage cylinders: analysed, marked with their switch depth, breathed from."
                    .to_owned(),
            );
        }
        items.push(
            "Partner's spare second stage found and breathed from; buoyancy inflates and vents; \
             weights and releases known; timer and depth gauge on."
                .to_owned(),
        );
        items.into_iter().for_each(&mut tick);
    }
}
