//! A day of several plans, against the definitions written out here.
//!
//! The usual dive is made for pencil and paper: 18 m for 20 minutes, down at 18 m/min and up at
//! 9 m/min with 3 minutes at 5 m, so 1 + 19 + 13/9 + 3 + 5/9 = 25 minutes from splash to surfacing.

use approx::assert_abs_diff_eq;
use hangbar::day::{Day, DayError, DayPlan, plan_day};
use hangbar::plan_file::read;
use hangbar::quantity::Time;
use hangbar::rules::Start;

/// Two ways to the same pressure, bar; to the same share, per cent; to the same minute.
const SAME: f64 = 1e-9;
/// Half-times of nitrogen in the sixteen compartments, min.
const HALF_TIMES_MIN: [f64; 16] = [
    5.0, 8.0, 12.5, 18.5, 27.0, 38.3, 54.3, 77.0, 109.0, 146.0, 187.0, 239.0, 305.0, 390.0, 498.0,
    635.0,
];
const ATM_BAR: f64 = 1.01325;
const VAPOUR_BAR: f64 = 0.0627;
/// 1025 kg/m³ · 9.80665 m/s², in bar a metre.
const BAR_A_METRE: f64 = 1025.0 * 9.80665 / 1e5;
/// Of the usual dive.
const RUN_TIME_MIN: f64 = 25.0;

/// A plan in words: when, where, how deep and long, on what, who.
#[derive(Clone, Copy)]
pub(crate) struct Words<'a> {
    pub(crate) splash: &'a str,
    pub(crate) site: &'a str,
    pub(crate) profile: (f64, f64),
    pub(crate) gas: &'a str,
    pub(crate) divers: &'a [&'a str],
    /// Whether stops are meant.
    pub(crate) staged: bool,
    /// Tables at the end.
    pub(crate) more: &'a str,
}

/// The usual dive of Noor.
pub(crate) const USUAL: Words<'_> = Words {
    splash: "",
    site: "",
    profile: (18.0, 20.0),
    gas: "air",
    divers: &["Noor"],
    staged: true,
    more: "",
};

impl Words<'_> {
    pub(crate) fn named(&self, file: &str) -> DayPlan {
        let (depth, minutes) = self.profile;
        let mut text = match self.splash {
            "" => String::new(),
            splash => format!("splash = \"{splash}\"\n"),
        };
        text.push_str(&format!(
            "[site]\n{}\n[profile]\ndepth = \"{depth} m\"\nbottom_time = \"{minutes} min\"\n\
             staged = {}\n[gas]\nbottom = \"{}\"\n",
            self.site, self.staged, self.gas
        ));
        for name in self.divers {
            text.push_str(&format!(
                "[[diver]]\nname = \"{name}\"\nsac = \"12 L/min\"\n\
                 cylinder = {{ size = \"2x12 L\", fill = \"200 bar\" }}\n"
            ));
        }
        text.push_str(self.more);
        let plan = read(&text).unwrap();
        DayPlan {
            file: file.to_owned(),
            plan,
        }
    }
}

pub(crate) fn minutes(minutes: &[f64]) -> Vec<Time> {
    minutes.iter().copied().map(Time::from_min).collect()
}

