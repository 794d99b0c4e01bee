//! Few levels that cover a dive: from many short ones, neighbours become one.

use super::bins::{Bins, tenth_down, tenth_up};
use crate::quantity::{Depth, RunTime, Time};
use crate::rules::{DiveRules, Level, StopSpacing, level_travel};

/// So many pieces are left when their travel begins to count.
const PIECES: usize = 16;
/// No level is shallower, or shorter, than a plan may say.
const LEAST_DEPTH: Depth = Depth::from_m(0.3);
const LEAST_TIME: Time = Time::from_min(0.1);
/// Rounding noise of a depth on the grid, in its steps.
const NOISE: f64 = 1e-9;

/// A level and when it is left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Step {
    pub(super) depth: Depth,
    pub(super) leave: RunTime,
}

/// Neighbouring bins that one level covers.
#[derive(Clone, Copy, Debug)]
struct Piece {
    first: usize,
    /// The bin after the last one.
    end: usize,
    depth: Depth,
}

impl Piece {
    fn with(self, next: Self) -> Self {
        Self {
            first: self.first,
            end: next.end,
            depth: self.depth.max(next.depth),
        }
    }

    /// Depth times time, in metres and bins.
    fn area(self) -> f64 {
        self.depth.as_m() * (self.end - self.first) as f64
    }
}

/// A dive in bins, and the rules by which levels are gone to.
pub(super) struct Staircase<'a> {
    pub(super) bins: &'a Bins,
    pub(super) rules: &'a DiveRules,
}

