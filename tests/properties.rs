//! What must hold for every plan, tried on random ones that keep to the edges: equal values,
//! limits and one step beside them, depths on stop levels.
//!
//! The seed is fixed, so a run is the same everywhere and leaves no files behind. Where a property
//! needs the model, the tests fly the dive again with the equations of the model written out here
//! and take only the coefficients from the library.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a helper of a test may fail the test"
)]

use std::fmt::Write as _;

use hangbar::briefing::{Briefing, BriefingError, NoStopMargin, brief};
use hangbar::dive::no_stop_limit;
use hangbar::dive::{Schedule, ScheduleError, Segment, SegmentKind, fly};
use hangbar::gas::{DiverBudget, PonyVerdict};
use hangbar::plan::{AscentRules, LastStop, SafetyStop};
use hangbar::plan::{DiveRules, Level};
use hangbar::plan_file;
use hangbar::plan_file::Overrides;
use hangbar::quantity::{
    CUBIC_FOOT_L, Depth, FOOT_M, FreeVolume, GaugePressure, KNOT_M_MIN, PSI_BAR, Pressure, Speed,
    Temperature, Time, WaterVolume,
};
use hangbar::site::Mix;
use hangbar::site::{Charge, GasConditions, GasLaw};
use hangbar::site::{Environment, Water};
use hangbar::tissue::{
    COMPARTMENTS, Coefficients, CompartmentSet, FirstCompartment, GradientFactors, Loading, Tissues,
};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// Any number does; this one is the same in every run.
const SEED: u64 = 0x0048_414E_4742_4152;
/// Two ways to the same pressure in f64, over some thousand minutes: bar.
const SAME_PRESSURE_BAR: f64 = 1e-9;
/// Two ways to the same run time: minutes.
const SAME_TIME_MIN: f64 = 1e-9;
/// Two ways to the same depth: metres.
const SAME_DEPTH_M: f64 = 1e-9;
/// What the model lets a compartment stand over its limit: bar.
const WITHIN_BAR: f64 = 1e-9;

/// So many cases, or as many as `PROPTEST_CASES` asks for; at most as many again may be thrown
/// away, lest a property hold of nothing.
fn config(cases: u32) -> ProptestConfig {
    let asked = std::env::var_os("PROPTEST_CASES").map(|_| ProptestConfig::default().cases);
    let cases = asked.unwrap_or(cases);
    ProptestConfig {
        cases,
        max_global_rejects: cases,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(SEED),
        ..ProptestConfig::default()
    }
}

// ---------------------------------------------------------------------------------------------
// Generators

const METRIC_LEVEL_M: f64 = 3.0;
const IMPERIAL_LEVEL_M: f64 = 10.0 * FOOT_M;

/// A depth in metres up to about `deepest`: on a stop level, a hair beside one, or anywhere.
fn depth_m(deepest: f64) -> impl Strategy<Value = f64> {
    const BESIDE_M: f64 = 1e-6;
    let level = prop_oneof![Just(METRIC_LEVEL_M), Just(IMPERIAL_LEVEL_M)];
    let on_level = (1_u32..=40, level)
        .prop_map(move |(number, spacing)| (f64::from(number) * spacing).min(deepest));
    prop_oneof![
        3 => on_level.clone(),
        1 => on_level.clone().prop_map(|depth| depth + BESIDE_M),
        1 => on_level.prop_map(|depth| depth - BESIDE_M),
        1 => prop_oneof![Just(0.3), Just(5.0), Just(15.0 * FOOT_M), Just(5.0 + BESIDE_M)],
        4 => 0.3..deepest,
    ]
}

/// Time at a depth after the travel: none, nearly none, whole minutes, anything.
fn at_depth_min(longest: f64) -> impl Strategy<Value = f64> {
    prop_oneof![
        1 => Just(0.0),
        1 => Just(1e-6),
        3 => (0.0..longest).prop_map(f64::round),
        5 => 0.0..longest,
    ]
}

fn one_gas_mix() -> impl Strategy<Value = Mix> {
    prop_oneof![
        3 => Just(Mix::AIR),
        1 => Just(Mix::nitrox(100.0).unwrap()),
        3 => (21_u32..=50).prop_map(|pct| Mix::nitrox(f64::from(pct)).unwrap()),
        1 => (5.0..=100.0).prop_map(|pct| Mix::nitrox(pct).unwrap()),
    ]
}

fn helium_mix() -> impl Strategy<Value = Mix> {
    prop_oneof![
        2 => Just(Mix::trimix(18.0, 45.0).unwrap()),
        1 => Just(Mix::trimix(21.0, 79.0).unwrap()),
        1 => Just(Mix::trimix(21.0, 1e-6).unwrap()),
        3 => (10_u32..=32, 1_u32..=68)
            .prop_map(|(o2, he)| Mix::trimix(f64::from(o2), f64::from(he)).unwrap()),
    ]
}

fn any_mix() -> impl Strategy<Value = Mix> {
    prop_oneof![2 => one_gas_mix(), 1 => helium_mix()]
}

/// Gases for the way up: none, one or two, richer than air.
fn decompression() -> impl Strategy<Value = Vec<Mix>> {
    let nitrox = |pct| Mix::nitrox(pct).unwrap();
    prop_oneof![
        3 => Just(Vec::new()),
        1 => Just(vec![nitrox(50.0)]),
        1 => Just(vec![nitrox(100.0)]),
        1 => Just(vec![nitrox(50.0), nitrox(100.0)]),
        1 => (32.0..99.0).prop_map(move |pct| vec![nitrox(pct)]),
    ]
}

fn factors() -> impl Strategy<Value = GradientFactors> {
    let pair = |(low, high)| GradientFactors::from_pct(low, high).unwrap();
    prop_oneof![
        2 => Just((40.0, 85.0)),
        1 => Just((100.0, 100.0)),
        1 => (20.0..=100.0).prop_map(|both| (both, both)),
        4 => (10.0..=100.0, 10.0..=100.0)
            .prop_map(|(x, y): (f64, f64)| (x.min(y), x.max(y).max(25.0))),
    ]
    .prop_map(pair)
}

fn environment() -> impl Strategy<Value = Environment> {
    let surface = prop_oneof![
        4 => Just(Pressure::from_atm(1.0)),
        1 => Just(Pressure::from_bar(0.577)),
        2 => (0.577..1.1).prop_map(Pressure::from_bar),
    ];
    let water = prop_oneof![
        4 => Just(Water::Sea),
        1 => Just(Water::Fresh),
        1 => Just(Water::En13319),
        1 => (950.0..1300.0).prop_map(|kg_per_m3| Water::Density { kg_per_m3 }),
    ];
    (surface, water).prop_map(|(surface, water)| Environment::new(surface, water))
}

fn ascent_rules() -> impl Strategy<Value = AscentRules> {
    let base = prop_oneof![Just(AscentRules::metric()), Just(AscentRules::imperial())];
    let rate = prop_oneof![4 => Just(None), 1 => (3.0..30.0).prop_map(Some)];
    let safety = prop_oneof![
        3 => Just(None),
        1 => Just(Some(None)),
        1 => (depth_m(20.0), 0.5..8.0).prop_map(|(depth, minutes)| {
            Some(Some(SafetyStop {
                depth: Depth::from_m(depth.max(1.0)),
                time: Time::from_min(minutes),
            }))
        }),
    ];
    let switch = prop_oneof![3 => Just(1.0), 1 => Just(0.0), 1 => 0.0..4.0];
    (base, rate, any::<bool>(), safety, switch).prop_map(|(base, rate, two, safety, switch)| {
        AscentRules {
            rate: rate.map_or(base.rate, Speed::from_m_min),
            last_stop: if two {
                LastStop::TwoSpacings
            } else {
                LastStop::OneSpacing
            },
            safety_stop: safety.unwrap_or(base.safety_stop),
            switch_time: Time::from_min(switch),
            ..base
        }
    })
}

fn rules(bottom_gas: impl Strategy<Value = Mix>) -> impl Strategy<Value = DiveRules> {
    let first = prop_oneof![
        3 => Just(FirstCompartment::FiveMinutes),
        1 => Just(FirstCompartment::FourMinutes)
    ];
    let descent = prop_oneof![3 => Just(18.0), 1 => Just(60.0 * FOOT_M), 1 => 5.0..40.0];
    (
        environment(),
        factors(),
        ascent_rules(),
        bottom_gas,
        decompression(),
        first,
        descent,
    )
        .prop_map(
            |(environment, factors, ascent, bottom_gas, decompression, first, descent)| DiveRules {
                environment,
                compartments: CompartmentSet::zh_l16c(first),
                factors,
                descent_rate: Speed::from_m_min(descent),
                ascent,
                bottom_gas,
                decompression,
            },
        )
}

/// A dive of one to three levels, each with its depth and the time after the travel to it.
fn stays(deepest: f64, longest: f64) -> impl Strategy<Value = Vec<(f64, f64)>> {
    prop::collection::vec((depth_m(deepest), at_depth_min(longest)), 1..=3)
}

