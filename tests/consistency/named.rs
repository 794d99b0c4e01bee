//! Harder dives that are easier, as the definitions have it: nobody should be surprised by them, or
//! mend them unseen.

use hangbar::briefing::Briefing;
use hangbar::dive::{SegmentKind, fly};
use hangbar::gas::LimitEnd;
use hangbar::quantity::{Depth, Time};
use hangbar::rules::{DiveRules, Level};
use hangbar::tissue::{GradientFactors, Tissues};

use crate::cases::briefed;
use crate::harder::Count;

fn brief(text: &str) -> Briefing {
    briefed(text).expect(text)
}

/// The last level lies above that of the safety stop, so a staged ascent from it makes none; a
/// straight one does.
#[test]
fn a_stricter_high_factor_makes_the_dive_a_staged_one_that_passes_no_safety_stop() {
    let dive = |high: u32| {
        brief(&format!(
            "[model]\ngradient_factors = [50, {high}]\n[[profile.level]]\ndepth = \"30 m\"\n\
             time = \"20 min\"\n[[profile.level]]\ndepth = \"5.5 m\"\ntime = \"4 min\"\n"
        ))
    };
    let (strict, mild) = (dive(90).schedule, dive(95).schedule);
    let kinds = |kind| {
        strict
            .way_up
            .iter()
            .chain(&mild.way_up)
            .filter(move |s| s.kind == kind)
    };
    assert!(strict.staged && !mild.staged);
    assert_eq!(kinds(SegmentKind::Stop).count(), 1);
    assert_eq!(kinds(SegmentKind::SafetyStop).count(), 1);
    let gained = mild.run_time() - strict.run_time();
    assert!((gained.as_min() - 2.0).abs() < 1e-9, "{gained:?}");
}

/// The larger of the reserve and of way up and hang: with a switch most of the planned way up is drawn
/// from the stage cylinder, and the least that a reserve keeps is no part of it.
#[test]
fn a_minute_more_with_a_switch_on_the_way_up_keeps_less_for_the_hang() {
    let reserve = |minutes: u32| {
        let briefing = brief(&format!(
            "[profile]\ndepth = \"26 m\"\nbottom_time = \"{minutes} min\"\n[model]\n\
             gradient_factors = [70, 74]\n[gas]\nbottom = \"EAN28\"\ndecompression = [\"EAN50\"]\n\
             [reserve]\nhang = {{ depth = \"11 m\", time = \"8 min\" }}\n[[diver]]\nname = \"Oda\"\n\
             sac = \"18 L/min\"\ncylinder = {{ size = \"12 L\", fill = \"220 bar\" }}\n\
             stage = [{{ gas = \"EAN50\", size = \"7 L\", fill = \"200 bar\" }}]\n"
        ));
        let level = briefing.divers[0].levels[0];
        (
            briefing.schedule.staged,
            level.hang_decides(),
            level.reserve.as_l(),
        )
    };
    let (straight, staged) = (reserve(21), reserve(22));
    assert_eq!((straight.0, straight.1), (false, true));
    assert_eq!((staged.0, staged.1), (true, false));
    assert!(staged.2 < straight.2, "{staged:?} {straight:?}");
    // What trouble takes does not fall: it is the straight ascent's least in both.
    assert!(staged.2 > 0.5 * straight.2, "{staged:?} {straight:?}");
}

/// On a long safety stop a no-stop dive takes up more than it may surface with, and the search ends
/// there; three metres deeper it has become a staged one before.
#[test]
fn a_deeper_dive_has_the_longer_gas_limit_where_the_safety_stop_overloads_the_other() {
    let limit = |metres: u32| {
        let briefing = brief(&format!(
            "[profile]\ndepth = \"{metres} m\"\nbottom_time = \"10 min\"\nstaged = true\n[ascent]\n\
             safety_stop = {{ depth = \"12 m\", time = \"60 min\" }}\n[[diver]]\nname = \"Oda\"\n\
             sac = \"12 L/min\"\ncylinder = {{ size = \"40 L\", fill = \"230 bar\" }}\n"
        ));
        briefing.limits[0].gas_limit
    };
    let (shallow, deep) = (limit(21), limit(24));
    assert_eq!((shallow.minutes, deep.minutes), (27, 102));
    assert!(matches!(
        shallow.ended_by,
        LimitEnd::Schedule { at_min: 28, .. }
    ));
    assert!(matches!(deep.ended_by, LimitEnd::Gas { at_min: 103 }));
}

/// From 85/85 down to 20/85 by fives, air, 21 to 60 m, 10 to 60 min: our own figures. A lower low factor
/// anchors its line deeper, and from there on it may ask for less.
#[test]
fn how_often_a_lower_low_factor_shortens_the_ascent_is_a_regression_value() {
    let mut count = Count::default();
    let mut where_most = (0.0, 0, 0, 0);
    let up = |low: u32, metres: u32, minutes: u32| {
        let rules = DiveRules {
            factors: GradientFactors::from_pct(f64::from(low), 85.0).unwrap(),
            ..DiveRules::default()
        };
        let level = Level {
            depth: Depth::from_m(f64::from(metres)),
            time: Time::from_min(f64::from(minutes)),
        };
        let clean = Tissues::clean(rules.environment.surface());
        let dive = fly(&rules, &clean, &[level]).unwrap();
        dive.staged.then(|| dive.run_time().as_min())
    };
    for metres in (21..=60).step_by(3) {
        for minutes in (10..=60).step_by(5) {
            let runs: Vec<Option<f64>> = (20..=85)
                .rev()
                .step_by(5)
                .map(|low| up(low, metres, minutes))
                .collect();
            for (index, pair) in runs.windows(2).enumerate() {
                if let [Some(milder), Some(stricter)] = pair {
                    let gained = milder - stricter;
                    count.add(gained);
                    if gained > where_most.0 {
                        let low = 85 - 5 * u32::try_from(index).unwrap();
                        where_most = (gained, metres, minutes, low);
                    }
                }
            }
        }
    }
    println!("a low factor less by 5: up earlier {count} min, {where_most:?}");
    assert_eq!(count.to_string(), "107 of 1820, at most 3.000");
}
