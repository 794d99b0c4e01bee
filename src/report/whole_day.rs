//! A day of dives: in order, each in short, who dived what, when all are home.

use super::before::wait_words;
use super::brief::with_flying;
use super::flying::{FlyingShown, after_the_day, sentence};
use super::part::{Part, Parts, Topic, joined};
use super::rail::{Rail, cut};
use super::sheet::{Align, CAUTIONS, Report, THIN_AIR, Table, Tone};
use super::short::short_of_a_day;
use crate::day::{Day, DayDive, Home, OrderedBy, verdict};
use crate::finding::{DayFact, Fact, Verdict, Weight};
use crate::quantity::UnitSystem;
use crate::quantity::show::{Show, list, minutes_down, whole_up};
use crate::surface::{IntervalReach, LeastInterval};

/// Characters of a title.
const TITLE: usize = 30;

/// The whole day. `home` is how it stands to the hour by which all are to be back, where there is
/// one, `flying` how much is said of flying after it.
#[must_use]
pub fn day(day: &Day, home: Option<&Home>, flying: FlyingShown, units: UnitSystem) -> Report {
    joined(day_in_parts(day, home, flying, units))
}

/// As [`day`], part by part.
#[must_use]
pub fn day_in_parts(
    day: &Day,
    home: Option<&Home>,
    flying: FlyingShown,
    units: UnitSystem,
) -> Vec<Part> {
    let mut parts = Parts::default();
    let verdict = verdict(day, home);
    let title = title(day);
    parts.add(Topic::Verdict, |report| {
        report.marked(Tone::from(verdict), verdict.title(), title.clone());
        for text in no_gos(day, home) {
            report.marked(Tone::NoGo, "  no-go", text);
        }
        for text in cautions(day) {
            report.marked(Tone::Caution, "  caution", text);
        }
    });
    parts.add(Topic::Order, |report| {
        in_order(day, report);
        if let Some(home) = home {
            report.paragraph(home_words(day, home));
        }
    });
    parts.add(Topic::People, |report| people(day, report));
    for (index, dive) in day.dives.iter().enumerate() {
        parts.add(Topic::DiveInShort, |report| {
            report.heading(format!("Dive {}, {}", index + 1, splash_words(day, dive)));
            report
                .blocks
                .extend(short_of_a_day(&dive.briefing, units).blocks);
            if let Some(words) = wait_words(&Rail::new(&dive.briefing, units)) {
                report.paragraph(words);
            }
        });
    }
    parts.add(Topic::Flying, |report| {
        after_the_day(day, flying, Show(units), report);
    });
    parts.add(Topic::Cautions, |report| {
        report.heading("Cautions");
        let is_high = |dive: &DayDive| dive.briefing.plan.rules().environment.is_at_altitude();
        if day.dives.iter().any(is_high) {
            report.paragraph(THIN_AIR);
        }
        report.paragraph(CAUTIONS);
    });
    parts.add(Topic::VerdictAgain, |report| {
        report.space();
        report.marked(Tone::from(verdict), verdict.title(), title);
    });
    parts.all
}

/// The whole briefing of one dive of a day: why the day is a no-go stands above it, and what is said
/// of flying is of the day.
#[must_use]
pub fn brief_of_a_day(day: &Day, dive: &DayDive, home: Option<&Home>, units: UnitSystem) -> Report {
    joined(brief_of_a_day_in_parts(day, dive, home, units))
}

/// As [`brief_of_a_day`], part by part.
#[must_use]
pub fn brief_of_a_day_in_parts(
    day: &Day,
    dive: &DayDive,
    home: Option<&Home>,
    units: UnitSystem,
) -> Vec<Part> {
    let mut parts = Parts::default();
    let verdict = verdict(day, home);
    if verdict == Verdict::NoGo {
        parts.add(Topic::DayVerdict, |report| {
            report.marked(Tone::from(verdict), verdict.title(), title(day));
            for text in no_gos(day, home) {
                report.marked(Tone::NoGo, "  no-go", text);
            }
            report.space();
        });
    }
    let flying = format!("After the day: {}", sentence(&day.flying, Show(units)));
    let dive = with_flying(&dive.briefing, &flying, units);
    parts.all.into_iter().chain(dive).collect()
}

pub(super) fn title(day: &Day) -> String {
    match day.dives.len() {
        1 => "A day of one dive".to_owned(),
        count => format!("A day of {count} dives"),
    }
}

/// Why a day is a no-go.
pub(super) fn no_gos(day: &Day, home: Option<&Home>) -> Vec<String> {
    let late = home.filter(|home| !home.holds).and_then(|home| {
        let back = day.moment(day.dives.last()?.back_by());
        Some(format!(
            "The last dive is back at {back}, after {}.",
            home.by
        ))
    });
    let leaves = day.flying.leaves.filter(|_| day.flying.leaves_too_soon());
    let flight = leaves.map(|leaves| {
        let leaves = leaves.on_the_day();
        format!("The flight at {leaves} is too soon after the day.")
    });
    let driven_up = day.dives.iter().zip(1_usize..).flat_map(|(dive, number)| {
        let no_gos = dive.briefing.findings_of(Weight::NoGo);
        let driven_up =
            no_gos.filter(|finding| matches!(finding.fact, Fact::Day(DayFact::DrivenUpTooSoon(_))));
        let units = dive.briefing.plan.units();
        driven_up.map(move |finding| format!("Dive {number}: {}", finding.message(units)))
    });
    let dives = no_go_dives(day).into_iter().chain(driven_up);
    dives.chain(late).chain(flight).collect()
}

