//! Gas by the referee: emergencies, and each diver's cylinders.

use super::ascent::{straight, straight_with_safety_stop, way_up};
use super::body::Gas;
use super::course::{Diving, Leg, Rules, on_bottom_gas};
use super::dive::{Flown, compare};
use super::evidence::Evidence;
use super::filling::Filling;
use super::objection::{Judged, Objection, Question, same, sure};
use crate::dive::SegmentKind;
use crate::gas::{BottomTimeLimit, DiverBudget, LevelEnd, LimitEnd, PonyBudget, PonyVerdict};
use crate::plan::{Diver, OutBound, ReserveRules, TurnRule};
use crate::site::{Cylinder, GasLaw};

/// Volumes and pressures agree to this share, and to so many litres or bar.
const SHARE: f64 = 1e-9;
/// Exposures agree to this share.
const LEAST: f64 = 1e-6;
/// Where the answer to a question hangs on less than this, litres, either is accepted.
const HAIR_L: f64 = 1e-6;
/// A pony is emptied down to this, bar.
const PONY_EMPTY_BAR: f64 = 10.0;
/// Bottom times are looked at up to this, minutes.
const BOUND_MIN: u32 = 999;

/// What an emergency at one moment exposes the main cylinder to, atm·min.
#[derive(Clone, Copy, Debug)]
struct Emergency {
    direct: f64,
    /// With every stop, or the least that counts.
    full: f64,
}

/// What leaving a level is judged by, atm·min.
#[derive(Clone, Copy, Debug)]
struct End {
    used: f64,
    emergency: Emergency,
    /// Of the planned way up.
    way_up: f64,
}

/// A dive that is left at some whole minute.
#[derive(Clone, Copy, Debug)]
enum Left {
    /// Between two levels.
    Travelling,
    /// There is no way up.
    Stuck,
    /// At a level: how many came before it, and its end.
    At(usize, End),
}

/// What is looked at.
struct Court<'e, 'r> {
    rules: &'r Rules<'r>,
    evidence: &'e Evidence<'e>,
    flown: &'r Flown,
    ends: Vec<End>,
    /// Dives left at other minutes.
    left: Vec<(u32, Left)>,
    /// Gases in cylinders.
    fillings: Vec<(Gas, Filling)>,
}

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
        judge_limits(&mut court, &scales, index)?;
    }
    Ok(())
}

/// The emergencies at the levels' ends, held against those of the briefing.
fn ends(rules: &Rules<'_>, evidence: &Evidence<'_>, flown: &Flown) -> Result<Vec<End>, Objection> {
    let counts = evidence.level_ends.len() == flown.ends.len();
    sure(Question::Emergency, counts, || {
        "not every level has an emergency".to_owned()
    })?;
    let sort_out_min = evidence.plan.reserve().sort_out.as_min();
    let planned = on_bottom_gas(rules, &flown.way_up);
    let ends = flown.ends.iter().zip(evidence.level_ends);
    ends.map(|(end, said)| {
        let used = on_bottom_gas(rules, &end.legs);
        near(Question::Emergency, said.used.as_atm_min(), used, || {
            format!("exposure up to leaving {} m", end.depth_m)
        })?;
        Ok(End {
            used,
            emergency: judge_emergency(rules, sort_out_min, end, said)?,
            way_up: planned,
        })
    })
    .collect()
}

fn judge_emergency(
    rules: &Rules<'_>,
    sort_out_min: f64,
    end: &Diving,
    said: &LevelEnd,
) -> Result<Emergency, Objection> {
    let stuck = |_| Objection {
        question: Question::Emergency,
        what: format!("there is no way up in an emergency at {} m", end.depth_m),
    };
    let found = emergency(rules, sort_out_min, end).map_err(stuck)?;
    let said = &said.emergency;
    let compare = |found: &[Leg], said, whereabouts| {
        compare(found, said, whereabouts).map_err(|objection| Objection {
            question: Question::Emergency,
            ..objection
        })
    };
    compare(
        &found.direct,
        &said.direct,
        "of the straight way up in an emergency",
    )?;
    compare(&found.full, &said.full, "of the way up in an emergency")?;
    sure(
        Question::Emergency,
        found.least.is_some() == said.least.is_some(),
        || "whether there is a least that counts".to_owned(),
    )?;
    if let Some((found, said)) = found.least.as_ref().zip(said.least.as_ref()) {
        compare(found, said, "of the least that counts in an emergency")?;
    }
    let taken = found.taken(rules);
    let pairs = [
        ("the straight way up", said.exposure.direct, taken.direct),
        ("the way up with every stop", said.exposure.full, taken.full),
    ];
    for (what, said, found) in pairs {
        near(Question::Emergency, said.as_atm_min(), found, || {
            format!("exposure of {what} from {} m", end.depth_m)
        })?;
    }
    Ok(taken)
}

