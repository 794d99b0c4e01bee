//! Where things stand in a picture, in pixels: words beside their points, dashes along a line.

use super::{Axis, Line, Point};

/// Width of a letter as a share of its height: what common sans-serif faces need on the average.
const LETTER: f64 = 0.6;
/// Between a point and its words where there is room.
const NEAREST: f64 = 14.0;
/// Words further off than this get a line to their point.
const FAR: f64 = 34.0;
/// Air around words.
const AIR: f64 = 3.0;

/// A box; `top` is less than `bottom`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rect {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Rect {
    pub(super) const fn around(at: Point, reach: f64) -> Self {
        Self {
            left: at.0 - reach,
            top: at.1 - reach,
            right: at.0 + reach,
            bottom: at.1 + reach,
        }
    }

    const fn grown(self, by: f64) -> Self {
        Self {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    fn holds(&self, other: &Self) -> bool {
        self.left <= other.left
            && other.right <= self.right
            && self.top <= other.top
            && other.bottom <= self.bottom
    }

    fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    pub(super) const fn middle(&self) -> Point {
        (
            f64::midpoint(self.left, self.right),
            f64::midpoint(self.top, self.bottom),
        )
    }

    /// The point of the box that is nearest to another.
    pub(super) const fn nearest(&self, to: Point) -> Point {
        (
            to.0.clamp(self.left, self.right),
            to.1.clamp(self.top, self.bottom),
        )
    }

    /// How much of a straight piece lies inside.
    fn length_inside(&self, from: Point, to: Point) -> f64 {
        clip(from, to, self).map_or(0.0, |(from, to, _)| distance(from, to))
    }
}

fn distance(from: Point, to: Point) -> f64 {
    (to.0 - from.0).hypot(to.1 - from.1)
}

/// Width of words at a height of their letters.
pub(super) fn width(words: &str, height: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a line of text")]
    let letters = textwrap::core::display_width(words) as f64;
    letters * LETTER * height
}

/// The part of a straight piece inside a box, and whether its end lies outside. (Liang and
/// Barsky's way: the shares of the piece at which it crosses each edge.)
pub(super) fn clip(from: Point, to: Point, inside: &Rect) -> Option<(Point, Point, bool)> {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (step, room) in [
        (-dx, from.0 - inside.left),
        (dx, inside.right - from.0),
        (-dy, from.1 - inside.top),
        (dy, inside.bottom - from.1),
    ] {
        if step.abs() < 1e-15 {
            if room < 0.0 {
                return None;
            }
        } else if step < 0.0 {
            enter = enter.max(room / step);
        } else {
            leave = leave.min(room / step);
        }
    }
    let at = |share: f64| (from.0 + dx * share, from.1 + dy * share);
    (enter <= leave).then(|| (at(enter), at(leave), leave < 1.0))
}

/// The runs of a curve that lie inside the axes, cut where they cross an edge.
pub(super) fn clipped(points: &[Point], x: &Axis, y: &Axis) -> Vec<Vec<Point>> {
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
pub(super) fn strokes(path: &[Point], line: Line) -> Vec<Vec<Point>> {
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

/// What words must not stand on.
pub(super) struct Ground<'a> {
    /// Words stay within it.
    pub(super) frame: Rect,
    pub(super) curves: &'a [Vec<Point>],
    pub(super) marks: &'a [Rect],
}

/// Words that have found their place.
#[derive(Clone, Copy)]
pub(super) struct Placed {
    pub(super) at: Rect,
    /// Where the line to their point ends, if they are so far off that they need one.
    pub(super) leader: Option<Point>,
}

/// Places for the names of curves behind their right ends: a column in the order of the ends'
/// heights, each name as near to its end's height as the others let it be.
pub(super) fn stack(labels: &[(Point, &str)], height: f64, frame: &Rect) -> Vec<Placed> {
    const BEHIND: f64 = 26.0;
    const LEVEL: f64 = 4.0;
    let row = height + AIR;
    let frame = frame.grown(-AIR);
    let left = labels
        .iter()
        .fold(frame.left, |most, (at, _)| most.max(at.0))
        + BEHIND;
    let mut order: Vec<usize> = (0..labels.len()).collect();
    order.sort_by(|one, other| labels[*one].0.1.total_cmp(&labels[*other].0.1));
    // Neighbours that would touch become one block about their mean height.
    let mut blocks: Vec<(f64, Vec<usize>)> = Vec::new();
    for index in order {
        let mut block = (labels[index].0.1, vec![index]);
        loop {
            let half = row * count(&block.1) / 2.0;
            let lowest = (frame.bottom - half).max(frame.top + half);
            block.0 = block.0.clamp(frame.top + half, lowest);
            let Some((middle, members)) = blocks.pop() else {
                break;
            };
            let theirs = count(&members);
            if middle + row * theirs / 2.0 <= block.0 - half {
                blocks.push((middle, members));
                break;
            }
            let ours = count(&block.1);
            block.0 = (middle * theirs + block.0 * ours) / (theirs + ours);
            block.1 = [members, block.1].concat();
        }
        blocks.push(block);
    }
    let mut placed: Vec<(usize, Placed)> = Vec::new();
    for (middle, members) in blocks {
        let top = middle - row * count(&members) / 2.0;
        for (nth, index) in members.into_iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "a handful")]
            let middle = top + row * (nth as f64 + 0.5);
            let (at, words) = labels[index];
            let words = Rect {
                left,
                right: left + width(words, height),
                top: middle - height / 2.0,
                bottom: middle + height / 2.0,
            };
            let level = (at.1 - middle).abs() <= LEVEL;
            let leader = (!level).then_some((left - AIR, middle));
            placed.push((index, Placed { at: words, leader }));
        }
    }
    placed.sort_by_key(|(index, _)| *index);
    placed.into_iter().map(|(_, placed)| placed).collect()
}

