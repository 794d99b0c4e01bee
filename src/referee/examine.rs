//! Going over a briefing, one question after the other.

use super::course::Rules;
use super::dive::Dived;
use super::evidence::Evidence;
use super::objection::{Judged, Objection};
use super::table::Table;
use super::{dive, gas, history, limit, oxygen};

/// Limits are leant on by so much either way before the referee objects, bar.
const LEANS_BAR: [f64; 3] = [0.0, 2e-10, -2e-10];

/// Goes over a briefing.
///
/// # Errors
/// [`Objection`], the first that is found.
pub fn examine(evidence: &Evidence<'_>) -> Result<(), Objection> {
    let table = Table::of(evidence.plan.rules());
    table.judge(evidence.plan.rules())?;
    examine_by(&table, evidence)
}

fn examine_by(table: &Table, evidence: &Evidence<'_>) -> Judged {
    let judge = |lean_bar| judge(table, evidence, lean_bar);
    let [none, more, less] = LEANS_BAR;
    judge(none).or_else(|objection| judge(more).or_else(|_| judge(less)).map_err(|_| objection))
}

fn judge(table: &Table, evidence: &Evidence<'_>, lean_bar: f64) -> Judged {
    let rules = Rules::of(evidence.plan.rules(), table, lean_bar);
    history::judge(&rules, evidence.plan)?;
    let dived = Dived {
        start: dive::body(&evidence.plan.start().tissues),
        levels: evidence.plan.levels(),
        schedule: evidence.schedule,
    };
    let dive = dive::judge(&rules, &dived)?;
    limit::judge(&rules, evidence)?;
    oxygen::judge(&rules, evidence)?;
    gas::judge(&rules, evidence, &dive)
}

#[cfg(test)]
mod tests {
    #![allow(
        clippy::unwrap_used,
        clippy::expect_used,
        reason = "a test fails by panicking"
    )]

    use super::{Table, examine, examine_by};
    use crate::briefing::{Briefing, brief};
    use crate::plan_file::read;
    use crate::referee::Question;

    /// A share by which no coefficient may be wrong.
    const A_THOUSANDTH: f64 = 1.001;

    fn briefing(profile: &str, gas: &str) -> Briefing {
        let text = format!("{profile}\n[gas]\n{gas}\n");
        brief(read(&text).unwrap()).unwrap()
    }

    fn deep() -> Briefing {
        let gas = "bottom = \"18/45\"\ndecompression = [\"EAN50\", \"oxygen\"]";
        briefing("[profile]\ndepth = \"60 m\"\nbottom_time = \"25 min\"", gas)
    }

    /// Every half-time shows in the tissues, of either gas and of every compartment.
    #[test]
    fn a_half_time_that_is_wrong_by_a_thousandth_is_seen() {
        let briefing = deep();
        let evidence = briefing.evidence();
        let right = Table::of(briefing.plan.rules());
        assert_eq!(examine_by(&right, &evidence), Ok(()));
        for index in 0..16 {
            for helium in [false, true] {
                for by in [A_THOUSANDTH, 1.0 / A_THOUSANDTH] {
                    let mut wrong = right.clone();
                    let gas = if helium {
                        &mut wrong.helium
                    } else {
                        &mut wrong.nitrogen
                    };
                    gas.k[index] *= by;
                    let seen = examine_by(&wrong, &evidence);
                    assert!(seen.is_err(), "compartment {}, helium {helium}", index + 1);
                }
            }
        }
    }

    /// The limits show where they decide: no-stop limits from 3 m to 60 m are decided by one compartment
    /// after the other, and staged dives with helium by its coefficients.
    #[test]
    fn a_limit_that_is_wrong_by_a_thousandth_is_seen_where_it_decides() {
        let mut seen = [false; 16];
        for depth_m in 8..60 {
            let profile = format!("[profile]\ndepth = \"{depth_m} m\"\nbottom_time = \"12 min\"");
            let briefing = briefing(&profile, "bottom = \"air\"");
            let decides = briefing.no_stop_limit.compartment;
            let right = Table::of(briefing.plan.rules());
            for (a, b) in [(A_THOUSANDTH, 1.0), (1.0, A_THOUSANDTH)] {
                let mut wrong = right.clone();
                wrong.nitrogen.a[decides] *= a;
                wrong.nitrogen.b[decides] *= b;
                let objection = examine_by(&wrong, &briefing.evidence());
                assert!(
                    objection.is_err(),
                    "{depth_m} m, compartment {}",
                    decides + 1
                );
            }
            seen[decides] = true;
        }
        assert!(seen.iter().filter(|seen| **seen).count() >= 8, "{seen:?}");
        let deep = deep();
        let right = Table::of(deep.plan.rules());
        let leads = deep.schedule.surfacing.index;
        for (a, b) in [(A_THOUSANDTH, 1.0), (1.0, A_THOUSANDTH)] {
            let mut wrong = right.clone();
            wrong.helium.a[leads] *= a;
            wrong.helium.b[leads] *= b;
            assert!(examine_by(&wrong, &deep.evidence()).is_err());
        }
    }

    /// Where it decides nothing on a dive it is held against the other table.
    #[test]
    fn every_coefficient_is_held_against_the_other_table() {
        let briefing = deep();
        let rules = briefing.plan.rules();
        assert_eq!(examine(&briefing.evidence()), Ok(()));
        for row in 0..6 {
            for index in 0..16 {
                let mut wrong = Table::of(rules);
                let gas = if row < 3 {
                    &mut wrong.nitrogen
                } else {
                    &mut wrong.helium
                };
                let column = [&mut gas.k, &mut gas.a, &mut gas.b];
                column.into_iter().nth(row % 3).unwrap()[index] *= A_THOUSANDTH;
                let objection = wrong.judge(rules).unwrap_err();
                assert_eq!(objection.question(), Question::Model);
            }
        }
    }
}
