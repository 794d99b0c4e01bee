//! `hangbar keys`: the keys on screens of any width, a table of them, and names that are none.

use predicates::str::is_empty;

use crate::read::too_wide;
use crate::run::{hangbar, json_of, parsed, stdout};

#[test]
fn the_keys_fit_every_width() {
    for columns in 40..=80 {
        for more in [&[][..], &["--record"]] {
            let columns = columns.to_string();
            let text = stdout(&[&["keys", "--columns", &columns][..], more].concat());
            let wide: Vec<&str> = text
                .lines()
                .filter(|line| line.chars().count() > columns.parse().unwrap())
                .collect();
            assert_eq!(wide, Vec::<&str>::new(), "{columns}");
        }
    }
    assert_eq!(too_wide(&stdout(&["keys"])), Vec::<String>::new());
}

#[test]
fn a_table_is_shown_alone_with_those_in_it_whatever_brackets_it_has() {
    let diver = stdout(&["keys", "diver"]);
    for heading in [
        "\n[[diver]]: ",
        "\n[[diver]] cylinder: ",
        "\n[[diver]] pony: ",
        "\n[[diver]] stage: ",
    ] {
        assert_eq!(diver.matches(heading).count(), 1, "{heading}");
    }
    assert_eq!(diver.matches("\n[").count(), 4);
    assert_eq!(diver, stdout(&["keys", "[[diver]]"]));
    let cylinder = stdout(&["keys", "diver.cylinder"]);
    assert_eq!(cylinder.matches("\n[").count(), 1);
    let top = stdout(&["keys", "top"]);
    assert!(
        top.contains("\nAt the top: ") && !top.contains("\n["),
        "{top}"
    );

    let json = json_of(&["keys", "diver", "--format", "json"]);
    assert_eq!(json["schema"], "hangbar/keys/1");
    let paths = json["tables"].as_array().unwrap().iter();
    let paths: Vec<&str> = paths.map(|one| one["path"].as_str().unwrap()).collect();
    assert_eq!(
        paths,
        ["diver", "diver.cylinder", "diver.pony", "diver.stage"]
    );
}

#[test]
fn the_defaults_of_both_kinds_of_plans_stand_in_the_document() {
    let json = json_of(&["keys", "ascent", "--format", "json"]);
    let keys = json["tables"][0]["keys"].as_array().unwrap();
    let rate = keys.iter().find(|key| key["name"] == "rate").unwrap();
    assert_eq!(rate["without_metric"], "\"9 m/min\"");
    assert_eq!(rate["without_imperial"], "\"30 ft/min\"");
    assert_eq!(rate["ranges"][0]["units"][1], "ft/min");
    assert_eq!(rate["ranges"][0]["greatest"], 30.0);
}

#[test]
fn no_such_table_is_refused_with_those_that_there_are() {
    let mut command = hangbar();
    let refused = command.args(["keys", "dvier"]).assert();
    refused.code(2).stdout(is_empty()).stderr(
        "error: no table of the file is called dvier; did you mean diver?\n --> option TABLE\n  \
         = accepted: top, site, profile, profile.level, ascent, ascent.safety_stop, model, gas, \
         reserve, reserve.hang, surface, diver, diver.cylinder, diver.pony, diver.stage, before, \
         before.level\n",
    );
    let mut command = hangbar();
    let refused = command.args(["keys", "site", "--record", "--format", "json"]);
    let refused = refused.assert().code(2);
    let document: serde_json::Value = parsed(&refused.get_output().stdout);
    assert_eq!(document["schema"], "hangbar/errors/1");
    assert_eq!(document["errors"][0]["option"], "TABLE");
    assert_eq!(document["errors"][0]["accepted"], "top, diver");
}
