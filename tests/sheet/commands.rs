//! Where a sheet goes, and what is refused.

use std::fs;

use assert_cmd::Command;
use predicates::prelude::*;
use predicates::str::{contains, is_empty};

use crate::folder::Folder;
use crate::made::{ran, root};

const PLAN: &str = "plans/kittiwake-wall.toml";

fn sheet(arguments: &[&str]) -> assert_cmd::assert::Assert {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hangbar"));
    command
        .current_dir(root())
        .arg("sheet")
        .args(arguments)
        .assert()
}

#[test]
fn a_sheet_in_a_file_is_that_of_standard_output_and_its_verdict_is_told() {
    let folder = Folder::new("sheet-output");
    let path = folder.path().join("sheet.html");
    let name = path.to_str().unwrap();
    for (plan, status, told) in [
        (PLAN, 0, "GO  Kittiwake Wall, two ledges\n"),
        ("plans/kelp-steps.toml", 1, "NO-GO  Kelp Steps, too soon\n"),
    ] {
        sheet(&[plan, "-o", name])
            .code(status)
            .stdout(told)
            .stderr(contains("note: wrote the sheet to ").and(contains("sheet.html")));
        let (html, _) = ran(&["sheet", plan]);
        assert_eq!(fs::read_to_string(&path).unwrap(), html);
    }
}

#[test]
fn what_is_no_sheet_stays_as_it_is() {
    let folder = Folder::new("sheet-kept");
    let kept = folder.write("plan.toml", "kept");
    sheet(&[PLAN, "-o", kept.to_str().unwrap()])
        .code(2)
        .stdout(is_empty())
        .stderr(contains("plan.toml is no name for a sheet").and(contains("ends in .html")));
    sheet(&[PLAN, "-o", "-"])
        .code(2)
        .stderr(contains("error: - is no name for a sheet"));
    let text = fs::read_to_string(root().join(PLAN)).unwrap();
    let plan = folder.write("dive.html", &text);
    let plan = plan.to_str().unwrap();
    sheet(&[plan, "-o", plan])
        .code(2)
        .stdout(is_empty())
        .stderr(contains(
            "dive.html is the plan itself, and is left as it is",
        ));
    assert_eq!(fs::read_to_string(plan).unwrap(), text);
    fs::create_dir(folder.path().join("inside.html")).unwrap();
    let inside = folder.path().join("inside.html");
    sheet(&[PLAN, "-o", inside.to_str().unwrap()])
        .code(2)
        .stdout(is_empty())
        .stderr(contains("is no file, and is left as it is").and(contains("option --output")));
    #[cfg(unix)]
    {
        let link = folder.path().join("link.html");
        std::os::unix::fs::symlink(&kept, &link).unwrap();
        sheet(&[PLAN, "-o", link.to_str().unwrap()])
            .code(2)
            .stderr(contains("is a link, and is left as it is"));
    }
    assert_eq!(fs::read_to_string(kept).unwrap(), "kept");
}

#[test]
fn a_plan_that_is_refused_makes_no_sheet() {
    let folder = Folder::new("sheet-refused");
    let plan = folder.write("plan.toml", "title = 7\n");
    let path = folder.path().join("sheet.html");
    let (plan, output) = (plan.to_str().unwrap(), path.to_str().unwrap());
    sheet(&[plan, "-o", output])
        .code(2)
        .stdout(is_empty())
        .stderr(contains("plan.toml:1"));
    sheet(&[PLAN, plan, "-o", output])
        .code(2)
        .stderr(contains("plan.toml:1"));
    assert!(!path.exists());
}

#[test]
fn options_of_one_plan_are_not_those_of_a_day() {
    let two = [PLAN, "plans/slack-water.toml"];
    for (arguments, option) in [
        (["--fill", "Tove=200 bar"], "--fill"),
        (["--bottom-time", "20 min"], "--bottom-time"),
        (["--splash", "10:00"], "--splash"),
        (["--depth", "20 m"], "--depth"),
        (["--arrived", "90 min"], "--arrived"),
        (["--home-altitude", "20 m"], "--home-altitude"),
    ] {
        sheet(&[&two[..], &arguments].concat())
            .code(2)
            .stderr(contains(format!("option {option}")).and(contains("said of one plan")));
    }
    for (arguments, option) in [
        (["--interval", "75 min"], "--interval"),
        (["--home-by", "16:00"], "--home-by"),
    ] {
        sheet(&[&[PLAN][..], &arguments].concat())
            .code(2)
            .stderr(contains(format!("option {option}")).and(contains("one plan is no day")));
    }
    sheet(&[&two[..], &["--fly-at", "noon"]].concat())
        .code(2)
        .stderr(contains("option --fly-at").and(contains("18:00+1")));
    sheet(&[PLAN, "--slate", "--skipper"]).code(2);
    sheet(&[PLAN, "--slate", "--paper", "a4"]).code(2);
}

/// What differs on the day is on the paper as it is on the screen.
#[test]
fn a_sheet_is_of_the_dive_as_it_differs_on_the_day() {
    let (html, _) = ran(&["sheet", PLAN, "--splash", "12:05", "--fill", "Mara=190 bar"]);
    assert!(
        html.contains("Splash 12:05.") && html.contains("190 bar"),
        "{html}"
    );
    let (html, status) = ran(&["sheet", PLAN, "--bottom-time", "200 min"]);
    assert!(status == 1 && html.contains(">NO-GO</span>"));
    let (html, _) = ran(&["sheet", "plans/orla-finch.toml", "--units", "metric"]);
    assert!(html.contains("27.5 m") || html.contains("27.4 m"), "{html}");
    let (html, status) = ran(&["sheet", PLAN, "--fly-at", "18:00"]);
    assert!(status == 1 && html.contains("flight"), "{html}");
}

#[test]
fn the_paper_that_is_asked_for_is_said_to_the_printer() {
    for (arguments, rule) in [
        (&[][..], "@page{margin:8mm}"),
        (&["--paper", "a4"], "@page{size:A4;margin:8mm}"),
        (&["--paper", "letter"], "@page{size:letter;margin:8mm}"),
        (&["--slate"], "@page{size:105mm 148mm;margin:6mm}"),
    ] {
        let (html, _) = ran(&[&["sheet", PLAN], arguments].concat());
        assert!(html.contains(rule), "{arguments:?}");
    }
}
