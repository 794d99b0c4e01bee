//! The header of a table: which column says what, in which unit.

use crate::quantity::UnitSystem;

use super::log::RecordError;
use super::numbers::TimeForm;
use super::words::quoted;

/// What a header may look like, for messages.
pub(super) const ACCEPTED: &str = "a header with `time` (s, min, h, h:mm:ss or mm:ss) and \
    `depth` (m or ft), and if known `pressure` (bar or psi) and `gas`, as \
    time (s),depth (m),pressure (bar),gas";

/// What a column says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Column {
    Time(TimeForm),
    Depth(UnitSystem),
    Pressure(UnitSystem),
    Gas,
}

/// Which cell of a row says what.
#[derive(Clone, Copy, Debug)]
pub(super) struct Columns {
    pub(super) count: usize,
    pub(super) time: (usize, TimeForm),
    pub(super) depth: (usize, UnitSystem),
    pub(super) pressure: Option<(usize, UnitSystem)>,
    pub(super) gas: Option<usize>,
}

/// A comma, a semicolon or a tab: the one that the header has.
pub(super) fn separator(header: &str, line: u64) -> Result<u8, RecordError> {
    let has = |mark: &u8| header.as_bytes().contains(mark);
    let found: Vec<u8> = [b',', b';', b'\t'].into_iter().filter(has).collect();
    match found.as_slice() {
        [only] => Ok(*only),
        [] => {
            let message = format!("{} is no header of several columns", quoted(header));
            Err(RecordError::new(Some(line), message, ACCEPTED))
        }
        _ => {
            let message = format!("the header {} mixes separators", quoted(header));
            let accepted = "commas, semicolons or tabs between the columns, one kind of them";
            Err(RecordError::new(Some(line), message, accepted))
        }
    }
}

/// Whether a line that reads like a header, sound or not, has a column of that name.
pub(super) fn names(wanted: &str, line: &str) -> bool {
    let mut cells = line.split([',', ';', '\t']);
    cells.any(|cell| name_and_unit(cell.trim().trim_matches('"')).0 == wanted)
}

impl Columns {
    /// From the cells of the header.
    pub(super) fn read<'a>(
        cells: impl Iterator<Item = &'a str>,
        line: u64,
    ) -> Result<Self, RecordError> {
        let (mut time, mut depth, mut pressure, mut gas) = (None, None, None, None);
        let mut count = 0;
        for (index, cell) in cells.enumerate() {
            count += 1;
            let is_second = match column(cell, line)? {
                Column::Time(form) => time.replace((index, form)).is_some(),
                Column::Depth(units) => depth.replace((index, units)).is_some(),
                Column::Pressure(units) => pressure.replace((index, units)).is_some(),
                Column::Gas => gas.replace(index).is_some(),
            };
            if is_second {
                let message = format!("{} is the second column of its kind", quoted(cell));
                let refused = RecordError::new(Some(line), message, "each column once");
                return Err(refused.about(name_and_unit(cell).0));
            }
        }
        let missing = |name: &str| {
            let message = format!("the header has no column `{name}`");
            RecordError::new(Some(line), message, ACCEPTED).about(name)
        };
        Ok(Self {
            count,
            time: time.ok_or_else(|| missing("time"))?,
            depth: depth.ok_or_else(|| missing("depth"))?,
            pressure,
            gas,
        })
    }
}

/// `Depth (m)`, `depth_m`, `depth [m]`, `depth m` as `depth` and `m`, in small letters.
fn name_and_unit(cell: &str) -> (String, String) {
    let cell = cell.trim().to_lowercase();
    let end = cell.find(|c: char| !c.is_alphabetic());
    let (name, rest) = cell.split_at(end.unwrap_or(cell.len()));
    let rest = rest.trim_start_matches([' ', '_']).trim_end();
    let bare = |open: char, close: char| rest.strip_prefix(open)?.strip_suffix(close);
    let unit = bare('(', ')').or_else(|| bare('[', ']')).unwrap_or(rest);
    (name.to_owned(), unit.trim().to_owned())
}

fn column(cell: &str, line: u64) -> Result<Column, RecordError> {
    let (name, unit) = name_and_unit(cell);
    let refuse = |message: String, accepted: &str| {
        let refused = RecordError::new(Some(line), message, accepted);
        Err(refused.about(name.as_str()))
    };
    let (column, units) = match name.as_str() {
        "time" => {
            let units = "`time (s)`, `time (min)`, `time (h)`, `time (h:mm:ss)` or `time (mm:ss)`";
            (time_form(&unit).map(Column::Time), units)
        }
        "depth" => {
            let column = system(&unit, "m", "ft").map(Column::Depth);
            (column, "`depth (m)` or `depth (ft)`")
        }
        "pressure" => {
            let column = system(&unit, "bar", "psi").map(Column::Pressure);
            (column, "`pressure (bar)` or `pressure (psi)`")
        }
        "gas" if unit.is_empty() => (Some(Column::Gas), ""),
        "gas" => {
            let message = format!("the column {} has a unit", quoted(cell));
            return refuse(
                message,
                "`gas`, and a gas as air, EAN32 or 18/45 in its cells",
            );
        }
        _ => {
            let message = if cell.trim().is_empty() {
                "a column has no name".to_owned()
            } else {
                format!("{} is no column that is known", quoted(cell))
            };
            let accepted = format!("{ACCEPTED}; no other column: take it out");
            return Err(RecordError::new(Some(line), message, accepted));
        }
    };
    match column {
        Some(column) => Ok(column),
        None if unit.is_empty() => {
            refuse(format!("the column {} has no unit", quoted(cell)), units)
        }
        None => {
            let found = format!("the unit of the column {} is not known", quoted(cell));
            refuse(found, units)
        }
    }
}

fn time_form(unit: &str) -> Option<TimeForm> {
    match unit {
        "s" => Some(TimeForm::Seconds),
        "min" => Some(TimeForm::Minutes),
        "h" => Some(TimeForm::Hours),
        "h:mm:ss" | "mm:ss" | "min:s" => Some(TimeForm::Clock),
        _ => None,
    }
}

fn system(unit: &str, metric: &str, imperial: &str) -> Option<UnitSystem> {
    if unit == metric {
        Some(UnitSystem::Metric)
    } else {
        (unit == imperial).then_some(UnitSystem::Imperial)
    }
}
