//! Readings one after the other, whoever wrote them: what passes, what is mended, what is refused.

use crate::quantity::{Depth, GaugePressure, Kind, Time, UnitSystem};
use crate::rules::ranges::{Accepted, LOGGED_DEPTH, LOGGED_PRESSURE, LOGGED_TIME};

use super::log::{MOST_READINGS, Reading, ReadingFault, RecordError, SampledLog};

/// What one row or waypoint says; a gas by whatever tells gases apart there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Said<G> {
    pub(super) time: Time,
    /// Above the surface negative.
    pub(super) depth: Depth,
    pub(super) pressure: Option<GaugePressure>,
    pub(super) gas: Option<G>,
}

/// Units that messages are in: those of the record.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shown {
    pub(super) in_seconds: bool,
    pub(super) depth: UnitSystem,
    pub(super) pressure: UnitSystem,
}

/// The readings of one dive, as they come.
pub(super) struct Series<G> {
    /// What it is called in a message, and the line where it begins.
    name: String,
    line: u64,
    shown: Shown,
    /// So many readings may come.
    room: usize,
    began: Option<Time>,
    last: Option<(u64, Said<G>)>,
    readings: Vec<Reading>,
    faults: Vec<ReadingFault>,
}

impl<G: Copy + PartialEq> Series<G> {
    pub(super) const fn new(name: String, line: u64, shown: Shown, room: usize) -> Self {
        Self {
            name,
            line,
            shown,
            room,
            began: None,
            last: None,
            readings: Vec::new(),
            faults: Vec::new(),
        }
    }

    /// How many readings there are.
    pub(super) const fn len(&self) -> usize {
        self.readings.len()
    }

    /// Takes what a line says. Gives the new reading, still without a gas; none where the line
    /// says exactly what the one before does.
    pub(super) fn push(
        &mut self,
        line: u64,
        said: Said<G>,
    ) -> Result<Option<&mut Reading>, RecordError> {
        self.check_time(line, said.time)?;
        self.check_range(line, &LOGGED_DEPTH, said.depth.as_m(), self.shown.depth)?;
        if let Some(pressure) = said.pressure {
            let units = self.shown.pressure;
            self.check_range(line, &LOGGED_PRESSURE, pressure.as_bar(), units)?;
        }
        if let Some((earlier, last)) = self.last
            && !said.time.is_over(last.time)
        {
            if said == last {
                self.note(ReadingFault::Repeated { line });
                return Ok(None);
            }
            return Err(self.refuse_order(line, said.time, earlier, last.time));
        }
        if self.readings.len() == self.room {
            let message = format!("the file has more than {MOST_READINGS} readings");
            let accepted = format!("up to {MOST_READINGS} readings; take out the other dives");
            return Err(RecordError::new(Some(line), message, accepted));
        }
        self.last = Some((line, said));
        self.began.get_or_insert(said.time);
        let mut reading = Reading::new(said.time, self.under_water(line, said.depth), line);
        reading.pressure = said.pressure;
        self.readings.push(reading);
        Ok(self.readings.last_mut())
    }

    fn check_time(&self, line: u64, time: Time) -> Result<(), RecordError> {
        let began = self.began.unwrap_or(time);
        let since = time - began;
        if time.as_min().is_finite() && since.as_min() <= LOGGED_TIME.greatest {
            return Ok(());
        }
        let hours = LOGGED_TIME.greatest / 60.0;
        let found = self.time(time);
        let began = self.time(began);
        let message = format!("the time is {found}, over {hours} h after the first, {began}");
        let accepted = format!("one dive, of {hours} h at most; take out what is not of it");
        Err(RecordError::new(Some(line), message, accepted).about("time"))
    }

    fn check_range(
        &self,
        line: u64,
        accepted: &Accepted,
        value: f64,
        units: UnitSystem,
    ) -> Result<(), RecordError> {
        if accepted.contains(value) {
            return Ok(());
        }
        let found = cut_number(&accepted.kind.written(value, units));
        let message = format!("the {} is {found}", accepted.name);
        let range = accepted.kind.range(accepted.least, accepted.greatest);
        Err(RecordError::new(Some(line), message, range).about(accepted.name))
    }

    fn refuse_order(&self, line: u64, time: Time, earlier: u64, last: Time) -> RecordError {
        let (found, before) = (self.time(time), self.time(last));
        let message = if time.is_at(last) {
            format!("the time {found} stands on line {earlier} too, and the lines differ")
        } else {
            format!("the time {found} comes after {before} on line {earlier}")
        };
        let accepted = "times that grow from reading to reading, of one dive";
        RecordError::new(Some(line), message, accepted).about("time")
    }

    fn under_water(&mut self, line: u64, depth: Depth) -> Depth {
        if depth.is_above(Depth::SURFACE) {
            let by = Depth::from_m(-depth.as_m());
            self.note(ReadingFault::AboveSurface { line, by });
        }
        depth.max(Depth::SURFACE)
    }

    /// The first fault of each kind is kept.
    pub(super) fn note(&mut self, fault: ReadingFault) {
        let kind = std::mem::discriminant(&fault);
        let is_known = |known: &ReadingFault| std::mem::discriminant(known) == kind;
        if !self.faults.iter().any(is_known) {
            self.faults.push(fault);
        }
    }

    fn time(&self, time: Time) -> String {
        let (value, unit) = if self.shown.in_seconds {
            (time.as_min() * 60.0, "s")
        } else {
            (time.as_min(), "min")
        };
        cut_number(&format!("{} {unit}", (value * 1e4).round() / 1e4))
    }

    /// Gauge before and after the dive, where no reading has any.
    pub(super) fn set_ends(&mut self, begin: Option<GaugePressure>, end: Option<GaugePressure>) {
        let knows = |reading: &Reading| reading.pressure.is_some();
        if self.readings.iter().any(knows) {
            return;
        }
        // The last one first: what was there before is what a lone reading shows.
        if let Some(last) = self.readings.last_mut() {
            last.pressure = end;
        }
        if let Some(first) = self.readings.first_mut() {
            first.pressure = begin.or(first.pressure);
        }
    }

    /// A pressure that no reading has, checked as theirs are.
    pub(super) fn check_pressure(&self, line: u64, bar: f64) -> Result<(), RecordError> {
        self.check_range(line, &LOGGED_PRESSURE, bar, self.shown.pressure)
    }

    /// The log of all readings; nobody's yet.
    pub(super) fn finish(self) -> Result<SampledLog, RecordError> {
        let accepted = "a dive: at least two readings, one of them deeper than 0.3 m";
        let refuse = |what: String| {
            let message = format!("{} {what}", self.name);
            Err(RecordError::new(Some(self.line), message, accepted))
        };
        if self.readings.len() < 2 {
            return refuse(match self.readings.len() {
                0 => "has no reading".to_owned(),
                _ => "has one reading alone".to_owned(),
            });
        }
        let depths = self.readings.iter().map(|reading| reading.depth);
        let deepest = depths.fold(Depth::SURFACE, Depth::max);
        if !deepest.is_below(SampledLog::SURFACE_BAND) {
            let found = Kind::Depth.written(deepest.as_m(), self.shown.depth);
            return refuse(format!(
                "never goes under water: its greatest depth is {found}"
            ));
        }
        let mut log = SampledLog::new(self.readings);
        log.faults = self.faults;
        log.faults.sort_by_key(ReadingFault::line);
        Ok(log)
    }
}

/// A number may have three hundred digits.
fn cut_number(text: &str) -> String {
    text.chars().take(40).collect()
}
