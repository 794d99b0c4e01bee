//! An earlier dive as a plan file writes it.

use super::splice::Splices;
use crate::plan::EarlierDive;
use crate::quantity::show::minutes_down;
use crate::quantity::{Depth, FOOT_M, Speed, Time, UnitSystem};
use crate::rules::{Level, level_travel};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeArray, DeValue};

/// What stands above an earlier dive.
const SAID: &str = "# as it was dived";
/// This part of a step may a figure be past it: rounding noise.
const NOISE: f64 = 1e-9;
/// More levels than this have a line each.
const LEVELS_IN_A_LINE: usize = 2;

/// A dive with figures that a file writes in few digits: never shallower or shorter, and never a
/// longer surface interval.
pub(super) fn rounded(
    dive: &EarlierDive,
    units: UnitSystem,
    (down, up): (Speed, Speed),
) -> EarlierDive {
    let mut from = Depth::SURFACE;
    let levels = dive.levels.iter().map(|level| {
        let depth = depth_up(level.depth, units);
        // A level that has become deeper may take longer to come to.
        let travel = level_travel(from, depth, down, up);
        from = depth;
        Level {
            depth,
            time: tenth_up(level.time.max(travel)),
        }
    });
    EarlierDive {
        levels: levels.collect(),
        surface_interval: Time::from_min(minutes_down(dive.surface_interval)),
        ..dive.clone()
    }
}

/// Tenths of a metre or whole feet: as it is, where it is one of them, otherwise in the plan's units,
/// not less.
fn depth_up(depth: Depth, units: UnitSystem) -> Depth {
    let metres = Depth::from_m((depth.as_m() * 10.0 - NOISE).ceil() / 10.0);
    let feet = Depth::from_ft((depth.as_ft() - NOISE).ceil());
    let (own, other) = match units {
        UnitSystem::Metric => (metres, feet),
        UnitSystem::Imperial => (feet, metres),
    };
    if other.is_at(depth) && !own.is_at(depth) {
        other
    } else {
        own
    }
}

fn tenth_up(time: Time) -> Time {
    Time::from_min((time.as_min() * 10.0 - NOISE).ceil() / 10.0)
}

/// Text of a depth that has been rounded.
fn depth(depth: Depth) -> String {
    let tenths = (depth.as_m() * 10.0).round() / 10.0;
    if depth.is_at(Depth::from_m(tenths)) {
        quoted(&format!("{tenths} m"))
    } else {
        quoted(&format!("{} ft", (depth.as_m() / FOOT_M).round()))
    }
}

fn minutes(time: Time) -> String {
    quoted(&format!("{} min", (time.as_min() * 10.0).round() / 10.0))
}

/// A text in quotes, as TOML reads it.
pub(super) fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => quoted.extend(['\\', c]),
            c if c.is_control() => quoted.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    quoted
}

/// The keys and values of a rounded dive, in order.
fn entries(dive: &EarlierDive, line_end: Option<&str>) -> Vec<(&'static str, String)> {
    let mut entries = match dive.levels.as_slice() {
        [only] => vec![
            ("depth", depth(only.depth)),
            ("bottom_time", minutes(only.time)),
        ],
        levels => vec![("level", listed(levels, line_end))],
    };
    if let Some(gas) = dive.gas {
        entries.push(("gas", quoted(&gas.to_string())));
    }
    entries.push(("surface_interval", minutes(dive.surface_interval)));
    if let Some(divers) = &dive.divers {
        let names: Vec<String> = divers.iter().map(|name| quoted(name)).collect();
        entries.push(("divers", format!("[{}]", names.join(", "))));
    }
    entries
}

/// A list of levels: many on lines of their own, where there may be some.
fn listed(levels: &[Level], line_end: Option<&str>) -> String {
    let level = |level: &Level| {
        let (depth, time) = (depth(level.depth), minutes(level.time));
        format!("{{ depth = {depth}, time = {time} }}")
    };
    let levels: Vec<String> = levels.iter().map(level).collect();
    match line_end {
        Some(end) if levels.len() > LEVELS_IN_A_LINE => {
            let lines = levels.iter().map(|level| format!("    {level},{end}"));
            format!("[{end}{}]", lines.collect::<String>())
        }
        _ => format!("[{}]", levels.join(", ")),
    }
}

/// Writes dives as `[[before]]` tables at the end of the file, where they come after all others.
pub(super) fn append_tables(splices: &mut Splices<'_>, text: &str, dives: &[EarlierDive]) {
    let end = splices.line_end();
    let mut written = String::new();
    if !text.is_empty() && !text.ends_with('\n') {
        written.push_str(end);
    }
    for dive in dives {
        written.push_str(&format!("{end}{SAID}{end}[[before]]{end}"));
        for (key, value) in entries(dive, Some(end)) {
            written.push_str(&format!("{key} = {value}{end}"));
        }
    }
    splices.insert(text.len(), written);
}

/// Writes dives into a list of tables in brackets, `before = [{ … }]`, after those in it.
pub(super) fn append_items(
    splices: &mut Splices<'_>,
    text: &str,
    (place, list): (Range<usize>, &DeArray<'_>),
    dives: &[EarlierDive],
) {
    let end = splices.line_end();
    let closing = place.end - 1;
    let last = list.iter().next_back().map(Spanned::span);
    let after = last.as_ref().map_or(place.start + 1, |last| last.end);
    let tail = &text[after..closing];
    let has_lines = tail.contains('\n');
    let has_comma = tail.lines().any(|line| {
        line.split('#')
            .next()
            .is_some_and(|code| code.contains(','))
    });
    if last.is_some() && !has_comma {
        splices.insert(after, ",");
    }
    let mut written = String::new();
    for (index, dive) in dives.iter().enumerate() {
        let pairs = entries(dive, None)
            .into_iter()
            .map(|(key, value)| format!("{key} = {value}"));
        let item = format!("{{ {} }}", pairs.collect::<Vec<_>>().join(", "));
        if has_lines {
            written.push_str(&format!("    {SAID}{end}    {item},{end}"));
        } else {
            let between = if index > 0 { "," } else { "" };
            written.push_str(&format!("{between} {item}"));
        }
    }
    let indented = tail.len() - tail.trim_end_matches([' ', '\t']).len();
    let place = if has_lines {
        closing - indented
    } else {
        after + tail.trim_end().len()
    };
    splices.insert(place, written);
}

/// The list in which earlier dives stand, and where, if it is one in brackets after a key.
pub(super) fn list_of<'v, 't>(
    text: &str,
    value: &'v Spanned<DeValue<'t>>,
) -> Option<(Range<usize>, &'v DeArray<'t>)> {
    let array = value.get_ref().as_array()?;
    let first = array.iter().next();
    let is_in_brackets = first.is_none_or(|first| text[first.span()].starts_with('{'));
    is_in_brackets.then(|| (value.span(), array))
}
