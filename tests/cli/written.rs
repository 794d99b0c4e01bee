//! Files that are written: the whole of one or nothing, and nothing but the one that is named.

use std::fs;
use std::path::Path;
use std::process::{Child, Command, Stdio};

use predicates::str::contains;

use crate::folder::Folder;
use crate::run::tried;

/// Sites of the charter, each with another picture.
const PLANS: [&str; 6] = [
    "plans/sand-garden.toml",
    "plans/anvil.toml",
    "plans/long-ledge.toml",
    "plans/orla-finch.toml",
    "plans/kittiwake-wall.toml",
    "plans/hollin-tarn.toml",
];

fn traced(plan: &str, picture: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hangbar"));
    command
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(["trace", plan, "--picture"])
        .arg(picture);
    command
}

fn begun(plan: &str, picture: &Path) -> Child {
    let mut command = traced(plan, picture);
    command.stdout(Stdio::null()).stderr(Stdio::null());
    command.spawn().unwrap()
}

fn names(folder: &Folder) -> Vec<String> {
    let entries = fs::read_dir(folder.path()).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn of_six_writers_at_once_one_leaves_its_picture_and_a_reader_sees_no_part_of_one() {
    let folder = Folder::new("cli-six-writers");
    let alone: Vec<String> = PLANS
        .iter()
        .map(|plan| {
            let path = folder.path().join("alone.svg");
            assert!(begun(plan, &path).wait().unwrap().success(), "{plan}");
            fs::read_to_string(path).unwrap()
        })
        .collect();
    fs::remove_file(folder.path().join("alone.svg")).unwrap();
    let path = folder.path().join("wall.svg");
    for _ in 0..3 {
        let mut writers: Vec<Child> = PLANS.iter().map(|plan| begun(plan, &path)).collect();
        while writers
            .iter_mut()
            .any(|writer| writer.try_wait().unwrap().is_none())
        {
            if let Ok(seen) = fs::read_to_string(&path) {
                assert!(alone.contains(&seen), "a part of a picture was seen");
            }
        }
        for mut writer in writers {
            assert!(writer.wait().unwrap().success());
        }
        assert!(alone.contains(&fs::read_to_string(&path).unwrap()));
        assert_eq!(names(&folder), ["wall.svg"]);
    }
}

#[test]
fn a_folder_in_the_place_of_a_picture_stays() {
    let folder = Folder::new("cli-picture-folder");
    let path = folder.write("wall.svg/inside", "kept");
    let shown = folder.path().join("wall.svg");
    tried(
        &[
            "trace",
            "plans/anvil.toml",
            "--picture",
            shown.to_str().unwrap(),
        ],
        "",
    )
    .code(2)
    .stderr(contains("is no file, and is left as it is"));
    assert_eq!(fs::read_to_string(path).unwrap(), "kept");
    assert_eq!(names(&folder), ["wall.svg"]);
}

#[cfg(unix)]
mod unix {
    use std::fs::{self, Permissions};
    use std::os::unix::fs::{PermissionsExt, symlink};
    use std::process::{Command, Output};

    use predicates::str::contains;

    use super::{PLANS, names, traced};
    use crate::folder::Folder;
    use crate::run::tried;

    fn mode(path: &std::path::Path) -> u32 {
        fs::metadata(path).unwrap().permissions().mode() & 0o7777
    }

    #[test]
    fn links_beside_a_picture_are_not_followed() {
        let folder = Folder::new("cli-picture-part");
        let kept = folder.write("kept.txt", "kept");
        for name in ["wall.svg.part", "wall.part", ".wall.svg.tmp", "wall.svg~"] {
            symlink(&kept, folder.path().join(name)).unwrap();
        }
        let before = names(&folder).len();
        let path = folder.path().join("wall.svg");
        let shown = path.to_str().unwrap();
        tried(&["trace", PLANS[0], "--picture", shown], "").code(0);
        assert_eq!(fs::read_to_string(&kept).unwrap(), "kept");
        assert_eq!(names(&folder).len(), before + 1);
        assert!(fs::read_to_string(path).unwrap().ends_with("</svg>\n"));
    }

    #[test]
    fn a_link_in_the_place_of_a_picture_is_refused_and_so_is_what_it_leads_to() {
        let folder = Folder::new("cli-picture-link");
        let kept = folder.write("kept.svg", "kept");
        for to in [&kept, &folder.path().join("gone.svg")] {
            let link = folder.path().join("wall.svg");
            symlink(to, &link).unwrap();
            let shown = link.to_str().unwrap();
            tried(&["trace", PLANS[0], "--picture", shown], "")
                .code(2)
                .stderr(contains("wall.svg is a link, and is left as it is"));
            assert_eq!(fs::read_link(&link).unwrap(), *to);
            fs::remove_file(link).unwrap();
        }
        assert_eq!(fs::read_to_string(kept).unwrap(), "kept");
        assert_eq!(names(&folder), ["kept.svg"]);
    }

    #[test]
    fn a_picture_keeps_the_rights_of_the_one_before_it() {
        let folder = Folder::new("cli-picture-mode");
        let path = folder.write("wall.svg", "before");
        let shown = path.to_str().unwrap();
        for rights in [0o600, 0o664, 0o644] {
            fs::set_permissions(&path, Permissions::from_mode(rights)).unwrap();
            tried(&["trace", PLANS[0], "--picture", shown], "").code(0);
            assert_eq!(mode(&path), rights);
            assert!(fs::read_to_string(&path).unwrap().ends_with("</svg>\n"));
        }
        fs::write(&path, "before").unwrap();
        fs::set_permissions(&path, Permissions::from_mode(0o444)).unwrap();
        tried(&["trace", PLANS[0], "--picture", shown], "")
            .code(2)
            .stderr(contains("is protected from being written"));
        assert_eq!(fs::read_to_string(&path).unwrap(), "before");
    }

    /// What the user keeps back from others is kept back from them.
    #[test]
    fn a_new_file_has_the_rights_of_any_new_file() {
        let folder = Folder::new("cli-new-mode");
        for (mask, rights) in [("022", 0o644), ("077", 0o600)] {
            for (command, option, name) in [
                ("trace", "--picture", "wall.svg"),
                ("brief", "--record", "slate.toml"),
            ] {
                let path = folder.path().join(name);
                let script = format!(
                    "umask {mask}; exec \"$0\" {command} {} {option} \"$1\"",
                    PLANS[0]
                );
                let output = in_a_shell(&script, &path);
                assert!(output.status.success(), "{output:?}");
                assert_eq!(mode(&path), rights, "{name}");
                fs::remove_file(path).unwrap();
            }
        }
    }

    fn in_a_shell(script: &str, path: &std::path::Path) -> Output {
        let mut shell = Command::new("sh");
        shell.args(["-c", script, env!("CARGO_BIN_EXE_hangbar")]);
        shell.arg(path).current_dir(env!("CARGO_MANIFEST_DIR"));
        shell.output().unwrap()
    }

    /// The shell lets no file grow, as a full disk does; or ends who tries.
    #[cfg(target_os = "linux")]
    #[test]
    fn a_full_disk_leaves_the_picture_as_it_was() {
        let folder = Folder::new("cli-picture-full");
        let path = folder.write("wall.svg", "before");
        for (trap, left) in [("trap '' XFSZ;", 1), ("", 2)] {
            let script = format!(
                "{trap} ulimit -f 4; exec \"$0\" trace {} --picture \"$1\"",
                PLANS[0]
            );
            let output = in_a_shell(&script, &path);
            assert!(!output.status.success());
            assert_eq!(fs::read_to_string(&path).unwrap(), "before");
            // Who is ended at once takes nothing away again.
            assert!(names(&folder).len() <= left, "{:?}", names(&folder));
            if !trap.is_empty() {
                assert_eq!(output.status.code(), Some(2), "{output:?}");
                let errors = String::from_utf8(output.stderr).unwrap();
                assert!(errors.starts_with("error: cannot write "), "{errors}");
                assert!(output.stdout.is_empty());
            }
        }
    }

    #[test]
    fn a_folder_that_takes_nothing_leaves_the_picture_as_it_was() {
        let folder = Folder::new("cli-picture-locked");
        let path = folder.write("locked/wall.svg", "before");
        let locked = path.parent().unwrap();
        fs::set_permissions(locked, Permissions::from_mode(0o555)).unwrap();
        // Whom the system lets write everywhere has no such folder.
        let is_locked = fs::write(locked.join("probe"), "").is_err();
        let output = traced(PLANS[0], &path).output().unwrap();
        fs::set_permissions(locked, Permissions::from_mode(0o755)).unwrap();
        if is_locked {
            assert_eq!(output.status.code(), Some(2));
            assert_eq!(fs::read_to_string(&path).unwrap(), "before");
            assert_eq!(fs::read_dir(locked).unwrap().count(), 1);
        } else {
            assert!(output.status.success());
        }
    }
}