/// Levels of the stays, the travel to each added.
fn levels(rules: &DiveRules, stays: &[(f64, f64)]) -> Vec<Level> {
    let mut from = 0.0;
    let level = |&(depth, stay): &(f64, f64)| {
        let travel = travel_min(rules, from, depth);
        from = depth;
        Level {
            depth: Depth::from_m(depth),
            time: Time::from_min(travel + stay),
        }
    };
    stays.iter().map(level).collect()
}

fn travel_min(rules: &DiveRules, from_m: f64, to_m: f64) -> f64 {
    let rate = if to_m < from_m {
        rules.ascent.rate
    } else {
        rules.descent_rate
    };
    (to_m - from_m).abs() / rate.as_m_min()
}

fn fly_clean(rules: &DiveRules, levels: &[Level]) -> Result<Schedule, ScheduleError> {
    let clean = Tissues::clean(rules.environment.surface());
    fly(rules, &clean, levels)
}

// ---------------------------------------------------------------------------------------------
// Plans as text

/// The shortest level that a plan may ask for.
const LEAST_LEVEL_MIN: f64 = 0.1;

/// In which units the quantities of a plan are spelled.
#[derive(Clone, Copy, Debug)]
enum Spelling {
    Metric,
    Imperial,
}

impl Spelling {
    /// To full precision: the shortest decimal that reads back as the same f64.
    fn spell(self, value: f64, metric: &str, imperial: &str, one_imperial: f64) -> String {
        match self {
            Self::Metric => format!("\"{value} {metric}\""),
            Self::Imperial => format!("\"{} {imperial}\"", value / one_imperial),
        }
    }

    fn depth(self, m: f64) -> String {
        self.spell(m, "m", "ft", FOOT_M)
    }

    fn pressure(self, bar: f64) -> String {
        self.spell(bar, "bar", "psi", PSI_BAR)
    }

    fn speed(self, m_min: f64) -> String {
        self.spell(m_min, "m/min", "ft/min", FOOT_M)
    }

    fn current(self, m_min: f64) -> String {
        self.spell(m_min, "m/min", "kn", KNOT_M_MIN)
    }

    fn breathing(self, l_min: f64) -> String {
        self.spell(l_min, "L/min", "cuft/min", CUBIC_FOOT_L)
    }

    fn pressure_rate(self, bar_min: f64) -> String {
        self.spell(bar_min, "bar/min", "psi/min", PSI_BAR)
    }

    fn capacity(self, litres: f64) -> String {
        self.spell(litres, "L", "cuft", CUBIC_FOOT_L)
    }

    fn temperature(self, celsius: f64) -> String {
        match self {
            Self::Metric => format!("\"{celsius} C\""),
            Self::Imperial => format!("\"{} F\"", celsius * 9.0 / 5.0 + 32.0),
        }
    }
}

#[derive(Clone, Copy, Debug)]
enum Breathing {
    LitresAMinute(f64),
    BarAMinute(f64),
}

#[derive(Clone, Copy, Debug)]
enum Size {
    Litres(f64),
    /// Free litres at a working pressure in bar.
    Rated(f64, f64),
}

impl Size {
    fn text(self, spelling: Spelling) -> String {
        match self {
            Self::Litres(litres) => format!("size = \"{litres} L\""),
            Self::Rated(litres, bar) => format!(
                "rated = {}, at = {}",
                spelling.capacity(litres),
                spelling.pressure(bar)
            ),
        }
    }
}

#[derive(Clone, Debug)]
struct Member {
    breathing: Breathing,
    size: Size,
    fill_bar: f64,
    /// Litres and bar.
    pony: Option<(f64, f64)>,
    /// The diver's limit lies so far below the deepest level.
    limit_deeper_m: Option<f64>,
}

#[derive(Clone, Copy, Debug)]
enum Surface {
    SeaLevel,
    AltitudeM(f64),
    Bar(f64),
}

/// A plan that can be read, whatever is drawn.
#[derive(Clone, Debug)]
struct Spec {
    imperial_defaults: bool,
    surface: Surface,
    celsius: f64,
    current_m_min: Option<f64>,
    /// Depth in metres and minutes at it after the travel.
    stays: Vec<(f64, f64)>,
    descent_m_min: Option<f64>,
    ascent_m_min: Option<f64>,
    /// 3 m or 10 ft; the default follows the units.
    feet_spacing: Option<bool>,
    last_two: bool,
    /// No safety stop, or depth and minutes.
    safety_stop: Option<Option<(f64, f64)>>,
    factors_pct: (f64, f64),
    four_minutes: bool,
    ideal: bool,
    bottom: Mix,
    decompression: Vec<Mix>,
    stress: f64,
    sort_out_min: f64,
    floor_bar: Option<f64>,
    turn: &'static str,
    team: Vec<Member>,
}

impl Spec {
    fn descent_m_min(&self) -> f64 {
        let default = if self.imperial_defaults {
            60.0 * FOOT_M
        } else {
            18.0
        };
        self.descent_m_min.unwrap_or(default)
    }

    fn ascent_m_min(&self) -> f64 {
        let default = if self.imperial_defaults {
            30.0 * FOOT_M
        } else {
            9.0
        };
        self.ascent_m_min.unwrap_or(default)
    }

    fn spacing_m(&self) -> f64 {
        if self.feet_spacing.unwrap_or(self.imperial_defaults) {
            IMPERIAL_LEVEL_M
        } else {
            METRIC_LEVEL_M
        }
    }

    /// The plan in TOML. A level is never left before it is reached, nor before 0.1 min.
    fn text(&self, spelling: Spelling) -> String {
        let mut out = String::new();
        let units = if self.imperial_defaults {
            "imperial"
        } else {
            "metric"
        };
        writeln!(out, "units = \"{units}\"\n[site]").unwrap();
        match self.surface {
            Surface::SeaLevel => {}
            Surface::AltitudeM(m) => writeln!(out, "altitude = {}", spelling.depth(m)).unwrap(),
            Surface::Bar(bar) => {
                writeln!(out, "surface_pressure = {}", spelling.pressure(bar)).unwrap();
            }
        }
        writeln!(out, "temperature = {}", spelling.temperature(self.celsius)).unwrap();
        if let Some(current) = self.current_m_min {
            writeln!(out, "current = {}", spelling.current(current)).unwrap();
        }
        writeln!(out, "[profile]").unwrap();
        if let Some(rate) = self.descent_m_min {
            writeln!(out, "descent_rate = {}", spelling.speed(rate)).unwrap();
        }
        let mut from = 0.0;
        for (depth, stay) in &self.stays {
            let rate = if *depth < from {
                self.ascent_m_min()
            } else {
                self.descent_m_min()
            };
            let time = ((depth - from).abs() / rate + stay).max(LEAST_LEVEL_MIN);
            let depth_text = spelling.depth(*depth);
            if self.stays.len() == 1 {
                writeln!(out, "depth = {depth_text}\nbottom_time = \"{time} min\"").unwrap();
            } else {
                writeln!(
                    out,
                    "[[profile.level]]\ndepth = {depth_text}\ntime = \"{time} min\""
                )
                .unwrap();
            }
            from = *depth;
        }
        writeln!(out, "[ascent]").unwrap();
        if let Some(rate) = self.ascent_m_min {
            writeln!(out, "rate = {}", spelling.speed(rate)).unwrap();
        }
        if self.feet_spacing.is_some() {
            writeln!(out, "stop_spacing = {}", spelling.depth(self.spacing_m())).unwrap();
        }
        if self.last_two {
            writeln!(
                out,
                "last_stop = {}",
                spelling.depth(2.0 * self.spacing_m())
            )
            .unwrap();
        }
        match self.safety_stop {
            None => {}
            Some(None) => writeln!(out, "safety_stop = false").unwrap(),
            Some(Some((depth, minutes))) => {
                let depth = spelling.depth(depth);
                writeln!(
                    out,
                    "safety_stop = {{ depth = {depth}, time = \"{minutes} min\" }}"
                )
                .unwrap();
            }
        }
        let (low, high) = self.factors_pct;
        let first = if self.four_minutes { "1" } else { "1b" };
        let law = if self.ideal { "ideal" } else { "real" };
        writeln!(
            out,
            "[model]\ngradient_factors = [{low:?}, {high:?}]\nfirst_compartment = \"{first}\"\n\
             gas_law = \"{law}\"\n[gas]\nbottom = \"{}\"",
            self.bottom
        )
        .unwrap();
        let gases: Vec<String> = self
            .decompression
            .iter()
            .map(|gas| format!("\"{gas}\""))
            .collect();
        writeln!(out, "decompression = [{}]\n[reserve]", gases.join(", ")).unwrap();
        writeln!(
            out,
            "stress = {:?}\nsort_out = \"{} min\"",
            self.stress, self.sort_out_min
        )
        .unwrap();
        if let Some(floor) = self.floor_bar {
            writeln!(out, "floor = {}", spelling.pressure(floor)).unwrap();
        }
        writeln!(out, "turn = \"{}\"", self.turn).unwrap();
        for (index, member) in self.team.iter().enumerate() {
            member.write(&mut out, index, self, spelling);
        }
        out
    }
}

