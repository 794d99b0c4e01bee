//! A chart as SVG.

use hangbar::report::chart::{Axis, Chart, Curve, Line, Mark, Point, Shade, Side, Ticks};
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

use super::layout::{Ground, Placed, Rect, clipped, place, stack, strokes, width};

/// What rounding may leave of nothing.
const NOISE: f64 = 1e-9;

/// 16:10, for a projector.
const WIDTH: u32 = 1280;
const HEIGHT: u32 = 800;
/// A key of more rows makes the picture taller, so that the curves keep their room.
const KEY_ROWS_WITHIN: u32 = 6;
/// Height of the strip above the curves, for the title, and below, for caption and key.
const TITLE_HEIGHT: u32 = 56;
const KEY_ROW_HEIGHT: u32 = 32;
const CAPTION_ROW_HEIGHT: u32 = 28;
const MOST_KEY_COLUMNS: u32 = 3;
/// Left and right of key and caption.
const MARGIN: u32 = 40;
/// Between the title of the x axis and the key, and the key and the caption.
const GAP: u32 = 10;
/// Length of a line in the key, and from its start to the words.
const KEY_LINE: f64 = 76.0;
const KEY_WORDS: f64 = 90.0;

const FONT: &str = "sans-serif";
/// Heights of letters in the picture, px: to be read from the back of a room.
const TITLE_SIZE: f64 = 28.0;
const AXIS_SIZE: f64 = 26.0;
const TICK_SIZE: f64 = 24.0;
const KEY_SIZE: f64 = 24.0;
const LABEL_SIZE: f64 = 24.0;
const CAPTION_SIZE: f64 = 22.0;
/// The drawing library writes a size of 1 as 1/1.24 px.
const SIZE_OF_A_PIXEL: f64 = 1.24;
/// Reach of a mark, px.
const MARK: i32 = 9;

const INK: RGBColor = RGBColor(24, 24, 24);
const GRID: RGBColor = RGBColor(214, 214, 214);
const GREY: RGBColor = RGBColor(96, 96, 96);
/// From dark to lighter, so that they differ in grey too.
const SHADES: [RGBColor; 6] = [
    RGBColor(18, 38, 66),
    RGBColor(158, 62, 24),
    RGBColor(36, 122, 96),
    RGBColor(112, 78, 140),
    RGBColor(168, 120, 8),
    RGBColor(150, 40, 90),
];

type Area<'a> = DrawingArea<SVGBackend<'a>, plotters::coord::Shift>;
type Drawn = Result<(), Box<dyn std::error::Error>>;

/// The picture as text. Fails only where the drawing library does.
pub(crate) fn render(chart: &Chart) -> Result<String, String> {
    let mut text = String::new();
    draw(chart, &mut text).map_err(|error| format!("cannot draw the picture: {error}"))?;
    Ok(text)
}

fn font(size: f64, anchor: HPos) -> TextStyle<'static> {
    (FONT, size * SIZE_OF_A_PIXEL)
        .into_font()
        .color(&INK)
        .pos(Pos::new(anchor, VPos::Center))
}

