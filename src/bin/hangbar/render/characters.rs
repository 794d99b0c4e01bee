//! A chart in characters, for a terminal.

use hangbar::report::chart::{Axis, Chart, Curve, Ticks};

const COLUMNS: usize = 62;
const ROWS: usize = 18;
/// One character a line, in their order.
const CURVES: [char; 8] = ['o', '+', 'x', '*', '#', '%', '&', '@'];

/// The curves on a grid of 62 by 18 characters, with the ends of both axes and a key.
pub(crate) fn render(chart: &Chart) -> String {
    let mut grid = vec![vec![' '; COLUMNS]; ROWS];
    for (index, curve) in chart.curves.iter().enumerate() {
        let character = CURVES[index % CURVES.len()];
        if curve.line.is_some() {
            for pair in curve.points.windows(2) {
                // Fine enough that a curve has no holes.
                for step in 0..=200 {
                    let share = f64::from(step) / 200.0;
                    let x = pair[0].0 + (pair[1].0 - pair[0].0) * share;
                    let y = pair[0].1 + (pair[1].1 - pair[0].1) * share;
                    set(&mut grid, chart, (x, y), character);
                }
            }
        }
    }
    // Marks last, so that no line runs over them.
    for (index, curve) in chart.curves.iter().enumerate() {
        for point in curve.marks.iter().flat_map(|marks| &marks.at) {
            set(&mut grid, chart, *point, mark_of(curve, index));
        }
    }
    let (top, bottom) = if chart.y.downward {
        (chart.y.least, chart.y.greatest)
    } else {
        (chart.y.greatest, chart.y.least)
    };
    let mut text = String::new();
    if !chart.title.is_empty() {
        text.push_str(&format!("{}\n", chart.title));
    }
    text.push_str(&format!("{}\n", chart.y.title));
    for (row, cells) in grid.iter().enumerate() {
        let end = match row {
            0 => format!("{top:>8.1}"),
            row if row == ROWS - 1 => format!("{bottom:>8.1}"),
            _ => " ".repeat(8),
        };
        let line: String = cells.iter().collect();
        text.push_str(&format!("{end} |{}\n", line.trim_end()));
    }
    text.push_str(&format!("{} +{}\n", " ".repeat(8), "-".repeat(COLUMNS)));
    let (left, right) = (
        end(&chart.x, chart.x.least),
        end(&chart.x, chart.x.greatest),
    );
    let gap = COLUMNS.saturating_sub(left.len() + right.len() + chart.x.title.chars().count());
    let (before, after) = (gap / 2, gap - gap / 2);
    text.push_str(&format!(
        "{}{left}{}{}{}{right}\n",
        " ".repeat(10),
        " ".repeat(before),
        chart.x.title,
        " ".repeat(after)
    ));
    for (index, curve) in chart.curves.iter().enumerate() {
        let line = curve.line.map_or(' ', |_| CURVES[index % CURVES.len()]);
        let mark = curve.marks.as_ref().map_or(' ', |_| mark_of(curve, index));
        text.push_str(&format!("  {line}{mark} {}\n", curve.name));
    }
    if let Some(below) = &chart.below {
        text.push_str(&render(below));
    }
    text
}

/// The figure at an end of the x axis.
fn end(axis: &Axis, value: f64) -> String {
    match axis.ticks {
        Ticks::Numbers => format!("{value:.1}"),
        Ticks::TimesOfDay => {
            let minutes = (value * 60.0).round().rem_euclid(24.0 * 60.0);
            format!("{:02.0}:{:02.0}", (minutes / 60.0).floor(), minutes % 60.0)
        }
    }
}

/// The figure that a curve's marks are shown as; its character where it has no line.
fn mark_of(curve: &Curve, index: usize) -> char {
    const MARKS: [char; 9] = ['1', '2', '3', '4', '5', '6', '7', '8', '9'];
    match curve.line {
        Some(_) => MARKS[index % MARKS.len()],
        None => CURVES[index % CURVES.len()],
    }
}