impl Member {
    fn write(&self, out: &mut String, index: usize, spec: &Spec, spelling: Spelling) {
        let sac = match self.breathing {
            Breathing::LitresAMinute(rate) => spelling.breathing(rate),
            Breathing::BarAMinute(rate) => spelling.pressure_rate(rate),
        };
        let (size, fill) = (self.size.text(spelling), spelling.pressure(self.fill_bar));
        writeln!(
            out,
            "[[diver]]\nname = \"Diver {index}\"\nsac = {sac}\ncylinder = {{ {size}, fill = {fill} }}"
        )
        .unwrap();
        if let Some((litres, bar)) = self.pony {
            let fill = spelling.pressure(bar);
            writeln!(out, "pony = {{ size = \"{litres} L\", fill = {fill} }}").unwrap();
        }
        if let Some(deeper) = self.limit_deeper_m {
            let deepest = spec
                .stays
                .iter()
                .map(|(depth, _)| *depth)
                .fold(0.0, f64::max);
            writeln!(out, "depth_limit = {}", spelling.depth(deepest + deeper)).unwrap();
        }
        let stages = spec.decompression.iter().map(|gas| {
            let fill = spelling.pressure(self.fill_bar);
            format!("{{ gas = \"{gas}\", size = \"7 L\", fill = {fill} }}")
        });
        let stages: Vec<String> = stages.collect();
        if !stages.is_empty() {
            writeln!(out, "stage = [{}]", stages.join(", ")).unwrap();
        }
    }
}

fn member() -> impl Strategy<Value = Member> {
    const TRADE_80_L: f64 = 80.0 * CUBIC_FOOT_L;
    const TRADE_80_BAR: f64 = 3000.0 * PSI_BAR;
    let breathing = prop_oneof![
        3 => (8.0..40.0).prop_map(Breathing::LitresAMinute),
        1 => (1.0..4.0).prop_map(Breathing::BarAMinute),
    ];
    let size = prop_oneof![
        2 => prop_oneof![Just(10.0), Just(12.0), Just(24.0), 6.0..30.0].prop_map(Size::Litres),
        1 => Just(Size::Rated(TRADE_80_L, TRADE_80_BAR)),
        1 => (1500.0..4000.0, 190.0..230.0).prop_map(|(litres, bar)| Size::Rated(litres, bar)),
    ];
    // 190 bar at least in the working pressure, and 10 % above it may be filled.
    let fill = || prop_oneof![Just(200.0), Just(50.0), 60.0..208.0];
    let pony = prop::option::of((prop_oneof![Just(3.0), 1.0..7.0], fill()));
    let limit = prop_oneof![2 => Just(None), 1 => Just(Some(0.0)), 1 => (0.0..20.0).prop_map(Some)];
    (breathing, size, fill(), pony, limit).prop_map(
        |(breathing, size, fill_bar, pony, limit_deeper_m)| Member {
            breathing,
            size,
            fill_bar,
            pony,
            limit_deeper_m,
        },
    )
}

prop_compose! {
    fn way_up()(
        descent in prop_oneof![3 => Just(None), 1 => (5.0..40.0).prop_map(Some)],
        ascent in prop_oneof![3 => Just(None), 1 => (3.0..30.0).prop_map(Some)],
        feet_spacing in prop_oneof![2 => Just(None), 1 => any::<bool>().prop_map(Some)],
        last_two in any::<bool>(),
        safety_stop in prop_oneof![
            3 => Just(None),
            1 => Just(Some(None)),
            1 => (1.0..15.0, 0.5..8.0).prop_map(|stop| Some(Some(stop))),
        ],
        decompression in decompression(),
    ) -> (Option<f64>, Option<f64>, Option<bool>, bool, Option<Option<(f64, f64)>>, Vec<Mix>) {
        (descent, ascent, feet_spacing, last_two, safety_stop, decompression)
    }
}

prop_compose! {
    fn spec(bottom: impl Strategy<Value = Mix>)(
        (imperial_defaults, four_minutes, ideal) in any::<(bool, bool, bool)>(),
        (surface, celsius, current_m_min) in (
            prop_oneof![
                3 => Just(Surface::SeaLevel),
                1 => prop_oneof![Just(-430.0), Just(0.0), Just(4500.0), 0.0..4500.0]
                    .prop_map(Surface::AltitudeM),
                1 => (0.577..1.1).prop_map(Surface::Bar),
            ],
            prop_oneof![Just(15.0), -5.0..45.0],
            prop::option::of(0.0..60.0),
        ),
        stays in stays(60.0, 45.0),
        way_up in way_up(),
        factors in factors(),
        bottom in bottom,
        stress in prop_oneof![Just(1.0), Just(1.5), 1.0..5.0],
        sort_out_min in prop_oneof![Just(0.0), Just(1.0), 0.0..5.0],
        floor_bar in prop_oneof![2 => Just(None), 1 => Just(Some(0.0)), 1 => (0.0..100.0).prop_map(Some)],
        turn in prop_oneof![Just("half"), Just("third"), Just("all")],
        team in prop::collection::vec(member(), 0..=3),
    ) -> Spec {
        let (descent_m_min, ascent_m_min, feet_spacing, last_two, safety_stop, decompression) = way_up;
        Spec {
            imperial_defaults,
            surface,
            celsius,
            current_m_min,
            stays,
            descent_m_min,
            ascent_m_min,
            feet_spacing,
            last_two,
            safety_stop,
            factors_pct: (factors.low() * 100.0, factors.high() * 100.0),
            four_minutes,
            ideal,
            bottom,
            decompression,
            stress,
            sort_out_min,
            floor_bar,
            turn,
            team,
        }
    }
}

// ---------------------------------------------------------------------------------------------
// The dive flown again

/// Pressure of nitrogen and helium in each compartment, by the equations written out here.
#[derive(Clone)]
struct Diver<'a> {
    rules: &'a DiveRules,
    loadings: [[f64; 2]; COMPARTMENTS],
}

impl<'a> Diver<'a> {
    fn at_the_surface(rules: &'a DiveRules) -> Self {
        let nitrogen = (rules.environment.surface().as_bar() - 0.0627) * 0.79;
        Self {
            rules,
            loadings: [[nitrogen, 0.0]; COMPARTMENTS],
        }
    }

    fn ambient(&self, depth_m: f64) -> f64 {
        self.rules.environment.surface().as_bar() + self.rules.environment.bar_per_m() * depth_m
    }

    /// `p(t) = pi0 + r (t - 1/k) - (pi0 - p0 - r/k) exp(-k t)`
    fn breathe(&mut self, gas: Mix, from_m: f64, to_m: f64, minutes: f64) {
        if minutes <= 0.0 {
            return;
        }
        let (start, end) = (self.ambient(from_m), self.ambient(to_m));
        let rate = (end - start) / minutes;
        let set = self.rules.compartments.compartments();
        for (loading, compartment) in self.loadings.iter_mut().zip(set) {
            let gases: [(f64, &Coefficients); 2] = [
                (gas.nitrogen(), &compartment.nitrogen),
                (gas.helium(), &compartment.helium),
            ];
            for (pressure, (fraction, coefficients)) in loading.iter_mut().zip(gases) {
                let k = 2_f64.ln() / coefficients.half_time.as_min();
                let (inspired, rate) = ((start - 0.0627) * fraction, rate * fraction);
                *pressure = inspired + rate * (minutes - 1.0 / k)
                    - (inspired - *pressure - rate / k) * (-k * minutes).exp();
            }
        }
    }

    fn fly(&mut self, segment: &Segment) {
        let minutes = segment.time().as_min();
        let (from, to) = (segment.from.as_m(), segment.to.as_m());
        self.breathe(segment.gas, from, to, minutes);
    }

    /// How far the worst compartment stands over `P + G (M(P) - P)` at a depth; negative within.
    fn over(&self, depth_m: f64, factor: f64) -> f64 {
        let ambient = self.ambient(depth_m);
        let set = self.rules.compartments.compartments();
        let rows = self.loadings.iter().zip(set).map(|([n2, he], c)| {
            let mean = |nitrogen, helium| (nitrogen * n2 + helium * he) / (n2 + he);
            let (a, b) = (
                mean(c.nitrogen.a_bar, c.helium.a_bar),
                mean(c.nitrogen.b, c.helium.b),
            );
            n2 + he - (ambient + factor * (a + ambient / b - ambient))
        });
        rows.fold(f64::NEG_INFINITY, f64::max)
    }

    /// As [`Diver::over`] on arriving at `to` after going up to it.
    fn over_after_rising(&self, gas: Mix, from_m: f64, to_m: f64, factor: f64) -> f64 {
        let mut risen = self.clone();
        let minutes = (from_m - to_m) / self.rules.ascent.rate.as_m_min();
        risen.breathe(gas, from_m, to_m, minutes);
        risen.over(to_m, factor)
    }
}

/// Gradient factor in force at a depth.
fn factor_at(factors: GradientFactors, anchor_m: Option<f64>, depth_m: f64) -> f64 {
    match anchor_m {
        Some(anchor) if depth_m < anchor => {
            factors.high() + (factors.low() - factors.high()) * depth_m / anchor
        }
        _ => factors.low(),
    }
}

