//! `hangbar limits`: no-stop limits over a range of depths.

use std::path::Path;

use hangbar::dive::{LimitCell, LimitColumn, LimitRow, limit_table};
use hangbar::plan::Plan;
use hangbar::plan_file::{Overrides, read_with};
use hangbar::quantity::show::{Show, hundredths_up, minutes_down};
use hangbar::quantity::{Depth, DepthChange, Pressure, UnitSystem};
use hangbar::report::CAUTIONS;
use serde::Serialize;

use crate::args::{LimitsArgs, TableFormat};
use crate::picture::{self, limits_chart};
use crate::screen::{Screen, cell};
use crate::{Outcome, Refusal, Status, read_plan, refused, wants_colour};

const MOST_ROWS: usize = 100;
const MOST_COLUMNS: usize = 8;
/// Width of the depths on the left, and of each column.
const DEPTH_WIDTH: usize = 10;
const COLUMN_WIDTH: usize = 13;

/// What is asked and what comes of it.
pub(crate) struct Limits {
    pub(crate) plan: Plan,
    pub(crate) units: UnitSystem,
    pub(crate) columns: Vec<LimitColumn>,
    pub(crate) rows: Vec<LimitRow>,
    oxygen_limit: Pressure,
}

pub(crate) fn run(args: LimitsArgs) -> Outcome {
    let origin = args
        .plan
        .clone()
        .unwrap_or_else(|| "the command line".into());
    let limits = match reckon(&args) {
        Ok(limits) => limits,
        Err(refusal) => return refused(&refusal, &origin),
    };
    let output = match args.shown.format {
        TableFormat::Text => {
            let screen =
                Screen::with_width(wants_colour(args.shown.color), args.shown.width.columns());
            Ok(limits.text(screen))
        }
        TableFormat::Csv => Ok(limits.csv()),
        TableFormat::Json => limits.json(),
    };
    picture::finish(output, Status::Go, &args.drawn, || limits_chart(&limits))
}

fn reckon(args: &LimitsArgs) -> Result<Limits, Refusal> {
    let plan = plan(args)?;
    let units = args.shown.units.map_or(plan.units(), Into::into);
    let (from, to, step) = match units {
        UnitSystem::Metric => (
            Depth::from_m(10.0),
            Depth::from_m(40.0),
            DepthChange::from_m(2.0),
        ),
        UnitSystem::Imperial => (
            Depth::from_ft(30.0),
            Depth::from_ft(130.0),
            DepthChange::from_ft(10.0),
        ),
    };
    let depths = depths(
        args.from.unwrap_or(from),
        args.to.unwrap_or(to),
        args.step.unwrap_or(step),
    )?;
    let gases = match args.gas.as_slice() {
        [] => vec![plan.rules().bottom_gas],
        gases => gases.to_vec(),
    };
    let factors = match args.factors.as_slice() {
        [] => vec![plan.rules().factors],
        factors => factors.to_vec(),
    };
    let each = gases.iter().flat_map(|gas| {
        factors.iter().map(|factors| LimitColumn {
            gas: *gas,
            factors: *factors,
        })
    });
    let columns: Vec<LimitColumn> = each.collect();
    if columns.len() > MOST_COLUMNS {
        let message = format!(
            "{} columns are asked for; at most {MOST_COLUMNS}",
            columns.len()
        );
        return Err(Refusal::Dive(message));
    }
    Ok(Limits {
        rows: limit_table(
            plan.rules(),
            &plan.start().tissues,
            &columns,
            &depths,
            args.oxygen_limit,
        )
        .map_err(|error| Refusal::Dive(error.to_string()))?,
        plan,
        units,
        columns,
        oxygen_limit: args.oxygen_limit,
    })
}

/// The plan that is named, or one with nothing in it but what must be.
fn plan(args: &LimitsArgs) -> Result<Plan, Refusal> {
    let overrides = Overrides {
        water: args.water.clone(),
        altitude: args.altitude.clone(),
        descent_rate: args.descent_rate.clone(),
        ascent_rate: args.ascent_rate.clone(),
        ..Overrides::default()
    };
    if let Some(path) = &args.plan {
        return read_plan(Path::new(path), &overrides);
    }
    // Metric rates whatever the units shown: a way of showing must not change a dive.
    let bare = "[profile]\ndepth = \"10 m\"\nbottom_time = \"60 min\"\n";
    read_with(bare, &overrides).map_err(Refusal::Plan)
}

fn depths(from: Depth, to: Depth, step: DepthChange) -> Result<Vec<Depth>, Refusal> {
    if from.as_m() > to.as_m() {
        return Err(Refusal::Option {
            option: "--from",
            message: "--from is deeper than --to".to_owned(),
            accepted: Some("a --from no deeper than --to".to_owned()),
        });
    }
    let mut depths = Vec::new();
    // Multiples, not sums; a hair beyond --to still counts.
    for index in 0..=MOST_ROWS {
        #[expect(clippy::cast_precision_loss, reason = "at most 100")]
        let depth = from + step * index as f64;
        if depth.is_below(to) {
            return Ok(depths);
        }
        depths.push(depth);
    }
    Err(Refusal::Option {
        option: "--step",
        message: format!("more than {MOST_ROWS} depths are asked for"),
        accepted: Some("a larger --step, or --from and --to closer together".to_owned()),
    })
}

impl Limits {
    /// The same limits at 120 depths between the first and the last, for a smooth curve.
    pub(crate) fn finely(&self) -> Vec<LimitRow> {
        const PIECES: u32 = 120;
        let Some((first, last)) = self.rows.first().zip(self.rows.last()) else {
            return Vec::new();
        };
        let span = last.depth - first.depth;
        let at = |piece: u32| first.depth + span * (f64::from(piece) / f64::from(PIECES));
        let depths: Vec<Depth> = (0..=PIECES).map(at).collect();
        // Depths between those of the table are none that it could refuse.
        limit_table(
            self.plan.rules(),
            &self.plan.start().tissues,
            &self.columns,
            &depths,
            self.oxygen_limit,
        )
        .unwrap_or_default()
    }

