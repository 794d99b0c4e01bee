//! A census of random plans over all that a plan file may ask for: the two engines agree on each.
//!
//! ```text
//! HANGBAR_CASES=1000000 HANGBAR_SEED=2026 cargo test --release --test referee census -- --nocapture
//! ```

use std::num::NonZero;
use std::thread::available_parallelism;

use crate::drawn::Drawn;
use crate::random::Random;
use hangbar::briefing::{BriefingError, brief};
use hangbar::plan_file;

/// So many plans in every run of the tests; `HANGBAR_CASES` asks for more.
const CASES: u64 = 200;
/// `HANGBAR_SEED` asks for other plans.
const SEED: u64 = 11;

fn asked(name: &str, otherwise: u64) -> u64 {
    let asked = std::env::var(name).ok();
    asked.map_or(otherwise, |asked| asked.parse().unwrap())
}

/// What became of plans.
#[derive(Clone, Debug, Default, PartialEq)]
struct Count {
    briefed: u64,
    staged: u64,
    divers: u64,
    /// The reader refuses them.
    refused: u64,
    /// No way up can be worked out.
    unschedulable: u64,
    objections: Vec<String>,
}

impl Count {
    fn of(number: u64, seed: u64) -> Self {
        let text = Drawn::of(&mut Random::of(seed, number)).metric();
        let mut count = Self::default();
        let Ok(plan) = plan_file::read(&text) else {
            count.refused = 1;
            return count;
        };
        match brief(plan) {
            Ok(briefing) => {
                count.briefed = 1;
                count.staged = u64::from(briefing.schedule.staged);
                count.divers = briefing.divers.len() as u64;
            }
            Err(BriefingError::Check(what)) => {
                count.objections.push(format!("plan {number}: {what}"));
            }
            Err(_) => count.unschedulable = 1,
        }
        count
    }

    fn and(mut self, other: Self) -> Self {
        self.briefed += other.briefed;
        self.staged += other.staged;
        self.divers += other.divers;
        self.refused += other.refused;
        self.unschedulable += other.unschedulable;
        self.objections.extend(other.objections);
        self.objections.truncate(20);
        self
    }
}

/// What becomes of so many plans, on every core.
fn counted(cases: u64, seed: u64) -> Count {
    let cores = available_parallelism().map_or(1, NonZero::get) as u64;
    std::thread::scope(|scope| {
        let share = |core: u64| {
            scope.spawn(move || {
                let numbers = (core..cases).step_by(usize::try_from(cores).unwrap());
                numbers.fold(Count::default(), |sum, number| {
                    sum.and(Count::of(number, seed))
                })
            })
        };
        let shares: Vec<_> = (0..cores).map(share).collect();
        let counts = shares.into_iter().map(|share| share.join().unwrap());
        counts.fold(Count::default(), Count::and)
    })
}

#[test]
fn two_engines_agree_on_plans_drawn_by_chance() {
    let (cases, seed) = (asked("HANGBAR_CASES", CASES), asked("HANGBAR_SEED", SEED));
    let count = counted(cases, seed);
    println!("{cases} plans of seed {seed}: {count:?}");
    assert_eq!(count.objections, Vec::<String>::new());
    // A census of plans that are refused would say nothing.
    assert!(count.briefed * 2 > cases, "{count:?}");
    assert!(count.staged * 10 > cases, "{count:?}");
}
