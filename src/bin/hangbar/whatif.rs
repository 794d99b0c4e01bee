//! `hangbar whatif`: the long form of what happens when the dive does not go to plan.

use hangbar::briefing::Briefing;
use hangbar::deviation::{Deviation, DiverLate, DiverOutcome, Ending, Outcome, deviate};
use hangbar::gas_budget::PonyVerdict;
use hangbar::lost_gas::{Rescue, RescueOutcome};
use hangbar::show::{minutes_down, minutes_up};
use hangbar::units::UnitSystem;

use crate::args::{Format, WhatIfArgs};
use crate::screen::{Screen, Tone, cell};
use crate::text::{CAUTIONS, Rail};
use crate::trouble_text::{NEVER_A_PLAN, rescue_words};
use crate::{Outcome as Ended, Refusal, finished, refused, wants_colour, whatif_json, work_out};

/// More rows than this are no table.
const MOST_ROWS: usize = 30;
const CHANGE_COLUMNS: usize = 26;

/// A change and what comes of it; `Err` says why it cannot be worked out.
pub(crate) struct Row {
    pub(crate) deviation: Deviation,
    pub(crate) outcome: Result<Outcome, String>,
}

pub(crate) fn run(args: WhatIfArgs) -> Ended {
    let colour = wants_colour(args.shown.color);
    let chosen = chosen(&args);
    let overrides = args.on_the_day.overrides();
    let briefing = match work_out(&args.plan, &overrides) {
        Ok(briefing) => briefing,
        Err(refusal) => return refused(&refusal, &args.plan),
    };
    let plan = &briefing.plan;
    let deviations = match chosen {
        Some(deviations) => deviations,
        None => Deviation::usual(plan.units).to_vec(),
    };
    if deviations.len() > MOST_ROWS {
        let message = format!(
            "{} changes are asked for; at most {MOST_ROWS}",
            deviations.len()
        );
        return refused(&Refusal::Dive(message), &args.plan);
    }
    let rows: Vec<Row> = deviations
        .into_iter()
        .map(|deviation| Row {
            deviation,
            outcome: deviate(plan, &deviation).map_err(|error| error.to_string()),
        })
        .collect();
    let planned = match deviate(plan, &Deviation::NONE) {
        Ok(planned) => planned,
        Err(error) => return refused(&Refusal::Check(error.to_string()), &args.plan),
    };
    let units = args.shown.units.map_or(plan.units, Into::into);
    let output = match args.shown.format {
        Format::Text => Ok(text(&briefing, &planned, &rows, units, colour)),
        Format::Json => whatif_json::render(&briefing, &planned, &rows),
    };
    finished(&briefing, output)
}

/// What the command line asks for; late and deeper also together.
fn chosen(args: &WhatIfArgs) -> Option<Vec<Deviation>> {
    if args.late.is_empty() && args.deeper.is_empty() && args.harder.is_empty() {
        return None;
    }
    let mut deviations: Vec<Deviation> = args.late.iter().copied().map(Deviation::late).collect();
    for deeper in args.deeper.iter().copied().map(Deviation::deeper) {
        deviations.push(deeper);
        let both = args.late.iter().map(|late| Deviation {
            late: *late,
            ..deeper
        });
        deviations.extend(both);
    }
    deviations.extend(args.harder.iter().copied().map(Deviation::harder));
    Some(deviations)
}

fn text(
    briefing: &Briefing,
    planned: &Outcome,
    rows: &[Row],
    units: UnitSystem,
    colour: bool,
) -> String {
    let page = Page {
        rail: Rail::new(briefing, units),
        planned,
        rows,
    };
    let mut screen = Screen::new(colour);
    let title = briefing.plan.title.as_deref().unwrap_or("Untitled dive");
    screen.hanging("What if: ", title);
    let (tone, word) = if briefing.is_go() {
        (Tone::Go, "GO")
    } else {
        (Tone::NoGo, "NO-GO")
    };
    let verdict = screen.paint(tone, word);
    screen.line(&format!(
        "  As planned: {verdict}. < marks the first change that turns a thing bad."
    ));
    page.dive(&mut screen);
    for index in 0..briefing.divers.len() {
        page.diver(&mut screen, index);
    }
    page.lost_gas(&mut screen);
    screen.heading("Cautions");
    screen.paragraph(CAUTIONS);
    screen.finish()
}

struct Page<'a> {
    rail: Rail<'a>,
    planned: &'a Outcome,
    rows: &'a [Row],
}

/// Marks the first time that a thing is bad.
struct FirstBad(bool);

impl FirstBad {
    fn mark(&mut self, bad: bool) -> &'static str {
        if bad && !self.0 {
            self.0 = true;
            " <"
        } else {
            "  "
        }
    }
}

