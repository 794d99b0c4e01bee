//! Dives as they were, told as levels: as deep as any of them at every moment.

use crate::dive::{Schedule, ScheduleError, fly_checked};
use crate::quantity::{Depth, RunTime, Time};
use crate::rules::{DiveRules, Level, level_travel};
use crate::site::Mix;
use crate::tissue::{Tissues, WITHIN_BAR};

/// The dive is looked at in cells of this length; levels begin and end between two of them.
const CELL: Time = Time::from_min(0.1);
/// More levels than this say nothing more.
const MOST_LEVELS: usize = 8;
/// Two levels become one where that adds no more than this, metre-minutes.
const WORTH_A_LEVEL: f64 = 2.0;
/// Pieces at first; few enough to compare all neighbours again and again.
const PIECES: usize = 240;
/// Minutes that are added where a fast descent left somebody ahead of the planned one.
const MOST_ADDED: u32 = 30;
/// Depths are told in steps, m.
const STEP_M: f64 = 0.1;
/// Share of a step that is rounding.
const NOISE: f64 = 1e-9;

/// One dive that holds as much against everybody as their own.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Covering {
    /// Its levels.
    pub levels: Vec<Level>,
    /// The dive.
    pub schedule: Schedule,
}

/// Why there is no such dive.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CoverError {
    /// No dive of a few levels holds as much as the recorded ones.
    #[error("no dive of a few levels by the plan's rates holds as much as the recorded ones")]
    NotCovered,
    /// The dive cannot be scheduled.
    #[error(transparent)]
    Schedule(#[from] ScheduleError),
}

/// A profile: run times and depths joined by straight lines.
pub type Polyline = Vec<(RunTime, Depth)>;

/// A stretch of the dive at its greatest depth: cells from, to, and the depth, m.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Piece {
    from: usize,
    to: usize,
    depth: f64,
}

impl Piece {
    fn cells(&self) -> f64 {
        count(self.to - self.from)
    }

    fn minutes(&self) -> f64 {
        self.cells() * CELL.as_min()
    }
}

fn count(cells: usize) -> f64 {
    u32::try_from(cells).map_or(f64::MAX, f64::from)
}

/// One dive of a few levels, flown by the rules, after which every compartment holds at least what
/// it holds after each of the profiles, at one clock time and on one gas.
///
/// The levels are as deep as the deepest profile at every moment, but for a descent that is faster
/// than planned; what that leaves is made up for by minutes at the first level.
///
/// # Errors
/// [`CoverError`] where no such dive is found, or it cannot be scheduled.
pub fn covering_levels(
    rules: &DiveRules,
    start: &Tissues,
    profiles: &[Polyline],
) -> Result<Covering, CoverError> {
    let cells = greatest_depths(profiles);
    let pieces = merged(pieces(&cells), rules);
    let mut best: Option<(f64, Vec<Level>)> = None;
    // A way up of the plan's own may cover the last pieces.
    for last in 1..=pieces.len() {
        let Some(levels) = levels(&pieces[..last], &cells, rules) else {
            continue;
        };
        let Ok(schedule) = fly_checked(rules, start, &levels) else {
            continue;
        };
        let Some(excess) = excess(&schedule, &cells) else {
            continue;
        };
        if best.as_ref().is_none_or(|(least, _)| excess < *least) {
            best = Some((excess, levels));
        }
    }
    let (_, mut levels) = best.ok_or(CoverError::NotCovered)?;
    for _ in 0..=MOST_ADDED {
        let schedule = fly_checked(rules, start, &levels)?;
        let is_covered = |profile: &Polyline| holds_as_much(rules, start, &schedule, profile);
        if profiles.iter().all(is_covered) {
            return Ok(Covering { levels, schedule });
        }
        levels[0].time = levels[0].time + Time::from_min(1.0);
    }
    Err(CoverError::NotCovered)
}

