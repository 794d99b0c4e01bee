//! Results remember what decided them: each is held against the same thing worked out again.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use hangbar::briefing::{Briefing, brief};
use hangbar::dive::{Reach, fly, no_stop_limit, trace};
use hangbar::explain::{Step, Topic, explain};
use hangbar::finding::{Verdict, Weight};
use hangbar::plan::PlanBuilder;
use hangbar::plan_file::read;
use hangbar::quantity::{Depth, FreeVolume, GaugePressure, Pressure, RunTime, Time, UnitSystem};
use hangbar::report::chart::{self, TraceChart};
use hangbar::report::{self, CompartmentChoice, LimitSheet, LimitsAsked, TracedDive};
use hangbar::rules::{DiveRules, Level, Start};
use hangbar::surface::IntervalReach;
use hangbar::tissue::Tissues;

/// What rounding may do over some dozens of steps, bar.
const ROUNDING_BAR: f64 = 1e-12;

fn demo_plans() -> Vec<(String, Briefing)> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("plans");
    let mut plans = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let plan = read(&std::fs::read_to_string(&path).unwrap()).unwrap();
        plans.push((path.display().to_string(), brief(plan).unwrap()));
    }
    assert!(plans.len() >= 10, "{} plans", plans.len());
    plans
}

fn furthest(one: &Tissues, other: &Tissues) -> f64 {
    let rows = one.loadings().into_iter().zip(other.loadings());
    rows.map(|(one, other)| {
        (one.n2_bar - other.n2_bar)
            .abs()
            .max((one.he_bar - other.he_bar).abs())
    })
    .fold(0.0, f64::max)
}

#[test]
fn the_diver_at_each_segment_s_end_is_the_diver_who_has_flown_it() {
    for (name, briefing) in demo_plans() {
        let rules = briefing.plan.rules();
        let schedule = &briefing.schedule;
        assert_eq!(schedule.segments.len(), schedule.ends.len(), "{name}");
        let mut tissues = briefing.plan.start().tissues;
        for (segment, start, end) in schedule.flown() {
            assert_eq!((start.run_time, start.depth), (segment.start, segment.from));
            assert_eq!((end.run_time, end.depth), (segment.end, segment.to));
            assert!(furthest(&start.tissues, &tissues) <= ROUNDING_BAR, "{name}");
            let ambient = |depth| rules.environment.ambient(depth);
            let (from, to) = (ambient(segment.from), ambient(segment.to));
            let set = &rules.compartments;
            tissues = tissues.after(set, segment.gas, from, to, segment.time());
            assert!(furthest(&end.tissues, &tissues) <= ROUNDING_BAR, "{name}");
        }
        assert!(
            furthest(&schedule.tissues, &tissues) <= ROUNDING_BAR,
            "{name}"
        );
    }
}

#[test]
fn a_no_stop_limit_names_the_compartment_that_is_full_on_surfacing() {
    for (gas, depths) in [
        ("air", &[12.0, 18.0, 24.0, 30.0, 42.0][..]),
        (
            "18/45",
            &[12.0, 15.0, 18.0, 21.0, 24.0, 30.0, 36.0, 42.0][..],
        ),
    ] {
        let rules = DiveRules {
            bottom_gas: gas.parse().unwrap(),
            ..DiveRules::default()
        };
        let (set, surface) = (&rules.compartments, rules.environment.surface());
        let clean = Tissues::clean(surface);
        for metres in depths {
            let limit = no_stop_limit(&rules, &clean, Depth::from_m(*metres)).unwrap();
            let Reach::Until(time) = limit.reach else {
                panic!("{gas} {metres} m: {:?}", limit.reach);
            };
            let left = limit.leaving.run_time - (RunTime::SPLASH + time);
            assert!(left.as_min().abs() < 1e-9);
            let over = |index: usize| {
                let high = rules.factors.high();
                let may = limit.surfacing.limit_bar(set, index, surface, high);
                limit.surfacing.loadings()[index].total_bar() - may
            };
            assert!(over(limit.compartment).abs() < 1e-8, "{gas} {metres} m");
            assert!((0..16).all(|index| over(index) < 1e-8), "{gas} {metres} m");
        }
    }
    let rules = DiveRules::default();
    let clean = Tissues::clean(rules.environment.surface());
    // Where nothing is reached, or even touching it is too much, it is the one that comes nearest.
    let shallow = no_stop_limit(&rules, &clean, Depth::from_m(5.0)).unwrap();
    assert_eq!((shallow.reach, shallow.time()), (Reach::Unlimited, None));
    assert_eq!(shallow.leaving.run_time, RunTime::from_min(999.0));
    let deep = no_stop_limit(&rules, &clean, Depth::from_m(150.0)).unwrap();
    assert_eq!(deep.reach, Reach::Nothing);
    assert_eq!(deep.leaving, deep.arrival);
}

