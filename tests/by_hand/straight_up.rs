//! From when on and until when nobody may go straight up, held against the ascents from there.

use hangbar::briefing::{Briefing, brief};
use hangbar::dive::{NotStraightUp, ScheduleError, fly};
use hangbar::plan::PlanBuilder;
use hangbar::plan_file::read;
use hangbar::quantity::{Depth, RunTime, Speed, Time, UnitSystem};
use hangbar::rules::{DiveRules, Level, Start, level_travel};
use hangbar::tissue::Tissues;
use hangbar::whatif::LongestEnd;

/// What is allowed beyond a limit, and the last halving of a minute, bar.
const AT_THE_LIMIT_BAR: f64 = 1e-8;

fn level(depth_m: f64, minutes: f64) -> Level {
    Level {
        depth: Depth::from_m(depth_m),
        time: Time::from_min(minutes),
    }
}

fn planned(rules: &DiveRules, start: Tissues, levels: &[Level]) -> Briefing {
    let mut team = Start::clean(rules.environment.surface());
    team.tissues = start;
    let plan = PlanBuilder::new(UnitSystem::Metric)
        .rules(rules.clone())
        .start(team)
        .staged(true);
    let levels = levels.iter();
    let plan = levels.fold(plan, |plan, level| plan.level(level.depth, level.time));
    brief(plan.build().unwrap()).unwrap()
}

/// By how much the fullest compartment surfaces over its limit from a straight way up.
fn over(rules: &DiveRules, leaving: &Tissues, depth: Depth) -> f64 {
    let (set, surface) = (&rules.compartments, rules.environment.surface());
    let (from, time) = (
        rules.environment.ambient(depth),
        Time::from_min(depth.as_m() / rules.ascent.rate.as_m_min()),
    );
    let surfacing = leaving.after(set, rules.bottom_gas, from, surface, time);
    let over = |index: usize| {
        let may = surfacing.limit_bar(set, index, surface, rules.factors.high());
        surfacing.loading(index).total_bar() - may
    };
    (0..16).map(over).fold(f64::NEG_INFINITY, f64::max)
}

/// The diver at a run time on the last of some levels, the way down to them as planned.
fn at(rules: &DiveRules, start: &Tissues, levels: &[Level], run_time: RunTime) -> Tissues {
    let before: Time = levels[..levels.len() - 1].iter().map(|l| l.time).sum();
    let mut levels = levels.to_vec();
    levels.last_mut().unwrap().time = run_time.elapsed() - before;
    let dive = fly(rules, start, &levels).unwrap();
    dive.level_ends.last().unwrap().tissues
}

fn the_only_one(briefing: &Briefing) -> NotStraightUp {
    let found = &briefing.not_straight_up;
    assert_eq!(found.len(), 1, "{found:?}");
    found[0]
}

#[test]
fn on_a_way_down_that_is_too_deep_it_begins_on_the_way() {
    let rules = DiveRules::default();
    let clean = Tissues::clean(rules.environment.surface());
    let between = the_only_one(&planned(&rules, clean, &[level(110.0, 12.0)]));
    // 18 m/min, and the level is reached after 110/18 min.
    let reached_m = between.from.as_min() * 18.0;
    assert!((between.depth.as_m() - reached_m).abs() < 1e-9 && reached_m < 109.0);
    let (surface, here) = (
        rules.environment.surface(),
        rules.environment.ambient(between.depth),
    );
    let (set, air) = (&rules.compartments, rules.bottom_gas);
    let there = clean.after(set, air, surface, here, between.from.elapsed());
    assert!(over(&rules, &there, between.depth).abs() < AT_THE_LIMIT_BAR);
    assert!((between.to.as_min() - 12.0).abs() < 1e-9);
}

#[test]
fn a_shallow_level_gives_off_what_a_deep_one_took_up_too_much() {
    let rules = DiveRules::default();
    let clean = Tissues::clean(rules.environment.surface());
    let levels = [level(30.0, 20.0), level(9.0, 40.0)];
    let briefing = planned(&rules, clean, &levels);
    assert!(!briefing.schedule.staged);
    let between = the_only_one(&briefing);
    let left = at(&rules, &clean, &levels[..1], between.from);
    assert!(over(&rules, &left, levels[0].depth).abs() < AT_THE_LIMIT_BAR);
    assert!(between.to > RunTime::from_min(22.5), "{between:?}");
    let again = at(&rules, &clean, &levels, between.to);
    assert!(over(&rules, &again, levels[1].depth).abs() < AT_THE_LIMIT_BAR);
}

