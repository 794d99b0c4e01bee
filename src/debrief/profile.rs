//! The dive in a record: from leaving the surface to being back, and nothing of the boat.

use crate::quantity::{ATM_BAR, AtmMinutes, Depth, RunTime, Time};
use crate::record::{Reading, SampledLog};
use crate::site::{Environment, Mix};
use serde::Serialize;

/// A moment of a recorded dive; between two of them the depth changes evenly.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Point {
    /// Run time.
    pub run_time: RunTime,
    /// Depth.
    pub depth: Depth,
    /// Gas breathed from here on, where the record says so.
    pub gas: Option<Mix>,
    /// Line of the file.
    pub line: u64,
}

/// A recorded dive, cut out of its record.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Profile {
    /// Its moments; at least two, at run times that grow.
    pub points: Vec<Point>,
    /// Time of the splash on the logger's own clock.
    pub splash: Time,
    /// Whether the record has the splash.
    pub has_splash: bool,
    /// Whether the record has the surfacing.
    pub has_surfacing: bool,
}

impl Profile {
    /// The dive begins at the last reading at the surface before the first deeper one, and ends at
    /// the first at the surface after the last deeper one. A record that lacks them is taken as
    /// it is.
    ///
    /// `None` of a record in which nobody dives.
    #[must_use]
    pub fn of(log: &SampledLog) -> Option<Self> {
        let readings = log.readings.as_slice();
        let is_under = |reading: &Reading| reading.depth.is_below(SampledLog::SURFACE_BAND);
        let first = readings.iter().position(is_under)?;
        let last = readings.iter().rposition(is_under)?;
        let begin = first.saturating_sub(1);
        let end = (last + 1).min(readings.len() - 1);
        if begin == end {
            return None;
        }
        let splash = readings[begin].time;
        let points = readings[begin..=end].iter().map(|reading| Point {
            run_time: RunTime::SPLASH + (reading.time - splash),
            depth: reading.depth,
            gas: reading.gas,
            line: reading.line,
        });
        let mut points: Vec<Point> = points.collect();
        // What was breathed before the splash is breathed at it.
        let mut said = readings[..=begin].iter().filter_map(|reading| reading.gas);
        points[0].gas = said.next_back();
        Some(Self {
            points,
            splash,
            has_splash: first > 0,
            has_surfacing: last + 1 < readings.len(),
        })
    }

    /// The legs between its moments.
    pub fn legs(&self) -> impl Iterator<Item = (&Point, &Point)> {
        self.points.iter().zip(self.points.iter().skip(1))
    }

    /// From its first moment to its last.
    #[must_use]
    pub fn run_time(&self) -> RunTime {
        let last = self.points.last();
        last.map_or(RunTime::SPLASH, |last| last.run_time)
    }

    /// The greatest depth, and the last moment at it.
    #[must_use]
    pub fn deepest(&self) -> (usize, Depth) {
        let points = self.points.iter().enumerate();
        points.fold((0, Depth::SURFACE), |deepest, (index, point)| {
            if point.depth >= deepest.1 {
                (index, point.depth)
            } else {
                deepest
            }
        })
    }

    /// Mean depth over the run time.
    #[must_use]
    pub fn average_depth(&self) -> Depth {
        let metre_minutes: f64 = self
            .legs()
            .map(|(from, to)| {
                let mean = f64::midpoint(from.depth.as_m(), to.depth.as_m());
                mean * (to.run_time - from.run_time).as_min()
            })
            .sum();
        Depth::from_m(metre_minutes / self.run_time().as_min())
    }

    /// Depth at a run time; that of the nearest end outside of the dive.
    #[must_use]
    pub fn depth_at(&self, run_time: RunTime) -> Depth {
        let after = self
            .points
            .partition_point(|point| point.run_time < run_time);
        match (
            after.checked_sub(1).map(|at| self.points[at]),
            self.points.get(after),
        ) {
            (Some(from), Some(to)) => between(&from, to, run_time),
            (None, Some(point)) => point.depth,
            (Some(point), None) => point.depth,
            (None, None) => Depth::SURFACE,
        }
    }

    /// Ambient pressure in atmospheres integrated over the time under water between two run times.
    /// A leg with both ends at the surface is none of it.
    ///
    /// ```text
    /// ∫P dt / 1.01325      each leg: (P_from + P_to)/2 · minutes
    /// ```
    #[must_use]
    pub fn exposure(&self, environment: &Environment, from: RunTime, to: RunTime) -> AtmMinutes {
        let sum: f64 = self
            .legs()
            .map(|(leaves, arrives)| {
                let (begin, end) = (leaves.run_time.max(from), arrives.run_time.min(to));
                let minutes = (end - begin).as_min();
                let is_under = |point: &Point| point.depth.is_below(SampledLog::SURFACE_BAND);
                if minutes <= 0.0 || !(is_under(leaves) || is_under(arrives)) {
                    return 0.0;
                }
                let ambient = |at| environment.ambient(between(leaves, arrives, at)).as_bar();
                f64::midpoint(ambient(begin), ambient(end)) * minutes
            })
            .sum();
        AtmMinutes::from_atm_min(sum / ATM_BAR)
    }

    /// The last moment at or below a depth; `None` where it was never so deep.
    #[must_use]
    pub fn leaves_for_good(&self, depth: Depth) -> Option<RunTime> {
        let legs = self.legs().collect::<Vec<_>>();
        let (from, to) = legs
            .into_iter()
            .rev()
            .find(|(from, _)| !from.depth.is_above(depth))?;
        if !to.depth.is_above(depth) {
            return Some(to.run_time);
        }
        let share = (from.depth - depth).as_m() / (from.depth - to.depth).as_m();
        Some(from.run_time + (to.run_time - from.run_time) * share)
    }
}

/// Depth on a leg.
fn between(from: &Point, to: &Point, at: RunTime) -> Depth {
    let share = (at - from.run_time).as_min() / (to.run_time - from.run_time).as_min();
    from.depth + (to.depth - from.depth) * share
}
