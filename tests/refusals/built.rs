//! Plans that come from no file, and questions put to the model itself: held to the same ranges.

use hangbar::dive::{LimitColumn, ScheduleError, fly, limit_table, no_stop_limit};
use hangbar::plan::{
    Diver, EarlierDive, Flight, Hang, OutBound, PlanBuilder, PlanError, Pony, Site, Stage, Surface,
    SwimPlan, share_returning_against,
};
use hangbar::plan_file::read;
use hangbar::quantity::{
    Altitude, BreathingRate, Depth, DepthChange, GaugePressure, Pressure, Speed, Temperature, Time,
    UnitSystem, WaterVolume,
};
use hangbar::report::{GasWanted, MixAsked, MixSheet};
use hangbar::rules::{DiveRules, Level, SafetyStop, Start};
use hangbar::site::{
    Charge, Cylinder, Environment, GasConditions, GasLaw, Mix, Water, standard_atmosphere,
};
use hangbar::tissue::{COMPARTMENTS, GradientFactors, Loading, Tissues};
use hangbar::whatif::{Deviation, deviate};

const NAN: f64 = f64::NAN;

pub(crate) fn twelve() -> Cylinder {
    Cylinder {
        water: WaterVolume::from_l(12.0),
        fill: GaugePressure::from_bar(200.0),
        working: Some(GaugePressure::from_bar(232.0)),
    }
}

pub(crate) fn diver(name: &str) -> Diver {
    Diver::new(name, BreathingRate::from_l_min(15.0), twelve())
}

pub(crate) fn reef() -> PlanBuilder {
    PlanBuilder::new(UnitSystem::Metric).level(Depth::from_m(24.0), Time::from_min(22.0))
}

pub(crate) fn refusal(plan: PlanBuilder) -> String {
    match plan.build() {
        Ok(plan) => panic!("accepted: {plan:?}"),
        Err(error) => {
            let message = error.to_string();
            assert!(!message.contains('\n'), "{message}");
            message
        }
    }
}

pub(crate) fn with_rules(change: impl FnOnce(&mut DiveRules)) -> PlanBuilder {
    let mut rules = DiveRules::standard(UnitSystem::Metric);
    change(&mut rules);
    reef().rules(rules)
}

fn with_site(site: Site) -> PlanBuilder {
    reef().site(site)
}

fn with_diver(change: impl FnOnce(&mut Diver)) -> PlanBuilder {
    let mut diver = diver("Ines");
    change(&mut diver);
    reef().diver(diver)
}

#[test]
fn a_plan_that_is_built_is_the_plan_that_is_read() {
    let text = "[profile]\ndepth = \"24 m\"\nbottom_time = \"22 min\"\n[[diver]]\nname = \"Ines\"\n\
                sac = \"15 L/min\"\ncylinder = { size = \"12 L\", at = \"232 bar\", fill = \"200 bar\" }";
    assert_eq!(
        reef().diver(diver("Ines")).build().unwrap(),
        read(text).unwrap()
    );
}

#[test]
fn levels_that_nobody_dives_are_refused() {
    let level = |metres, minutes| {
        let plan = PlanBuilder::new(UnitSystem::Metric);
        refusal(plan.level(Depth::from_m(metres), Time::from_min(minutes)))
    };
    let none = refusal(PlanBuilder::new(UnitSystem::Metric));
    assert_eq!(none, "a plan needs at least one level");
    assert_eq!(
        level(-5.0, 22.0),
        "the depth is -5 m; accepted: 0.3 m to 200 m (1 ft to 656.1 ft)"
    );
    assert!(level(NAN, 22.0).starts_with("the depth is NaN m;"));
    assert!(level(0.001, 22.0).starts_with("the depth is 0.001 m;"));
    assert!(level(24.0, NAN).starts_with("the time of a level is NaN min;"));
    assert!(level(24.0, 1440.1).starts_with("the time of a level is 1440.1 min;"));
    assert_eq!(level(24.0, 1.0), "level 1 is left before it is reached");
}

