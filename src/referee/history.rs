//! Earlier dives by the referee, and the time at the surface behind them.

use super::body::{Body, Gas};
use super::course::{Leg, Rules};
use super::dive::{self, Dived, body};
use super::objection::{Judged, Question, same, sure};
use super::oxygen::dose;
use super::table::Row;
use crate::plan::{DiveBefore, EarlierDive, Plan};
use crate::rules::Start;

/// Tissues agree to this, bar.
const TISSUE_BAR: f64 = 1e-9;
/// Doses agree to this share.
const DOSE: f64 = 1e-9;
/// Air, as it is breathed at the surface.
const AIR: Gas = Gas {
    oxygen: 0.21,
    nitrogen: 0.79,
    helium: 0.0,
};

/// A diver between two dives.
#[derive(Clone, Copy)]
struct Member {
    body: Body,
    cns_pct: f64,
    otu: f64,
}

impl From<&Start> for Member {
    fn from(start: &Start) -> Self {
        Self {
            body: body(&start.tissues),
            cns_pct: start.cns_pct,
            otu: start.otu,
        }
    }
}

pub(super) fn judge(rules: &Rules<'_>, plan: &Plan) -> Judged {
    let history = plan.history();
    let most = team(plan.starts().iter().map(Member::from));
    judge_member(
        most.as_ref(),
        plan.start(),
        "the team on leaving the surface",
    )?;
    // In a day of several plans the dives before are those of other plans.
    if !is_told_by(plan) {
        return Ok(());
    }
    let mut members: Vec<Member> = history.arrived.iter().map(Member::from).collect();
    for (said, told) in history.dives.iter().zip(plan.before()) {
        dive_again(rules, plan, said, told, &mut members)?;
    }
    let starts = members.iter().zip(&history.starts);
    starts.into_iter().try_for_each(|(member, start)| {
        judge_member(Some(member), start, "a diver on leaving the surface")
    })
}

/// Whether the dives before are those that the plan tells.
fn is_told_by(plan: &Plan) -> bool {
    let dives = &plan.history().dives;
    let is_it = |(said, told): (&DiveBefore, &EarlierDive)| {
        let depths = said.schedule.level_ends.iter().map(|end| end.depth.as_m());
        let levels = told.levels.iter().map(|level| level.depth.as_m());
        said.surface_interval == told.surface_interval
            && said.gas.is_same_gas(told.gas.unwrap_or(plan.gas()))
            && depths.eq(levels)
    };
    dives.len() == plan.before().len() && dives.iter().zip(plan.before()).all(is_it)
}

/// Flies an earlier dive from what its divers bring, and lets everybody wait for the next.
fn dive_again(
    rules: &Rules<'_>,
    plan: &Plan,
    said: &DiveBefore,
    told: &EarlierDive,
    members: &mut [Member],
) -> Judged {
    let gas = Gas::from(told.gas.unwrap_or(plan.gas()));
    let rules = Rules {
        bottom: gas,
        decompression: Vec::new(),
        ..rules.clone()
    };
    let names = plan.divers().iter().map(|diver| Some(diver.name.as_str()));
    let names = names.chain([None]).take(members.len());
    let dives = names.map(|name| match (name, &told.divers) {
        (Some(name), Some(divers)) => divers.iter().any(|diver| diver == name),
        _ => true,
    });
    let dives: Vec<bool> = dives.collect();
    sure(Question::History, dives == said.dived, || {
        format!("who dived an earlier dive: {dives:?} found")
    })?;
    let divers = members.iter().zip(&dives).filter(|(_, dives)| **dives);
    let Some(together) = team(divers.map(|(member, _)| *member)) else {
        return sure(Question::History, false, || {
            "an earlier dive of nobody".to_owned()
        });
    };
    let dived = Dived {
        start: together.body,
        levels: &told.levels,
        schedule: &said.schedule,
    };
    let flown = dive::judge(&rules, &dived)?;
    let down = flown.ends.last().map(|end| end.legs.clone());
    let legs = [down.unwrap_or_default(), flown.way_up].concat();
    let run_min = legs.last().map_or(0.0, |leg| leg.end_min);
    let (meanwhile, until_next) = (
        Rest::of(&rules, run_min),
        Rest::of(&rules, told.surface_interval.as_min()),
    );
    let dose = dose(&rules, &said.schedule.segments, gas);
    let mut last: Option<(bool, Member, Member)> = None;
    for (index, (member, dives)) in members.iter_mut().zip(&dives).enumerate() {
        let before = *member;
        match last {
            // Most come with the same.
            Some((dived, same, after)) if dived == *dives && same.is(&before) => *member = after,
            _ if *dives => {
                go(&rules, &mut member.body, &legs);
                member.cns_pct += dose.cns_pct;
                member.otu += dose.otu;
            }
            _ => meanwhile.pass(member),
        }
        last = Some((*dives, before, *member));
        judge_member(
            Some(member),
            &said.surfaced[index],
            "a diver after an earlier dive",
        )?;
        until_next.pass(member);
        judge_member(
            Some(member),
            &said.rested[index],
            "a diver rested after an earlier dive",
        )?;
    }
    Ok(())
}

