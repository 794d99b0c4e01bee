//! How a plan comes about: given part by part, checked as a whole.

use super::before::EarlierDive;
use super::clock::TimeOfDay;
use super::flight::Flight;
use super::reserve::ReserveRules;
use super::site::{Site, Surface};
use super::team::{Diver, buddy_fault};
use crate::dive::ScheduleError;
use crate::letters::{composed, may_be_shown};
use crate::quantity::{Depth, GaugePressure, Time, UnitSystem};
use crate::rules::DiveRules;
use crate::rules::Start;
use crate::rules::ranges::{
    AIR_PRESSURE, ALTITUDE, ARRIVED, BOTTOM_TIME, BREATHING, CABIN_ALTITUDE, CURRENT, DENSITY,
    DEPTH, DIVERS, EARLIER_DIVES, FILL, FLOOR, HANG_DEPTH, HANG_TIME, LEVELS, LONGEST_EMERGENCY,
    LONGEST_NAME, LONGEST_TITLE, OVERDUE_AFTER, OVERFILL, OutOfRange, SORT_OUT, STAGES, STAY,
    STRESS, SURFACE_INTERVAL, SWIM_SPEED, SWITCHES, TooMany, WATER_TEMPERATURE, WATER_VOLUME,
    WORKING, check_number,
};
use crate::rules::{Level, level_travel};
use crate::site::{Cylinder, GasLaw, Mix, Water};
use serde::Serialize;

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PlanError {
    /// A quantity outside what is accepted.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// More of something than is accepted.
    #[error(transparent)]
    TooMany(#[from] TooMany),
    /// There is no level to dive to.
    #[error("a plan needs at least one level")]
    NoLevel,
    /// A level ends before it is reached.
    #[error("level {number} is left before it is reached")]
    LevelTooShort {
        /// Number of the level, from 1.
        number: usize,
    },
    /// A text that cannot stand on one line.
    #[error("the {what} must be 1 to {longest} characters on one line")]
    Text {
        /// What the text is.
        what: &'static str,
        /// The most characters.
        longest: usize,
    },
    /// Two divers are called so.
    #[error("two divers are called {name}")]
    SameName {
        /// The name.
        name: String,
    },
    /// A fill far above the cylinder's working pressure.
    #[error("{name} has a cylinder filled more than 10 % above its working pressure")]
    Overfilled {
        /// Whose cylinder.
        name: String,
    },
    /// A gas that the plan switches to stands twice in its list.
    #[error("the decompression gas {gas} is listed twice")]
    GasTwice {
        /// The gas.
        gas: Mix,
    },
    /// A stage cylinder of a gas that the plan never breathes.
    #[error("{name} carries {gas}, which the plan does not list for the way up")]
    StageNotPlanned {
        /// Whose cylinder.
        name: String,
        /// Its gas.
        gas: Mix,
    },
    /// Buddies who do not go together.
    #[error(
        "{name} has a buddy who is not in the team, is {name}, or has another one; accepted: two \
         who name each other, or three in a group"
    )]
    Buddy {
        /// Who names the buddy.
        name: String,
    },
    /// An altitude and a pressure of the air: nobody knows which holds.
    #[error("both an altitude and a pressure at the surface are given; accepted: one of the two")]
    AirTwice,
    /// A level that lasts no time.
    #[error("level {number} lasts no time")]
    NoTime {
        /// Number of the level, from 1.
        number: usize,
    },
    /// An earlier dive that cannot have been dived as it is told.
    #[error("earlier dive {number}: {cause}")]
    EarlierDive {
        /// Number of the dive, from 1, the oldest.
        number: usize,
        /// Why.
        cause: ScheduleError,
    },
    /// An earlier dive that names nobody, or somebody who is not in the team.
    #[error("earlier dive {number} is of nobody, or of somebody who is not in the team")]
    EarlierDiver {
        /// Number of the dive, from 1, the oldest.
        number: usize,
    },
    /// A bottom gas of one diver's own and helium: no schedule is known to be safe for both.
    #[error(
        "{name} has another bottom gas than the plan, and one of the gases has helium; accepted: air and nitrox"
    )]
    OwnGasWithHelium {
        /// Whose gas.
        name: String,
    },
    /// A flight that leaves at a time of a day whose splash nobody knows.
    #[error("a flight leaves at a time of day, and the plan gives no splash")]
    FlightWithoutSplash,
    /// A current to swim in that is not the site's.
    #[error("the current to swim in is not that of the site")]
    Current,
}

