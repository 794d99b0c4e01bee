//! A dive in equal short bins of time.

use crate::dive::Schedule;
use crate::quantity::{Depth, RunTime, Time};

/// What a plan's times are written in, minutes.
const TENTH_MIN: f64 = 0.1;
/// So many bins are fine enough, however long the dive is.
const MOST_BINS: f64 = 1200.0;
/// A moment this close to the edge of a bin is in both.
const EDGE: f64 = 1e-9;

/// One moment of a profile; straight lines in between.
pub(super) type Point = (RunTime, Depth);

/// How deep several profiles come in each bin: the greatest depth of any of them.
#[derive(Clone, Debug)]
pub(super) struct Bins {
    length: Time,
    depths: Vec<Depth>,
}

impl Bins {
    /// The deepest of the profiles, each with times that do not go back.
    pub(super) fn deepest(profiles: &[Vec<Point>]) -> Self {
        let ends = profiles.iter().filter_map(|profile| profile.last());
        let end = ends.fold(RunTime::SPLASH, |end, (at, _)| end.max(*at));
        let tenths = (end.as_min() / TENTH_MIN / MOST_BINS).ceil().max(1.0);
        let length = Time::from_min(tenths / 10.0);
        let last = index((end.as_min() / length.as_min() - EDGE).max(0.0));
        let mut bins = Self {
            length,
            depths: vec![Depth::SURFACE; last + 1],
        };
        for profile in profiles {
            // What is before the first moment is the way to it.
            let mut from = (RunTime::SPLASH, Depth::SURFACE);
            for point in profile {
                bins.take_in((from, *point), Depth::max);
                from = *point;
            }
        }
        bins
    }

    /// How shallow a schedule comes in each of the same bins; the surface once it is over.
    fn shallowest(&self, schedule: &Schedule) -> Self {
        let mut bins = Self {
            length: self.length,
            depths: vec![Depth::from_m(f64::INFINITY); self.depths.len()],
        };
        for segment in &schedule.segments {
            let line = ((segment.start, segment.from), (segment.end, segment.to));
            bins.take_in(line, Depth::min);
        }
        let surfaced = (schedule.run_time(), Depth::SURFACE);
        bins.take_in((surfaced, (bins.ends(), Depth::SURFACE)), Depth::min);
        bins
    }

    /// Whether a schedule is at least so deep in every bin, but for those before it has come to its
    /// first level.
    pub(super) fn are_covered_by(&self, schedule: &Schedule) -> bool {
        let down = schedule.arrivals.first();
        let down = down.map_or(RunTime::SPLASH, |arrival| arrival.run_time);
        let shallowest = self.shallowest(schedule);
        let mut both = (0..self.depths.len()).zip(self.depths.iter().zip(&shallowest.depths));
        both.all(|(bin, (real, flown))| down.is_after(self.starts(bin)) || !flown.is_above(*real))
    }

    /// Takes a straight line into every bin that it touches.
    fn take_in(&mut self, (from, to): (Point, Point), choose: fn(Depth, Depth) -> Depth) {
        let length = self.length.as_min();
        let bins = self.depths.len();
        let first = index((from.0.as_min() / length - EDGE).max(0.0));
        let last = index(to.0.as_min() / length + EDGE);
        for bin in first..(last + 1).min(bins) {
            let (starts, ends) = (self.starts(bin), self.starts(bin + 1));
            for at in [from.0.max(starts), to.0.min(ends)] {
                let depth = depth_at((from, to), at);
                self.depths[bin] = choose(self.depths[bin], depth);
            }
        }
        // A line of no time is its both ends.
        if first < bins && last == first {
            self.depths[first] = choose(choose(self.depths[first], from.1), to.1);
        }
    }

    /// When a bin begins.
    pub(super) fn starts(&self, bin: usize) -> RunTime {
        RunTime::SPLASH + self.length * bin as f64
    }

    /// When the last bin is over.
    pub(super) fn ends(&self) -> RunTime {
        self.starts(self.depths.len())
    }

    /// The depth of each bin.
    pub(super) fn depths(&self) -> &[Depth] {
        &self.depths
    }
}

/// Where a straight line is at a moment, no further than its ends.
fn depth_at((from, to): (Point, Point), at: RunTime) -> Depth {
    let time = (to.0 - from.0).as_min();
    if time <= 0.0 {
        return from.1;
    }
    let share = ((at - from.0).as_min() / time).clamp(0.0, 1.0);
    from.1 + (to.1 - from.1) * share
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a time of a day at most, from the splash on, in bins"
)]
fn index(bins: f64) -> usize {
    bins.floor() as usize
}

/// The first tenth of a minute that is not before a moment.
pub(super) fn tenth_up(at: RunTime) -> RunTime {
    RunTime::from_min((at.as_min() * 10.0 - EDGE).ceil() / 10.0)
}

/// The last tenth of a minute that is not after a moment.
pub(super) fn tenth_down(at: RunTime) -> RunTime {
    RunTime::from_min((at.as_min() * 10.0 + EDGE).floor() / 10.0)
}
