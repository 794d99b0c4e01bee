//! A chart as SVG.

use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

use super::{Axis, Chart, Curve, Line, Mark, Side};

/// 16:10, for a projector.
const WIDTH: u32 = 1280;
const HEIGHT: u32 = 800;
/// Height of the strip above the curves, for the title, and below, for caption and key.
const TITLE_HEIGHT: u32 = 60;
const KEY_ROW_HEIGHT: u32 = 30;
const CAPTION_ROW_HEIGHT: u32 = 24;
const KEY_COLUMNS: usize = 3;
const CAPTION_CHARACTERS: usize = 150;
/// Between the title of the x axis and the key.
const GAP: u32 = 12;

const FONT: &str = "sans-serif";
const TITLE_SIZE: u32 = 30;
const AXIS_SIZE: u32 = 24;
const TICK_SIZE: u32 = 20;
const KEY_SIZE: u32 = 20;
const LABEL_SIZE: u32 = 18;
const CAPTION_SIZE: u32 = 17;

const INK: RGBColor = RGBColor(24, 24, 24);
const GRID: RGBColor = RGBColor(214, 214, 214);
/// From dark to lighter, so that they differ in grey too.
const SHADES: [RGBColor; 5] = [
    RGBColor(18, 38, 66),
    RGBColor(158, 62, 24),
    RGBColor(36, 122, 96),
    RGBColor(112, 78, 140),
    RGBColor(96, 96, 96),
];

type Area<'a> = DrawingArea<SVGBackend<'a>, plotters::coord::Shift>;

/// The picture as text. Fails only where the drawing library does.
pub(super) fn render(chart: &Chart) -> Result<String, String> {
    let mut text = String::new();
    draw(chart, &mut text).map_err(|error| format!("cannot draw the picture: {error}"))?;
    Ok(text)
}

fn draw(chart: &Chart, text: &mut String) -> Result<(), Box<dyn std::error::Error>> {
    let root = SVGBackend::with_string(text, (WIDTH, HEIGHT)).into_drawing_area();
    root.fill(&WHITE)?;
    let caption = textwrap::wrap(&chart.caption, CAPTION_CHARACTERS);
    let key_rows = chart.curves.len().div_ceil(KEY_COLUMNS);
    let below = KEY_ROW_HEIGHT * u32::try_from(key_rows)?
        + CAPTION_ROW_HEIGHT * u32::try_from(caption.len())?
        + GAP
        + 24;
    let (title, rest) = root.split_vertically(TITLE_HEIGHT);
    let (plot, foot) = rest.split_vertically(HEIGHT - TITLE_HEIGHT - below);
    let middle = (FONT, TITLE_SIZE)
        .into_font()
        .color(&INK)
        .pos(Pos::new(HPos::Center, VPos::Center));
    let centre = (i32::try_from(WIDTH / 2)?, i32::try_from(TITLE_HEIGHT / 2)?);
    title.draw(&Text::new(chart.title.as_str(), centre, middle))?;
    draw_plot(chart, &plot)?;
    draw_key(chart, &foot)?;
    let style = (FONT, CAPTION_SIZE).into_font().color(&INK);
    for (row, line) in caption.iter().enumerate() {
        let y = GAP + KEY_ROW_HEIGHT * u32::try_from(key_rows)? + 8;
        let y = y + CAPTION_ROW_HEIGHT * u32::try_from(row)?;
        foot.draw(&Text::new(
            line.to_string(),
            (40, i32::try_from(y)?),
            style.clone(),
        ))?;
    }
    root.present()?;
    Ok(())
}

/// Where a value of an axis is drawn: what grows downward is drawn as its negative.
fn placed(axis: &Axis, value: f64) -> f64 {
    if axis.downward { -value } else { value }
}

fn draw_plot(chart: &Chart, area: &Area<'_>) -> Result<(), Box<dyn std::error::Error>> {
    let (x, y) = (&chart.x, &chart.y);
    let (low, high) = if y.downward {
        (-y.greatest, -y.least)
    } else {
        (y.least, y.greatest)
    };
    let mut plane = ChartBuilder::on(area)
        .margin_right(40)
        .margin_left(20)
        .x_label_area_size(70)
        .y_label_area_size(90)
        .build_cartesian_2d(x.least..x.greatest, low..high)?;
    plane
        .configure_mesh()
        .x_desc(x.title.as_str())
        .y_desc(y.title.as_str())
        .x_labels(12)
        .y_labels(10)
        .x_label_formatter(&|value| tick(*value))
        .y_label_formatter(&|value| tick(value.abs()))
        .label_style((FONT, TICK_SIZE).into_font().color(&INK))
        .axis_desc_style((FONT, AXIS_SIZE).into_font().color(&INK))
        .axis_style(INK.stroke_width(2))
        .bold_line_style(GRID.stroke_width(1))
        .light_line_style(TRANSPARENT)
        .draw()?;
    for curve in &chart.curves {
        let (shade, width) = look(curve);
        let style = shade.stroke_width(width);
        for run in clipped(curve, x, y) {
            let points = run.into_iter().map(|(x, value)| (x, placed(y, value)));
            match curve.line {
                None => {}
                Some(Line::Solid | Line::Thin) => {
                    plane.draw_series(LineSeries::new(points, style))?;
                }
                Some(Line::LongDash) => {
                    plane.draw_series(DashedLineSeries::new(points, 16, 8, style))?;
                }
                Some(Line::ShortDash) => {
                    plane.draw_series(DashedLineSeries::new(points, 7, 6, style))?;
                }
                Some(Line::Dots) => {
                    plane.draw_series(DashedLineSeries::new(points, 2, 6, style))?;
                }
            }
        }
        if let Some(mark) = curve.mark {
            let marked = curve.points.iter().step_by(curve.mark_every.max(1));
            let inside = marked.filter(|point| is_inside(**point, x, y));
            for (at, value) in inside.copied() {
                let at = (at, placed(y, value));
                let filled = shade.filled();
                match mark {
                    Mark::Circle => plane.draw_series([Circle::new(at, 7, filled)])?,
                    Mark::Triangle => plane.draw_series([TriangleMarker::new(at, 10, filled)])?,
                    Mark::Cross => plane.draw_series([Cross::new(at, 8, shade.stroke_width(3))])?,
                    Mark::Ring => plane.draw_series([Circle::new(at, 7, shade.stroke_width(3))])?,
                };
            }
        }
    }
    for label in &chart.labels {
        let (anchor, offset) = match label.side {
            Side::Right => (HPos::Left, (10, 4)),
            Side::Left => (HPos::Right, (-12, 0)),
        };
        let style = (FONT, LABEL_SIZE)
            .into_font()
            .color(&INK)
            .pos(Pos::new(anchor, VPos::Center));
        let at = (label.at.0, placed(y, label.at.1));
        let text = EmptyElement::at(at) + Text::new(label.text.clone(), offset, style);
        plane.draw_series([text])?;
    }
    Ok(())
}

