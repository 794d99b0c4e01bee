//! The `[profile]` section: levels, what takes their place on the day, swimming in a current.

use super::Overrides;
use super::problem::Place;
use super::reader::{Given, Reader, Table};
use super::sections::on_the_day;
use crate::plan::ranges::{Accepted, DEPTH, DESCENT_RATE, LEVEL_TIME, SWIM_SPEED};
use crate::plan::{DiveRules, Level, level_travel};
use crate::plan::{OutBound, SwimPlan};
use crate::quantity::show::{hundredths_up, short_down, short_up};
use crate::quantity::{Depth, Speed, Time};

pub(super) const PROFILE_KEYS: &[&str] = &[
    "depth",
    "bottom_time",
    "level",
    "descent_rate",
    "swim_speed",
    "out",
    "staged",
];
const LEVEL_KEYS: &[&str] = &["depth", "time"];

pub(super) type Levels = Vec<Given<Level>>;

pub(super) fn profile(
    reader: &mut Reader,
    root: &Table<'_>,
    table: Option<&Table<'_>>,
    standard: &DiveRules,
    overrides: &Overrides,
) -> Option<(Levels, Speed)> {
    const WANTED: &str = "`depth` and `bottom_time`, or one [[profile.level]] or more";
    let Some(table) = table else {
        if !root.has("profile") {
            reader.missing(root, "profile", format!("a table [profile] with {WANTED}"));
        }
        return None;
    };
    let mut rate = reader.quantity(table, "descent_rate", &DESCENT_RATE);
    if let Some(text) = &overrides.descent_rate {
        let option = "--descent-rate";
        rate = overridden(
            reader,
            &table.name,
            "descent_rate",
            &DESCENT_RATE,
            text,
            option,
        );
    }
    let rate = rate.map_or(standard.descent_rate, |given| {
        Speed::from_m_min(given.value)
    });
    let square = table.has("depth") || table.has("bottom_time");
    if square && table.has("level") {
        reader.refuse_at(
            table.place_of("level"),
            &table.name,
            Some("level"),
            "`depth` or `bottom_time` is given, and levels too",
            WANTED,
            None,
        );
        return None;
    }
    let levels = if table.has("level") {
        levels(reader, table, overrides)
    } else {
        one_level(reader, table, overrides).map(|level| vec![level])
    };
    Some((levels?, rate))
}

/// How the team swims in the current; all three keys go together.
pub(super) fn swim(
    reader: &mut Reader,
    profile: &Table<'_>,
    current: Option<Speed>,
) -> Option<SwimPlan> {
    let speed = reader.quantity(profile, "swim_speed", &SWIM_SPEED);
    let ways = [("with", OutBound::With), ("against", OutBound::Against)];
    let out = reader.word(profile, "out", &ways);
    let (has_speed, has_out) = (profile.has("swim_speed"), profile.has("out"));
    if (has_speed || has_out) && current.is_none() {
        let key = if has_speed { "swim_speed" } else { "out" };
        reader.refuse_at(
            profile.place_of(key),
            &profile.name,
            Some(key),
            format!("`{key}` says how to swim in a current, and the plan has none"),
            "with `current` in [site]",
            None,
        );
    } else if has_speed && !has_out {
        reader.missing(
            profile,
            "out",
            "\"with\" or \"against\": how the dive goes out in the current",
        );
    } else if has_out && !has_speed {
        reader.missing(profile, "swim_speed", SWIM_SPEED.describe());
    }
    Some(SwimPlan {
        current: current?,
        swim: Speed::from_m_min(speed?.value),
        out: out?.value,
    })
}

/// `depth` and `bottom_time`, each from the override if there is one.
fn one_level(
    reader: &mut Reader,
    table: &Table<'_>,
    overrides: &Overrides,
) -> Option<Given<Level>> {
    let depth = or_override(
        reader,
        table,
        "depth",
        &DEPTH,
        overrides.depth.as_deref(),
        "--depth",
    );
    let time = or_override(
        reader,
        table,
        "bottom_time",
        &LEVEL_TIME,
        overrides.bottom_time.as_deref(),
        "--bottom-time",
    );
    let (depth, time) = (depth?, time?);
    let level = Level {
        depth: Depth::from_m(depth.value),
        time: Time::from_min(time.value),
    };
    // Should the time be too short, then what was changed on the day is to blame.
    let blamed = match (&depth.at, &time.at) {
        (Place::Override(_), Place::Span(_)) => depth,
        _ => time,
    };
    Some(blamed.map(|_| level))
}