fn last_stop_m(rules: &DiveRules) -> f64 {
    let spacing = rules.ascent.spacing.depth().as_m();
    match rules.ascent.last_stop {
        LastStop::OneSpacing => spacing,
        LastStop::TwoSpacings => 2.0 * spacing,
    }
}

/// The level on which a staged ascent makes its safety stop, and the stop.
fn safety_level(rules: &DiveRules) -> Option<(f64, SafetyStop)> {
    let spacing = rules.ascent.spacing.depth().as_m();
    rules.ascent.safety_stop.map(|stop| {
        let level = (stop.depth.as_m() / spacing - SAME_DEPTH_M).ceil() * spacing;
        (level.max(last_stop_m(rules)), stop)
    })
}

/// Depths that a staged ascent asks at on the way from one depth up to another, the last included.
fn levels_between(rules: &DiveRules, from_m: f64, to_m: f64) -> Vec<f64> {
    let spacing = rules.ascent.spacing.depth().as_m();
    let least = last_stop_m(rules).max(to_m + SAME_DEPTH_M) - SAME_DEPTH_M / 2.0;
    let mut depths: Vec<f64> = (1..100)
        .map(|number| f64::from(number) * spacing)
        .filter(|depth| *depth < from_m - SAME_DEPTH_M && *depth >= least)
        .collect();
    depths.reverse();
    depths.push(to_m);
    depths
}

fn is_whole(minutes: f64) -> bool {
    (minutes - minutes.round()).abs() <= SAME_TIME_MIN
}

fn ascent_minutes(dive: &Schedule) -> f64 {
    dive.run_time().as_min() - dive.bottom_time.as_min()
}

// ---------------------------------------------------------------------------------------------
// Schedules

proptest! {
    #![proptest_config(config(128))]

    #[test]
    fn every_dive_flown_again_surfaces_within_the_high_factor(
        (rules, stays) in (rules(any_mix()), stays(75.0, 90.0)),
    ) {
        let Ok(dive) = fly_clean(&rules, &levels(&rules, &stays)) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let mut diver = Diver::at_the_surface(&rules);
        for segment in &dive.segments {
            diver.fly(segment);
        }
        let over = diver.over(0.0, rules.factors.high());
        prop_assert!(over <= WITHIN_BAR + SAME_PRESSURE_BAR, "surfaces {over} bar over the limit");
        let tissues = dive.tissues.loadings().iter().zip(&diver.loadings).enumerate();
        for (index, (got, [n2, he])) in tissues {
            prop_assert!((got.n2_bar - n2).abs() <= SAME_PRESSURE_BAR, "N2 of {index}: {got:?}, {n2}");
            prop_assert!((got.he_bar - he).abs() <= SAME_PRESSURE_BAR, "He of {index}: {got:?}, {he}");
        }
        prop_assert!(dive.surfacing.fraction <= rules.factors.high() + SAME_PRESSURE_BAR);
    }

    #[test]
    fn segments_follow_each_other_at_the_planned_speeds(
        (rules, stays) in (rules(any_mix()), stays(75.0, 90.0)),
    ) {
        let levels = levels(&rules, &stays);
        let Ok(dive) = fly_clean(&rules, &levels) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let (mut depth, mut minute) = (0.0, 0.0);
        for segment in &dive.segments {
            let (from, to) = (segment.from.as_m(), segment.to.as_m());
            let (start, end) = (segment.start.as_min(), segment.end.as_min());
            prop_assert!((from - depth).abs() <= SAME_DEPTH_M, "{segment:?} begins off {depth} m");
            prop_assert!((start - minute).abs() <= SAME_TIME_MIN, "{segment:?} begins off {minute} min");
            prop_assert!(end > start, "{segment:?} lasts no time");
            let speed = (to - from) / (end - start);
            // A short ramp's speed is known as well as its ends are.
            let known = 1e-9 * (1.0 + speed.abs()) / (end - start).min(1.0);
            let want = match segment.kind {
                SegmentKind::Descent => rules.descent_rate.as_m_min(),
                SegmentKind::Ascent => -rules.ascent.rate.as_m_min(),
                _ => 0.0,
            };
            prop_assert!((speed - want).abs() <= known, "{segment:?} goes at {speed}, not {want} m/min");
            (depth, minute) = (to, end);
        }
        for pair in dive.segments.windows(2) {
            let both_rise = pair.iter().all(|segment| segment.kind == SegmentKind::Ascent);
            prop_assert!(!both_rise || pair[0].gas != pair[1].gas, "two ascents that are one: {pair:?}");
        }
        prop_assert!(depth.abs() <= SAME_DEPTH_M, "ends at {depth} m");
        prop_assert!((dive.run_time().as_min() - minute).abs() <= SAME_TIME_MIN);
        // The levels themselves: bottom time, and each is left when its time is over.
        let mut end = 0.0;
        for (level, left) in levels.iter().zip(&dive.level_ends) {
            end += level.time.as_min();
            prop_assert!((left.run_time.as_min() - end).abs() <= SAME_TIME_MIN);
            prop_assert!((left.depth.as_m() - level.depth.as_m()).abs() <= SAME_DEPTH_M);
        }
        prop_assert!((dive.bottom_time.as_min() - end).abs() <= SAME_TIME_MIN);
        prop_assert_eq!(dive.level_ends.len(), levels.len());
    }

    #[test]
    fn a_dive_is_staged_exactly_if_a_straight_ascent_passes_the_high_factor(
        (rules, stays) in (rules(any_mix()), stays(75.0, 60.0)),
    ) {
        let Ok(dive) = fly_clean(&rules, &levels(&rules, &stays)) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let mut diver = Diver::at_the_surface(&rules);
        for segment in &dive.way_down {
            diver.fly(segment);
        }
        let bottom = dive.last_depth().as_m();
        let over = diver.over_after_rising(rules.bottom_gas, bottom, 0.0, rules.factors.high());
        prop_assume!((over - WITHIN_BAR).abs() > SAME_PRESSURE_BAR);
        prop_assert_eq!(dive.staged, over > WITHIN_BAR, "{} bar over", over);
    }
}

proptest! {
    #![proptest_config(config(128))]

    /// Whole minutes, no earlier than the tissues allow and no later; low factor down to the anchor.
    #[test]
    fn a_staged_ascent_holds_until_the_first_whole_minute_that_is_open(
        (rules, stays) in (rules(any_mix()), stays(75.0, 90.0)),
    ) {
        let Ok(dive) = fly_clean(&rules, &levels(&rules, &stays)) else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        prop_assume!(dive.staged);
        let anchor = dive.anchor.map(Depth::as_m);
        let factor = |depth| factor_at(rules.factors, anchor, depth);
        let mut diver = Diver::at_the_surface(&rules);
        for segment in &dive.way_down {
            diver.fly(segment);
        }
        let bottom = dive.last_depth().as_m();
        let safety = safety_level(&rules);
        let mut at_safety_level = 0.0;
        for segment in &dive.way_up {
            let (from, to) = (segment.from.as_m(), segment.to.as_m());
            let next = *levels_between(&rules, from, 0.0).first().unwrap();
            let on_safety_level = safety.is_some_and(|(level, _)| (level - from).abs() <= SAME_DEPTH_M)
                && from < bottom - SAME_DEPTH_M;
            match segment.kind {
                SegmentKind::Ascent => {
                    let mut risen = from;
                    for level in levels_between(&rules, from, to) {
                        // Above the anchor the factor rises; from the anchor up it is asked again.
                        let asked = if anchor.is_some_and(|anchor| risen <= anchor + SAME_DEPTH_M) {
                            factor(level)
                        } else {
                            rules.factors.low()
                        };
                        let minutes = (risen - level) / rules.ascent.rate.as_m_min();
                        diver.breathe(segment.gas, risen, level, minutes);
                        let over = diver.over(level, asked);
                        prop_assert!(
                            over <= WITHIN_BAR + SAME_PRESSURE_BAR,
                            "arrives at {level} m {over} bar over {asked}"
                        );
                        risen = level;
                    }
                }
                SegmentKind::Stop | SegmentKind::SafetyStop => {
                    let (start, end) = (segment.start.as_min(), segment.end.as_min());
                    prop_assert!(is_whole(end), "{segment:?} ends within a minute");
                    let barred = |diver: &Diver| {
                        diver.over_after_rising(segment.gas, from, next, factor(next)) > WITHIN_BAR - SAME_PRESSURE_BAR
                    };
                    let is_anchor = anchor.is_some_and(|anchor| (anchor - from).abs() <= SAME_DEPTH_M);
                    if segment.kind == SegmentKind::Stop && !is_anchor {
                        prop_assert!(barred(&diver), "{segment:?} is open on arrival");
                    }
                    // The anchor is where the low factor bars, and always a stop.
                    if is_anchor && segment.kind == SegmentKind::Stop {
                        let low = rules.factors.low();
                        let over = diver.over_after_rising(segment.gas, from, next, low);
                        prop_assert!(over > WITHIN_BAR - SAME_PRESSURE_BAR, "{segment:?} is no anchor");
                    }
                    if end - 1.0 > start + SAME_TIME_MIN && !on_safety_level {
                        let mut earlier = diver.clone();
                        earlier.breathe(segment.gas, from, from, end - 1.0 - start);
                        prop_assert!(barred(&earlier), "{segment:?} was open a minute before");
                    }
                    diver.fly(segment);
                }
                SegmentKind::Switch => {
                    let po2 = diver.ambient(from) * segment.gas.oxygen();
                    prop_assert!(po2 <= 1.63 + SAME_PRESSURE_BAR, "{segment:?} at {po2} bar");
                    diver.fly(segment);
                }
                kind => prop_assert!(false, "{kind:?} on the way up"),
            }
            if segment.kind != SegmentKind::Ascent && on_safety_level {
                at_safety_level += segment.time().as_min();
            }
        }
        let stops_at = |depth: f64| {
            dive.way_up.iter().any(|segment| {
                let pause = segment.kind != SegmentKind::Ascent;
                pause && (segment.from.as_m() - depth).abs() <= SAME_DEPTH_M
            })
        };
        prop_assert!(anchor.is_none_or(stops_at), "no stop at the anchor, {anchor:?}");
        if let Some((level, stop)) = safety
            && bottom > level + SAME_DEPTH_M
        {
            let least = stop.time.as_min() - SAME_TIME_MIN;
            prop_assert!(at_safety_level >= least, "{at_safety_level} min at {level} m");
        }
    }
}

