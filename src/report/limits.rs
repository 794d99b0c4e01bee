//! No-stop limits over a range of depths: what is asked, what comes of it, and its words.

use super::before::Origin;
use super::sheet::{Air, CAUTIONS, Grid, GridColumn, Report, THIN_AIR};
use crate::dive::{
    BOUND_MIN, LimitCell, LimitColumn, LimitRow, PublishedLimit, limit_table, published_limits,
};
use crate::plan::{Arrival, Plan};
use crate::quantity::show::{Show, hundredths_up, minutes_down};
use crate::quantity::{Depth, DepthChange, Pressure, Speed, UnitSystem};
use crate::rules::{DiveRules, OutOfRange, Start};
use crate::site::{Environment, Mix, oxygen_pressure};
use crate::tissue::{GradientFactors, Tissues};

/// More depths than these are no table.
const MOST_ROWS: usize = 100;
/// More columns than these are none.
const MOST_COLUMNS: usize = 8;
/// Pieces between the depths of a smooth curve.
const PIECES: u32 = 120;
/// Characters of the depths and of the limits, at least.
const DEPTH_WIDTH: usize = 6;
const LIMIT_WIDTH: usize = 12;

/// What limits are asked for. Whatever is not asked for is the plan's, or the usual.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitsAsked {
    /// Gases side by side; if none, the plan's.
    pub gases: Vec<Mix>,
    /// Gradient factors side by side, for each gas; if none, the plan's.
    pub factors: Vec<GradientFactors>,
    /// Shallowest depth; usually 10 m or 30 ft.
    pub from: Option<Depth>,
    /// Deepest depth; usually 40 m or 130 ft.
    pub to: Option<Depth>,
    /// Depth between two rows; usually 2 m or 10 ft.
    pub step: Option<DepthChange>,
    /// Oxygen pressure above which a depth gets no number.
    pub oxygen_limit: Pressure,
}

/// Why there are no limits.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LimitsError {
    /// A depth or a rule that the model is not asked for.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The depths run the wrong way.
    #[error("the shallowest depth is deeper than the deepest")]
    FromBelowTo,
    /// A table of so many rows is none.
    #[error("more than {MOST_ROWS} depths are asked for")]
    TooManyDepths,
    /// A table of so many columns is none.
    #[error("{asked} columns are asked for; at most {MOST_COLUMNS}")]
    TooManyColumns {
        /// How many are asked for.
        asked: usize,
    },
}

/// No-stop limits side by side, and what they were worked out for.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitSheet {
    title: Option<String>,
    rules: DiveRules,
    start: Start,
    origin: Origin,
    columns: Vec<LimitColumn>,
    rows: Vec<LimitRow>,
    oxygen_limit: Pressure,
}

impl LimitSheet {
    /// Works out limits in the water and by the rates of a plan. The usual depths are round in the
    /// units that they are shown in.
    ///
    /// # Errors
    /// [`LimitsError`] where the shallowest depth is deeper than the deepest, or more than 100
    /// depths or 8 columns are asked for, or a depth is none to dive to.
    pub fn work_out(
        plan: &Plan,
        asked: &LimitsAsked,
        units: UnitSystem,
    ) -> Result<Self, LimitsError> {
        Ok(Self {
            title: plan.title().map(str::to_owned),
            origin: Origin::of(plan),
            ..Self::from_start(plan.rules(), *plan.start(), asked, units)?
        })
    }

    /// As [`LimitSheet::work_out`], where there is no plan: by rules, from clean tissues, or those
    /// of divers who have come from another altitude.
    ///
    /// # Errors
    /// As [`LimitSheet::work_out`].
    pub fn by_rules(
        rules: &DiveRules,
        arrival: Option<Arrival>,
        asked: &LimitsAsked,
        units: UnitSystem,
    ) -> Result<Self, LimitsError> {
        let start = match &arrival {
            Some(arrival) => arrival.at_the_site(rules),
            None => Start::clean(rules.environment.surface()),
        };
        Ok(Self {
            origin: Origin { arrival, dives: 0 },
            ..Self::from_start(rules, start, asked, units)?
        })
    }

