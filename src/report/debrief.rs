//! A dive as it was, beside its plan.

use super::rail::Rail;
use super::sheet::{Align, CAUTIONS, Report, Table, Tone};
use crate::debrief::{CARE, Consumption, Debrief, Kept, RealDive, rate_up};
use crate::finding::Weight;
use crate::quantity::show::{Show, list, min_s_up, whole_up};
use crate::quantity::{RunTime, Speed, Time, UnitSystem};

/// What nobody knows.
const UNKNOWN: &str = "?";

/// Nothing here lets anybody dive again.
const NEXT: &str = "\
What was breathed is a figure for the next plan, not leave for a longer dive: a calm dive says little \
of a hard one. Whoever feels odd after a dive, however good its figures, stays out of the water and \
asks a doctor.";

/// All records of a dive: what to see to first, the dive, the gas, what it left.
#[must_use]
pub fn debrief(debrief: &Debrief, units: UnitSystem) -> Report {
    let page = Page {
        debrief,
        rail: Rail::new(&debrief.briefing, units),
    };
    let mut report = Report::default();
    let title = format!("Debrief: {}", page.rail.title());
    page.first(&mut report);
    if debrief.is_no_go() {
        report.marked(Tone::NoGo, "NO-GO", format!("for another dive. {title}"));
    } else {
        report.title("", title);
    }
    page.findings(&mut report);
    page.dive(&mut report);
    page.after(&mut report);
    page.gas(&mut report);
    report.heading("Cautions");
    report.paragraph(NEXT);
    report.paragraph(CAUTIONS);
    report
}

struct Page<'a> {
    debrief: &'a Debrief,
    rail: Rail<'a>,
}

