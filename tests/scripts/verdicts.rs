//! Title, verdict and exit status of every document.

use serde_json::{Value, json};

use crate::program::{LATE, REEF, SKETCH, developers, run};
use crate::tables::table;

#[test]
fn every_document_of_a_plan_has_its_title_and_verdict() {
    for (plan, title, verdict, status) in [
        (REEF, json!("Copper Reef"), "go", 0),
        (LATE, Value::Null, "no-go", 1),
        (SKETCH, json!("Sketch"), "schedule-only", 0),
    ] {
        for command in ["brief", "whatif", "trace", "explain", "check"] {
            let ended = run(&[command, "-", "--format", "json"], plan);
            let document = ended.json();
            assert_eq!(document["title"], title, "{command}");
            assert_eq!(document["verdict"], verdict, "{command}");
            assert_eq!(ended.status, status, "{command} {verdict}");
        }
        // Limits are those of a site, whatever dive is planned there.
        let ended = run(&["limits", "-", "--format", "json"], plan);
        assert_eq!(ended.json()["title"], title);
        assert_eq!(ended.json().get("verdict"), None);
        assert_eq!(ended.status, 0);
    }
    // A gas has its own, and no verdict: not being a no-go is no leave to dive.
    for (depth, status) in [("20m", 0), ("60m", 1)] {
        let line = [
            "mix", "EAN32", "--plan", "-", "--depth", depth, "--format", "json",
        ];
        let ended = run(&line, REEF);
        assert_eq!(ended.json()["title"], "Copper Reef");
        assert_eq!(ended.json().get("verdict"), None);
        assert_eq!(ended.json()["is_no_go"], status == 1);
        assert_eq!(ended.status, status);
    }
    let ended = run(&["limits", "--format", "json"], "");
    assert_eq!(ended.json()["title"], Value::Null);
}

#[test]
fn the_status_of_a_what_if_is_that_of_the_plan_itself() {
    // So late it is a no-go; the plan is none.
    let ended = run(
        &["whatif", "-", "--late", "90min", "--format", "json"],
        REEF,
    );
    assert_eq!(ended.json()["changes"][0]["outcome"]["verdict"], "no-go");
    assert_eq!(ended.json()["verdict"], "go");
    assert_eq!(ended.status, 0);
}

#[test]
fn every_exit_status_stands_in_the_table_and_in_the_help() {
    let text = developers();
    let (_, section) = text.split_once("\n## For scripts").unwrap();
    let rows = table(section);
    let documented: Vec<&str> = rows.iter().map(|row| row[0].as_str()).collect();
    assert_eq!(documented, ["0", "1", "2", "3"]);
    let help = run(&["--help"], "").stdout;
    for status in documented {
        assert!(help.contains(&format!("\n  {status}  ")), "{help}");
    }
}
