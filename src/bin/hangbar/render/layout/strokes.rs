//! Lines: the part inside the axes, and its strokes.

use hangbar::report::chart::{Axis, Line, Point};

use super::boxes::{Rect, clip, distance};

/// The runs of a curve that lie inside the axes, cut where they cross an edge.
pub(in crate::render) fn clipped(points: &[Point], x: &Axis, y: &Axis) -> Vec<Vec<Point>> {
    let inside = Rect {
        left: x.least,
        right: x.greatest,
        top: y.least,
        bottom: y.greatest,
    };
    let mut runs: Vec<Vec<Point>> = Vec::new();
    let mut run: Vec<Point> = Vec::new();
    for pair in points.windows(2) {
        match clip(pair[0], pair[1], &inside) {
            Some((from, to, leaves)) => {
                if run.is_empty() {
                    run.push(from);
                }
                run.push(to);
                if leaves {
                    runs.push(std::mem::take(&mut run));
                }
            }
            None if !run.is_empty() => runs.push(std::mem::take(&mut run)),
            None => {}
        }
    }
    if !run.is_empty() {
        runs.push(run);
    }
    runs
}

/// Strokes and gaps of a line in turn, in pixels; none for a line without gaps.
const fn pattern(line: Line) -> &'static [f64] {
    match line {
        Line::Solid | Line::Thin => &[],
        Line::LongDash => &[24.0, 11.0],
        Line::Dots => &[4.0, 9.0],
        Line::ShortDash => &[10.0, 8.0],
        Line::DashDot => &[24.0, 9.0, 4.0, 9.0],
        Line::DashDotDot => &[24.0, 8.0, 4.0, 8.0, 4.0, 8.0],
        Line::ThinDash => &[9.0, 6.0],
    }
}

/// The strokes of a line along a path. The pattern runs on around corners.
pub(in crate::render) fn strokes(path: &[Point], line: Line) -> Vec<Vec<Point>> {
    let pattern = pattern(line);
    if pattern.is_empty() {
        return vec![path.to_vec()];
    }
    let mut strokes = Vec::new();
    let (mut place, mut left) = (0, pattern[0]);
    let mut stroke: Vec<Point> = path.first().copied().into_iter().collect();
    for pair in path.windows(2) {
        let length = distance(pair[0], pair[1]);
        let mut gone = 0.0;
        while length - gone > left {
            gone += left;
            let share = gone / length;
            let at = (
                pair[0].0 + (pair[1].0 - pair[0].0) * share,
                pair[0].1 + (pair[1].1 - pair[0].1) * share,
            );
            // Even places are strokes: one ends here, or the next one begins.
            if place % 2 == 0 {
                stroke.push(at);
                strokes.push(std::mem::take(&mut stroke));
            } else {
                stroke = vec![at];
            }
            place = (place + 1) % pattern.len();
            left = pattern[place];
        }
        left -= length - gone;
        if place % 2 == 0 {
            stroke.push(pair[1]);
        }
    }
    if stroke.len() > 1 {
        strokes.push(stroke);
    }
    strokes
}

#[cfg(test)]
mod tests {
    use super::{Line, strokes};

    #[test]
    fn strokes_and_gaps_run_on_around_a_corner() {
        // 24 on, 11 off, along 20 and then 30: the first stroke has the corner in it.
        let path = [(0.0, 0.0), (20.0, 0.0), (20.0, 30.0)];
        let got = strokes(&path, Line::LongDash);
        assert_eq!(got.len(), 2, "{got:?}");
        assert_eq!(got[0], [(0.0, 0.0), (20.0, 0.0), (20.0, 4.0)]);
        assert_eq!(got[1], [(20.0, 15.0), (20.0, 30.0)]);
        assert_eq!(strokes(&path, Line::Solid), [path.to_vec()]);
    }
}
