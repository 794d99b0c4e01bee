//! Longer, deeper, by stricter factors: is a dive ever easier for it?
//!
//! Where the definitions order two dives, that is asserted. At the same run time the harder one is then
//! as deep or deeper, so it holds as much or more and may not go on before the other; but a stop ends on
//! a whole minute, and who comes to it later within that minute may go on at once. So where the harder
//! dive first leaves a level before the other it gains less than a minute; what that saves at the stops
//! above may be more. Everywhere else (an anchor that has moved, a dive that has become a staged one,
//! helium) it is counted how often the harder dive is easier, and by how much.

use std::collections::BTreeMap;

use hangbar::dive::{Schedule, fly, no_stop_limit};
use hangbar::quantity::{Depth, Time};
use hangbar::rules::{DiveRules, LastStop, Level};
use hangbar::tissue::{COMPARTMENTS, GradientFactors, Tissues};

use crate::cases::{Case, Wrong, each, each_plan};

/// Two ways to the same run time.
const SAME_TIME_MIN: f64 = 1e-9;
/// Two ways to the same exposure, of the figure itself.
const SAME_SHARE: f64 = 1e-9;
const SAME_DEPTH_M: f64 = 1e-9;

/// How a dive is made harder.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Step {
    AMinuteLonger,
    SevenMinutesLonger,
    AMetreDeeper,
    ThreeMetresDeeper,
    LowFactorByFive,
    HighFactorByFive,
}

impl Step {
    const ALL: [Self; 6] = [
        Self::AMinuteLonger,
        Self::SevenMinutesLonger,
        Self::AMetreDeeper,
        Self::ThreeMetresDeeper,
        Self::LowFactorByFive,
        Self::HighFactorByFive,
    ];

    const fn minutes(self) -> f64 {
        match self {
            Self::AMinuteLonger => 1.0,
            Self::SevenMinutesLonger => 7.0,
            _ => 0.0,
        }
    }

    const fn metres(self) -> f64 {
        match self {
            Self::AMetreDeeper => 1.0,
            Self::ThreeMetresDeeper => 3.0,
            _ => 0.0,
        }
    }

    /// The levels and the factors of the harder dive; `None` where there is none.
    fn of(self, rules: &DiveRules, levels: &[Level]) -> Option<(DiveRules, Vec<Level>)> {
        let (low, high) = (rules.factors.low() * 100.0, rules.factors.high() * 100.0);
        let factors = match self {
            Self::LowFactorByFive => GradientFactors::from_pct(low - 5.0, high),
            Self::HighFactorByFive => GradientFactors::from_pct(low, high - 5.0),
            _ => Ok(rules.factors),
        };
        let rules = DiveRules {
            factors: factors.ok()?,
            ..rules.clone()
        };
        let deepest = levels
            .iter()
            .map(|level| level.depth.as_m())
            .fold(0.0, f64::max);
        let mut levels = levels.to_vec();
        for level in &mut levels {
            if level.depth.as_m() > deepest - SAME_DEPTH_M {
                level.depth = Depth::from_m(level.depth.as_m() + self.metres());
            }
        }
        let last = levels.last_mut()?;
        last.time = last.time + Time::from_min(self.minutes());
        Some((rules, levels))
    }
}

/// How often a harder dive was easier.
#[derive(Default)]
pub(crate) struct Count {
    steps: u32,
    easier: u32,
    most: f64,
}

impl Count {
    pub(crate) fn add(&mut self, gained: f64) {
        self.steps += 1;
        if gained > SAME_TIME_MIN {
            self.easier += 1;
            self.most = self.most.max(gained);
        }
    }
}

impl std::fmt::Display for Count {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self {
            steps,
            easier,
            most,
        } = self;
        write!(f, "{easier} of {steps}, at most {most:.3}")
    }
}

/// What the definitions say of two dives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Order {
    /// The harder one is never easier.
    Never,
    /// Where it first leaves a level before the other, by less than a minute.
    WholeMinutes,
    /// An anchor that has moved lets the harder one go on by a milder line.
    AnchorMoved,
    /// One of the two is a staged dive, with stops of its own.
    OneIsStaged,
    /// A gas is switched to, or the safety stop's level is not passed, by one of the two.
    OtherStops,
    /// Helium: the limit is no sum of what two gases do.
    Helium,
}

/// Gradient factor in force at a depth.
fn factor_at(dive: &Schedule, rules: &DiveRules, depth_m: f64) -> f64 {
    let (low, high) = (rules.factors.low(), rules.factors.high());
    match dive.anchor().map(Depth::as_m) {
        Some(anchor) if depth_m < anchor => high + (low - high) * depth_m / anchor,
        _ => low,
    }
}