#[test]
fn what_the_parts_say_of_each_other_must_agree() {
    let level = |minutes| Time::from_min(minutes);
    let rest = reef().level(Depth::from_m(24.0), level(0.0));
    assert_eq!(refusal(rest), "level 2 lasts no time");
    let both = Site {
        altitude: Some(Altitude::from_m(1500.0)),
        surface_pressure: Some(Pressure::from_bar(1.0)),
        ..Site::default()
    };
    let message = refusal(with_site(both));
    assert!(
        message.starts_with("both an altitude and a pressure"),
        "{message}"
    );
}

#[test]
fn flights_that_cannot_be_are_refused() {
    let flight = |metres, leaves: Option<&str>| Flight {
        cabin_altitude: Altitude::from_m(metres),
        leaves: leaves.map(|time| time.parse().unwrap()),
    };
    for metres in [-0.1, 4500.1, NAN, f64::INFINITY] {
        let message = refusal(reef().flight(flight(metres, None)));
        assert!(message.starts_with("the cabin altitude is "), "{message}");
    }
    let booked = || reef().flight(flight(2438.0, Some("18:00")));
    assert_eq!(
        refusal(booked()),
        "a flight leaves at a time of day, and the plan gives no splash"
    );
    let splash = "9:40".parse().unwrap();
    assert!(booked().splash(splash).build().is_ok());
}

#[test]
fn a_refusal_is_in_the_plan_s_own_unit() {
    let windy = Site {
        current: Some(Speed::from_knots(99.0)),
        ..Site::default()
    };
    let thin = Site {
        surface_pressure: Some(Pressure::from_bar(0.3)),
        ..Site::default()
    };
    let plan =
        || PlanBuilder::new(UnitSystem::Imperial).level(Depth::from_ft(60.0), Time::from_min(20.0));
    assert!(refusal(plan().site(windy)).starts_with("the current is 99 kn;"));
    assert!(refusal(plan().site(thin)).starts_with("the pressure at the surface is 4.3511 psi;"));
    let plan = PlanBuilder::new(UnitSystem::Imperial);
    let message = refusal(plan.level(Depth::from_ft(700.0), Time::from_min(22.0)));
    assert!(
        message.starts_with("the depth is 700 ft; accepted: "),
        "{message}"
    );
}

#[test]
fn sites_that_are_nowhere_are_refused() {
    let site = Site::default();
    let rows = [
        (
            Site {
                altitude: Some(Altitude::from_m(4501.0)),
                ..site
            },
            "the altitude is 4501 m;",
        ),
        (
            Site {
                surface_pressure: Some(Pressure::from_bar(NAN)),
                ..site
            },
            "the pressure at the surface is NaN bar;",
        ),
        (
            Site {
                water: Water::Density { kg_per_m3: 0.0 },
                ..site
            },
            "the density of the water is 0 kg/m3;",
        ),
        (
            Site {
                temperature: Temperature::from_celsius(60.0),
                ..site
            },
            "the temperature of the water is 60 C;",
        ),
        (
            Site {
                current: Some(Speed::from_knots(-1.0)),
                ..site
            },
            "the current is -1 kn;",
        ),
    ];
    for (site, words) in rows {
        let message = refusal(with_site(site));
        assert!(message.starts_with(words), "{message}");
    }
}

#[test]
fn rules_that_nobody_dives_by_are_refused() {
    type Change = fn(&mut DiveRules);
    let rows: [(Change, &str); 5] = [
        (
            |rules| rules.descent_rate = Speed::from_m_min(0.0),
            "the speed on the way down is 0 m/min;",
        ),
        (
            |rules| rules.ascent.rate = Speed::from_m_min(f64::INFINITY),
            "the speed on the way up is inf m/min;",
        ),
        (
            |rules| rules.ascent.switch_time = Time::from_min(-1.0),
            "the time of a gas switch is -1 min;",
        ),
        (
            |rules| {
                rules.ascent.safety_stop = Some(SafetyStop {
                    depth: Depth::from_m(5.0),
                    time: Time::from_min(NAN),
                });
            },
            "the time of the safety stop is NaN min;",
        ),
        (
            |rules| rules.decompression = vec![Mix::AIR, Mix::AIR],
            "the decompression gas air is listed twice",
        ),
    ];
    for (change, words) in rows {
        let message = refusal(with_rules(change));
        assert!(message.starts_with(words), "{message}");
    }
}

