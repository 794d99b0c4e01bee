//! The same dive left at any time: what the main cylinder and the others are exposed to.

use super::need::{LevelEnd, exposure_on, exposure_until, main_exposure};
use crate::dive::{
    Ascent, Flight, Moment, Prepared, Schedule, ScheduleError, Segment, SegmentKind,
    ascend_with_safety_stop_alone, ascend_without_ends,
};
use crate::quantity::{AtmMinutes, RunTime, Time};
use crate::rules::DiveRules;
use crate::site::Mix;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Dives left later than at this whole minute are flown each time anew.
const GREATEST_KEPT: u32 = 2048;
/// A stretch of dives without stops is looked for in strides of so many minutes at first.
const STRIDE_MIN: f64 = 16.0;
/// No such stretch is longer, minutes: as long as any bottom time that is looked at.
const LONGEST_STRETCH_MIN: f64 = 1024.0;

/// What the main cylinder is exposed to up to leaving a level, and in an emergency there.
#[derive(Clone, Copy)]
pub(crate) struct EndExposure {
    pub(crate) used: AtmMinutes,
    /// With every stop; see [`Emergency::deciding`](super::Emergency::deciding).
    pub(crate) emergency: AtmMinutes,
}

impl From<&LevelEnd> for EndExposure {
    fn from(end: &LevelEnd) -> Self {
        Self {
            used: end.used,
            emergency: end.emergency.exposure.full,
        }
    }
}

/// A dive that is left at one time.
pub(crate) struct Cut<'s> {
    /// The level ends before, as planned.
    pub(crate) before: &'s [EndExposure],
    /// Where it is left.
    pub(crate) here: EndExposure,
    /// The planned way up from there.
    pub(crate) way_up: &'s WayUp,
}

impl Cut<'_> {
    /// The worst emergency over all its level ends.
    pub(crate) fn worst_emergency(&self) -> AtmMinutes {
        let before = self.before.iter().map(|end| end.emergency);
        before.fold(self.here.emergency, AtmMinutes::max)
    }

    /// What the main cylinder is exposed to from the surface back to it.
    pub(crate) fn whole(&self) -> AtmMinutes {
        let way_up = self.way_up.main.iter();
        way_up.fold(self.here.used, |sum, exposure| sum + *exposure)
    }
}

/// A planned way up, as far as gas goes.
#[derive(Clone, Default)]
pub(crate) struct WayUp {
    /// Whether it is staged.
    pub(crate) staged: bool,
    /// Exposures of the main cylinder, in order.
    main: Vec<AtmMinutes>,
    /// Exposure of each decompression gas of the rules that is breathed.
    pub(crate) stages: Vec<(Mix, AtmMinutes)>,
    /// The gas that is switched to first.
    pub(crate) switched_to: Option<Mix>,
}

impl WayUp {
    fn of(rules: &DiveRules, ascent: &Ascent) -> Self {
        let segments = ascent.segments.as_slice();
        let on_main = segments
            .iter()
            .filter(|segment| segment.gas.is_same_gas(rules.bottom_gas));
        let breathed = |gas: &&Mix| {
            let mut gases = segments.iter().map(|segment| segment.gas);
            !gas.is_same_gas(rules.bottom_gas) && gases.any(|breathed| breathed.is_same_gas(**gas))
        };
        let stages = rules.decompression.iter().filter(breathed);
        Self {
            staged: ascent.staged,
            main: on_main
                .map(|segment| segment.exposure(&rules.environment))
                .collect(),
            stages: stages
                .map(|gas| (*gas, exposure_on(rules, segments, *gas)))
                .collect(),
            switched_to: switched_to(rules, segments),
        }
    }

    /// What it takes of the main cylinder.
    pub(crate) fn main(&self) -> AtmMinutes {
        self.main.iter().copied().sum()
    }
}

