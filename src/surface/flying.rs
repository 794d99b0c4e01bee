//! How long to wait before flying, or driving up, after the last dive of a day.

use super::own::Own;
use crate::dive::Schedule;
use crate::plan::{DayTime, DiveBefore, FlightTime, Plan, TimeOfDay};
use crate::quantity::show::whole_minutes_up;
use crate::quantity::{Altitude, Pressure, Time, is_within};
use crate::rules::{DiveRules, Start};
use crate::site::{Mix, standard_atmosphere};
use crate::tissue::{COMPARTMENTS, Tissues};
use serde::Serialize;

/// No wait longer than this is looked at, min.
pub const LONGEST_WAIT_MIN: u32 = 4320;
/// Cabin altitudes that the published guidance is for: 2,000 to 8,000 ft.
///
/// Source: that of [`Exposure`].
pub const GUIDANCE_FROM: Altitude = Altitude::from_ft(2000.0);
/// The highest of them.
pub const GUIDANCE_TO: Altitude = Altitude::from_ft(8000.0);

const HOUR_MIN: u32 = 60;

/// How long the model asks to wait.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[non_exhaustive]
pub struct ModelWait {
    /// How long.
    pub reach: WaitReach,
    /// The compartment that decides, 0 to 15, fastest first: the furthest over its limit in the
    /// last minute in which one is; where none ever is, the nearest to it on surfacing.
    pub compartment: usize,
}

/// How long the model asks to wait, if it finds an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WaitReach {
    /// So many whole minutes; 0 where the cabin is within the limits at once.
    Minutes(u32),
    /// [`LONGEST_WAIT_MIN`] are not enough.
    NotWithinBound,
}

impl ModelWait {
    /// The minutes, where any number of them does.
    #[must_use]
    pub const fn minutes(self) -> Option<u32> {
        match self.reach {
            WaitReach::Minutes(minutes) => Some(minutes),
            WaitReach::NotWithinBound => None,
        }
    }
}

/// What the published guidance distinguishes, and the least wait that it gives for air.
///
/// # Source
/// P. J. Sheffield, R. D. Vann (eds.), *Flying After Recreational Diving Workshop*, DAN, 2 May 2002
/// (proceedings 2004): at least 12 h after a single no-stop dive, 18 h after several dives a day or
/// several days of diving, substantially longer than 18 h after a dive with required stops. For air,
/// cabins of [`GUIDANCE_FROM`] to [`GUIDANCE_TO`], and divers without symptoms.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Exposure {
    /// One no-stop dive.
    OneNoStopDive,
    /// Several dives of a day, none with compulsory stops.
    SeveralDives,
    /// A dive with compulsory stops among them.
    CompulsoryStops,
}

impl Exposure {
    /// Where the least waits are from.
    pub const SOURCE: &'static str = "P. J. Sheffield and R. D. Vann (eds.), Flying After \
         Recreational Diving Workshop, Divers Alert Network, 2 May 2002 (proceedings 2004)";

    /// What the guidance counts a day as: compulsory stops first, then how many dives.
    #[must_use]
    pub const fn of(day: DayDived) -> Self {
        match day {
            DayDived { stops: true, .. } => Self::CompulsoryStops,
            DayDived { dives: 0 | 1, .. } => Self::OneNoStopDive,
            DayDived { .. } => Self::SeveralDives,
        }
    }

    /// The least wait, whole minutes. "Substantially longer than 18 h" counts as 24 h.
    #[must_use]
    pub const fn wait_min(self) -> u32 {
        match self {
            Self::OneNoStopDive => 12 * HOUR_MIN,
            Self::SeveralDives => 18 * HOUR_MIN,
            Self::CompulsoryStops => 24 * HOUR_MIN,
        }
    }
}

/// What was dived in a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DayDived {
    /// How many dives.
    pub dives: usize,
    /// Whether any of them had compulsory stops.
    pub stops: bool,
    /// Whether nothing but air was breathed.
    pub on_air: bool,
}

/// How a cabin altitude stands to those that the published guidance is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum GuidanceReach {
    /// It is among them.
    Covered,
    /// It is below them: the guidance has no word for it.
    CabinBelow,
    /// It is above them: the guidance does not reach so high.
    CabinAbove,
}

impl GuidanceReach {
    fn of(cabin: Altitude) -> Self {
        let (from, to) = (GUIDANCE_FROM.as_m(), GUIDANCE_TO.as_m());
        if is_within(cabin.as_m(), from, to) {
            Self::Covered
        } else if cabin > GUIDANCE_TO {
            Self::CabinAbove
        } else {
            Self::CabinBelow
        }
    }
}

/// What the advice comes from: the longer of the two.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WaitDecidedBy {
    /// The published guidance, also where the model asks for as much.
    Published,
    /// The model.
    Model,
}