/// Which dives are none, but for a flight after them, which is told by itself.
fn no_go_dives(day: &Day) -> Option<String> {
    let is_off = |dive: &DayDive| {
        let mut no_gos = dive.briefing.findings_of(Weight::NoGo);
        no_gos.any(|finding| !matches!(finding.fact, Fact::Flight(_)))
    };
    let dives = day.dives.iter().zip(1_usize..);
    let numbers: Vec<usize> = dives
        .filter(|(dive, _)| is_off(dive))
        .map(|(_, number)| number)
        .collect();
    let first = *numbers.first()?;
    let (noun, them) = match numbers.len() {
        1 => ("Dive", "it"),
        _ => ("Dives", "them"),
    };
    let counted = if first < day.dives.len() {
        format!(" What comes after counts {them} as dived.")
    } else {
        String::new()
    };
    let numbers: Vec<String> = numbers.iter().map(usize::to_string).collect();
    let numbers = list(&numbers);
    Some(format!("{noun} {numbers} may not go as planned.{counted}"))
}

/// What to look at in a day.
pub(super) fn cautions(day: &Day) -> Vec<String> {
    let reordered = (day.ordered_by == OrderedBy::SplashesNotNames).then(|| {
        "The plans were named in another order: they are dived by their splashes. What is past \
         midnight goes with --interval."
            .to_owned()
    });
    let far_apart = day.far_apart().into_iter().map(|dive| {
        format!(
            "Over 12 hours between dives {dive} and {}: splashes are of one day. What is past \
             midnight goes with --interval.",
            dive + 1
        )
    });
    let alike = day.alike().into_iter();
    let alike = alike.map(|(one, other)| format!("{one} and {other} are taken as two divers."));
    reordered
        .into_iter()
        .chain(far_apart)
        .chain(alike)
        .collect()
}

fn in_order(day: &Day, report: &mut Report) {
    report.heading("The day");
    let mut table = Table::new(&[
        ("", Align::Right),
        ("splash", Align::Right),
        ("dive", Align::Left),
        ("", Align::Left),
        ("up", Align::Right),
        ("at the\nsurface before", Align::Right),
        ("no stops\nfrom", Align::Right),
    ]);
    for (index, dive) in day.dives.iter().enumerate() {
        let interval = dive.surface_interval;
        table.rows.push(vec![
            (index + 1).to_string(),
            day.moment(dive.starts),
            cut(Rail::new(&dive.briefing, UnitSystem::Metric).title(), TITLE),
            dive.briefing.verdict().title().to_owned(),
            day.moment(dive.back_by()),
            interval.map_or_else(String::new, |time| format!("{} min", minutes_down(time))),
            dive.briefing
                .least_interval
                .as_ref()
                .map_or_else(String::new, least),
        ]);
    }
    report.table(table);
    if day
        .dives
        .iter()
        .any(|dive| dive.briefing.least_interval.is_some())
    {
        report.paragraph(
            "\"No stops from\" is about stops alone: people want warmth, drink and a full cylinder \
             as well.",
        );
    }
}

fn least(least: &LeastInterval) -> String {
    match least.reach {
        IntervalReach::Minutes(minutes) => format!("{minutes} min"),
        IntervalReach::NotEvenClean => "never".to_owned(),
        IntervalReach::NotWithinBound => "over 48 h".to_owned(),
    }
}

/// `splash 11:40, 104 min at the surface before it`
fn splash_words(day: &Day, dive: &DayDive) -> String {
    let interval = dive.surface_interval.map_or_else(String::new, |interval| {
        format!(", {} min at the surface before it", minutes_down(interval))
    });
    format!("splash {}{interval}", day.moment(dive.starts))
}

fn home_words(day: &Day, home: &Home) -> String {
    let count = day.dives.len();
    let mut by = format!("Home by {}", home.by);
    if home.is_before_the_day(day) {
        by += " of the day of the first splash";
    }
    match home.last_splash {
        Some(splash) => format!(
            "{by}: dive {count} splashes at {splash} at the latest. After that it is left out."
        ),
        None => format!(
            "{by}: no splash of dive {count} is early enough and still a go. It is left out."
        ),
    }
}

/// Who dived what, and what the day has come to for each.
fn people(day: &Day, report: &mut Report) {
    report.heading("Each diver after the day");
    let mut table = Table::new(&[
        ("diver", Align::Left),
        ("dives", Align::Left),
        ("CNS at\nmost", Align::Right),
        ("CNS at\nthe end", Align::Right),
        ("OTU of\nthe day", Align::Right),
    ]);
    for person in &day.people {
        let dives = person.dives.iter().map(|dive| (dive + 1).to_string());
        table.rows.push(vec![
            person.name.clone(),
            dives.collect::<Vec<_>>().join(", "),
            format!("{} %", whole_up(person.most_cns_pct)),
            format!("{} %", whole_up(person.now.cns_pct)),
            whole_up(person.now.otu),
        ]);
    }
    report.table(table);
}
