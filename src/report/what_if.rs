//! The long form of what happens when the dive does not go to plan.

use super::before::start_sentence;
use super::change::Change;
use super::rail::Rail;
use super::sheet::{Align, CAUTIONS, Report, Table, Tone};
use super::trouble::{rescues, stops_words, unknown_words};
use crate::briefing::Briefing;
use crate::dive::ScheduleError;
use crate::finding::Verdict;
use crate::gas::PonyVerdict;
use crate::gas::Rescue;
use crate::quantity::UnitSystem;
use crate::quantity::show::{minutes_down, minutes_up};
use crate::whatif::{BadFrom, Deviation, DiverLate, DiverOutcome, Ending, Outcome};

/// The plan as it is, each change with a verdict of its own, each diver, lost gas.
#[must_use]
pub fn what_if(
    briefing: &Briefing,
    planned: &Outcome,
    changes: &[Change],
    units: UnitSystem,
) -> Report {
    let page = Page {
        rail: Rail::new(briefing, units),
        planned,
        changes,
    };
    let verdict = briefing.verdict();
    let mut report = Report::default();
    report.marked(Tone::Plain, "What if:", page.rail.title());
    report.marked(
        Tone::from(verdict),
        format!("  {}", verdict.title()),
        "as planned. Each change has a verdict of its own. A go there says what a slip would cost: \
         it is no leave to slip. < marks the first change that turns a thing bad.",
    );
    if let Some(start) = start_sentence(&briefing.plan, page.rail.show) {
        report.paragraph(start);
    }
    page.dive(&mut report);
    for index in 0..briefing.divers.len() {
        page.diver(&mut report, index);
    }
    page.lost_gas(&mut report);
    report.heading("Cautions");
    report.paragraph(CAUTIONS);
    report
}

struct Page<'a> {
    rail: Rail<'a>,
    planned: &'a Outcome,
    changes: &'a [Change],
}

/// Marks the first time that a thing is bad.
struct FirstBad(bool);

impl FirstBad {
    fn mark(&mut self, bad: bool) -> &'static str {
        if bad && !self.0 {
            self.0 = true;
            "\u{a0}<"
        } else {
            ""
        }
    }
}

impl Page<'_> {
    /// The plan and then each change, under the name that the tables give it.
    fn named(&self) -> impl Iterator<Item = (String, Result<&Outcome, &ScheduleError>)> {
        let planned = std::iter::once(("as planned".to_owned(), Ok(self.planned)));
        planned.chain(
            self.changes
                .iter()
                .map(|row| (self.change(row.deviation), row.outcome.as_ref())),
        )
    }

    /// `5 min late, 3 m deeper`
    fn change(&self, deviation: Deviation) -> String {
        let mut parts = Vec::new();
        if deviation.late.as_min() > 0.0 {
            parts.push(format!("{} min late", hundredths(deviation.late.as_min())));
        }
        if deviation.deeper.as_m() > 0.0 {
            parts.push(format!(
                "{} deeper",
                self.rail.show.depth_change(deviation.deeper)
            ));
        }
        if deviation.harder_pct > 0.0 {
            parts.push(format!("breathing +{} %", hundredths(deviation.harder_pct)));
        }
        parts.join(", ")
    }

    fn dive(&self, report: &mut Report) {
        report.heading("The dive");
        let mut table = Table::new(&[
            ("change", Align::Left),
            ("kind", Align::Left),
            ("first\nstop", Align::Right),
            ("stops", Align::Right),
            ("up at", Align::Right),
            ("verdict, why", Align::Left),
        ]);
        let mut failed = Vec::new();
        let mut staged = FirstBad(false);
        for (change, outcome) in self.named() {
            match outcome {
                Ok(outcome) => {
                    let kind = if outcome.no_stop { "no-stop" } else { "staged" };
                    let mark = staged.mark(!outcome.no_stop);
                    let first = outcome.first_stop.map(|depth| self.rail.show.depth(depth));
                    table.rows.push(vec![
                        change,
                        format!("{kind}{mark}"),
                        first.unwrap_or_else(|| "none".to_owned()),
                        format!("{} min", minutes_up(outcome.stop_time)),
                        format!("{} min", minutes_up(outcome.run_time)),
                        verdict_and_why(outcome),
                    ]);
                }
                Err(error) => {
                    let (why, words) = match error {
                        ScheduleError::OutOfRange(_) => ("not a plan", "not worked out"),
                        _ => ("no way up", "no way up can be worked out"),
                    };
                    table.rows.push(vec![
                        change.clone(),
                        "unknown".to_owned(),
                        "-".to_owned(),
                        "-".to_owned(),
                        "-".to_owned(),
                        format!("NO-GO: {why}"),
                    ]);
                    failed.push(format!("{change}: {words}: {error}."));
                }
            }
        }
        report.table(table);
        for failure in failed {
            report.paragraph(failure);
        }
        report.paragraph(stops_words(&self.rail.briefing.late));
    }

    fn diver(&self, report: &mut Report, index: usize) {
        let briefing = self.rail.briefing;
        let (diver, late) = (&briefing.divers[index], &briefing.late.divers[index]);
        let gauge = self.rail.gauge_of(&diver.name);
        let pony = diver.pony.as_ref().map(|pony| {
            let have = self.rail.show.volume_down(pony.have);
            format!(", pony gives {have}")
        });
        report.heading(format!(
            "{}, {}{}",
            diver.name,
            gauge.pressure_read(diver.fill),
            pony.as_deref().unwrap_or_default()
        ));
        let mut columns = vec![
            ("change", Align::Left),
            ("reserve", Align::Right),
            ("back aboard", Align::Right),
        ];
        if pony.is_some() {
            columns.push(("pony covers", Align::Left));
        }
        let mut table = Table::new(&columns);
        let mut bad = [FirstBad(false), FirstBad(false), FirstBad(false)];
        for (change, outcome) in self.named() {
            let Ok(outcome) = outcome else {
                continue;
            };
            let mut row = vec![change];
            row.extend(self.diver_cells(&outcome.divers[index], &mut bad));
            table.rows.push(row);
        }
        report.table(table);
        report.paragraph(late_words(late));
        if let Some(words) = unknown_words(late.answers()) {
            report.paragraph(words);
        }
    }

    fn diver_cells(&self, diver: &DiverOutcome, bad: &mut [FirstBad; 3]) -> Vec<String> {
        let [reserve_bad, empty_bad, pony_bad] = bad;
        let gauge = self.rail.gauge_of(&diver.name);
        let reserve = if diver.reserve_holds { "holds" } else { "GONE" };
        let reserve_mark = reserve_bad.mark(!diver.reserve_holds);
        let ending = match diver.ending {
            Ending::Left(left) => gauge.pressure_down(left),
            Ending::Empty { run_time, depth } => format!(
                "EMPTY at minute {}, {}",
                minutes_down(run_time),
                self.rail.show.depth(depth)
            ),
        };
        let empty_mark = empty_bad.mark(diver.is_empty());
        let mut cells = vec![
            format!("{reserve}{reserve_mark}"),
            format!("{ending}{empty_mark}"),
        ];
        if let Some(verdict) = diver.pony {
            let words = match verdict {
                // Then the pony is needed on the bottom already: it covers no dive like that.
                _ if diver.is_empty() => "main empty first",
                PonyVerdict::CoversAll => "every stop",
                PonyVerdict::CoversAscentOnly => "straight up only",
                PonyVerdict::Short => "NOTHING",
            };
            let is_bad = diver.is_empty() || verdict != PonyVerdict::CoversAll;
            let mark = pony_bad.mark(is_bad);
            cells.push(format!("{words}{mark}"));
        }
        cells
    }

    fn lost_gas(&self, report: &mut Report) {
        // Nobody is told how gas would be shared on a dive that may not go.
        if self.rail.briefing.verdict() == Verdict::NoGo {
            return;
        }
        let lost = &self.rail.briefing.lost_gas;
        let ways: Vec<(&str, &Rescue)> = lost
            .iter()
            .flat_map(|lost| {
                let ways = lost.shared.iter().chain(lost.pony.iter());
                ways.map(|rescue| (lost.name.as_str(), rescue))
            })
            .collect();
        if ways.is_empty() {
            return;
        }
        report.heading("If one diver's gas is gone at the worst moment, as planned");
        rescues(&self.rail, report, &ways);
    }
}