// ---------------------------------------------------------------------------------------------
// No-stop limits

/// A bottom time so far beside the limit is on the one side or the other of it: minutes. The
/// slowest compartments take up 1e-6 bar a minute, and the limit itself is known to 1e-15 bar.
const BESIDE_THE_LIMIT_MIN: f64 = 1e-6;

/// Whether the dive at one depth goes straight up.
fn goes_straight_up(rules: &DiveRules, depth_m: f64, bottom_min: f64) -> bool {
    let level = Level {
        depth: Depth::from_m(depth_m),
        time: Time::from_min(bottom_min),
    };
    match fly_clean(rules, &[level]) {
        Ok(dive) => !dive.staged,
        // Only a dive that needs no stop makes its safety stop unasked.
        Err(ScheduleError::SafetyStopOverloads { .. }) => true,
        Err(_) => false,
    }
}

fn limit_min(rules: &DiveRules, depth_m: f64) -> Option<f64> {
    let clean = Tissues::clean(rules.environment.surface());
    no_stop_limit(rules, &clean, Depth::from_m(depth_m)).map(|time| time.as_min())
}

fn the_limit_put_back_fits(rules: &DiveRules, depth_m: f64) -> Result<(), TestCaseError> {
    const BOUND_MIN: f64 = 999.0;
    let travel = depth_m / rules.descent_rate.as_m_min();
    match limit_min(rules, depth_m) {
        None => prop_assert!(
            goes_straight_up(rules, depth_m, BOUND_MIN - BESIDE_THE_LIMIT_MIN),
            "no limit, but stops before {BOUND_MIN} min"
        ),
        Some(limit) if limit <= 0.0 => prop_assert!(
            !goes_straight_up(rules, depth_m, travel),
            "limit 0, but touching the depth needs no stop"
        ),
        Some(limit) => {
            let before = (limit - BESIDE_THE_LIMIT_MIN).max(travel);
            prop_assert!(
                goes_straight_up(rules, depth_m, before),
                "limit {limit}, but {before} needs stops"
            );
            let after = limit + BESIDE_THE_LIMIT_MIN;
            prop_assert!(
                !goes_straight_up(rules, depth_m, after),
                "limit {limit}, but {after} needs none"
            );
        }
    }
    Ok(())
}

/// What is left to the end of the no-stop dive; negative past it.
fn margin_min(briefing: &Briefing) -> f64 {
    match briefing.no_stop_margin {
        NoStopMargin::Left(time) => time.as_min(),
        NoStopMargin::Past { by, .. } => -by.as_min(),
        NoStopMargin::Unlimited => f64::INFINITY,
    }
}

proptest! {
    #![proptest_config(config(128))]

    #[test]
    fn the_no_stop_limit_of_air_and_nitrox_put_back_is_the_last_that_passes(
        (rules, depth) in (rules(one_gas_mix()), depth_m(80.0)),
    ) {
        the_limit_put_back_fits(&rules, depth)?;
    }

    /// Searched, not solved: two gases have no closed form.
    #[test]
    fn the_no_stop_limit_of_trimix_put_back_is_the_last_that_passes(
        (rules, depth) in (rules(helium_mix()), depth_m(80.0)),
    ) {
        the_limit_put_back_fits(&rules, depth)?;
    }

    #[test]
    fn deeper_never_has_a_longer_no_stop_limit(
        (rules, depth) in (rules(any_mix()), depth_m(70.0)),
        deeper in prop_oneof![Just(0.0), Just(1e-6), Just(3.0), 0.0..30.0],
    ) {
        let limit = |depth_m| limit_min(&rules, depth_m).unwrap_or(f64::INFINITY);
        let (here, there) = (limit(depth), limit(depth + deeper));
        prop_assert!(there <= here + BESIDE_THE_LIMIT_MIN, "{here} min, {deeper} m deeper {there} min");
    }

    /// And at one depth the margin is the limit less the bottom time.
    ///
    /// Story: where the descent alone passed the limit the margin was once counted from the arrival
    /// and not from the limit of 0, so that air at 46 m for 2.7 min with 10/10 was 0.14 min past it.
    #[test]
    fn a_deeper_or_longer_dive_never_has_a_larger_margin(
        spec in spec(any_mix()),
        deeper in prop_oneof![Just(0.0), Just(1e-6), Just(3.0), 0.0..20.0],
        longer in prop_oneof![Just(0.0), Just(1e-6), Just(1.0), 0.0..60.0],
    ) {
        // One level, without a team: nobody's gas matters here.
        let spec = Spec { team: Vec::new(), stays: vec![spec.stays[0]], ..spec };
        let brief_at = |depth: f64, minutes: f64| {
            let overrides = Overrides {
                depth: Some(format!("{depth} m")),
                bottom_time: Some(format!("{minutes} min")),
                ..Overrides::default()
            };
            let plan = plan_file::read_with(&spec.text(Spelling::Metric), &overrides);
            brief(plan.map_err(|error| TestCaseError::fail(error.to_string()))?)
                .map_err(|error| TestCaseError::reject(error.to_string()))
        };
        let (depth, stay) = spec.stays[0];
        // Enough to arrive at the deeper of the two.
        let minutes = (stay + (depth + deeper) / spec.descent_m_min()).max(LEAST_LEVEL_MIN);
        let briefing = brief_at(depth, minutes)?;
        let here = margin_min(&briefing);
        if let Some(limit) = briefing.no_stop_limit {
            let want = limit.as_min() - minutes;
            prop_assert!((here - want).abs() <= BESIDE_THE_LIMIT_MIN, "margin {here}, not {want} min");
        }
        let there = margin_min(&brief_at(depth + deeper, minutes + longer)?);
        prop_assert!(there <= here + BESIDE_THE_LIMIT_MIN, "{here} min, then {there} min");
    }
}

// ---------------------------------------------------------------------------------------------
// More conservative factors

/// Whether the first pair asks for at least as much as the second at every depth, with each pair's
/// own anchor. The factors in between are straight lines, so their ends decide.
fn is_stricter_everywhere(
    strict: (GradientFactors, Option<f64>),
    mild: (GradientFactors, Option<f64>),
) -> bool {
    let corners = [Some(0.0), strict.1, mild.1];
    corners
        .into_iter()
        .flatten()
        .all(|depth| factor_at(strict.0, strict.1, depth) <= factor_at(mild.0, mild.1, depth))
}

fn pair_of_factors() -> impl Strategy<Value = (GradientFactors, GradientFactors)> {
    let percent = || 20.0..=100.0;
    let hair = prop_oneof![1 => Just(0.0), 1 => Just(1e-6), 4 => 0.0..=60.0];
    let pair = |low: f64, high: f64| GradientFactors::from_pct(low.min(high), high).unwrap();
    prop_oneof![
        // The same low factor and so the same anchor; another high one.
        (10.0..=90.0, percent(), hair.clone()).prop_map(move |(low, high, more)| {
            let high: f64 = f64::max(low, high);
            (pair(low, high), pair(low, f64::min(high + more, 100.0)))
        }),
        // The same factor at every depth.
        (percent(), hair).prop_map(move |(both, more)| {
            let more = f64::min(both + more, 100.0);
            (pair(both, both), pair(more, more))
        }),
        // Any two pairs, both factors at least as strict.
        (percent(), percent(), percent(), percent()).prop_map(move |(a, b, c, d)| {
            let (lows, highs) = (
                (f64::min(a, b), f64::max(a, b)),
                (f64::min(c, d), f64::max(c, d)),
            );
            (pair(lows.0, highs.0), pair(lows.1, highs.1))
        }),
    ]
}