#[test]
fn the_water_and_air_of_a_plan_are_those_of_its_site() {
    let plan = with_rules(|rules| {
        rules.environment = Environment::new(Pressure::from_bar(NAN), Water::Fresh);
    });
    let plan = plan.build().unwrap();
    assert_eq!(plan.rules().environment, Environment::default());
}

#[test]
fn divers_that_cannot_be_are_refused() {
    type Change = fn(&mut Diver);
    let rows: [(Change, &str); 9] = [
        (
            |diver| diver.breathing = BreathingRate::from_l_min(NAN),
            "the breathing rate is NaN L/min;",
        ),
        (
            |diver| diver.cylinder.water = WaterVolume::from_l(-12.0),
            "the inner volume is -12 L;",
        ),
        (
            |diver| diver.cylinder.fill = GaugePressure::from_bar(0.0),
            "the fill is 0 bar;",
        ),
        (
            |diver| diver.cylinder.fill = GaugePressure::from_bar(256.0),
            "Ines has a cylinder filled more than 10 % above its working pressure",
        ),
        (
            |diver| {
                diver.pony = Some(Pony {
                    cylinder: Cylinder {
                        fill: GaugePressure::from_bar(400.0),
                        ..diver.cylinder
                    },
                    gas: None,
                });
            },
            "the fill is 400 bar;",
        ),
        (
            |diver| diver.name = " ".to_owned(),
            "the name of a diver must be 1 to 40 characters on one line",
        ),
        (
            |diver| diver.name = "I\u{202e}nes".to_owned(),
            "the name of a diver must be 1 to 40 characters on one line",
        ),
        (
            |diver| diver.buddy = Some("Tom".to_owned()),
            "Ines has a buddy who is not in the team",
        ),
        (
            |diver| {
                diver.stages = vec![Stage {
                    gas: Mix::nitrox(50.0).unwrap(),
                    cylinder: diver.cylinder,
                }];
            },
            "Ines carries EAN50, which the plan does not list for the way up",
        ),
    ];
    for (change, words) in rows {
        let message = refusal(with_diver(change));
        assert!(message.starts_with(words), "{message}");
    }
    let twice = refusal(reef().diver(diver("Ines")).diver(diver("Ines")));
    assert_eq!(twice, "two divers are called Ines");
}

#[test]
fn buddies_go_in_twos_and_threes() {
    let team = |links: &[(&str, Option<&str>)]| {
        let named = |(name, buddy): &(&str, Option<&str>)| Diver {
            buddy: buddy.map(str::to_owned),
            ..diver(name)
        };
        links
            .iter()
            .map(named)
            .fold(reef(), PlanBuilder::diver)
            .build()
    };
    let two = [("Ines", Some("Tom")), ("Tom", Some("Ines")), ("Kai", None)];
    assert!(team(&two).is_ok());
    let three = [
        ("Ines", Some("Tom")),
        ("Tom", Some("Kai")),
        ("Kai", Some("Ines")),
    ];
    assert!(team(&three).is_ok());
    for refused in [
        &[("Ines", Some("Tom")), ("Tom", None)][..],
        &[("Ines", Some("Ines"))],
        &[
            ("Ines", Some("Tom")),
            ("Tom", Some("Kai")),
            ("Kai", Some("Ada")),
            ("Ada", Some("Ines")),
        ],
    ] {
        assert!(
            matches!(team(refused), Err(PlanError::Buddy { .. })),
            "{refused:?}"
        );
    }
}

