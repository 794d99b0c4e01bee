//! Twins, and the working pressure of a cylinder in litres.

use hangbar::plan_file::{Overrides, read, read_with};

use crate::plans::{REEF, SAME, edited, only, refusal};

/// The places where a cylinder may stand, with `@` for what says how large it is.
const PLACES: [(&str, &str); 3] = [
    ("cylinder", "cylinder = { @, fill = \"200 bar\" }\n"),
    (
        "pony",
        "cylinder = { size = \"12 L\", fill = \"200 bar\" }\npony = { @, fill = \"200 bar\" }\n",
    ),
    (
        "stage",
        "cylinder = { size = \"12 L\", fill = \"200 bar\" }\n\
         stage = [{ gas = \"EAN50\", @, fill = \"200 bar\" }]\n",
    ),
];

/// A plan whose cylinder at that place is so large.
fn with_cylinder(form: &str, size: &str) -> String {
    let old = "cylinder = { size = \"12 L\", fill = \"200 bar\" }\n";
    let text = edited(REEF, old, &form.replace('@', size));
    text.replace(
        "[[diver]]",
        "[gas]\ndecompression = [\"EAN50\"]\n\n[[diver]]",
    )
}

/// Inner volume in litres and working pressure in bar of the cylinder at that place.
fn cylinder(place: &str, form: &str, size: &str) -> (f64, Option<f64>) {
    let plan = match read(&with_cylinder(form, size)) {
        Ok(plan) => plan,
        Err(errors) => panic!("{place} {size}:\n{errors}"),
    };
    let diver = &plan.divers()[0];
    let cylinder = match place {
        "pony" => diver.pony.unwrap().cylinder,
        "stage" => diver.stages[0].cylinder,
        _ => diver.cylinder,
    };
    let working = cylinder.working.map(|working| working.as_bar());
    (cylinder.water.as_l(), working)
}

#[test]
fn twins_hold_twice_what_one_of_them_holds_wherever_a_cylinder_may_stand() {
    for (place, form) in PLACES {
        let (one, _) = cylinder(place, form, "rated = \"80 cuft\", at = \"3000 psi\"");
        for size in ["2x10 L", "2 x 10 L", "2×10 L", "2X10L", " 2 × 10 litres "] {
            let (both, working) = cylinder(place, form, &format!("size = \"{size}\""));
            assert!((both - 20.0).abs() < SAME, "{place} {size}: {both} L");
            assert_eq!(working, None);
        }
        for size in ["2x80 cuft", "2 x 80 cuft", "2×80 cu ft"] {
            let rated = format!("rated = \"{size}\", at = \"3000 psi\"");
            let (both, working) = cylinder(place, form, &rated);
            assert!((both - 2.0 * one).abs() < SAME, "{place} {size}: {both} L");
            // 3000 psi at 6894.757293168 Pa each.
            assert!((working.unwrap() - 206.842_718_795_04).abs() < SAME);
        }
    }
}

#[test]
fn a_breathing_rate_in_pressure_is_one_of_both_twins() {
    let rate = |size: &str| {
        let text = with_cylinder(PLACES[0].1, size).replace("15 L/min", "1 bar/min");
        read(&text).unwrap().divers()[0].breathing.as_l_min()
    };
    let (one, both) = (rate("size = \"12 L\""), rate("size = \"2x12 L\""));
    assert!((both - 2.0 * one).abs() < SAME, "{one} and {both}");
}

#[test]
fn any_other_number_of_cylinders_is_refused_with_how_twins_are_written() {
    for (place, form) in PLACES {
        for size in [
            "3x10 L", "1x10 L", "2x", "2 x ", "0x10 L", "2.0x10 L", "20x10 L", "02x10 L",
        ] {
            let problem = match read(&with_cylinder(form, &format!("size = \"{size}\""))) {
                Ok(_) => panic!("{place} {size} is read"),
                Err(errors) => only(errors),
            };
            assert_eq!(problem.key.as_deref(), Some("size"), "{place} {size}");
            assert_eq!(problem.message, format!("`size` is \"{}\"", size.trim()));
            let accepted = problem.accepted.unwrap();
            let twins = "twins, two equal cylinders with an open manifold, as \"2x12 L\"";
            assert!(accepted.contains(twins), "{accepted}");
        }
    }
}