/// Whether the harder dive's line asks for as much at every depth.
fn is_as_strict(harder: (&Schedule, &DiveRules), easier: (&Schedule, &DiveRules)) -> bool {
    let anchors = [harder.0.anchor(), easier.0.anchor()];
    let corners = anchors.into_iter().flatten().map(Depth::as_m).chain([0.0]);
    corners.into_iter().all(|depth| {
        factor_at(harder.0, harder.1, depth) <= factor_at(easier.0, easier.1, depth) + 1e-12
    })
}

/// Whether the way up passes the level of the safety stop.
pub(crate) fn passes_the_safety_level(rules: &DiveRules, dive: &Schedule) -> bool {
    let ascent = &rules.ascent;
    ascent.safety_stop.is_none_or(|stop| {
        let spacing = ascent.spacing.change().as_m();
        let least = match ascent.last_stop {
            LastStop::OneSpacing => spacing,
            LastStop::TwoSpacings => 2.0 * spacing,
        };
        let level = (stop.depth.as_m() / spacing - SAME_DEPTH_M).ceil() * spacing;
        dive.last_depth().as_m() > level.max(least) + SAME_DEPTH_M
    })
}

/// Whether everybody takes up gas at the deepest level, or gives none off that was held before.
pub(crate) fn takes_up_gas(rules: &DiveRules, start: &Tissues, dive: &Schedule) -> bool {
    let ambient = rules.environment.ambient(dive.last_depth()).as_bar();
    let inspired = (ambient - 0.0627) * rules.bottom_gas.nitrogen();
    (0..COMPARTMENTS).all(|index| start.loading(index).n2_bar <= inspired)
}

fn order(
    step: Step,
    (harder, harder_rules): (&Schedule, &DiveRules),
    (easier, rules): (&Schedule, &DiveRules),
) -> Order {
    if harder.staged != easier.staged {
        return Order::OneIsStaged;
    }
    if !easier.staged {
        // The safety stop is made by who has been deeper than it.
        let deeper = rules.ascent.safety_stop.is_none_or(|stop| {
            let [easier, harder] = [easier.deepest(), harder.deepest()];
            (easier > stop.depth) == (harder > stop.depth)
                && (easier > stop.depth || step.metres() <= 0.0)
        });
        return if deeper {
            Order::Never
        } else {
            Order::OtherStops
        };
    }
    let other_gases = step.metres() > 0.0 && !rules.decompression.is_empty();
    if other_gases || !passes_the_safety_level(rules, easier) {
        return Order::OtherStops;
    }
    let start = easier.start.tissues;
    let helium = !start.know_nitrogen_alone(rules.bottom_gas)
        || rules.decompression.iter().any(|gas| gas.helium() > 0.0);
    if helium {
        return Order::Helium;
    }
    if !is_as_strict((harder, harder_rules), (easier, rules)) {
        return Order::AnchorMoved;
    }
    let shifted = step.minutes() > 0.0
        && easier.level_ends.len() == 1
        && takes_up_gas(rules, &start, easier)
        && harder.anchor() == easier.anchor();
    if shifted {
        Order::Never
    } else {
        Order::WholeMinutes
    }
}

/// Minutes by which the harder dive is up earlier than it should be.
fn gained_min(step: Step, harder: &Schedule, easier: &Schedule, order: Order) -> f64 {
    let more = if order == Order::Never {
        step.minutes()
    } else {
        0.0
    };
    easier.run_time().as_min() + more - harder.run_time().as_min()
}

/// Run time of leaving a depth for good on the way up.
fn leaves_at_min(dive: &Schedule, depth_m: f64) -> f64 {
    let mut left = dive.leave_bottom().as_min();
    for segment in &dive.way_up {
        let (from, to) = (segment.from.as_m(), segment.to.as_m());
        if to > depth_m - SAME_DEPTH_M {
            left = segment.end.as_min();
        } else if from > depth_m {
            let share = (from - depth_m) / (from - to);
            left = segment.start.as_min() + share * segment.time().as_min();
        }
    }
    left
}

/// By how many minutes the harder dive leaves the deepest level, the bottom among them, that it leaves
/// before the other; 0 where it leaves none so.
fn first_gain_min(rules: &DiveRules, harder: &Schedule, easier: &Schedule) -> f64 {
    let (spacing, bottom) = (rules.ascent.spacing, easier.last_depth().as_m());
    let levels = (0..).map(|number| spacing.below(number).as_m());
    let mut depths: Vec<f64> = levels.take_while(|depth| *depth < bottom).collect();
    depths.push(bottom);
    let gain = |depth| leaves_at_min(easier, depth) - leaves_at_min(harder, depth);
    let mut gains = depths.into_iter().rev().map(gain);
    gains.find(|gain| *gain > SAME_TIME_MIN).unwrap_or(0.0)
}

