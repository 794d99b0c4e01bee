//! What a chart is made of.

use super::super::before::start_sentence;
use crate::briefing::Briefing;
use crate::finding::Verdict;
use crate::quantity::UnitSystem;
use crate::quantity::show::Show;

/// A chart: curves and marks over two axes with units in their titles.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// What is shown.
    pub title: String,
    /// What one must know to read it, and sources.
    pub caption: String,
    /// The axis from left to right.
    pub x: Axis,
    /// The axis from bottom to top, or downward.
    pub y: Axis,
    /// Curves and marks, in the order of the key.
    pub curves: Vec<Curve>,
    /// Words beside points.
    pub labels: Vec<Label>,
    /// A second plot under this one, over the same x axis; its title and caption are not shown.
    pub below: Option<Box<Chart>>,
}

impl Chart {
    /// The plots of it, from the top.
    pub fn plots(&self) -> impl Iterator<Item = &Self> {
        std::iter::once(self).chain(self.below.as_deref())
    }
}

/// An axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// What runs along it, and its unit.
    pub title: String,
    /// Where it begins.
    pub least: f64,
    /// Where it ends.
    pub greatest: f64,
    /// Whether it grows downward, as depth does.
    pub downward: bool,
    /// How its figures are written.
    pub ticks: Ticks,
}

/// How the figures of an axis are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ticks {
    /// As numbers.
    Numbers,
    /// Hours since midnight, as `09:40`.
    TimesOfDay,
}

/// A point in the units of the axes.
pub type Point = (f64, f64);

/// Points in order joined by a line, marks, or both.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Its words in the key.
    pub name: String,
    /// The points that the line joins.
    pub points: Vec<Point>,
    /// The line; `None` for marks alone.
    pub line: Option<Line>,
    /// The marks; `None` for a line alone.
    pub marks: Option<Marks>,
    /// Its shade.
    pub shade: Shade,
}

/// One shape at some points, which need not lie on the line that they belong to.
#[derive(Clone, Debug, PartialEq)]
pub struct Marks {
    /// The shape.
    pub mark: Mark,
    /// The points.
    pub at: Vec<Point>,
}

/// A line style.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// Without gaps.
    Solid,
    /// Long strokes.
    LongDash,
    /// Dots.
    Dots,
    /// Short strokes.
    ShortDash,
    /// A stroke and a dot in turn.
    DashDot,
    /// A stroke and two dots in turn.
    DashDotDot,
    /// Thinner than the others, for what a curve is held against.
    Thin,
    /// As [`Line::Thin`], dashed.
    ThinDash,
}

impl Line {
    /// Line styles in the order in which curves of one kind get them.
    pub(super) const EACH: [Self; 6] = [
        Self::Solid,
        Self::LongDash,
        Self::Dots,
        Self::ShortDash,
        Self::DashDot,
        Self::DashDotDot,
    ];
}

/// A shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A filled circle.
    Circle,
    /// A filled triangle.
    Triangle,
    /// Two lines slantwise.
    Cross,
    /// An open circle.
    Ring,
    /// An open square.
    Square,
    /// An open square on its corner.
    Diamond,
    /// Two lines upright.
    Plus,
    /// Three lines.
    Star,
}

/// Lines and marks tell curves apart; shades only help.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shade {
    /// The n-th of the curves of one kind.
    Curve(usize),
    /// What curves are held against.
    Grey,
}

/// Words that belong to a point; where exactly they stand is found out on drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The point.
    pub at: Point,
    /// The words.
    pub text: String,
    /// On which side of it.
    pub side: Side,
}

/// Where words stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Wherever there is room around the point.
    Around,
    /// In a column behind the right ends of the curves, in the order of their heights.
    End,
}

/// Characters of the plan's title in a picture's.
const TITLE_WIDTH: usize = 42;
/// Marks of the curves for which no line style is left, in their order.
const MARKS: [Mark; 3] = [Mark::Circle, Mark::Square, Mark::Diamond];

impl Curve {
    /// A line without marks.
    pub(super) fn line(
        name: impl Into<String>,
        points: Vec<Point>,
        line: Line,
        shade: Shade,
    ) -> Self {
        Self {
            name: name.into(),
            points,
            line: Some(line),
            marks: None,
            shade,
        }
    }

    /// The n-th curve of a kind: own line and shade, and where the lines are used up marks too.
    pub(super) fn nth(name: String, points: Vec<Point>, index: usize) -> Self {
        const POINTS_TO_A_MARK: usize = 10;
        let round = index / Line::EACH.len();
        let marks = round.checked_sub(1).map(|round| Marks {
            mark: MARKS[round % MARKS.len()],
            at: points.iter().copied().step_by(POINTS_TO_A_MARK).collect(),
        });
        Self {
            name,
            points,
            line: Some(Line::EACH[index % Line::EACH.len()]),
            marks,
            shade: Shade::Curve(index),
        }
    }

    /// Marks without a line.
    pub(super) fn marks(name: &str, at: Vec<Point>, mark: Mark, shade: Shade) -> Self {
        Self {
            name: name.to_owned(),
            points: Vec::new(),
            line: None,
            marks: Some(Marks { mark, at }),
            shade,
        }
    }
}

impl Label {
    /// Words around a point.
    pub(super) fn around(at: Point, text: impl Into<String>) -> Self {
        Self {
            at,
            text: text.into(),
            side: Side::Around,
        }
    }

    /// The name of a curve at its end; `None` for a curve without points.
    pub(super) fn at_end_of(points: &[Point], text: impl Into<String>) -> Option<Self> {
        points.last().map(|at| Self {
            at: *at,
            text: text.into(),
            side: Side::End,
        })
    }
}

/// The greatest height that a curve's line reaches.
pub(super) fn highest(curves: &[Curve]) -> f64 {
    let points = curves.iter().flat_map(|curve| &curve.points);
    points.fold(0.0_f64, |most, point| most.max(point.1))
}

/// The plan's title, cut to what a picture has room for.
pub(super) fn title_of(briefing: &Briefing) -> String {
    let title = briefing.plan.title().unwrap_or("Untitled dive");
    let title = short(title, TITLE_WIDTH);
    match briefing.verdict() {
        Verdict::NoGo => format!("{}: {title}", Verdict::NoGo.title()),
        Verdict::Go | Verdict::ScheduleOnly => title,
    }
}

/// A chart, and in its caption what the team starts with where that is not clean tissues.
pub(super) fn with_start(mut chart: Chart, briefing: &Briefing, units: UnitSystem) -> Chart {
    if let Some(start) = start_sentence(&briefing.plan, Show(units)) {
        chart.caption.push(' ');
        chart.caption.push_str(&start);
    }
    chart
}

/// A name cut to so many columns.
pub(super) fn short(name: &str, columns: usize) -> String {
    use textwrap::core::display_width;
    if display_width(name) <= columns {
        return name.to_owned();
    }
    let mut cut = String::new();
    for c in name.chars() {
        if display_width(&cut) + display_width(c.encode_utf8(&mut [0; 4])) >= columns {
            break;
        }
        cut.push(c);
    }
    cut + "…"
}