#[expect(clippy::cast_precision_loss, reason = "a handful")]
fn count(members: &[usize]) -> f64 {
    members.len() as f64
}

/// Places for words beside their points, in the order given.
///
/// Each gets the candidate that costs least: 16 directions at 12 distances. Leaving the frame costs
/// most, then standing on other words, then standing nearer to another's point than to its own,
/// then on marks and curves, then distance. After the first round each is asked again, knowing
/// where the others stand; three rounds are enough for a handful of words.
pub(super) fn place(labels: &[(Point, &str)], height: f64, ground: &Ground<'_>) -> Vec<Placed> {
    const ROUNDS: usize = 3;
    let points: Vec<Point> = labels
        .iter()
        .map(|(at, _)| ground.frame.nearest(*at))
        .collect();
    let choices: Vec<Vec<(f64, Placed)>> = points
        .iter()
        .zip(labels)
        .map(|(at, (_, words))| choices(*at, (width(words, height), height), &points, ground))
        .collect();
    let mut placed: Vec<Placed> = Vec::with_capacity(labels.len());
    for round in 0..ROUNDS {
        for (index, (at, choices)) in points.iter().zip(&choices).enumerate() {
            let others: Vec<(Point, Placed)> = placed
                .iter()
                .enumerate()
                .filter(|(other, _)| *other != index)
                .map(|(other, placed)| (points[other], *placed))
                .collect();
            let mut best: Option<(f64, Placed)> = None;
            for (cost, choice) in choices {
                let cost = cost + cost_beside(*at, choice, &others);
                if best.is_none_or(|(least, _)| cost < least) {
                    best = Some((cost, *choice));
                }
            }
            if let Some((_, choice)) = best {
                if round == 0 {
                    placed.push(choice);
                } else {
                    placed[index] = choice;
                }
            }
        }
    }
    placed
}

/// Every candidate with what it costs whatever the other words do.
fn choices(
    at: Point,
    size: (f64, f64),
    points: &[Point],
    ground: &Ground<'_>,
) -> Vec<(f64, Placed)> {
    let each = candidates(at, size).enumerate();
    each.map(|(order, candidate)| {
        #[expect(clippy::cast_precision_loss, reason = "at most 192")]
        let order = 1e-3 * order as f64;
        (order + cost(at, &candidate, points, ground), candidate)
    })
    .collect()
}

fn candidates(at: Point, size: (f64, f64)) -> impl Iterator<Item = Placed> {
    // Right, left, then above and below of these, then steeper.
    const DIRECTIONS: [f64; 16] = [
        0.0, 180.0, 45.0, 135.0, 315.0, 225.0, 22.5, 157.5, 337.5, 202.5, 90.0, 270.0, 67.5, 112.5,
        292.5, 247.5,
    ];
    const DISTANCES: [f64; 12] = [
        NEAREST, 22.0, FAR, 48.0, 64.0, 82.0, 104.0, 130.0, 160.0, 200.0, 250.0, 320.0,
    ];
    DISTANCES.into_iter().flat_map(move |off| {
        DIRECTIONS.into_iter().map(move |degrees| {
            let (sine, cosine) = degrees.to_radians().sin_cos();
            let toward = |share: f64| {
                if share.abs() < 1e-9 {
                    0.0
                } else {
                    share.signum()
                }
            };
            let middle = (
                at.0 + off * cosine + size.0 / 2.0 * toward(cosine),
                at.1 - off * sine - size.1 / 2.0 * toward(sine),
            );
            let words = Rect {
                left: middle.0 - size.0 / 2.0,
                right: middle.0 + size.0 / 2.0,
                top: middle.1 - size.1 / 2.0,
                bottom: middle.1 + size.1 / 2.0,
            };
            let leader = (off > FAR).then(|| words.nearest(at));
            Placed { at: words, leader }
        })
    })
}