fn bottom_gas_exposure(rules: &DiveRules, dive: &Schedule) -> f64 {
    let on_it = dive
        .way_up
        .iter()
        .filter(|segment| segment.gas.is_same_gas(rules.bottom_gas));
    on_it
        .map(|segment| segment.exposure(&rules.environment).as_atm_min())
        .sum()
}

type Tally = BTreeMap<(Step, Order), Count>;

fn compare(case: &Case, tally: &mut Tally, wrong: &mut Wrong) -> u64 {
    let plan = &case.briefing.plan;
    let (rules, start) = (plan.rules(), &plan.start().tissues);
    let easier = &case.briefing.schedule;
    let mut compared = 0;
    for step in Step::ALL {
        let Some((harder_rules, levels)) = step.of(rules, plan.levels()) else {
            continue;
        };
        // A dive that cannot be scheduled is no easier one.
        let Ok(harder) = fly(&harder_rules, start, &levels) else {
            continue;
        };
        compared += 1;
        let order = order(step, (&harder, &harder_rules), (easier, rules));
        let gained = gained_min(step, &harder, easier, order);
        tally.entry((step, order)).or_default().add(gained);
        let first = first_gain_min(rules, &harder, easier);
        let holds = match order {
            Order::Never => gained <= SAME_TIME_MIN,
            Order::WholeMinutes => first < 1.0 && (first > 0.0 || gained <= SAME_TIME_MIN),
            _ => true,
        };
        if !holds {
            wrong.push(format!(
                "{step:?} gains {gained} min, first {first} min, {order:?}"
            ));
        }
        if order == Order::Never && step.minutes() > 0.0 && rules.decompression.is_empty() {
            let exposure = |dive| bottom_gas_exposure(rules, dive);
            let (more, less) = (exposure(&harder), exposure(easier));
            if more < less * (1.0 - SAME_SHARE) {
                wrong.push(format!(
                    "{step:?}: the way up takes {more}, not {less} atm·min"
                ));
            }
        }
    }
    compared
}

#[test]
fn a_harder_dive_is_up_no_earlier_where_the_definitions_order_the_two() {
    let mut tally = Tally::new();
    each("harder dives", 60, |case, _, wrong| {
        compare(case, &mut tally, wrong)
    });
    for ((step, order), count) in &tally {
        println!("up earlier, {step:?}, {order:?}: {count} min");
    }
    assert!(tally.keys().any(|(_, order)| *order == Order::WholeMinutes));
    assert!(tally.keys().any(|(_, order)| *order == Order::Never));
}

#[test]
fn a_no_stop_limit_is_no_longer_deeper_or_by_a_stricter_factor() {
    let (mut deeper, mut stricter, mut helium) = <(Count, Count, Count)>::default();
    each_plan("harder limits", 60, |plan, random, wrong| {
        let (rules, start) = (plan.rules(), &plan.start().tissues);
        let depth = Depth::from_m(random.between(5.0, 60.0));
        let lower = Depth::from_m(depth.as_m() + random.pick(&[0.1, 1.0, 3.0]));
        let high = rules.factors.high() * 100.0 - 5.0;
        let low = (rules.factors.low() * 100.0).min(high);
        let strict = GradientFactors::from_pct(low, high).map(|factors| DiveRules {
            factors,
            ..rules.clone()
        });
        let minutes = |rules: &DiveRules, depth| {
            let limit = no_stop_limit(rules, start, depth).unwrap();
            limit.time().map_or(1000.0, Time::as_min)
        };
        let usual = minutes(rules, depth);
        let nitrogen = start.know_nitrogen_alone(rules.bottom_gas);
        let inspired =
            (rules.environment.ambient(depth).as_bar() - 0.0627) * rules.bottom_gas.nitrogen();
        let takes_up = (0..COMPARTMENTS).all(|index| start.loading(index).n2_bar <= inspired);
        let gained = minutes(rules, lower) - usual;
        let ordered = nitrogen && takes_up;
        if ordered {
            deeper.add(gained);
        } else {
            helium.add(gained);
        }
        if ordered && gained > SAME_TIME_MIN {
            wrong.push(format!("{lower:?} has {gained} min more than {depth:?}"));
        }
        if let Ok(strict) = strict {
            let gained = minutes(&strict, depth) - usual;
            stricter.add(gained);
            if gained > SAME_TIME_MIN {
                wrong.push(format!("{strict:?} has {gained} min more at {depth:?}"));
            }
        }
        1
    });
    println!(
        "longer limit: deeper {deeper} min, stricter {stricter} min, loaded or helium {helium}"
    );
}