/// The least interval is tried as the dive is flown: a minute less needs stops, itself does not.
#[test]
fn a_least_interval_is_the_dive_tried_again() {
    let plan = |interval: u32| {
        format!(
            "[profile]\ndepth = \"24 m\"\nbottom_time = \"20 min\"\nstaged = true\n[[before]]\n\
             depth = \"20 m\"\nbottom_time = \"30 min\"\nsurface_interval = \"{interval} min\"\n"
        )
    };
    let of = |interval| brief(read(&plan(interval)).unwrap()).unwrap();
    let briefing = of(5);
    let least = briefing.least_interval.as_ref().unwrap();
    let minutes = least.minutes().unwrap();
    assert!(minutes > 5, "{minutes}");
    let [early, enough] = least.trials.as_slice() else {
        panic!("{} trials", least.trials.len());
    };
    assert_eq!(
        (early.minutes, enough.minutes),
        (Some(minutes - 1), Some(minutes))
    );
    for (trial, staged) in [(early, true), (enough, false)] {
        let again = of(trial.minutes.unwrap());
        assert_eq!(again.schedule.staged, staged);
        assert_eq!(trial.barred_by.is_some(), staged);
        let start = &again.plan.start().tissues;
        assert!(furthest(&trial.start.tissues, start) <= ROUNDING_BAR);
        let rules = again.plan.rules();
        let (set, surface) = (&rules.compartments, rules.environment.surface());
        // What is found there is what the segments lead to.
        let ambient = |depth| rules.environment.ambient(depth);
        let after = least.segments.iter().fold(*start, |tissues, segment| {
            let (from, to) = (ambient(segment.from), ambient(segment.to));
            tissues.after(set, segment.gas, from, to, segment.time())
        });
        assert!(furthest(&trial.surfacing, &after) <= ROUNDING_BAR);
        let high = rules.factors.high();
        let may = after.limit_bar(set, trial.compartment, surface, high);
        let held = after.loadings()[trial.compartment].total_bar();
        assert_eq!(held > may, staged, "{held} {may}");
    }
    // Nothing that is brought from before makes up for a dive that is too long by itself.
    let longer = plan(5).replace("\"20 min\"", "\"40 min\"");
    let never = brief(read(&longer).unwrap())
        .unwrap()
        .least_interval
        .unwrap();
    assert_eq!(
        (never.reach, never.minutes()),
        (IntervalReach::NotEvenClean, None)
    );
    assert!(matches!(never.trials.as_slice(), [one] if one.minutes.is_none()));
    assert!(
        brief(read("[profile]\ndepth = \"9 m\"\nbottom_time = \"9 min\"").unwrap())
            .unwrap()
            .least_interval
            .is_none()
    );
}