/// Flying, or driving up, after the last dive of a day.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Flying {
    /// Altitude that the cabin is kept at, or that of the pass.
    pub cabin_altitude: Altitude,
    /// Pressure of the standard atmosphere there.
    pub cabin: Pressure,
    /// What the model asks of the team.
    pub model: ModelWait,
    /// What the published guidance counts the day as.
    pub exposure: Exposure,
    /// Whether that guidance is for such a cabin. Its least wait is held to in any case.
    pub reach: GuidanceReach,
    /// Whether it is for what was breathed, air alone. Held to likewise.
    pub on_air: bool,
    /// What the model asks of each diver, in the order of the plan.
    pub divers: Vec<ModelWait>,
    /// When the advised wait is over; `None` without a splash or without an end.
    pub not_before: Option<DayTime>,
    /// When the flight leaves; `None` where nobody says so.
    pub leaves: Option<DayTime>,
}

impl Flying {
    /// The wait that is advised, whole minutes: the longer of the model's and the published one.
    /// `None` where the model finds no end.
    #[must_use]
    pub fn advised_min(&self) -> Option<u32> {
        let published = self.exposure.wait_min();
        self.model.minutes().map(|model| model.max(published))
    }

    /// Which of the two it is.
    #[must_use]
    pub fn decided_by(&self) -> WaitDecidedBy {
        let published = self.exposure.wait_min();
        match self.model.minutes() {
            Some(model) if model <= published => WaitDecidedBy::Published,
            _ => WaitDecidedBy::Model,
        }
    }

    /// With times of day, of a team that is up so many whole minutes after the splash.
    #[must_use]
    pub fn on_the_clock(
        self,
        splash: TimeOfDay,
        surfaced_min: u32,
        leaves: Option<FlightTime>,
    ) -> Self {
        let over = |wait: u32| splash.day_time_after(surfaced_min.saturating_add(wait));
        Self {
            not_before: self.advised_min().map(over),
            leaves: leaves.map(|leaves| leaves.after(splash, surfaced_min)),
            ..self
        }
    }

    /// Whether the flight leaves before the advised wait is over.
    #[must_use]
    pub fn leaves_too_soon(&self) -> bool {
        match (self.leaves, self.not_before) {
            (Some(leaves), Some(not_before)) => leaves.minutes_since(not_before) < 0,
            (leaves, None) => leaves.is_some(),
            (None, Some(_)) => false,
        }
    }
}

/// The wait after the last dive of a day.
///
/// `rules` are those of the last dive, `team` and `divers` tissues on its surfacing: the most of all
/// and each diver's own. Times of day come with [`Flying::on_the_clock`].
///
/// # Example
/// ```
/// use hangbar::quantity::Altitude;
/// use hangbar::rules::DiveRules;
/// use hangbar::surface::{DayDived, WaitDecidedBy, flying};
/// use hangbar::tissue::Tissues;
/// let rules = DiveRules::default();
/// let rested = Tissues::clean(rules.environment.surface());
/// let day = DayDived { dives: 2, stops: false, on_air: true };
/// let flying = flying(&rules, &rested, &[], day, Altitude::from_m(2438.0));
/// assert_eq!(flying.model.minutes(), Some(0));
/// assert_eq!(flying.advised_min(), Some(18 * 60));
/// assert_eq!(flying.decided_by(), WaitDecidedBy::Published);
/// ```
#[must_use]
pub fn flying(
    rules: &DiveRules,
    team: &Tissues,
    divers: &[Tissues],
    day: DayDived,
    cabin_altitude: Altitude,
) -> Flying {
    let cabin = standard_atmosphere(cabin_altitude);
    let model = model_wait(rules, team, cabin);
    let own = |tissues: &Tissues| {
        if tissues == team {
            model
        } else {
            model_wait(rules, tissues, cabin)
        }
    };
    Flying {
        cabin_altitude,
        cabin,
        model,
        exposure: Exposure::of(day),
        reach: GuidanceReach::of(cabin_altitude),
        on_air: day.on_air,
        divers: divers.iter().map(own).collect(),
        not_before: None,
        leaves: None,
    }
}

/// The wait after a plan's dive, its earlier dives counted; of no diver apart where `own` is empty.
pub(crate) fn flying_after(plan: &Plan, schedule: &Schedule, own: &[Own]) -> Flying {
    let divers: Vec<Tissues> = own.iter().map(|own| own.surfaced.tissues).collect();
    let (day, flight) = (day_dived(plan, schedule), plan.flight());
    let flying = flying(
        plan.rules(),
        &schedule.tissues,
        &divers,
        day,
        flight.cabin_altitude,
    );
    match plan.splash() {
        Some(splash) => {
            let surfaced_min = whole_minutes_up(schedule.run_time());
            flying.on_the_clock(splash, surfaced_min, flight.leaves)
        }
        None => flying,
    }
}

/// The wait after the earlier dives of a plan, where its own is not made; without times of day. `None`
/// of a first dive.
pub(crate) fn flying_without(plan: &Plan) -> Option<Flying> {
    let before = &plan.history().dives;
    let team = Start::most(&before.last()?.surfaced)?;
    let day = DayDived {
        dives: before.len(),
        stops: before.iter().any(DiveBefore::had_stops),
        on_air: before.iter().all(|dive| dive.gas.is_same_gas(Mix::AIR)),
    };
    let cabin = plan.flight().cabin_altitude;
    Some(flying(plan.rules(), &team.tissues, &[], day, cabin))
}

