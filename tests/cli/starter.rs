//! `hangbar new`: the file that it writes, and over what it writes nothing.

use std::fs;

use predicates::str::{contains, is_empty, starts_with};

use crate::folder::Folder;
use crate::run::{hangbar, stdout, text_of};

#[test]
fn a_starter_is_written_and_briefed_under_a_title_that_says_what_it_is() {
    let folder = Folder::new("cli-starter");
    for more in [&[][..], &["--imperial"], &["--divers", "4"]] {
        let file = folder.path().join(format!("dive{}.toml", more.len()));
        let file = file.to_str().unwrap();
        let written = hangbar().arg("new").args(more).arg(file).assert();
        written.code(0).stdout(is_empty()).stderr(format!(
            "note: wrote a starter plan to {file}: its figures are examples, put in your own\n"
        ));
        let arguments = [&["new"], more, &["-"]].concat();
        assert_eq!(fs::read_to_string(file).unwrap(), stdout(&arguments));
        let divers = if more.contains(&"4") { 4 } else { 2 };
        let briefing = stdout(&["brief", file]);
        assert!(briefing.starts_with("GO  Starter plan: put in your own figures\n"));
        assert!(briefing.contains(&format!("Diver {divers}")), "{briefing}");
        assert!(!briefing.contains(&format!("Diver {}", divers + 1)));
        assert_eq!(briefing.contains(" psi"), more.contains(&"--imperial"));
    }
}

#[test]
fn whatever_has_the_name_stays_as_it_is() {
    let folder = Folder::new("cli-starter-there");
    let file = folder.write("mine.toml", "title = \"mine\"\n");
    fs::create_dir(folder.path().join("folder.toml")).unwrap();
    #[cfg(unix)]
    std::os::unix::fs::symlink("nowhere", folder.path().join("link.toml")).unwrap();
    let names: &[&str] = if cfg!(unix) {
        &["mine.toml", "folder.toml", "link.toml"]
    } else {
        &["mine.toml", "folder.toml"]
    };
    for name in names {
        let path = folder.path().join(name);
        let refused = hangbar().arg("new").arg(&path).assert();
        refused.code(2).stdout(is_empty()).stderr(contains(format!(
            "{} is there already, and is left as it is\n --> option FILE.toml\n",
            path.to_str().unwrap()
        )));
    }
    assert_eq!(fs::read_to_string(file).unwrap(), "title = \"mine\"\n");
    assert!(!folder.path().join("nowhere").exists());
    let left = fs::read_dir(folder.path()).unwrap().count();
    assert_eq!(left, names.len(), "something was left behind");
}

#[test]
fn a_name_that_is_no_plan_s_and_a_boat_that_is_too_full_get_no_file() {
    let folder = Folder::new("cli-starter-refused");
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    for (file, more, message) in [
        ("plan", &[][..], "is no name for a plan"),
        ("plan.txt", &[], "is no name for a plan"),
        ("none/plan.toml", &[], "there is no such folder"),
        (
            "plan.toml",
            &["--divers", "0"],
            "a starter plan for 0 divers",
        ),
        (
            "plan.toml",
            &["--divers", "51"],
            "a starter plan for 51 divers",
        ),
        ("plan.toml", &["--divers", "two"], "invalid value 'two'"),
        ("plan.toml", &["--divers", "-1"], "unexpected argument"),
    ] {
        let mut command = hangbar();
        let refused = command.arg("new").args(more).arg(path(file)).assert();
        let refused = refused
            .code(2)
            .stdout(is_empty())
            .stderr(starts_with("error: "));
        let told = text_of(&refused.get_output().stderr);
        assert!(told.contains(message), "{told}");
    }
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    hangbar().arg("new").assert().code(2).stdout(is_empty());
}
