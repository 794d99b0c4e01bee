//! Random plans, as text.

use std::fmt::Write as _;

use hangbar::briefing::{Briefing, BriefingError, brief};
use hangbar::plan::Plan;
use hangbar::plan_file;
use hangbar::quantity::{CUBIC_FOOT_L, FOOT_M, PSI_BAR};
use hangbar::site::Mix;
use proptest::prelude::*;

use crate::dives::{IMPERIAL_LEVEL_M, METRIC_LEVEL_M, decompression, factors, stays};
use crate::spelling::Spelling;

/// The shortest level that a plan may ask for.
pub(crate) const LEAST_LEVEL_MIN: f64 = 0.1;

#[derive(Clone, Copy, Debug)]
pub(crate) enum Breathing {
    LitresAMinute(f64),
    BarAMinute(f64),
}

#[derive(Clone, Copy, Debug)]
pub(crate) enum Size {
    Litres(f64),
    /// Free litres at a working pressure in bar.
    Rated(f64, f64),
}

impl Size {
    pub(crate) fn text(self, spelling: Spelling) -> String {
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
pub(crate) struct Member {
    pub(crate) breathing: Breathing,
    pub(crate) size: Size,
    pub(crate) fill_bar: f64,
    /// Litres and bar.
    pub(crate) pony: Option<(f64, f64)>,
    /// The diver's limit lies so far below the deepest level.
    pub(crate) limit_deeper_m: Option<f64>,
}

#[derive(Clone, Copy, Debug)]
pub(crate) enum Surface {
    SeaLevel,
    AltitudeM(f64),
    Bar(f64),
}

/// A plan that can be read, whatever is drawn.
#[derive(Clone, Debug)]
pub(crate) struct Spec {
    pub(crate) imperial_defaults: bool,
    pub(crate) surface: Surface,
    pub(crate) celsius: f64,
    pub(crate) current_m_min: Option<f64>,
    /// Depth in metres and minutes at it after the travel.
    pub(crate) stays: Vec<(f64, f64)>,
    pub(crate) descent_m_min: Option<f64>,
    pub(crate) ascent_m_min: Option<f64>,
    /// 3 m or 10 ft; the default follows the units.
    pub(crate) feet_spacing: Option<bool>,
    pub(crate) last_two: bool,
    /// No safety stop, or depth and minutes.
    pub(crate) safety_stop: Option<Option<(f64, f64)>>,
    pub(crate) factors_pct: (f64, f64),
    pub(crate) four_minutes: bool,
    pub(crate) ideal: bool,
    pub(crate) bottom: Mix,
    pub(crate) decompression: Vec<Mix>,
    pub(crate) stress: f64,
    pub(crate) sort_out_min: f64,
    pub(crate) floor_bar: Option<f64>,
    pub(crate) turn: &'static str,
    pub(crate) team: Vec<Member>,
}

impl Spec {
    pub(crate) fn descent_m_min(&self) -> f64 {
        let default = if self.imperial_defaults {
            60.0 * FOOT_M
        } else {
            18.0
        };
        self.descent_m_min.unwrap_or(default)
    }

    pub(crate) fn ascent_m_min(&self) -> f64 {
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
    pub(crate) fn text(&self, spelling: Spelling) -> String {
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

pub(crate) fn member() -> impl Strategy<Value = Member> {
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
    pub(crate) fn spec(bottom: impl Strategy<Value = Mix>)(
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

pub(crate) fn read(text: &str) -> Result<Plan, TestCaseError> {
    plan_file::read(text).map_err(|error| TestCaseError::fail(format!("{error}\n{text}")))
}

/// The briefing, or the case thrown away where the dive cannot be scheduled.
pub(crate) fn briefed(plan: Plan) -> Result<Briefing, TestCaseError> {
    brief(plan).map_err(|error| match error {
        BriefingError::Check(_) => TestCaseError::fail(error.to_string()),
        error => TestCaseError::reject(error.to_string()),
    })
}
