//! One `dive` of a UDDF file while it is read.

use crate::quantity::{Depth, GaugePressure, Time, UnitSystem};

use super::super::checks::{Said, Series, Shown};
use super::super::log::{LoggedAt, RecordError, SampledLog};
use super::element::Element;
use super::value::Value;

/// Pascals in a bar.
const PA_PER_BAR: f64 = 1e5;

/// A dive so far.
pub(super) struct Dive {
    /// Which of its file, from 1.
    number: usize,
    begins: Option<LoggedAt>,
    series: Series<usize>,
    /// Which reading names which gas, by the gas's number.
    switches: Vec<(usize, usize)>,
    /// The main cylinder: the first that a waypoint names, or the one without a name.
    main: Option<Option<String>>,
    waypoint: Waypoint,
    waypoints: usize,
    tanks: usize,
    before: Option<GaugePressure>,
    after: Option<GaugePressure>,
}

/// A dive read to its end, the gases still by number.
pub(super) struct Logged {
    pub(super) log: SampledLog,
    pub(super) switches: Vec<(usize, usize)>,
}

/// A waypoint so far.
#[derive(Default)]
struct Waypoint {
    line: u64,
    time: Option<Time>,
    depth: Option<Depth>,
    pressure: Option<GaugePressure>,
    gas: Option<usize>,
    /// Whether the pressure that is being read is the main cylinder's.
    is_main: bool,
}

impl Dive {
    pub(super) fn new(number: usize, line: u64, room: usize) -> Self {
        let shown = Shown {
            in_seconds: true,
            depth: UnitSystem::Metric,
            pressure: UnitSystem::Metric,
        };
        Self {
            number,
            begins: None,
            series: Series::new(format!("dive {number} of the file"), line, shown, room),
            switches: Vec::new(),
            main: None,
            waypoint: Waypoint::default(),
            waypoints: 0,
            tanks: 0,
            before: None,
            after: None,
        }
    }

    pub(super) fn begin_waypoint(&mut self, line: u64) {
        self.waypoints += 1;
        self.waypoint = Waypoint {
            line,
            ..Waypoint::default()
        };
    }

    pub(super) const fn begin_tank(&mut self) {
        self.tanks += 1;
    }

    /// A pressure of the cylinder of that name follows.
    pub(super) fn begin_pressure(&mut self, tank: Option<&str>) {
        let main = self.main.get_or_insert_with(|| tank.map(str::to_owned));
        self.waypoint.is_main = main.as_deref() == tank;
    }

    /// The waypoint goes on with the gas of that number.
    pub(super) fn switch(&mut self, gas: usize, value: Value<'_>) -> Result<(), RecordError> {
        value.once(&mut self.waypoint.gas, gas)
    }

    /// What an element holds.
    pub(super) fn set(&mut self, element: Element, value: Value<'_>) -> Result<(), RecordError> {
        match element {
            Element::DateTime => {
                if let Some(moment) = value.moment()? {
                    value.once(&mut self.begins, moment)?;
                }
            }
            Element::DiveTime => {
                let time = Time::from_min(value.amount("seconds")? / 60.0);
                value.once(&mut self.waypoint.time, time)?;
            }
            Element::Depth => {
                let depth = Depth::from_m(value.number("metres")?);
                value.once(&mut self.waypoint.depth, depth)?;
            }
            Element::TankPressure => {
                let pressure = pressure(value)?;
                if self.waypoint.is_main {
                    value.once(&mut self.waypoint.pressure, pressure)?;
                }
            }
            Element::PressureBegin | Element::PressureEnd => {
                let pressure = pressure(value)?;
                self.series.check_pressure(value.line, pressure.as_bar())?;
                let place = match element {
                    Element::PressureBegin => &mut self.before,
                    _ => &mut self.after,
                };
                if self.tanks == 1 {
                    value.once(place, pressure)?;
                }
            }
            _ => {}
        }
        Ok(())
    }

    pub(super) fn end_waypoint(&mut self) -> Result<(), RecordError> {
        let Waypoint {
            line,
            time,
            depth,
            pressure,
            gas,
            ..
        } = self.waypoint;
        let missing = |name: &str| {
            let message = format!("a `waypoint` has no `{name}`");
            let accepted = "a `divetime` in seconds and a `depth` in metres in each";
            RecordError::new(Some(line), message, accepted).about(name)
        };
        let said = Said {
            time: time.ok_or_else(|| missing("divetime"))?,
            depth: depth.ok_or_else(|| missing("depth"))?,
            pressure,
            gas,
        };
        let is_new = self.series.push(line, said)?.is_some();
        if let (true, Some(gas)) = (is_new, gas) {
            self.switches.push((self.series.len() - 1, gas));
        }
        Ok(())
    }

    /// The log; `None` of a dive without a waypoint.
    pub(super) fn finish(mut self) -> Result<Option<Logged>, RecordError> {
        if self.waypoints == 0 {
            return Ok(None);
        }
        self.series.set_ends(self.before, self.after);
        let mut log = self.series.finish()?;
        log.number = self.number;
        log.begins = self.begins;
        let switches = self.switches;
        Ok(Some(Logged { log, switches }))
    }
}

fn pressure(value: Value<'_>) -> Result<GaugePressure, RecordError> {
    let pascals = value.amount("pascals")?;
    Ok(GaugePressure::from_bar(pascals / PA_PER_BAR))
}