proptest! {
    #![proptest_config(config(128))]

    /// At the same run time the stricter ascent is as deep as the milder one or deeper, so every
    /// tissue holds as much or more, and it may not go on before the other: but for the rounding.
    /// A hold ends on a whole minute, and the milder ascent may have come to it a moment too early,
    /// where the stricter one, coming later and within the minute, goes through. That gains it less
    /// than a minute at each hold of the milder ascent. It takes a coincidence, of which 200,000 cases
    /// of this test had none, so here one minute in all is allowed and not one for each hold.
    ///
    /// "Stricter" must mean at every depth. A lower low factor has a deeper anchor, and from there
    /// its line may run above the other pair's: air, 40 m for 36 min, last stop 6 m, no safety stop
    /// takes 3 min less on the way up with 30/85 than with 35/85. Such pairs have no order and are
    /// left out. So are bottoms above the level of the safety stop: a staged ascent from there passes
    /// no such level and makes none, a straight one does.
    #[test]
    fn stricter_factors_shorten_the_ascent_by_no_more_than_the_rounding(
        (rules, stays) in (rules(any_mix()), stays(60.0, 60.0)),
        (strict, mild) in pair_of_factors(),
    ) {
        const ROUNDING_MIN: f64 = 1.0;
        let with = |factors| DiveRules { factors, ..rules.clone() };
        let levels = levels(&rules, &stays);
        let dives = (fly_clean(&with(strict), &levels), fly_clean(&with(mild), &levels));
        let (Ok(stricter), Ok(milder)) = dives else {
            return Err(TestCaseError::reject("cannot be scheduled"));
        };
        let anchor = |dive: &Schedule| dive.anchor.map(Depth::as_m);
        let stricter_everywhere =
            is_stricter_everywhere((strict, anchor(&stricter)), (mild, anchor(&milder)));
        prop_assume!(!milder.staged || stricter_everywhere);
        let bottom = milder.last_depth().as_m();
        prop_assume!(safety_level(&rules).is_none_or(|(level, _)| bottom > level + SAME_DEPTH_M));
        let rounding = if milder.staged { ROUNDING_MIN } else { 0.0 };
        let (got, least) = (ascent_minutes(&stricter), ascent_minutes(&milder) - rounding);
        prop_assert!(
            got >= least - SAME_TIME_MIN,
            "{got} min with {strict:?}, {} min with {mild:?}, rounding {rounding} min",
            ascent_minutes(&milder)
        );
    }
}

// ---------------------------------------------------------------------------------------------
// Tissues and cylinders

fn loadings() -> impl Strategy<Value = [Loading; COMPARTMENTS]> {
    let pressure = || prop_oneof![Just(0.0), Just(0.750_934_5), 0.0..8.0];
    let helium = prop_oneof![1 => Just(0.0), 1 => pressure()];
    let one = (pressure(), helium).prop_map(|(n2_bar, he_bar)| Loading { n2_bar, he_bar });
    prop::collection::vec(one, COMPARTMENTS).prop_map(|all| all.try_into().unwrap())
}

proptest! {
    #![proptest_config(config(256))]

    #[test]
    fn two_parts_of_a_segment_equal_the_whole(
        loadings in loadings(),
        gas in any_mix(),
        (from, to) in (0.577..20.0, 0.577..20.0),
        minutes in prop_oneof![Just(1e-6), Just(1.0), 0.0..1500.0],
        part in prop_oneof![4 => Just(0.5), 1 => Just(0.0), 1 => Just(1.0), 4 => 0.0..1.0],
    ) {
        /// Pressures to 20 bar, and ramps whose lag r/k is some thousand bar where they are short.
        const TWICE_ROUNDED_BAR: f64 = 1e-11;
        let set = CompartmentSet::default();
        let bar = Pressure::from_bar;
        let middle = from + (to - from) * part;
        let start = Tissues::from_loadings(loadings);
        let whole = start.after(&set, gas, bar(from), bar(to), Time::from_min(minutes));
        let first = Time::from_min(minutes * part);
        let second = Time::from_min(minutes - first.as_min());
        let parts = start
            .after(&set, gas, bar(from), bar(middle), first)
            .after(&set, gas, bar(middle), bar(to), second);
        for (x, y) in whole.loadings().iter().zip(parts.loadings()) {
            prop_assert!((x.n2_bar - y.n2_bar).abs() <= TWICE_ROUNDED_BAR, "N2: {x:?}, {y:?}");
            prop_assert!((x.he_bar - y.he_bar).abs() <= TWICE_ROUNDED_BAR, "He: {x:?}, {y:?}");
        }
    }

    #[test]
    fn contents_and_pressure_are_inverse_and_grow_together(
        gas in any_mix(),
        law in prop_oneof![3 => Just(GasLaw::Real), 1 => Just(GasLaw::Ideal)],
        celsius in prop_oneof![Just(15.0), -5.0..45.0],
        surface in prop_oneof![Just(1.01325), 0.577..1.1],
        litres in prop_oneof![Just(0.2), Just(12.0), 0.2..100.0],
        bar in prop_oneof![Just(0.0), Just(1e-6), Just(5000.0 * PSI_BAR), 0.0..345.0],
        more in prop_oneof![Just(1e-6), 0.0..50.0],
    ) {
        /// Density is searched to 14 digits, and near 0 it is the difference of two like numbers.
        const THERE_AND_BACK_BAR: f64 = 1e-9;
        let site = GasConditions {
            law,
            temperature: Temperature::from_celsius(celsius),
            surface: Pressure::from_bar(surface),
        };
        let charge = Charge::new(WaterVolume::from_l(litres), gas, &site);
        let holds = charge.contents(GaugePressure::from_bar(bar));
        let back = charge.pressure(holds).as_bar();
        prop_assert!((back - bar).abs() <= THERE_AND_BACK_BAR, "{bar} bar come back as {back}");
        let again = charge.contents(charge.pressure(holds)).as_l();
        let slack = litres * THERE_AND_BACK_BAR;
        prop_assert!((again - holds.as_l()).abs() <= slack, "{holds:?} come back as {again}");
        let fuller = charge.contents(GaugePressure::from_bar(bar + more)).as_l();
        prop_assert!(fuller + slack >= holds.as_l(), "{more} bar more hold {fuller}, not {holds:?}");
        prop_assert!(more < 1e-3 || fuller > holds.as_l(), "{more} bar more hold no more");
    }
}

// ---------------------------------------------------------------------------------------------
// Plans and briefings

fn read(text: &str) -> Result<hangbar::plan::Plan, TestCaseError> {
    plan_file::read(text).map_err(|error| TestCaseError::fail(format!("{error}\n{text}")))
}

/// The briefing, or the case thrown away where the dive cannot be scheduled.
fn briefed(plan: hangbar::plan::Plan) -> Result<Briefing, TestCaseError> {
    brief(plan).map_err(|error| match error {
        BriefingError::Check(_) => TestCaseError::fail(error.to_string()),
        error => TestCaseError::reject(error.to_string()),
    })
}

/// Every number of a briefing under its name, in a fixed order; what is not a number becomes one.
fn figures(briefing: &Briefing) -> Vec<(String, f64)> {
    let mut all = Vec::new();
    let mut add = |name: String, value: f64| all.push((name, value));
    let some = |value: Option<f64>| value.unwrap_or(-1.0);
    let dive = &briefing.schedule;
    let current = briefing.plan.site.current;
    add("current".into(), some(current.map(Speed::as_m_min)));
    add(
        "no-stop limit".into(),
        some(briefing.no_stop_limit.map(Time::as_min)),
    );
    add("no-stop margin".into(), margin_min(briefing).min(1e9));
    add("staged".into(), f64::from(u8::from(dive.staged)));
    add("anchor".into(), some(dive.anchor.map(Depth::as_m)));
    for (index, segment) in dive.segments.iter().enumerate() {
        let name = |what: &str| format!("segment {index}, {what} ({:?})", segment.kind);
        add(name("from"), segment.from.as_m());
        add(name("to"), segment.to.as_m());
        add(name("start"), segment.start.as_min());
        add(name("end"), segment.end.as_min());
        add(name("oxygen"), segment.gas.oxygen());
    }
    for (index, loading) in dive.tissues.loadings().iter().enumerate() {
        add(format!("N2 of {index}"), loading.n2_bar);
        add(format!("He of {index}"), loading.he_bar);
    }
    add("surfacing gradient".into(), dive.surfacing.fraction);
    add("oxygen pressure".into(), briefing.oxygen.max_po2_bar);
    add("CNS".into(), briefing.oxygen.cns_pct);
    add("OTU".into(), briefing.oxygen.otu);
    for budget in &briefing.divers {
        let name = |what: &str| format!("{}, {what}", budget.name);
        add(name("start"), budget.start.as_l());
        add(name("planned use"), budget.planned_use.as_l());
        add(name("end"), some(budget.end.map(GaugePressure::as_bar)));
        for (index, level) in budget.levels.iter().enumerate() {
            let level_name = |what: &str| name(&format!("level {index}, {what}"));
            add(
                level_name("left"),
                some(level.left.map(GaugePressure::as_bar)),
            );
            add(level_name("reserve"), level.reserve.as_l());
            add(level_name("minimum gas"), level.minimum_gas.as_bar());
            add(level_name("holds"), f64::from(u8::from(level.holds())));
        }
        add(name("reserve"), budget.reserve.as_l());
        add(name("minimum gas"), budget.minimum_gas.as_bar());
        add(name("turn"), budget.turn.as_bar());
        add(name("turn due"), some(budget.turn_due.map(Time::as_min)));
        add(name("gas limit"), f64::from(budget.gas_limit.minutes));
        if let Some(pony) = &budget.pony {
            add(name("pony need, ascent"), pony.need_ascent.as_l());
            add(name("pony need, full"), pony.need_full.as_l());
            add(name("pony have"), pony.have.as_l());
            add(
                name("pony covers until"),
                f64::from(pony.covers_until.minutes),
            );
        }
        for stage in &budget.stages {
            add(name("stage need"), stage.need.as_l());
            add(name("stage have"), stage.have.as_l());
        }
    }
    all
}

