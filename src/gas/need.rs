//! What an emergency at one moment takes: the exposure of the sort-out and the way up.

use crate::dive::{
    Flight, Moment, Schedule, ScheduleError, Segment, SegmentKind, ascend,
    ascend_with_safety_stop_alone, ascend_without_stops,
};
use crate::plan::Hang;
use crate::quantity::{ATM_BAR, AtmMinutes, BreathingRate, Depth, FreeVolume, RunTime, Time};
use crate::rules::DiveRules;
use crate::site::Mix;
use serde::Serialize;

/// The way up of an emergency that begins at one moment: sort-out at that depth, then up.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Emergency {
    /// Sort-out and a straight ascent without stops.
    pub direct: Vec<Segment>,
    /// Sort-out and the ascent with every stop.
    pub full: Vec<Segment>,
    /// Sort-out and a straight ascent with the safety stop, all of it on the bottom gas: where
    /// decompression gas is planned the least that counts, for else the need would fall as a dive
    /// grows past its no-stop limit. `None` where none is planned.
    pub least: Option<Vec<Segment>>,
    /// What it exposes the main cylinder to.
    pub exposure: EmergencyExposure,
    /// Whether [`Emergency::least`] takes more of the main cylinder than [`Emergency::full`].
    least_decides: bool,
}

impl Emergency {
    /// Sort-out at the depth of `from`, then up.
    ///
    /// # Errors
    /// [`ScheduleError`] where no way up can be worked out.
    pub(super) fn from(
        rules: &DiveRules,
        from: &Moment,
        sort_out: Time,
    ) -> Result<Self, ScheduleError> {
        let mut flight = Flight::resume(rules, from, rules.bottom_gas);
        flight.hold_until(SegmentKind::Level, from.run_time + sort_out);
        let after_sort_out = |way_up: Vec<Segment>| {
            let mut segments = flight.segments.clone();
            segments.extend(way_up);
            segments
        };
        let direct = after_sort_out(ascend_without_stops(rules, &flight.now));
        let full = after_sort_out(ascend(rules, &flight.now)?.segments);
        let least = (!rules.decompression.is_empty())
            .then(|| after_sort_out(ascend_with_safety_stop_alone(rules, &flight.now)));
        let on_main = |segments: &[Segment]| main_exposure(rules, segments);
        let of_full = on_main(&full);
        let of_least = least.as_deref().map_or(of_full, on_main);
        Ok(Self {
            exposure: EmergencyExposure {
                direct: on_main(&direct),
                full: of_full.max(of_least),
            },
            least_decides: of_least > of_full,
            direct,
            full,
            least,
        })
    }

    /// The way up that decides what the main cylinder must hold: [`Emergency::full`], or
    /// [`Emergency::least`] where that takes more of it.
    #[must_use]
    pub fn deciding(&self) -> &[Segment] {
        match &self.least {
            Some(least) if self.least_decides => least,
            _ => &self.full,
        }
    }
}

/// The end of a level: the diver there, and what an emergency there takes.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct LevelEnd {
    /// The diver on leaving it.
    pub moment: Moment,
    /// Exposure of every main cylinder up to then.
    pub used: AtmMinutes,
    /// An emergency that begins then.
    pub emergency: Emergency,
}

impl LevelEnd {
    /// Of every level of a dive, in order.
    ///
    /// # Errors
    /// [`ScheduleError`] where no way up can be worked out.
    pub(super) fn of_each(
        rules: &DiveRules,
        sort_out: Time,
        schedule: &Schedule,
    ) -> Result<Vec<Self>, ScheduleError> {
        let ends = schedule.level_ends.iter();
        ends.map(|end| {
            Ok(Self {
                moment: *end,
                used: exposure_until(rules, &schedule.way_down, end.run_time),
                emergency: Emergency::from(rules, end, sort_out)?,
            })
        })
        .collect()
    }

    /// The one at which an exposure is greatest, of equal ones the first.
    pub(crate) fn worst(ends: &[Self], of: impl Fn(&EmergencyExposure) -> AtmMinutes) -> usize {
        let mut worst = 0;
        for (index, end) in ends.iter().enumerate() {
            if of(&end.emergency.exposure) > of(&ends[worst].emergency.exposure) {
                worst = index;
            }
        }
        worst
    }
}

/// Exposure of the main cylinder in an emergency.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct EmergencyExposure {
    /// With a straight ascent without stops.
    pub direct: AtmMinutes,
    /// With every stop; see [`Emergency::deciding`].
    pub full: AtmMinutes,
}

