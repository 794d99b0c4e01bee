//! What a finished briefing says is changed, one figure after the other: the referee objects to each.

use std::sync::OnceLock;

use hangbar::briefing::{Briefing, brief};
use hangbar::dive::{Reach, Segment, SegmentKind};
use hangbar::gas::{LimitEnd, PonyVerdict};
use hangbar::plan_file;
use hangbar::quantity::{AtmMinutes, Depth, DepthChange, FreeVolume, GaugePressure, RunTime, Time};
use hangbar::referee::{Question, examine};
use hangbar::site::Mix;
use hangbar::tissue::{Loading, Tissues};

/// Two levels, stops, two gases for them, a hang, a current to come back against, a pony.
const STAGED: &str = r#"
[profile]
swim_speed = "0.8 kn"
out = "with"
[[profile.level]]
depth = "42 m"
time = "21 min"
[[profile.level]]
depth = "31 m"
time = "12 min"
[site]
current = "0.2 kn"
[gas]
bottom = "21/20"
decompression = ["EAN50", "oxygen"]
[reserve]
hang = { depth = "5 m", time = "4 min" }
[[diver]]
name = "Signy"
sac = "14 L/min"
cylinder = { size = "2x12 L", fill = "230 bar" }
stage = [{ gas = "EAN50", size = "7 L", fill = "200 bar" }, { gas = "oxygen", size = "7 L", fill = "200 bar" }]
pony = { size = "7 L", fill = "200 bar" }
[[diver]]
name = "Odd"
sac = "16 L/min"
cylinder = { size = "2x12 L", fill = "220 bar" }
stage = [{ gas = "EAN50", size = "7 L", fill = "200 bar" }, { gas = "oxygen", size = "7 L", fill = "200 bar" }]
"#;
/// A no-stop dive with the safety stop.
const NO_STOP: &str = r#"
[profile]
depth = "22 m"
bottom_time = "20 min"
[gas]
bottom = "EAN32"
[[diver]]
name = "Signy"
sac = "14 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
pony = { size = "3 L", fill = "200 bar" }
"#;

fn briefing(text: &str) -> Briefing {
    brief(plan_file::read(text).unwrap()).unwrap()
}

/// One of the plans above, briefed once.
fn right(text: &str) -> Briefing {
    static RIGHT: [OnceLock<Briefing>; 2] = [OnceLock::new(), OnceLock::new()];
    let known = match text {
        STAGED => &RIGHT[0],
        NO_STOP => &RIGHT[1],
        _ => return briefing(text),
    };
    let briefed = || {
        let briefing = briefing(text);
        assert_eq!(examine(&briefing.evidence()), Ok(()));
        briefing
    };
    known.get_or_init(briefed).clone()
}

/// Changes a briefing that is right, and gives what the referee says of it.
fn seen(text: &str, change: impl FnOnce(&mut Briefing)) -> Question {
    let mut briefing = right(text);
    change(&mut briefing);
    assert_ne!(briefing, right(text), "nothing was changed");
    examine(&briefing.evidence()).unwrap_err().question()
}

fn minutes(time: f64) -> Time {
    Time::from_min(time)
}

fn litres(volume: FreeVolume, more: f64) -> FreeVolume {
    FreeVolume::from_l(volume.as_l() + more)
}

fn bars(pressure: GaugePressure, more: f64) -> GaugePressure {
    GaugePressure::from_bar(pressure.as_bar() + more)
}

fn exposure(exposure: AtmMinutes, by: f64) -> AtmMinutes {
    AtmMinutes::from_atm_min(exposure.as_atm_min() * by)
}

/// Everything of a way up behind one of its segments, so many minutes later.
fn later(segments: &mut [Segment], from: usize, time: f64) {
    segments[from].end = segments[from].end + minutes(time);
    for segment in &mut segments[from + 1..] {
        segment.start = segment.start + minutes(time);
        segment.end = segment.end + minutes(time);
    }
}

fn stops(segments: &[Segment], kind: SegmentKind) -> Vec<usize> {
    let each = segments.iter().enumerate();
    let of_kind = each.filter(|(_, segment)| segment.kind == kind);
    of_kind.map(|(index, _)| index).collect()
}