#[test]
fn what_time_at_the_surface_leaves_is_what_the_team_starts_with() {
    let mut seen = 0;
    for (name, briefing) in demo_plans() {
        let Some(last) = briefing.rests.last() else {
            assert!(briefing.plan.starts_clean(), "{name}");
            continue;
        };
        assert_eq!(last.after, *briefing.plan.start(), "{name}");
        let rules = briefing.plan.rules();
        let surface = rules.environment.surface();
        let rested = last.before.rested(&rules.compartments, surface, last.time);
        let off = furthest(&rested.tissues, &last.after.tissues);
        assert!(off <= ROUNDING_BAR, "{name}: {off}");
        let starts = briefing.plan.starts();
        for (index, most_in) in last.most_in.iter().enumerate() {
            let held = |start: &Start| start.tissues.loadings()[index].n2_bar;
            let most = starts.iter().map(held).fold(f64::MIN, f64::max);
            assert!(held(&starts[*most_in]) >= most, "{name} {index}");
        }
        seen += 1;
    }
    assert!(seen >= 2, "{seen}");
}

#[test]
fn start_tissues_go_all_the_way_with_the_dive() {
    let surface = Pressure::from_atm(1.0);
    let rules = DiveRules::default();
    let level = Level {
        depth: Depth::from_m(24.0),
        time: Time::from_min(20.0),
    };
    let first = fly(&rules, &Tissues::clean(surface), &[level]).unwrap();
    let plan = || PlanBuilder::new(UnitSystem::Metric).level(level.depth, level.time);
    let clean = brief(plan().build().unwrap()).unwrap();
    let mut start = Start::clean(surface);
    start.tissues = first.tissues;
    let again = brief(plan().start(start).build().unwrap()).unwrap();
    assert_eq!(again.schedule.start.tissues, first.tissues);
    assert!(again.no_stop_limit.time().unwrap() < clean.no_stop_limit.time().unwrap());
    assert!(again.schedule.surfacing.fraction > clean.schedule.surfacing.fraction);
    let samples = trace(again.plan.rules(), &again.schedule, Time::from_min(1.0)).unwrap();
    let held = samples[0].compartments[0].inert_bar;
    assert!((held - first.tissues.loadings()[0].total_bar()).abs() < ROUNDING_BAR);
}

#[test]
fn every_screen_says_so_where_the_team_does_not_start_clean() {
    let surface = Pressure::from_atm(1.0);
    let rules = DiveRules::default();
    let level = Level {
        depth: Depth::from_m(24.0),
        time: Time::from_min(20.0),
    };
    let plan = || PlanBuilder::new(UnitSystem::Metric).level(level.depth, level.time);
    let mut start = Start::clean(surface);
    start.tissues = fly(&rules, &start.tissues, &[level]).unwrap().tissues;
    start.cns_pct = 95.0;
    let asked = LimitsAsked {
        gases: Vec::new(),
        factors: Vec::new(),
        from: None,
        to: None,
        step: None,
        oxygen_limit: Pressure::from_bar(1.4),
    };
    for (plan, first) in [(plan(), true), (plan().start(start), false)] {
        let plan = plan.build().unwrap();
        assert_eq!(plan.starts_clean(), first);
        let sheet = LimitSheet::work_out(&plan, &asked, UnitSystem::Metric).unwrap();
        let limits = format!("{:?}", report::limits(&sheet, UnitSystem::Metric));
        assert_eq!(limits.contains("clean tissues"), first, "{limits}");
        assert_eq!(sheet.published().is_empty(), !first);
        let picture = chart::limits(&sheet, UnitSystem::Metric).caption;
        assert_eq!(picture.contains("earlier dives"), !first, "{picture}");
        let briefing = brief(plan).unwrap();
        for screen in what_it_starts_with(&briefing) {
            assert_eq!(
                screen.contains("The team starts loaded"),
                !first,
                "{screen}"
            );
        }
        let screen = format!("{:?}", report::brief(&briefing, UnitSystem::Metric));
        assert_eq!(screen.contains("first dive of the day"), first, "{screen}");
        assert_eq!(
            screen.contains("With this dive the day uses"),
            !first,
            "{screen}"
        );
    }
}

