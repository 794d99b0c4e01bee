//! For how long gas lasts, by the referee.

use super::court::{Court, Left, Scales};
use super::emergency::End;
use super::objection::{HAIR_L, Judged, Question, sure};
use crate::gas::{BottomTimeLimit, LimitEnd};

/// Bottom times are looked at up to this, minutes.
const BOUND_MIN: u32 = 999;

pub(super) fn judge(court: &mut Court<'_, '_>, scales: &Scales, index: usize) -> Judged {
    let said = &court.evidence.limits[index];
    let name = &court.evidence.divers[index].name;
    judge_flip(
        court,
        &said.gas_limit,
        &format!("gas limit of {name}"),
        |before, here| {
            let before = before.iter().map(|end| scales.spare(end, false));
            before.fold(scales.spare(here, true), f64::min)
        },
    )?;
    sure(
        Question::GasLimit,
        said.pony_covers_until.is_some() == scales.pony_l.is_some(),
        || format!("whether {name} has a pony"),
    )?;
    let Some((until, have)) = said.pony_covers_until.as_ref().zip(scales.pony_l) else {
        return Ok(());
    };
    judge_flip(
        court,
        until,
        &format!("time that the pony of {name} covers"),
        |before, here| {
            let before = before.iter().map(|end| end.emergency.full);
            have - scales.alone * before.fold(here.emergency.full, f64::max)
        },
    )
}

/// A limit holds at its minute and fails where it is said to; what lies between is no end of a dive.
fn judge_flip(
    court: &mut Court<'_, '_>,
    said: &BottomTimeLimit,
    what: &str,
    spare_l: impl Fn(&[End], &End) -> f64,
) -> Judged {
    let mut spare_at = |minute: u32| match court.left_at(minute) {
        Left::At(level, here) => Ok(spare_l(&court.ends[..level], &here)),
        other => Err(other),
    };
    let object = |so: bool, why: &str, minute: u32| {
        sure(Question::GasLimit, so, || {
            format!(
                "{what}: {} min in the briefing, but {why} at {minute} min",
                said.minutes
            )
        })
    };
    let looked_at = said.minutes <= BOUND_MIN;
    object(looked_at, "nothing is looked at", said.minutes)?;
    if said.minutes > 0 {
        let holds = spare_at(said.minutes).is_ok_and(|spare| spare > -HAIR_L);
        object(holds, "it does not hold", said.minutes)?;
    }
    match said.ended_by {
        LimitEnd::Gas { at_min } => {
            let fails = spare_at(at_min).is_ok_and(|spare| spare < HAIR_L);
            object(fails && at_min > said.minutes, "it holds", at_min)?;
            between(&mut spare_at, said.minutes, at_min, &object)
        }
        LimitEnd::Schedule { at_min, .. } => {
            let stuck = matches!(spare_at(at_min), Err(Left::Stuck));
            object(stuck && at_min > said.minutes, "there is a way up", at_min)?;
            between(&mut spare_at, said.minutes, at_min, &object)
        }
        LimitEnd::Bound => between(&mut spare_at, said.minutes, BOUND_MIN + 1, &object),
    }
}

/// No dive ends between the minute up to which it holds and the one at which it fails; before the
/// first level none does.
fn between(
    spare_at: &mut impl FnMut(u32) -> Result<f64, Left>,
    from: u32,
    to: u32,
    object: &impl Fn(bool, &str, u32) -> Judged,
) -> Judged {
    (from + 1..to).try_for_each(|minute| {
        let travelling = matches!(spare_at(minute), Err(Left::Travelling));
        object(travelling, "nothing is known", minute)
    })
}