/// The greatest depth of any profile in each cell, m.
fn greatest_depths(profiles: &[Polyline]) -> Vec<f64> {
    let ends = profiles.iter().filter_map(|profile| profile.last());
    let end = ends.fold(0.0_f64, |end, last| end.max(last.0.as_min()));
    let cell_of = |minutes: f64| cell(minutes / CELL.as_min());
    let mut cells = vec![0.0_f64; cell_of(end) + 1];
    for profile in profiles {
        for (from, to) in profile.iter().zip(profile.iter().skip(1)) {
            let (begin, end) = (from.0.as_min(), to.0.as_min());
            let last = cell_of(end).min(cells.len() - 1);
            for (index, deepest) in cells
                .iter_mut()
                .enumerate()
                .take(last + 1)
                .skip(cell_of(begin))
            {
                let (left, right) = (
                    count(index) * CELL.as_min(),
                    count(index + 1) * CELL.as_min(),
                );
                let at = |minutes: f64| {
                    let share = (minutes.clamp(begin, end) - begin) / (end - begin);
                    from.1.as_m() + (to.1.as_m() - from.1.as_m()) * share
                };
                *deepest = deepest.max(at(left)).max(at(right));
            }
        }
    }
    // The last cell is the surface's, or would count as a level.
    while cells.len() > 1 && cells.last().is_some_and(|depth| *depth <= NOISE) {
        cells.pop();
    }
    cells
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "minutes of a dive, not negative, by a tenth"
)]
fn cell(cells: f64) -> usize {
    (cells + NOISE).max(0.0) as usize
}

fn pieces(cells: &[f64]) -> Vec<Piece> {
    let each = cells.len().div_ceil(PIECES).max(1);
    let starts = (0..cells.len()).step_by(each);
    let piece = starts.map(|from| {
        let to = (from + each).min(cells.len());
        Piece {
            from,
            to,
            depth: deepest(&cells[from..to]),
        }
    });
    piece.collect()
}

/// Up to the next step.
fn deepest(cells: &[f64]) -> f64 {
    let deepest = cells.iter().copied().fold(0.0_f64, f64::max);
    (deepest / STEP_M - NOISE).ceil() * STEP_M
}

/// Neighbours become one, the cheapest first, until few are left and each has the time that it
/// takes.
fn merged(mut pieces: Vec<Piece>, rules: &DiveRules) -> Vec<Piece> {
    while pieces.len() > 1 {
        let cost = |at: &usize| {
            let (one, other) = (&pieces[*at], &pieces[*at + 1]);
            let area = |piece: &Piece| piece.depth * piece.minutes();
            area(&both(one, other)) - area(one) - area(other)
        };
        let costs = (0..pieces.len() - 1).map(|at| (at, cost(&at)));
        let cheapest = costs.min_by(|x, y| x.1.total_cmp(&y.1));
        let worth_it =
            |(_, cost): &(usize, f64)| pieces.len() > MOST_LEVELS || *cost <= WORTH_A_LEVEL;
        let next = cheapest.filter(worth_it).map(|(at, _)| at);
        let Some(at) = next.or_else(|| hurried(&pieces, rules)) else {
            break;
        };
        let one = both(&pieces[at], &pieces[at + 1]);
        pieces.splice(at..=at + 1, [one]);
    }
    pieces
}

fn both(one: &Piece, other: &Piece) -> Piece {
    Piece {
        from: one.from,
        to: other.to,
        depth: one.depth.max(other.depth),
    }
}

/// Where a piece and its next one become one, because one of them is too short for what is travelled
/// in it: up to itself, and down to the next one.
fn hurried(pieces: &[Piece], rules: &DiveRules) -> Option<usize> {
    let last = pieces.len() - 1;
    let late = (0..=last).find(|at| {
        let piece = &pieces[*at];
        let before = at.checked_sub(1).map_or(0.0, |before| pieces[before].depth);
        let is_travelled_to = *at == 0 || before > piece.depth;
        let to_it = is_travelled_to.then(|| travel(before, piece.depth, rules));
        let next = pieces.get(at + 1).filter(|next| next.depth > piece.depth);
        let from_it = next.map(|next| travel(piece.depth, next.depth, rules));
        let needs = to_it.unwrap_or(0.0) + from_it.unwrap_or(0.0) + 3.0 * CELL.as_min();
        needs > piece.minutes()
    })?;
    // Too short on the way up: it lasts at the depth before it. Otherwise it is the next one sooner.
    let goes_deeper = pieces
        .get(late + 1)
        .is_some_and(|next| next.depth > pieces[late].depth);
    Some(if late == last || (late > 0 && !goes_deeper) {
        late - 1
    } else {
        late
    })
}

fn travel(from: f64, to: f64, rules: &DiveRules) -> f64 {
    let (down, up) = (rules.descent_rate, rules.ascent.rate);
    level_travel(Depth::from_m(from), Depth::from_m(to), down, up).as_min()
}

