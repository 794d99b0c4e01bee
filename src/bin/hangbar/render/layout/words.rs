//! Where words stand: beside their points, or behind the ends of curves.

use hangbar::report::chart::Point;

use super::boxes::{Rect, cross, distance};

/// What rounding may leave of nothing.
const NOISE: f64 = 1e-9;

/// Width of a letter as a share of its height: what common sans-serif faces need on the average.
const LETTER: f64 = 0.6;
/// Between a point and its words where there is room.
const NEAREST: f64 = 14.0;
/// Words further off than this get a line to their point.
const FAR: f64 = 34.0;
/// Air around words.
const AIR: f64 = 3.0;

/// Width of words at a height of their letters.
pub(in crate::render) fn width(words: &str, height: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a line of text")]
    let letters = textwrap::core::display_width(words) as f64;
    letters * LETTER * height
}

/// What words must not stand on.
pub(in crate::render) struct Ground<'a> {
    /// Words stay within it.
    pub(in crate::render) frame: Rect,
    pub(in crate::render) curves: &'a [Vec<Point>],
    pub(in crate::render) marks: &'a [Rect],
}

/// Words that have found their place.
#[derive(Clone, Copy)]
pub(in crate::render) struct Placed {
    pub(in crate::render) at: Rect,
    /// Where the line to their point ends, if they are so far off that they need one.
    pub(in crate::render) leader: Option<Point>,
}

/// Places for the names of curves behind their right ends: a column in the order of the ends'
/// heights, each name as near to its end's height as the others let it be.
pub(in crate::render) fn stack(labels: &[(Point, &str)], height: f64, frame: &Rect) -> Vec<Placed> {
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
pub(in crate::render) fn place(
    labels: &[(Point, &str)],
    height: f64,
    ground: &Ground<'_>,
) -> Vec<Placed> {
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
                if share.abs() < NOISE {
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

#[cfg(test)]
mod tests {
    use super::super::boxes::distance;
    use super::{Ground, Placed, Rect, place, stack};

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
            let off = |end: usize| distance(ends[end].0, words.at.nearest(ends[end].0));
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
}