/// Sets a point, if it is inside the axes.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "both shares are checked to lie from 0 to 1"
)]
fn set(grid: &mut [Vec<char>], chart: &Chart, point: (f64, f64), character: char) {
    let share = |axis: &Axis, value: f64| (value - axis.least) / (axis.greatest - axis.least);
    let (across, up) = (share(&chart.x, point.0), share(&chart.y, point.1));
    if !(0.0..=1.0).contains(&across) || !(0.0..=1.0).contains(&up) {
        return;
    }
    let down = if chart.y.downward { up } else { 1.0 - up };
    #[expect(clippy::cast_precision_loss, reason = "small numbers")]
    let cell = |share: f64, cells: usize| (share * (cells - 1) as f64).round() as usize;
    grid[cell(down, ROWS)][cell(across, COLUMNS)] = character;
}

#[cfg(test)]
mod tests {
    use hangbar::briefing::brief;
    use hangbar::plan_file::read;
    use hangbar::quantity::{Time, UnitSystem};
    use hangbar::report::chart::{self, Line, Mark, Marks, Shade, TraceChart};
    use hangbar::report::{CompartmentChoice, TracedDive};

    use super::{Axis, Chart, Curve, Ticks, render};

    #[test]
    fn a_falling_line_runs_from_corner_to_corner() {
        let axis = |downward| Axis {
            ticks: Ticks::Numbers,
            title: "metres".to_owned(),
            least: 0.0,
            greatest: 10.0,
            downward,
        };
        let curve = Curve {
            name: "the line".to_owned(),
            points: vec![(0.0, 0.0), (10.0, 10.0), (20.0, 10.0)],
            line: Some(Line::Solid),
            marks: Some(Marks {
                mark: Mark::Cross,
                at: vec![(10.0, 0.0)],
            }),
            shade: Shade::Curve(0),
        };
        let chart = Chart {
            below: None,
            title: "A line".to_owned(),
            caption: String::new(),
            x: axis(false),
            y: axis(true),
            curves: vec![curve],
            labels: Vec::new(),
        };
        let text = render(&chart);
        let rows: Vec<&str> = text.lines().filter(|line| line.contains('|')).collect();
        assert_eq!(rows.len(), 18);
        assert!(rows[0].starts_with("     0.0 |o"), "{text}");
        assert!(rows[0].ends_with('1'), "{text}");
        assert!(
            rows[17].ends_with('o') && rows[17].starts_with("    10.0 |"),
            "{text}"
        );
        assert!(text.ends_with("  o1 the line\n"), "{text}");
        assert!(text.lines().all(|line| line.chars().count() <= 80));
    }

    #[test]
    fn a_compartment_comes_up_to_what_is_inspired() {
        let hour = "[profile]\ndepth = \"9 m\"\nbottom_time = \"60 min\"";
        let briefing = brief(read(hour).unwrap()).unwrap();
        let fastest = CompartmentChoice::of(&[1]).unwrap();
        let dive = TracedDive::new(&briefing, Time::from_min(0.5), fastest).unwrap();
        let chart = chart::trace(&dive, TraceChart::OverTime, UnitSystem::Metric);
        let text = render(&chart);
        assert!(
            text.lines().all(|line| line.chars().count() <= 80),
            "{text}"
        );
        assert!(text.contains("  o  compartment 1\n"), "{text}");
        assert!(text.contains("  *  inspired inert gas\n"), "{text}");
        // The compartment's rows from left to right only rise until the bottom is left.
        let rows: Vec<&str> = text.lines().filter(|line| line.contains('|')).collect();
        let first_of = |row: &&str| row.find('o');
        let starts: Vec<usize> = rows.iter().filter_map(first_of).collect();
        assert!(starts.len() > 2, "{text}");
        assert!(starts.windows(2).all(|pair| pair[0] > pair[1]), "{text}");
    }
}
