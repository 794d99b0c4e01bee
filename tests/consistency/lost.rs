//! Lost gas: of the partners and the moments the one that ends worst, worked out again from what the
//! briefing has of every level's end.

use hangbar::briefing::Briefing;
use hangbar::dive::Segment;
use hangbar::gas::{Rescue, RescueOutcome};
use hangbar::plan::partners;
use hangbar::site::Charge;

use crate::cases::{Case, Wrong, briefed, each};

/// What rounding does to contents and needs, in litres.
const ROUNDING_L: f64 = 1e-6;

/// A partner at a level's end: how it ends, the worst first, and what there is to spare.
struct Way {
    donor: String,
    /// Which level's end it is, and which of the team the partner.
    level: usize,
    index: usize,
    minute: f64,
    /// What the two breathe in a minute at the surface, and what there is.
    rate_l_min: f64,
    have_l: f64,
    severity: u8,
    spare_l: f64,
}

fn severity(have_l: f64, straight_l: f64, full_l: f64) -> u8 {
    match have_l.max(0.0) {
        have if have >= full_l => 2,
        have if have >= straight_l => 1,
        _ => 0,
    }
}

fn ways(briefing: &Briefing, loses: usize) -> Vec<Way> {
    let (plan, divers) = (&briefing.plan, briefing.plan.divers());
    let mut ways = Vec::new();
    for (level, end) in briefing.level_ends.iter().enumerate() {
        for donor in partners(divers, loses) {
            let rate = (divers[loses].breathing + divers[donor].breathing).as_l_min()
                * plan.reserve().stress;
            let exposure = end.emergency.exposure;
            let (straight_l, full_l) = (
                rate * exposure.direct.as_atm_min(),
                rate * exposure.full.as_atm_min(),
            );
            let have_l = briefing.divers[donor].levels[level].contents.as_l();
            ways.push(Way {
                donor: divers[donor].name.clone(),
                level,
                index: donor,
                rate_l_min: rate,
                have_l,
                minute: end.moment.run_time.as_min(),
                severity: severity(have_l, straight_l, full_l),
                spare_l: have_l - full_l,
            });
        }
    }
    ways
}

fn severity_of(rescue: &Rescue) -> u8 {
    match rescue.outcome {
        RescueOutcome::EveryStop { .. } => 2,
        RescueOutcome::StopsMissed { .. } => 1,
        _ => 0,
    }
}

/// Litres breathed from the main cylinder along a way up, as far as `until` lets it go.
fn breathed_l(
    briefing: &Briefing,
    way: &Way,
    segments: &[Segment],
    until: impl Fn(&Segment) -> f64,
) -> f64 {
    let rules = briefing.plan.rules();
    let on_it = segments
        .iter()
        .filter(|segment| segment.gas.is_same_gas(rules.bottom_gas));
    let exposures = on_it.map(|segment| {
        let share = until(segment).clamp(0.0, 1.0);
        let cut = Segment {
            to: segment.from + (segment.to - segment.from) * share,
            end: segment.start + segment.time() * share,
            ..*segment
        };
        cut.exposure(&rules.environment).as_atm_min()
    });
    way.rate_l_min * exposures.sum::<f64>()
}

/// Where the gas ends, or what is left of it, against what is breathed until then.
fn wrong_end(briefing: &Briefing, way: &Way, rescue: &Rescue) -> Option<String> {
    let emergency = &briefing.level_ends[way.level].emergency;
    let have_l = way.have_l.max(0.0);
    let used_l = match rescue.outcome {
        RescueOutcome::EveryStop { left } => {
            let plan = &briefing.plan;
            let (water, gas) = (
                plan.divers()[way.index].cylinder.water,
                briefing.divers[way.index].gas,
            );
            let charge = Charge::new(water, gas, &plan.gas_conditions());
            let all = breathed_l(briefing, way, emergency.deciding(), |_| 1.0);
            all + charge.contents(left).as_l()
        }
        RescueOutcome::StopsMissed { empty_at, .. } => {
            let share =
                |segment: &Segment| (empty_at - segment.start).as_min() / segment.time().as_min();
            breathed_l(briefing, way, emergency.deciding(), share)
        }
        RescueOutcome::NotEnough { empty_depth } => {
            // At the sort-out's depth nobody knows when.
            if empty_depth.is_at(rescue.depth) {
                let sort_out = |segment: &Segment| f64::from(u8::from(segment.kind.is_level()));
                let used = breathed_l(briefing, way, &emergency.direct, sort_out);
                return (used < have_l - ROUNDING_L).then(|| format!("{used} L to sort it out"));
            }
            let share = |segment: &Segment| {
                let rise = (segment.from - segment.to).as_m();
                if rise > 0.0 {
                    (segment.from - empty_depth).as_m() / rise
                } else {
                    1.0
                }
            };
            breathed_l(briefing, way, &emergency.direct, share)
        }
        _ => return Some("an ending of another kind".to_owned()),
    };
    let allowed = ROUNDING_L * (1.0 + have_l);
    ((used_l - have_l).abs() > allowed).then(|| format!("{used_l} L are used of {have_l} L"))
}

