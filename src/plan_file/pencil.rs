//! A pencil log: what each diver wrote down of one dive of a plan.

use super::keys::pencil as keys;
use super::lines::Lines;
use super::parsed::{parsed, plan_for_record, whole_file};
use super::pencil_times::{self, Times};
use super::problem::{Place, PlanErrors};
use super::reader::{Given, Reader, Table};
use crate::plan::Plan;
use crate::quantity::show::short_up;
use crate::quantity::{Depth, GaugePressure, Kind, Time, nearest};
use crate::record::PencilLog;

/// What is never known before the dive: where all of it is blank, nobody has filled anything in.
const WRITTEN_AFTER: [&str; 3] = [keys::GREATEST.name, keys::BOTTOM_TIME.name, keys::END.name];
/// What a line of a record looks like.
const TOML_ACCEPTED: &str = "lines as bottom_time = \"27 min\" under a [[diver]]: each key once, all \
                             text in quotes, every bracket and quote closed";
/// Nobody goes down at so many times the planned speed.
const FASTEST_DOWN: f64 = 3.0;

/// Reads what the divers of a plan wrote down of the dive, from the text of a file; in its order.
///
/// A key that may be left out may also be left empty. Unknown keys and divers, wrong units and
/// what contradicts itself are refused, and all of it is reported together.
///
/// # Errors
/// [`PlanErrors`] with every problem and its place in the text.
///
/// # Example
/// ```
/// let plan = hangbar::plan_file::read(
///     r#"
///     profile = { depth = "18 m", bottom_time = "40 min" }
///     [[diver]]
///     name = "Ines"
///     sac = "15 L/min"
///     cylinder = { size = "12 L", fill = "200 bar" }
///     "#,
/// )?;
/// let record = r#"
///     [[diver]]
///     name = "Ines"
///     greatest_depth = "17.5 m"
///     bottom_time = "38 min"
///     time_in = "09:40"
///     time_out = "10:26"
///     start_pressure = "200 bar"
///     end_pressure = "70 bar"
/// "#;
/// let logs = hangbar::plan_file::read_pencil(record, &plan)?;
/// assert_eq!(logs[0].run_time.map(|time| time.as_min()), Some(46.0));
///
/// let swapped = record.replace("70 bar", "210 bar");
/// let refused = hangbar::plan_file::read_pencil(&swapped, &plan).unwrap_err();
/// assert!(refused.to_string().contains("a cylinder swapped or refilled?"));
/// # Ok::<(), hangbar::plan_file::PlanErrors>(())
/// ```
pub fn read_pencil(text: &str, plan: &Plan) -> Result<Vec<PencilLog>, PlanErrors> {
    let (root, text) = parsed(text, TOML_ACCEPTED)?;
    if let Some(problem) = plan_for_record(root.get_ref()) {
        return Err(PlanErrors::new(text, problem));
    }
    if plan.divers().is_empty() {
        let message = "the plan has no [[diver]]: nobody's dive can be held against it";
        let problem = whole_file(message, "a plan with the divers who dived");
        return Err(PlanErrors::new(text, problem));
    }
    let mut reader = Reader::default();
    let root = reader.root(&root, &keys::RECORD);
    let logs = logs(&mut reader, &root, text, plan);
    let found = reader.into_found();
    if !found.is_empty() {
        return Err(PlanErrors::new(text, found));
    }
    // A table gives nothing only after it has said why.
    let incomplete = || whole_file("the record is incomplete", "a whole record");
    logs.ok_or_else(|| PlanErrors::new(text, incomplete()))
}

/// A log of each table; `None` only where a problem has been noted.
fn logs(reader: &mut Reader, root: &Table<'_>, text: &str, plan: &Plan) -> Option<Vec<PencilLog>> {
    let accepted = format!(
        "one [[diver]] for each who dived, with {}",
        keys::LOG.names().join(", ")
    );
    if !root.has(keys::DIVERS.name) {
        reader.missing(root, keys::DIVERS.name, accepted);
        return None;
    }
    let mut tables = reader.tables(root, &keys::DIVERS)?;
    if tables.is_empty() {
        let place = root.place_of(keys::DIVERS.name);
        reader.refuse_at(
            place,
            "",
            Some(keys::DIVERS.name),
            "0 dives are in the record",
            accepted,
            None,
        );
        return None;
    }
    if !reader.are_few(&mut tables, keys::DIVERS.kind.1) {
        return None;
    }
    let mut names: Vec<String> = Vec::new();
    let lines = Lines::new(text);
    let logs = tables.iter().map(|table| {
        let log = log(reader, table, &mut names, plan)?;
        let line = lines.line_of(table.span.start) as u64;
        Some(PencilLog { line, ..log })
    });
    logs.collect::<Vec<_>>().into_iter().collect()
}