/// The what-ifs, the trace, and the captions of all pictures of a dive.
fn what_it_starts_with(briefing: &Briefing) -> Vec<String> {
    let units = UnitSystem::Metric;
    let minute = Time::from_min(1.0);
    let dive = TracedDive::new(briefing, minute, CompartmentChoice::usual()).unwrap();
    let what_if = report::what_if(briefing, &briefing.outcome(), &[], units);
    let mut all = vec![
        format!("{what_if:?}"),
        format!("{:?}", report::trace(&dive, units)),
        chart::cylinders(briefing, units).caption,
    ];
    let charts = [
        TraceChart::Profile,
        TraceChart::OverTime,
        TraceChart::AgainstAmbient,
    ];
    all.extend(charts.map(|shown| chart::trace(&dive, shown, units).caption));
    all
}

#[test]
fn who_has_dived_or_come_up_starts_so_on_every_screen() {
    for (name, briefing) in demo_plans() {
        let history = briefing.plan.history();
        let words = match history.dives.len() {
            0 if history.arrival.is_some() => "The team starts unadapted: the divers came ".into(),
            0 => String::new(),
            1 => "The team starts loaded, by the earlier dive of the day and then ".into(),
            many => format!("The team starts loaded, by {many} earlier dives of the day and then "),
        };
        for screen in what_it_starts_with(&briefing) {
            let said = screen.contains("The team starts");
            assert_eq!(said, !words.is_empty(), "{name}: {screen}");
            assert!(screen.contains(&words), "{name}: {screen}");
        }
    }
}

#[test]
fn an_explanation_starts_from_the_tissues_that_the_dive_starts_from() {
    let surface = Pressure::from_atm(1.0);
    let rules = DiveRules::default();
    let level = Level {
        depth: Depth::from_m(24.0),
        time: Time::from_min(20.0),
    };
    let mut start = Start::clean(surface);
    start.tissues = fly(&rules, &start.tissues, &[level]).unwrap().tissues;
    let plan = PlanBuilder::new(UnitSystem::Metric).level(level.depth, level.time);
    let briefing = brief(plan.start(start).build().unwrap()).unwrap();
    let limit = &explain(&briefing, &[Topic::Limit], UnitSystem::Metric).unwrap()[0];
    let equations = limit.steps.iter().filter_map(|step| match step {
        Step::Equation(equation) => Some(equation),
        Step::Words(_) => None,
    });
    let equations = equations.collect::<Vec<_>>();
    // What it holds is given, not worked out from air at the surface …
    assert!(
        equations
            .iter()
            .all(|equation| equation.result.symbol() != Some("p_0"))
    );
    let given = equations.iter().flat_map(|equation| &equation.meanings);
    let mut given = given.filter(|meaning| meaning.symbol == "p_0");
    assert!(
        given
            .next()
            .unwrap()
            .meaning
            .contains("holds before the dive")
    );
    // … and the limit comes out of it.
    let last = equations
        .iter()
        .rfind(|equation| equation.result.symbol() == Some("t_limit"));
    let printed = last.unwrap().result.printed();
    let time = briefing.no_stop_limit.time().unwrap().as_min();
    assert!((printed - time).abs() < 0.01, "{printed} and {time}");
}

