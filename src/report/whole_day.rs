//! A day of dives: in order, each in short, who dived what, when all are home.

use super::day::wait_words;
use super::flying::{FlyingShown, after_the_day};
use super::rail::{Rail, cut};
use super::sheet::{Align, CAUTIONS, Report, Table, Tone};
use super::short::short_of_a_day;
use crate::day::{Climb, Day, DayDive, Home, verdict};
use crate::finding::Verdict;
use crate::quantity::UnitSystem;
use crate::quantity::show::{Show, hours_min, list, minutes, minutes_down, whole_up};
use crate::surface::{IntervalReach, LONGEST_WAIT_MIN, LeastInterval};

/// Characters of a title.
const TITLE: usize = 30;

/// The whole day. `home` is how it stands to the hour by which all are to be back, where there is
/// one, `flying` how much is said of flying after it.
#[must_use]
pub fn day(day: &Day, home: Option<&Home>, flying: FlyingShown, units: UnitSystem) -> Report {
    let mut report = Report::default();
    let verdict = verdict(day, home);
    let title = title(day);
    report.marked(Tone::from(verdict), verdict.title(), title.clone());
    no_gos(day, home, &mut report);
    for (one, other) in day.alike() {
        let text = format!("{one} and {other} are taken as two divers.");
        report.marked(Tone::Caution, "  caution", text);
    }
    for dive in day.far_apart() {
        let text = format!(
            "Over 12 hours between dives {dive} and {}: splashes are of one day. What is past \
             midnight goes with --interval.",
            dive + 1
        );
        report.marked(Tone::Caution, "  caution", text);
    }
    in_order(day, &mut report);
    if let Some(home) = home {
        report.paragraph(home_words(day, home));
    }
    people(day, &mut report);
    for (index, dive) in day.dives.iter().enumerate() {
        report.heading(format!("Dive {}, {}", index + 1, splash_words(day, dive)));
        report
            .blocks
            .extend(short_of_a_day(&dive.briefing, units).blocks);
        if let Some(words) = wait_words(&Rail::new(&dive.briefing, units)) {
            report.paragraph(words);
        }
    }
    after_the_day(day, flying, Show(units), &mut report);
    report.heading("Cautions");
    report.paragraph(CAUTIONS);
    report.space();
    report.marked(Tone::from(verdict), verdict.title(), title);
    report
}

/// For a picture.
pub(super) fn short_title(day: &Day) -> String {
    title(day)
}

fn title(day: &Day) -> String {
    match day.dives.len() {
        1 => "A day of one dive".to_owned(),
        count => format!("A day of {count} dives"),
    }
}

fn no_gos(day: &Day, home: Option<&Home>, report: &mut Report) {
    let dives = day.dives.iter().zip(1_usize..);
    let no_gos = dives.filter(|(dive, _)| dive.briefing.verdict() == Verdict::NoGo);
    let numbers: Vec<usize> = no_gos.map(|(_, number)| number).collect();
    if let Some(first) = numbers.first() {
        let (noun, them) = match numbers.len() {
            1 => ("Dive", "it"),
            _ => ("Dives", "them"),
        };
        let names: Vec<String> = numbers.iter().map(usize::to_string).collect();
        let counted = if *first < day.dives.len() {
            format!(" What comes after counts {them} as dived.")
        } else {
            String::new()
        };
        let text = format!("{noun} {} may not go as planned.{counted}", list(&names));
        report.marked(Tone::NoGo, "  no-go", text);
    }
    for (dive, number) in day.dives.iter().zip(1_usize..) {
        if let Some(climb) = dive.climb.filter(|climb| climb.is_too_soon()) {
            report.marked(Tone::NoGo, "  no-go", climb_words(climb, number));
        }
    }
    if let Some(home) = home.filter(|home| !home.holds) {
        let back = day.dives.last().map(|dive| day.moment(dive.back_by()));
        let text = format!(
            "The last dive is back at {}, after {}.",
            back.unwrap_or_default(),
            home.by
        );
        report.marked(Tone::NoGo, "  no-go", text);
    }
    if day.flying.leaves_too_soon()
        && let Some(leaves) = day.flying.leaves
    {
        let text = format!(
            "The flight at {} is too soon after the day.",
            leaves.on_the_day()
        );
        report.marked(Tone::NoGo, "  no-go", text);
    }
}

fn climb_words(climb: Climb, number: usize) -> String {
    let advised = climb.advised_min.map_or_else(
        || format!("{} are not enough", hours_min(LONGEST_WAIT_MIN)),
        |advised| format!("no driving up for {}", hours_min(advised)),
    );
    format!(
        "The site of dive {number} is higher up, and they are there {} after surfacing: {advised} \
         after the dives before it.",
        minutes(minutes_down(climb.waited))
    )
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