fn go(rules: &Rules<'_>, body: &mut Body, legs: &[Leg]) {
    for leg in legs {
        *body = rules.after(body, leg.from_m, leg.to_m, leg.minutes(), leg.gas);
    }
}

/// The most that any of several holds of each gas in each compartment, and of either dose.
fn team(members: impl Iterator<Item = Member>) -> Option<Member> {
    let most = |one: &Row, other: &Row| std::array::from_fn(|index| one[index].max(other[index]));
    members.reduce(|one, other| Member {
        body: Body {
            nitrogen: most(&one.body.nitrogen, &other.body.nitrogen),
            helium: most(&one.body.helium, &other.body.helium),
        },
        cns_pct: one.cns_pct.max(other.cns_pct),
        otu: one.otu.max(other.otu),
    })
}

impl Member {
    fn is(&self, other: &Self) -> bool {
        let same = |one: f64, other: f64| one.to_bits() == other.to_bits();
        self.body.apart(&other.body.nitrogen, &other.body.helium) <= 0.0
            && same(self.cns_pct, other.cns_pct)
            && same(self.otu, other.otu)
    }
}

/// Time at the surface on air: where who holds nothing comes to, and what is left of a bar. The equation
/// is linear: that is all there is to know of it, for whole minutes by doubling one that is stepped
/// through.
struct Rest {
    minutes: f64,
    from_nothing: Body,
    of_a_bar: Body,
}

impl Rest {
    fn of(rules: &Rules<'_>, minutes: f64) -> Self {
        let even = |bar| Body {
            nitrogen: [bar; 16],
            helium: [bar; 16],
        };
        let stepped = |minutes: f64| {
            let after = |bar| rules.after(&even(bar), 0.0, 0.0, minutes, AIR);
            let (from_nothing, from_a_bar) = (after(0.0), after(1.0));
            let left =
                |one: &Row, none: &Row| std::array::from_fn(|index| one[index] - none[index]);
            Self {
                minutes,
                of_a_bar: Body {
                    nitrogen: left(&from_a_bar.nitrogen, &from_nothing.nitrogen),
                    helium: left(&from_a_bar.helium, &from_nothing.helium),
                },
                from_nothing,
            }
        };
        let mut whole = minutes.floor();
        let mut sum = stepped(minutes - whole);
        let mut power = stepped(1.0);
        while whole >= 1.0 {
            if whole % 2.0 >= 1.0 {
                sum = sum.then(&power);
            }
            power = power.then(&power);
            whole = (whole / 2.0).floor();
        }
        Self { minutes, ..sum }
    }

    /// One rest and then another.
    fn then(&self, next: &Self) -> Self {
        let both = |of: fn(&Body) -> &Row| {
            let (left, next_left) = (of(&self.of_a_bar), of(&next.of_a_bar));
            let (nothing, next_nothing) = (of(&self.from_nothing), of(&next.from_nothing));
            let left: Row = std::array::from_fn(|index| left[index] * next_left[index]);
            let nothing: Row = std::array::from_fn(|index| {
                next_nothing[index] + nothing[index] * next_left[index]
            });
            (left, nothing)
        };
        let (nitrogen, helium) = (both(|body| &body.nitrogen), both(|body| &body.helium));
        Self {
            minutes: self.minutes + next.minutes,
            of_a_bar: Body {
                nitrogen: nitrogen.0,
                helium: helium.0,
            },
            from_nothing: Body {
                nitrogen: nitrogen.1,
                helium: helium.1,
            },
        }
    }

    fn pass(&self, member: &mut Member) {
        for index in 0..16 {
            let after = |held: f64, nothing: &Row, left: &Row| nothing[index] + held * left[index];
            let (nothing, left) = (&self.from_nothing, &self.of_a_bar);
            let body = &mut member.body;
            body.nitrogen[index] = after(body.nitrogen[index], &nothing.nitrogen, &left.nitrogen);
            body.helium[index] = after(body.helium[index], &nothing.helium, &left.helium);
        }
        member.cns_pct *= 0.5_f64.powf(self.minutes / 90.0);
    }
}

