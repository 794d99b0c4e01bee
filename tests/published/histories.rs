//! Tissues through a whole day, against the differential equation solved by steps.
//!
//! Source: dP/dt = k·(Pi − P), k = ln 2/half-time, of each gas in each compartment (Baker, Some
//! introductory lessons about dissolved gas modeling, part 2). Here it is solved by the classical
//! Runge-Kutta method of 4th order, over ambient pressures that are written out by hand from the
//! plan: no closed form, no segment and no pressure of the library. Only the half-times are the
//! library's, which have tests of their own. In the day with stops their minutes are the library's
//! too: how long they are is none of this equation.

use hangbar::briefing::{Briefing, brief};
use hangbar::dive::Segment;
use hangbar::plan_file::read;
use hangbar::tissue::{COMPARTMENTS, CompartmentSet, FirstCompartment, Tissues};

use crate::checks::{assert_between, assert_close};

const SOURCE: &str = "dP/dt = k (Pi - P) by Runge-Kutta";
/// Longest step of the solver, min, before it is made finer.
const COARSE_MIN: f64 = 0.25;
/// So many times finer, 1/64 min: what is left of its error then is under 1e-12 bar.
const FINE: f64 = 16.0;
const SOLVED_BAR: f64 = 1e-11;

/// Nitrogen and helium in a compartment, bar.
type Held = [[f64; 2]; COMPARTMENTS];

/// Shares of nitrogen and helium.
type Gas = [f64; 2];
const AIR: Gas = [0.79, 0.0];
const EAN32: Gas = [0.68, 0.0];
const TRIMIX_21_35: Gas = [0.44, 0.35];

/// So many minutes on one gas, ambient pressure going evenly from one value to another.
struct Stretch {
    minutes: f64,
    from_bar: f64,
    to_bar: f64,
    gas: Gas,
}

/// A site: pressure at its surface and of a metre of its water.
#[derive(Clone, Copy)]
struct Water {
    surface_bar: f64,
    bar_per_m: f64,
}

/// 1025 kg/m³ · 9.80665 m/s² under one atmosphere.
const SEA: Water = Water {
    surface_bar: 1.013_25,
    bar_per_m: 0.100_518_162_5,
};

impl Water {
    fn bar(self, metres: f64) -> f64 {
        self.surface_bar + self.bar_per_m * metres
    }

    fn stretch(self, minutes: f64, from_m: f64, to_m: f64, gas: Gas) -> Stretch {
        Stretch {
            minutes,
            from_bar: self.bar(from_m),
            to_bar: self.bar(to_m),
            gas,
        }
    }

    fn at_the_surface(self, minutes: f64) -> Stretch {
        self.stretch(minutes, 0.0, 0.0, AIR)
    }

    /// A no-stop dive of one level or two, depths in metres and minutes of each: down at 18 m/min,
    /// up at 9, 3 min at 5 m, nothing rounded.
    fn no_stop_dive(self, levels: &[(f64, f64)], gas: Gas) -> Vec<Stretch> {
        let mut dive = Vec::new();
        let mut depth = 0.0;
        let mut go = |to: f64, dive: &mut Vec<Stretch>| {
            let rate = if to > depth { 18.0 } else { 9.0 };
            let minutes = (to - depth).abs() / rate;
            dive.push(self.stretch(minutes, depth, to, gas));
            depth = to;
            minutes
        };
        for (metres, minutes) in levels {
            let travel = go(*metres, &mut dive);
            dive.push(self.stretch(minutes - travel, *metres, *metres, gas));
        }
        go(5.0, &mut dive);
        dive.push(self.stretch(3.0, 5.0, 5.0, gas));
        go(0.0, &mut dive);
        dive
    }

    /// The segments of a schedule, each diver's gas as they name it.
    fn segments(self, segments: &[Segment]) -> Vec<Stretch> {
        let stretch = |segment: &Segment| {
            let (from, to) = (segment.from.as_m(), segment.to.as_m());
            let gas = [segment.gas.nitrogen(), segment.gas.helium()];
            let minutes = segment.end.as_min() - segment.start.as_min();
            self.stretch(minutes, from, to, gas)
        };
        segments.iter().map(stretch).collect()
    }
}

