//! Runs a property over plans drawn by chance.

use hangbar::briefing::{Briefing, BriefingError, brief};
use hangbar::plan::Plan;
use hangbar::plan_file::{self, Overrides};
use hangbar::report::document;
use serde_json::Value;

use crate::compare::{compare_within, contract};
use crate::drawn::Drawn;
use crate::random::Random;

/// Any number does; this one is the same in every run.
const SEED: u64 = 0x0048_414E_4742_4152;
/// So many plans of a cheap property are the usual run.
const USUAL: u64 = 60;
/// Properties tell of so many plans that fail, no more.
const MOST_TOLD: usize = 4;

/// A plan that can be briefed.
pub(crate) struct Case {
    pub(crate) drawn: Drawn,
    pub(crate) text: String,
    pub(crate) briefing: Briefing,
}

/// What is wrong with a plan.
pub(crate) type Wrong = Vec<String>;

fn number_of(variable: &str) -> Option<u64> {
    let text = std::env::var(variable).ok()?;
    let number = text.parse();
    Some(number.unwrap_or_else(|_| panic!("{variable} is {text}, no number")))
}

/// How many plans of a property of which there are `usual` in the usual run.
fn cases(usual: u64) -> u64 {
    number_of("HANGBAR_CASES").map_or(usual, |asked| (asked * usual).div_ceil(USUAL))
}

fn seed() -> u64 {
    number_of("HANGBAR_SEED").unwrap_or(SEED)
}

/// So many plans, whatever a run asks for: for tests that start processes.
pub(crate) fn drawn_plans(count: u64) -> impl Iterator<Item = Drawn> {
    let seed = seed();
    (0..count).map(move |number| Drawn::of(&mut Random::of(seed, number)))
}

/// Every plan, changed so as to meet what is asked about more often.
pub(crate) fn each_drawn(
    name: &str,
    usual: u64,
    change: impl Fn(&mut Drawn, &mut Random),
    mut property: impl FnMut(&Drawn, &mut Random, &mut Wrong) -> u64,
) {
    let seed = seed();
    let mut compared = 0;
    let mut failed = 0;
    let mut told = String::new();
    let count = cases(usual);
    for number in 0..count {
        let mut random = Random::of(seed, number);
        let mut drawn = Drawn::of(&mut random);
        change(&mut drawn, &mut random);
        let mut wrong = Wrong::new();
        compared += property(&drawn, &mut random, &mut wrong);
        if !wrong.is_empty() {
            failed += 1;
            if failed <= MOST_TOLD {
                wrong.truncate(8);
                let (wrong, text) = (wrong.join("\n  "), drawn.metric());
                told += &format!("plan {number} of seed {seed}:\n  {wrong}\n{text}\n");
            }
        }
    }
    println!("{name}: {count} plans, {} comparisons", compared);
    assert!(failed == 0, "{failed} of {count} plans fail {name}\n{told}");
    assert!(compared >= count / 4, "{name} compares nearly nothing");
}

/// Every plan that can be read, in turn: for what needs no briefing.
pub(crate) fn each_plan(
    name: &str,
    usual: u64,
    mut property: impl FnMut(&Plan, &mut Random, &mut Wrong) -> u64,
) {
    each_drawn(
        name,
        usual,
        |_, _| {},
        |drawn, random, wrong| {
            let plan = plan_file::read(&drawn.metric());
            plan.map_or(0, |plan| property(&plan, random, wrong))
        },
    );
}

/// Every plan that can be briefed, in turn; of the others no more than one in five.
pub(crate) fn each(
    name: &str,
    usual: u64,
    property: impl FnMut(&Case, &mut Random, &mut Wrong) -> u64,
) {
    each_changed(name, usual, |_, _| {}, property);
}

/// As [`each`], changed so as to meet what is asked about more often.
pub(crate) fn each_changed(
    name: &str,
    usual: u64,
    change: impl Fn(&mut Drawn, &mut Random),
    mut property: impl FnMut(&Case, &mut Random, &mut Wrong) -> u64,
) {
    let (mut drawn_plans, mut none) = (0, 0);
    each_drawn(name, usual, change, |drawn, random, wrong| {
        drawn_plans += 1;
        let text = drawn.metric();
        let Ok(plan) = plan_file::read(&text) else {
            none += 1;
            return 0;
        };
        match brief(plan) {
            Ok(briefing) => {
                let drawn = drawn.clone();
                property(
                    &Case {
                        drawn,
                        text,
                        briefing,
                    },
                    random,
                    wrong,
                )
            }
            Err(BriefingError::Check(check)) => {
                wrong.push(format!("an internal check failed: {check}"));
                0
            }
            Err(_) => {
                none += 1;
                0
            }
        }
    });
    let most = 2 + drawn_plans / 5;
    assert!(
        none <= most,
        "{none} of {drawn_plans} plans are none: {name}"
    );
}

/// The briefing of a text, or that there is none.
pub(crate) fn briefed(text: &str) -> Option<Briefing> {
    briefed_with(text, &Overrides::default())
}

pub(crate) fn briefed_with(text: &str, overrides: &Overrides) -> Option<Briefing> {
    brief(plan_file::read_with(text, overrides).ok()?).ok()
}

/// A plan left at another bottom time.
pub(crate) enum Left {
    /// In the travel to a level: no dive ends there.
    Travelling,
    /// No way up can be worked out.
    NoWayUp,
    At(Box<Briefing>),
}

impl Left {
    /// The plan of a text left at another bottom time.
    pub(crate) fn at(text: &str, minutes: f64) -> Self {
        let overrides = Overrides {
            bottom_time: Some(format!("{minutes} min")),
            ..Overrides::default()
        };
        match plan_file::read_with(text, &overrides).map(brief) {
            Err(_) => Self::Travelling,
            Ok(Err(_)) => Self::NoWayUp,
            Ok(Ok(briefing)) => Self::At(Box::new(briefing)),
        }
    }

    pub(crate) fn briefing(self) -> Option<Briefing> {
        match self {
            Self::At(briefing) => Some(*briefing),
            Self::Travelling | Self::NoWayUp => None,
        }
    }
}

/// The document of a briefing.
pub(crate) fn json(briefing: &Briefing) -> Value {
    serde_json::to_value(document::Briefing::try_from(briefing).unwrap()).unwrap()
}

/// Notes every place at which two documents differ by more than the contract lets them, either of
/// which may have what the other has not.
pub(crate) fn same(what: &str, one: &Value, other: &Value, wrong: &mut Wrong) {
    same_within(what, one, other, &contract, wrong);
}

/// As [`same`], as near as `tolerance` says of a path and a figure.
pub(crate) fn same_within(
    what: &str,
    one: &Value,
    other: &Value,
    tolerance: &dyn Fn(&str, f64) -> f64,
    wrong: &mut Wrong,
) {
    compare_within(what, one, other, tolerance, wrong);
    let mut back = Wrong::new();
    compare_within(what, other, one, tolerance, &mut back);
    wrong.extend(back.into_iter().filter(|line| line.ends_with("is missing")));
}
