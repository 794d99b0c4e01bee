//! Charts in characters, which only a terminal gets.

use predicates::prelude::*;
use predicates::str::contains;

use crate::folder::Folder;
use crate::run::tried;

#[test]
fn a_chart_in_characters_is_only_for_a_terminal() {
    tried(&["limits", "--chart"], "")
        .code(0)
        .stdout(contains("No-stop limits in minutes").and(contains('|').not()))
        .stderr(contains("standard output is not a terminal"));
}

#[test]
fn a_picture_and_a_chart_may_be_asked_for_together() {
    let folder = Folder::new("cli-both");
    let path = folder.path().join("both.svg");
    let shown = path.to_str().unwrap();
    tried(
        &["trace", "plans/anvil.toml", "--picture", shown, "--chart"],
        "",
    )
    .code(0)
    .stderr(contains("standard output is not a terminal"));
    assert!(path.exists());
}