fn minutes(stretches: &[Stretch]) -> f64 {
    stretches.iter().map(|stretch| stretch.minutes).sum()
}

/// In balance with air at a pressure.
fn clean(surface_bar: f64) -> Held {
    [[(surface_bar - 0.0627) * 0.79, 0.0]; COMPARTMENTS]
}

/// Half-times of nitrogen and helium, min.
fn half_times(set: &CompartmentSet) -> Held {
    set.compartments()
        .each_ref()
        .map(|one| [one.nitrogen, one.helium].map(|gas| gas.half_time.as_min()))
}

/// One step of the classical Runge-Kutta method on `dp/dt = slope(t, p)`.
fn step(slope: impl Fn(f64, f64) -> f64, t: f64, p: f64, h: f64) -> f64 {
    let k1 = slope(t, p);
    let k2 = slope(t + h / 2.0, p + h / 2.0 * k1);
    let k3 = slope(t + h / 2.0, p + h / 2.0 * k2);
    let k4 = slope(t + h, p + h * k3);
    p + h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4)
}

/// One gas in one compartment through a stretch, in equal steps so many times finer than coarse.
fn solve(start: f64, half_time: f64, share: f64, stretch: &Stretch, finer: f64) -> f64 {
    let k = std::f64::consts::LN_2 / half_time;
    let inspired = |t: f64| {
        let along = t / stretch.minutes;
        let ambient = stretch.from_bar + (stretch.to_bar - stretch.from_bar) * along;
        (ambient - 0.0627) * share
    };
    let steps = (stretch.minutes / COARSE_MIN).ceil() * finer;
    let h = stretch.minutes / steps;
    let mut p = start;
    let mut number = 0.0;
    while number < steps {
        p = step(|t, p| k * (inspired(t) - p), number * h, p, h);
        number += 1.0;
    }
    p
}

fn through(start: &Held, set: &CompartmentSet, stretches: &[Stretch], finer: f64) -> Held {
    let mut held = *start;
    for (held, half_times) in held.iter_mut().zip(half_times(set)) {
        for stretch in stretches {
            for gas in 0..2 {
                let share = stretch.gas[gas];
                held[gas] = solve(held[gas], half_times[gas], share, stretch, finer);
            }
        }
    }
    held
}

fn most(one: &Held, other: &Held) -> Held {
    let mut most = *one;
    for (most, other) in most.iter_mut().zip(other) {
        *most = [most[0].max(other[0]), most[1].max(other[1])];
    }
    most
}

/// The greatest difference of any gas in any compartment.
fn apart(got: &Tissues, want: &Held) -> f64 {
    let differences = got.loadings().into_iter().zip(want).map(|(got, want)| {
        let (n2, he) = (got.n2_bar - want[0], got.he_bar - want[1]);
        n2.abs().max(he.abs())
    });
    differences.fold(0.0, f64::max)
}

#[track_caller]
fn assert_held(what: &str, got: &Tissues, want: &Held) {
    assert_close(what, SOURCE, apart(got, want), 0.0, SOLVED_BAR);
}

fn briefed(plan: &str) -> Briefing {
    brief(read(plan).unwrap()).unwrap()
}

/// Three divers: one on air, two on EAN32, of whom one leaves out the first dive.
const LAKE: &str = r#"
[site]
water = "fresh"
altitude = "1200 m"
arrived = "90 min"
home_altitude = "100 m"
[profile]
[[profile.level]]
depth = "21 m"
time = "15 min"
[[profile.level]]
depth = "12 m"
time = "14 min"
[gas]
bottom = "EAN32"
[[diver]]
name = "Ines"
sac = "15 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
[[diver]]
name = "Tove"
gas = "air"
sac = "15 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
[[diver]]
name = "Moss"
sac = "15 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
[[before]]
depth = "27 m"
bottom_time = "11 min"
gas = "air"
surface_interval = "75 min"
divers = ["Ines", "Tove"]
"#;

