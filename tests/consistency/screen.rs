//! A screen taken apart, and its figures beside those of a document.

use hangbar::quantity::{CUBIC_FOOT_L, FOOT_M, PSI_BAR, UnitSystem};
use hangbar::report::{self, Block, Table};

use crate::cases::Wrong;

/// Part of a step by which a figure may be past a mark and still be that mark.
const NOISE: f64 = 1e-6;
/// No gauge shows more than so many of its steps: 600 bar, 9000 psi.
const BEYOND_BAR: f64 = 600.0;
const BEYOND_PSI: f64 = 9000.0;

/// A screen, its tables under the headings that they stand below.
pub(crate) struct Screen {
    pub(crate) tables: Vec<(String, Table)>,
    /// All that is no table, a line each.
    pub(crate) lines: Vec<String>,
}

impl Screen {
    pub(crate) fn of(report: &report::Report) -> Self {
        let mut screen = Self {
            tables: Vec::new(),
            lines: Vec::new(),
        };
        let plain = |text: &str| text.replace(report::NO_BREAK, " ");
        let mut under = String::new();
        for block in &report.blocks {
            match block {
                Block::Heading(text) => {
                    under.clone_from(text);
                    screen.lines.push(plain(text));
                }
                Block::Paragraph(text) => screen.lines.push(plain(text)),
                Block::Marked { mark, text, .. } => {
                    screen
                        .lines
                        .push(plain(&format!("{} {text}", mark.trim())).trim().to_owned());
                }
                Block::Table(table) => screen.tables.push((under.clone(), table.clone())),
                _ => {}
            }
        }
        screen
    }

    /// The table under a heading that begins so.
    pub(crate) fn table(&self, heading: &str) -> Option<&Table> {
        let mut tables = self.tables.iter();
        tables
            .find(|(under, _)| under.starts_with(heading))
            .map(|(_, table)| table)
    }

    /// The first line that has these words, behind them.
    pub(crate) fn after(&self, words: &str) -> Option<&str> {
        self.lines
            .iter()
            .find_map(|line| line.split_once(words))
            .map(|(_, rest)| rest)
    }

    pub(crate) fn has(&self, words: &str) -> bool {
        self.lines.iter().any(|line| line.contains(words))
    }
}

/// The cell of a row under a heading.
pub(crate) fn cell<'t>(table: &'t Table, row: &'t [String], heading: &str) -> &'t str {
    let mut columns = table.columns.iter();
    let index = columns.position(|column| column.heading.replace('\n', " ") == heading);
    let Some(index) = index else {
        panic!("no column {heading} in {:?}", table.columns);
    };
    &row[index]
}

/// Whether a figure is the first multiple of a step that is not less, or the last that is not more.
fn is_next(shown: &str, value: f64, step: f64, up: bool) -> bool {
    let Ok(shown) = shown.parse::<f64>() else {
        return false;
    };
    let on_step = (shown / step - (shown / step).round()).abs() < NOISE;
    let past = if up { shown - value } else { value - shown };
    on_step && (-step * NOISE..step).contains(&past)
}

/// What is said, beside what it is.
pub(crate) struct Check<'w> {
    pub(crate) units: UnitSystem,
    pub(crate) wrong: &'w mut Wrong,
    /// How many figures were looked at.
    pub(crate) count: u64,
}

impl Check<'_> {
    pub(crate) fn that(&mut self, holds: bool, what: impl FnOnce() -> String) {
        self.count += 1;
        if !holds {
            let units = self.units;
            self.wrong.push(format!("{} ({units:?})", what()));
        }
    }

    pub(crate) fn next(&mut self, what: &str, shown: &str, value: f64, step: f64, up: bool) {
        self.that(is_next(shown, value, step, up), || {
            format!("{what}: {shown} is shown for {value}, up: {up}")
        });
    }

    /// A pressure on a gauge, without its unit or with it.
    pub(crate) fn pressure(&mut self, what: &str, shown: &str, bar: f64, psi: bool, up: bool) {
        let (value, step, beyond) = if psi {
            (bar / PSI_BAR, 50.0, BEYOND_PSI)
        } else {
            (bar, 5.0, BEYOND_BAR)
        };
        let unit = if psi { " psi" } else { " bar" };
        let number = shown.strip_suffix(unit).unwrap_or(shown);
        if number.starts_with('>') {
            let right = up && value > beyond && number == format!(">{beyond}");
            self.that(right, || format!("{what}: {shown} for {value}"));
            return;
        }
        self.next(what, number, value, step, up);
    }

    /// A pressure that may be none any more.
    pub(crate) fn left(&mut self, what: &str, shown: &str, bar: Option<f64>, psi: bool) {
        match bar {
            Some(bar) => self.pressure(what, shown, bar, psi, false),
            None => self.that(shown == "empty" || shown == "nothing", || {
                format!("{what}: {shown}")
            }),
        }
    }

    /// A volume with its unit, on the diver's gauge or in the units of the screen.
    pub(crate) fn volume(
        &mut self,
        what: &str,
        shown: &str,
        litres: f64,
        imperial: bool,
        up: bool,
    ) {
        let (value, step, unit) = if imperial {
            (litres / CUBIC_FOOT_L, 0.1, " cuft")
        } else {
            (litres, 1.0, " L")
        };
        let Some(number) = shown.strip_suffix(unit) else {
            self.that(false, || format!("{what}: {shown}"));
            return;
        };
        self.next(what, number, value, step, up);
    }

    pub(crate) fn is_imperial(&self) -> bool {
        self.units == UnitSystem::Imperial
    }

    /// A depth with its unit.
    pub(crate) fn depth(&mut self, what: &str, shown: &str, metres: f64, up: bool) {
        let (value, step, unit) = if self.is_imperial() {
            (metres / FOOT_M, 1.0, " ft")
        } else {
            (metres, 0.1, " m")
        };
        let number = shown.strip_suffix(unit).unwrap_or("no depth");
        self.next(what, number, value, step, up);
    }

    /// Minutes and seconds.
    pub(crate) fn clock(&mut self, what: &str, shown: &str, minutes: f64, up: bool) {
        let seconds = shown.split_once(':').and_then(|(whole, seconds)| {
            let (whole, seconds): (f64, f64) = (whole.parse().ok()?, seconds.parse().ok()?);
            Some(whole * 60.0 + seconds)
        });
        let seconds = seconds.map_or_else(|| shown.to_owned(), |seconds| seconds.to_string());
        self.next(what, &seconds, minutes * 60.0, 1.0, up);
    }
}

/// The number that a text begins with, and what is behind it.
pub(crate) fn number(text: &str) -> (&str, &str) {
    let end = text
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(text.len());
    let digits = text[..end].trim_end_matches('.');
    (digits, &text[digits.len()..])
}

/// A quantity, number and unit, that a text begins with.
pub(crate) fn quantity(text: &str) -> &str {
    let (digits, rest) = number(text.trim_start_matches('>'));
    let unit = rest.trim_start().find(|c: char| !c.is_alphabetic());
    let unit = unit.unwrap_or(rest.trim_start().len());
    let from = text.len() - text.trim_start_matches('>').len();
    &text[..(from + digits.len() + (rest.len() - rest.trim_start().len()) + unit).min(text.len())]
}