#[test]
fn reserves_and_ponies_point_to_the_moment_that_decides() {
    let mut ponies = 0;
    for (name, briefing) in demo_plans() {
        let plan = &briefing.plan;
        for end in &briefing.level_ends {
            let on_main = end.emergency.deciding().iter();
            let on_main = on_main.filter(|segment| segment.gas == plan.rules().bottom_gas);
            let environment = &plan.rules().environment;
            let sum: f64 = on_main.map(|s| s.exposure(environment).as_atm_min()).sum();
            assert!(
                (sum - end.emergency.exposure.full.as_atm_min()).abs() < 1e-9,
                "{name}"
            );
        }
        for (diver, budget) in plan.divers().iter().zip(&briefing.divers) {
            let partner = budget.partner.map(|index| &plan.divers()[index]);
            assert!(
                partner.is_none_or(|partner| partner.name != diver.name),
                "{name}"
            );
            let reserves = budget.levels.iter().map(|level| level.reserve);
            let most = reserves.fold(FreeVolume::from_l(0.0), FreeVolume::max);
            let worst = &budget.levels[budget.reserve_from];
            assert_eq!((worst.reserve, budget.reserve), (most, most), "{name}");
            let hanging = worst.hanging.filter(|_| worst.hang_decides());
            assert_eq!(worst.reserve, hanging.unwrap_or(worst.trouble), "{name}");
            let Some(pony) = budget.pony else { continue };
            let alone = diver.breathing * plan.reserve().stress;
            let ends = briefing.level_ends.iter();
            let most = ends.map(|end| alone * end.emergency.exposure.full);
            let most = most.fold(FreeVolume::from_l(0.0), FreeVolume::max);
            let named = briefing.level_ends[pony.full_from].emergency.exposure.full;
            assert_eq!(
                (pony.need_full, most),
                (alone * named, pony.need_full),
                "{name}"
            );
            ponies += 1;
        }
    }
    assert!(ponies >= 2, "{ponies} ponies");
}

#[test]
fn a_briefing_serializes_with_units_that_read_back() {
    for (name, briefing) in demo_plans() {
        let value = serde_json::to_value(&briefing).unwrap();
        let segment = &value["schedule"]["segments"][0];
        assert_eq!(segment["kind"], "descent", "{name}");
        let end: RunTime = serde_json::from_value(segment["end"].clone()).unwrap();
        assert_eq!(end, briefing.schedule.segments[0].end, "{name}");
        if let Some(diver) = briefing.divers.first() {
            let turn = value["divers"][0]["turn"].clone();
            let turn: GaugePressure = serde_json::from_value(turn).unwrap();
            assert_eq!(turn, diver.turn, "{name}");
        }
    }
}

#[test]
fn who_asks_for_the_no_gos_is_told_every_one() {
    let mut seen = [0; 3];
    for (name, briefing) in demo_plans() {
        let weights = [Weight::NoGo, Weight::Caution, Weight::Note];
        let of_each = weights.map(|weight| briefing.findings_of(weight).count());
        let mut told = 0;
        for (weight, count) in weights.into_iter().zip(of_each) {
            let found = &briefing.findings[told..told + count];
            assert!(briefing.findings_of(weight).eq(found), "{name}");
            assert!(found.iter().all(|one| one.weight() == weight), "{name}");
            told += count;
        }
        assert_eq!(told, briefing.findings.len(), "{name}");
        assert_eq!(
            briefing.verdict() == Verdict::NoGo,
            of_each[0] > 0,
            "{name}"
        );
        for (seen, count) in seen.iter_mut().zip(of_each) {
            *seen += count;
        }
    }
    assert!(seen.iter().all(|count| *count > 0), "{seen:?}");
}

/// Limits fall faster on a rise than gas leaves: it is at its end that a rise passes its ceiling by
/// most, and that is the place that is named, with what is held there.
#[test]
fn a_rise_through_the_ceiling_names_where_it_passes_it_by_most() {
    let rules = DiveRules::default();
    let clean = Tissues::clean(rules.environment.surface());
    let level = |depth_m, minutes| Level {
        depth: Depth::from_m(depth_m),
        time: Time::from_min(minutes),
    };
    let dive = fly(&rules, &clean, &[level(45.0, 40.0), level(6.0, 10.0)]).unwrap();
    let breach = dive.breaches.first().unwrap();
    assert!(breach.at.is_at(Depth::from_m(6.0)), "{:?}", breach.at);
    let (ambient, low) = (rules.environment.ambient(breach.at), rules.factors.low());
    let there = dive.arrivals[1].tissues;
    let excess = there.worst_excess(&rules.compartments, ambient, low);
    let excess = excess.unwrap();
    assert_eq!(breach.excess.index, excess.index);
    assert!((breach.excess.total_bar - excess.total_bar).abs() < ROUNDING_BAR);
}
