//! No-stop limits against depth.

use super::super::limits::{LimitSheet, column_name};
use super::axes::{NOISE, in_units, round_up};
use super::parts::{Axis, Chart, Curve, Mark, Point, Shade, highest};
use crate::dive::LimitCell;
use crate::quantity::UnitSystem;
use crate::quantity::show::Show;

/// Limits above this are cut off: the short ones are what a class must read.
const GREATEST_LIMIT_SHOWN_MIN: f64 = 120.0;
/// An axis of minutes that ends before this is none.
const LEAST_SHOWN_MIN: f64 = 10.0;

/// The columns' limits as curves, with the published ones as marks where they apply.
#[must_use]
pub fn limits(sheet: &LimitSheet, units: UnitSystem) -> Chart {
    let mut curves = curves(&sheet.finely(), units);
    let ends = sheet.rows().first().zip(sheet.rows().last());
    let (least, greatest) = ends.map_or((0.0, 1.0), |(first, last)| {
        (in_units(first.depth, units), in_units(last.depth, units))
    });
    let greatest = greatest.max(least + 1.0);
    let environment = sheet.environment();
    let mut published: Vec<Point> = sheet
        .published()
        .iter()
        .map(|row| (in_units(row.depth, units), row.time.as_min()))
        .filter(|(depth, _)| (least - NOISE..=greatest + NOISE).contains(depth))
        .collect();
    let longest = published.iter().map(|point| point.1);
    let longest = longest.fold(highest(&curves).max(LEAST_SHOWN_MIN), f64::max);
    let greatest_minutes = round_up(longest, 10.0).min(GREATEST_LIMIT_SHOWN_MIN);
    published.retain(|(_, minutes)| *minutes <= greatest_minutes);
    let mut caption = format!(
        "ZH-L16C; surface {:.3} bar. Gas low/high gradient factor, per cent: only the high one \
         decides. Limits above {greatest_minutes} min are cut off; a curve ends where the gas has \
         too much oxygen.",
        environment.surface().as_bar()
    );
    if !sheet.starts_clean() {
        let start = sheet.start_words(Show(units));
        caption.push_str(&format!(" From {start}."));
    }
    if !published.is_empty() {
        caption.push_str(
            " Crosses: U.S. Navy Standard Air limits, another model (NOAA No-Decompression Air \
             Table, chart 1; sea level).",
        );
        let name = "U.S. Navy, air";
        curves.push(Curve::marks(name, published, Mark::Cross, Shade::Grey));
    }
    Chart {
        below: None,
        title: "No-stop limit against depth".to_owned(),
        caption,
        x: Axis::depth(units, least, greatest),
        y: Axis::new("no-stop limit, minutes", 0.0, greatest_minutes),
        curves,
        labels: Vec::new(),
    }
}

/// One for each column, of the depths that have a limit.
fn curves(sheet: &LimitSheet, units: UnitSystem) -> Vec<Curve> {
    let columns = sheet.columns().iter().enumerate();
    let curves = columns.map(|(index, column)| {
        let points = sheet
            .rows()
            .iter()
            .filter_map(|row| match row.cells[index] {
                LimitCell::Minutes { time, .. } => {
                    Some((in_units(row.depth, units), time.as_min()))
                }
                LimitCell::OverOxygenLimit { .. } | LimitCell::Unlimited => None,
            });
        Curve::nth(column_name(column), points.collect(), index)
    });
    curves.collect()
}