/// The ways up of an emergency, the sort-out before each.
struct WaysUp {
    direct: Vec<Leg>,
    full: Vec<Leg>,
    least: Option<Vec<Leg>>,
}

impl WaysUp {
    fn taken(&self, rules: &Rules<'_>) -> Emergency {
        let of = |legs: &[Leg]| on_bottom_gas(rules, legs);
        let full = of(&self.full);
        Emergency {
            direct: of(&self.direct),
            full: self
                .least
                .as_ref()
                .map_or(full, |least| full.max(of(least))),
        }
    }
}

fn emergency(
    rules: &Rules<'_>,
    sort_out_min: f64,
    end: &Diving,
) -> Result<WaysUp, super::ascent::Stuck> {
    let mut sorted_out = Diving {
        gas: rules.bottom,
        ..end.resumed()
    };
    sorted_out.stay(rules, SegmentKind::Level, end.run_min + sort_out_min);
    let behind = |legs: Vec<Leg>| [sorted_out.legs.clone(), legs].concat();
    let least = !rules.decompression.is_empty();
    Ok(WaysUp {
        direct: behind(straight(rules, &sorted_out)),
        full: behind(way_up(rules, &sorted_out)?.legs),
        least: least.then(|| behind(straight_with_safety_stop(rules, &sorted_out))),
    })
}

impl Court<'_, '_> {
    /// The dive left at a whole minute.
    fn left_at(&mut self, minute: u32) -> Left {
        let known = self.left.iter().find(|(known, _)| *known == minute);
        if let Some((_, left)) = known {
            return *left;
        }
        let left = self.leave_at(f64::from(minute));
        self.left.push((minute, left));
        left
    }

    fn leave_at(&self, minute: f64) -> Left {
        let starts = self.flown.ends.iter().map(|end| end.run_min);
        let mut starts = std::iter::once(0.0).chain(starts);
        let levels = self.flown.arrivals.len();
        let begun = starts
            .by_ref()
            .take(levels)
            .take_while(|start| minute > start + 1e-9);
        let Some(level) = begun.count().checked_sub(1) else {
            return Left::Travelling;
        };
        let arrival = &self.flown.arrivals[level];
        if arrival.run_min > minute + 1e-9 {
            return Left::Travelling;
        }
        let mut diving = arrival.clone();
        diving.stay(self.rules, SegmentKind::Level, minute);
        let sort_out_min = self.evidence.plan.reserve().sort_out.as_min();
        let emergency = emergency(self.rules, sort_out_min, &diving);
        let planned = way_up(self.rules, &diving);
        let (Ok(emergency), Ok(planned)) = (emergency, planned) else {
            return Left::Stuck;
        };
        let end = End {
            used: on_bottom_gas(self.rules, &diving.legs),
            emergency: emergency.taken(self.rules),
            way_up: on_bottom_gas(self.rules, &planned.legs),
        };
        Left::At(level, end)
    }

    /// A gas in a litre of cylinder.
    fn filling(&mut self, gas: Gas) -> Filling {
        let known = self.fillings.iter().find(|(known, _)| known.is(gas));
        if let Some((_, filling)) = known {
            return filling.clone();
        }
        let plan = self.evidence.plan;
        let surface_bar = self.rules.surface_bar;
        let filling = match plan.gas_law() {
            GasLaw::Ideal => Filling::ideal(surface_bar),
            GasLaw::Real => Filling::real(gas, plan.site().temperature.as_kelvin(), surface_bar),
        };
        self.fillings.push((gas, filling.clone()));
        filling
    }

    /// Contents of a cylinder at a gauge pressure, free litres.
    fn contents(&mut self, cylinder: &Cylinder, gas: Gas, gauge_bar: f64) -> f64 {
        self.filling(gas).litres(gauge_bar) * cylinder.water.as_l()
    }
}

/// What one diver's gas is weighed with.
struct Scales {
    /// V̇, L/min.
    own: f64,
    /// In trouble, alone.
    alone: f64,
    /// In trouble, with the partner who breathes most.
    shared: f64,
    main: Filling,
    water_l: f64,
    fill_bar: f64,
    start_l: f64,
    floor_bar: f64,
    floor_l: f64,
    /// What the hang exposes to, atm·min.
    hang: Option<f64>,
    pony_l: Option<f64>,
    /// Each stage cylinder's gas and contents.
    stages: Vec<(Gas, f64)>,
}

