//! Where things stand in a picture, in pixels.

mod boxes;
mod strokes;
mod words;

pub(super) use boxes::Rect;
pub(super) use strokes::{clipped, strokes};
pub(super) use words::{Ground, Placed, place, stack, width};
