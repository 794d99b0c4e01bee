//! Plans over all that a plan file may ask for, written as text: all settings are written out, since those
//! that a plan leaves out depend on its units.

use std::fmt::Write as _;

use crate::drawing::Drawing;
use crate::random::Random;
use crate::spelling::Spelling;

const FOOT_M: f64 = 0.3048;

#[derive(Clone, Debug)]
pub(crate) enum Air {
    SeaLevel,
    AltitudeM(f64),
    Bar(f64),
}

#[derive(Clone, Debug)]
pub(crate) enum Sac {
    LitresAMinute(f64),
    BarAMinute(f64),
}

#[derive(Clone, Debug)]
pub(crate) struct Cylinder {
    pub(crate) size: Size,
    pub(crate) fill_bar: f64,
}

#[derive(Clone, Debug)]
pub(crate) enum Size {
    Litres(f64),
    Twins(f64),
    /// Litres and the working pressure in bar.
    Working(f64, f64),
    /// Free litres at a working pressure in bar.
    Rated(f64, f64),
}

#[derive(Clone, Debug)]
pub(crate) struct Member {
    pub(crate) name: String,
    pub(crate) sac: Sac,
    pub(crate) cylinder: Cylinder,
    pub(crate) gas: Option<String>,
    pub(crate) pony: Option<(Cylinder, Option<String>)>,
    pub(crate) stages: Vec<(String, Cylinder)>,
    pub(crate) depth_limit_m: Option<f64>,
    pub(crate) gauge: &'static str,
    pub(crate) buddy: Option<String>,
}

#[derive(Clone, Debug)]
pub(crate) struct Earlier {
    pub(crate) levels: Vec<(f64, f64)>,
    pub(crate) gas: Option<String>,
    pub(crate) interval_min: f64,
    pub(crate) divers: Option<Vec<String>>,
}

/// A plan: metres, minutes, bar and litres.
#[derive(Clone, Debug)]
pub(crate) struct Drawn {
    pub(crate) title: Option<&'static str>,
    pub(crate) splash: Option<String>,
    pub(crate) water: String,
    pub(crate) air: Air,
    pub(crate) celsius: f64,
    /// m/min.
    pub(crate) current: Option<f64>,
    /// How long ago they came, and from which altitude.
    pub(crate) arrived: Option<(f64, Option<f64>)>,
    /// Depth, and time at it with the travel to it.
    pub(crate) levels: Vec<(f64, f64)>,
    pub(crate) descent_m_min: f64,
    /// m/min, and whether against the current.
    pub(crate) swim: Option<(f64, &'static str)>,
    pub(crate) staged: bool,
    pub(crate) ascent_m_min: f64,
    pub(crate) feet_spacing: bool,
    pub(crate) last_two: bool,
    pub(crate) safety_stop: Option<(f64, f64)>,
    pub(crate) factors: (f64, f64),
    pub(crate) first_compartment: &'static str,
    pub(crate) gas_law: &'static str,
    pub(crate) before: Vec<Earlier>,
    pub(crate) bottom: String,
    pub(crate) decompression: Vec<String>,
    pub(crate) switch_min: f64,
    pub(crate) stress: f64,
    pub(crate) sort_out_min: f64,
    pub(crate) floor_bar: f64,
    pub(crate) turn: &'static str,
    pub(crate) hang: Option<(f64, f64)>,
    pub(crate) overdue_min: f64,
    pub(crate) team: Vec<Member>,
}

impl Drawn {
    /// The plan of a number in a run.
    pub(crate) fn of(random: &mut Random) -> Self {
        let anything = random.once_in(4);
        let drawing = Drawing { random, anything };
        drawing.plan()
    }

    pub(crate) fn spacing_m(&self) -> f64 {
        if self.feet_spacing {
            10.0 * FOOT_M
        } else {
            3.0
        }
    }

    pub(crate) fn bottom_min(&self) -> f64 {
        self.levels.iter().map(|(_, time)| time).sum()
    }

    pub(crate) fn deepest_m(&self) -> f64 {
        self.levels
            .iter()
            .map(|(depth, _)| *depth)
            .fold(0.0, f64::max)
    }