/// A stop that is a minute short, or a minute long, with everything behind it a minute earlier or later:
/// segments that join as well as ever.
#[test]
fn a_minute_less_or_more_of_any_stop_is_seen() {
    let stopped = stops(&right(STAGED).schedule.segments, SegmentKind::Stop);
    assert!(stopped.len() >= 4);
    for stop in 0..stopped.len() {
        for time in [-1.0, 1.0] {
            let question = seen(STAGED, |briefing| {
                let schedule = &mut briefing.schedule;
                for segments in [&mut schedule.segments, &mut schedule.way_up] {
                    let index = stops(segments, SegmentKind::Stop)[stop];
                    later(segments, index, time);
                }
            });
            assert_eq!(question, Question::Segments, "stop {stop}, {time} min");
        }
    }
}

/// The same where the tissues along the changed schedule are right: it is the rules that ask for the
/// minute, or do not.
#[test]
fn a_dive_of_other_rules_is_seen() {
    for (rule, other) in [
        ("gradient_factors = [40, 85]", "gradient_factors = [40, 86]"),
        ("gradient_factors = [40, 85]", "gradient_factors = [41, 85]"),
        ("first_compartment = \"1b\"", "first_compartment = \"1\""),
    ] {
        let text = |rule: &str| format!("{STAGED}\n[model]\n{rule}\n");
        let (mut one, two) = (briefing(&text(rule)), briefing(&text(other)));
        one.schedule = two.schedule;
        assert!(examine(&one.evidence()).is_err(), "{rule} by {other}");
    }
}

#[test]
fn every_change_of_a_segment_is_seen() {
    let count = right(STAGED).schedule.segments.len();
    assert!(count > 12);
    type Change = fn(&mut Segment);
    let changes: [Change; 6] = [
        |segment| segment.gas = Mix::nitrox(51.0).unwrap(),
        |segment| segment.from = segment.from + DepthChange::from_m(0.1),
        |segment| segment.to = segment.to + DepthChange::from_m(0.1),
        |segment| segment.start = segment.start + minutes(0.01),
        |segment| segment.end = segment.end + minutes(0.01),
        |segment| {
            segment.kind = match segment.kind {
                SegmentKind::Stop => SegmentKind::SafetyStop,
                _ => SegmentKind::Stop,
            }
        },
    ];
    for change in changes {
        for index in 0..count {
            let question = seen(STAGED, |briefing| {
                change(&mut briefing.schedule.segments[index]);
            });
            assert_eq!(question, Question::Segments, "segment {index}");
        }
    }
    for index in 0..count {
        seen(STAGED, |briefing| {
            briefing.schedule.segments.remove(index);
        });
    }
}

#[test]
fn every_change_of_the_ways_is_seen() {
    let changes: [fn(&mut Briefing); 12] = [
        |b| b.schedule.bottom_time = b.schedule.bottom_time + minutes(1.0),
        |b| b.schedule.staged = false,
        |b| later(&mut b.schedule.way_up, 1, 1.0),
        |b| later(&mut b.schedule.way_down, 1, 1.0),
        |b| b.schedule.way_up[2].gas = Mix::AIR,
        |b| b.schedule.level_ends[0].depth = Depth::from_m(41.0),
        |b| b.schedule.level_ends[1].run_time = RunTime::from_min(34.0),
        |b| b.schedule.level_ends[1].deepest = Depth::from_m(41.0),
        |b| b.schedule.arrivals[1].run_time = RunTime::from_min(23.0),
        |b| {
            b.schedule.arrivals.pop();
        },
        |b| {
            b.schedule.ends.pop();
        },
        |b| {
            let other = right(NO_STOP);
            b.schedule.factors = other.schedule.factors;
        },
    ];
    for (index, change) in changes.into_iter().enumerate() {
        assert_eq!(seen(STAGED, change), Question::Segments, "change {index}");
    }
}

