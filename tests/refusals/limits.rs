//! Limits, and one step past them: they stand with their subjects, and here is what must hold of
//! all.

use hangbar::plan_file::{Problem, read};

use crate::plans::edited;
use crate::{ascent, cylinders, gases, model, profile, reserve, site, team, top};

/// Which end of the accepted range a row is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum End {
    Least,
    Greatest,
}

/// A limit and one step past it, side by side; both take the place of `@`.
pub(crate) struct Limit {
    pub(crate) plan: &'static str,
    pub(crate) old: &'static str,
    pub(crate) new: &'static str,
    pub(crate) end: End,
    pub(crate) passes: &'static str,
    pub(crate) refused: &'static str,
    pub(crate) line: usize,
    pub(crate) column: usize,
    pub(crate) key: &'static str,
}

/// `PLAN "old" => "new with @" | end "passes" "refused" | line:column "key"`
macro_rules! limits {
    ($($plan:ident $old:literal => $new:literal | $end:ident $passes:literal $refused:literal
       | $line:literal:$column:literal $key:literal;)+) => {
        &[$($crate::limits::Limit {
            plan: $plan, old: $old, new: $new, end: $crate::limits::End::$end,
            passes: $passes, refused: $refused, line: $line, column: $column, key: $key,
        }),+]
    };
}
pub(crate) use limits;

/// Those of quantities.
const QUANTITIES: &[&[Limit]] = &[
    site::QUANTITIES,
    profile::QUANTITIES,
    ascent::QUANTITIES,
    gases::QUANTITIES,
    reserve::QUANTITIES,
    team::QUANTITIES,
    cylinders::QUANTITIES,
];

/// Those of everything else.
const OTHERS: &[&[Limit]] = &[
    top::OTHERS,
    profile::OTHERS,
    model::OTHERS,
    gases::OTHERS,
    reserve::OTHERS,
    team::OTHERS,
    cylinders::OTHERS,
];

#[test]
fn each_limit_passes_and_one_step_past_it_is_refused() {
    for limit in QUANTITIES.iter().chain(OTHERS).copied().flatten() {
        if let Err(errors) = read(&limit.text(limit.passes)) {
            panic!("{} {} was refused:\n{errors}", limit.key, limit.passes);
        }
        let problem = limit.refusal();
        let at = problem.position.unwrap();
        assert_eq!(
            (at.line, at.column, problem.key.as_deref()),
            (limit.line, limit.column, Some(limit.key)),
            "{}: {}",
            limit.refused,
            problem.message
        );
    }
}

#[test]
fn a_quantity_past_its_limit_is_quoted_as_it_was_written() {
    for limit in QUANTITIES.iter().copied().flatten() {
        let message = limit.refusal().message;
        let want = format!("`{}` is {}, out of range", limit.key, limit.refused);
        assert_eq!(message, want);
    }
}

/// What a message prints as accepted is: the ends of its range in either unit, and its example.
#[test]
fn the_range_and_the_example_of_a_message_are_accepted() {
    for limit in QUANTITIES.iter().copied().flatten() {
        let problem = limit.refusal();
        let accepted = problem.accepted.unwrap();
        let (range, example) = accepted.split_once(", as \"").unwrap();
        let mut figures: Vec<&str> = range
            .split(" to ")
            .flat_map(|part| part.split(" ("))
            .collect();
        let odd = limit.end == End::Greatest;
        figures = figures
            .into_iter()
            .enumerate()
            .filter(|(index, _)| (index % 2 == 1) == odd)
            .map(|(_, figure)| figure.trim_end_matches(')'))
            .collect();
        assert!(!figures.is_empty(), "no range in {accepted}");
        figures.push(example.trim_end_matches('"'));
        for figure in figures {
            if let Err(errors) = read(&limit.text(figure)) {
                panic!(
                    "{} {figure} of `{accepted}` is refused:\n{errors}",
                    limit.key
                );
            }
        }
    }
}

impl Limit {
    fn text(&self, value: &str) -> String {
        edited(self.plan, self.old, &self.new.replace('@', value))
    }

    /// The one problem that the value past the limit has.
    fn refusal(&self) -> Problem {
        match read(&self.text(self.refused)) {
            Ok(_) => panic!("{} {} passes", self.key, self.refused),
            Err(errors) => match errors.problems() {
                [problem] => problem.clone(),
                _ => panic!(
                    "{} {} has several problems:\n{errors}",
                    self.key, self.refused
                ),
            },
        }
    }
}