#[test]
fn what_was_meant_as_twins_is_told_how_they_are_written() {
    let old = "size = \"12 L\"";
    for (size, message) in [
        ("2x10", "`size`: `10` has no unit"),
        (
            "2x ten L",
            "`size`: `ten L` does not begin with a plain number",
        ),
        ("2x80 cuft", "`size`: `cuft` is a unit of capacity"),
        ("2x-10 L", "`size` is -10 L, out of range"),
        ("10 L x 2", "`size`: `L x 2` is not a known unit"),
        ("2*10 L", "`size`: `*10 L` is not a known unit"),
        (
            "twin 10 L",
            "`size`: `twin 10 L` does not begin with a plain number",
        ),
        ("2x2x10 L", "`size`: `x10 L` is not a known unit"),
    ] {
        let problem = refusal(REEF, old, &format!("size = \"{size}\""));
        assert!(problem.message.starts_with(message), "{}", problem.message);
        let accepted = problem.accepted.unwrap();
        assert!(accepted.contains("as \"2x12 L\""), "{size}: {accepted}");
    }
    // Whoever only missed the unit is not told about manifolds.
    let problem = refusal(REEF, old, "size = \"12\"");
    assert_eq!(problem.accepted.unwrap(), "0.2 L to 100 L, as \"12 L\"");
}

#[test]
fn both_twins_together_are_held_to_the_range_of_an_inner_volume() {
    assert!(read(&edited(REEF, "\"12 L\"", "\"2x50 L\"")).is_ok());
    let problem = refusal(REEF, "\"12 L\"", "\"2x50.1 L\"");
    assert_eq!(problem.message, "`size` is 2x50.1 L, out of range");
    let accepted = problem.accepted.unwrap();
    assert_eq!(accepted, "0.2 L to 100 L for both together");
    // 2 · 15000 L · 1.01325 bar / 300 bar = 101.3 L.
    let problem = refusal(
        REEF,
        "size = \"12 L\"",
        "rated = \"2x15000 L\", at = \"300 bar\"",
    );
    assert!(problem.message.contains("101.3"), "{}", problem.message);
}

#[test]
fn a_cylinder_in_litres_may_say_its_working_pressure() {
    for (place, form) in PLACES {
        let (water, working) = cylinder(place, form, "size = \"12 L\", at = \"232 bar\"");
        assert!((water - 12.0).abs() < SAME);
        assert!((working.unwrap() - 232.0).abs() < SAME, "{place}");
        let (water, working) = cylinder(place, form, "size = \"2x12 L\", at = \"232 bar\"");
        assert!((water - 24.0).abs() < SAME);
        assert!((working.unwrap() - 232.0).abs() < SAME, "{place}");
    }
}

/// 232 bar and a tenth are 255.2 bar.
#[test]
fn a_fill_more_than_a_tenth_above_that_working_pressure_is_refused() {
    let filled = |fill: &str| {
        let new = format!("size = \"12 L\", at = \"232 bar\", fill = \"{fill}\"");
        read(&edited(REEF, "size = \"12 L\", fill = \"200 bar\"", &new))
    };
    assert!(filled("255.2 bar").is_ok());
    let problem = only(filled("255.3 bar").unwrap_err());
    assert_eq!(problem.key.as_deref(), Some("fill"));
    assert!(
        problem.message.ends_with("% above the working pressure"),
        "{}",
        problem.message
    );
    // The fill of the day is held to it too.
    let overrides = Overrides {
        fills: vec![("Ines".to_owned(), "260 bar".to_owned())],
        ..Overrides::default()
    };
    let text = edited(REEF, "size = \"12 L\"", "size = \"12 L\", at = \"232 bar\"");
    let problem = only(read_with(&text, &overrides).unwrap_err());
    assert_eq!(problem.overridden_by, Some("--fill"));
}

#[test]
fn a_working_pressure_says_what_it_is_of_and_in_which_unit() {
    let problem = refusal(REEF, "size = \"12 L\"", "size = \"12 L\", at = \"232\"");
    assert_eq!(problem.key.as_deref(), Some("at"));
    assert_eq!(problem.message, "`at`: `232` has no unit");
    let problem = refusal(REEF, "size = \"12 L\"", "at = \"232 bar\"");
    assert_eq!(problem.message, "`at` is given without `size` or `rated`");
    for size in [
        "size = \"12 L\", rated = \"80 cuft\"",
        "size = \"12 L\", rated = \"80 cuft\", at = \"3000 psi\"",
    ] {
        let problem = refusal(REEF, "size = \"12 L\"", size);
        assert_eq!(problem.message, "the cylinder has both `size` and `rated`");
        let accepted = problem.accepted.unwrap();
        assert!(accepted.contains("either size = \"12 L\", or rated = \"80 cuft\" with at"));
    }
}