fn draw(chart: &Chart, text: &mut String) -> Drawn {
    let room = f64::from(WIDTH - 2 * MARGIN);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "about a hundred"
    )]
    let caption = textwrap::wrap(&chart.caption, (room / width("m", CAPTION_SIZE)) as usize);
    let keyed: Vec<&Curve> = chart.plots().flat_map(|plot| &plot.curves).collect();
    let columns = key_columns(&keyed, room);
    let key_rows = u32::try_from(keyed.len())?.div_ceil(columns);
    let height = HEIGHT + KEY_ROW_HEIGHT * key_rows.saturating_sub(KEY_ROWS_WITHIN);
    let key_height = KEY_ROW_HEIGHT * key_rows;
    let below = 3 * GAP + key_height + CAPTION_ROW_HEIGHT * u32::try_from(caption.len())?;
    let root = SVGBackend::with_string(text, (WIDTH, height)).into_drawing_area();
    root.fill(&WHITE)?;
    let centre = (i32::try_from(WIDTH / 2)?, i32::try_from(TITLE_HEIGHT / 2)?);
    let style = font(TITLE_SIZE, HPos::Center);
    root.draw(&Text::new(chart.title.as_str(), centre, style))?;
    let (_, rest) = root.split_vertically(TITLE_HEIGHT);
    let (plot, _) = rest.split_vertically(height - TITLE_HEIGHT - below);
    match &chart.below {
        None => draw_plot(chart, &root, &plot)?,
        Some(second) => {
            // The lower one has the figures and the title of the common axis beneath it.
            let share = (height - TITLE_HEIGHT - below) * 11 / 20;
            let (upper, lower) = plot.split_vertically(share);
            draw_plot(chart, &root, &upper)?;
            draw_plot(second, &root, &lower)?;
        }
    }
    let key_top = height - below + GAP;
    draw_key(&keyed, &root, key_top, columns)?;
    let style = font(CAPTION_SIZE, HPos::Left);
    for (row, line) in caption.iter().enumerate() {
        let row = CAPTION_ROW_HEIGHT * u32::try_from(row)? + CAPTION_ROW_HEIGHT / 2;
        let y = key_top + key_height + GAP + row;
        let at = (i32::try_from(MARGIN)?, i32::try_from(y)?);
        root.draw(&Text::new(line.to_string(), at, style.clone()))?;
    }
    root.present()?;
    Ok(())
}

/// As many columns as the longest name leaves room for.
fn key_columns(curves: &[&Curve], room: f64) -> u32 {
    let names = curves.iter().map(|curve| width(&curve.name, KEY_SIZE));
    let longest = names.fold(0.0, f64::max) + KEY_WORDS + f64::from(GAP);
    let fits = |columns: &u32| longest * f64::from(*columns) <= room;
    (1..=MOST_KEY_COLUMNS).rev().find(fits).unwrap_or(1)
}

/// Where a value of an axis is drawn: what grows downward is drawn as its negative.
fn placed(axis: &Axis, value: f64) -> f64 {
    if axis.downward { -value } else { value }
}

fn draw_plot(chart: &Chart, root: &Area<'_>, area: &Area<'_>) -> Drawn {
    let plane = Plane {
        x: &chart.x,
        y: &chart.y,
        frame: draw_axes(chart, area)?,
    };
    let mut curves: Vec<Vec<Point>> = Vec::new();
    for curve in &chart.curves {
        let Some(line) = curve.line else { continue };
        for run in clipped(&curve.points, plane.x, plane.y) {
            let run: Vec<Point> = run.into_iter().map(|at| plane.pixel(at)).collect();
            draw_line(root, &run, line, shade(curve))?;
            curves.push(run);
        }
    }
    let mut marks = Vec::new();
    for curve in &chart.curves {
        for (mark, at) in curve
            .marks
            .iter()
            .flat_map(|m| m.at.iter().map(|at| (m.mark, *at)))
        {
            if plane.holds(at) {
                draw_mark(root, plane.pixel(at), mark, shade(curve))?;
                marks.push(Rect::around(plane.pixel(at), f64::from(MARK)));
            }
        }
    }
    draw_labels(chart, root, &plane, &curves, marks)
}

