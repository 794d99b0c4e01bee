//! `[profile]`: levels, what takes their place on the day, swimming in a current.

use super::keys::{QuantityKey, profile as keys, top};
use super::on_the_day::Overrides;
use super::problem::Place;
use super::reader::{Given, Reader, Table};
use crate::plan::SwimPlan;
use crate::quantity::show::{hundredths_up, short_down, short_up};
use crate::quantity::{Depth, Speed, Time};
use crate::rules::ranges::{BOTTOM_TIME, DEPTH, DESCENT_RATE, LEVEL_TIME, SWIM_SPEED};
use crate::rules::{DiveRules, Level, level_travel};

const PROFILE_LEVELS: &str = "[[profile.level]]";
/// What says where a dive goes.
fn wanted(list: &str) -> String {
    format!("`depth` and `bottom_time`, or one {list} or more")
}

/// Levels, each with the key and the place to blame should it be too short.
pub(super) type Levels = Vec<Given<Level>>;

pub(super) struct Profile {
    /// `None` where a problem has been noted.
    pub(super) levels: Option<Levels>,
    pub(super) descent_rate: Speed,
    pub(super) staged: bool,
    pub(super) swim: Option<SwimPlan>,
}

pub(super) fn read(
    reader: &mut Reader,
    root: &Table<'_>,
    standard: &DiveRules,
    current: Option<Speed>,
    overrides: &Overrides,
) -> Profile {
    let Some(table) = reader.section(root, &top::PROFILE_TABLE) else {
        let accepted = format!("a table [profile] with {}", wanted(PROFILE_LEVELS));
        if root.says_nothing() {
            let message = "the plan says nothing: `profile` is missing";
            let (place, key) = (
                root.place_of(top::PROFILE_TABLE.name),
                Some(top::PROFILE_TABLE.name),
            );
            reader.refuse_at(place, &root.name, key, message, accepted, None);
        } else if !root.has(top::PROFILE_TABLE.name) {
            reader.missing(root, top::PROFILE_TABLE.name, accepted);
        }
        return Profile {
            levels: None,
            descent_rate: standard.descent_rate,
            staged: false,
            swim: None,
        };
    };
    let rate = reader.quantity(&table, &keys::RATE_DOWN);
    let rate = descent_rate(reader, overrides, rate);
    let levels = levels(reader, &table, PROFILE_LEVELS, overrides);
    let staged = reader.flag(&table, &keys::STAGED);
    Profile {
        levels,
        descent_rate: rate.unwrap_or(standard.descent_rate),
        staged: staged.is_some_and(|given| given.value),
        swim: swim(reader, &table, current),
    }
}

/// The speed of the day, or the file's own where the day has none.
pub(super) fn descent_rate(
    reader: &mut Reader,
    overrides: &Overrides,
    own: Option<Given<f64>>,
) -> Option<Speed> {
    let rate = match overrides.descent_rate() {
        Some(given) => reader.read_quantity("[profile]", &given, &DESCENT_RATE),
        None => own,
    };
    rate.map(|given| Speed::from_m_min(given.value))
}

/// One level by its two keys, or a list of them; not both.
pub(super) fn levels(
    reader: &mut Reader,
    table: &Table<'_>,
    list: &str,
    overrides: &Overrides,
) -> Option<Levels> {
    let square = table.has(keys::ONE_DEPTH.name) || table.has(keys::BOTTOM_TIME.name);
    if square && table.has(keys::LEVEL.name) {
        reader.refuse_at(
            table.place_of(keys::LEVEL.name),
            &table.name,
            Some(keys::LEVEL.name),
            "`depth` or `bottom_time` is given, and levels too",
            wanted(list),
            None,
        );
        return None;
    }
    if table.has(keys::LEVEL.name) {
        let levels = listed_levels(reader, table, list)?;
        let levels = at_the_days_depth(reader, table, levels, overrides)?;
        left_at_the_days_time(reader, table, levels, overrides)
    } else {
        one_level(reader, table, overrides).map(|level| vec![level])
    }
}

