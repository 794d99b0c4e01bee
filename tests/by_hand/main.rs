//! When the dive does not go to plan, against figures worked out by hand.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod pencil;

mod blending;
mod clock;
mod covering;
mod current;
mod day_searches;
mod days;
mod debrief;
mod flying;
mod gauge;
mod hang;
mod late;
mod lost_gas;
mod lost_stage;
mod mass;
mod straight_up;
mod ties;