/// Axes, their figures and titles, and a grid; gives the frame in which the curves lie.
fn draw_axes(chart: &Chart, area: &Area<'_>) -> Result<Rect, Box<dyn std::error::Error>> {
    let (x, y) = (&chart.x, &chart.y);
    let (low, high) = ends(y);
    let mut plane = ChartBuilder::on(area)
        .margin_right(MARGIN)
        .margin_left(20)
        .x_label_area_size(80)
        .y_label_area_size(104)
        .build_cartesian_2d(x.least..x.greatest, low..high)?;
    plane
        .configure_mesh()
        // Long enough that the axes' first figures keep apart.
        .set_tick_mark_size(LabelAreaPosition::Bottom, 12)
        .x_desc(x.title.as_str())
        .y_desc(y.title.as_str())
        .x_labels(11)
        .y_labels(if area.dim_in_pixel().1 > HEIGHT / 2 {
            8
        } else {
            5
        })
        .x_label_formatter(&|value| tick(x, *value))
        .y_label_formatter(&|value| tick(y, value.abs()))
        .label_style((FONT, TICK_SIZE * SIZE_OF_A_PIXEL).into_font().color(&INK))
        .axis_desc_style((FONT, AXIS_SIZE * SIZE_OF_A_PIXEL).into_font().color(&INK))
        .axis_style(INK.stroke_width(2))
        .bold_line_style(GRID.stroke_width(1))
        .light_line_style(TRANSPARENT)
        .draw()?;
    let (across, down) = plane.plotting_area().get_pixel_range();
    Ok(Rect {
        left: f64::from(across.start),
        right: f64::from(across.end),
        top: f64::from(down.start),
        bottom: f64::from(down.end),
    })
}

/// The axes and the frame that they are drawn in.
struct Plane<'a> {
    x: &'a Axis,
    y: &'a Axis,
    frame: Rect,
}

impl Plane<'_> {
    /// Where a point is drawn.
    fn pixel(&self, point: Point) -> Point {
        let (x, frame) = (self.x, &self.frame);
        let (low, high) = ends(self.y);
        let share = (point.0 - x.least) / (x.greatest - x.least);
        let up = (placed(self.y, point.1) - low) / (high - low);
        (
            frame.left + share * (frame.right - frame.left),
            frame.bottom - up * (frame.bottom - frame.top),
        )
    }

    fn holds(&self, point: Point) -> bool {
        let within =
            |axis: &Axis, value| (axis.least - NOISE..=axis.greatest + NOISE).contains(&value);
        within(self.x, point.0) && within(self.y, point.1)
    }
}

/// The lowest and the highest value of an upright axis, as they are drawn.
const fn ends(axis: &Axis) -> (f64, f64) {
    if axis.downward {
        (-axis.greatest, -axis.least)
    } else {
        (axis.least, axis.greatest)
    }
}

/// Words at the ends of curves first, then around points; neither on marks, and the latter off the
/// curves too.
fn draw_labels(
    chart: &Chart,
    root: &Area<'_>,
    plane: &Plane<'_>,
    curves: &[Vec<Point>],
    mut marks: Vec<Rect>,
) -> Drawn {
    let of = |side: Side| -> Vec<(Point, &str)> {
        let labels = chart.labels.iter().filter(|label| label.side == side);
        labels
            .map(|label| (plane.pixel(label.at), label.text.as_str()))
            .collect()
    };
    let behind = of(Side::End);
    let stacked = stack(&behind, LABEL_SIZE, &plane.frame);
    marks.extend(stacked.iter().map(|words| words.at));
    let around = of(Side::Around);
    let ground = Ground {
        frame: plane.frame,
        curves,
        marks: &marks,
    };
    let beside = place(&around, LABEL_SIZE, &ground);
    for ((at, text), words) in behind.iter().zip(stacked) {
        draw_label(root, *at, text, &words, HPos::Left)?;
    }
    for ((at, text), words) in around.iter().zip(beside) {
        draw_label(root, *at, text, &words, HPos::Center)?;
    }
    Ok(())
}

/// Words in their place, with a line to their point where they are far off.
fn draw_label(root: &Area<'_>, at: Point, text: &str, words: &Placed, anchor: HPos) -> Drawn {
    if let Some(end) = words.leader {
        let leader = vec![whole(at), whole(end)];
        root.draw(&PathElement::new(leader, INK.stroke_width(1)))?;
    }
    let middle = words.at.middle();
    let from = match anchor {
        HPos::Left => (words.at.left, middle.1),
        HPos::Center | HPos::Right => middle,
    };
    root.draw(&Text::new(text, whole(from), font(LABEL_SIZE, anchor)))?;
    Ok(())
}