#[test]
fn an_earlier_dive_is_of_divers_of_the_team() {
    let told = |divers: &[&str]| {
        let level = Level {
            depth: Depth::from_m(18.0),
            time: Time::from_min(30.0),
        };
        let mut dive = EarlierDive::new(vec![level], Time::from_min(60.0));
        dive.divers = Some(divers.iter().map(|name| (*name).to_owned()).collect());
        reef().diver(diver("Ines")).diver(diver("Tom")).before(dive)
    };
    for team in [&["Ines"][..], &["Tom"], &["Tom", "Ines"]] {
        assert!(told(team).build().is_ok(), "{team:?}");
    }
    for others in [&["Kai"][..], &["Ines", "Kai"], &[]] {
        assert_eq!(
            refusal(told(others)),
            "earlier dive 1 is of nobody, or of somebody who is not in the team",
            "{others:?}"
        );
    }
}

#[test]
fn reserves_boats_and_starts_that_mean_nothing_are_refused() {
    let reserve = *reef().build().unwrap().reserve();
    let mut stress = reserve;
    stress.stress = 0.5;
    let message = refusal(reef().reserve(stress));
    assert_eq!(message, "the stress factor is 0.5; accepted: 1 to 5");
    let mut hang = reserve;
    hang.hang = Some(Hang {
        depth: Depth::from_m(5.0),
        time: Time::from_min(NAN),
    });
    assert!(refusal(reef().reserve(hang)).starts_with("the time of the hang is NaN min;"));
    let mut swim = reserve;
    swim.swim = Some(SwimPlan {
        current: Speed::from_knots(0.5),
        swim: Speed::from_knots(1.0),
        out: OutBound::With,
    });
    let message = refusal(reef().reserve(swim));
    assert_eq!(message, "the current to swim in is not that of the site");
    let message = refusal(reef().surface(Surface {
        overdue_after: Time::from_min(0.0),
        emergency: None,
    }));
    assert!(message.starts_with("the time until the team is overdue is 0 min;"));
    let mut start = Start::clean(Pressure::from_atm(1.0));
    start.cns_pct = NAN;
    let message = refusal(reef().start(start));
    assert!(
        message.starts_with("the CNS share before the dive is NaN;"),
        "{message}"
    );
}

#[test]
fn the_model_is_asked_for_dives_alone() {
    let rules = DiveRules::default();
    let clean = Tissues::clean(rules.environment.surface());
    let level = |metres, minutes| Level {
        depth: Depth::from_m(metres),
        time: Time::from_min(minutes),
    };
    for metres in [NAN, -5.0, 0.0, 0.001, 200.1, f64::INFINITY] {
        assert!(no_stop_limit(&rules, &clean, Depth::from_m(metres)).is_err());
        let flown = fly(&rules, &clean, &[level(metres, 20.0)]);
        assert!(
            matches!(flown, Err(ScheduleError::OutOfRange(_))),
            "{metres}"
        );
        let column = LimitColumn {
            gas: Mix::AIR,
            factors: GradientFactors::default(),
        };
        let depths = [Depth::from_m(metres)];
        let table = limit_table(&rules, &clean, &[column], &depths, Pressure::from_bar(1.4));
        assert!(table.is_err(), "{metres}");
    }
    for minutes in [NAN, -1.0, 1441.0] {
        let flown = fly(&rules, &clean, &[level(20.0, minutes)]);
        assert!(
            matches!(flown, Err(ScheduleError::OutOfRange(_))),
            "{minutes}"
        );
    }
    let mut still = rules.clone();
    still.descent_rate = Speed::from_m_min(0.0);
    assert!(fly(&still, &clean, &[level(20.0, 20.0)]).is_err());
    assert!(no_stop_limit(&still, &clean, Depth::from_m(20.0)).is_err());
    let loading = Loading {
        n2_bar: NAN,
        he_bar: 0.0,
    };
    let nobody = Tissues::from_loadings([loading; COMPARTMENTS]);
    assert!(fly(&rules, &nobody, &[level(20.0, 20.0)]).is_err());
    assert!(no_stop_limit(&rules, &nobody, Depth::from_m(20.0)).is_err());
}

