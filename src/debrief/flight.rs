//! The tissues through a recorded dive: what they held, and whether somebody was too shallow.

use super::profile::Profile;
use crate::dive::{Segment, SegmentKind, high_factor_ceiling};
use crate::quantity::{Depth, DepthChange, RunTime};
use crate::rules::{DiveRules, Start};
use crate::site::Mix;
use crate::tissue::Gradient;
use serde::Serialize;

/// A reading counts as above the ceiling from this on: waves and the width of a gauge.
const ABOVE: DepthChange = DepthChange::from_m(0.3);

/// A stretch of readings above the ceiling.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Breach {
    /// Run time of its first reading.
    pub start: RunTime,
    /// Run time of its last reading.
    pub end: RunTime,
    /// How many readings it has.
    pub readings: usize,
    /// The reading that is furthest above: its run time.
    pub at: RunTime,
    /// Its depth.
    pub depth: Depth,
    /// The ceiling at it.
    pub ceiling: Depth,
}

impl Breach {
    /// The most that somebody was above the ceiling.
    #[must_use]
    pub fn most(&self) -> DepthChange {
        self.ceiling - self.depth
    }
}

/// The greatest gradient on a way up.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Peak {
    /// How much, and in which compartment.
    pub gradient: Gradient,
    /// Run time of the reading.
    pub run_time: RunTime,
    /// Its depth.
    pub depth: Depth,
}

/// A recorded dive, flown from what its diver brought.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Flown {
    /// The ceiling at each moment of the profile, with the high factor.
    pub(super) ceilings: Vec<Depth>,
    /// Stretches above it, in order.
    pub(super) breaches: Vec<Breach>,
    /// The greatest gradient between the last moment at the greatest depth and the surface;
    /// `None` where no reading lies there.
    pub(super) way_up: Option<Peak>,
    /// The greatest gradient at the surface; `None` of a record without the surfacing.
    pub(super) surfacing: Option<Gradient>,
    /// The dive as segments, one a leg.
    pub(super) segments: Vec<Segment>,
    /// Tissues and doses at its last moment.
    pub(super) after: Start,
}

/// The legs of a profile as segments on the gas that the record says, from a first gas on.
fn segments(profile: &Profile, first: Mix) -> Vec<Segment> {
    let mut gas = first;
    let legs = profile.legs().map(|(from, to)| {
        gas = from.gas.unwrap_or(gas);
        let kind = if to.depth.is_below(from.depth) {
            SegmentKind::Descent
        } else if to.depth.is_above(from.depth) {
            SegmentKind::Ascent
        } else {
            SegmentKind::Level
        };
        Segment {
            kind,
            from: from.depth,
            to: to.depth,
            start: from.run_time,
            end: to.run_time,
            gas,
        }
    });
    legs.collect()
}

/// Flies a profile on a first gas.
pub(super) fn flown(rules: &DiveRules, start: &Start, profile: &Profile, first: Mix) -> Flown {
    let (set, environment) = (&rules.compartments, &rules.environment);
    let segments = segments(profile, first);
    let (deepest, _) = profile.deepest();
    let last = profile.points.len() - 1;
    let mut tissues = start.tissues;
    let mut ceilings = vec![high_factor_ceiling(rules, &tissues)];
    let mut way_up: Option<Peak> = None;
    for (segment, index) in segments.iter().zip(1_usize..) {
        let (from, to) = (
            environment.ambient(segment.from),
            environment.ambient(segment.to),
        );
        tissues = tissues.after(set, segment.gas, from, to, segment.time());
        ceilings.push(high_factor_ceiling(rules, &tissues));
        let is_surfacing = index == last && profile.has_surfacing;
        if index > deepest && !is_surfacing {
            let gradient = tissues.gradient(set, to);
            if way_up.is_none_or(|peak| gradient.fraction > peak.gradient.fraction) {
                way_up = Some(Peak {
                    gradient,
                    run_time: segment.end,
                    depth: segment.to,
                });
            }
        }
    }
    let oxygen = crate::oxygen::OxygenExposure::of(environment, &segments).on_top_of(start);
    let surfacing = tissues.gradient(set, environment.surface());
    Flown {
        breaches: breaches(profile, &ceilings),
        ceilings,
        way_up,
        surfacing: profile.has_surfacing.then_some(surfacing),
        segments,
        after: Start {
            tissues,
            cns_pct: oxygen.cns_pct,
            otu: oxygen.otu,
        },
    }
}

fn breaches(profile: &Profile, ceilings: &[Depth]) -> Vec<Breach> {
    let mut breaches: Vec<Breach> = Vec::new();
    let mut was_above = false;
    for (point, ceiling) in profile.points.iter().zip(ceilings) {
        let above = *ceiling - point.depth;
        let is_above = above.as_m() > ABOVE.as_m();
        if is_above {
            let here = Breach {
                start: point.run_time,
                end: point.run_time,
                readings: 1,
                at: point.run_time,
                depth: point.depth,
                ceiling: *ceiling,
            };
            match breaches.last_mut().filter(|_| was_above) {
                Some(last) => {
                    (last.end, last.readings) = (point.run_time, last.readings + 1);
                    if above.as_m() > last.most().as_m() {
                        (last.at, last.depth, last.ceiling) = (here.at, here.depth, here.ceiling);
                    }
                }
                None => breaches.push(here),
            }
        }
        was_above = is_above;
    }
    breaches
}