fn log(
    reader: &mut Reader,
    table: &Table<'_>,
    names: &mut Vec<String>,
    plan: &Plan,
) -> Option<PencilLog> {
    let is_blank = |reader: &Reader, key: &str| {
        table.is_empty(key) || !table.has(key) && !reader.is_misspelled(table, key)
    };
    let is_untouched = WRITTEN_AFTER.iter().all(|key| is_blank(reader, key));
    if is_untouched && is_blank(reader, "name") {
        not_filled_in(reader, table, None);
        return None;
    }
    let name = name(reader, table, names, plan);
    if is_untouched {
        not_filled_in(reader, table, name.as_deref());
        return None;
    }
    let depth = reader.filled_in(table, &keys::GREATEST);
    let bottom_time = reader.filled_in(table, &keys::BOTTOM_TIME);
    check_way_down(
        reader,
        table,
        depth.as_ref().zip(bottom_time.as_ref()),
        plan,
    );
    let average = average_depth(reader, table, depth.as_ref());
    let Times {
        time_in,
        time_out,
        run_time,
    } = pencil_times::read(reader, table, bottom_time.as_ref());
    let start = reader.filled_in(table, &keys::START);
    let end = reader.filled_in(table, &keys::END);
    check_pressures(reader, table, start.as_ref().zip(end.as_ref()));
    let (depth, bottom_time) = (
        Depth::from_m(depth?.value),
        Time::from_min(bottom_time?.value),
    );
    let pressure = |given: Given<f64>| GaugePressure::from_bar(given.value);
    Some(PencilLog {
        run_time,
        time_in,
        time_out,
        average_depth: average,
        ..PencilLog::new(
            name?,
            (depth, bottom_time),
            (pressure(start?), pressure(end?)),
        )
    })
}

fn not_filled_in(reader: &mut Reader, table: &Table<'_>, name: Option<&str>) {
    let (message, who) = match name {
        Some(name) => (format!("{name}'s dive is not filled in"), name),
        None => ("this dive is not filled in".to_owned(), "the diver"),
    };
    let accepted = format!("fill it in, or take the table out if {who} did not dive");
    let place = Place::Span(table.span.clone());
    reader.refuse_at(place, &table.name, None, message, accepted, None);
}

/// Whose dive it is: somebody of the plan, and each once.
fn name(
    reader: &mut Reader,
    table: &Table<'_>,
    names: &mut Vec<String>,
    plan: &Plan,
) -> Option<String> {
    let team = || plan.divers().iter().map(|diver| diver.name.as_str());
    let accepted = format!(
        "a diver of the plan: {}",
        team().collect::<Vec<_>>().join(", ")
    );
    if table.is_empty(keys::NAME.name) {
        reader.refuse_empty(table, "name", accepted);
        return None;
    }
    if !table.has(keys::NAME.name) {
        reader.missing(table, keys::NAME.name, &accepted);
    }
    let given = reader.label(table, &keys::NAME)?;
    let name = &given.value;
    if !team().any(|known| known == name) {
        let message = format!("nobody in the plan is called \"{name}\"");
        let meant = nearest(name, team()).map(str::to_owned);
        reader.refuse_at(
            given.at,
            &table.name,
            Some(keys::NAME.name),
            message,
            accepted,
            meant,
        );
        return None;
    }
    if names.contains(name) {
        let message = format!("a dive of {name} is already in the record");
        reader.refuse(
            &table.name,
            &given,
            message,
            "each diver once: a record is of one dive",
        );
    }
    names.push(name.clone());
    Some(given.value)
}

/// The bottom time must be enough to get down at all.
fn check_way_down(
    reader: &mut Reader,
    table: &Table<'_>,
    down: Option<(&Given<f64>, &Given<f64>)>,
    plan: &Plan,
) {
    let Some((depth, bottom_time)) = down else {
        return;
    };
    let rate = plan.rules().descent_rate.as_m_min();
    let least = Time::from_min(depth.value / (FASTEST_DOWN * rate));
    if least.is_over(Time::from_min(bottom_time.value)) {
        let message = format!(
            "`bottom_time` is {}, too short to get down to {}",
            table.written(keys::BOTTOM_TIME.name),
            table.written(keys::GREATEST.name)
        );
        let accepted = format!(
            "at least {} min, which is going down at {FASTEST_DOWN} times the plan's {}",
            short_up(least.as_min()),
            Kind::VerticalSpeed.written(rate, plan.units())
        );
        reader.refuse(&table.name, bottom_time, message, accepted);
    }
}

fn average_depth(
    reader: &mut Reader,
    table: &Table<'_>,
    greatest: Option<&Given<f64>>,
) -> Option<Depth> {
    let given = reader.if_filled_in(table, &keys::AVERAGE)?;
    let average = Depth::from_m(given.value);
    if greatest.is_some_and(|greatest| average.is_below(Depth::from_m(greatest.value))) {
        let message = format!(
            "`average_depth` is {}, deeper than `greatest_depth`, {}",
            table.written(keys::AVERAGE.name),
            table.written(keys::GREATEST.name)
        );
        reader.refuse(
            &table.name,
            &given,
            message,
            "not deeper than `greatest_depth`",
        );
    }
    Some(average)
}

/// Something was breathed, and nothing filled.
fn check_pressures(
    reader: &mut Reader,
    table: &Table<'_>,
    pressures: Option<(&Given<f64>, &Given<f64>)>,
) {
    let Some((start, end)) = pressures else {
        return;
    };
    let [before, after] = [start, end].map(|given| GaugePressure::from_bar(given.value));
    if before.is_over(after) {
        return;
    }
    let (shown, start) = (
        table.written(keys::END.name),
        table.written(keys::START.name),
    );
    let message = if after.is_over(before) {
        format!(
            "`end_pressure` is {shown}, above `start_pressure`, {start}: a cylinder swapped or \
             refilled?"
        )
    } else {
        format!("`end_pressure` is {shown}, the same as `start_pressure`: nothing used?")
    };
    let accepted = "less than `start_pressure`, both of the one main cylinder";
    reader.refuse(&table.name, end, message, accepted);
}