fn cost(at: Point, candidate: &Placed, points: &[Point], ground: &Ground<'_>) -> f64 {
    const OUTSIDE: f64 = 1e8;
    const NEARER_TO_ANOTHER: f64 = 4e3;
    const ON_A_MARK: f64 = 3e3;
    const LEADER_ACROSS_A_MARK: f64 = 1e3;
    const ON_A_CURVE: f64 = 1e3;
    const A_PIXEL_OF_A_CURVE: f64 = 20.0;
    const LEADER_ACROSS_A_CURVE: f64 = 30.0;
    let words = candidate.at.grown(AIR);
    let off = distance(at, candidate.at.nearest(at));
    let mut cost = off;
    if !ground.frame.holds(&words) {
        cost += OUTSIDE;
    }
    let leader = candidate.leader.map(|end| (at, end));
    for point in points.iter().filter(|point| distance(at, **point) > 1.0) {
        if distance(*point, candidate.at.nearest(*point)) < off + AIR {
            cost += NEARER_TO_ANOTHER;
        }
    }
    for mark in ground.marks {
        if mark.meets(&words) {
            cost += ON_A_MARK;
        }
        let own = distance(at, mark.middle()) < 1.0;
        if let Some((from, to)) = leader
            && !own
            && mark.length_inside(from, to) > 0.0
        {
            cost += LEADER_ACROSS_A_MARK;
        }
    }
    for pair in ground.curves.iter().flat_map(|curve| curve.windows(2)) {
        let inside = words.length_inside(pair[0], pair[1]);
        if inside > 0.0 {
            cost += ON_A_CURVE + A_PIXEL_OF_A_CURVE * inside;
        }
        if let Some((from, to)) = leader
            && cross(from, to, pair[0], pair[1])
        {
            cost += LEADER_ACROSS_A_CURVE;
        }
    }
    cost
}

/// What a candidate costs beside other words and their leaders.
fn cost_beside(at: Point, candidate: &Placed, others: &[(Point, Placed)]) -> f64 {
    const ON_WORDS: f64 = 1e6;
    const LEADER_ACROSS_WORDS: f64 = 2e4;
    const LEADERS_ACROSS: f64 = 5e3;
    let words = candidate.at.grown(AIR);
    let mut cost = 0.0;
    for (point, other) in others {
        if other.at.grown(AIR).meets(&words) {
            cost += ON_WORDS;
        }
        if let Some(end) = candidate.leader
            && other.at.grown(AIR).length_inside(at, end) > 0.0
        {
            cost += LEADER_ACROSS_WORDS;
        }
        if let Some(end) = other.leader
            && words.length_inside(*point, end) > 0.0
        {
            cost += LEADER_ACROSS_WORDS;
        }
        if let Some((mine, theirs)) = candidate.leader.zip(other.leader)
            && cross(at, mine, *point, theirs)
        {
            cost += LEADERS_ACROSS;
        }
    }
    cost
}

/// Whether two straight pieces cross.
fn cross(a: Point, b: Point, c: Point, d: Point) -> bool {
    let side = |p: Point, q: Point, r: Point| (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::{Ground, Line, Placed, Rect, place, stack, strokes};

    const FRAME: Rect = Rect {
        left: 0.0,
        top: 0.0,
        right: 1000.0,
        bottom: 400.0,
    };

    fn apart(placed: &[Placed]) -> bool {
        placed.iter().enumerate().all(|(index, one)| {
            let others = &placed[index + 1..];
            FRAME.holds(&one.at) && others.iter().all(|other| !one.at.meets(&other.at))
        })
    }

    #[test]
    fn a_dozen_names_at_one_point_all_find_a_place() {
        let names = vec![((500.0, 200.0), "Ruan 1050 psi"); 12];
        let ground = Ground {
            frame: FRAME,
            curves: &[],
            marks: &[],
        };
        assert!(apart(&place(&names, 24.0, &ground)));
    }

    #[test]
    fn a_name_keeps_off_a_curve_and_nearer_to_its_own_point() {
        let ends = [((500.0, 200.0), "start"), ((500.0, 240.0), "end")];
        let curve = vec![
            (500.0, 200.0),
            (900.0, 200.0),
            (900.0, 240.0),
            (500.0, 240.0),
        ];
        let ground = Ground {
            frame: FRAME,
            curves: std::slice::from_ref(&curve),
            marks: &[],
        };
        let placed = place(&ends, 24.0, &ground);
        for (index, words) in placed.iter().enumerate() {
            let pairs = curve.windows(2);
            let on: f64 = pairs
                .map(|pair| words.at.length_inside(pair[0], pair[1]))
                .sum();
            assert!(on < 1e-9);
            let off = |end: usize| super::distance(ends[end].0, words.at.nearest(ends[end].0));
            assert!(off(index) < off(1 - index));
        }
    }

    #[test]
    fn names_of_ends_stack_in_the_order_of_the_ends() {
        let heights = [395.0, 396.0, 10.0, 397.0, 390.0, 200.0];
        let ends: Vec<_> = heights.iter().map(|y| ((800.0, *y), "12")).collect();
        let placed = stack(&ends, 24.0, &FRAME);
        assert!(apart(&placed));
        let mut order: Vec<usize> = (0..heights.len()).collect();
        order.sort_by(|one, other| placed[*one].at.top.total_cmp(&placed[*other].at.top));
        assert_eq!(order, [2, 5, 4, 0, 1, 3]);
        assert!(
            placed[5].leader.is_none(),
            "one with room stands at its end's height"
        );
    }

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