/// A thousandth of a millibar in one compartment.
fn more_gas(tissues: &Tissues, index: usize, helium: bool) -> Tissues {
    let mut loadings: [Loading; 16] = tissues.loadings();
    if helium {
        loadings[index].he_bar += 1e-6;
    } else {
        loadings[index].n2_bar += 1e-6;
    }
    Tissues::from_loadings(loadings)
}

#[test]
fn a_thousandth_of_a_millibar_in_any_compartment_is_seen() {
    for index in 0..16 {
        for helium in [false, true] {
            let more = |tissues: &mut Tissues| *tissues = more_gas(tissues, index, helium);
            let changes: [&dyn Fn(&mut Briefing); 6] = [
                &|b| more(&mut b.schedule.tissues),
                &|b| more(&mut b.schedule.start.tissues),
                &|b| more(&mut b.schedule.ends[0].tissues),
                &|b| more(&mut b.schedule.ends[7].tissues),
                &|b| more(&mut b.schedule.level_ends[0].tissues),
                &|b| more(&mut b.schedule.arrivals[1].tissues),
            ];
            for change in changes {
                let question = seen(STAGED, change);
                assert_eq!(question, Question::Tissues, "compartment {}", index + 1);
            }
        }
    }
    let gradient = seen(STAGED, |b| b.schedule.surfacing.fraction += 1e-6);
    let leads = seen(STAGED, |b| {
        b.schedule.surfacing.index = (b.schedule.surfacing.index + 1) % 16;
    });
    assert_eq!([gradient, leads], [Question::Tissues; 2]);
}

#[test]
fn every_change_of_a_no_stop_limit_is_seen() {
    for text in [STAGED, NO_STOP] {
        for reach in [
            Reach::Nothing,
            Reach::Unlimited,
            Reach::Until(minutes(3.0)),
            Reach::Until(minutes(12.5)),
            Reach::Until(minutes(30.0)),
        ] {
            let changes: [&dyn Fn(&mut Briefing); 3] = [
                &|b| b.no_stop_limit.reach = reach,
                &|b| b.clean_limit.reach = reach,
                &|b| b.own[0].limit.reach = reach,
            ];
            for change in changes {
                assert_eq!(seen(text, change), Question::NoStopLimit, "{reach:?}");
            }
        }
    }
    // Every minute that is left, or taken, by a hundredth of one.
    for by in [-0.01, 0.01] {
        let question = seen(NO_STOP, |b| {
            let limit = b.no_stop_limit.time().unwrap();
            b.no_stop_limit.reach = Reach::Until(limit + minutes(by));
        });
        assert_eq!(question, Question::NoStopLimit);
    }
}

#[test]
fn every_change_of_an_emergency_is_seen() {
    let changes: [fn(&mut Briefing); 8] = [
        |b| {
            let full = &mut b.level_ends[1].emergency.full;
            let stop = stops(full, SegmentKind::Stop)[0];
            later(full, stop, -1.0);
        },
        |b| later(&mut b.level_ends[0].emergency.direct, 0, 1.0),
        |b| b.level_ends[0].emergency.least = None,
        |b| later(b.level_ends[0].emergency.least.as_mut().unwrap(), 0, 1.0),
        |b| {
            let taken = &mut b.level_ends[0].emergency.exposure;
            taken.full = exposure(taken.full, 0.999);
        },
        |b| {
            let taken = &mut b.level_ends[1].emergency.exposure;
            taken.direct = exposure(taken.direct, 0.999);
        },
        |b| b.level_ends[1].used = exposure(b.level_ends[1].used, 0.999),
        |b| {
            b.level_ends.pop();
        },
    ];
    for (index, change) in changes.into_iter().enumerate() {
        assert_eq!(seen(STAGED, change), Question::Emergency, "change {index}");
    }
}

