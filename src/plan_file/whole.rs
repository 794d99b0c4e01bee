//! The whole file: its sections in order, and what they must agree on.

use toml::Spanned;
use toml::de::DeTable;

use super::keys::top;
use super::on_the_day::Overrides;
use super::problem::Place;
use super::reader::{Reader, Table};
use super::{ascent, before, flight, gas, model, profile, reserve, site, surface, team};
use crate::plan::{Arrival, EarlierDive, PlanBuilder, ReserveRules, TimeOfDay};
use crate::quantity::{Time, UnitSystem};
use crate::rules::{AscentRules, DiveRules, Level};

/// A plan that has been read but not yet checked as a whole.
pub(super) struct Whole {
    pub(super) plan: PlanBuilder,
    /// Where each earlier dive stands, oldest first.
    pub(super) before: Vec<Place>,
}

/// The whole plan; `None` only where a problem has been noted.
pub(super) fn read(
    reader: &mut Reader,
    root: &Spanned<DeTable<'_>>,
    overrides: &Overrides,
) -> Option<Whole> {
    let root = reader.root(root, &top::PLAN);
    let title = reader.label(&root, &top::TITLE);
    let units = units(reader, &root);
    let Splash { splash, later } = splash(reader, &root, overrides);
    // A splash that is refused has been given all the same.
    let has_splash = root.has(top::SPLASH.name) || overrides.splash().is_some();
    let flight = flight::read(reader, overrides, has_splash);

    let standard = DiveRules::standard(units);
    let site = site::read(reader, &root, overrides);
    let profile = profile::read(reader, &root, &standard, site.current, overrides);
    let ascent = ascent::read(reader, &root, standard.ascent);
    let model = model::read(reader, &root);
    let gases = gas::read(reader, &root, &standard);
    let reserve = reserve::read(reader, &root, units);
    let surface = surface::read(reader, &root);
    let team = team::read(reader, &root, overrides, &gases);
    let usual = ascent.unwrap_or(standard.ascent);
    let ascent_rate = ascent::on_the_day(reader, overrides, usual).rate;
    let rates = (profile.descent_rate, ascent_rate);
    let mut before = before::read(reader, &root, rates, &team);
    before::wait_longer(reader, &mut before, later);

    let levels = profile.levels?;
    let ascent = AscentRules {
        rate: ascent_rate,
        ..gases.pause_in(ascent?)
    };
    let names = ("[profile]", "[[profile.level]]");
    profile::check_times(reader, &levels, rates, names);
    let mut plan = PlanBuilder::new(units)
        .site(site)
        .rules(DiveRules {
            environment: site.environment(),
            compartments: model.compartments,
            factors: model.factors,
            descent_rate: profile.descent_rate,
            ascent,
            bottom_gas: gases.bottom,
            decompression: gases.decompression.clone().unwrap_or_default(),
        })
        .gas_law(model.gas_law)
        .reserve(ReserveRules {
            swim: profile.swim,
            ..reserve
        })
        .surface(surface)
        .flight(flight)
        .staged(profile.staged);
    if !gases.is_said {
        plan = plan.gas_by_default();
    }
    if let Some(title) = title {
        plan = plan.title(title.value);
    }
    if let Some(splash) = splash {
        plan = plan.splash(splash);
    }
    for Level { depth, time } in levels.into_iter().map(|level| level.value) {
        plan = plan.level(depth, time);
    }
    plan = team.divers.into_iter().fold(plan, PlanBuilder::diver);
    let (dives, places) = before
        .into_iter()
        .map(|dive| (dive.dive, dive.place))
        .unzip();
    let dives: Vec<EarlierDive> = dives;
    Some(Whole {
        plan: dives.into_iter().fold(plan, PlanBuilder::before),
        before: places,
    })
}

/// What holds where there is no plan file: the usual rules in metric units, the water, the air and
/// the speeds of the day.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct WithoutFile {
    /// The rules.
    pub rules: DiveRules,
    /// How the divers came, where they are not adapted to the pressure of the air.
    pub arrival: Option<Arrival>,
}

/// The usual rules with what differs on the day.
pub(super) fn without_file(
    reader: &mut Reader,
    root: &Spanned<DeTable<'_>>,
    overrides: &Overrides,
) -> WithoutFile {
    let root = reader.root(root, &top::PLAN);
    let standard = DiveRules::standard(UnitSystem::Metric);
    let site = site::read(reader, &root, overrides);
    let descent_rate = profile::descent_rate(reader, overrides, None);
    let ascent = ascent::on_the_day(reader, overrides, standard.ascent);
    WithoutFile {
        rules: DiveRules {
            environment: site.environment(),
            descent_rate: descent_rate.unwrap_or(standard.descent_rate),
            ascent,
            ..standard
        },
        arrival: site.arrival,
    }
}

fn units(reader: &mut Reader, root: &Table<'_>) -> UnitSystem {
    let given = reader.word(root, &top::UNITS);
    given.map(|given| given.value).unwrap_or_default()
}

/// When they leave the surface.
struct Splash {
    splash: Option<TimeOfDay>,
    /// How much later that is than the plan's own.
    later: Time,
}

fn splash(reader: &mut Reader, root: &Table<'_>, overrides: &Overrides) -> Splash {
    const ON_THE_DAY: &str =
        "a time of day from 00:00 to 23:59, with two digits of minutes, as 9:40";
    let own = reader.time_of_day(root, &top::SPLASH);
    let own = own.map(|given| given.value);
    let splash = match overrides.splash() {
        Some(given) => {
            let given = reader.read_time_of_day("", &given, ON_THE_DAY);
            given.map(|given| given.value)
        }
        None => own,
    };
    let minutes = |time: TimeOfDay| Time::from_min(f64::from(time.hour() * 60 + time.minute()));
    let later = splash
        .zip(own)
        .map(|(now, own)| minutes(now) - minutes(own));
    Splash {
        splash,
        later: later.unwrap_or(Time::from_min(0.0)),
    }
}