/// The day of plans in their order, with so many minutes between them.
fn by_intervals(plans: &[Words<'_>], waits: &[f64]) -> Day {
    let plans = plans.iter().zip(["a.toml", "b.toml", "c.toml"]);
    let plans = plans.map(|(words, file)| words.named(file)).collect();
    plan_day(plans, &minutes(waits), None).unwrap()
}

/// Nitrogen in the compartments, bar.
type Nitrogen = [f64; 16];

/// At home on the air of the surface.
fn clean(surface_bar: f64) -> Nitrogen {
    [(surface_bar - VAPOUR_BAR) * 0.79; 16]
}

/// `p(t) = pi0 + r·(t − 1/k) − (pi0 − p0 − r/k)·exp(−k·t)` between two ambient pressures.
fn breathed(held: Nitrogen, share: f64, [from, to]: [f64; 2], minutes: f64) -> Nitrogen {
    let (inspired, rate) = ((from - VAPOUR_BAR) * share, (to - from) / minutes * share);
    let mut after = held;
    for (held, half_time) in after.iter_mut().zip(HALF_TIMES_MIN) {
        let k = std::f64::consts::LN_2 / half_time;
        *held = inspired + rate * (minutes - 1.0 / k)
            - (inspired - *held - rate / k) * (-k * minutes).exp();
    }
    after
}

/// On air at the surface of the sea.
fn rested(held: Nitrogen, minutes: f64) -> Nitrogen {
    breathed(held, 0.79, [ATM_BAR, ATM_BAR], minutes)
}

/// The usual dive on air.
fn dived(held: Nitrogen) -> Nitrogen {
    let at = |depth_m: f64| ATM_BAR + depth_m * BAR_A_METRE;
    let ways = [
        ([0.0, 18.0], 1.0),
        ([18.0, 18.0], 19.0),
        ([18.0, 5.0], 13.0 / 9.0),
        ([5.0, 5.0], 3.0),
        ([5.0, 0.0], 5.0 / 9.0),
    ];
    ways.iter().fold(held, |held, ([from, to], minutes)| {
        breathed(held, 0.79, [at(*from), at(*to)], *minutes)
    })
}

#[track_caller]
fn assert_holds(start: &Start, want: &Nitrogen) {
    for (got, want) in start.tissues.loadings().into_iter().zip(want) {
        assert_abs_diff_eq!(got.n2_bar, *want, epsilon = SAME);
        assert_abs_diff_eq!(got.he_bar, 0.0, epsilon = SAME);
    }
}

/// What a diver brings to a dive, both from 0.
fn brings(day: &Day, dive: usize, diver: usize) -> Start {
    day.dives[dive].briefing.plan.history().starts[diver]
}

/// Noor sits out the second dive: both intervals and its run time are time at the surface.
#[test]
fn who_sits_a_dive_out_is_at_the_surface_all_along() {
    let both = &["Noor", "Ib"];
    let [first, third] = [USUAL; 2].map(|dive| Words {
        divers: both,
        ..dive
    });
    let second = Words {
        divers: &["Ib"],
        ..USUAL
    };
    let day = by_intervals(&[first, second, third], &[50.0, 70.0]);
    let surfaced = dived(clean(ATM_BAR));
    let noor = rested(surfaced, 50.0 + RUN_TIME_MIN + 70.0);
    let ib = rested(dived(rested(surfaced, 50.0)), 70.0);
    assert_abs_diff_eq!(day.dives[1].ends.as_min(), 100.0, epsilon = SAME);
    assert_holds(&brings(&day, 2, 0), &noor);
    assert_holds(&brings(&day, 2, 1), &ib);
    // The team has the most of either: here all of Ib's.
    assert_holds(day.dives[2].briefing.plan.start(), &ib);
    assert_eq!(day.people[0].dives, [0, 2]);
    assert_holds(&day.people[0].now, &dived(noor));
}

/// Who dives the first alone is at the surface to the end of the day.
#[test]
fn the_end_of_the_day_finds_everybody_as_the_last_dive_surfaces() {
    let second = Words {
        divers: &["Ib"],
        ..USUAL
    };
    let day = by_intervals(&[USUAL, second], &[50.0]);
    let noor = rested(dived(clean(ATM_BAR)), 50.0 + RUN_TIME_MIN);
    assert_eq!(day.people[0].name, "Noor");
    assert_holds(&day.people[0].now, &noor);
    assert_holds(&day.people[1].now, &dived(clean(ATM_BAR)));
}

/// Who comes to the second dive begins it clean, and the first diver does not.
#[test]
fn who_joins_later_begins_clean() {
    let second = Words {
        divers: &["Noor", "Ib"],
        ..USUAL
    };
    let day = by_intervals(&[USUAL, second], &[50.0]);
    assert_holds(&brings(&day, 1, 0), &rested(dived(clean(ATM_BAR)), 50.0));
    let ib = brings(&day, 1, 1);
    assert_holds(&ib, &clean(ATM_BAR));
    assert_eq!((ib.cns_pct, ib.otu), (0.0, 0.0));
}

/// Ib dived elsewhere and surfaced 65 minutes ago, as the second plan tells.
#[test]
fn who_joins_later_brings_what_the_own_plan_tells() {
    let second = Words {
        divers: &["Noor", "Ib"],
        more: "[[before]]\ndepth = \"18 m\"\nbottom_time = \"20 min\"\n\
               surface_interval = \"65 min\"\ndivers = [\"Ib\"]\n",
        ..USUAL
    };
    let day = by_intervals(&[USUAL, second], &[50.0]);
    assert_holds(&brings(&day, 1, 0), &rested(dived(clean(ATM_BAR)), 50.0));
    assert_holds(&brings(&day, 1, 1), &rested(dived(clean(ATM_BAR)), 65.0));
}

/// Ib came down from 1000 m 40 minutes before the second dive; Noor was here.
#[test]
fn who_joins_later_may_come_from_another_altitude() {
    let second = Words {
        divers: &["Noor", "Ib"],
        site: "arrived = \"40 min\"\nhome_altitude = \"1000 m\"",
        ..USUAL
    };
    let day = by_intervals(&[USUAL, second], &[50.0]);
    let home = 1.01325 * (1.0 - 0.0065 * 1000.0 / 288.15_f64).powf(5.255_876_1);
    assert_holds(&brings(&day, 1, 1), &rested(clean(home), 40.0));
    assert_holds(&brings(&day, 1, 0), &rested(dived(clean(ATM_BAR)), 50.0));
}

/// Two sites of different air: 30 minutes by the sea, then 90 at a lake 2000 m up.
#[test]
fn the_wait_between_two_altitudes_is_spent_at_both() {
    let lake = Words {
        site: "altitude = \"2000 m\"\narrived = \"90 min\"",
        ..USUAL
    };
    let day = by_intervals(&[USUAL, lake], &[120.0]);
    let up = 1.01325 * (1.0 - 0.0065 * 2000.0 / 288.15_f64).powf(5.255_876_1);
    let by_the_sea = rested(dived(clean(ATM_BAR)), 30.0);
    let noor = breathed(by_the_sea, 0.79, [up, up], 90.0);
    assert_holds(&brings(&day, 1, 0), &noor);
}

/// CNS halves in 90 minutes at the surface, and falls by what is between; OTU stay.
#[test]
fn cns_halves_every_ninety_minutes_and_otu_add_up() {
    let rich = Words {
        profile: (24.0, 25.0),
        gas: "EAN36",
        ..USUAL
    };
    let alone = by_intervals(&[rich], &[]).people[0].now;
    assert!(alone.cns_pct > 5.0 && alone.otu > 20.0, "{alone:?}");
    for (wait, left) in [
        (0.0, 1.0),
        (90.0, 0.5),
        (180.0, 0.25),
        (45.0, 0.5_f64.sqrt()),
    ] {
        let day = by_intervals(&[rich, rich], &[wait]);
        // Longer stops after a short wait: the doses of the dive as it is flown.
        let [before, dive] = [0, 1].map(|dive| &day.dives[dive].briefing);
        let own = hangbar::oxygen::OxygenExposure::of(
            &dive.plan.rules().environment,
            &dive.schedule.segments,
        );
        let start = brings(&day, 1, 0);
        assert_abs_diff_eq!(start.cns_pct, alone.cns_pct * left, epsilon = SAME);
        assert_abs_diff_eq!(start.otu, before.surfaced(0).otu, epsilon = SAME);
        let end = day.people[0].now;
        assert_abs_diff_eq!(
            end.cns_pct,
            alone.cns_pct * left + own.cns_pct,
            epsilon = SAME
        );
        assert_abs_diff_eq!(end.otu, alone.otu + own.otu, epsilon = SAME);
        let most = day.people[0].most_cns_pct;
        assert_abs_diff_eq!(most, end.cns_pct.max(alone.cns_pct), epsilon = SAME);
    }
}

/// After a night of 600 minutes the first surfacing had the most oxygen, not the last.
#[test]
fn the_most_cns_of_a_day_may_be_the_first_dive_s() {
    let rich = Words {
        profile: (24.0, 25.0),
        gas: "EAN36",
        ..USUAL
    };
    let short = Words {
        profile: (10.0, 10.0),
        gas: "EAN36",
        ..USUAL
    };
    let day = by_intervals(&[rich, short], &[600.0]);
    let first = day.dives[0].briefing.surfaced(0).cns_pct;
    assert!(day.people[0].now.cns_pct < first / 2.0);
    assert_abs_diff_eq!(day.people[0].most_cns_pct, first, epsilon = SAME);
}

/// In at 23:10, up at 23:35, and in again at minutes that are on the next day or later ones.
#[test]
fn a_dive_past_midnight_says_on_which_day_it_is() {
    let night = Words {
        splash: "23:10",
        ..USUAL
    };
    for (wait, splash, back) in [
        (0.0, "23:35", "00:00 the next day"),
        (24.0, "23:59", "00:24 the next day"),
        (24.5, "00:00 the next day", "00:25 the next day"),
        (40.0, "00:15 the next day", "00:40 the next day"),
        (24.0 + 1440.0, "23:59 the next day", "00:24 2 days later"),
        (40.0 + 1440.0, "00:15 2 days later", "00:40 2 days later"),
        (7.0 * 1440.0, "23:35 7 days later", "00:00 8 days later"),
    ] {
        let day = by_intervals(&[night, USUAL], &[wait]);
        let dive = &day.dives[1];
        assert_eq!(day.moment(dive.starts), splash, "{wait}");
        assert_eq!(day.moment(dive.ends), back, "{wait}");
        let of_the_day = dive.splash.unwrap().to_string();
        assert!(splash.starts_with(&of_the_day), "{of_the_day}, {wait}");
        // The briefing of that dive has the same clock.
        assert_eq!(dive.briefing.plan.splash(), dive.splash);
    }
}

/// Without any splash the moments are minutes from the first one.
#[test]
fn a_day_without_a_clock_counts_minutes() {
    let later = Words {
        splash: "11:00",
        ..USUAL
    };
    let day = by_intervals(&[USUAL, later], &[40.0]);
    assert!(!day.has_clock);
    assert_eq!(day.moment(day.dives[1].starts), "minute 65");
    assert_eq!(day.dives[1].splash, None);
    assert_eq!(day.dives[1].briefing.plan.splash(), None);
}

/// Back at 09:25: a splash then is no overlap, one a minute earlier is.
#[test]
fn a_splash_at_the_minute_of_surfacing_is_no_overlap() {
    let at = |splash| {
        let first = Words {
            splash: "09:00",
            ..USUAL
        };
        let second = Words { splash, ..USUAL };
        plan_day(
            vec![first.named("a.toml"), second.named("b.toml")],
            &[],
            None,
        )
    };
    let day = at("09:25").unwrap();
    let wait = day.dives[1].surface_interval.unwrap();
    assert_abs_diff_eq!(wait.as_min(), 0.0, epsilon = SAME);
    assert_holds(&brings(&day, 1, 0), &dived(clean(ATM_BAR)));
    let overlap = at("09:24").unwrap_err();
    assert!(matches!(overlap, DayError::Overlap { .. }), "{overlap}");
}
