//! Plans drawn by chance: the greater part are dives that somebody might plan, the others go to the ends
//! of every range.

use crate::drawn::{Air, Cylinder, Drawn, Earlier, Member, Sac, Size};
use crate::random::Random;

const FOOT_M: f64 = 0.3048;

pub(crate) struct Drawing<'r> {
    pub(crate) random: &'r mut Random,
    /// Whether the plan goes to the ends of the ranges.
    pub(crate) anything: bool,
}

impl Drawing<'_> {
    pub(crate) fn plan(mut self) -> Drawn {
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