/// The parts of a plan, to be checked together by [`PlanBuilder::build`]. What is not given is as
/// usual for the units: see [`DiveRules::standard`] and [`ReserveRules::standard`].
///
/// # Example
/// ```
/// use hangbar::plan::{Diver, PlanBuilder, PlanError};
/// use hangbar::quantity::{BreathingRate, Depth, GaugePressure, Time, UnitSystem, WaterVolume};
/// use hangbar::site::Cylinder;
///
/// let cylinder = Cylinder {
///     water: WaterVolume::from_l(12.0),
///     fill: GaugePressure::from_bar(200.0),
///     working: None,
/// };
/// let plan = PlanBuilder::new(UnitSystem::Metric)
///     .title("The near reef")
///     .level(Depth::from_m(24.0), Time::from_min(22.0))
///     .diver(Diver::new("Ines", BreathingRate::from_l_min(15.0), cylinder))
///     .build()?;
/// assert_eq!(plan.divers()[0].name, "Ines");
/// # Ok::<(), PlanError>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlanBuilder {
    pub(super) title: Option<String>,
    pub(super) units: UnitSystem,
    pub(super) splash: Option<TimeOfDay>,
    pub(super) site: Site,
    pub(super) levels: Vec<Level>,
    pub(super) staged: bool,
    pub(super) rules: DiveRules,
    /// The plan's bottom gas; that of the rules is what the schedule is flown on.
    pub(super) gas: Mix,
    /// Whether somebody chose it.
    #[serde(skip)]
    pub(super) gas_is_said: bool,
    pub(super) gas_law: GasLaw,
    pub(super) reserve: ReserveRules,
    /// What everybody begins the day with, where it is not clean.
    #[serde(skip)]
    pub(super) start: Option<Start>,
    pub(super) before: Vec<EarlierDive>,
    pub(super) surface: Surface,
    pub(super) flight: Flight,
    pub(super) divers: Vec<Diver>,
}

impl PlanBuilder {
    /// Nothing but the usual rules for these units.
    #[must_use]
    pub fn new(units: UnitSystem) -> Self {
        Self {
            title: None,
            units,
            splash: None,
            site: Site::default(),
            levels: Vec::new(),
            staged: false,
            rules: DiveRules::standard(units),
            gas: Mix::AIR,
            gas_is_said: false,
            gas_law: GasLaw::default(),
            reserve: ReserveRules::standard(units),
            start: None,
            before: Vec::new(),
            surface: Surface::default(),
            flight: Flight::default(),
            divers: Vec::new(),
        }
    }

    /// A title for people.
    #[must_use]
    pub fn title(self, title: impl Into<String>) -> Self {
        let title = Some(title.into());
        Self { title, ..self }
    }

    /// Time of day of leaving the surface.
    #[must_use]
    pub fn splash(self, splash: TimeOfDay) -> Self {
        let splash = Some(splash);
        Self { splash, ..self }
    }

    /// The site. Its water and air take the place of those in the rules.
    #[must_use]
    pub fn site(self, site: Site) -> Self {
        Self { site, ..self }
    }

    /// One more level, the travel to it included in its time.
    #[must_use]
    pub fn level(mut self, depth: Depth, time: Time) -> Self {
        self.levels.push(Level { depth, time });
        self
    }

    /// Whether stops are meant; they are not where nobody says so.
    #[must_use]
    pub fn staged(self, staged: bool) -> Self {
        Self { staged, ..self }
    }

    /// What decides the schedule. Its water and air are those of the site.
    #[must_use]
    pub fn rules(self, rules: DiveRules) -> Self {
        Self {
            rules,
            gas_is_said: true,
            ..self
        }
    }

    /// That nobody chose the bottom gas: it is what is breathed where nothing is said.
    #[must_use]
    pub(crate) fn gas_by_default(self) -> Self {
        Self {
            gas_is_said: false,
            ..self
        }
    }

    /// How cylinder contents are worked out.
    #[must_use]
    pub fn gas_law(self, gas_law: GasLaw) -> Self {
        Self { gas_law, ..self }
    }

    /// The reserve.
    #[must_use]
    pub fn reserve(self, reserve: ReserveRules) -> Self {
        Self { reserve, ..self }
    }

    /// What everybody begins the day with, where it is not clean: before the earlier dives.
    #[must_use]
    pub fn start(self, start: Start) -> Self {
        let start = Some(start);
        Self { start, ..self }
    }

    /// One more earlier dive of the day, the oldest first.
    #[must_use]
    pub fn before(mut self, dive: EarlierDive) -> Self {
        self.before.push(dive);
        self
    }

    /// The boat above.
    #[must_use]
    pub fn surface(self, surface: Surface) -> Self {
        Self { surface, ..self }
    }

    /// Going up after the dive.
    #[must_use]
    pub fn flight(self, flight: Flight) -> Self {
        Self { flight, ..self }
    }

    /// One more diver.
    #[must_use]
    pub fn diver(mut self, diver: Diver) -> Self {
        self.divers.push(diver);
        self
    }

