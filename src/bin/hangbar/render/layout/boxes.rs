//! Boxes and straight pieces, in pixels.

use hangbar::report::chart::Point;

/// A box; `top` is less than `bottom`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::render) struct Rect {
    pub(in crate::render) left: f64,
    pub(in crate::render) top: f64,
    pub(in crate::render) right: f64,
    pub(in crate::render) bottom: f64,
}

impl Rect {
    pub(in crate::render) const fn around(at: Point, reach: f64) -> Self {
        Self {
            left: at.0 - reach,
            top: at.1 - reach,
            right: at.0 + reach,
            bottom: at.1 + reach,
        }
    }

    pub(in crate::render) const fn grown(self, by: f64) -> Self {
        Self {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    pub(in crate::render) fn holds(&self, other: &Self) -> bool {
        self.left <= other.left
            && other.right <= self.right
            && self.top <= other.top
            && other.bottom <= self.bottom
    }

    pub(in crate::render) fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    pub(in crate::render) const fn middle(&self) -> Point {
        (
            f64::midpoint(self.left, self.right),
            f64::midpoint(self.top, self.bottom),
        )
    }

    /// The point of the box that is nearest to another.
    pub(in crate::render) const fn nearest(&self, to: Point) -> Point {
        (
            to.0.clamp(self.left, self.right),
            to.1.clamp(self.top, self.bottom),
        )
    }

    /// How much of a straight piece lies inside.
    pub(in crate::render) fn length_inside(&self, from: Point, to: Point) -> f64 {
        clip(from, to, self).map_or(0.0, |(from, to, _)| distance(from, to))
    }
}

pub(in crate::render) fn distance(from: Point, to: Point) -> f64 {
    (to.0 - from.0).hypot(to.1 - from.1)
}

/// The part of a straight piece inside a box, and whether its end lies outside. (Liang and
/// Barsky's way: the shares of the piece at which it crosses each edge.)
pub(in crate::render) fn clip(
    from: Point,
    to: Point,
    inside: &Rect,
) -> Option<(Point, Point, bool)> {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (step, room) in [
        (-dx, from.0 - inside.left),
        (dx, inside.right - from.0),
        (-dy, from.1 - inside.top),
        (dy, inside.bottom - from.1),
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

/// Whether two straight pieces cross.
pub(in crate::render) fn cross(a: Point, b: Point, c: Point, d: Point) -> bool {
    let side = |p: Point, q: Point, r: Point| (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}
