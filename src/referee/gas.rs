//! Each diver's gas by the referee.

use super::body::Gas;
use super::course::{Leg, Rules, on_bottom_gas};
use super::court::{Court, Scales};
use super::dive::Flown;
use super::emergency::{Emergency, ends};
use super::evidence::Evidence;
use super::gas_limit;
use super::objection::{HAIR_L, Judged, Question, SHARE, near, same, sure};
use crate::gas::{DiverBudget, PonyBudget, PonyVerdict};
use crate::plan::{OutBound, ReserveRules, TurnRule};

pub(super) fn judge(rules: &Rules<'_>, evidence: &Evidence<'_>, flown: &Flown) -> Judged {
    let mut court = Court {
        rules,
        evidence,
        flown,
        ends: ends(rules, evidence, flown)?,
        left: Vec::new(),
        fillings: Vec::new(),
    };
    let plan = evidence.plan;
    let counts = [
        evidence.divers.len(),
        evidence.limits.len(),
        evidence.own.len(),
    ];
    let all = counts.iter().all(|count| *count == plan.divers().len());
    sure(Question::Gas, all, || {
        "not every diver has figures".to_owned()
    })?;
    for (index, said) in evidence.divers.iter().enumerate() {
        let scales = Scales::of(&mut court, index)?;
        judge_diver(&court, &scales, said)?;
        gas_limit::judge(&mut court, &scales, index)?;
    }
    Ok(())
}

/// Which share of the gas above the reserve goes out: the rule's; of who went out with a current and
/// must come back against it no more than `(v − c)/(2v)`.
fn share_out(reserve: &ReserveRules) -> f64 {
    let share: f64 = match reserve.turn {
        TurnRule::Half => 0.5,
        TurnRule::Third => 1.0 / 3.0,
        TurnRule::All => return 1.0,
    };
    match &reserve.swim {
        Some(swim) if swim.out == OutBound::With => {
            let (current, speed) = (swim.current.as_m_min(), swim.swim.as_m_min());
            share.min(((speed - current) / (2.0 * speed)).max(0.0))
        }
        _ => share,
    }
}

fn judge_diver(court: &Court<'_, '_>, scales: &Scales, said: &DiverBudget) -> Judged {
    let rules = court.rules;
    let name = &said.name;
    let litres = |what: &str, said: f64, found: f64| {
        let distance = scales.rounding(found);
        same(Question::Gas, said, found, distance, || {
            format!("{what} of {name}, litres")
        })
    };
    let bars = |what: &str, said: f64, found: f64| {
        near(Question::Gas, said, found, || {
            format!("{what} of {name}, bar")
        })
    };
    // The pressure at so many litres, but none below a least.
    let holding = |what: &str, said: f64, found_l: f64, least: f64| {
        let rounding = scales.rounding(found_l);
        let gauge = |litres: f64| scales.gauge(litres).max(least);
        let (low, high) = (gauge(found_l - rounding), gauge(found_l + rounding));
        let middle = f64::midpoint(low, high);
        let distance = (high - low).abs() / 2.0 + SHARE * middle.abs();
        same(Question::Gas, said, middle, distance, || {
            format!("{what} of {name}, bar")
        })
    };
    let nothing = f64::NEG_INFINITY;
    // An empty cylinder has no pressure.
    let left = |what: &str, said: Option<f64>, found_l: f64| match said {
        Some(said) => holding(what, said, found_l, nothing),
        None => sure(Question::Gas, found_l < HAIR_L, || {
            format!("{what} of {name}: {found_l} litres are left")
        }),
    };
    litres("contents", said.start.as_l(), scales.start_l)?;
    bars("fill", said.fill.as_bar(), scales.fill_bar)?;
    let last = court.flown.ends.last();
    let legs = last.map(|last| last.legs.as_slice()).unwrap_or_default();
    let whole = [legs, &court.flown.way_up].concat();
    let use_l = scales.own * on_bottom_gas(rules, &whole);
    litres("use", said.planned_use.as_l(), use_l)?;
    let bar = |pressure: Option<crate::quantity::GaugePressure>| pressure.map(|bar| bar.as_bar());
    left(
        "pressure at the surface",
        bar(said.end),
        scales.start_l - use_l,
    )?;
    if let Some((when, _)) = said.empty_at {
        let used = scales.own * used_until(rules, &whole, when.as_min());
        litres("use up to running out", used, scales.start_l)?;
    } else {
        sure(Question::Gas, use_l <= scales.start_l + HAIR_L, || {
            format!("{name} runs out")
        })?;
    }
    sure(Question::Gas, said.levels.len() == court.ends.len(), || {
        format!("not every level has its figures for {name}")
    })?;
    let mut reserve: f64 = 0.0;
    for (index, (said, end)) in said.levels.iter().zip(&court.ends).enumerate() {
        let is_last = index + 1 == court.ends.len();
        let need = scales.need(end, is_last);
        reserve = reserve.max(need);
        litres("reserve at a level's end", said.reserve.as_l(), need)?;
        litres(
            "trouble at a level's end",
            said.trouble.as_l(),
            scales.shared * end.emergency.full,
        )?;
        let minimum = said.minimum_gas.as_bar();
        holding("minimum at a level's end", minimum, need, scales.floor_bar)?;
        let contents = scales.start_l - scales.own * end.used;
        litres("contents at a level's end", said.contents.as_l(), contents)?;
        left("what is left at a level's end", bar(said.left), contents)?;
        let spare = scales.spare(end, is_last);
        litres(
            "what is to spare at a level's end",
            said.to_spare.as_l(),
            spare,
        )?;
    }
    litres("reserve", said.reserve.as_l(), reserve)?;
    let minimum = said.minimum_gas.as_bar();
    holding("minimum gas", minimum, reserve, scales.floor_bar)?;
    let kept = reserve.max(scales.floor_l);
    let turn_l = kept + (scales.start_l - kept) * (1.0 - share_out(court.evidence.plan.reserve()));
    holding("turn", said.turn.as_bar(), turn_l, nothing)?;
    let to_use = scales.start_l - turn_l;
    match said.turn_due {
        Some(due) if due.as_min() <= 0.0 => sure(Question::Gas, to_use < HAIR_L, || {
            format!("{name} need not turn at once")
        }),
        Some(due) => {
            let used = scales.own * used_until(rules, legs, due.as_min());
            litres("use up to the turn", used, to_use)
        }
        None => {
            let used = scales.own * on_bottom_gas(rules, legs);
            sure(Question::Gas, used <= to_use + HAIR_L, || {
                format!("{name} has to turn before the bottom is left")
            })
        }
    }?;
    if let Some((said, hang)) = said.hang.as_ref().zip(scales.hang) {
        litres("hang", said.takes.as_l(), scales.own * hang)?;
        let rest = scales.start_l - use_l - scales.own * hang;
        left("pressure after the hang", bar(said.left), rest)?;
    }
    sure(
        Question::Gas,
        said.hang.is_some() == scales.hang.is_some(),
        || format!("whether {name} has a hang"),
    )?;
    judge_stages(court, scales, said, &whole)?;
    sure(
        Question::Gas,
        said.pony.is_some() == scales.pony_l.is_some(),
        || format!("whether {name} has a pony"),
    )?;
    match said.pony.as_ref().zip(scales.pony_l) {
        Some((pony, have)) => judge_pony(court, scales, pony, have, name),
        None => Ok(()),
    }
}