/// The levels of some pieces; `None` where one cannot be reached in its time.
fn levels(pieces: &[Piece], cells: &[f64], rules: &DiveRules) -> Option<Vec<Level>> {
    let step = CELL.as_min();
    let mut levels: Vec<Level> = Vec::new();
    // Where each level begins, in cells; one that is deeper begins early enough to be reached.
    let mut begins = 0.0;
    for (index, piece) in pieces.iter().enumerate() {
        let next = pieces.get(index + 1);
        let ends = match next {
            Some(next) if next.depth > piece.depth => {
                let early = (travel(piece.depth, next.depth, rules) / step - NOISE).ceil();
                count(piece.to) - early
            }
            Some(_) => count(piece.to),
            None => leaves(piece, cells, rules),
        };
        let before = index
            .checked_sub(1)
            .map_or(0.0, |before| pieces[before].depth);
        let needs = (travel(before, piece.depth, rules) / step - NOISE).ceil();
        let ends = if next.is_none() {
            ends.max(begins + needs)
        } else {
            ends
        };
        let lasts = ends - begins;
        if lasts < needs.max(1.0) {
            return None;
        }
        levels.push(Level {
            depth: Depth::from_m(piece.depth),
            time: Time::from_min(lasts * step),
        });
        begins = ends;
    }
    Some(levels)
}

/// When a last level may be left, in cells: a straight way up from there is no shallower than any
/// profile in the time of the piece.
fn leaves(piece: &Piece, cells: &[f64], rules: &DiveRules) -> f64 {
    let up_cells = |metres: f64| metres / rules.ascent.rate.as_m_min() / CELL.as_min();
    let own = cells.iter().enumerate().take(piece.to).skip(piece.from);
    // A cell's depth holds to its end.
    let latest = own.map(|(index, depth)| count(index + 1) - up_cells(piece.depth - depth));
    let latest = latest.fold(count(piece.from) + 1.0, f64::max);
    (latest - NOISE).ceil()
}

/// How much deeper a flown dive is than the cells, metre-minutes; `None` where it is shallower
/// somewhere but on its way down to the first level.
fn excess(schedule: &Schedule, cells: &[f64]) -> Option<f64> {
    let first = schedule.arrivals.first()?.run_time;
    let mut excess = 0.0;
    for (index, deepest) in cells.iter().enumerate() {
        let (left, right) = (
            count(index) * CELL.as_min(),
            count(index + 1) * CELL.as_min(),
        );
        let flown = depth_at(schedule, left).min(depth_at(schedule, right));
        if flown < deepest - NOISE && RunTime::from_min(left) >= first {
            return None;
        }
        excess += (flown - deepest).max(0.0) * CELL.as_min();
    }
    let tail = schedule.run_time().as_min() - count(cells.len()) * CELL.as_min();
    Some(excess + tail.max(0.0))
}

/// Depth of a flown dive, m.
fn depth_at(schedule: &Schedule, minutes: f64) -> f64 {
    let at = RunTime::from_min(minutes);
    let segment = schedule.segments.iter().find(|segment| segment.end >= at);
    segment.map_or(0.0, |segment| {
        segment.depth_at(at.max(segment.start)).as_m()
    })
}

/// Whether every compartment holds at least as much after the flown dive as after a profile, at the
/// later of the two surfacings.
fn holds_as_much(rules: &DiveRules, start: &Tissues, flown: &Schedule, profile: &Polyline) -> bool {
    let set = &rules.compartments;
    let ambient = |depth| rules.environment.ambient(depth);
    let mut real = *start;
    for (from, to) in profile.iter().zip(profile.iter().skip(1)) {
        let time = to.0 - from.0;
        real = real.after(set, rules.bottom_gas, ambient(from.1), ambient(to.1), time);
    }
    let surface = rules.environment.surface();
    let rested = |tissues: Tissues, ends: RunTime, until: RunTime| {
        tissues.after(set, Mix::AIR, surface, surface, until - ends)
    };
    let back = profile.last().map_or(RunTime::SPLASH, |last| last.0);
    let until = back.max(flown.run_time());
    let (real, told) = (
        rested(real, back, until),
        rested(flown.tissues, flown.run_time(), until),
    );
    let each = real.loadings().iter().zip(told.loadings());
    let enough = |(real, told): (&crate::tissue::Loading, &crate::tissue::Loading)| {
        told.n2_bar >= real.n2_bar - WITHIN_BAR && told.he_bar >= real.he_bar - WITHIN_BAR
    };
    each.into_iter().all(enough)
}