impl Page<'_> {
    /// The plan and then each change, under the name that the tables give it.
    fn named(&self) -> impl Iterator<Item = (String, Result<&Outcome, &String>)> {
        let planned = std::iter::once(("as planned".to_owned(), Ok(self.planned)));
        planned.chain(
            self.rows
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
            parts.push(format!("{} deeper", self.rail.show.depth(deviation.deeper)));
        }
        if deviation.harder_pct > 0.0 {
            parts.push(format!(
                "breathing {} % harder",
                hundredths(deviation.harder_pct)
            ));
        }
        parts.join(", ")
    }

    fn dive(&self, screen: &mut Screen) {
        screen.heading("The dive");
        screen.line(&format!(
            "  {}   kind         first stop    stops    up at",
            cell("change", CHANGE_COLUMNS)
        ));
        let mut staged = FirstBad(false);
        for (change, outcome) in self.named() {
            let change = cell(&change, CHANGE_COLUMNS);
            match outcome {
                Ok(outcome) => {
                    let kind = if outcome.no_stop { "no-stop" } else { "staged" };
                    let mark = staged.mark(!outcome.no_stop);
                    let first = outcome.first_stop.map(|depth| self.rail.show.depth(depth));
                    screen.line(&format!(
                        "  {change}   {kind:<7}{mark}   {:>11}  {:>3} min  {:>3} min",
                        first.unwrap_or_else(|| "none".to_owned()),
                        minutes_up(outcome.stop_time),
                        minutes_up(outcome.run_time),
                    ));
                }
                Err(error) => screen.hanging(&format!("  {change}   "), error),
            }
        }
        let late = &self.rail.briefing.late;
        let sentence = match late.stops_from_min {
            Some(0) => "The stops are compulsory as planned.".to_owned(),
            Some(minute) => format!("The stops become compulsory from +{minute} min."),
            None => "However late within an hour, it stays a no-stop dive.".to_owned(),
        };
        screen.paragraph(&sentence);
    }

    fn diver(&self, screen: &mut Screen, index: usize) {
        let briefing = self.rail.briefing;
        let (diver, late) = (&briefing.divers[index], &briefing.late.divers[index]);
        let gauge = self.rail.gauge_of(&diver.name);
        let pony = diver.pony.as_ref().map(|pony| {
            let have = self.rail.show.volume_down(pony.have);
            format!(", pony gives {have}")
        });
        screen.heading(&format!(
            "{}, {}{}",
            diver.name,
            gauge.pressure_up(diver.fill),
            pony.as_deref().unwrap_or_default()
        ));
        let head = if pony.is_some() { "  pony covers" } else { "" };
        screen.line(&format!(
            "  {}   reserve   back aboard      {head}",
            cell("change", CHANGE_COLUMNS)
        ));
        let mut bad = [FirstBad(false), FirstBad(false), FirstBad(false)];
        for (change, outcome) in self.named() {
            let Ok(outcome) = outcome else {
                continue;
            };
            let cells = self.diver_cells(&outcome.divers[index], &mut bad);
            screen.line(&format!("  {}   {cells}", cell(&change, CHANGE_COLUMNS)));
        }
        screen.paragraph(&late_words(late, diver.pony.is_some()));
    }

    fn diver_cells(&self, diver: &DiverOutcome, bad: &mut [FirstBad; 3]) -> String {
        let [reserve_bad, empty_bad, pony_bad] = bad;
        let gauge = self.rail.gauge_of(&diver.name);
        let reserve = if diver.reserve_holds { "holds" } else { "GONE" };
        let reserve_mark = reserve_bad.mark(!diver.reserve_holds);
        let (ending, is_empty) = match diver.ending {
            Ending::Left(left) => (gauge.pressure_down(left), false),
            Ending::Empty { run_time, depth } => (
                format!(
                    "EMPTY {} min {}",
                    minutes_down(run_time),
                    self.rail.show.depth(depth)
                ),
                true,
            ),
        };
        let empty_mark = empty_bad.mark(is_empty);
        let pony = diver.pony.map_or_else(String::new, |verdict| {
            let words = match verdict {
                PonyVerdict::CoversAll => "every stop",
                PonyVerdict::CoversAscentOnly => "straight up",
                PonyVerdict::Short => "NOTHING",
            };
            let mark = pony_bad.mark(verdict != PonyVerdict::CoversAll);
            format!("  {words:<11}{mark}")
        });
        format!("{reserve:<5}{reserve_mark}   {ending:>17}{empty_mark}{pony}")
    }

    fn lost_gas(&self, screen: &mut Screen) {
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
        screen.heading("If one diver's gas is gone at the worst moment, as planned");
        let mut missed = false;
        for (name, rescue) in ways {
            screen.hanging("  ", &rescue_words(&self.rail, name, rescue));
            missed |= !matches!(rescue.outcome, RescueOutcome::EveryStop { .. });
        }
        if missed {
            screen.paragraph(NEVER_A_PLAN);
        }
    }
}

/// `The reserve is gone from +4 min; the pony no longer covers the stops from +1 min.`
fn late_words(late: &DiverLate, has_pony: bool) -> String {
    let from = |minute: Option<u32>, bad: &str, never: &str| match minute {
        Some(0) => format!("{bad} as planned"),
        Some(minute) => format!("{bad} from +{minute} min"),
        None => never.to_owned(),
    };
    let mut parts = vec![
        from(
            late.reserve_gone_from_min,
            "the reserve is gone",
            "the reserve holds for an hour of lateness",
        ),
        from(
            late.empty_from_min,
            "the cylinder is empty before the surface",
            "the cylinder does not run out within an hour",
        ),
    ];
    if has_pony {
        parts.push(from(
            late.pony_stops_from_min,
            "the pony does not cover the stops",
            "the pony covers the stops for an hour of lateness",
        ));
    }
    let mut sentence = parts.join("; ");
    sentence.replace_range(..1, "T");
    sentence + "."
}

/// At most two decimals.
fn hundredths(value: f64) -> String {
    format!("{}", (value * 100.0).round() / 100.0)
}