    /// The plan with every level at the deepest depth so much deeper.
    pub(crate) fn deeper(&self, metres: f64) -> Self {
        let deepest = self.deepest_m();
        let mut plan = self.clone();
        for (depth, _) in &mut plan.levels {
            if (*depth - deepest).abs() < 1e-9 {
                *depth += metres;
            }
        }
        plan
    }

    /// The plan with its last level so much longer.
    pub(crate) fn later(&self, minutes: f64) -> Self {
        let mut plan = self.clone();
        plan.levels.last_mut().unwrap().1 += minutes;
        plan
    }

    /// The plan with everybody breathing by so much harder.
    pub(crate) fn harder(&self, by: f64) -> Self {
        let mut plan = self.clone();
        for member in &mut plan.team {
            member.breathe_harder(by);
        }
        plan
    }

    pub(crate) fn metric(&self) -> String {
        self.text(Spelling::Metric)
    }

    pub(crate) fn imperial(&self) -> String {
        self.text(Spelling::Imperial)
    }

    fn text(&self, spelling: Spelling) -> String {
        let mut out = String::new();
        let units = match spelling {
            Spelling::Metric => "metric",
            Spelling::Imperial => "imperial",
        };
        if let Some(title) = self.title {
            writeln!(out, "title = \"{title}\"").unwrap();
        }
        writeln!(out, "units = \"{units}\"").unwrap();
        if let Some(splash) = &self.splash {
            writeln!(out, "splash = \"{splash}\"").unwrap();
        }
        self.write_site(&mut out, spelling);
        self.write_profile(&mut out, spelling);
        self.write_ascent(&mut out, spelling);
        for dive in &self.before {
            dive.write(&mut out, spelling);
        }
        let gases: Vec<String> = self
            .decompression
            .iter()
            .map(|gas| format!("{gas:?}"))
            .collect();
        let _ = write!(
            out,
            "[gas]\nbottom = {:?}\ndecompression = [{}]\nswitch_time = \"{} min\"\n[reserve]\n\
             stress = {:?}\nsort_out = \"{} min\"\nfloor = {}\nturn = {:?}\n",
            self.bottom,
            gases.join(", "),
            self.switch_min,
            self.stress,
            self.sort_out_min,
            spelling.pressure(self.floor_bar),
            self.turn
        );
        if let Some((depth, minutes)) = self.hang {
            let depth = spelling.depth(depth);
            writeln!(
                out,
                "hang = {{ depth = {depth}, time = \"{minutes} min\" }}"
            )
            .unwrap();
        }
        writeln!(
            out,
            "[surface]\noverdue_after = \"{} min\"",
            self.overdue_min
        )
        .unwrap();
        for member in &self.team {
            member.write(&mut out, spelling);
        }
        out
    }

    fn write_site(&self, out: &mut String, spelling: Spelling) {
        writeln!(out, "[site]\nwater = {:?}", self.water).unwrap();
        match self.air {
            Air::SeaLevel => {}
            Air::AltitudeM(m) => writeln!(out, "altitude = {}", spelling.depth(m)).unwrap(),
            Air::Bar(bar) => {
                writeln!(out, "surface_pressure = {}", spelling.pressure(bar)).unwrap()
            }
        }
        writeln!(out, "temperature = {}", spelling.temperature(self.celsius)).unwrap();
        if let Some(current) = self.current {
            writeln!(out, "current = {}", spelling.current(current)).unwrap();
        }
        if let Some((minutes, home)) = self.arrived {
            writeln!(out, "arrived = \"{minutes} min\"").unwrap();
            if let Some(home) = home {
                writeln!(out, "home_altitude = {}", spelling.depth(home)).unwrap();
            }
        }
    }

    fn write_profile(&self, out: &mut String, spelling: Spelling) {
        let rate = spelling.speed(self.descent_m_min);
        writeln!(
            out,
            "[profile]\ndescent_rate = {rate}\nstaged = {}",
            self.staged
        )
        .unwrap();
        if let Some((speed, way)) = self.swim {
            let speed = spelling.current(speed);
            writeln!(out, "swim_speed = {speed}\nout = {way:?}").unwrap();
        }
        write_levels(out, "profile", &self.levels, spelling);
    }

