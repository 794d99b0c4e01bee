//! A dive under way: how segments are flown, one after the other.

use super::segment::{Moment, Segment, SegmentKind};
use crate::quantity::{Depth, RunTime, Speed, Time};
use crate::rules::DiveRules;
use crate::site::Mix;
use crate::tissue::Tissues;

/// A dive under way: where the diver is, the segments flown so far, and the diver at the end of
/// each.
#[derive(Clone, Debug)]
pub(crate) struct Flight<'a> {
    rules: &'a DiveRules,
    pub(crate) now: Moment,
    pub(crate) gas: Mix,
    pub(crate) segments: Vec<Segment>,
    pub(crate) ends: Vec<Moment>,
    /// Whether anybody asks for `ends`.
    keeps_ends: bool,
}

impl<'a> Flight<'a> {
    pub(crate) fn start(rules: &'a DiveRules, tissues: &Tissues) -> Self {
        Self::resume(rules, &Moment::splash(*tissues), rules.bottom_gas)
    }

    pub(crate) const fn resume(rules: &'a DiveRules, from: &Moment, gas: Mix) -> Self {
        Self {
            rules,
            now: *from,
            gas,
            segments: Vec::new(),
            ends: Vec::new(),
            keeps_ends: true,
        }
    }

    /// Keeps no diver at the ends of segments: for whom `now` and the segments are enough.
    pub(super) fn without_ends(mut self) -> Self {
        self.keeps_ends = false;
        self
    }

    /// Where the diver would be after travelling to a depth; nothing is flown yet.
    pub(crate) fn trial(&self, to: Depth, rate: Speed) -> Moment {
        let distance = (to - self.now.depth).as_m().abs();
        let time = Time::from_min(distance / rate.as_m_min());
        self.moment_after(to, self.now.run_time + time, time)
    }

    /// Travels to a depth.
    pub(crate) fn travel(&mut self, kind: SegmentKind, to: Depth, rate: Speed) {
        let arrival = self.trial(to, rate);
        self.take(kind, &arrival);
    }

    /// Flies to a moment that [`Flight::trial`] gave.
    pub(crate) fn take(&mut self, kind: SegmentKind, arrival: &Moment) {
        let segment = Segment {
            kind,
            from: self.now.depth,
            to: arrival.depth,
            start: self.now.run_time,
            end: arrival.run_time,
            gas: self.gas,
        };
        self.now = *arrival;
        if segment.end.is_after(segment.start) {
            self.push(&segment);
        }
    }

    /// Has held the depth until a run time, with such tissues in the end.
    pub(super) fn has_held(&mut self, kind: SegmentKind, end: RunTime, tissues: &Tissues) {
        let segment = Segment {
            kind,
            from: self.now.depth,
            to: self.now.depth,
            start: self.now.run_time,
            end,
            gas: self.gas,
        };
        self.now.run_time = end;
        self.now.tissues = *tissues;
        if segment.end.is_after(segment.start) {
            self.push(&segment);
        }
    }

    /// Holds the depth until a run time; does nothing where that is now or past.
    pub(crate) fn hold_until(&mut self, kind: SegmentKind, end: RunTime) {
        self.go(kind, self.now.depth, end);
    }

    /// Goes to a depth, arriving at a run time.
    pub(crate) fn go(&mut self, kind: SegmentKind, to: Depth, end: RunTime) {
        let arrival = self.moment_after(to, end, end - self.now.run_time);
        self.take(kind, &arrival);
    }

    /// So many more segments are likely.
    pub(super) fn expect(&mut self, segments: usize) {
        self.segments.reserve(segments);
        if self.keeps_ends {
            self.ends.reserve(segments);
        }
    }

    /// Flies what somebody else has flown on from here.
    pub(super) fn append(&mut self, segments: &[Segment], ends: &[Moment]) {
        let ((Some((segment, later)), Some((end, later_ends))), Some(last)) =
            ((segments.split_first(), ends.split_first()), ends.last())
        else {
            return;
        };
        self.expect(segments.len());
        // What follows on the first has been joined where it is to be.
        self.now = *end;
        self.push(segment);
        self.segments.extend_from_slice(later);
        self.ends.extend_from_slice(later_ends);
        self.now = *last;
    }

    /// Neighbouring ascents on one gas with no pause between them become one. It ends now.
    fn push(&mut self, segment: &Segment) {
        if let Some(last) = self.segments.last_mut()
            && last.kind == SegmentKind::Ascent
            && segment.kind == SegmentKind::Ascent
            && last.gas.is_same_gas(segment.gas)
        {
            (last.to, last.end) = (segment.to, segment.end);
            if let Some(end) = self.ends.last_mut() {
                *end = self.now;
            }
            return;
        }
        self.segments.push(*segment);
        if self.keeps_ends {
            self.ends.extend_from_slice(std::slice::from_ref(&self.now));
        }
    }

    fn moment_after(&self, to: Depth, run_time: RunTime, time: Time) -> Moment {
        let environment = &self.rules.environment;
        let tissues = self.now.tissues.after(
            &self.rules.compartments,
            self.gas,
            environment.ambient(self.now.depth),
            environment.ambient(to),
            time,
        );
        Moment {
            run_time,
            depth: to,
            deepest: self.now.deepest.max(to),
            tissues,
        }
    }
}