fn compare(case: &Case, loses: usize, wrong: &mut Wrong) {
    let lost = &case.briefing.lost_gas[loses];
    let ways = ways(&case.briefing, loses);
    let Some(shared) = &lost.shared else {
        if !ways.is_empty() {
            wrong.push(format!("{} shares with nobody", lost.name));
        }
        return;
    };
    let worst = ways.iter().map(|way| way.severity).min().unwrap();
    let at_worst = || ways.iter().filter(|way| way.severity == worst);
    let least = at_worst()
        .map(|way| way.spare_l)
        .fold(f64::INFINITY, f64::min);
    // Of equal ones the first in the order of the levels, then of the team.
    let first = at_worst()
        .find(|way| way.spare_l - least <= ROUNDING_L)
        .unwrap();
    let named = (shared.donor.as_deref(), shared.run_time.as_min());
    if named.0 != Some(first.donor.as_str()) || (named.1 - first.minute).abs() > 1e-9 {
        wrong.push(format!(
            "{} loses it: {named:?}, not {}",
            lost.name, first.donor
        ));
    }
    if let Some(what) = wrong_end(&case.briefing, first, shared) {
        wrong.push(format!("{} loses it: {what}, {shared:?}", lost.name));
    }
    if severity_of(shared) != worst {
        wrong.push(format!(
            "{} loses it: {:?}, not {worst}",
            lost.name, shared.outcome
        ));
    }
}

#[test]
fn whoever_loses_gas_is_told_of_the_partner_and_the_moment_that_end_worst() {
    each("lost gas", 60, |case, _, wrong| {
        let team = case.briefing.divers.len();
        (0..team).for_each(|loses| compare(case, loses, wrong));
        1
    });
}

/// Two partners with the same cylinder and the same consumption, which one of them gives in other
/// units: what a last bit says is no difference.
#[test]
fn of_two_partners_with_as_much_the_first_of_the_team_is_named_whatever_a_last_bit_says() {
    const LITRE_CUFT: f64 = 1.0 / 28.316_846_592;
    const BAR_PSI: f64 = 1.0 / 0.068_947_572_931_68;
    let mut named_second = Vec::new();
    for sac in [11.0, 12.3, 13.7, 15.1, 16.4, 17.9, 19.3] {
        for fill in [170.0, 181.0, 193.0, 205.5, 217.0] {
            let metric = format!(
                "sac = \"{sac} L/min\"\ncylinder = {{ size = \"12 L\", fill = \"{fill} bar\" }}\n"
            );
            let imperial = format!(
                "sac = \"{} cuft/min\"\ncylinder = {{ size = \"12 L\", fill = \"{} psi\" }}\n",
                sac * LITRE_CUFT,
                fill * BAR_PSI
            );
            for (first, second) in [(&metric, &imperial), (&imperial, &metric)] {
                let text = format!(
                    "[profile]\ndepth = \"23 m\"\nbottom_time = \"19 min\"\n\
                     [[diver]]\nname = \"Oda\"\n{metric}[[diver]]\nname = \"Per\"\n{first}\
                     [[diver]]\nname = \"Rut\"\n{second}"
                );
                let briefing = briefed(&text).unwrap();
                let shared = briefing.lost_gas[0].shared.as_ref().unwrap();
                if shared.donor.as_deref() != Some("Per") {
                    named_second.push((sac, fill));
                }
            }
        }
    }
    assert!(
        named_second.is_empty(),
        "{} of 70: {named_second:?}",
        named_second.len()
    );
}