impl Page<'_> {
    fn name(&self, dive: &RealDive) -> String {
        self.debrief.plan().divers()[dive.diver].name.clone()
    }

    /// How a record was kept, and which of its diver's it is where there are several.
    fn record(&self, dive: &RealDive) -> String {
        let kept = match dive.kept {
            Kept::Sampled(_) => "logger",
            Kept::Pencilled(_) => "pencil",
        };
        let mut own = self.debrief.dives_of(dive.diver);
        let number = own.position(|other| std::ptr::eq(other, dive));
        match number {
            Some(index) if self.debrief.dives_of(dive.diver).count() > 1 => {
                format!("{kept} {}", index + 1)
            }
            _ => kept.to_owned(),
        }
    }

    /// Where the records of a diver with several stand.
    fn sources(&self, report: &mut Report) {
        for dive in &self.debrief.dives {
            if self.debrief.dives_of(dive.diver).count() > 1 {
                let number = match dive.source.number {
                    1 => String::new(),
                    number => format!(", dive {number} in it"),
                };
                let file = &dive.source.file;
                let (name, record) = (self.name(dive), self.record(dive));
                report.paragraph(format!("{name}, {record}: {file}{number}."));
            }
        }
    }

    /// What must be done now stands above everything else, once.
    fn first(&self, report: &mut Report) {
        let mut hurt: Vec<&str> = Vec::new();
        for found in self
            .debrief
            .findings
            .iter()
            .filter(|found| found.needs_care())
        {
            if !hurt.contains(&found.diver.as_str()) {
                hurt.push(&found.diver);
            }
        }
        if !hurt.is_empty() {
            let needs = if hurt.len() == 1 { "needs" } else { "need" };
            let text = format!("{} {needs} {CARE}.", list(&hurt));
            report.marked(Tone::NoGo, "FIRST", text);
        }
    }

    fn findings(&self, report: &mut Report) {
        for found in &self.debrief.findings {
            let (tone, mark) = match found.weight() {
                Weight::NoGo => (Tone::NoGo, "  no-go"),
                Weight::Caution => (Tone::Caution, "  caution"),
                Weight::Note => (Tone::Plain, "  note"),
            };
            let dive = &self.debrief.dives[found.dive];
            let several = self.debrief.dives_of(dive.diver).count() > 1;
            let which = if several {
                format!(" ({})", self.record(dive))
            } else {
                String::new()
            };
            report.marked(tone, mark, found.sentence(self.rail.units) + &which);
        }
        let unrecorded: Vec<&str> = self.debrief.unrecorded().collect();
        if !unrecorded.is_empty() {
            let text = format!("No record of {}.", list(&unrecorded));
            report.marked(Tone::Plain, "  note", text);
        }
    }

    fn dive(&self, report: &mut Report) {
        report.heading("The dive as it was");
        let mut table = Table::new(&[
            ("diver", Align::Left),
            ("record", Align::Left),
            ("greatest\ndepth", Align::Right),
            ("average\ndepth", Align::Right),
            ("left\nbottom", Align::Right),
            ("back\nafter", Align::Right),
            ("fastest\nup", Align::Right),
        ]);
        let show = self.rail.show;
        let schedule = &self.debrief.briefing.schedule;
        table.rows.push(vec![
            "planned".to_owned(),
            String::new(),
            show.depth(schedule.deepest()),
            String::new(),
            min_s_up(schedule.leave_bottom()),
            min_s_up(schedule.run_time()),
            show.vertical_speed(self.debrief.plan().rules().ascent.rate),
        ]);
        for dive in &self.debrief.dives {
            let fastest = dive.sampled().and_then(|sampled| sampled.fastest);
            table.rows.push(vec![
                self.name(dive),
                self.record(dive),
                show.depth(dive.greatest_depth),
                average(dive, show),
                dive.bottom_time.map_or_else(|| UNKNOWN.to_owned(), min_s),
                back(dive),
                fastest.map_or_else(|| UNKNOWN.to_owned(), |rise| rate(rise.rate, show)),
            ]);
        }
        report.table(table);
        self.sources(report);
    }

    /// What the dive left in each of them.
    fn after(&self, report: &mut Report) {
        report.heading("What it left");
        let mut table = Table::new(&[
            ("diver", Align::Left),
            ("record", Align::Left),
            ("on the\nway up", Align::Right),
            ("on\nsurfacing", Align::Right),
            ("CNS of\nthe day", Align::Right),
            ("OTU of\nthe day", Align::Right),
        ]);
        let gradient = |gradient: crate::tissue::Gradient| {
            format!(
                "{} %, no. {}",
                whole_up((gradient.fraction * 100.0).max(0.0)),
                gradient.index + 1
            )
        };
        for dive in &self.debrief.dives {
            let peak = dive.sampled().and_then(|sampled| sampled.way_up);
            let unknown = || UNKNOWN.to_owned();
            table.rows.push(vec![
                self.name(dive),
                self.record(dive),
                peak.map_or_else(unknown, |peak| gradient(peak.gradient)),
                dive.surfacing.map_or_else(unknown, gradient),
                format!("{} %", whole_up(dive.oxygen.cns_pct)),
                whole_up(dive.oxygen.otu),
            ]);
        }
        report.table(table);
        let factor = self.debrief.plan().rules().factors.high() * 100.0;
        let pencil = self
            .debrief
            .dives
            .iter()
            .any(|dive| dive.sampled().is_none());
        let pencil = if pencil {
            " A pencil log is flown as the plan would be: it tells nothing of the way up."
        } else {
            ""
        };
        report.paragraph(format!(
            "The greatest gradient in use, of the M-value's, and the number of its compartment; the \
             plan surfaces with no more than {factor:.0} %.{pencil}"
        ));
    }

    fn gas(&self, report: &mut Report) {
        report.heading("Gas");
        let mut table = Table::new(&[
            ("diver", Align::Left),
            ("record", Align::Left),
            ("start", Align::Right),
            ("end", Align::Right),
            ("planned\nend", Align::Right),
            ("breathed", Align::Right),
            ("planned", Align::Right),
            ("to plan\nwith", Align::Right),
        ]);
        let mut told: Vec<usize> = Vec::new();
        for dive in &self.debrief.dives {
            let unknown = || UNKNOWN.to_owned();
            let budget = &self.debrief.briefing.divers[dive.diver];
            let gauge = self.rail.gauge_of(&budget.name);
            let read = |pressure| {
                let whole = gauge.pressure_whole_down(pressure);
                whole.split(' ').next().unwrap_or_default().to_owned()
            };
            let (ends, planned) = (dive.breathed.gauge, self.planned(dive));
            let next = match self.debrief.consumptions[dive.diver] {
                Some(next) if !told.contains(&dive.diver) => self.sac(next.suggested),
                _ => String::new(),
            };
            told.push(dive.diver);
            table.rows.push(vec![
                self.name(dive),
                self.record(dive),
                ends.map_or_else(unknown, |ends| read(ends.start)),
                ends.map_or_else(unknown, |ends| gauge.pressure_whole_down(ends.end)),
                budget
                    .end
                    .map_or_else(|| "empty".to_owned(), |end| gauge.pressure_number_down(end)),
                dive.breathed
                    .rate
                    .map_or_else(|_| unknown(), |rate| self.number(rate)),
                self.number(planned),
                next,
            ]);
        }
        report.table(table);
        report.paragraph(format!(
            "Breathed and planned: {} at the surface's pressure, from the main cylinder. To plan with: the \
             highest of a diver's records, rounded up.",
            self.unit()
        ));
        for (diver, of) in self
            .debrief
            .plan()
            .divers()
            .iter()
            .zip(&self.debrief.consumptions)
        {
            if let Some(of) = of.filter(|of| of.records > 1) {
                report.paragraph(self.range(&diver.name, of));
            }
        }
    }

    fn planned(&self, dive: &RealDive) -> crate::quantity::BreathingRate {
        self.debrief.plan().divers()[dive.diver].breathing
    }

    fn sac(&self, rate: crate::quantity::BreathingRate) -> String {
        rate_up(rate, self.rail.units)
    }

    /// Without its unit, which a line below the table says.
    fn number(&self, rate: crate::quantity::BreathingRate) -> String {
        let sac = self.sac(rate);
        sac.split(' ').next().unwrap_or_default().to_owned()
    }

    fn unit(&self) -> &'static str {
        match self.rail.units {
            UnitSystem::Metric => "L/min",
            UnitSystem::Imperial => "cuft/min",
        }
    }

    /// `Mara breathed 14.2 to 16.8 L/min in 3 records; half of them no more than 15.1 L/min.`
    fn range(&self, name: &str, of: Consumption) -> String {
        format!(
            "{name} breathed {} to {} in {} records; the median is {}.",
            self.number(of.least),
            self.sac(of.suggested),
            of.records,
            self.sac(of.median)
        )
    }
}

/// Mean depth, where it was recorded.
fn average(dive: &RealDive, show: Show) -> String {
    match &dive.kept {
        Kept::Pencilled(flown) if flown.average_depth.is_none() => UNKNOWN.to_owned(),
        Kept::Pencilled(_) | Kept::Sampled(_) => show.depth(dive.average_depth),
    }
}

/// When somebody was back, where it was recorded.
fn back(dive: &RealDive) -> String {
    match &dive.kept {
        Kept::Pencilled(flown) if flown.run_time.is_none() => UNKNOWN.to_owned(),
        Kept::Pencilled(_) | Kept::Sampled(_) => min_s(dive.run_time),
    }
}

fn min_s(time: Time) -> String {
    min_s_up(RunTime::SPLASH + time)
}

/// A rate that was, not less.
fn rate(speed: Speed, show: Show) -> String {
    const SAME: f64 = 1e-6;
    match show.0 {
        UnitSystem::Metric => format!(
            "{:.1} m/min",
            (speed.as_m_min() * 10.0 - SAME).ceil() / 10.0
        ),
        UnitSystem::Imperial => format!("{:.0} ft/min", (speed.as_ft_min() - SAME).ceil()),
    }
}