/// The dives that a plan knows of. Tissues from dives that nobody tells of are some dive more.
pub(crate) fn day_dived(plan: &Plan, schedule: &Schedule) -> DayDived {
    let before = &plan.history().dives;
    let untold = before.is_empty() && !plan.starts_clean() && plan.site().arrival.is_none();
    DayDived {
        dives: 1 + before.len() + usize::from(untold),
        stops: schedule.staged || before.iter().any(|dive| dive.had_stops()),
        on_air: !untold && breathed(plan, schedule).all(|gas| gas.is_same_gas(Mix::AIR)),
    }
}

/// What was breathed on the dive, and on those before it.
fn breathed(plan: &Plan, schedule: &Schedule) -> impl Iterator<Item = Mix> {
    let own = (0..plan.divers().len()).map(|diver| plan.gas_of(diver));
    let team = schedule.segments.iter().map(|segment| segment.gas);
    let before = plan.history().dives.iter().map(|dive| dive.gas);
    own.chain(team).chain(before)
}

/// The least whole minute of time on air at the surface of the site, up to [`LONGEST_WAIT_MIN`],
/// from which on every compartment is within the high gradient factor at the pressure of the cabin.
///
/// From which on: somebody who came down from a height, or left a stop on oxygen, holds less than
/// the air will give, and may be within the limits of a high cabin at first and not later.
///
/// With nitrogen alone each compartment goes one way, to the pressure inspired: what is within at a
/// minute and at the last one is so in between, and the first is found by halving. Where there is
/// helium too the last minute at which one is over is looked for from the last one back; minutes
/// that are surely within are left out: between two moments each gas of a compartment lies between
/// those of the two, and who is within with the more of both is with less, see [`Tissues::most`].
///
/// # Example
/// ```
/// use hangbar::quantity::Pressure;
/// use hangbar::rules::DiveRules;
/// use hangbar::surface::model_wait;
/// use hangbar::tissue::Tissues;
/// let rules = DiveRules::default();
/// let rested = Tissues::clean(rules.environment.surface());
/// let cabin = Pressure::from_bar(0.7526);
/// assert_eq!(model_wait(&rules, &rested, cabin).minutes(), Some(0));
/// ```
#[must_use]
pub fn model_wait(rules: &DiveRules, tissues: &Tissues, cabin: Pressure) -> ModelWait {
    let (set, factor) = (&rules.compartments, rules.factors.high());
    let after = |minute: u32| rested(rules, tissues, minute);
    let is_within = |minute: u32| after(minute).are_within(set, cabin, factor);
    let wait = if !is_within(LONGEST_WAIT_MIN) {
        None
    } else if tissues.hold_helium() {
        let both = |one: u32, other: u32| {
            let most = after(one).most(&after(other));
            most.are_within(set, cabin, factor)
        };
        Some(within_since(LONGEST_WAIT_MIN, both))
    } else {
        let (mut over, mut within) = (0, LONGEST_WAIT_MIN);
        while over < within {
            let middle = over.midpoint(within);
            if is_within(middle) {
                within = middle;
            } else {
                over = middle + 1;
            }
        }
        Some(within)
    };
    let decided_at = wait.map_or(LONGEST_WAIT_MIN, |wait| wait.saturating_sub(1));
    ModelWait {
        reach: wait.map_or(WaitReach::NotWithinBound, WaitReach::Minutes),
        compartment: nearest_to_limit(rules, &after(decided_at), cabin),
    }
}

/// The first minute from which on all are within up to `last`, which is. `between` says of two minutes
/// that surely all between them are, those two too; of one minute twice exactly whether it is.
fn within_since(last: u32, between: impl Fn(u32, u32) -> bool) -> u32 {
    let (mut first, mut stride) = (last, 1);
    while first > 0 {
        let earlier = first.saturating_sub(stride);
        // A stride of one asks about that minute alone: the one after it is known to be within.
        let sure = if stride == 1 {
            between(earlier, earlier)
        } else {
            between(earlier, first)
        };
        match (sure, stride) {
            (true, _) => (first, stride) = (earlier, stride * 2),
            (false, 1) => break,
            (false, _) => stride /= 2,
        }
    }
    first
}

/// Tissues after whole minutes on air at the surface of the site.
#[must_use]
pub(crate) fn rested(rules: &DiveRules, tissues: &Tissues, minutes: u32) -> Tissues {
    let surface = rules.environment.surface();
    let time = Time::from_min(f64::from(minutes));
    tissues.after(&rules.compartments, Mix::AIR, surface, surface, time)
}

/// The compartment that is furthest over its limit, or nearest to it.
fn nearest_to_limit(rules: &DiveRules, tissues: &Tissues, cabin: Pressure) -> usize {
    let over = |index: usize| {
        let limit = tissues.limit_bar(&rules.compartments, index, cabin, rules.factors.high());
        tissues.loading(index).total_bar() - limit
    };
    // Of equal ones the fastest.
    let further = |most: usize, other| {
        if over(other) > over(most) {
            other
        } else {
            most
        }
    };
    (0..COMPARTMENTS).fold(0, further)
}