/// A figure at a tick: as many decimals as it has, two at most.
fn tick(value: f64) -> String {
    format!("{}", (value * 100.0).round() / 100.0 + 0.0)
}

fn look(curve: &Curve) -> (RGBColor, u32) {
    let width = match curve.line {
        Some(Line::Thin) => 2,
        _ => 4,
    };
    (SHADES[curve.shade % SHADES.len()], width)
}

fn is_inside(point: (f64, f64), x: &Axis, y: &Axis) -> bool {
    let within = |axis: &Axis, value| (axis.least - 1e-9..=axis.greatest + 1e-9).contains(&value);
    within(x, point.0) && within(y, point.1)
}

/// The runs of a curve that lie inside the axes, cut where they cross an edge.
fn clipped(curve: &Curve, x: &Axis, y: &Axis) -> Vec<Vec<(f64, f64)>> {
    let mut runs: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut run: Vec<(f64, f64)> = Vec::new();
    for pair in curve.points.windows(2) {
        match clip(pair[0], pair[1], x, y) {
            Some((from, to, leaves)) => {
                if run.is_empty() {
                    run.push(from);
                }
                run.push(to);
                if leaves {
                    runs.push(std::mem::take(&mut run));
                }
            }
            None if !run.is_empty() => runs.push(std::mem::take(&mut run)),
            None => {}
        }
    }
    if !run.is_empty() {
        runs.push(run);
    }
    runs
}

/// A point in the units of the axes.
type Point = (f64, f64);

/// The part of a straight piece inside the axes, and whether its end lies outside. (Liang and
/// Barsky's way: the shares of the piece at which it crosses each edge.)
fn clip(from: Point, to: Point, x: &Axis, y: &Axis) -> Option<(Point, Point, bool)> {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (step, room) in [
        (-dx, from.0 - x.least),
        (dx, x.greatest - from.0),
        (-dy, from.1 - y.least),
        (dy, y.greatest - from.1),
    ] {
        if step.abs() < 1e-15 {
            if room < 0.0 {
                return None;
            }
        } else if step < 0.0 {
            enter = enter.max(room / step);
        } else {
            leave = leave.min(room / step);
        }
    }
    let at = |share: f64| (from.0 + dx * share, from.1 + dy * share);
    (enter <= leave).then(|| (at(enter), at(leave), leave < 1.0))
}

fn draw_key(chart: &Chart, area: &Area<'_>) -> Result<(), Box<dyn std::error::Error>> {
    let column_width = (WIDTH - 80) / u32::try_from(KEY_COLUMNS)?;
    let text = (FONT, KEY_SIZE)
        .into_font()
        .color(&INK)
        .pos(Pos::new(HPos::Left, VPos::Center));
    for (index, curve) in chart.curves.iter().enumerate() {
        let column = u32::try_from(index % KEY_COLUMNS)?;
        let row = u32::try_from(index / KEY_COLUMNS)?;
        let left = i32::try_from(60 + column * column_width)?;
        let middle = i32::try_from(GAP + row * KEY_ROW_HEIGHT + KEY_ROW_HEIGHT / 2)?;
        let (shade, width) = look(curve);
        let style = shade.stroke_width(width);
        let dash = match curve.line {
            None => None,
            Some(Line::Solid | Line::Thin) => Some((60, 0)),
            Some(Line::LongDash) => Some((16, 8)),
            Some(Line::ShortDash) => Some((7, 6)),
            Some(Line::Dots) => Some((2, 6)),
        };
        if let Some((length, gap)) = dash {
            let mut start = 0;
            while start < 60 {
                let end = (start + length).min(60);
                let piece = vec![(left + start, middle), (left + end, middle)];
                area.draw(&PathElement::new(piece, style))?;
                start = end + gap;
            }
        }
        let at = (left + 30, middle);
        match curve.mark {
            None => {}
            Some(Mark::Circle) => area.draw(&Circle::new(at, 7, shade.filled()))?,
            Some(Mark::Triangle) => area.draw(&TriangleMarker::new(at, 10, shade.filled()))?,
            Some(Mark::Cross) => area.draw(&Cross::new(at, 8, shade.stroke_width(3)))?,
            Some(Mark::Ring) => area.draw(&Circle::new(at, 7, shade.stroke_width(3)))?,
        }
        area.draw(&Text::new(
            curve.name.clone(),
            (left + 72, middle),
            text.clone(),
        ))?;
    }
    Ok(())
}