fn codes(briefing: &Briefing) -> Vec<(&'static str, Option<&str>)> {
    let each = briefing.findings.iter();
    each.map(|finding| (finding.code(), finding.diver.as_deref()))
        .collect()
}

/// Both briefings say the same, number by number.
fn assert_same(one: &Briefing, other: &Briefing, tolerance: f64) -> Result<(), TestCaseError> {
    let (left, right) = (figures(one), figures(other));
    prop_assert_eq!(left.len(), right.len());
    for ((name, x), (other_name, y)) in left.iter().zip(&right) {
        prop_assert_eq!(name, other_name);
        let allowed = tolerance * (1.0 + x.abs());
        prop_assert!((x - y).abs() <= allowed, "{name}: {x} and {y}");
    }
    prop_assert_eq!(codes(one), codes(other));
    prop_assert_eq!(&one.late, &other.late);
    Ok(())
}

proptest! {
    #![proptest_config(config(64))]

    #[test]
    fn a_plan_in_feet_and_psi_is_the_same_plan_in_metres_and_bar(spec in spec(any_mix())) {
        /// A last bit of each conversion, carried through some hundred steps: of 1 + the figure.
        const CONVERTED: f64 = 1e-9;
        let metric = briefed(read(&spec.text(Spelling::Metric))?)?;
        let imperial = briefed(read(&spec.text(Spelling::Imperial))?)?;
        assert_same(&metric, &imperial, CONVERTED)?;
    }

    #[test]
    fn trimix_without_helium_is_nitrox(spec in spec(one_gas_mix())) {
        const THE_VERY_SAME: f64 = 0.0;
        let as_trimix = |gas: Mix| Mix::trimix(gas.oxygen() * 100.0, 0.0).unwrap();
        let trimix = Spec {
            bottom: as_trimix(spec.bottom),
            decompression: spec.decompression.iter().copied().map(as_trimix).collect(),
            ..spec.clone()
        };
        let as_nitrox = |gas: Mix| Mix::nitrox(gas.oxygen() * 100.0).unwrap();
        let nitrox = Spec {
            bottom: as_nitrox(spec.bottom),
            decompression: spec.decompression.iter().copied().map(as_nitrox).collect(),
            ..spec
        };
        prop_assert!(trimix.text(Spelling::Metric).contains("/0\""));
        prop_assert!(nitrox.text(Spelling::Metric).contains("\"EAN"));
        let trimix = briefed(read(&trimix.text(Spelling::Metric))?)?;
        let nitrox = briefed(read(&nitrox.text(Spelling::Metric))?)?;
        assert_same(&trimix, &nitrox, THE_VERY_SAME)?;
        prop_assert_eq!(&trimix.schedule, &nitrox.schedule);
        prop_assert_eq!(&trimix.divers, &nitrox.divers);
    }
}

/// The profile cut or stretched to every whole bottom time from the first possible one, each
/// briefed afresh: `passes` holds of the first diver up to the limit and not a minute further.
/// Minutes in the travel between two levels are passed over; one that cannot be scheduled ends it.
fn is_the_last_minute_that_passes(
    text: &str,
    planned: &Briefing,
    limit: u32,
    passes: impl Fn(&DiverBudget) -> bool,
) -> Result<(), TestCaseError> {
    const GREATEST_LIMIT_MIN: u32 = 999;
    let arrival = planned.schedule.arrivals[0].run_time.as_min();
    let reached = |minute: &u32| f64::from(*minute) >= arrival - SAME_TIME_MIN;
    let first = (1..GREATEST_LIMIT_MIN).find(reached).unwrap();
    let at = |minute: u32| -> Result<Option<bool>, TestCaseError> {
        let overrides = Overrides {
            bottom_time: Some(format!("{minute} min")),
            ..Overrides::default()
        };
        let Ok(plan) = plan_file::read_with(text, &overrides) else {
            return Ok(None);
        };
        match brief(plan) {
            Ok(briefing) => Ok(Some(passes(&briefing.divers[0]))),
            Err(BriefingError::Check(check)) => Err(TestCaseError::fail(check)),
            Err(_) => Ok(Some(false)),
        }
    };
    let mut brute = 0;
    for minute in first..=limit.saturating_add(1).max(first) {
        match at(minute)? {
            Some(true) => brute = minute,
            Some(false) => break,
            None => {}
        }
    }
    prop_assert_eq!(brute, limit);
    Ok(())
}

proptest! {
    #![proptest_config(config(24))]

    #[test]
    fn the_gas_limit_is_the_last_whole_minute_whose_reserve_holds(
        spec in spec(any_mix()),
        member in member(),
        shallow in stays(35.0, 20.0),
    ) {
        // One diver with a small cylinder: the limit is soon found, minute by minute.
        let size = Size::Litres(7.0);
        let team = vec![Member { size, ..member }];
        let spec = Spec { team, stays: shallow, decompression: Vec::new(), ..spec };
        let text = spec.text(Spelling::Metric);
        let planned = briefed(read(&text)?)?;
        let limit = planned.divers[0].gas_limit.minutes;
        prop_assume!(limit < 100);
        is_the_last_minute_that_passes(&text, &planned, limit, DiverBudget::reserve_holds)?;
    }

    /// Planted, not searched: the first possible minute is where a sweep is easily off by one.
    #[test]
    fn the_gas_limit_is_none_with_a_hair_less_than_the_first_minute_needs(
        spec in spec(any_mix()),
        member in member(),
    ) {
        const LITRES: f64 = 50.0;
        const FILL_BAR: f64 = 300.0;
        /// Of the contents; contents and pressure are inverse to 1e-9.
        const HAIR: f64 = 1e-7;
        let breathing = match member.breathing {
            // A pressure rate of so large a cylinder would be more than anybody breathes.
            Breathing::BarAMinute(rate) => Breathing::LitresAMinute(10.0 * rate),
            litres => litres,
        };
        let size = Size::Litres(LITRES);
        let roomy = Member { breathing, size, fill_bar: FILL_BAR, ..member };
        let stays = vec![spec.stays[0]];
        let spec = Spec { team: vec![roomy], stays, decompression: Vec::new(), ..spec };
        let text = spec.text(Spelling::Metric);
        let arrival = briefed(read(&text)?)?.schedule.arrivals[0].run_time.as_min();
        let first = (arrival - SAME_TIME_MIN).ceil().max(1.0);
        let with_fill = |bar: f64| {
            let overrides = Overrides {
                bottom_time: Some(format!("{first} min")),
                fills: vec![("Diver 0".to_owned(), format!("{bar} bar"))],
                ..Overrides::default()
            };
            let plan = plan_file::read_with(&text, &overrides);
            briefed(plan.map_err(|error| TestCaseError::fail(error.to_string()))?)
        };
        let planned = with_fill(FILL_BAR)?;
        let budget = &planned.divers[0];
        let Some(leaving) = budget.leaving().and_then(|level| level.left) else {
            return Err(TestCaseError::reject("not even this is enough"));
        };
        let conditions = planned.plan.gas_conditions();
        let charge = Charge::new(WaterVolume::from_l(LITRES), spec.bottom, &conditions);
        let used = budget.start.as_l() - charge.contents(leaving).as_l();
        let floor = charge.contents(planned.plan.reserve.floor).as_l();
        let need = used + budget.reserve.as_l().max(floor);
        prop_assume!(need < budget.start.as_l());
        let limit_with = |litres| -> Result<f64, TestCaseError> {
            let fill = charge.pressure(FreeVolume::from_l(litres)).as_bar();
            prop_assume!(fill >= 1.0);
            Ok(f64::from(with_fill(fill)?.divers[0].gas_limit.minutes))
        };
        let (less, more) = (limit_with(need * (1.0 - HAIR))?, limit_with(need * (1.0 + HAIR))?);
        prop_assert!(less < 1.0, "{less} min with less than {first} min need");
        prop_assert!(more >= first, "{more} min with what {first} min need");
    }

    #[test]
    fn a_pony_covers_every_stop_up_to_its_last_whole_minute(
        spec in spec(any_mix()),
        member in member(),
        pony in (1.0..4.0, 60.0..208.0),
    ) {
        let team = vec![Member { pony: Some(pony), ..member }];
        let spec = Spec { team, decompression: Vec::new(), ..spec };
        let text = spec.text(Spelling::Metric);
        let planned = briefed(read(&text)?)?;
        let limit = planned.divers[0].pony.unwrap().covers_until.minutes;
        prop_assume!(limit < 60);
        is_the_last_minute_that_passes(&text, &planned, limit, |budget| {
            budget.pony.is_some_and(|pony| pony.verdict == PonyVerdict::CoversAll)
        })?;
    }
}

