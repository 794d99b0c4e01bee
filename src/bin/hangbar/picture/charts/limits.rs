//! No-stop limits against depth.

use hangbar::dive::{LimitCell, published_limits};

use super::super::{Chart, Curve, Mark, Point, Shade};
use super::{axis, curve, depth_unit, in_units, marks, round_up};
use crate::limits::Limits;

/// Limits above this are cut off: the short ones are what a class must read.
const GREATEST_LIMIT_SHOWN_MIN: f64 = 120.0;

/// The columns' limits as curves, with the published ones as marks where they apply.
pub(crate) fn limits_chart(limits: &Limits) -> Chart {
    let units = limits.units;
    let fine = limits.finely();
    let mut curves: Vec<Curve> = limits
        .columns
        .iter()
        .enumerate()
        .map(|(index, column)| {
            let points = fine.iter().filter_map(|row| match row.cells[index] {
                LimitCell::Minutes { time, .. } => {
                    Some((in_units(row.depth, units), time.as_min()))
                }
                LimitCell::OverOxygenLimit { .. } | LimitCell::Unlimited => None,
            });
            curve(Limits::column_name(column), points.collect(), index)
        })
        .collect();
    let ends = limits.rows.first().zip(limits.rows.last());
    let (least, greatest) = ends.map_or((0.0, 1.0), |(first, last)| {
        (in_units(first.depth, units), in_units(last.depth, units))
    });
    let greatest = greatest.max(least + 1.0);
    let environment = &limits.plan.rules().environment;
    let published: Vec<Point> = published_limits(environment, &limits.columns)
        .iter()
        .map(|row| (in_units(row.depth, units), row.time.as_min()))
        .filter(|(depth, _)| (least - 1e-9..=greatest + 1e-9).contains(depth))
        .collect();
    let longest = curves
        .iter()
        .flat_map(|curve| &curve.points)
        .chain(&published)
        .fold(10.0_f64, |most, point| most.max(point.1));
    let greatest_minutes = round_up(longest, 10.0).min(GREATEST_LIMIT_SHOWN_MIN);
    let published: Vec<Point> = published
        .into_iter()
        .filter(|(_, minutes)| *minutes <= greatest_minutes)
        .collect();
    let mut caption = format!(
        "ZH-L16C; surface {:.3} bar. Gas low/high gradient factor, per cent: only the high one \
         decides. Limits above {greatest_minutes} min are cut off; a curve ends where the gas has \
         too much oxygen.",
        environment.surface().as_bar()
    );
    if !published.is_empty() {
        caption.push_str(
            " Crosses: U.S. Navy Standard Air limits, another model (NOAA No-Decompression Air \
             Table, chart 1; sea level).",
        );
        curves.push(marks("U.S. Navy, air", published, Mark::Cross, Shade::Grey));
    }
    Chart {
        title: "No-stop limit against depth".to_owned(),
        caption,
        x: axis(format!("depth, {}", depth_unit(units)), least, greatest),
        y: axis("no-stop limit, minutes", 0.0, greatest_minutes),
        curves,
        labels: Vec::new(),
    }
}
