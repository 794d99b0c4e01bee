//! A chart in black on white for paper: line styles, hatching and words, no colours.

use hangbar::report::chart::{Axis, Chart, Curve, Line, Point, Side, Ticks};

use super::super::layout::{Ground, Rect, clipped, place, strokes, width};
use super::escape::plain;

/// Units of the drawing to a point on paper: words are placed in pixels of a picture.
const SCALE: f64 = 3.2;
/// Letters, in units of the drawing.
const LETTERS: f64 = 25.0;
/// Beside the frame: figures of the upright axis and its title; below: figures, title.
const LEFT: f64 = 96.0;
const RIGHT: f64 = 16.0;
const TOP: f64 = 14.0;
const BELOW: f64 = 74.0;
/// A row of the key, and the piece of line that it begins with.
const KEY_ROW: f64 = 34.0;
const KEY_LINE: f64 = 80.0;
/// Reach of a mark.
const MARK: f64 = 8.0;
/// From one line of the hatching to the next.
const HATCH: f64 = 17.0;

/// How high the drawing of the upper plot of a chart is, so many points wide, its frame so many high.
pub(in crate::render) fn height(chart: &Chart, points_wide: f64, frame: f64) -> f64 {
    let rows = rows(&key(chart, points_wide * SCALE));
    frame + (TOP + BELOW + rows * KEY_ROW) / SCALE
}

/// The drawing.
pub(in crate::render) fn profile(chart: &Chart, points_wide: f64, frame: f64) -> String {
    let points_high = height(chart, points_wide, frame);
    let (wide, high) = (points_wide * SCALE, points_high * SCALE);
    let key = key(chart, wide);
    let rows = rows(&key);
    let frame = Rect {
        left: LEFT,
        right: wide - RIGHT,
        top: TOP,
        bottom: high - BELOW - rows * KEY_ROW,
    };
    let plane = Plane {
        x: &chart.x,
        y: &chart.y,
        frame,
    };
    let mut svg = format!(
        "<svg viewBox=\"0 0 {wide:.0} {high:.0}\" \
         style=\"width:{points_wide:.1}pt;height:{points_high:.1}pt\" role=\"img\" \
         font-size=\"{LETTERS}\" fill=\"#000\" stroke-linejoin=\"round\">\n",
    );
    axes(&mut svg, &plane);
    let mut drawn: Vec<Vec<Point>> = Vec::new();
    for curve in &chart.curves {
        let Some(line) = curve.line else { continue };
        for run in clipped(&curve.points, plane.x, plane.y) {
            let run: Vec<Point> = run.into_iter().map(|at| plane.at(at)).collect();
            if line == Line::ShortDash {
                drawn.extend(hatched(&mut svg, &run, frame.top));
            }
            stroked(&mut svg, &run, line);
            drawn.push(run);
        }
    }
    let mut marks = Vec::new();
    for at in chart.curves.iter().filter_map(|curve| curve.marks.as_ref()) {
        for at in at.at.iter().map(|at| plane.at(*at)) {
            dot(&mut svg, at);
            marks.push(Rect::around(at, MARK + 1.0));
        }
    }
    let labels: Vec<(Point, &str)> = chart
        .labels
        .iter()
        .filter(|label| label.side == Side::Around)
        .map(|label| (plane.at(label.at), label.text.as_str()))
        .collect();
    let ground = Ground {
        frame,
        curves: &drawn,
        marks: &marks,
    };
    for ((at, text), placed) in labels.iter().zip(place(&labels, LETTERS, &ground)) {
        if let Some(end) = placed.leader {
            svg.push_str(&format!(
                "<path d=\"{}\" stroke=\"#000\" stroke-width=\"1.5\"/>\n",
                path(&[*at, end])
            ));
        }
        let (x, y) = placed.at.middle();
        // On white, so that words stand clear of the hatching.
        let behind = placed.at.grown(2.0);
        svg.push_str(&format!(
            "<path d=\"{}Z\" fill=\"#fff\"/>\n",
            path(&corners(&behind))
        ));
        words(&mut svg, (x, y), "middle", text);
    }
    for (curve, (left, row)) in key {
        let top = frame.bottom + BELOW + row * KEY_ROW;
        let middle = top + KEY_ROW / 2.0;
        if let Some(line) = curve.line {
            let ends = [(left, middle), (left + KEY_LINE, middle)];
            if line == Line::ShortDash {
                let low: Vec<Point> = ends.iter().map(|(x, y)| (*x, y + 8.0)).collect();
                hatched(&mut svg, &low, middle - 12.0);
                stroked(&mut svg, &low, line);
            } else {
                stroked(&mut svg, &ends, line);
            }
        }
        if curve.marks.is_some() {
            dot(&mut svg, (left + KEY_LINE / 2.0, middle));
        }
        words(
            &mut svg,
            (left + KEY_LINE + 12.0, middle),
            "start",
            &curve.name,
        );
    }
    svg.push_str("</svg>\n");
    svg
}