/// Helium comes faster than nitrogen goes: a compartment that is full of nitrogen holds too much of
/// both for a while, and less again on the same level.
#[test]
fn helium_on_top_of_nitrogen_may_be_too_much_in_the_middle_of_a_level_alone() {
    let rules = DiveRules {
        bottom_gas: "21/70".parse().unwrap(),
        ..DiveRules::default()
    };
    let mut held = Tissues::clean(rules.environment.surface()).loadings();
    held[4].n2_bar = 1.6;
    let start = Tissues::from_loadings(held);
    let levels = [level(8.0, 200.0)];
    let between = the_only_one(&planned(&rules, start, &levels));
    assert!(between.from > RunTime::from_min(5.0) && between.to < RunTime::from_min(30.0));
    for end in [between.from, between.to] {
        let there = at(&rules, &start, &levels, end);
        assert!(over(&rules, &there, levels[0].depth).abs() < AT_THE_LIMIT_BAR);
    }
}

/// Near the depth that has no limit: 400 min as one level, and as two of 200.
#[test]
fn a_level_told_in_two_may_be_stayed_at_as_long_as_one() {
    let rules = DiveRules::default();
    let clean = Tissues::clean(rules.environment.surface());
    let (mut limits, mut unlimited) = (0, 0);
    for step in 0..40 {
        let depth_m = 7.5 + 0.05 * f64::from(step);
        let of = |levels: &[Level]| planned(&rules, clean, levels).no_stop_bottom_time();
        let whole = of(&[level(depth_m, 400.0)]);
        let told_in_two = of(&[level(depth_m, 200.0), level(depth_m, 200.0)]);
        assert_eq!(whole, told_in_two, "{depth_m} m");
        match whole {
            Some(minutes) if minutes >= 400 => limits += 1,
            None => unlimited += 1,
            Some(_) => {}
        }
    }
    assert!(limits > 3 && unlimited > 3, "{limits} {unlimited}");
}

#[test]
fn a_rise_between_levels_takes_its_time_at_the_ascent_rate() {
    let (down, up) = (Speed::from_m_min(18.0), Speed::from_m_min(9.0));
    let travel = |from, to| level_travel(Depth::from_m(from), Depth::from_m(to), down, up).as_min();
    for (from, to, minutes) in [(0.0, 27.0, 1.5), (27.0, 9.0, 2.0), (9.0, 9.0, 0.0)] {
        assert!(
            (travel(from, to) - minutes).abs() < 1e-12,
            "{from} to {to} m"
        );
    }
    let rules = DiveRules::default();
    let clean = Tissues::clean(rules.environment.surface());
    let tried = |minutes| fly(&rules, &clean, &[level(27.0, 10.0), level(9.0, minutes)]);
    assert!(tried(2.0).is_ok());
    let Err(ScheduleError::LevelTooShort { number, travel, .. }) = tried(1.9) else {
        panic!("{:?}", tried(1.9));
    };
    assert_eq!(number, 2);
    assert!((travel.as_min() - 2.0).abs() < 1e-12, "{travel:?}");
}

/// The bottom time of a dive that has no stops ends with its no-stop limit, but not where the limit
/// was passed on a level before and the plan asks for what that takes.
#[test]
fn who_asks_for_stops_and_has_them_behind_is_not_held_to_a_no_stop_limit() {
    let ended_by = |profile: &str| {
        let text = format!(
            "[profile]\n{profile}\n[model]\ngradient_factors = [85, 85]\n[[diver]]\nname = \"Una\"\n\
             sac = \"9 L/min\"\ncylinder = {{ size = \"30 L\", fill = \"230 bar\" }}\n"
        );
        let briefing = brief(read(&text).unwrap()).unwrap();
        assert!(briefing.is_go() && !briefing.schedule.staged, "{profile}");
        briefing.longest_go.unwrap().ended_by
    };
    let levels = "staged = true\n[[profile.level]]\ndepth = \"30 m\"\ntime = \"20 min\"\n\
                  [[profile.level]]\ndepth = \"11 m\"\ntime = \"40 min\"";
    assert!(
        matches!(ended_by(levels), LongestEnd::Gas(_)),
        "{:?}",
        ended_by(levels)
    );
    let one = "depth = \"30 m\"\nbottom_time = \"10 min\"";
    assert_eq!(ended_by(one), LongestEnd::NoStop);
}