fn judge_member(found: Option<&Member>, said: &Start, who: &str) -> Judged {
    let Some(found) = found else {
        return Ok(());
    };
    let tissues = body(&said.tissues);
    let apart = found.body.apart(&tissues.nitrogen, &tissues.helium);
    same(Question::History, apart, 0.0, TISSUE_BAR, || {
        format!("distance of the tissues of {who}")
    })?;
    let doses = [
        ("CNS share", said.cns_pct, found.cns_pct),
        ("OTU", said.otu, found.otu),
    ];
    doses.into_iter().try_for_each(|(what, said, found)| {
        let distance = DOSE * found.abs() + 1e-6;
        same(Question::History, said, found, distance, || {
            format!("{what} of {who}")
        })
    })
}

#[cfg(test)]
mod tests {
    #![allow(
        clippy::unwrap_used,
        clippy::expect_used,
        reason = "a test fails by panicking"
    )]

    use super::judge;
    use crate::plan::{History, Plan};
    use crate::plan_file::read;
    use crate::quantity::{RunTime, Time};
    use crate::referee::course::Rules;
    use crate::referee::objection::{Judged, Question};
    use crate::referee::table::Table;
    use crate::rules::Start;
    use crate::tissue::Tissues;

    /// Two dives before, the second of Signy alone.
    const THIRD_DIVE: &str = r#"
        [profile]
        depth = "18 m"
        bottom_time = "25 min"
        [[before]]
        depth = "40 m"
        bottom_time = "22 min"
        gas = "21/20"
        surface_interval = "61.5 min"
        [[before]]
        depth = "20 m"
        bottom_time = "35 min"
        surface_interval = "3000 min"
        divers = ["Signy"]
        [[diver]]
        name = "Signy"
        sac = "14 L/min"
        cylinder = { size = "12 L", fill = "220 bar" }
        [[diver]]
        name = "Odd"
        sac = "16 L/min"
        cylinder = { size = "12 L", fill = "220 bar" }
    "#;

    fn judged(plan: &Plan) -> Judged {
        let table = Table::of(plan.rules());
        judge(&Rules::of(plan.rules(), &table, 0.0), plan)
    }

    fn more(start: &mut Start) {
        let mut loadings = start.tissues.loadings();
        loadings[9].n2_bar += 1e-6;
        start.tissues = Tissues::from_loadings(loadings);
    }

    #[test]
    fn every_change_of_the_dives_before_is_seen() {
        let plan = read(THIRD_DIVE).unwrap();
        assert_eq!(judged(&plan), Ok(()));
        let changes: [fn(&mut History); 12] = [
            |h| more(&mut h.starts[0]),
            |h| more(&mut h.starts[1]),
            |h| more(&mut h.arrived[0]),
            |h| more(&mut h.dives[0].surfaced[0]),
            |h| more(&mut h.dives[0].rested[1]),
            |h| more(&mut h.dives[1].surfaced[1]),
            |h| more(&mut h.dives[1].rested[0]),
            |h| h.dives[1].surfaced[0].cns_pct += 1e-3,
            |h| h.dives[0].rested[0].cns_pct -= 1e-3,
            |h| h.dives[1].surfaced[1].otu += 1e-3,
            |h| h.dives[1].dived[1] = true,
            |h| {
                let stop = h.dives[0].schedule.segments.last_mut().unwrap();
                stop.end = RunTime::from_min(stop.end.as_min() + 1.0);
            },
        ];
        for (index, change) in changes.into_iter().enumerate() {
            let mut history = plan.history().clone();
            change(&mut history);
            let changed = plan.in_a_day(history, None);
            let objection = judged(&changed).expect_err("nothing is seen");
            // Who begins otherwise dives another dive; the last change is one of its segments.
            let wanted = match index {
                2 => Question::Tissues,
                11 => Question::Segments,
                _ => Question::History,
            };
            assert_eq!(objection.question(), wanted, "change {index}");
        }
    }

    /// The dives of another plan are none of this one: who waited otherwise than the plan tells has come
    /// from elsewhere.
    #[test]
    fn the_dives_of_other_plans_are_left_alone() {
        let plan = read(THIRD_DIVE).unwrap();
        let longer = Time::from_min(30.0);
        let shifted = plan.history().shifted(plan.rules(), longer).unwrap();
        assert_eq!(judged(&plan.in_a_day(shifted, None)), Ok(()));
    }
}
