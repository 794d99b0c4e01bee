//! How fast somebody came up.

use super::profile::{Point, Profile};
use crate::quantity::{Depth, RunTime, Speed, Time};
use serde::Serialize;

/// A rate is taken over this time, or over one interval of readings that are further apart.
const WINDOW: Time = Time::from_min(0.25);
/// From this share of the planned rate on it is too fast.
pub const TOO_FAST_SHARE: f64 = 1.2;
/// A share of a rate that is rounding.
const SAME_SHARE: f64 = 1e-9;

/// A stretch of a way up and its rate.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Rise {
    /// Run time at which it begins.
    pub start: RunTime,
    /// Run time at which it ends.
    pub end: RunTime,
    /// Depth at its beginning.
    pub from: Depth,
    /// Depth at its end.
    pub to: Depth,
    /// Greatest rate in it.
    pub rate: Speed,
}

/// The rate over the window that begins at a point, `None` where it does not go up.
fn window(from: &Point, to: &Point) -> Option<Rise> {
    let minutes = (to.run_time - from.run_time).as_min();
    let risen = (from.depth - to.depth).as_m();
    (risen > 0.0).then(|| Rise {
        start: from.run_time,
        end: to.run_time,
        from: from.depth,
        to: to.depth,
        rate: Speed::from_m_min(risen / minutes),
    })
}

/// The rises of all windows: one begins at each point and ends at the last point within 15 s, or at
/// the next one where that is further off. What the end of the dive cuts short lies inside the one
/// before and is none.
fn windows(profile: &Profile) -> impl Iterator<Item = Rise> {
    let points = &profile.points;
    let mut end = 0;
    (0..points.len().saturating_sub(1)).filter_map(move |begin| {
        let from = &points[begin];
        let before = end;
        end = end.max(begin + 1);
        let within = |point: &Point| !(point.run_time - from.run_time).is_over(WINDOW);
        while points.get(end + 1).is_some_and(within) {
            end += 1;
        }
        let is_cut_short = end + 1 == points.len() && end == before;
        (!is_cut_short).then(|| window(from, &points[end]))?
    })
}

/// The window with the greatest rate; `None` of a dive that never goes up.
#[must_use]
pub(super) fn fastest(profile: &Profile) -> Option<Rise> {
    windows(profile).reduce(|fastest, rise| {
        if rise.rate > fastest.rate {
            rise
        } else {
            fastest
        }
    })
}

/// Where they came up at [`TOO_FAST_SHARE`] of the planned rate or faster. Windows that touch are
/// one.
#[must_use]
pub(super) fn too_fast(profile: &Profile, planned: Speed) -> Vec<Rise> {
    let limit = planned.as_m_min() * TOO_FAST_SHARE * (1.0 - SAME_SHARE);
    let mut rises: Vec<Rise> = Vec::new();
    for rise in windows(profile).filter(|rise| rise.rate.as_m_min() >= limit) {
        match rises.last_mut() {
            Some(last) if !rise.start.is_after(last.end) => {
                (last.end, last.to) = (rise.end, rise.to);
                if rise.rate > last.rate {
                    last.rate = rise.rate;
                }
            }
            _ => rises.push(rise),
        }
    }
    rises
}