/// Rows of a key.
fn rows(key: &[(&Curve, (f64, f64))]) -> f64 {
    key.last().map_or(0.0, |(_, (_, row))| row + 1.0)
}

/// Where each curve stands in the key: how far from the left, in which row.
fn key(chart: &Chart, wide: f64) -> Vec<(&Curve, (f64, f64))> {
    let (mut left, mut row) = (LEFT / 2.0, 0.0);
    let mut placed = Vec::new();
    for curve in &chart.curves {
        let needs = KEY_LINE + 12.0 + width(&curve.name, LETTERS) + 24.0;
        if left > LEFT / 2.0 && left + needs > wide {
            (left, row) = (LEFT / 2.0, row + 1.0);
        }
        placed.push((curve, (left, row)));
        left += needs;
    }
    placed
}

struct Plane<'a> {
    x: &'a Axis,
    y: &'a Axis,
    frame: Rect,
}

impl Plane<'_> {
    fn x(&self, value: f64) -> f64 {
        let share = (value - self.x.least) / (self.x.greatest - self.x.least);
        self.frame.left + share * (self.frame.right - self.frame.left)
    }

    fn y(&self, value: f64) -> f64 {
        let share = (value - self.y.least) / (self.y.greatest - self.y.least);
        let down = if self.y.downward { share } else { 1.0 - share };
        self.frame.top + down * (self.frame.bottom - self.frame.top)
    }

    fn at(&self, point: Point) -> Point {
        (self.x(point.0), self.y(point.1))
    }
}

/// Round figures of an axis, so many of them at most.
fn round_figures(axis: &Axis, most: f64) -> Vec<f64> {
    const STEPS: [f64; 16] = [
        0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 50.0, 60.0, 100.0, 200.0, 500.0,
        1000.0,
    ];
    let span = axis.greatest - axis.least;
    let few = |step: &f64| span / step <= most;
    let step = STEPS.into_iter().find(few).unwrap_or(span / most);
    let first = (axis.least / step - 1e-9).ceil();
    let figures = std::iter::successors(Some(first), |at| Some(at + 1.0));
    figures
        .map(|at| at * step)
        .take_while(|figure| *figure <= axis.greatest + 1e-9 * span)
        .collect()
}

fn figure(axis: &Axis, value: f64) -> String {
    match axis.ticks {
        Ticks::Numbers => format!("{}", (value * 100.0).round() / 100.0 + 0.0),
        Ticks::TimesOfDay => {
            let minutes = (value * 60.0).round().rem_euclid(24.0 * 60.0);
            format!("{:02.0}:{:02.0}", (minutes / 60.0).floor(), minutes % 60.0)
        }
    }
}