// ---------------------------------------------------------------------------------------------
// Any text as a plan

/// Whatever the text, an answer: a plan that can be briefed or refused, or problems that can be
/// shown.
fn gets_an_answer(text: &str) -> Result<(), TestCaseError> {
    match plan_file::read(text) {
        Ok(plan) => match brief(plan) {
            Ok(briefing) => {
                let words = briefing.findings.iter();
                let words = words.map(|finding| finding.message(briefing.plan.units));
                prop_assert!(words.into_iter().all(|message| !message.is_empty()));
            }
            Err(BriefingError::Check(check)) => prop_assert!(false, "internal check: {check}"),
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        },
        Err(errors) => {
            prop_assert!(!errors.problems().is_empty());
            let rendered = errors.render("plan.toml");
            prop_assert!(rendered.starts_with("error: "), "{rendered}");
            for problem in errors.problems() {
                let position = problem.position.as_ref().expect("no overrides were given");
                let line = text.split('\n').nth(position.line - 1).unwrap_or_default();
                let most = line.chars().count() + 1;
                prop_assert!(
                    (1..=most.max(1)).contains(&position.column),
                    "{position:?} in {line:?}"
                );
            }
        }
    }
    Ok(())
}

/// A plan that names every table, to be damaged.
const WHOLE_PLAN: &str = r#"title = "Reef – über Ñ"
units = "metric"
splash = "09:40"

[site]
water = "sea"
altitude = "120 m"
temperature = "14 C"
current = "0.5 kn"

[[profile.level]]
depth = "32 m"
time = "20 min"

[[profile.level]]
depth = "15 m"
time = "12 min"

[ascent]
rate = "9 m/min"
stop_spacing = "3 m"
last_stop = "6 m"
safety_stop = { depth = "5 m", time = "3 min" }

[model]
gradient_factors = [40, 85]
first_compartment = "1b"
gas_law = "real"

[gas]
bottom = "21/20"
decompression = ["EAN50", "oxygen"]
switch_time = "1 min"

[reserve]
stress = 1.5
sort_out = "1 min"
floor = "50 bar"
turn = "third"

[[diver]]
name = "Ines"
sac = "15 L/min"
cylinder = { size = "24 L", fill = "220 bar" }
pony = { rated = "30 cuft", at = "3000 psi", fill = "200 bar" }
depth_limit = "40 m"
stage = [{ gas = "EAN50", size = "7 L", fill = "200 bar" }]

[[diver]]
name = "Tom"
sac = "1.2 bar/min"
cylinder = { size = "15 L", fill = "230 bar" }
"#;

/// What to write in place of something.
const HOSTILE: &[&str] = &[
    "nan",
    "inf",
    "-inf",
    "1e999",
    "-1",
    "0",
    "\"0 m\"",
    "\"-5 m\"",
    "\"1e3 m\"",
    "\"nan m\"",
    "\"5 m\u{0}\"",
    "\"999999999999999999999 min\"",
    "\"200 m\"",
    "\"1440 min\"",
    "\"0.1 min\"",
    "\"1 m/min\"",
    "\"0 bar\"",
    "\"345 bar\"",
    "\"150 bar\"",
    "\"100 L\"",
    "\"0.2 L\"",
    "\"150 L/min\"",
    "\"2 L/min\"",
    "\"oxygen\"",
    "\"5/0\"",
    "\"5/95\"",
    "\"EAN100\"",
    "\"EAN99999\"",
    "[5, 5]",
    "[100, 100]",
    "[5, 100]",
    "[]",
    "{}",
    "[[]]",
    "true",
    "false",
    "\"\"",
    "'''",
    "\"\"\"",
    "\\",
    "\u{feff}",
    "\r\n",
    "\t",
    "é",
    "日本",
    "1979-05-27",
    "\"3 m\"",
    "\"10 ft\"",
    "\"20 ft\"",
    "\"fresh\"",
    "\"4500 m\"",
    "\"−430 m\"",
    "\"30 min\"",
    "=",
    "#",
    "[",
];

#[derive(Clone, Debug)]
enum Damage {
    /// Cut so many characters out.
    Cut(prop::sample::Index, usize),
    /// Say so many characters twice.
    Twice(prop::sample::Index, usize),
    /// Put something in.
    Insert(prop::sample::Index, &'static str),
    /// A line's value becomes something else.
    Value(prop::sample::Index, &'static str),
    /// Two lines change places.
    Swap(prop::sample::Index, prop::sample::Index),
    /// A line is said twice, or left out.
    Line(prop::sample::Index, bool),
}

impl Damage {
    fn done_to(&self, text: &str) -> String {
        let chars: Vec<char> = text.chars().collect();
        let mut lines: Vec<String> = text.split('\n').map(str::to_owned).collect();
        if chars.is_empty() {
            return String::new();
        }
        let run = |at: &prop::sample::Index, length: usize| {
            let start = at.index(chars.len());
            start..chars.len().min(start + length)
        };
        match self {
            Self::Cut(at, length) => {
                let run = run(at, *length);
                chars[..run.start].iter().chain(&chars[run.end..]).collect()
            }
            Self::Twice(at, length) => {
                let run = run(at, *length);
                chars[..run.end].iter().chain(&chars[run.start..]).collect()
            }
            Self::Insert(at, text) => {
                let (before, after) = chars.split_at(at.index(chars.len()));
                let inserted: Vec<char> = text.chars().collect();
                before.iter().chain(&inserted).chain(after).collect()
            }
            Self::Value(at, value) => {
                let line = at.index(lines.len());
                if let Some((key, _)) = lines[line].split_once('=') {
                    lines[line] = format!("{key}= {value}");
                }
                lines.join("\n")
            }
            Self::Swap(one, other) => {
                let (one, other) = (one.index(lines.len()), other.index(lines.len()));
                lines.swap(one, other);
                lines.join("\n")
            }
            Self::Line(at, twice) => {
                let line = at.index(lines.len());
                let removed = lines.remove(line);
                if *twice {
                    lines.insert(line, removed.clone());
                    lines.insert(line, removed);
                }
                lines.join("\n")
            }
        }
    }
}

fn damage() -> impl Strategy<Value = Damage> {
    let at = any::<prop::sample::Index>;
    let hostile = || prop::sample::select(HOSTILE);
    prop_oneof![
        2 => (at(), 1_usize..20).prop_map(|(at, length)| Damage::Cut(at, length)),
        1 => (at(), 1_usize..60).prop_map(|(at, length)| Damage::Twice(at, length)),
        2 => (at(), hostile()).prop_map(|(at, text)| Damage::Insert(at, text)),
        6 => (at(), hostile()).prop_map(|(at, value)| Damage::Value(at, value)),
        1 => (at(), at()).prop_map(|(one, other)| Damage::Swap(one, other)),
        2 => (at(), any::<bool>()).prop_map(|(at, twice)| Damage::Line(at, twice)),
    ]
}

proptest! {
    #![proptest_config(config(256))]

    #[test]
    fn any_bytes_get_an_answer(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        gets_an_answer(&String::from_utf8_lossy(&bytes))?;
    }

    #[test]
    fn any_text_gets_an_answer(text in r#"(\PC|[\[\]{}="'.,#\n\r\t\\0-9a-z]){0,200}"#) {
        gets_an_answer(&text)?;
    }

    /// Words of plans in any order.
    #[test]
    fn any_words_of_a_plan_get_an_answer(
        lines in prop::collection::vec(
            prop_oneof![
                2 => prop::sample::select(WHOLE_PLAN.lines().collect::<Vec<_>>()).prop_map(str::to_owned),
                1 => "(depth|time|fill|size|sac|name|units|level|diver)( ?= ?)(\"[0-9]{1,4} ?(m|ft|min|bar|L)\"|[0-9.+-]{1,6})",
                1 => r#"\[{0,3}[a-z.]{0,12}\]{0,3}"#,
            ],
            0..30,
        ),
    ) {
        gets_an_answer(&lines.join("\n"))?;
    }
}

proptest! {
    #![proptest_config(config(192))]

    #[test]
    fn a_damaged_plan_gets_an_answer(damages in prop::collection::vec(damage(), 1..5)) {
        let damaged = damages.iter().fold(WHOLE_PLAN.to_owned(), |text, damage| damage.done_to(&text));
        gets_an_answer(&damaged)?;
    }
}

#[test]
fn the_plan_to_be_damaged_is_a_good_one() {
    let plan = plan_file::read(WHOLE_PLAN).unwrap_or_else(|errors| panic!("{errors}"));
    assert!(brief(plan).is_ok());
}
