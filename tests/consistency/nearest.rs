//! The nearest go is one, and what is a step nearer to the plan is none.

use hangbar::briefing::Briefing;
use hangbar::finding::Verdict;
use hangbar::plan_file::Overrides;
use hangbar::quantity::PSI_BAR;
use hangbar::whatif::LongestEnd;

use crate::cases::{Case, Left, Wrong, briefed, briefed_with, each};

fn is_go(briefing: Option<&Briefing>) -> bool {
    briefing.is_some_and(|briefing| briefing.verdict() != Verdict::NoGo)
}

#[test]
fn the_longest_go_is_one_and_a_minute_more_is_none_or_needs_stops() {
    each("longest go", 20, |case, _, wrong| {
        let planned = &case.briefing;
        let Some(longest) = &planned.longest_go else {
            return 1;
        };
        let at = |minutes: u32| Left::at(&case.text, f64::from(minutes));
        let straight =
            |briefing: &Briefing| !briefing.schedule.staged && briefing.not_straight_up.is_empty();
        // Below the plan's own it is the gas limit, see the shorter bottom times that need more.
        if f64::from(longest.minutes) >= case.drawn.bottom_min() {
            match at(longest.minutes) {
                Left::At(briefing) if is_go(Some(&*briefing)) => {
                    if straight(planned) && !straight(&briefing) {
                        wrong.push(format!("{longest:?} needs stops"));
                    }
                }
                _ => wrong.push(format!("{longest:?} is no go")),
            }
        }
        if longest.ended_by == LongestEnd::Bound {
            return 1;
        }
        if let Left::At(briefing) = at(longest.minutes + 1)
            && briefing.is_go()
            && (straight(&briefing) || !straight(planned))
        {
            wrong.push(format!("{longest:?} and a minute more is a go"));
        }
        1
    });
}

/// The plan with whatever is deeper come up to a depth.
fn no_deeper(case: &Case, metres: f64) -> Option<Briefing> {
    let mut drawn = case.drawn.clone();
    for (depth, _) in &mut drawn.levels {
        *depth = depth.min(metres);
    }
    briefed(&drawn.metric())
}

fn with_fills(case: &Case, fills: &[(String, f64)]) -> Option<Briefing> {
    let fills = fills.iter();
    let overrides = Overrides {
        fills: fills
            .map(|(name, bar)| (name.clone(), format!("{bar} bar")))
            .collect(),
        ..Overrides::default()
    };
    briefed_with(&case.text, &overrides)
}

fn bottom_time(case: &Case, minutes: u32, wrong: &mut Wrong) {
    let at = |minutes: u32| Left::at(&case.text, f64::from(minutes)).briefing();
    if !is_go(at(minutes).as_ref()) {
        wrong.push(format!("{minutes} min are no go"));
    }
    let next = minutes + 1;
    if f64::from(next) < case.drawn.bottom_min() && is_go(at(next).as_ref()) {
        wrong.push(format!("{next} min are a go, {minutes} are said"));
    }
}

#[test]
fn the_nearest_go_is_one_and_a_step_back_to_the_plan_is_none() {
    each("nearest go", 20, |case, _, wrong| {
        if case.briefing.verdict() != Verdict::NoGo {
            return 1;
        }
        let nearest = &case.briefing.nearest_go;
        if let Some(minutes) = nearest.bottom_time_min {
            bottom_time(case, minutes, wrong);
        }
        if let Some(depth) = nearest.depth {
            let metres = depth.as_m();
            if !is_go(no_deeper(case, metres).as_ref()) {
                wrong.push(format!("{metres} m is no go"));
            }
            let next = metres + 1.0;
            if next < case.drawn.deepest_m() - 1e-6 && is_go(no_deeper(case, next).as_ref()) {
                wrong.push(format!("{next} m is a go, {metres} are said"));
            }
        }
        let fills = nearest.fills.iter();
        let fills: Vec<(String, f64)> = fills
            .map(|(name, fill)| (name.clone(), fill.as_bar()))
            .collect();
        if !fills.is_empty() && !is_go(with_fills(case, &fills).as_ref()) {
            wrong.push(format!("the fills {fills:?} make no go"));
        }
        for index in 0..fills.len().min(3) {
            let mut less = fills.clone();
            let (name, fill) = &mut less[index];
            let mut team = case.drawn.team.iter();
            let gauge = team
                .find(|member| member.name == *name)
                .map(|member| member.gauge);
            *fill -= if gauge == Some("psi") {
                50.0 * PSI_BAR
            } else {
                5.0
            };
            if is_go(with_fills(case, &less).as_ref()) {
                wrong.push(format!("{less:?} is a go, {fills:?} are said"));
            }
        }
        if let Some(wait) = nearest.wait {
            let mut later = case.drawn.clone();
            later.before.last_mut().unwrap().interval_min = f64::from(wait.interval_min);
            if !is_go(briefed(&later.metric()).as_ref()) {
                wrong.push(format!("{wait:?} makes no go"));
            }
        }
        1
    });
}