/// Reasons that a row names; the divers' own tables and the briefing of that dive have the rest.
const MOST_REASONS: usize = 1;

/// `go`, `NO-GO: stops unplanned and 2 more`
fn verdict_and_why(outcome: &Outcome) -> String {
    match outcome.verdict {
        Verdict::NoGo => {
            let mut reasons: Vec<&str> = Vec::new();
            for finding in &outcome.no_gos {
                if !reasons.contains(&finding.in_short()) {
                    reasons.push(finding.in_short());
                }
            }
            let named = reasons.len().min(MOST_REASONS);
            let more = match reasons.len() - named {
                0 => String::new(),
                more => format!(" and {more} more"),
            };
            format!("NO-GO: {}{more}", reasons[..named].join(", "))
        }
        Verdict::Go | Verdict::ScheduleOnly => outcome.verdict.title().to_lowercase(),
    }
}

/// `The reserve is gone from +4 min; the pony no longer covers the stops from +1 min.`
fn late_words(late: &DiverLate) -> String {
    let from = |from: BadFrom, bad: &str, never: &str| match from {
        BadFrom::AsPlanned => format!("{bad} as planned"),
        BadFrom::Minute(minute) => format!("{bad} from +{minute} min"),
        BadFrom::NotWithinBound => never.to_owned(),
        BadFrom::Unknown { from, bad_from, .. } => {
            let later = bad_from.map_or_else(String::new, |minute| {
                format!(", and {bad} from +{minute} min")
            });
            format!("whether {bad} nobody can tell from +{from} min on{later}")
        }
    };
    let mut parts = vec![
        from(
            late.reserve_gone,
            "the reserve is gone",
            "the reserve is not gone within an hour of lateness",
        ),
        from(
            late.empty,
            "the cylinder is empty before the surface",
            "the cylinder does not run out within an hour",
        ),
    ];
    if late.stage_short != BadFrom::NotWithinBound {
        parts.push(from(late.stage_short, "a stage cylinder is short", ""));
    }
    if let Some(pony) = late.pony_stops {
        parts.push(from(
            pony,
            "the pony does not cover the stops",
            "the pony does not fall short of the stops within an hour of lateness",
        ));
    }
    let mut sentence = parts.join("; ");
    if let Some(first) = sentence.get(..1).map(str::to_uppercase) {
        sentence.replace_range(..1, &first);
    }
    sentence + "."
}

/// At most two decimals.
fn hundredths(value: f64) -> String {
    format!("{}", (value * 100.0).round() / 100.0)
}