#[test]
fn every_change_of_a_divers_gas_is_seen() {
    let changes: [fn(&mut Briefing); 30] = [
        |b| b.divers[0].start = litres(b.divers[0].start, 1.0),
        |b| b.divers[1].fill = bars(b.divers[1].fill, 1.0),
        |b| b.divers[0].planned_use = litres(b.divers[0].planned_use, -1.0),
        |b| b.divers[0].end = b.divers[0].end.map(|end| bars(end, 0.1)),
        |b| b.divers[0].end = None,
        |b| b.divers[0].empty_at = Some((RunTime::from_min(40.0), Depth::from_m(5.0))),
        |b| b.divers[0].reserve = litres(b.divers[0].reserve, -1.0),
        |b| b.divers[0].minimum_gas = bars(b.divers[0].minimum_gas, -0.1),
        |b| b.divers[0].turn = bars(b.divers[0].turn, -0.1),
        |b| b.divers[1].turn = bars(b.divers[1].turn, 0.1),
        |b| b.divers[0].turn_due = Some(RunTime::from_min(31.0)),
        |b| b.divers[0].turn_due = Some(RunTime::from_min(0.0)),
        |b| b.divers[0].turn_due = None,
        |b| b.divers[0].partner = None,
        |b| {
            b.divers[0].hang = None;
        },
        |b| {
            let hang = b.divers[0].hang.as_mut().unwrap();
            hang.takes = litres(hang.takes, -1.0);
        },
        |b| {
            let hang = b.divers[0].hang.as_mut().unwrap();
            hang.left = hang.left.map(|left| bars(left, 0.1));
        },
        |b| {
            let level = &mut b.divers[0].levels[0];
            level.reserve = litres(level.reserve, -1.0);
        },
        |b| {
            let level = &mut b.divers[0].levels[1];
            level.trouble = litres(level.trouble, -1.0);
        },
        |b| {
            let level = &mut b.divers[0].levels[1];
            level.minimum_gas = bars(level.minimum_gas, -0.1);
        },
        |b| {
            let level = &mut b.divers[0].levels[0];
            level.contents = litres(level.contents, 1.0);
        },
        |b| {
            let level = &mut b.divers[0].levels[1];
            level.left = level.left.map(|left| bars(left, 0.1));
        },
        |b| {
            let level = &mut b.divers[1].levels[0];
            level.to_spare = litres(level.to_spare, 1.0);
        },
        |b| {
            b.divers[0].levels.pop();
        },
        |b| b.divers[0].stages[0].need = litres(b.divers[0].stages[0].need, -1.0),
        |b| b.divers[1].stages[1].have = litres(b.divers[1].stages[1].have, 1.0),
        |b| {
            b.divers[0].stages.remove(0);
        },
        |b| {
            b.divers[0].pony = None;
        },
        |b| {
            b.divers.pop();
        },
        |b| {
            b.limits.pop();
        },
    ];
    for (index, change) in changes.into_iter().enumerate() {
        assert_eq!(seen(STAGED, change), Question::Gas, "change {index}");
    }
}

#[test]
fn every_change_of_a_pony_is_seen() {
    for text in [STAGED, NO_STOP] {
        let said = right(text).divers[0].pony.unwrap();
        for verdict in [
            PonyVerdict::CoversAll,
            PonyVerdict::CoversAscentOnly,
            PonyVerdict::Short,
        ] {
            if verdict != said.verdict {
                let question = seen(text, |b| {
                    b.divers[0].pony.as_mut().unwrap().verdict = verdict
                });
                assert_eq!(question, Question::Gas);
            }
        }
        let changes: [fn(&mut Briefing); 3] = [
            |b| {
                let pony = b.divers[0].pony.as_mut().unwrap();
                pony.need_ascent = litres(pony.need_ascent, -1.0);
            },
            |b| {
                let pony = b.divers[0].pony.as_mut().unwrap();
                pony.need_full = litres(pony.need_full, -1.0);
            },
            |b| {
                let pony = b.divers[0].pony.as_mut().unwrap();
                pony.have = litres(pony.have, 1.0);
            },
        ];
        for change in changes {
            assert_eq!(seen(text, change), Question::Gas);
        }
    }
}