impl Scales {
    fn of(court: &mut Court<'_, '_>, index: usize) -> Result<Self, Objection> {
        let plan = court.evidence.plan;
        let diver = &plan.divers()[index];
        let gas = Gas::from(plan.gas_of(index));
        let main = court.filling(gas);
        let water_l = diver.cylinder.water.as_l();
        let fill_bar = diver.cylinder.fill.as_bar();
        let floor_bar = plan.reserve().floor.as_bar();
        let stress = plan.reserve().stress;
        let own = diver.breathing.as_l_min();
        let partner = partner(plan.divers(), index);
        let said = court.evidence.divers[index].partner;
        let breathes = |partner: Option<usize>| {
            let partner = partner.and_then(|partner| plan.divers().get(partner));
            partner.map_or(0.0, |partner| partner.breathing.as_l_min())
        };
        // Of two who breathe alike either may be named.
        same(
            Question::Gas,
            breathes(said),
            breathes(partner),
            0.0,
            || format!("breathing of who shares the gas of {}", diver.name),
        )?;
        let pony = diver.pony.as_ref().zip(plan.pony_gas_of(index));
        let pony_l = pony.map(|(pony, gas)| {
            let mut contents = |bar| court.contents(&pony.cylinder, gas.into(), bar);
            let full = contents(pony.cylinder.fill.as_bar());
            (full - contents(PONY_EMPTY_BAR)).max(0.0)
        });
        let stages = diver.stages.iter().map(|stage| {
            let gas = Gas::from(stage.gas);
            let bar = stage.cylinder.fill.as_bar();
            (gas, court.contents(&stage.cylinder, gas, bar))
        });
        let stages = stages.collect();
        let hang = plan
            .reserve()
            .hang
            .as_ref()
            .map(|hang| court.rules.ambient(hang.depth.as_m()) / 1.013_25 * hang.time.as_min());
        Ok(Self {
            own,
            alone: own * stress,
            shared: (own + breathes(partner)) * stress,
            start_l: main.litres(fill_bar) * water_l,
            floor_l: main.litres(floor_bar) * water_l,
            main,
            water_l,
            fill_bar,
            floor_bar,
            hang,
            pony_l,
            stages,
        })
    }

    /// By how much two ways to so many litres may differ, as they are what is left of the fill.
    fn rounding(&self, litres: f64) -> f64 {
        SHARE * litres.abs().max(self.start_l) + LEAST
    }

    /// The gauge at so many litres.
    fn gauge(&self, litres: f64) -> f64 {
        self.main.gauge(litres / self.water_l)
    }

    /// What must be left where a level is left, the floor not counted; the hang where it is the last.
    fn need(&self, end: &End, is_last: bool) -> f64 {
        let trouble = self.shared * end.emergency.full;
        let hanging = self.hang.filter(|_| is_last);
        hanging.map_or(trouble, |hang| trouble.max(self.own * (end.way_up + hang)))
    }

    /// Litres to spare where a level is left.
    fn spare(&self, end: &End, is_last: bool) -> f64 {
        self.start_l - self.own * end.used - self.need(end, is_last).max(self.floor_l)
    }
}

/// Who of a diver's partners breathes most: of the buddies that the plan declares, else of all.
fn partner(divers: &[Diver], index: usize) -> Option<usize> {
    let named = |one: usize, other: usize| {
        divers[one].buddy.as_deref() == Some(divers[other].name.as_str())
    };
    let mut group = vec![index];
    if divers.iter().any(|diver| diver.buddy.is_some()) {
        let mut seen = 0;
        while seen < group.len() {
            let member = group[seen];
            for other in 0..divers.len() {
                if (named(member, other) || named(other, member)) && !group.contains(&other) {
                    group.push(other);
                }
            }
            seen += 1;
        }
    }
    if group.len() == 1 {
        group = (0..divers.len()).collect();
    }
    let others = group.into_iter().filter(|other| *other != index);
    others.max_by(|one, other| {
        let breathing = |diver: usize| divers[diver].breathing.as_l_min();
        breathing(*one).total_cmp(&breathing(*other))
    })
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

/// Objects where two figures are farther apart than rounding puts them.
fn near(question: Question, said: f64, found: f64, what: impl FnOnce() -> String) -> Judged {
    same(question, said, found, SHARE * found.abs() + LEAST, what)
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

fn judge_limits(court: &mut Court<'_, '_>, scales: &Scales, index: usize) -> Judged {
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