/// Exposure of what is breathed from the main cylinder: the bottom gas.
pub(crate) fn main_exposure<'s>(
    rules: &DiveRules,
    segments: impl IntoIterator<Item = &'s Segment>,
) -> AtmMinutes {
    exposure_on(rules, segments, rules.bottom_gas)
}

/// Exposure of what is breathed of one gas.
pub(crate) fn exposure_on<'s>(
    rules: &DiveRules,
    segments: impl IntoIterator<Item = &'s Segment>,
    gas: Mix,
) -> AtmMinutes {
    segments
        .into_iter()
        .filter(|segment| segment.gas.is_same_gas(gas))
        .map(|segment| segment.exposure(&rules.environment))
        .sum()
}

/// What a hang takes of the main cylinder.
///
/// ```text
/// minutes · P(depth)/(1 atm)
/// ```
pub(crate) fn hang_exposure(rules: &DiveRules, hang: &Hang) -> AtmMinutes {
    let ambient = rules.environment.ambient(hang.depth).as_bar();
    AtmMinutes::from_atm_min(ambient / ATM_BAR * hang.time.as_min())
}

/// Run time and depth at which breathing one gas along segments has used a volume; `None` where
/// it never does.
///
/// ```text
/// V̇/(1 atm) · (P0·t + R·t²/2) = V      t = 2c/(P0 + √(P0² + 2·R·c))   c = V·(1 atm)/V̇
/// ```
pub(crate) fn used_up_at(
    rules: &DiveRules,
    segments: &[Segment],
    gas: Mix,
    breathing: BreathingRate,
    volume: FreeVolume,
) -> Option<(RunTime, Depth)> {
    let mut to_use = volume;
    for segment in segments
        .iter()
        .filter(|segment| segment.gas.is_same_gas(gas))
    {
        let used = breathing * segment.exposure(&rules.environment);
        if used >= to_use {
            let ambient = |depth| rules.environment.ambient(depth).as_bar();
            let (from, to) = (ambient(segment.from), ambient(segment.to));
            let rate = (to - from) / segment.time().as_min();
            let c = to_use.as_l() * ATM_BAR / breathing.as_l_min();
            let root = (from * from + 2.0 * rate * c).max(0.0).sqrt();
            let time = Time::from_min(2.0 * c / (from + root));
            let share = time.as_min() / segment.time().as_min();
            let depth = segment.from + segment.change() * share;
            return Some((segment.start + time, depth));
        }
        to_use = to_use - used;
    }
    None
}

/// Segments up to a run time; one that goes beyond it is cut there.
pub(crate) fn until(segments: &[Segment], run_time: RunTime) -> Vec<Segment> {
    let begun = segments.iter().filter(|segment| segment.start < run_time);
    let cut = begun.map(|segment| {
        if segment.end <= run_time {
            return *segment;
        }
        Segment {
            to: segment.depth_at(run_time),
            end: run_time,
            ..*segment
        }
    });
    cut.collect()
}

/// Exposure of the main cylinder along segments up to a run time.
pub(crate) fn exposure_until(
    rules: &DiveRules,
    segments: &[Segment],
    run_time: RunTime,
) -> AtmMinutes {
    main_exposure(rules, &until(segments, run_time))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

    use super::until;
    use crate::plan_file::read;
    use crate::quantity::{RunTime, Time};

    /// Two levels: what begins when the first is left is no part of the way there.
    #[test]
    fn the_way_up_to_a_moment_ends_with_what_ends_then() {
        let text = "[[profile.level]]\ndepth = \"18 m\"\ntime = \"20 min\"\n\
                    [[profile.level]]\ndepth = \"9 m\"\ntime = \"20 min\"";
        let way_down = read(text).unwrap().fly().unwrap().way_down;
        assert_eq!(way_down.len(), 4);
        for (parts, segment) in (1..).zip(&way_down) {
            assert_eq!(until(&way_down, segment.end), way_down[..parts]);
            let part = until(&way_down, segment.start + Time::from_min(0.5));
            assert_eq!(part.len(), parts);
            let last = part[parts - 1];
            assert!((last.time().as_min() - 0.5).abs() < 1e-12);
            assert!(last.to.is_at(segment.depth_at(last.end)));
        }
        assert!(until(&way_down, RunTime::SPLASH).is_empty());
    }
}
