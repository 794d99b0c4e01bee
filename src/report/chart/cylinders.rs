//! Every diver's main cylinder over run time, with turn and minimum.

use super::axes::round_up;
use super::parts::{
    Axis, Chart, Curve, Label, Line, Mark, Marks, Point, Shade, short, title_of, with_start,
};
use crate::briefing::Briefing;
use crate::finding::Verdict;
use crate::gas::DiverBudget;
use crate::quantity::show::Show;
use crate::quantity::{GaugePressure, UnitSystem};

/// Marks of the divers' minimums, in the order of the divers.
const MINIMUMS: [Mark; 6] = [
    Mark::Cross,
    Mark::Ring,
    Mark::Square,
    Mark::Diamond,
    Mark::Plus,
    Mark::Star,
];
const NAME_WIDTH: usize = 14;
/// A minimum above this share of the fill is no longer worth the room.
const MOST_OF_A_FILL: f64 = 1.2;

/// The cylinders in the plan's units or those asked for; each diver's figures in those of the own
/// gauge.
#[must_use]
pub fn cylinders(briefing: &Briefing, units: UnitSystem) -> Chart {
    let page = Page { briefing, units };
    let bottom = briefing.schedule.bottom_time.as_min();
    let over_time = page.over_time();
    let greatest = page.greatest(&over_time);
    let x = Axis::run_time(briefing.schedule.run_time().as_min() * 1.02);
    let minimums = page.minimums(bottom, x.greatest, greatest);
    let divers = briefing.divers.iter().zip(over_time).zip(&minimums);
    let each = divers
        .enumerate()
        .map(|(index, ((diver, points), minimum))| {
            let mut curve = Curve::nth(page.key_words(diver), points, index);
            // Where the lines are used up, the names beside the marks tell.
            curve.marks = Some(Marks {
                mark: MINIMUMS[index % MINIMUMS.len()],
                at: vec![*minimum],
            });
            curve
        });
    let mut curves: Vec<Curve> = each.collect();
    if page.may_go() {
        let turns = page.turns();
        curves.push(Curve::marks("turn due", turns, Mark::Triangle, Shade::Grey));
    }
    let leaving = vec![(bottom, 0.0), (bottom, greatest)];
    let name = "leave the bottom";
    curves.push(Curve::line(name, leaving, Line::Thin, Shade::Grey));
    let unit = Show(units).pressure_unit();
    let chart = Chart {
        below: None,
        title: format!("{}: cylinders over time", title_of(briefing)),
        caption: "Each diver's own mark: the minimum on leaving the bottom; a curve above it \
                  there keeps the reserve. Figures in the diver's own unit, rounded toward safety."
            .to_owned(),
        x,
        y: Axis::new(format!("cylinder gauge, {unit}"), 0.0, greatest),
        curves,
        labels: page.labels(&minimums, greatest),
    };
    with_start(chart, briefing, units)
}

struct Page<'a> {
    briefing: &'a Briefing,
    units: UnitSystem,
}

impl Page<'_> {
    /// A pressure as the axis shows it.
    fn pressure(&self, pressure: GaugePressure) -> f64 {
        match self.units {
            UnitSystem::Metric => pressure.as_bar(),
            UnitSystem::Imperial => pressure.as_psi(),
        }
    }

    /// On a dive that may not go there is nothing to turn at.
    fn may_go(&self) -> bool {
        self.briefing.verdict() != Verdict::NoGo
    }

    fn over_time(&self) -> Vec<Vec<Point>> {
        let divers = 0..self.briefing.divers.len();
        let curve = |diver| -> Vec<Point> {
            let gauge = self.briefing.cylinder_over_time(diver).into_iter();
            gauge
                .map(|(time, gauge)| (time.as_min(), self.pressure(gauge)))
                .collect()
        };
        divers.map(curve).collect()
    }

    /// Where the axis ends: above all readings, and above minimums that are worth the room.
    fn greatest(&self, over_time: &[Vec<Point>]) -> f64 {
        let step = match self.units {
            UnitSystem::Metric => 20.0,
            UnitSystem::Imperial => 250.0,
        };
        let minimums = self.briefing.divers.iter().map(|diver| {
            let most = diver.fill * MOST_OF_A_FILL;
            self.pressure(diver.bottom_minimum().min(most))
        });
        let readings = over_time.iter().flatten().map(|point| point.1);
        round_up(readings.chain(minimums).fold(step, f64::max), step)
    }

    fn minimums(&self, bottom: f64, widest: f64, highest: f64) -> Vec<Point> {
        let divers = self.briefing.divers.iter();
        let minimums: Vec<f64> = divers
            .map(|diver| self.pressure(diver.bottom_minimum()))
            .collect();
        side_by_side(bottom, &minimums, widest, highest)
    }

    fn turns(&self) -> Vec<Point> {
        let turns = self.briefing.divers.iter().filter_map(|diver| {
            let due = diver.turn_due?;
            Some((due.as_min(), self.pressure(diver.turn.min(diver.fill))))
        });
        turns.collect()
    }

    /// The names and minimums, from the lowest up.
    fn labels(&self, minimums: &[Point], greatest: f64) -> Vec<Label> {
        let divers = self.briefing.divers.iter().zip(minimums);
        let labels = divers.map(|(diver, minimum)| {
            let pressure = self.gauge_of(diver).pressure_up(diver.bottom_minimum());
            let name = short(&diver.name, NAME_WIDTH);
            let off = if minimum.1 > greatest {
                ", off the top"
            } else {
                ""
            };
            Label::around(*minimum, format!("{name} {pressure}{off}"))
        });
        let mut labels: Vec<Label> = labels.collect();
        labels.sort_by(|one, other| one.at.1.total_cmp(&other.at.1));
        labels
    }

    /// A diver's figures are read off the own gauge.
    fn gauge_of(&self, diver: &DiverBudget) -> Show {
        Show(diver.gauge.unwrap_or(self.units))
    }

    /// `Ruan: turn 1850, minimum 1050 psi`
    fn key_words(&self, diver: &DiverBudget) -> String {
        let gauge = self.gauge_of(diver);
        let turn = if self.may_go() {
            format!("turn {}, ", gauge.pressure_number_up(diver.turn))
        } else {
            String::new()
        };
        format!(
            "{}: {turn}minimum {}",
            short(&diver.name, NAME_WIDTH),
            gauge.pressure_up(diver.bottom_minimum())
        )
    }
}

/// The minimums at the moment of leaving the bottom; those that would stand on each other move
/// aside, not up or down.
fn side_by_side(bottom: f64, minimums: &[f64], widest: f64, highest: f64) -> Vec<Point> {
    /// A mark's size as a share of either axis, with air.
    const ASIDE: f64 = 0.024;
    const APART: f64 = 0.07;
    // Right, left, further right: whole steps from the moment itself.
    let aside = |slot: usize| {
        let steps = f64::from(u32::try_from(slot.div_ceil(2)).unwrap_or(0));
        if slot % 2 == 1 { steps } else { -steps }
    };
    let mut taken: Vec<(usize, f64)> = Vec::new();
    for minimum in minimums {
        let mut slot = 0;
        while taken
            .iter()
            .any(|(other, height)| *other == slot && (height - minimum).abs() < APART * highest)
        {
            slot += 1;
        }
        taken.push((slot, *minimum));
    }
    taken
        .into_iter()
        .map(|(slot, minimum)| (bottom + aside(slot) * ASIDE * widest, minimum))
        .collect()
}