    /// Puts the site's water and air into the rules, and checks all of it together.
    pub(super) fn check(&mut self) -> Result<(), PlanError> {
        if self.site.altitude.is_some() && self.site.surface_pressure.is_some() {
            return Err(PlanError::AirTwice);
        }
        self.site.check(self.units)?;
        self.rules.environment = self.site.environment();
        self.rules.check(self.units)?;
        self.compose();
        self.check_texts()?;
        self.check_levels(&self.levels)?;
        self.check_reserve()?;
        self.check_gases()?;
        self.check_start()?;
        self.check_before()?;
        self.check_flight()?;
        DIVERS.check(self.divers.len())?;
        for diver in &self.divers {
            self.check_diver(diver)?;
        }
        if let Some(name) = buddy_fault(&self.divers) {
            return Err(PlanError::Buddy { name });
        }
        self.gas = self.rules.bottom_gas;
        self.rules.bottom_gas = self.leanest_gas();
        Ok(())
    }

    /// What the schedule is flown on: the gas with least oxygen that a diver breathes on the
    /// bottom.
    fn leanest_gas(&self) -> Mix {
        let gases = self
            .divers
            .iter()
            .map(|diver| diver.gas.unwrap_or(self.gas));
        let leanest = gases.reduce(|leanest, gas| {
            if leanest.is_richer_than(gas) {
                gas
            } else {
                leanest
            }
        });
        leanest.unwrap_or(self.gas)
    }

    /// One spelling of each name, so that who is the same is the same everywhere.
    fn compose(&mut self) {
        let named = self
            .divers
            .iter_mut()
            .flat_map(|diver| std::iter::once(&mut diver.name).chain(&mut diver.buddy));
        let dived = self.before.iter_mut().flat_map(|dive| &mut dive.divers);
        let shown = self.title.iter_mut().chain(&mut self.surface.emergency);
        for text in named.chain(dived.flatten()).chain(shown) {
            *text = composed(text);
        }
    }

    fn check_texts(&self) -> Result<(), PlanError> {
        if let Some(title) = &self.title {
            check_text("title", title, LONGEST_TITLE)?;
        }
        if let Some(emergency) = &self.surface.emergency {
            check_text("emergency line", emergency, LONGEST_EMERGENCY)?;
        }
        let overdue = self.surface.overdue_after.as_min();
        Ok(OVERDUE_AFTER.check(overdue, self.units)?)
    }

    fn check_levels(&self, levels: &[Level]) -> Result<(), PlanError> {
        if levels.is_empty() {
            return Err(PlanError::NoLevel);
        }
        LEVELS.check(levels.len())?;
        let mut from = Depth::SURFACE;
        for (index, level) in levels.iter().enumerate() {
            DEPTH.check(level.depth.as_m(), self.units)?;
            STAY.check(level.time.as_min(), self.units)?;
            if level.time <= Time::from_min(0.0) {
                return Err(PlanError::NoTime { number: index + 1 });
            }
            let (down, up) = (self.rules.descent_rate, self.rules.ascent.rate);
            if level_travel(from, level.depth, down, up).is_over(level.time) {
                return Err(PlanError::LevelTooShort { number: index + 1 });
            }
            from = level.depth;
        }
        let whole: Time = levels.iter().map(|level| level.time).sum();
        Ok(BOTTOM_TIME.check(whole.as_min(), self.units)?)
    }

    fn check_reserve(&self) -> Result<(), PlanError> {
        let (reserve, units) = (&self.reserve, self.units);
        check_number("stress factor", reserve.stress, &STRESS)?;
        SORT_OUT.check(reserve.sort_out.as_min(), units)?;
        FLOOR.check(reserve.floor.as_bar(), units)?;
        if let Some(hang) = reserve.hang {
            HANG_DEPTH.check(hang.depth.as_m(), units)?;
            HANG_TIME.check(hang.time.as_min(), units)?;
        }
        if let Some(swim) = reserve.swim {
            CURRENT.check(swim.current.as_m_min(), units)?;
            SWIM_SPEED.check(swim.swim.as_m_min(), units)?;
            if self.site.current != Some(swim.current) {
                return Err(PlanError::Current);
            }
        }
        Ok(())
    }

    fn check_gases(&self) -> Result<(), PlanError> {
        let gases = &self.rules.decompression;
        SWITCHES.check(gases.len())?;
        for (index, gas) in gases.iter().enumerate() {
            if gases[..index].iter().any(|known| known.is_same_gas(*gas)) {
                return Err(PlanError::GasTwice { gas: *gas });
            }
        }
        Ok(())
    }

    fn check_start(&self) -> Result<(), PlanError> {
        match &self.start {
            Some(start) => Ok(start.check()?),
            None => Ok(()),
        }
    }