fn axes(svg: &mut String, plane: &Plane<'_>) {
    let frame = &plane.frame;
    let mut grid = String::new();
    for value in round_figures(plane.y, 6.0) {
        let y = plane.y(value);
        grid.push_str(&path(&[(frame.left - 8.0, y), (frame.right, y)]));
        words(svg, (frame.left - 14.0, y), "end", &figure(plane.y, value));
    }
    for value in round_figures(plane.x, 8.0) {
        let x = plane.x(value);
        grid.push_str(&path(&[(x, frame.top), (x, frame.bottom + 8.0)]));
        let at = (x, frame.bottom + 12.0 + LETTERS / 2.0);
        words(svg, at, "middle", &figure(plane.x, value));
    }
    svg.push_str(&format!(
        "<path d=\"{grid}\" stroke=\"#000\" stroke-width=\"0.8\" stroke-dasharray=\"1 7\" fill=\"none\"/>\n"
    ));
    svg.push_str(&format!(
        "<path d=\"{}Z\" stroke=\"#000\" stroke-width=\"2.5\" fill=\"none\"/>\n",
        path(&corners(frame))
    ));
    let (x, y) = frame.middle();
    let below = (x, frame.bottom + 18.0 + LETTERS * 1.6);
    words(svg, below, "middle", &plane.x.title);
    svg.push_str(&format!(
        "<text transform=\"translate({:.1} {y:.1}) rotate(-90)\" text-anchor=\"middle\">{}</text>\n",
        LETTERS,
        plain(&plane.y.title)
    ));
}

const fn corners(of: &Rect) -> [Point; 4] {
    [
        (of.left, of.top),
        (of.right, of.top),
        (of.right, of.bottom),
        (of.left, of.bottom),
    ]
}

fn baseline(middle: f64) -> f64 {
    middle + LETTERS * 0.36
}

fn words(svg: &mut String, at: Point, anchor: &str, text: &str) {
    svg.push_str(&format!(
        "<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"{anchor}\">{}</text>\n",
        at.0,
        baseline(at.1),
        plain(text)
    ));
}

fn path(points: &[Point]) -> String {
    let mut path = String::new();
    for (index, (x, y)) in points.iter().enumerate() {
        path.push_str(&format!(
            "{}{x:.1} {y:.1}",
            if index == 0 { 'M' } else { 'L' }
        ));
    }
    path
}

fn stroked(svg: &mut String, run: &[Point], line: Line) {
    let thickness = match line {
        Line::Solid => 6.0,
        Line::Thin | Line::ThinDash => 2.0,
        _ => 4.0,
    };
    let strokes = strokes(run, line);
    let d: String = strokes.iter().map(|stroke| path(stroke)).collect();
    svg.push_str(&format!(
        "<path d=\"{d}\" stroke=\"#000\" stroke-width=\"{thickness}\" fill=\"none\"/>\n"
    ));
}

fn dot(svg: &mut String, at: Point) {
    svg.push_str(&format!(
        "<circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"{MARK}\"/>\n",
        at.0, at.1
    ));
}

/// Upright lines from a height down to a curve, where nobody may be; gives them.
fn hatched(svg: &mut String, run: &[Point], top: f64) -> Vec<Vec<Point>> {
    let mut lines = Vec::new();
    for pair in run.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let mut x = (from.0 / HATCH).ceil() * HATCH;
        while x < to.0 {
            let share = (x - from.0) / (to.0 - from.0);
            let y = from.1 + (to.1 - from.1) * share;
            if y > top + 1.0 {
                lines.push(vec![(x, top), (x, y)]);
            }
            x += HATCH;
        }
    }
    if !lines.is_empty() {
        let d: String = lines.iter().map(|line| path(line)).collect();
        svg.push_str(&format!(
            "<path d=\"{d}\" stroke=\"#000\" stroke-width=\"1.2\" fill=\"none\"/>\n"
        ));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::{Axis, Ticks, figure, round_figures};

    fn axis(least: f64, greatest: f64) -> Axis {
        Axis {
            title: String::new(),
            least,
            greatest,
            downward: false,
            ticks: Ticks::Numbers,
        }
    }

    #[test]
    fn figures_of_an_axis_are_round_and_few() {
        let figures = |least, greatest, most| -> Vec<String> {
            let axis = axis(least, greatest);
            let round = round_figures(&axis, most);
            round.into_iter().map(|at| figure(&axis, at)).collect()
        };
        assert_eq!(
            figures(0.0, 30.0, 6.0),
            ["0", "5", "10", "15", "20", "25", "30"]
        );
        assert_eq!(figures(0.0, 95.0, 6.0), ["0", "20", "40", "60", "80"]);
        assert_eq!(
            figures(0.0, 2880.0, 8.0),
            ["0", "500", "1000", "1500", "2000", "2500"]
        );
        assert_eq!(figures(0.0, 100_000.0, 8.0).len(), 9);
    }
}