fn or_override(
    reader: &mut Reader,
    table: &Table<'_>,
    key: &'static str,
    accepted: &Accepted,
    instead: Option<&str>,
    option: &'static str,
) -> Option<Given<f64>> {
    // The file's own value is checked even where something else takes its place.
    let own = required(reader, table, key, accepted, instead.is_some());
    match instead {
        Some(text) => overridden(reader, &table.name, key, accepted, text, option),
        None => own,
    }
}

pub(super) fn required(
    reader: &mut Reader,
    table: &Table<'_>,
    key: &'static str,
    accepted: &Accepted,
    may_miss: bool,
) -> Option<Given<f64>> {
    if !table.has(key) && !may_miss {
        reader.missing(table, key, accepted.describe());
    }
    reader.quantity(table, key, accepted)
}

fn overridden(
    reader: &mut Reader,
    table: &str,
    key: &'static str,
    accepted: &Accepted,
    text: &str,
    option: &'static str,
) -> Option<Given<f64>> {
    let given = on_the_day(key, text, option);
    reader.read_quantity(table, &given, accepted)
}

fn levels(reader: &mut Reader, profile: &Table<'_>, overrides: &Overrides) -> Option<Levels> {
    let tables = reader.tables(profile, "level", LEVEL_KEYS)?;
    let mut levels: Vec<Option<Given<Level>>> = Vec::new();
    for table in &tables {
        let depth = required(reader, table, "depth", &DEPTH, false);
        let time = required(reader, table, "time", &LEVEL_TIME, false);
        levels.push(depth.zip(time).map(|(depth, time)| {
            time.map(|minutes| Level {
                depth: Depth::from_m(depth.value),
                time: Time::from_min(minutes),
            })
        }));
    }
    let mut levels: Levels = levels.into_iter().collect::<Option<_>>()?;
    let count = levels.len();
    let Some(last) = levels.last_mut() else {
        reader.missing(profile, "level", "one [[profile.level]] or more");
        return None;
    };
    if let Some(text) = &overrides.depth {
        let depth = overridden(reader, &profile.name, "depth", &DEPTH, text, "--depth")?;
        if count > 1 {
            let message =
                format!("`--depth` cannot say which of the plan's {count} levels it means");
            reader.refuse(
                &profile.name,
                &depth,
                message,
                "--depth for a plan with one level; otherwise change the file",
            );
            return None;
        }
        last.value.depth = Depth::from_m(depth.value);
        last.at = depth.at;
        last.key = "depth";
    }
    if let Some(text) = &overrides.bottom_time {
        let option = "--bottom-time";
        let time = overridden(
            reader,
            &profile.name,
            "bottom_time",
            &LEVEL_TIME,
            text,
            option,
        )?;
        cut_or_stretch(&mut levels, &time);
    }
    Some(levels)
}

/// Ends the profile at a bottom time: in the level where it falls, or in the last one, stretched.
/// Later levels are dropped.
fn cut_or_stretch(levels: &mut Levels, bottom_time: &Given<f64>) {
    let mut start = Time::from_min(0.0);
    let count = levels.len();
    for index in 0..count {
        let left = Time::from_min(bottom_time.value) - start;
        let level = &mut levels[index];
        let time = level.value.time;
        if index + 1 == count || !left.is_over(time) {
            level.value.time = left;
            level.at = bottom_time.at.clone();
            level.key = "bottom_time";
            levels.truncate(index + 1);
            return;
        }
        start = start + time;
    }
}

/// A level must last at least as long as the travel to it.
pub(super) fn check_travel(
    reader: &mut Reader,
    levels: &Levels,
    descent_rate: Speed,
    ascent_rate: Speed,
) {
    let mut from = Depth::from_m(0.0);
    let mut start = Time::from_min(0.0);
    for (index, level) in levels.iter().enumerate() {
        let time = level.value.time;
        let travel = level_travel(from, level.value.depth, descent_rate, ascent_rate);
        if travel.is_over(time) {
            let table = match levels.len() {
                1 => "[profile]".to_owned(),
                _ => format!("[[profile.level]] {}", index + 1),
            };
            let message = format!(
                "{} min is too short: the travel to this depth alone takes {} min",
                short_down(time.as_min()),
                hundredths_up(travel.as_min())
            );
            let arrival = short_up((start + travel).as_min());
            let accepted = match level.key {
                // A bottom time counts from the surface, a level's time from the level before.
                // It may also end with the level before, if there is one.
                "bottom_time" if index > 0 => format!(
                    "at most {} min, or at least {arrival} min",
                    short_down(start.as_min())
                ),
                "bottom_time" => format!("at least {arrival} min"),
                "depth" => format!("a bottom time of at least {arrival} min"),
                _ => format!("at least {} min", short_up(travel.as_min())),
            };
            reader.refuse(&table, level, message, accepted);
        }
        start = start + time;
        from = level.value.depth;
    }
}