/// A minute more or less of how long gas lasts: not even with the minute at which it fails moved too.
#[test]
fn every_change_of_a_limit_of_gas_is_seen() {
    for text in [STAGED, NO_STOP] {
        for by in [-1, 1] {
            let changes: [&dyn Fn(&mut Briefing); 4] = [
                &|b| {
                    let limit = &mut b.limits[0].gas_limit;
                    limit.minutes = limit.minutes.checked_add_signed(by).unwrap();
                },
                &|b| {
                    let limit = &mut b.limits[0].gas_limit;
                    limit.minutes = limit.minutes.checked_add_signed(by).unwrap();
                    limit.ended_by = moved(limit.ended_by, by);
                },
                &|b| {
                    let limit = &mut b.limits[0].gas_limit;
                    limit.ended_by = moved(limit.ended_by, by);
                },
                &|b| {
                    let limit = b.limits[0].pony_covers_until.as_mut().unwrap();
                    limit.minutes = limit.minutes.checked_add_signed(by).unwrap();
                    limit.ended_by = moved(limit.ended_by, by);
                },
            ];
            for (index, change) in changes.into_iter().enumerate() {
                assert_eq!(seen(text, change), Question::GasLimit, "change {index}");
            }
        }
        let none = seen(text, |b| b.limits[0].pony_covers_until = None);
        let bound = seen(text, |b| b.limits[0].gas_limit.ended_by = LimitEnd::Bound);
        assert_eq!([none, bound], [Question::GasLimit; 2]);
    }
}

fn moved(end: LimitEnd, by: i32) -> LimitEnd {
    match end {
        LimitEnd::Gas { at_min } => LimitEnd::Gas {
            at_min: at_min.checked_add_signed(by).unwrap(),
        },
        other => other,
    }
}

#[test]
fn every_change_of_oxygen_is_seen() {
    let changes: [fn(&mut Briefing); 6] = [
        |b| b.oxygen.max_po2_bar += 1e-3,
        |b| b.oxygen.cns_pct -= 1e-2,
        |b| b.oxygen.otu -= 1e-2,
        |b| b.own[0].oxygen.max_po2_bar += 1e-3,
        |b| b.own[0].oxygen.cns_pct -= 1e-2,
        |b| b.own[1].oxygen.otu -= 1e-2,
    ];
    for (index, change) in changes.into_iter().enumerate() {
        assert_eq!(seen(STAGED, change), Question::Oxygen, "change {index}");
    }
}

/// The same rise twice, of which the second passes the ceiling: neither engine takes one for the other.
const TWO_LIKE_RISES: &str = r#"
[[profile.level]]
depth = "40 m"
time = "5 min"
[[profile.level]]
depth = "6 m"
time = "10 min"
[[profile.level]]
depth = "40 m"
time = "45 min"
[[profile.level]]
depth = "6 m"
time = "10 min"
"#;

#[test]
fn every_change_of_the_rises_reported_is_seen() {
    assert_eq!(right(TWO_LIKE_RISES).schedule.breaches.len(), 1);
    let changes: [fn(&mut Briefing); 4] = [
        |b| b.schedule.breaches.clear(),
        |b| b.schedule.breaches.push(b.schedule.breaches[0]),
        |b| b.schedule.breaches[0].from = Depth::from_m(39.0),
        |b| b.schedule.breaches[0].to = Depth::from_m(7.0),
    ];
    for (index, change) in changes.into_iter().enumerate() {
        assert_eq!(
            seen(TWO_LIKE_RISES, change),
            Question::Rise,
            "change {index}"
        );
    }
}

/// A figure that is no number agrees with nothing.
#[test]
fn what_is_no_number_is_seen() {
    let changes: [fn(&mut Briefing); 5] = [
        |b| b.divers[0].turn = GaugePressure::from_bar(f64::NAN),
        |b| b.divers[0].reserve = FreeVolume::from_l(f64::NAN),
        |b| b.oxygen.cns_pct = f64::NAN,
        |b| b.schedule.segments[3].end = RunTime::from_min(f64::NAN),
        |b| {
            let mut loadings = b.schedule.tissues.loadings();
            loadings[15].n2_bar = f64::NAN;
            b.schedule.tissues = Tissues::from_loadings(loadings);
        },
    ];
    for change in changes {
        seen(STAGED, change);
    }
}
