//! Records as tables of text: a header line, then a row a reading.
//!
//! Commas, semicolons or tabs between cells, double quotes around them where need be; lines that
//! begin with `#` are comments, and `# diver: NAME` says whose the record is.

use std::io::Read;

use crate::letters::{composed, may_be_shown};
use crate::quantity::{Depth, GaugePressure, UnitSystem};
use crate::rules::ranges::LONGEST_NAME;
use crate::site::Mix;

use super::checks::{Said, Series, Shown};
use super::columns::{ACCEPTED, Columns, separator};
use super::log::{MOST_READINGS, ReadingFault, RecordError, SampledLog};
use super::numbers::{Numbers, TimeForm};
use super::stream::Bounded;
use super::words::quoted;

/// More cells than any record has, so that a header with too many can be told.
const MOST_CELLS: usize = 64;

/// Reads one diver's dive from a table: a list of one.
///
/// Columns `time`, `depth`, and where they are known `pressure` (gauge) and `gas`, in any order,
/// each with its unit in the header. A blank pressure is not known; a blank gas is the one before.
/// Memory stays small whatever is read.
///
/// # Errors
/// [`RecordError`] for the first line that cannot be used: an unknown column or unit, a cell that
/// is no plain number, times that do not grow, depths outside -1 m to 200 m, pressures outside
/// 0 to 450 bar, over 24 h, more than [`MOST_READINGS`] rows, no dive in it, or text that is none.
///
/// # Example
/// ```
/// use hangbar::record::read_csv;
/// let text = "# diver: Mara\ntime (min),depth (m)\n0,0\n2,18\n30,18\n33,0\n";
/// let logs = read_csv(text.as_bytes())?;
/// assert_eq!(logs[0].diver.as_deref(), Some("Mara"));
/// assert_eq!(logs[0].readings.len(), 4);
///
/// let refused = read_csv("time,depth (m)\n0,0\n".as_bytes()).unwrap_err();
/// assert_eq!(refused.to_string(), "line 1: the column `time` has no unit");
/// # Ok::<(), hangbar::record::RecordError>(())
/// ```
pub fn read_csv(input: impl Read) -> Result<Vec<SampledLog>, RecordError> {
    let mut lines = Bounded::lines(input);
    let mut bytes = Vec::new();
    let mut diver: Option<(u64, String)> = None;
    let mut table: Option<Table> = None;
    let mut is_empty = true;
    while let Some(line) = lines.next_line(&mut bytes)? {
        let text = text_of(&bytes, line)?;
        is_empty &= text.trim().is_empty();
        if text.trim().is_empty() {
            continue;
        }
        if let Some(comment) = text.trim_start().strip_prefix('#') {
            name_diver(&mut diver, comment, line)?;
            continue;
        }
        match &mut table {
            Some(table) => table.row(text, line)?,
            None => table = Some(Table::new(text, line)?),
        }
    }
    let Some(table) = table else {
        let what = if is_empty {
            "the file is empty"
        } else {
            "the file has comments alone"
        };
        return Err(RecordError::new(None, what, ACCEPTED));
    };
    let mut log = table.finish()?;
    log.diver = diver.map(|(_, name)| name);
    Ok(vec![log])
}

/// A line without its end.
fn text_of(bytes: &[u8], line: u64) -> Result<&str, RecordError> {
    let mark: &[u8] = if line == 1 { b"\xef\xbb\xbf" } else { b"" };
    let bytes = bytes.strip_prefix(mark).unwrap_or(bytes);
    let bytes = bytes.strip_suffix(b"\n").unwrap_or(bytes);
    let bytes = bytes.strip_suffix(b"\r").unwrap_or(bytes);
    let Ok(text) = std::str::from_utf8(bytes) else {
        let message = "the line is not text in UTF-8";
        return Err(RecordError::new(
            Some(line),
            message,
            "a file saved as UTF-8",
        ));
    };
    if text.contains('\r') {
        let message = "a carriage return stands in the line";
        let accepted = "lines that end with a line feed, or with both";
        return Err(RecordError::new(Some(line), message, accepted));
    }
    Ok(text)
}

/// `# diver: NAME`, once or always the same.
fn name_diver(
    diver: &mut Option<(u64, String)>,
    comment: &str,
    line: u64,
) -> Result<(), RecordError> {
    let Some((key, name)) = comment.split_once(':') else {
        return Ok(());
    };
    if !key.trim().eq_ignore_ascii_case("diver") {
        return Ok(());
    }
    let name = composed(name.trim());
    let fits = (1..=LONGEST_NAME).contains(&name.chars().count());
    if !fits || !name.chars().all(may_be_shown) {
        let message = format!("{} cannot be the name of a diver", quoted(&name));
        let accepted = format!(
            "1 to {LONGEST_NAME} characters, none of them a control character or one that nobody sees"
        );
        return Err(RecordError::new(Some(line), message, accepted));
    }
    match diver {
        Some((earlier, known)) if *known != name => {
            let known = quoted(known);
            let message = format!(
                "the diver is {}, and {known} on line {earlier}",
                quoted(&name)
            );
            Err(RecordError::new(Some(line), message, "one diver a file"))
        }
        Some(_) => Ok(()),
        None => {
            *diver = Some((line, name));
            Ok(())
        }
    }
}

/// A header and what its rows came to so far.
struct Table {
    cells: Cells,
    columns: Columns,
    numbers: Numbers,
    series: Series<Mix>,
}

