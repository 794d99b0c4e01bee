//! Who dives with whom.

use predicates::prelude::*;
use predicates::str::contains;

use crate::plans::gully;
use crate::run::tried;

#[test]
fn buddies_who_do_not_match_are_refused() {
    let buddies = |ada: &str, ben: &str| {
        let plan = gully("200 bar");
        let plan = plan.replace("name = \"Ada\"", &format!("name = \"Ada\"\n{ada}"));
        plan.replace("name = \"Ben\"", &format!("name = \"Ben\"\n{ben}"))
    };
    let mine = "standard input:18:9  [[diver]] 1, key `buddy`";
    for (ada, ben, words) in [
        ("buddy = \"Bne\"", "", "nobody is called \"Bne\""),
        ("buddy = \"Ada\"", "", "Ada cannot be their own buddy"),
        (
            "buddy = \"Ben\"",
            "",
            "Ada names Ben as buddy, but not the other way round",
        ),
    ] {
        tried(&["brief", "-"], &buddies(ada, ben))
            .code(2)
            .stdout("")
            .stderr(contains(words).and(contains(mine)));
    }
    tried(
        &["brief", "-"],
        &buddies("buddy = \"Ben\"", "buddy = \"Ada\""),
    )
    .code(0);
}

#[test]
fn a_group_of_four_buddies_is_refused_and_one_of_three_is_not() {
    let team = |count: usize| {
        let names = ["Ada", "Ben", "Cleo", "Dag"];
        let mut plan = String::from("[profile]\ndepth = \"12 m\"\nbottom_time = \"20 min\"\n");
        for index in 0..count {
            let (name, buddy) = (names[index], names[(index + 1) % count]);
            plan.push_str(&format!(
                "[[diver]]\nname = \"{name}\"\nbuddy = \"{buddy}\"\nsac = \"15 L/min\"\n\
                 cylinder = {{ size = \"12 L\", fill = \"200 bar\" }}\n"
            ));
        }
        plan
    };
    tried(&["brief", "-"], &team(2)).code(0);
    tried(&["brief", "-"], &team(3)).code(0);
    tried(&["brief", "-"], &team(4))
        .code(2)
        .stderr(contains("4 divers are linked as buddies"));
}