/// `depth` and `bottom_time`, each from the override if there is one.
fn one_level(
    reader: &mut Reader,
    table: &Table<'_>,
    overrides: &Overrides,
) -> Option<Given<Level>> {
    let depth = or_instead(reader, table, &keys::ONE_DEPTH, overrides.depth());
    let instead = overrides.bottom_time();
    let time = or_instead(reader, table, &keys::BOTTOM_TIME, instead);
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

/// The file's own value is checked even where something else takes its place.
fn or_instead(
    reader: &mut Reader,
    table: &Table<'_>,
    key: &QuantityKey,
    instead: Option<Given<&str>>,
) -> Option<Given<f64>> {
    match instead {
        Some(given) => {
            reader.quantity(table, key);
            reader.read_quantity(&table.name, &given, key.kind)
        }
        None => reader.required(table, key),
    }
}

/// `[[profile.level]]`; never empty.
fn listed_levels(reader: &mut Reader, profile: &Table<'_>, list: &str) -> Option<Levels> {
    let mut tables = reader.tables(profile, &keys::LEVEL)?;
    if !reader.are_few(&mut tables, keys::LEVEL.kind.1) {
        return None;
    }
    let mut levels: Vec<Option<Given<Level>>> = Vec::new();
    for table in &tables {
        let depth = reader.required(table, &keys::LEVEL_DEPTH);
        let time = reader.required(table, &keys::STAY);
        levels.push(depth.zip(time).map(|(depth, time)| {
            time.map(|minutes| Level {
                depth: Depth::from_m(depth.value),
                time: Time::from_min(minutes),
            })
        }));
    }
    let levels: Levels = levels.into_iter().collect::<Option<_>>()?;
    if levels.is_empty() {
        let (place, key) = (profile.place_of(keys::LEVEL.name), Some(keys::LEVEL.name));
        let accepted = format!("one {list} or more");
        reader.refuse_at(
            place,
            &profile.name,
            key,
            "`level` is empty",
            accepted,
            None,
        );
        return None;
    }
    Some(levels)
}

/// The levels with the day's depth in place of that of the only one.
fn at_the_days_depth(
    reader: &mut Reader,
    profile: &Table<'_>,
    mut levels: Levels,
    overrides: &Overrides,
) -> Option<Levels> {
    let Some(given) = overrides.depth() else {
        return Some(levels);
    };
    let depth = reader.read_quantity(&profile.name, &given, &DEPTH)?;
    let [level] = levels.as_mut_slice() else {
        let count = levels.len();
        let message = format!("`--depth` cannot say which of the plan's {count} levels it means");
        let accepted = "--depth for a plan with one level; otherwise change the file";
        reader.refuse(&profile.name, &depth, message, accepted);
        return None;
    };
    level.value.depth = Depth::from_m(depth.value);
    level.at = depth.at;
    level.key = keys::ONE_DEPTH.name;
    Some(levels)
}

/// The levels up to the day's bottom time.
fn left_at_the_days_time(
    reader: &mut Reader,
    profile: &Table<'_>,
    mut levels: Levels,
    overrides: &Overrides,
) -> Option<Levels> {
    if let Some(given) = overrides.bottom_time() {
        let time = reader.read_quantity(&profile.name, &given, &LEVEL_TIME)?;
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
            level.key = keys::BOTTOM_TIME.name;
            levels.truncate(index + 1);
            return;
        }
        start = start + time;
    }
}

/// How the team swims in the current; all three keys go together.
fn swim(reader: &mut Reader, profile: &Table<'_>, current: Option<Speed>) -> Option<SwimPlan> {
    let speed = reader.quantity(profile, &keys::SWIM);
    let out = reader.word(profile, &keys::OUT);
    let (has_speed, has_out) = (profile.has(keys::SWIM.name), profile.has(keys::OUT.name));
    if (has_speed || has_out) && current.is_none() {
        let key = if has_speed {
            keys::SWIM.name
        } else {
            keys::OUT.name
        };
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
            keys::OUT.name,
            "\"with\" or \"against\": how the dive goes out in the current",
        );
    } else if has_out && !has_speed {
        reader.missing(profile, keys::SWIM.name, SWIM_SPEED.describe());
    }
    Some(SwimPlan {
        current: current?,
        swim: Speed::from_m_min(speed?.value),
        out: out?.value,
    })
}

/// A level must last at least as long as the travel to it, and all together no more than a dive may.
/// `single` is the table's name where there is one level, `list` that of several.
pub(super) fn check_times(
    reader: &mut Reader,
    levels: &Levels,
    (descent_rate, ascent_rate): (Speed, Speed),
    (single, list): (&str, &str),
) {
    let table_of = |index: usize| match levels.len() {
        1 => single.to_owned(),
        _ => format!("{list} {}", index + 1),
    };
    let mut from = Depth::from_m(0.0);
    let mut start = Time::from_min(0.0);
    for (index, level) in levels.iter().enumerate() {
        let time = level.value.time;
        let travel = level_travel(from, level.value.depth, descent_rate, ascent_rate);
        if travel.is_over(time) {
            let table = table_of(index);
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
        if !BOTTOM_TIME.contains(start.as_min()) {
            let table = table_of(index);
            let message = format!(
                "the bottom time comes to {} min by here",
                short_up(start.as_min())
            );
            let most = short_down(BOTTOM_TIME.greatest);
            let accepted = format!("at most {most} min, all levels together");
            reader.refuse(&table, level, message, accepted);
            return;
        }
    }
}
