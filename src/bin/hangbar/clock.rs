//! Run times as times of day.

use hangbar::plan::{Plan, TimeOfDay};

/// The time of day at the splash, where the plan gives one.
#[derive(Clone, Copy)]
pub(crate) struct Clock(Option<TimeOfDay>);

impl Clock {
    pub(crate) const fn of(plan: &Plan) -> Self {
        Self(plan.splash)
    }

    pub(crate) const fn is_known(self) -> bool {
        self.0.is_some()
    }

    /// The time of day at a whole minute of run time, past midnight if need be.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a run time is some thousands of minutes at most and never negative"
    )]
    pub(crate) fn at(self, minute: f64) -> Option<TimeOfDay> {
        self.0.map(|splash| splash.after(minute as u32))
    }
}