/// A dive that is left at one time, or why there is none.
pub(crate) enum Left<'s> {
    /// In the travel between two levels: no dive ends there.
    Travelling,
    /// No way up can be worked out.
    Unschedulable(NoWayUp),
    /// At a level.
    At(Cut<'s>),
}

/// Why no way up can be worked out.
#[derive(Clone, Copy)]
pub(crate) struct NoWayUp {
    /// What is found looking at an emergency first.
    pub(crate) emergency: ScheduleError,
    /// What is found looking at the planned way up first.
    pub(crate) planned: ScheduleError,
}

enum Row {
    Travelling,
    Unschedulable(NoWayUp),
    At {
        level: usize,
        here: EndExposure,
        way_up: Rc<WayUp>,
    },
}

/// Dives that are left from one moment of a level to another, none of which makes a stop.
struct NoStops {
    from: RunTime,
    to: RunTime,
    emergency: AtmMinutes,
    way_up: Rc<WayUp>,
}

struct Span {
    start: RunTime,
    arrival: Moment,
    used_on_arrival: AtmMinutes,
    /// Of the least that counts in an emergency, where decompression gas is planned.
    least: Option<AtmMinutes>,
    no_stops: Option<NoStops>,
    /// Ways up from it at whole minutes that somebody has asked for, and that others will.
    ways_up: BTreeMap<u32, Result<Rc<WayUp>, ScheduleError>>,
}

/// The dive left at any time, worked out once for the team and only as far as somebody asks. A
/// bottom time beyond the plan's stretches the last level; a shorter one cuts the profile where it
/// falls: in a level, that level ends there and the later ones are dropped.
///
/// As long as no dive makes a stop their ways up are the same, and only the time at the level is
/// not. Between two moments at one depth each compartment holds no more than the more that it holds
/// at the two, as each goes one way; and who may go straight up with that, at once and after the
/// sort-out, may with less. That is so with nitrogen alone: with helium every dive is flown.
pub(crate) struct BottomTimes<'a> {
    rules: &'a DiveRules,
    sort_out: Time,
    spans: Vec<Span>,
    ends: Vec<EndExposure>,
    /// First whole minute not before the arrival at the first level.
    first: u32,
    planned: RunTime,
    planned_switch: Option<Mix>,
    prepared: Prepared<'a>,
    /// At some other time, then at whole minutes from 0.
    kept: Vec<Option<Row>>,
}

impl<'a> BottomTimes<'a> {
    pub(crate) fn new(
        rules: &'a DiveRules,
        sort_out: Time,
        schedule: &Schedule,
        ends: &[LevelEnd],
    ) -> Self {
        let starts = schedule.level_ends.iter().map(|end| end.run_time);
        let starts = std::iter::once(RunTime::SPLASH).chain(starts);
        let spans: Vec<Span> = starts
            .zip(&schedule.arrivals)
            .map(|(start, arrival)| Span {
                start,
                arrival: *arrival,
                used_on_arrival: exposure_until(rules, &schedule.way_down, arrival.run_time),
                least: None,
                no_stops: None,
                ways_up: BTreeMap::new(),
            })
            .collect();
        let first = spans
            .first()
            .map_or(RunTime::SPLASH, |span| span.arrival.run_time);
        Self {
            rules,
            sort_out,
            first: first_whole_minute(first),
            spans,
            ends: ends.iter().map(EndExposure::from).collect(),
            planned: schedule.leave_bottom(),
            planned_switch: switched_to(rules, &schedule.way_up),
            prepared: Prepared::new(rules, &schedule.start.tissues),
            kept: Vec::new(),
        }
    }

    /// The first whole minute at which the dive may be left.
    pub(crate) const fn first(&self) -> u32 {
        self.first
    }

    /// When it is left as planned.
    pub(crate) const fn planned(&self) -> RunTime {
        self.planned
    }

    /// The gas that it switches to first as planned.
    pub(crate) const fn planned_switch(&self) -> Option<Mix> {
        self.planned_switch
    }