impl Table {
    fn new(header: &str, line: u64) -> Result<Self, RecordError> {
        let separator = separator(header, line)?;
        let mut cells = Cells::new(separator);
        cells.split(header, line)?;
        let columns = Columns::read(cells.all(), line)?;
        let shown = Shown {
            in_seconds: columns.time.1 == TimeForm::Seconds,
            depth: columns.depth.1,
            pressure: columns.pressure.map_or(columns.depth.1, |(_, units)| units),
        };
        Ok(Self {
            cells,
            columns,
            numbers: Numbers::new(separator != b','),
            series: Series::new("the record".to_owned(), line, shown, MOST_READINGS),
        })
    }

    fn row(&mut self, text: &str, line: u64) -> Result<(), RecordError> {
        self.cells.split(text, line)?;
        self.check_count(line)?;
        let (cells, numbers) = (&self.cells, &mut self.numbers);
        let (index, form) = self.columns.time;
        let time = numbers.time(cells.get(index), form, line);
        let time = time.map_err(|refused| refused.about("time"))?;
        let (index, units) = self.columns.depth;
        let depth = numbers.signed(cells.get(index), line);
        let depth = depth.map_err(|refused| refused.about("depth"))?;
        let mut said = Said {
            time,
            depth: match units {
                UnitSystem::Metric => Depth::from_m(depth),
                UnitSystem::Imperial => Depth::from_ft(depth),
            },
            pressure: None,
            gas: None,
        };
        if let Some((index, units)) = self.columns.pressure
            && !cells.get(index).trim().is_empty()
        {
            let pressure = numbers.decimal(cells.get(index), line);
            let pressure = pressure.map_err(|refused| refused.about("pressure"))?;
            said.pressure = Some(match units {
                UnitSystem::Metric => GaugePressure::from_bar(pressure),
                UnitSystem::Imperial => GaugePressure::from_psi(pressure),
            });
        }
        if let Some(index) = self.columns.gas
            && !cells.get(index).trim().is_empty()
        {
            said.gas = Some(gas(cells.get(index), line)?);
        }
        if let Some(reading) = self.series.push(line, said)? {
            reading.gas = said.gas;
        }
        Ok(())
    }

    fn check_count(&self, line: u64) -> Result<(), RecordError> {
        let (found, wanted) = (self.cells.count, self.columns.count);
        if found == wanted {
            return Ok(());
        }
        let cells = if found == 1 { "cell" } else { "cells" };
        let message = format!("the row has {found} {cells}, the header {wanted}");
        let accepted = if found > wanted && self.cells.separator == b',' {
            "as many cells as the header has; a comma is the separator here and cannot be the \
             decimal mark too: write 12.5, or separate cells by semicolons"
        } else {
            "as many cells as the header has, a blank one where nothing is known"
        };
        Err(RecordError::new(Some(line), message, accepted))
    }

    fn finish(mut self) -> Result<SampledLog, RecordError> {
        if let Some(line) = self.numbers.first_comma() {
            self.series.note(ReadingFault::DecimalCommas { line });
        }
        self.series.finish()
    }
}

fn gas(cell: &str, line: u64) -> Result<Mix, RecordError> {
    cell.parse().map_err(|_| {
        let message = format!("{} is no gas", quoted(cell));
        let accepted = format!("{}, without the quotes", Mix::ACCEPTED);
        RecordError::new(Some(line), message, accepted).about("gas")
    })
}

/// The cells of one line, in room that is used again.
struct Cells {
    separator: u8,
    reader: csv_core::Reader,
    line: Vec<u8>,
    text: Vec<u8>,
    ends: [usize; MOST_CELLS],
    count: usize,
}

impl Cells {
    fn new(separator: u8) -> Self {
        Self {
            separator,
            reader: csv_core::ReaderBuilder::new().delimiter(separator).build(),
            line: Vec::new(),
            text: Vec::new(),
            ends: [0; MOST_CELLS],
            count: 0,
        }
    }

    /// Takes a line apart; a cell goes on over no line's end.
    fn split(&mut self, line: &str, number: u64) -> Result<(), RecordError> {
        use csv_core::ReadRecordResult::{OutputEndsFull, Record};
        self.line.clear();
        self.line.extend_from_slice(line.as_bytes());
        self.line.push(b'\n');
        // Taking quotes away makes a text shorter, never longer.
        self.text.resize(self.line.len(), 0);
        let (result, _, _, count) =
            self.reader
                .read_record(&self.line, &mut self.text, &mut self.ends);
        self.count = count;
        match result {
            Record => Ok(()),
            OutputEndsFull => {
                let message = format!("the line has {MOST_CELLS} cells or more");
                Err(RecordError::new(Some(number), message, ACCEPTED))
            }
            _ => {
                let message = "a quotation mark is opened and not closed on the line";
                let accepted = "cells in pairs of double quotes, or without any";
                Err(RecordError::new(Some(number), message, accepted))
            }
        }
    }

    fn get(&self, index: usize) -> &str {
        let begin = match index {
            0 => 0,
            _ => self.ends.get(index - 1).copied().unwrap_or_default(),
        };
        let end = self.ends.get(index).copied().unwrap_or_default();
        let cell = self.text.get(begin..end).unwrap_or_default();
        // Cells are cut at separators, so that they are text where the line is.
        std::str::from_utf8(cell).unwrap_or_default()
    }

    fn all(&self) -> impl Iterator<Item = &str> {
        (0..self.count).map(|index| self.get(index))
    }
}
