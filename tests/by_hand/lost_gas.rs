//! One diver's gas is gone: whose gas then, and how far up it reaches.

use approx::assert_abs_diff_eq;
use hangbar::briefing::Briefing;
use hangbar::gas::PonyVerdict;
use hangbar::gas::RescueOutcome;
use hangbar::plan::partners;

use crate::pencil::{BAR, LITRES, MINUTES, briefed};

#[test]
fn the_reserve_counts_the_declared_buddies_and_everybody_else_without_one() {
    // Ada and Cleo are a pair: (15 + 12) · 1.5 · 11.033309; Ben has nobody and may share with
    // Ada, who breathes most of the others: 35 · 1.5 · 11.033309.
    let third = "[[diver]]\n        name = \"Cleo\"\n        sac = \"12 L/min\"\n        \
                 cylinder = { size = \"15 L\", fill = \"200 bar\" }\n        buddy = \"Ada\"\n        \
                 [[diver]]\n        name = \"Ben";
    let paired = briefed(&[
        ("name = \"Ada\"", "name = \"Ada\"\nbuddy = \"Cleo\""),
        ("[[diver]]\n        name = \"Ben", third),
    ]);
    let [ada, cleo, ben] = &paired.divers[..] else {
        panic!("three divers");
    };
    for (diver, partner, want) in [
        (ada, "Cleo", 446.8490),
        (cleo, "Ada", 446.8490),
        (ben, "Ada", 579.2487),
    ] {
        let shares = diver
            .partner
            .map(|index| paired.divers[index].name.as_str());
        assert_eq!(shares, Some(partner), "{}", diver.name);
        assert_abs_diff_eq!(diver.reserve.as_l(), want, epsilon = LITRES);
    }
    let donors: Vec<_> = paired
        .lost_gas
        .iter()
        .map(|lost| lost.shared.as_ref().unwrap().donor.as_deref().unwrap())
        .collect();
    assert_eq!(donors, ["Cleo", "Ada", "Ada"]);
}

#[test]
fn a_diver_without_gas_gets_up_on_the_other_s() {
    let briefing = briefed(&[]);
    // On Ben's: 1973.8465 − 1092.8201 = 881.0264 L less 579.2487: 301.7777 L; · 1.01325/10.
    // On Ada's: 969.7520 L; · 1.01325/12.
    for (index, donor, want) in [(0, "Ben", 30.5776), (1, "Ada", 81.8834)] {
        let rescue = briefing.lost_gas[index].shared.as_ref().unwrap();
        assert_eq!(rescue.donor.as_deref(), Some(donor));
        assert_abs_diff_eq!(rescue.run_time.as_min(), 20.0, epsilon = MINUTES);
        let RescueOutcome::EveryStop { left } = rescue.outcome else {
            panic!("{:?}", rescue.outcome);
        };
        assert_abs_diff_eq!(left.as_bar(), want, epsilon = BAR);
    }
}

#[test]
fn a_partner_with_too_little_gas_costs_the_stop_or_the_surface() {
    let fill = |bar: &str| {
        let new = format!("cylinder = {{ size = \"10 L\", fill = \"{bar}\" }}");
        let briefing = briefed(&[("cylinder = { size = \"10 L\", fill = \"200 bar\" }", &new)]);
        briefing.lost_gas[0].shared.clone().unwrap().outcome
    };
    // At 52.5 L/min for two: the sort-out takes 2.776462 atm·min (145.7642 L), the way to 5 m
    // 3.083834 (161.9013), the stop 4.480385 (235.2202), the rest 0.692628; straight up takes
    // 6.552924 (344.0285 L) in all.
    // 160 bar: 1579.0772 − 1092.8201 = 486.2571 L: 178.5916 L into the stop, 178.5916/78.40674
    // = 2.277759 min of it; empty at 20 + 1 + 13/9 + 2.277759.
    let RescueOutcome::StopsMissed {
        empty_at,
        empty_depth,
        missed,
    } = fill("160 bar")
    else {
        panic!("160 bar");
    };
    assert_abs_diff_eq!(empty_at.as_min(), 24.722203, epsilon = MINUTES);
    assert_abs_diff_eq!(empty_depth.as_m(), 5.0, epsilon = 1e-9);
    assert_abs_diff_eq!(missed.as_min(), 0.722241, epsilon = MINUTES);
    // 135 bar: 1332.3464 − 1092.8201 = 239.5263 L; after the sort-out 93.7621 L = 1.785945
    // atm·min = 1.809609 bar·min from 18 m on: 2.81325·t − 0.45·t² = 1.809609, t = 0.728026 min
    // (the rate is 0.9 bar/min), 18 − 9·0.728026 = 11.4478 m.
    let RescueOutcome::NotEnough { empty_depth } = fill("135 bar") else {
        panic!("135 bar");
    };
    assert_abs_diff_eq!(empty_depth.as_m(), 11.4478, epsilon = 1e-3);
}