    fn from_start(
        rules: &DiveRules,
        start: Start,
        asked: &LimitsAsked,
        units: UnitSystem,
    ) -> Result<Self, LimitsError> {
        let depths = asked.depths(units)?;
        let columns = asked.columns(rules)?;
        Ok(Self {
            title: None,
            rules: rules.clone(),
            rows: limit_table(rules, &start.tissues, &columns, &depths, asked.oxygen_limit)?,
            start,
            origin: Origin::default(),
            columns,
            oxygen_limit: asked.oxygen_limit,
        })
    }

    /// The same limits at 121 depths from the first to the last, for a smooth curve.
    #[must_use]
    pub fn finely(&self) -> Self {
        let mut fine = self.clone();
        if let Some((first, last)) = self.rows.first().zip(self.rows.last()) {
            let span = last.depth - first.depth;
            let at = |piece: u32| first.depth + span * (f64::from(piece) / f64::from(PIECES));
            let depths: Vec<Depth> = (0..=PIECES).map(at).collect();
            let oxygen = self.oxygen_limit;
            // Depths between those of the table: none that it would refuse.
            let start = &self.start.tissues;
            if let Ok(rows) = limit_table(&self.rules, start, &self.columns, &depths, oxygen) {
                fine.rows = rows;
            }
        }
        fine
    }

    /// The limits that somebody else has published and that may stand beside these: none unless
    /// these are from clean tissues. See [`published_limits`].
    #[must_use]
    pub fn published(&self) -> &'static [PublishedLimit] {
        if self.starts_clean() {
            published_limits(self.environment(), &self.columns)
        } else {
            &[]
        }
    }

    /// The plan's title.
    #[must_use]
    pub fn title(&self) -> Option<&str> {
        self.title.as_deref()
    }

    /// The divers on leaving the surface.
    #[must_use]
    pub const fn start(&self) -> &Start {
        &self.start
    }

    /// How they came, where they are not adapted to the pressure of the air.
    #[must_use]
    pub const fn arrival(&self) -> Option<&Arrival> {
        self.origin.arrival.as_ref()
    }

    /// Whether the tissues are as if nobody had dived before.
    pub(super) fn starts_clean(&self) -> bool {
        self.start.tissues == Tissues::clean(self.environment().surface())
    }

    /// From whose tissues the limits are, as it goes on behind "From".
    pub(super) fn start_words(&self, show: Show) -> String {
        self.origin.words(self.starts_clean(), show)
    }

    /// Water and air.
    #[must_use]
    pub const fn environment(&self) -> &Environment {
        &self.rules.environment
    }

    /// Speed on the way down.
    #[must_use]
    pub const fn descent_rate(&self) -> Speed {
        self.rules.descent_rate
    }

    /// Speed on the way up.
    #[must_use]
    pub const fn ascent_rate(&self) -> Speed {
        self.rules.ascent.rate
    }

    /// Oxygen pressure of a gas there.
    #[must_use]
    pub fn oxygen_pressure(&self, gas: Mix, depth: Depth) -> Pressure {
        oxygen_pressure(self.environment(), gas, depth)
    }

    /// Gases and gradient factors, side by side.
    #[must_use]
    pub fn columns(&self) -> &[LimitColumn] {
        &self.columns
    }

    /// The depths, each with a cell for every column.
    #[must_use]
    pub fn rows(&self) -> &[LimitRow] {
        &self.rows
    }
}

impl LimitsAsked {
    fn columns(&self, rules: &DiveRules) -> Result<Vec<LimitColumn>, LimitsError> {
        let plans = ([rules.bottom_gas], [rules.factors]);
        let gases = or_else(&self.gases, &plans.0);
        let factors = or_else(&self.factors, &plans.1);
        let asked = gases.len() * factors.len();
        if asked > MOST_COLUMNS {
            return Err(LimitsError::TooManyColumns { asked });
        }
        let columns = gases.iter().flat_map(|gas| {
            factors.iter().map(|factors| LimitColumn {
                gas: *gas,
                factors: *factors,
            })
        });
        Ok(columns.collect())
    }