#[test]
fn a_day_at_a_lake_of_three_divers_solves_the_equation() {
    // 1.01325·(1 − 0.0065·h/288.15)^5.2558761 at 1200 m and at 100 m, by hand.
    let air_at = |metres: f64| 1.013_25 * (1.0 - 0.0065 * metres / 288.15).powf(5.255_876_1);
    let lake = Water {
        surface_bar: air_at(1200.0),
        bar_per_m: 0.098_066_5,
    };
    let day = briefed(LAKE);
    let set = &day.plan.rules().compartments;
    let solve = |start: &Held, day: &[Stretch]| through(start, set, day, FINE);

    let arrived = solve(&clean(air_at(100.0)), &[lake.at_the_surface(90.0)]);
    let first = lake.no_stop_dive(&[(27.0, 11.0)], AIR);
    let dived = solve(&arrived, &first);
    let stayed = solve(&arrived, &[lake.at_the_surface(minutes(&first))]);
    let rest = [lake.at_the_surface(75.0)];
    let (tired, fresh) = (solve(&dived, &rest), solve(&stayed, &rest));

    let history = day.plan.history();
    let [before] = history.dives.as_slice() else {
        panic!("one dive before")
    };
    assert!(!before.schedule.staged && !day.schedule.staged);
    let levels = [(21.0, 15.0), (12.0, 14.0)];
    let own = [
        ("Ines", &dived, &tired, EAN32),
        ("Tove", &dived, &tired, AIR),
        ("Moss", &stayed, &fresh, EAN32),
    ];
    for (index, (name, first, start, gas)) in own.into_iter().enumerate() {
        let what = |when| format!("{name}, {when}");
        assert_held(&what("arrived"), &history.arrived[index].tissues, &arrived);
        assert_held(&what("first"), &before.surfaced[index].tissues, first);
        assert_held(&what("start"), &day.plan.starts()[index].tissues, start);
        let end = solve(start, &lake.no_stop_dive(&levels, gas));
        assert_held(&what("end"), &day.own[index].surfaced.tissues, &end);
    }

    // The team: the most of each from the start, on the leanest gas.
    let start = most(&tired, &fresh);
    assert_held("team, start", &day.plan.start().tissues, &start);
    let end = solve(&start, &lake.no_stop_dive(&levels, AIR));
    assert_held("team, end", &day.schedule.tissues, &end);
    // And they do differ, by more than the solver could be wrong.
    assert!(apart(&day.own[0].surfaced.tissues, &end) > 0.01);
    assert!(apart(&day.own[2].surfaced.tissues, &end) > 0.01);
}

/// Helium on the first dive, air on the second, EAN32 on the third.
fn three_gases(first_compartment: &str) -> String {
    format!(
        r#"
[profile]
depth = "22 m"
bottom_time = "16 min"
[model]
first_compartment = "{first_compartment}"
[gas]
bottom = "EAN32"
[[before]]
depth = "30 m"
bottom_time = "10 min"
gas = "21/35"
surface_interval = "47 min"
[[before]]
level = [{{ depth = "18 m", time = "12 min" }}, {{ depth = "9 m", time = "20 min" }}]
gas = "air"
surface_interval = "2 h"
"#
    )
}

/// Everything up to the last dive, and the last dive.
fn three_gases_by_hand() -> (Vec<Stretch>, Vec<Stretch>) {
    let mut before = SEA.no_stop_dive(&[(30.0, 10.0)], TRIMIX_21_35);
    before.push(SEA.at_the_surface(47.0));
    before.extend(SEA.no_stop_dive(&[(18.0, 12.0), (9.0, 20.0)], AIR));
    before.push(SEA.at_the_surface(120.0));
    (before, SEA.no_stop_dive(&[(22.0, 16.0)], EAN32))
}