#[test]
fn a_partner_who_is_empty_already_helps_nobody() {
    // 100 bar: 986.9233 L, less than the 1092.8201 that Ben breathes on the bottom.
    let new = "cylinder = { size = \"10 L\", fill = \"100 bar\" }";
    let briefing = briefed(&[("cylinder = { size = \"10 L\", fill = \"200 bar\" }", new)]);
    let rescue = briefing.lost_gas[0].shared.as_ref().unwrap();
    let RescueOutcome::NotEnough { empty_depth } = rescue.outcome else {
        panic!("{:?}", rescue.outcome);
    };
    assert_abs_diff_eq!(empty_depth.as_m(), 18.0, epsilon = 1e-9);
}

#[test]
fn a_pony_is_empty_where_pencil_and_paper_say() {
    // 1 L at 130 bar: 120/1.01325 = 118.4308 L at 15 · 1.5 = 22.5 L/min = 5.263593 atm·min.
    // Sort-out 2.776462; straight up the rest is 2.487131 atm·min = 2.520086 bar·min:
    // 2.81325·t − 0.45·t² = 2.520086, t = 1.083618 min, 18 − 9·1.083618 = 8.2474 m.
    let pony = "cylinder = { size = \"12 L\", fill = \"200 bar\" }\npony = { size = \"1 L\", fill = \"130 bar\" }";
    let briefing = briefed(&[("cylinder = { size = \"12 L\", fill = \"200 bar\" }", pony)]);
    let rescue = briefing.lost_gas[0].pony.as_ref().unwrap();
    let RescueOutcome::NotEnough { empty_depth } = rescue.outcome else {
        panic!("{:?}", rescue.outcome);
    };
    assert_abs_diff_eq!(empty_depth.as_m(), 8.2474, epsilon = 1e-3);
    assert_eq!(briefing.divers[0].pony.unwrap().verdict, PonyVerdict::Short);
}

#[test]
fn without_buddies_the_partner_is_whoever_has_least_to_spare() {
    let third = r#"
        [[diver]]
        name = "Cleo"
        sac = "12 L/min"
        cylinder = { size = "15 L", fill = "200 bar" }
        [[diver]]
        name = "Ben""#;
    let alone = briefed(&[(
        "[[diver]]\n        name = \"Ben",
        third.trim_end_matches('"'),
    )]);
    let donors = |briefing: &Briefing| -> Vec<String> {
        let each = briefing.lost_gas.iter();
        each.map(|lost| lost.shared.clone().unwrap().donor.unwrap())
            .collect()
    };
    // Ben has least by far; Ben himself is left with Ada, whose cylinder is smaller than Cleo's.
    assert_eq!(donors(&alone), ["Ben", "Ben", "Ada"]);
    let paired = briefed(&[
        ("name = \"Ada\"", "name = \"Ada\"\nbuddy = \"Cleo\""),
        (
            "[[diver]]\n        name = \"Ben",
            third.trim_end_matches('"'),
        ),
        ("name = \"Cleo\"", "name = \"Cleo\"\nbuddy = \"Ada\""),
    ]);
    assert_eq!(donors(&paired), ["Cleo", "Ada", "Ada"]);
    assert_eq!(partners(paired.plan.divers(), 0), [1]);
    assert_eq!(partners(paired.plan.divers(), 2), [0, 1]);
}

#[test]
fn who_cannot_get_anybody_up_is_the_worst_donor_whatever_the_litres() {
    // Ada, 40 L/min, 13.7 L: 2704.17 − 40 · 54.641007 = 518.53 L on leaving the bottom; with Cleo's
    // 10 at stress 1.5 straight up takes 75 · 6.552924 = 491.47, with the stop 827.50: 309 L short.
    // Ben, 10 L/min, 3.7 L: 730.32 − 546.41 = 183.91 L; 30 · 6.552924 = 196.59 and 331.00: 147 L
    // short alone, and yet not even straight to the surface.
    let briefing = briefed(&[
        ("sac = \"15 L/min\"", "sac = \"40 L/min\""),
        ("size = \"12 L\"", "size = \"13.7 L\""),
        ("sac = \"20 L/min\"", "sac = \"10 L/min\""),
        (
            "size = \"10 L\", fill = \"200 bar\" }",
            "size = \"3.7 L\", fill = \"200 bar\" }\n\
             [[diver]]\nname = \"Cleo\"\nsac = \"10 L/min\"\n\
             cylinder = { size = \"12 L\", fill = \"200 bar\" }",
        ),
    ]);
    let lost = briefing.lost_gas[2].shared.as_ref().unwrap();
    assert_eq!(lost.donor.as_deref(), Some("Ben"));
    let outcome = &lost.outcome;
    assert!(
        matches!(outcome, RescueOutcome::NotEnough { .. }),
        "{outcome:?}"
    );
    // Ben's way out is Ada's gas: to the surface, the stop missed.
    let lost = briefing.lost_gas[1].shared.as_ref().unwrap();
    assert_eq!(lost.donor.as_deref(), Some("Ada"));
    let outcome = &lost.outcome;
    assert!(
        matches!(outcome, RescueOutcome::StopsMissed { .. }),
        "{outcome:?}"
    );
}
