//! What an emergency at one moment takes: the exposure of the sort-out and the way up, and the
//! same for every whole bottom time.

use crate::ascent;
use crate::gas_budget::{Hang, ReserveRules};
use crate::mix::Mix;
use crate::schedule::{
    DiveRules, Flight, Moment, SAME_MOMENT_MIN, Schedule, ScheduleError, Segment, SegmentKind,
};
use crate::units::{ATM_BAR, AtmMinutes, BreathingRate, Depth, FreeVolume, Time};

/// Gas limits are looked for up to this whole minute.
pub const GREATEST_LIMIT_MIN: u32 = 999;

/// The way up of an emergency that begins at one moment: sort-out at that depth, then up.
#[derive(Clone, Debug, PartialEq)]
pub struct Emergency {
    /// Sort-out and a straight ascent without stops.
    pub direct: Vec<Segment>,
    /// Sort-out and the ascent with every stop.
    pub full: Vec<Segment>,
}

impl Emergency {
    /// Sort-out at the depth of `from`, then up.
    ///
    /// # Errors
    /// As [`ascent::ascend`].
    pub fn from(rules: &DiveRules, from: &Moment, sort_out: Time) -> Result<Self, ScheduleError> {
        let mut flight = Flight::resume(rules, from, rules.bottom_gas);
        flight.hold_until(SegmentKind::Level, from.run_time + sort_out);
        let up = ascent::ascend(rules, &flight.now)?;
        let straight = ascent::ascend_without_stops(rules, &flight.now);
        let after_sort_out = |way_up: Vec<Segment>| {
            let mut segments = flight.segments.clone();
            segments.extend(way_up);
            segments
        };
        Ok(Self {
            direct: after_sort_out(straight),
            full: after_sort_out(up.segments),
        })
    }

    /// What it exposes the main cylinder to.
    #[must_use]
    pub fn exposure(&self, rules: &DiveRules, hang: Option<&Hang>) -> EmergencyExposure {
        let full = main_exposure(rules, &self.full);
        let hang = hang.filter(|hang| {
            let gas = hang_gas(rules, &self.full, hang);
            gas.is_same_gas(rules.bottom_gas)
        });
        EmergencyExposure {
            direct: main_exposure(rules, &self.direct),
            full,
            reserve: hang.map_or(full, |hang| full + hang_exposure(rules, hang)),
        }
    }
}

/// Exposure of the main cylinder in an emergency.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EmergencyExposure {
    /// With a straight ascent.
    pub direct: AtmMinutes,
    /// With every stop.
    pub full: AtmMinutes,
    /// With every stop and the hang: what the reserve must hold.
    pub reserve: AtmMinutes,
}

impl EmergencyExposure {
    const NONE: Self = Self {
        direct: AtmMinutes::from_atm_min(0.0),
        full: AtmMinutes::from_atm_min(0.0),
        reserve: AtmMinutes::from_atm_min(0.0),
    };

    pub(crate) fn worst(self, other: Self) -> Self {
        Self {
            direct: self.direct.max(other.direct),
            full: self.full.max(other.full),
            reserve: self.reserve.max(other.reserve),
        }
    }

    /// The worst over several moments, each need by itself.
    pub(crate) fn worst_of(
        rules: &DiveRules,
        reserve: &ReserveRules,
        moments: &[Moment],
    ) -> Result<Self, ScheduleError> {
        let mut worst = Self::NONE;
        for moment in moments {
            let emergency = Emergency::from(rules, moment, reserve.sort_out)?;
            worst = worst.worst(emergency.exposure(rules, reserve.hang.as_ref()));
        }
        Ok(worst)
    }
}

/// Exposure of what is breathed from the main cylinder: the bottom gas.
pub(crate) fn main_exposure(rules: &DiveRules, segments: &[Segment]) -> AtmMinutes {
    exposure_on(rules, segments, rules.bottom_gas)
}

pub(crate) fn exposure_on(rules: &DiveRules, segments: &[Segment], gas: Mix) -> AtmMinutes {
    segments
        .iter()
        .filter(|segment| segment.gas.is_same_gas(gas))
        .map(|segment| segment.exposure(&rules.environment))
        .sum()
}

/// What a hang takes of the gas that is breathed there.
///
/// ```text
/// minutes · P(depth)/(1 atm)
/// ```
pub(crate) fn hang_exposure(rules: &DiveRules, hang: &Hang) -> AtmMinutes {
    let ambient = rules.environment.ambient(hang.depth).as_bar();
    AtmMinutes::from_atm_min(ambient / ATM_BAR * hang.time.as_min())
}