fn judge_stages(
    court: &Court<'_, '_>,
    scales: &Scales,
    said: &DiverBudget,
    whole: &[Leg],
) -> Judged {
    let rules = court.rules;
    for stage in &said.stages {
        let gas = Gas::from(stage.gas);
        let legs = whole.iter().filter(|leg| leg.gas.is(gas));
        let drawn: f64 = legs.map(|leg| leg.exposure(rules)).sum();
        let carried = scales.stages.iter().filter(|(carried, _)| carried.is(gas));
        let have: f64 = carried.map(|(_, litres)| litres).sum();
        let pairs = [
            ("need", stage.need.as_l(), scales.alone * drawn),
            ("contents", stage.have.as_l(), have),
        ];
        for (what, said_l, found) in pairs {
            near(Question::Gas, said_l, found, || {
                format!(
                    "{what} of {} on the side of {}, litres",
                    stage.gas, said.name
                )
            })?;
        }
    }
    let breathed = whole.iter().filter(|leg| !leg.gas.is(rules.bottom));
    let mut unsaid = breathed.filter(|leg| {
        let mut stages = said.stages.iter();
        !stages.any(|stage| leg.gas.is(stage.gas.into()))
    });
    sure(Question::Gas, unsaid.next().is_none(), || {
        format!("a gas that {} breathes has no figures", said.name)
    })
}

fn judge_pony(
    court: &Court<'_, '_>,
    scales: &Scales,
    said: &PonyBudget,
    have: f64,
    name: &str,
) -> Judged {
    let worst = |of: fn(&Emergency) -> f64| {
        let ends = court.ends.iter().map(|end| of(&end.emergency));
        ends.fold(0.0, f64::max) * scales.alone
    };
    let (ascent, full) = (worst(|end| end.direct), worst(|end| end.full));
    let pairs = [
        ("straight ascent", said.need_ascent.as_l(), ascent),
        ("ascent with every stop", said.need_full.as_l(), full),
        ("contents", said.have.as_l(), have),
    ];
    for (what, said, found) in pairs {
        near(Question::Gas, said, found, || {
            format!("{what} of the pony of {name}, litres")
        })?;
    }
    let holds = match said.verdict {
        PonyVerdict::CoversAll => have >= full - HAIR_L,
        PonyVerdict::CoversAscentOnly => have < full + HAIR_L && have >= ascent - HAIR_L,
        PonyVerdict::Short => have < ascent + HAIR_L,
    };
    sure(Question::Gas, holds, || {
        format!("what the pony of {name} covers")
    })
}

/// Exposure to the bottom gas along legs up to a run time.
fn used_until(rules: &Rules<'_>, legs: &[Leg], run_min: f64) -> f64 {
    let begun = legs.iter().filter(|leg| leg.start_min < run_min);
    let cut = begun.map(|leg| {
        let share = ((run_min - leg.start_min) / leg.minutes()).min(1.0);
        Leg {
            to_m: leg.from_m + (leg.to_m - leg.from_m) * share,
            end_min: leg.start_min + leg.minutes() * share,
            ..*leg
        }
    });
    on_bottom_gas(rules, &cut.collect::<Vec<_>>())
}
