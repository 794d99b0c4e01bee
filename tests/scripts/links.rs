//! `hangbar check` on links, sockets and names that are not UTF-8, which only the file systems of a
//! Unix have.

use std::fs;
use std::os::unix::fs::symlink;

use crate::folder::Folder;
use crate::folders::rows;
use crate::program::REEF;

#[test]
fn a_linked_folder_is_followed_once() {
    let folder = Folder::new("folders-linked");
    let outside = Folder::new("folders-linked-outside");
    outside.write("far.toml", REEF);
    folder.write("here.toml", REEF);
    symlink(outside.path(), folder.path().join("a-link")).unwrap();
    symlink(outside.path(), folder.path().join("b-link")).unwrap();
    let (rows, status, errors) = rows(&folder, &["."]);
    assert_eq!(
        rows,
        [
            ["./a-link/far.toml", "go", "-"],
            ["./b-link", "skipped", "looked-into-already"],
            ["./here.toml", "go", "-"],
        ]
    );
    assert_eq!(status, 0);
    assert_eq!(
        errors,
        "note: skipped ./b-link: the same folder as ./a-link\n"
    );
}

#[test]
fn a_folder_in_the_tree_keeps_its_own_name_before_a_link_to_it() {
    let folder = Folder::new("folders-own-name");
    folder.write("z/plan.toml", REEF);
    symlink("z", folder.path().join("a-link")).unwrap();
    let (rows, _, errors) = rows(&folder, &["."]);
    assert_eq!(
        rows,
        [
            ["./a-link", "skipped", "looked-into-already"],
            ["./z/plan.toml", "go", "-"],
        ]
    );
    assert!(errors.contains("./a-link: the same folder as ./z\n"));
}

#[test]
fn a_loop_of_links_ends_and_is_named() {
    let folder = Folder::new("folders-loop");
    folder.write("a/plan.toml", REEF);
    symlink("..", folder.path().join("a/up")).unwrap();
    symlink("itself", folder.path().join("itself")).unwrap();
    let (rows, status, errors) = rows(&folder, &["."]);
    assert_eq!(
        rows,
        [
            ["./a/plan.toml", "go", "-"],
            ["./a/up", "skipped", "looked-into-already"],
            ["./itself", "skipped", "link-to-nowhere"],
        ]
    );
    assert_eq!(status, 0);
    assert!(
        errors.contains("./a/up: the same folder as .\n"),
        "{errors}"
    );
}

#[test]
fn a_link_to_a_plan_is_a_plan_and_one_to_nothing_cannot_be_read() {
    let folder = Folder::new("folders-plan-link");
    let plan = folder.write("kept/real.txt", REEF);
    symlink(plan, folder.path().join("today.toml")).unwrap();
    symlink("nowhere.toml", folder.path().join("gone.toml")).unwrap();
    let (rows, status, _) = rows(&folder, &["."]);
    assert_eq!(
        rows,
        [
            ["./gone.toml", "unusable", "-"],
            ["./today.toml", "go", "-"],
        ]
    );
    assert_eq!(status, 2);
}

#[test]
fn a_link_named_on_the_command_line_is_followed() {
    let folder = Folder::new("folders-named-link");
    folder.write("z/plan.toml", REEF);
    symlink("z", folder.path().join("link")).unwrap();
    let (rows, status, _) = rows(&folder, &["link"]);
    assert_eq!(rows, [["link/plan.toml", "go", "-"]]);
    assert_eq!(status, 0);
}

#[test]
fn something_that_is_no_file_is_not_waited_for() {
    let folder = Folder::new("folders-socket");
    folder.write("a.toml", REEF);
    let socket = folder.path().join("s.toml");
    // The name of a socket may be 107 bytes long at most.
    let short = std::env::temp_dir().join(format!("hangbar-{}", std::process::id()));
    let kept = std::os::unix::net::UnixListener::bind(&short).unwrap();
    fs::hard_link(&short, &socket)
        .or_else(|_| fs::rename(&short, &socket))
        .or_else(|_| symlink(&short, &socket))
        .unwrap();
    let (rows, status, _) = rows(&folder, &["."]);
    drop(kept);
    let _ = fs::remove_file(&short);
    assert_eq!(
        rows,
        [["./a.toml", "go", "-"], ["./s.toml", "skipped", "no-file"],]
    );
    assert_eq!(status, 0);
}

/// A name that is not UTF-8 is written lossily, and its bytes beside it. Other systems may have no
/// such names.
#[cfg(target_os = "linux")]
#[test]
fn a_name_that_is_not_utf_8_can_be_mapped_back() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;

    use serde_json::Value;

    use crate::folders::check;

    let folder = Folder::new("folders-bytes");
    let name = OsStr::from_bytes(b"r\xffef.TOML");
    fs::write(folder.path().join(name), REEF).unwrap();
    folder.write("plain.toml", REEF);
    let output = check(&folder, &["--format", "json", "."]);
    let rows: Vec<Value> = String::from_utf8(output.stdout)
        .unwrap()
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    assert_eq!(rows[0]["file"], "./plain.toml");
    assert_eq!(rows[0]["file_bytes_hex"], Value::Null);
    assert_eq!(rows[1]["file"], "./r\u{fffd}ef.TOML");
    let hex = rows[1]["file_bytes_hex"].as_str().unwrap();
    let bytes: Vec<u8> = (0..hex.len())
        .step_by(2)
        .map(|at| u8::from_str_radix(&hex[at..at + 2], 16).unwrap())
        .collect();
    assert_eq!(bytes, b"./r\xffef.TOML");
    assert_eq!(rows[1]["verdict"], "go");
}