/// The gas in use on a way up at the depth of a hang; where the way up starts shallower, the
/// bottom gas.
pub(crate) fn hang_gas(rules: &DiveRules, way_up: &[Segment], hang: &Hang) -> Mix {
    let passes = |segment: &&Segment| {
        let deep_enough = segment.from.as_m() >= hang.depth.as_m() - 1e-9;
        deep_enough && segment.to.as_m() <= hang.depth.as_m() + 1e-9
    };
    way_up
        .iter()
        .rfind(passes)
        .map_or(rules.bottom_gas, |segment| segment.gas)
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
) -> Option<(Time, Depth)> {
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
            let depth = segment.from + (segment.to - segment.from) * share;
            return Some((segment.start + time, depth));
        }
        to_use = to_use - used;
    }
    None
}

/// The dive with its last level stretched or cut to every whole bottom time, reckoned once for
/// the team and only as far as somebody asks.
pub(crate) struct BottomTimeSweep<'a> {
    rules: &'a DiveRules,
    reserve: &'a ReserveRules,
    /// The diver on arriving at the last level.
    arrival: Moment,
    /// Exposure up to that arrival.
    exposure_to_arrival: AtmMinutes,
    /// Worst emergency over the ends of the earlier levels.
    earlier: EmergencyExposure,
    /// First whole minute not before the arrival.
    first: u32,
    rows: Vec<Option<SweepRow>>,
}

/// One whole bottom time.
#[derive(Clone, Copy)]
pub(crate) struct SweepRow {
    /// Exposure on leaving the bottom.
    pub(crate) leaving: AtmMinutes,
    /// Worst emergency over all level ends.
    pub(crate) emergency: EmergencyExposure,
}

impl<'a> BottomTimeSweep<'a> {
    pub(crate) fn new(
        rules: &'a DiveRules,
        reserve: &'a ReserveRules,
        schedule: &Schedule,
    ) -> Result<Self, ScheduleError> {
        let arrival = schedule.last_arrival;
        let before_last = schedule
            .level_ends
            .split_last()
            .map_or(&[][..], |(_, rest)| rest);
        let exposure_to_arrival = schedule
            .way_down
            .iter()
            .take_while(|segment| segment.start < arrival.run_time)
            .map(|segment| segment.exposure(&rules.environment))
            .sum();
        Ok(Self {
            rules,
            reserve,
            exposure_to_arrival,
            earlier: EmergencyExposure::worst_of(rules, reserve, before_last)?,
            first: first_whole_minute(arrival.run_time),
            arrival,
            rows: Vec::new(),
        })
    }

    /// The greatest whole minute up to which every bottom time passes; 0 if the first does not.
    pub(crate) fn greatest(&mut self, passes: impl Fn(&SweepRow) -> bool) -> u32 {
        let mut greatest = 0;
        for minute in self.first..=GREATEST_LIMIT_MIN {
            match self.row(minute) {
                Some(row) if passes(&row) => greatest = minute,
                _ => break,
            }
        }
        greatest
    }

    /// `None` where the ascent from there cannot be scheduled.
    fn row(&mut self, minute: u32) -> Option<SweepRow> {
        let index = (minute - self.first) as usize;
        while self.rows.len() <= index {
            let next = self.first + u32::try_from(self.rows.len()).ok()?;
            let row = self.reckon(next);
            self.rows.push(row);
        }
        self.rows[index]
    }

    fn reckon(&self, minute: u32) -> Option<SweepRow> {
        let mut flight = Flight::resume(self.rules, &self.arrival, self.rules.bottom_gas);
        flight.hold_until(SegmentKind::Level, Time::from_min(f64::from(minute)));
        let leaving = self.exposure_to_arrival + main_exposure(self.rules, &flight.segments);
        let here = Emergency::from(self.rules, &flight.now, self.reserve.sort_out).ok()?;
        let here = here.exposure(self.rules, self.reserve.hang.as_ref());
        Some(SweepRow {
            leaving,
            emergency: here.worst(self.earlier),
        })
    }
}

/// The first whole minute not before a run time.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "run times are non-negative; one past u32 saturates, which is past every limit"
)]
fn first_whole_minute(run_time: Time) -> u32 {
    (run_time.as_min() - SAME_MOMENT_MIN).ceil() as u32
}