    fn check_before(&self) -> Result<(), PlanError> {
        EARLIER_DIVES.check(self.before.len())?;
        let known = |name: &String| self.divers.iter().any(|diver| diver.name == *name);
        for (index, dive) in self.before.iter().enumerate() {
            self.check_levels(&dive.levels)?;
            let interval = dive.surface_interval.as_min();
            SURFACE_INTERVAL.check(interval, self.units)?;
            if let Some(divers) = &dive.divers
                && (divers.is_empty() || !divers.iter().all(known))
            {
                return Err(PlanError::EarlierDiver { number: index + 1 });
            }
        }
        Ok(())
    }

    fn check_flight(&self) -> Result<(), PlanError> {
        CABIN_ALTITUDE.check(self.flight.cabin_altitude.as_m(), self.units)?;
        if self.flight.leaves.is_some() && self.splash.is_none() {
            return Err(PlanError::FlightWithoutSplash);
        }
        Ok(())
    }

    fn check_own_gases(&self, diver: &Diver) -> Result<(), PlanError> {
        let has_helium = |gas: &Mix| gas.helium() > 0.0;
        let of_plan = std::iter::once(&self.rules.bottom_gas).chain(&self.rules.decompression);
        let helium_planned = of_plan.into_iter().any(has_helium);
        let pony = diver.pony.as_ref().and_then(|pony| pony.gas);
        let mut own = diver.gas.iter().chain(&pony);
        if own.any(|gas| helium_planned || has_helium(gas)) {
            let name = diver.name.clone();
            return Err(PlanError::OwnGasWithHelium { name });
        }
        Ok(())
    }

    fn check_diver(&self, diver: &Diver) -> Result<(), PlanError> {
        check_text("name of a diver", &diver.name, LONGEST_NAME)?;
        let same = |other: &&Diver| other.name == diver.name;
        if self.divers.iter().filter(same).count() > 1 {
            let name = diver.name.clone();
            return Err(PlanError::SameName { name });
        }
        BREATHING.check(diver.breathing.as_l_min(), self.units)?;
        if let Some(limit) = diver.depth_limit {
            DEPTH.check(limit.as_m(), self.units)?;
        }
        let units = diver.gauge.unwrap_or(self.units);
        STAGES.check(diver.stages.len())?;
        let stages = diver.stages.iter().map(|stage| &stage.cylinder);
        let pony = diver.pony.iter().map(|pony| &pony.cylinder);
        let own = std::iter::once(&diver.cylinder).chain(pony);
        for cylinder in own.chain(stages) {
            check_cylinder(&diver.name, cylinder, units)?;
        }
        self.check_own_gases(diver)?;
        let planned = &self.rules.decompression;
        for stage in &diver.stages {
            if !planned.iter().any(|gas| gas.is_same_gas(stage.gas)) {
                return Err(PlanError::StageNotPlanned {
                    name: diver.name.clone(),
                    gas: stage.gas,
                });
            }
        }
        Ok(())
    }
}

impl Site {
    fn check(&self, units: UnitSystem) -> Result<(), OutOfRange> {
        if let Some(altitude) = self.altitude {
            ALTITUDE.check(altitude.as_m(), units)?;
        }
        if let Some(pressure) = self.surface_pressure {
            AIR_PRESSURE.check(pressure.as_bar(), units)?;
        }
        if let Water::Density { kg_per_m3 } = self.water {
            DENSITY.check(kg_per_m3, units)?;
        }
        WATER_TEMPERATURE.check(self.temperature.as_kelvin(), units)?;
        if let Some(arrival) = &self.arrival {
            ARRIVED.check(arrival.before_first_dive.as_min(), units)?;
            ALTITUDE.check(arrival.home_altitude.as_m(), units)?;
        }
        self.current
            .map_or(Ok(()), |current| CURRENT.check(current.as_m_min(), units))
    }
}

fn check_text(what: &'static str, text: &str, longest: usize) -> Result<(), PlanError> {
    let fits = (1..=longest).contains(&text.chars().count());
    if fits && text.trim() == text && text.chars().all(may_be_shown) {
        Ok(())
    } else {
        Err(PlanError::Text { what, longest })
    }
}

fn check_cylinder(name: &str, cylinder: &Cylinder, units: UnitSystem) -> Result<(), PlanError> {
    WATER_VOLUME.check(cylinder.water.as_l(), units)?;
    FILL.check(cylinder.fill.as_bar(), units)?;
    let Some(working) = cylinder.working else {
        return Ok(());
    };
    WORKING.check(working.as_bar(), units)?;
    let most = GaugePressure::from_bar(working.as_bar() * (1.0 + OVERFILL));
    if cylinder.fill.is_over(most) {
        let name = name.to_owned();
        return Err(PlanError::Overfilled { name });
    }
    Ok(())
}
