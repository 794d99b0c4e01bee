//! When a diver of a pencil log left the surface and was back, and how long that was.

use super::keys::{OwnKey, pencil as keys};
use super::reader::{Given, Reader, Table};
use crate::plan::TimeOfDay;
use crate::quantity::Time;

/// Minutes of a day.
const DAY_MIN: i64 = 24 * 60;
/// A dive past midnight is shorter than this many minutes; what is longer has its times swapped.
const LONGEST_PAST_MIDNIGHT: i64 = 6 * 60;
/// A run time and times of day, each read to the minute, differ by no more.
const READ_TO: Time = Time::from_min(1.0);

/// As far as they are known.
pub(super) struct Times {
    pub(super) time_in: Option<TimeOfDay>,
    pub(super) time_out: Option<TimeOfDay>,
    /// Written, or out less in.
    pub(super) run_time: Option<Time>,
}

pub(super) fn read(
    reader: &mut Reader,
    table: &Table<'_>,
    bottom_time: Option<&Given<f64>>,
) -> Times {
    let time_in = time_of_day(reader, table, &keys::TIME_IN);
    let time_out = time_of_day(reader, table, &keys::TIME_OUT);
    let both = time_in.as_ref().zip(time_out.as_ref());
    let by_the_clock = both.and_then(|(left, back)| between(reader, table, left, back));
    let written = reader.if_filled_in(table, &keys::RUN_TIME);
    let written = written.map(|given| given.map(Time::from_min));
    let bottom_time = bottom_time.map(|given| Time::from_min(given.value));
    match (&written, &by_the_clock) {
        (Some(written), clock) => {
            check_written(reader, table, written, bottom_time);
            if let Some(clock) = clock {
                check_against_clock(reader, table, written, clock.value);
            }
        }
        (None, Some(clock)) => check_clock(reader, table, clock, bottom_time),
        (None, None) => {}
    }
    Times {
        time_in: time_in.map(|given| given.value),
        time_out: time_out.map(|given| given.value),
        run_time: written.or(by_the_clock).map(|given| given.value),
    }
}

fn check_written(
    reader: &mut Reader,
    table: &Table<'_>,
    written: &Given<Time>,
    bottom_time: Option<Time>,
) {
    if bottom_time.is_some_and(|bottom_time| bottom_time.is_over(written.value)) {
        let message = format!(
            "`run_time` is {}, less than `bottom_time`, {}",
            table.written(keys::RUN_TIME.name),
            table.written(keys::BOTTOM_TIME.name)
        );
        let accepted = "at least `bottom_time`, and 24 h at most";
        reader.refuse(&table.name, written, message, accepted);
    }
}

fn check_against_clock(
    reader: &mut Reader,
    table: &Table<'_>,
    written: &Given<Time>,
    by_the_clock: Time,
) {
    let (longer, shorter) = (
        written.value.max(by_the_clock),
        written.value.min(by_the_clock),
    );
    if longer.is_over(shorter + READ_TO) {
        let message = format!(
            "`run_time` is {}, and from `time_in` to `time_out` it is {} min",
            table.written(keys::RUN_TIME.name),
            by_the_clock.as_min()
        );
        let accepted = "within a minute of each other, or one of the three left empty";
        reader.refuse(&table.name, written, message, accepted);
    }
}

fn check_clock(
    reader: &mut Reader,
    table: &Table<'_>,
    by_the_clock: &Given<Time>,
    bottom_time: Option<Time>,
) {
    if bottom_time.is_some_and(|bottom_time| bottom_time.is_over(by_the_clock.value)) {
        let message = format!(
            "from `time_in` to `time_out` it is {} min, less than `bottom_time`, {}",
            by_the_clock.value.as_min(),
            table.written(keys::BOTTOM_TIME.name)
        );
        let accepted = "at least `bottom_time` later than `time_in`";
        reader.refuse(&table.name, by_the_clock, message, accepted);
    }
}

fn time_of_day(reader: &mut Reader, table: &Table<'_>, key: &OwnKey) -> Option<Given<TimeOfDay>> {
    (!table.is_empty(key.name)).then(|| reader.time_of_day(table, key))?
}

/// How long after the one the other is, past midnight if need be; with the place of the other.
fn between(
    reader: &mut Reader,
    table: &Table<'_>,
    left: &Given<TimeOfDay>,
    back: &Given<TimeOfDay>,
) -> Option<Given<Time>> {
    let later = back.value.day_time_after(0);
    let minutes = later.minutes_since(left.value.day_time_after(0));
    let accepted = "a time of day after `time_in`, in 24 hours; past midnight within 6 h of it";
    let message = match minutes {
        1.. => return Some(lasting(back, minutes)),
        0 => format!("`time_out` is {}, the same as `time_in`", back.value),
        _ if minutes + DAY_MIN < LONGEST_PAST_MIDNIGHT => {
            return Some(lasting(back, minutes + DAY_MIN));
        }
        _ => format!(
            "`time_out` is {}, before `time_in`, {}: the two are probably swapped",
            back.value, left.value
        ),
    };
    reader.refuse(&table.name, back, message, accepted);
    None
}

#[expect(clippy::cast_precision_loss, reason = "minutes of a day")]
fn lasting(back: &Given<TimeOfDay>, minutes: i64) -> Given<Time> {
    back.clone().map(|_| Time::from_min(minutes as f64))
}