    fn depths(&self, units: UnitSystem) -> Result<Vec<Depth>, LimitsError> {
        let ([from, to], step) = match units {
            UnitSystem::Metric => ([10.0, 40.0].map(Depth::from_m), DepthChange::from_m(2.0)),
            UnitSystem::Imperial => (
                [30.0, 130.0].map(Depth::from_ft),
                DepthChange::from_ft(10.0),
            ),
        };
        let from = self.from.unwrap_or(from);
        let to = self.to.unwrap_or(to);
        let step = self.step.unwrap_or(step);
        if from.as_m() > to.as_m() {
            return Err(LimitsError::FromBelowTo);
        }
        let mut depths = Vec::new();
        // Multiples, not sums; a hair beyond the deepest still counts.
        for index in 0..=MOST_ROWS {
            #[expect(clippy::cast_precision_loss, reason = "at most 100")]
            let depth = from + step * index as f64;
            if depth.is_below(to) {
                return Ok(depths);
            }
            depths.push(depth);
        }
        Err(LimitsError::TooManyDepths)
    }
}

/// What is asked for, or something else where nothing is.
fn or_else<'a, T>(asked: &'a [T], otherwise: &'a [T]) -> &'a [T] {
    if asked.is_empty() { otherwise } else { asked }
}

/// The limits in minutes, each with the compartment that decides.
#[must_use]
pub fn limits(sheet: &LimitSheet, units: UnitSystem) -> Report {
    let show = Show(units);
    let mut report = Report::default();
    report.title(
        "",
        "No-stop limits in minutes (and the compartment that decides)",
    );
    let surface = sheet.environment().surface().as_bar();
    report.paragraph(format!(
        "Surface {surface:.3} bar, {:.4} bar a metre; down {}, straight up {}. From {}, the \
         descent included, rounded down; of the factors only the high one decides.",
        sheet.environment().bar_per_m(),
        show.vertical_speed(sheet.descent_rate()),
        show.vertical_speed(sheet.ascent_rate()),
        sheet.start_words(show)
    ));
    if sheet.environment().is_at_altitude() && sheet.origin.arrival.is_none() {
        report.paragraph(
            "A site at altitude, and nobody says when the divers came: they are taken as adapted. \
             Who came up lately has shorter limits: `--arrived`, or `arrived` in [site], gives \
             them.",
        );
    }
    let depths = sheet.rows.iter().map(|row| show.depth(row.depth));
    let columns = sheet.columns.iter().enumerate();
    report.grid(Grid {
        leading: vec![GridColumn {
            heading: "depth".to_owned(),
            cells: depths.collect(),
            least_width: DEPTH_WIDTH,
        }],
        columns: columns
            .map(|(index, column)| GridColumn {
                heading: column_name(column),
                cells: cells(sheet, index),
                least_width: LIMIT_WIDTH,
            })
            .collect(),
        air: Air::Always(3),
    });
    report.heading("Cautions");
    if sheet.environment().is_at_altitude() {
        report.paragraph(THIN_AIR);
    }
    report.paragraph(CAUTIONS);
    report
}

fn cells(sheet: &LimitSheet, column: usize) -> Vec<String> {
    let rows = sheet.rows.iter();
    rows.map(|row| cell_words(&row.cells[column])).collect()
}

/// `air 40/85`
pub(super) fn column_name(column: &LimitColumn) -> String {
    let pct = |factor: f64| format!("{}", (factor * 1000.0).round() / 10.0);
    let factors = &column.factors;
    format!(
        "{} {}/{}",
        column.gas,
        pct(factors.low()),
        pct(factors.high())
    )
}

/// `23 (4)`, `over 999`, `O2 1.52 bar`
fn cell_words(cell: &LimitCell) -> String {
    match cell {
        LimitCell::OverOxygenLimit { po2 } => format!("O2 {} bar", hundredths_up(po2.as_bar())),
        LimitCell::Unlimited => format!("over {BOUND_MIN}"),
        LimitCell::Minutes { time, leading } => {
            format!("{} ({})", minutes_down(*time), leading + 1)
        }
    }
}