impl Staircase<'_> {
    /// Levels that cover the whole dive: with at most so many, with fewer, and so on down to one.
    pub(super) fn choices(&self, most: usize) -> Vec<Vec<Step>> {
        let mut choices = Vec::new();
        let mut best = self.possible(self.coarse());
        loop {
            let (pieces, steps) = best;
            if steps.len() <= most {
                choices.push(steps);
            }
            let merged = (1..pieces.len()).map(|index| self.possible(merge(&pieces, index)));
            let area = |steps: &[Step]| self.area(steps);
            let least = merged.min_by(|(_, one), (_, other)| area(one).total_cmp(&area(other)));
            match least {
                Some(least) => best = least,
                None => return choices,
            }
        }
    }

    /// The bins as a few pieces; a change of depth takes no time yet.
    fn coarse(&self) -> Vec<Piece> {
        let spacing = self.rules.ascent.spacing;
        let bins = self.bins.depths().iter().enumerate();
        let mut pieces: Vec<Piece> = bins
            .map(|(first, depth)| Piece {
                first,
                end: first + 1,
                depth: on_the_grid(*depth, spacing),
            })
            .collect();
        while pieces.len() > PIECES {
            let added = |index: usize| {
                let (one, next) = (pieces[index - 1], pieces[index]);
                one.with(next).area() - one.area() - next.area()
            };
            let pairs = 1..pieces.len();
            let Some(least) = pairs.min_by(|one, other| added(*one).total_cmp(&added(*other)))
            else {
                break;
            };
            pieces = merge(&pieces, least);
        }
        pieces
    }

    /// Merges pieces until each level can be reached in time.
    fn possible(&self, mut pieces: Vec<Piece>) -> (Vec<Piece>, Vec<Step>) {
        loop {
            match self.timed(&pieces) {
                Ok(steps) => return (pieces, steps),
                Err(next) => pieces = merge(&pieces, next),
            }
        }
    }

    /// When each level is left so that its travel stays as deep as the bins; or the number of a
    /// piece that cannot be reached in time.
    fn timed(&self, pieces: &[Piece]) -> Result<Vec<Step>, usize> {
        let mut steps: Vec<Step> = Vec::with_capacity(pieces.len());
        for (index, piece) in pieces.iter().enumerate() {
            let soonest = self.soonest(steps.last(), piece.depth);
            let leave = match pieces.get(index + 1) {
                None => soonest.max(tenth_up(self.bins.starts(piece.end))),
                Some(next) if next.depth.is_below(piece.depth) => {
                    let leave = tenth_down(self.in_time_for(piece.depth, *next));
                    if soonest.is_after(leave) {
                        return Err(index + 1);
                    }
                    leave
                }
                Some(next) if next.depth.is_above(piece.depth) => {
                    soonest.max(tenth_up(self.done_with(*piece, next.depth)))
                }
                Some(_) => return Err(index + 1),
            };
            steps.push(Step {
                depth: piece.depth,
                leave,
            });
        }
        Ok(steps)
    }

    /// The latest start of a way down that is as deep as each bin of a piece when that begins.
    fn in_time_for(&self, from: Depth, piece: Piece) -> RunTime {
        let bins = piece.first..piece.end;
        let deeper = bins.filter(|bin| self.bins.depths()[*bin].is_below(from));
        let latest = deeper.map(|bin| {
            let travel = self.travel(from, self.bins.depths()[bin]);
            self.bins.starts(bin) - travel
        });
        latest.fold(self.bins.starts(piece.end), RunTime::min)
    }

    /// The soonest start of a way up that is as deep as each bin of a piece until that is over.
    fn done_with(&self, piece: Piece, to: Depth) -> RunTime {
        let bins = piece.first..piece.end;
        let deeper = bins.filter(|bin| self.bins.depths()[*bin].is_below(to));
        let soonest = deeper.map(|bin| {
            let travel = self.travel(piece.depth, self.bins.depths()[bin]);
            self.bins.starts(bin + 1) - travel
        });
        soonest.fold(self.bins.starts(piece.first), RunTime::max)
    }

    /// When the next level can be left at the soonest.
    pub(super) fn soonest(&self, before: Option<&Step>, depth: Depth) -> RunTime {
        let (from, left) = before.map_or((Depth::SURFACE, RunTime::SPLASH), |step| {
            (step.depth, step.leave)
        });
        tenth_up(left + self.travel(from, depth).max(LEAST_TIME))
    }

    fn travel(&self, from: Depth, to: Depth) -> Time {
        level_travel(from, to, self.rules.descent_rate, self.rules.ascent.rate)
    }

    /// Depth times time of the levels and of the travel to them, in metres and minutes.
    fn area(&self, steps: &[Step]) -> f64 {
        let (mut from, mut left, mut area) = (Depth::SURFACE, RunTime::SPLASH, 0.0);
        for step in steps {
            let travel = self.travel(from, step.depth);
            let held = step.leave - left - travel;
            area += (from.as_m() + step.depth.as_m()) / 2.0 * travel.as_min();
            area += step.depth.as_m() * held.as_min();
            (from, left) = (step.depth, step.leave);
        }
        area
    }
}

/// The pieces with one of them merged into the one before it.
fn merge(pieces: &[Piece], index: usize) -> Vec<Piece> {
    let mut merged = pieces.to_vec();
    if index > 0 && index < merged.len() {
        let next = merged.remove(index);
        merged[index - 1] = merged[index - 1].with(next);
    }
    merged
}

/// A depth that a plan can say in a few digits, not shallower: tenths of a metre or whole feet.
fn on_the_grid(depth: Depth, spacing: StopSpacing) -> Depth {
    let depth = depth.max(LEAST_DEPTH);
    match spacing {
        StopSpacing::ThreeMetres => Depth::from_m((depth.as_m() * 10.0 - NOISE).ceil() / 10.0),
        StopSpacing::TenFeet => Depth::from_ft((depth.as_ft() - NOISE).ceil()),
    }
}

/// Steps as the levels of a plan, in whole tenths of a minute.
pub(super) fn as_levels(steps: &[Step]) -> Vec<Level> {
    let lefts = std::iter::once(RunTime::SPLASH).chain(steps.iter().map(|step| step.leave));
    let levels = steps.iter().zip(lefts).map(|(step, left)| Level {
        depth: step.depth,
        time: Time::from_min(((step.leave - left).as_min() * 10.0).round() / 10.0),
    });
    levels.collect()
}