/// No error, for a number that cannot be; but never a plausible one.
#[test]
fn arithmetic_out_of_its_range_gives_no_number() {
    let site = |kelvin| GasConditions {
        law: GasLaw::Real,
        temperature: Temperature::from_kelvin(kelvin),
        surface: Pressure::from_atm(1.0),
    };
    let contents = |kelvin, bar| {
        let charge = Charge::new(WaterVolume::from_l(12.0), Mix::AIR, &site(kelvin));
        charge.contents(GaugePressure::from_bar(bar)).as_l()
    };
    assert!((2300.0..2500.0).contains(&contents(288.15, 200.0)));
    for (kelvin, bar) in [
        (288.15, NAN),
        (288.15, 1e9),
        (288.15, -5.0),
        (0.0, 200.0),
        (NAN, 200.0),
    ] {
        assert!(contents(kelvin, bar).is_nan(), "{kelvin} K, {bar} bar");
    }
    for metres in [NAN, f64::INFINITY, -6000.0, 12_000.0] {
        let air = standard_atmosphere(Altitude::from_m(metres));
        assert!(air.as_bar().is_nan(), "{metres} m");
    }
    let share = |current, swim| {
        share_returning_against(Speed::from_m_min(current), Speed::from_m_min(swim))
    };
    assert!(share(2.0, 1.0).abs() < f64::EPSILON);
    for (current, swim) in [(NAN, 1.0), (1.0, NAN), (-1.0, 1.0), (1.0, 0.0)] {
        assert!(share(current, swim).is_nan(), "{current} and {swim}");
    }
}

#[test]
fn a_what_if_is_held_to_what_may_happen() {
    let plan = reef().splash("9:40".parse().unwrap()).build().unwrap();
    for deviation in [
        Deviation::late(Time::from_min(NAN)),
        Deviation::late(Time::from_min(-1.0)),
        Deviation::deeper(DepthChange::from_m(51.0)),
        Deviation::harder(f64::INFINITY),
    ] {
        let refused = deviate(&plan, &deviation);
        assert!(
            matches!(refused, Err(ScheduleError::OutOfRange(_))),
            "{deviation:?}"
        );
    }
    for minute in [NAN, f64::INFINITY, -1.0] {
        assert!(plan.time_of_day(minute).is_none(), "{minute}");
    }
}

#[test]
fn gases_that_nobody_asks_about_are_refused() {
    let rules = DiveRules::default();
    let asked = MixAsked {
        gas: GasWanted::RichestFor(Depth::from_m(30.0)),
        oxygen_limit: Pressure::from_bar(1.4),
        factors: None,
        blend: None,
    };
    let refused = |rules: &DiveRules, asked: MixAsked| {
        let sheet = MixSheet::by_rules(rules, &asked);
        sheet.unwrap_err().to_string()
    };
    let named = |metres| GasWanted::Named {
        gas: Mix::AIR,
        depth: Some(Depth::from_m(metres)),
    };
    for gas in [
        GasWanted::RichestFor(Depth::from_m(NAN)),
        GasWanted::RichestFor(Depth::from_m(201.0)),
        named(NAN),
        named(0.0),
        named(f64::INFINITY),
    ] {
        assert!(refused(&rules, MixAsked { gas, ..asked }).contains("the depth is"));
    }
    let oxygen_limit = Pressure::from_bar(NAN);
    let words = refused(
        &rules,
        MixAsked {
            oxygen_limit,
            ..asked
        },
    );
    assert!(words.contains("the oxygen limit is"), "{words}");
    let mut nowhere = rules.clone();
    nowhere.environment = Environment::new(Pressure::from_bar(NAN), Water::Sea);
    assert!(refused(&nowhere, asked).contains("the pressure at the surface is"));
    let deep = GasWanted::RichestFor(Depth::from_m(60.0));
    let words = refused(&rules, MixAsked { gas: deep, ..asked });
    assert!(words.contains("even air has more than"), "{words}");
}