#[test]
fn helium_washed_out_over_a_day_solves_the_equation() {
    for (name, first) in [
        ("1b", FirstCompartment::FiveMinutes),
        ("1", FirstCompartment::FourMinutes),
    ] {
        let day = briefed(&three_gases(name));
        let set = CompartmentSet::zh_l16c(first);
        let dives = &day.plan.history().dives;
        assert!(dives.iter().all(|dive| !dive.schedule.staged) && !day.schedule.staged);
        let (before, dive) = three_gases_by_hand();
        let start = through(&clean(SEA.surface_bar), &set, &before, FINE);
        let end = through(&start, &set, &dive, FINE);
        assert_held("start", &day.plan.start().tissues, &start);
        assert_held("end", &day.schedule.tissues, &end);
        // Helium of the first dive is left after the third, and less of it than before that one.
        let helium = |held: &Held| held.map(|[_, helium]| helium);
        let left = helium(&end).into_iter().fold(0.0, f64::max);
        assert!(left > 0.01, "helium at the end: {left} bar at most");
        let pairs = helium(&start).into_iter().zip(helium(&end));
        for (before, after) in pairs {
            assert!(after < before, "helium {before} then {after}");
        }
    }
}

#[test]
fn what_is_left_of_the_difference_is_the_solver_s() {
    // Of a method of 4th order steps half as long leave about a sixteenth of the error, 8e-9 bar
    // at 1/4 min and 2e-12 at 1/32. An error of the library's own would stay.
    const ROUNDING_BAR: f64 = 1e-12;
    let day = briefed(&three_gases("1"));
    let set = CompartmentSet::zh_l16c(FirstCompartment::FourMinutes);
    let (before, dive) = three_gases_by_hand();
    let off = |finer: f64| {
        let start = through(&clean(SEA.surface_bar), &set, &before, finer);
        let end = through(&start, &set, &dive, finer);
        apart(&day.schedule.tissues, &end)
    };
    let errors = [1.0, 2.0, 4.0, 8.0].map(off);
    for pair in errors.windows(2) {
        let fall = pair[0] / pair[1];
        assert_between("steps half as long", SOURCE, fall, 15.0, 19.0);
    }
    assert_close("1/64 min", SOURCE, off(FINE), 0.0, ROUNDING_BAR);
}

#[test]
fn a_day_with_stops_on_trimix_and_on_two_gases_solves_the_equation() {
    let plan = r#"
[site]
surface_pressure = "1020 mbar"
water = "1030 kg/m3"
[profile]
depth = "33 m"
bottom_time = "35 min"
staged = true
[gas]
bottom = "EAN32"
decompression = ["EAN50"]
[[diver]]
name = "Ines"
sac = "15 L/min"
cylinder = { size = "24 L", fill = "200 bar" }
stage = [{ gas = "EAN50", size = "7 L", fill = "200 bar" }]
[[before]]
depth = "48 m"
bottom_time = "20 min"
gas = "18/45"
surface_interval = "95 min"
"#;
    // 1030 kg/m³ · 9.80665 m/s².
    let water = Water {
        surface_bar: 1.020,
        bar_per_m: 0.101_008_495,
    };
    let day = briefed(plan);
    let set = &day.plan.rules().compartments;
    let before = &day.plan.history().dives[0];
    assert!(before.schedule.staged && day.schedule.staged);
    let mut gases: Vec<_> = (day.schedule.segments.iter())
        .map(|segment| segment.gas.to_string())
        .collect();
    gases.dedup();
    assert_eq!(gases, ["EAN32", "EAN50"]);
    let mut first = water.segments(&before.schedule.segments);
    let surfaced = through(&clean(water.surface_bar), set, &first, FINE);
    assert_held("first", &before.schedule.tissues, &surfaced);
    first.push(water.at_the_surface(95.0));
    let start = through(&clean(water.surface_bar), set, &first, FINE);
    assert_held("start", &day.plan.starts()[0].tissues, &start);
    let dive = water.segments(&day.schedule.segments);
    let end = through(&start, set, &dive, FINE);
    assert_held("team, end", &day.schedule.tissues, &end);
    assert_held("diver, end", &day.own[0].surfaced.tissues, &end);
}