    fn write_ascent(&self, out: &mut String, spelling: Spelling) {
        let spacing = self.spacing_m();
        let last = if self.last_two {
            2.0 * spacing
        } else {
            spacing
        };
        writeln!(
            out,
            "[ascent]\nrate = {}\nstop_spacing = {}\nlast_stop = {}",
            spelling.speed(self.ascent_m_min),
            spelling.depth(spacing),
            spelling.depth(last)
        )
        .unwrap();
        match self.safety_stop {
            None => writeln!(out, "safety_stop = false").unwrap(),
            Some((depth, minutes)) => {
                let depth = spelling.depth(depth);
                writeln!(
                    out,
                    "safety_stop = {{ depth = {depth}, time = \"{minutes} min\" }}"
                )
                .unwrap();
            }
        }
        let (low, high) = self.factors;
        writeln!(
            out,
            "[model]\ngradient_factors = [{low:?}, {high:?}]\nfirst_compartment = {:?}\n\
             gas_law = {:?}",
            self.first_compartment, self.gas_law
        )
        .unwrap();
    }
}

fn write_levels(out: &mut String, table: &str, levels: &[(f64, f64)], spelling: Spelling) {
    if let [(depth, time)] = levels {
        let depth = spelling.depth(*depth);
        writeln!(out, "depth = {depth}\nbottom_time = \"{time} min\"").unwrap();
        return;
    }
    for (depth, time) in levels {
        let depth = spelling.depth(*depth);
        writeln!(
            out,
            "[[{table}.level]]\ndepth = {depth}\ntime = \"{time} min\""
        )
        .unwrap();
    }
}

impl Earlier {
    fn write(&self, out: &mut String, spelling: Spelling) {
        writeln!(
            out,
            "[[before]]\nsurface_interval = \"{} min\"",
            self.interval_min
        )
        .unwrap();
        if let Some(gas) = &self.gas {
            writeln!(out, "gas = {gas:?}").unwrap();
        }
        if let Some(divers) = &self.divers {
            writeln!(out, "divers = {divers:?}").unwrap();
        }
        write_levels(out, "before", &self.levels, spelling);
    }
}

impl Cylinder {
    fn text(&self, spelling: Spelling, gas: Option<&str>) -> String {
        let size = match self.size {
            Size::Litres(litres) => format!("size = \"{litres} L\""),
            Size::Twins(litres) => format!("size = \"2x{litres} L\""),
            Size::Working(litres, bar) => {
                format!("size = \"{litres} L\", at = {}", spelling.pressure(bar))
            }
            Size::Rated(litres, bar) => format!(
                "rated = {}, at = {}",
                spelling.capacity(litres),
                spelling.pressure(bar)
            ),
        };
        let gas = gas.map_or_else(String::new, |gas| format!(", gas = {gas:?}"));
        format!(
            "{{ {size}, fill = {}{gas} }}",
            spelling.pressure(self.fill_bar)
        )
    }
}

impl Member {
    pub(crate) fn breathe_harder(&mut self, by: f64) {
        match &mut self.sac {
            Sac::LitresAMinute(rate) | Sac::BarAMinute(rate) => *rate *= by,
        }
    }

    fn write(&self, out: &mut String, spelling: Spelling) {
        let sac = match self.sac {
            Sac::LitresAMinute(rate) => spelling.breathing(rate),
            Sac::BarAMinute(rate) => spelling.pressure_rate(rate),
        };
        writeln!(
            out,
            "[[diver]]\nname = {:?}\nsac = {sac}\ncylinder = {}\ngauge = {:?}",
            self.name,
            self.cylinder.text(spelling, None),
            self.gauge
        )
        .unwrap();
        if let Some(gas) = &self.gas {
            writeln!(out, "gas = {gas:?}").unwrap();
        }
        if let Some((cylinder, gas)) = &self.pony {
            writeln!(out, "pony = {}", cylinder.text(spelling, gas.as_deref())).unwrap();
        }
        let stages: Vec<String> = self
            .stages
            .iter()
            .map(|(gas, cylinder)| cylinder.text(spelling, Some(gas)))
            .collect();
        if !stages.is_empty() {
            writeln!(out, "stage = [{}]", stages.join(", ")).unwrap();
        }
        if let Some(limit) = self.depth_limit_m {
            writeln!(out, "depth_limit = {}", spelling.depth(limit)).unwrap();
        }
        if let Some(buddy) = &self.buddy {
            writeln!(out, "buddy = {buddy:?}").unwrap();
        }
    }
}
