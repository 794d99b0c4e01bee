//! Every diver's main cylinder over run time, with turn and minimum.

use hangbar::briefing::Briefing;
use hangbar::finding::Verdict;
use hangbar::gas::DiverBudget;
use hangbar::quantity::show::Show;
use hangbar::quantity::{GaugePressure, UnitSystem};

use super::super::{Chart, Label, Line, Mark, Marks, Point, Shade, Side};
use super::{axis, curve, line, marks, round_up, run_time_axis, short, title_of};

/// Marks of the divers' minimums, in the order of the divers.
const MINIMUMS: [Mark; 6] = [
    Mark::Cross,
    Mark::Ring,
    Mark::Square,
    Mark::Diamond,
    Mark::Plus,
    Mark::Star,
];
const NAME_COLUMNS: usize = 14;
/// A minimum above this share of the fill is no longer worth the room.
const MOST_OF_A_FILL: f64 = 1.2;

/// The cylinders in the plan's units or those asked for; each diver's figures in those of the own
/// gauge.
pub(crate) fn cylinder_chart(briefing: &Briefing, units: UnitSystem) -> Chart {
    let pressure = |pressure: GaugePressure| match units {
        UnitSystem::Metric => pressure.as_bar(),
        UnitSystem::Imperial => pressure.as_psi(),
    };
    let bottom = briefing.schedule.bottom_time.as_min();
    let over_time: Vec<Vec<Point>> = (0..briefing.divers.len())
        .map(|index| {
            let gauge = briefing.cylinder_over_time(index).into_iter();
            gauge
                .map(|(time, gauge)| (time.as_min(), pressure(gauge)))
                .collect()
        })
        .collect();
    let shown = briefing
        .divers
        .iter()
        .map(|diver| pressure(diver.bottom_minimum().min(diver.fill * MOST_OF_A_FILL)));
    let readings = over_time.iter().flatten().map(|point| point.1);
    let step = match units {
        UnitSystem::Metric => 20.0,
        UnitSystem::Imperial => 250.0,
    };
    let greatest = round_up(readings.chain(shown).fold(step, f64::max), step);
    let x = run_time_axis(briefing.schedule.run_time().as_min() * 1.02);
    let minimums = briefing
        .divers
        .iter()
        .map(|diver| pressure(diver.bottom_minimum()));
    let minimums = side_by_side(
        bottom,
        &minimums.collect::<Vec<f64>>(),
        x.greatest,
        greatest,
    );

    // On a dive that may not go there is nothing to turn at.
    let may_go = briefing.verdict() != Verdict::NoGo;
    let mut curves = Vec::new();
    let mut turns = Vec::new();
    let mut labels = Vec::new();
    let divers = briefing.divers.iter().zip(over_time).zip(minimums);
    for (index, ((diver, points), minimum)) in divers.enumerate() {
        let mut curve = curve(key_words(diver, units, may_go), points, index);
        // Where the lines are used up, the names beside the marks tell.
        curve.marks = Some(Marks {
            mark: MINIMUMS[index % MINIMUMS.len()],
            at: vec![minimum],
        });
        curves.push(curve);
        if let Some(due) = diver.turn_due
            && may_go
        {
            turns.push((due.as_min(), pressure(diver.turn.min(diver.fill))));
        }
        let minimum_gas = gauge_of(diver, units).pressure_up(diver.bottom_minimum());
        let name = short(&diver.name, NAME_COLUMNS);
        let off = if minimum.1 > greatest {
            ", off the top"
        } else {
            ""
        };
        labels.push(Label {
            at: minimum,
            text: format!("{name} {minimum_gas}{off}"),
            side: Side::Around,
        });
    }
    labels.sort_by(|one, other| one.at.1.total_cmp(&other.at.1));
    if may_go {
        curves.push(marks("turn due", turns, Mark::Triangle, Shade::Grey));
    }
    curves.push(line(
        "leave the bottom",
        vec![(bottom, 0.0), (bottom, greatest)],
        Line::Thin,
        Shade::Grey,
    ));
    Chart {
        title: format!("{}: cylinders over time", title_of(briefing)),
        caption:
            "Each diver's own mark: the minimum on leaving the bottom; a curve above it there \
                  keeps the reserve. Figures in the diver's own unit, rounded toward safety."
                .to_owned(),
        x,
        y: axis(
            format!("cylinder gauge, {}", Show(units).pressure_unit()),
            0.0,
            greatest,
        ),
        curves,
        labels,
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

/// A diver's figures are read off the own gauge.
fn gauge_of(diver: &DiverBudget, units: UnitSystem) -> Show {
    Show(diver.gauge.unwrap_or(units))
}

/// `Ruan: turn 1850, minimum 1050 psi`
fn key_words(diver: &DiverBudget, units: UnitSystem, may_go: bool) -> String {
    let gauge = gauge_of(diver, units);
    let turn = if may_go {
        format!("turn {}, ", gauge.pressure_number_up(diver.turn))
    } else {
        String::new()
    };
    format!(
        "{}: {turn}minimum {}",
        short(&diver.name, NAME_COLUMNS),
        gauge.pressure_up(diver.bottom_minimum())
    )
}