/// A figure at a tick: as many decimals as it has, two at most; hours as the time of day.
fn tick(axis: &Axis, value: f64) -> String {
    match axis.ticks {
        Ticks::Numbers => format!("{}", (value * 100.0).round() / 100.0 + 0.0),
        Ticks::TimesOfDay => {
            let minutes = (value * 60.0).round().rem_euclid(24.0 * 60.0);
            format!("{:02.0}:{:02.0}", (minutes / 60.0).floor(), minutes % 60.0)
        }
    }
}

const fn shade(curve: &Curve) -> RGBColor {
    match curve.shade {
        Shade::Curve(index) => SHADES[index % SHADES.len()],
        Shade::Grey => GREY,
    }
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "within a picture of some thousand pixels"
)]
fn whole(at: Point) -> (i32, i32) {
    (at.0.round() as i32, at.1.round() as i32)
}

fn draw_line(area: &Area<'_>, path: &[Point], line: Line, shade: RGBColor) -> Drawn {
    let thickness = match line {
        Line::Thin | Line::ThinDash => 3,
        _ => 5,
    };
    for stroke in strokes(path, line) {
        let stroke: Vec<(i32, i32)> = stroke.into_iter().map(whole).collect();
        area.draw(&PathElement::new(stroke, shade.stroke_width(thickness)))?;
    }
    Ok(())
}

fn draw_mark(area: &Area<'_>, at: Point, mark: Mark, shade: RGBColor) -> Drawn {
    let at = whole(at);
    let line = shade.stroke_width(4);
    let path = |offsets: &[(i32, i32)]| {
        let points = offsets.iter().map(|(x, y)| (at.0 + x, at.1 + y));
        PathElement::new(points.collect::<Vec<_>>(), line)
    };
    match mark {
        Mark::Circle => area.draw(&Circle::new(at, MARK - 1, shade.filled()))?,
        Mark::Triangle => area.draw(&TriangleMarker::new(at, MARK + 2, shade.filled()))?,
        Mark::Cross => area.draw(&Cross::new(at, MARK, line))?,
        Mark::Ring => area.draw(&Circle::new(at, MARK, line))?,
        Mark::Square => {
            let r = MARK;
            area.draw(&path(&[
                (-r, -r),
                (r, -r),
                (r, r),
                (-r, r),
                (-r, -r),
                (r, -r),
            ]))?;
        }
        Mark::Diamond => {
            let r = MARK + 2;
            area.draw(&path(&[(0, -r), (r, 0), (0, r), (-r, 0), (0, -r), (r, 0)]))?;
        }
        Mark::Plus => {
            let r = MARK + 2;
            area.draw(&path(&[(-r, 0), (r, 0)]))?;
            area.draw(&path(&[(0, -r), (0, r)]))?;
        }
        Mark::Star => {
            let r = MARK + 1;
            area.draw(&path(&[(-r, 0), (r, 0)]))?;
            area.draw(&path(&[(-r / 2, -r), (r / 2, r)]))?;
            area.draw(&path(&[(-r / 2, r), (r / 2, -r)]))?;
        }
    }
    Ok(())
}

fn draw_key(curves: &[&Curve], area: &Area<'_>, top: u32, columns: u32) -> Drawn {
    let column_width = f64::from((WIDTH - 2 * MARGIN) / columns);
    for (index, curve) in curves.iter().copied().enumerate() {
        let index = u32::try_from(index)?;
        let left = f64::from(MARGIN) + f64::from(index % columns) * column_width;
        let row = index / columns;
        let middle = f64::from(top + row * KEY_ROW_HEIGHT + KEY_ROW_HEIGHT / 2);
        if let Some(line) = curve.line {
            let path = [(left, middle), (left + KEY_LINE, middle)];
            draw_line(area, &path, line, shade(curve))?;
        }
        if let Some(marks) = &curve.marks {
            draw_mark(
                area,
                (left + KEY_LINE / 2.0, middle),
                marks.mark,
                shade(curve),
            )?;
        }
        let style = font(KEY_SIZE, HPos::Left);
        let at = whole((left + KEY_WORDS, middle));
        area.draw(&Text::new(curve.name.clone(), at, style))?;
    }
    Ok(())
}