    /// `air 40/85`
    pub(crate) fn column_name(column: &LimitColumn) -> String {
        let pct = |factor: f64| format!("{}", (factor * 1000.0).round() / 10.0);
        let factors = &column.factors;
        format!(
            "{} {}/{}",
            column.gas,
            pct(factors.low()),
            pct(factors.high())
        )
    }

    fn text(&self, mut screen: Screen) -> String {
        let show = Show(self.units);
        let rules = self.plan.rules();
        screen.title(
            "",
            "No-stop limits in minutes (and the compartment that decides)",
        );
        let surface = rules.environment.surface().as_bar();
        screen.paragraph(&format!(
            "Surface {surface:.3} bar, {:.4} bar a metre; down {}, straight up {}. From clean \
             tissues, the descent included, rounded down; of the factors only the high one \
             decides.",
            rules.environment.bar_per_m(),
            show.vertical_speed(rules.descent_rate),
            show.vertical_speed(rules.ascent.rate),
        ));
        let abreast = (screen.width() - DEPTH_WIDTH) / COLUMN_WIDTH;
        for block in self.columns.chunks(abreast).enumerate() {
            self.block(&mut screen, block.0 * abreast, block.1);
        }
        screen.heading("Cautions");
        screen.paragraph(CAUTIONS);
        screen.finish()
    }

    fn block(&self, screen: &mut Screen, first: usize, columns: &[LimitColumn]) {
        let show = Show(self.units);
        let names: Vec<String> = columns
            .iter()
            .map(|column| format!("{:>COLUMN_WIDTH$}", Self::column_name(column)))
            .collect();
        screen.line("");
        screen.line(&format!("  depth   {}", names.join("")));
        for row in &self.rows {
            let cells = row.cells[first..first + columns.len()].iter();
            let cells: Vec<String> = cells
                .map(|cell| format!("{:>COLUMN_WIDTH$}", cell_words(cell)))
                .collect();
            let depth = format!("{:>7}", show.depth(row.depth));
            screen.line(&format!("{}   {}", cell(&depth, 7), cells.join("")));
        }
    }

    fn csv(&self) -> String {
        let mut csv = String::from(
            "depth_m,gas,gradient_low_pct,gradient_high_pct,no_stop_limit_min,compartment,po2_bar,state\n",
        );
        for record in self.records() {
            let number =
                |value: Option<f64>| value.map_or(String::new(), |value| value.to_string());
            csv.push_str(&format!(
                "{},{},{},{},{},{},{},{}\n",
                record.depth_m,
                record.gas,
                record.gradient_low_pct,
                record.gradient_high_pct,
                number(record.no_stop_limit_min),
                record
                    .compartment
                    .map_or(String::new(), |index| index.to_string()),
                record.po2_bar,
                record.state,
            ));
        }
        csv
    }

    fn json(&self) -> Result<String, serde_json::Error> {
        let document = Document {
            schema: "hangbar/limits/1",
            title: self.plan.title(),
            surface_bar: self.plan.rules().environment.surface().as_bar(),
            bar_per_m: self.plan.rules().environment.bar_per_m(),
            descent_m_per_min: self.plan.rules().descent_rate.as_m_min(),
            ascent_m_per_min: self.plan.rules().ascent.rate.as_m_min(),
            limits: self.records(),
        };
        let mut text = serde_json::to_string_pretty(&document)?;
        text.push('\n');
        Ok(text)
    }

    fn records(&self) -> Vec<Record> {
        let environment = &self.plan.rules().environment;
        let mut records = Vec::new();
        for row in &self.rows {
            for (column, cell) in self.columns.iter().zip(&row.cells) {
                let po2 = hangbar::site::oxygen_pressure(environment, column.gas, row.depth);
                let (state, limit, compartment) = match *cell {
                    LimitCell::OverOxygenLimit { .. } => ("over-oxygen-limit", None, None),
                    LimitCell::Unlimited => ("unlimited", None, None),
                    LimitCell::Minutes { time, leading } => {
                        ("limit", Some(time.as_min()), Some(leading + 1))
                    }
                };
                records.push(Record {
                    depth_m: row.depth.as_m(),
                    gas: column.gas.to_string(),
                    gradient_low_pct: column.factors.low() * 100.0,
                    gradient_high_pct: column.factors.high() * 100.0,
                    no_stop_limit_min: limit,
                    compartment,
                    po2_bar: po2.as_bar(),
                    state,
                });
            }
        }
        records
    }
}

/// `23 (4)`, `over 999`, `1.52 bar O2`
fn cell_words(cell: &LimitCell) -> String {
    match cell {
        LimitCell::OverOxygenLimit { po2 } => format!("O2 {} bar", hundredths_up(po2.as_bar())),
        LimitCell::Unlimited => "over 999".to_owned(),
        LimitCell::Minutes { time, leading } => {
            format!("{} ({})", minutes_down(*time), leading + 1)
        }
    }
}

#[derive(Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: Option<&'a str>,
    surface_bar: f64,
    bar_per_m: f64,
    descent_m_per_min: f64,
    ascent_m_per_min: f64,
    limits: Vec<Record>,
}

#[derive(Serialize)]
struct Record {
    depth_m: f64,
    gas: String,
    gradient_low_pct: f64,
    gradient_high_pct: f64,
    no_stop_limit_min: Option<f64>,
    compartment: Option<usize>,
    po2_bar: f64,
    state: &'static str,
}
