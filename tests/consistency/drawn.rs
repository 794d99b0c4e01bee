//! Plans over all that a plan file may ask for, drawn by chance and written as text.
//!
//! The greater part are dives that somebody might plan; the others go to the ends of every range. All
//! settings are written out, since those that a plan leaves out depend on its units.

use std::fmt::Write as _;

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

struct Drawing<'r> {
    random: &'r mut Random,
    /// Whether the plan goes to the ends of the ranges.
    anything: bool,
}

impl Drawing<'_> {
    fn plan(mut self) -> Drawn {
        let descent_m_min = self.usual_or(18.0, (5.0, 30.0), (1.0, 60.0));
        let ascent_m_min = self.usual_or(9.0, (6.0, 18.0), (1.0, 30.0));
        let levels = self.levels(descent_m_min, ascent_m_min, 20);
        let helium = self.random.once_in(6);
        let bottom = self.bottom(helium);
        let decompression = self.decompression(helium);
        let team = self.team(&bottom, &decompression, &levels);
        let names: Vec<String> = team.iter().map(|member| member.name.clone()).collect();
        let current = self
            .random
            .once_in(4)
            .then(|| self.random.of_range(0.0, 60.0));
        let swim = current.filter(|_| self.random.once_in(2)).map(|_| {
            let speed = self.random.of_range(3.0, 92.6);
            (speed, self.random.pick(&["with", "against"]))
        });
        let (air, arrived) = self.air();
        let before = self.before((descent_m_min, ascent_m_min), helium, &names);
        Drawn {
            title: self.random.once_in(2).then_some("A title, of a few words"),
            splash: self.random.once_in(2).then(|| {
                let (hour, minute) = (self.random.whole(0..=23), self.random.whole(0..=59));
                format!("{hour}:{minute:02}")
            }),
            water: self.water(),
            air,
            celsius: self.usual_or(15.0, (4.0, 28.0), (-5.0, 45.0)),
            current,
            arrived,
            levels,
            descent_m_min,
            swim,
            staged: self.random.once_in(2),
            ascent_m_min,
            feet_spacing: self.random.once_in(3),
            last_two: self.random.once_in(4),
            safety_stop: self.safety_stop(),
            factors: self.factors(),
            first_compartment: if self.random.once_in(4) { "1" } else { "1b" },
            gas_law: if self.random.once_in(4) {
                "ideal"
            } else {
                "real"
            },
            before,
            bottom,
            decompression,
            switch_min: self.usual_or(1.0, (0.0, 3.0), (0.0, 30.0)),
            stress: self.usual_or(1.5, (1.0, 3.0), (1.0, 5.0)),
            sort_out_min: self.usual_or(1.0, (0.0, 3.0), (0.0, 30.0)),
            floor_bar: self.usual_or(50.0, (0.0, 70.0), (0.0, 150.0)),
            turn: self.random.pick(&["half", "third", "all"]),
            hang: self.random.once_in(4).then(|| {
                let depth = self.usual_or(5.0, (3.0, 15.0), (1.0, 60.0));
                (depth, self.usual_or(5.0, (1.0, 15.0), (0.5, 120.0)))
            }),
            overdue_min: self.usual_or(10.0, (5.0, 30.0), (1.0, 240.0)),
            team,
        }
    }

    /// What is usual half of the time, otherwise something likely, or anything that is accepted.
    fn usual_or(&mut self, usual: f64, likely: (f64, f64), accepted: (f64, f64)) -> f64 {
        if self.random.once_in(2) {
            return usual;
        }
        let (least, greatest) = if self.anything { accepted } else { likely };
        self.random.of_range(least, greatest)
    }

    fn levels(&mut self, down: f64, up: f64, most: u32) -> Vec<(f64, f64)> {
        let count = match self.random.whole(0..=9) {
            0..=5 => 1,
            6 | 7 => self.random.whole(2..=3),
            8 => self.random.whole(2..=6),
            _ => self.random.whole(2..=most),
        };
        let mut from = 0.0;
        let level = |_| {
            let (depth, stay) = self.level(count);
            let rate = if depth < from { up } else { down };
            let time = ((depth - from).abs() / rate + stay).max(0.1);
            from = depth;
            // A plan says minutes, seldom more: up to the next tenth for the most part.
            let tenths = (time * 10.0).ceil() / 10.0;
            (
                depth,
                if self.random.once_in(8) { time } else { tenths }.min(1440.0),
            )
        };
        (0..count).map(level).collect()
    }

    /// A depth, and the time at it.
    fn level(&mut self, of: u32) -> (f64, f64) {
        let of = f64::from(of);
        let deepest = if self.anything { 200.0 } else { 55.0 };
        let depth = match self.random.whole(0..=9) {
            0 => 3.0 * f64::from(self.random.whole(1..=18)),
            1 => 10.0 * FOOT_M * f64::from(self.random.whole(1..=18)),
            2 if self.anything => self.random.of_range(0.3, deepest),
            3..=6 => self.random.of_range(6.0, 32.0),
            _ => self.random.of_range(8.0, deepest),
        };
        // The deeper, the shorter, lest most dives be none that can be surfaced from in a day.
        let longest = (1400.0 / (depth + 5.0)).min(240.0) / of;
        let stay = match self.random.whole(0..=9) {
            0 => 0.0,
            1 if self.anything => self.random.of_range(0.0, 1400.0 / of),
            _ => self.random.of_range(0.0, longest),
        };
        (depth, stay)
    }

    fn mix(&mut self, least: u32, greatest: u32) -> String {
        let whole = self.random.whole(least..=greatest);
        if self.random.once_in(10) {
            let tenth = self.random.whole(0..=9);
            let pct = f64::from(whole) + f64::from(tenth) / 10.0;
            return format!("EAN{}", pct.min(f64::from(greatest)));
        }
        match whole {
            21 => "air".to_owned(),
            100 => "oxygen".to_owned(),
            whole => format!("EAN{whole}"),
        }
    }

    fn bottom(&mut self, helium: bool) -> String {
        if helium {
            let oxygen = self.random.whole(10..=32);
            let helium = self.random.whole(1..=100 - oxygen);
            return format!("{oxygen}/{helium}");
        }
        match self.random.whole(0..=9) {
            0..=4 => "air".to_owned(),
            5..=8 => self.mix(22, 40),
            _ if self.anything => self.mix(5, 100),
            _ => self.mix(17, 50),
        }
    }

    fn decompression(&mut self, helium: bool) -> Vec<String> {
        let count = match self.random.whole(0..=9) {
            0..=5 => 0,
            6 | 7 => 1,
            8 => 2,
            _ => self.random.whole(1..=8),
        };
        let mut gases: Vec<String> = Vec::new();
        for _ in 0..count {
            let gas = match self.random.whole(0..=3) {
                0 => "EAN50".to_owned(),
                1 => "oxygen".to_owned(),
                2 if helium => {
                    let oxygen = self.random.whole(20..=60);
                    format!("{oxygen}/{}", self.random.whole(1..=40))
                }
                _ => self.mix(22, 100),
            };
            if !gases.contains(&gas) {
                gases.push(gas);
            }
        }
        gases
    }

    fn water(&mut self) -> String {
        match self.random.whole(0..=5) {
            0..=2 => "sea".to_owned(),
            3 => "fresh".to_owned(),
            4 => "en13319".to_owned(),
            _ => format!("{} kg/m3", self.random.of_range(950.0, 1300.0)),
        }
    }

    fn air(&mut self) -> (Air, Option<(f64, Option<f64>)>) {
        let arrived = self.random.once_in(8).then(|| {
            let minutes = self.usual_or(90.0, (10.0, 600.0), (0.0, 43_200.0));
            let home = self
                .random
                .once_in(2)
                .then(|| self.random.of_range(-430.0, 4500.0));
            (minutes, home)
        });
        let air = match self.random.whole(0..=7) {
            0..=4 => Air::SeaLevel,
            5 => Air::Bar(self.random.of_range(0.577, 1.1)),
            _ if self.anything => Air::AltitudeM(self.random.of_range(-430.0, 4500.0)),
            _ => Air::AltitudeM(self.random.of_range(0.0, 2500.0)),
        };
        (air, arrived)
    }

    fn safety_stop(&mut self) -> Option<(f64, f64)> {
        match self.random.whole(0..=9) {
            0 | 1 => None,
            2..=6 => Some((5.0, 3.0)),
            7 | 8 => Some((
                self.random.of_range(3.0, 6.0),
                self.random.of_range(1.0, 5.0),
            )),
            _ => Some((
                self.random.of_range(1.0, 20.0),
                self.random.of_range(0.5, 60.0),
            )),
        }
    }

    fn factors(&mut self) -> (f64, f64) {
        match self.random.whole(0..=9) {
            0..=3 => (40.0, 85.0),
            4 => self
                .random
                .pick(&[(30.0, 70.0), (50.0, 80.0), (100.0, 100.0), (45.0, 95.0)]),
            5 if self.anything => {
                let (x, y) = (
                    self.random.of_range(5.0, 100.0),
                    self.random.of_range(5.0, 100.0),
                );
                (x.min(y), x.max(y))
            }
            _ => {
                let (x, y) = (
                    self.random.of_range(20.0, 100.0),
                    self.random.of_range(40.0, 100.0),
                );
                (x.min(y), x.max(y))
            }
        }
    }

    fn before(&mut self, (down, up): (f64, f64), helium: bool, names: &[String]) -> Vec<Earlier> {
        let count = match self.random.whole(0..=9) {
            0..=6 => 0,
            7 | 8 => 1,
            _ if self.anything => self.random.whole(1..=20),
            _ => self.random.whole(2..=4),
        };
        let dive = |_| {
            let gas = self.random.once_in(3).then(|| self.bottom(helium));
            let divers = (!names.is_empty() && self.random.once_in(3)).then(|| {
                let some = names.iter().filter(|_| self.random.once_in(2));
                let some: Vec<String> = some.cloned().collect();
                if some.is_empty() {
                    vec![names[0].clone()]
                } else {
                    some
                }
            });
            Earlier {
                levels: self.levels(down, up, 6),
                gas,
                interval_min: self.usual_or(75.0, (20.0, 300.0), (0.0, 10_080.0)),
                divers,
            }
        };
        (0..count).map(dive).collect()
    }

    fn cylinder(&mut self, least_l: f64, greatest_l: f64) -> Cylinder {
        let size = match self.random.whole(0..=9) {
            0..=4 => Size::Litres(self.random.of_range(least_l, greatest_l)),
            5 => Size::Twins(self.random.of_range(least_l / 2.0, greatest_l / 2.0)),
            6 | 7 => Size::Working(self.random.of_range(least_l, greatest_l), 232.0),
            _ => {
                let bar = self.random.pick(&[206.842_718_795_04, 232.0, 300.0]);
                let litres = self.random.between(least_l, greatest_l);
                Size::Rated((litres * bar / 1.013_25).round().max(10.0), bar)
            }
        };
        let most = match size {
            Size::Litres(_) | Size::Twins(_) if self.anything => 344.0,
            Size::Litres(_) | Size::Twins(_) => 250.0,
            Size::Working(_, bar) | Size::Rated(_, bar) => bar * 1.1,
        };
        let least = if self.anything { 1.0 } else { 150.0 };
        Cylinder {
            size,
            fill_bar: self.usual_or(200.0, (least, most), (least, most)),
        }
    }

    fn team(
        &mut self,
        bottom: &str,
        decompression: &[String],
        levels: &[(f64, f64)],
    ) -> Vec<Member> {
        let count = match self.random.whole(0..=29) {
            0 | 1 => 0,
            2..=9 => 1,
            10..=21 => 2,
            22..=27 => self.random.whole(3..=5),
            28 => self.random.whole(6..=12),
            _ => self.random.whole(12..=50),
        };
        let helium = bottom.contains('/') || decompression.iter().any(|gas| gas.contains('/'));
        let own_gases = !helium && self.random.once_in(4);
        let deepest = levels.iter().map(|(depth, _)| *depth).fold(0.0, f64::max);
        let mut team: Vec<Member> = Vec::new();
        for number in 0..count {
            let sac = if self.random.once_in(6) {
                Sac::BarAMinute(self.random.of_range(0.8, 2.0))
            } else {
                Sac::LitresAMinute(self.usual_or(15.0, (8.0, 25.0), (2.0, 150.0)))
            };
            let cylinder = match sac {
                // A pressure rate is one of the own cylinder: both within what anybody breathes.
                Sac::BarAMinute(_) => self.cylinder(7.0, 30.0),
                Sac::LitresAMinute(_) if self.anything => self.cylinder(2.0, 100.0),
                Sac::LitresAMinute(_) => self.cylinder(8.0, 24.0),
            };
            let gas = (own_gases && self.random.once_in(2)).then(|| self.mix(21, 40));
            let pony = self.random.once_in(3).then(|| {
                let gas = (!helium && self.random.once_in(4)).then(|| self.mix(21, 40));
                let cylinder = if self.anything {
                    self.cylinder(0.4, 20.0)
                } else {
                    self.cylinder(1.5, 6.0)
                };
                (cylinder, gas)
            });
            let mut stages = Vec::new();
            for gas in decompression {
                if !self.random.once_in(6) && stages.len() < 8 {
                    stages.push((gas.clone(), self.cylinder(3.0, 12.0)));
                }
            }
            team.push(Member {
                name: format!("Diver {number}"),
                sac,
                cylinder,
                gas,
                pony,
                stages,
                depth_limit_m: self.random.once_in(6).then(|| {
                    let limit = deepest + self.random.of_range(-2.0, 15.0);
                    limit.clamp(0.3, 200.0)
                }),
                gauge: self.random.pick(&["bar", "bar", "psi"]),
                buddy: None,
            });
        }
        self.name_buddies(&mut team);
        team
    }

    /// Pairs who name each other, now and then a group of three; the last one may have nobody.
    fn name_buddies(&mut self, team: &mut [Member]) {
        if team.len() < 2 || self.random.once_in(2) {
            return;
        }
        let mut rest = team;
        while rest.len() >= 2 {
            let size = if rest.len() >= 3 && self.random.once_in(4) {
                3
            } else {
                2
            };
            let (group, others) = rest.split_at_mut(size);
            for index in 0..size {
                group[index].buddy = Some(group[(index + 1) % size].name.clone());
            }
            rest = others;
        }
    }
}