    /// When it is left if the last level lasts so long, travel included.
    pub(crate) fn last_level_for(&self, time: Time) -> RunTime {
        let last = self.spans.last().map_or(RunTime::SPLASH, |span| span.start);
        last + time
    }

    /// The dive left at a run time; kept where that is a whole minute.
    pub(crate) fn left_at(&mut self, leave: RunTime) -> Left<'_> {
        let minute = first_whole_minute(leave);
        let kept = RunTime::from_min(f64::from(minute)) == leave && minute <= GREATEST_KEPT;
        let index = if kept {
            1 + minute as usize
        } else {
            self.kept.first_mut().map(Option::take);
            0
        };
        if self.kept.len() <= index {
            self.kept.resize_with(index + 1, || None);
        }
        if self.kept[index].is_none() {
            self.kept[index] = Some(self.work_out(leave));
        }
        match &self.kept[index] {
            None | Some(Row::Travelling) => Left::Travelling,
            Some(Row::Unschedulable(why)) => Left::Unschedulable(*why),
            Some(Row::At {
                level,
                here,
                way_up,
            }) => Left::At(Cut {
                before: &self.ends[..*level],
                here: *here,
                way_up,
            }),
        }
    }

    fn work_out(&mut self, leave: RunTime) -> Row {
        let begun = |span: &Span| leave.is_after(span.start);
        let level = self.spans.iter().rposition(begun).unwrap_or(0);
        let Some(span) = self.spans.get(level) else {
            return Row::Travelling;
        };
        if span.arrival.run_time.is_after(leave) {
            return Row::Travelling;
        }
        let rules = self.rules;
        let stay = Segment {
            kind: SegmentKind::Level,
            from: span.arrival.depth,
            to: span.arrival.depth,
            start: span.arrival.run_time,
            end: leave,
            gas: rules.bottom_gas,
        };
        let used = span.used_on_arrival + stay.exposure(&rules.environment);
        if let Some(known) = &span.no_stops
            && known.from <= leave
            && leave <= known.to
        {
            let (emergency, way_up) = (known.emergency, Rc::clone(&known.way_up));
            let here = EndExposure { used, emergency };
            return Row::At {
                level,
                here,
                way_up,
            };
        }
        let moment = self.moment(level, leave);
        let emergency = self.emergency(level, &moment);
        let way_up = self.way_up(level, &moment);
        let (emergency, way_up) = match (emergency, way_up) {
            (Ok(emergency), Ok(way_up)) => (emergency, way_up),
            (Err(emergency), Err(planned)) => {
                return Row::Unschedulable(NoWayUp { emergency, planned });
            }
            (Err(error), Ok(_)) | (Ok(_), Err(error)) => {
                return Row::Unschedulable(NoWayUp {
                    emergency: error,
                    planned: error,
                });
            }
        };
        if !way_up.staged && self.makes_no_stop(&moment) {
            let to = self.no_stops_until(level, &moment);
            self.spans[level].no_stops = Some(NoStops {
                from: leave,
                to,
                emergency,
                way_up: Rc::clone(&way_up),
            });
        }
        Row::At {
            level,
            here: EndExposure { used, emergency },
            way_up,
        }
    }

    /// What the main cylinder is exposed to in an emergency on leaving a level, as
    /// [`Emergency`](super::Emergency) has it.
    fn emergency(&mut self, level: usize, moment: &Moment) -> Result<AtmMinutes, ScheduleError> {
        let rules = self.rules;
        let sorted_out = self.sorted_out(moment);
        let full = self.way_up(level, &sorted_out.now)?;
        let sort_out = main_exposure(rules, &sorted_out.segments);
        let of_full = full.main.iter().fold(sort_out, |sum, part| sum + *part);
        if rules.decompression.is_empty() {
            return Ok(of_full);
        }
        // It is the same whenever the level is left.
        let of_least = *self.spans[level].least.get_or_insert_with(|| {
            let way_up = ascend_with_safety_stop_alone(rules, &sorted_out.now);
            main_exposure(rules, sorted_out.segments.iter().chain(&way_up))
        });
        Ok(of_full.max(of_least))
    }

    /// The way up from a moment at a level. That after a sort-out of whole minutes is the one of a
    /// dive left so much later, and flown once.
    fn way_up(&mut self, level: usize, moment: &Moment) -> Result<Rc<WayUp>, ScheduleError> {
        let minute = first_whole_minute(moment.run_time);
        let whole = RunTime::from_min(f64::from(minute)) == moment.run_time;
        if !whole || minute > GREATEST_KEPT {
            return flown_up(&mut self.prepared, moment);
        }
        if let Some(known) = self.spans[level].ways_up.get(&minute) {
            return known.clone();
        }
        let moment = self.moment(level, moment.run_time);
        let way_up = flown_up(&mut self.prepared, &moment);
        self.spans[level].ways_up.insert(minute, way_up.clone());
        way_up
    }

    /// The flight from leaving a level through the sort-out.
    fn sorted_out(&self, moment: &Moment) -> Flight<'a> {
        let mut flight = Flight::resume(self.rules, moment, self.rules.bottom_gas);
        flight.hold_until(SegmentKind::Level, moment.run_time + self.sort_out);
        flight
    }

    /// The diver on leaving a level.
    fn moment(&self, level: usize, leave: RunTime) -> Moment {
        let arrival = &self.spans[level].arrival;
        let mut flight = Flight::resume(self.rules, arrival, self.rules.bottom_gas);
        flight.hold_until(SegmentKind::Level, leave);
        flight.now
    }

    /// Whether there is a way up without stops from a moment, at once and after the sort-out; never
    /// where helium is in play.
    fn makes_no_stop(&mut self, moment: &Moment) -> bool {
        let sorted_out = self.sorted_out(moment).now;
        let mut without = |from: &Moment| {
            ascend_without_ends(&mut self.prepared, from).is_ok_and(|way_up| !way_up.staged)
        };
        moment.tissues.know_nitrogen_alone(self.rules.bottom_gas)
            && without(moment)
            && without(&sorted_out)
    }

    /// Up to when surely no dive makes a stop that is left at a level from a moment on at which none
    /// does.
    fn no_stops_until(&mut self, level: usize, from: &Moment) -> RunTime {
        let end = from.run_time + Time::from_min(LONGEST_STRETCH_MIN);
        let end = self.spans.get(level + 1).map_or(end, |next| next.start);
        let mut now = *from;
        let mut stride = STRIDE_MIN;
        let mut growing = true;
        while stride >= 1.0 {
            let leave = now.run_time + Time::from_min(stride);
            let then = (!leave.is_after(end)).then(|| self.moment(level, leave));
            let sure = then.filter(|then| {
                let tissues = now.tissues.most(&then.tissues);
                self.makes_no_stop(&Moment { tissues, ..*then })
            });
            match sure {
                Some(then) => now = then,
                None => growing = false,
            }
            stride *= if growing { 2.0 } else { 0.5 };
        }
        now.run_time
    }
}

fn flown_up(prepared: &mut Prepared<'_>, from: &Moment) -> Result<Rc<WayUp>, ScheduleError> {
    let way_up = ascend_without_ends(prepared, from)?;
    Ok(Rc::new(WayUp::of(prepared.rules(), &way_up)))
}

fn switched_to(rules: &DiveRules, way_up: &[Segment]) -> Option<Mix> {
    let mut gases = way_up.iter().map(|segment| segment.gas);
    gases.find(|gas| !gas.is_same_gas(rules.bottom_gas))
}

/// The first whole minute not before a run time.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "run times are non-negative; one past u32 saturates, which is past every limit"
)]
fn first_whole_minute(run_time: RunTime) -> u32 {
    run_time.whole_minute_up().as_min() as u32
}
