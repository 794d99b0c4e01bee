//! The README's copies of plans, briefings and refusals.

use std::fs;
use std::path::Path;

use assert_cmd::Command;

use crate::program::{STANDARD_ERROR, root, run};

/// The README's blocks in a language, each with the line above it.
fn readme_blocks(language: &str) -> Vec<(String, String)> {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let opening = format!("```{language}\n");
    let parts: Vec<&str> = readme.split(opening.as_str()).collect();
    let pairs = parts.windows(2);
    pairs
        .map(|pair| {
            let mark = pair[0].lines().last().unwrap_or_default();
            let block = pair[1].split_once("```\n").unwrap().0;
            (mark.to_owned(), block.to_owned())
        })
        .collect()
}

/// The words of a command line; a quote keeps blanks.
fn words(line: &str) -> Vec<String> {
    let parts = line.split('"').enumerate();
    let words = parts.flat_map(|(index, part)| match index % 2 {
        0 => part.split_whitespace().map(str::to_owned).collect(),
        _ => vec![part.to_owned()],
    });
    words.collect()
}

/// What a mark says stands below it.
fn produced(mark: &str) -> String {
    let mark = mark
        .strip_prefix("<!-- ")
        .and_then(|mark| mark.strip_suffix(" -->"));
    let mut parts = mark.unwrap().split(" | ");
    let (how, line) = parts.next().unwrap().split_once(": ").unwrap();
    let words = words(line);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let mut text = run(&words);
    if how == "refused" {
        let errors = text.strip_prefix(STANDARD_ERROR).unwrap();
        text = errors
            .strip_suffix("--- exit status 2\n")
            .unwrap()
            .to_owned();
    }
    for part in parts {
        let (which, at) = part.split_once(": ").unwrap();
        let at = text.find(&format!("\n{at}")).unwrap();
        match which {
            "from" => text = text.split_off(at + 1),
            "until" => text.truncate(at),
            _ => panic!("what is `{which}`?"),
        }
    }
    text
}

#[test]
fn every_text_of_the_readme_is_what_its_command_gives() {
    let blocks = readme_blocks("text");
    assert!(blocks.len() >= 6, "only {} blocks", blocks.len());
    for (mark, shown) in blocks {
        let given = produced(&mark);
        if std::env::var_os("HANGBAR_REWRITE").is_some() {
            let readme = fs::read_to_string(root().join("README.md")).unwrap();
            let block = |text: &str| format!("{mark}\n```text\n{text}```\n");
            let rewritten = readme.replace(&block(&shown), &block(&given));
            fs::write(root().join("README.md"), rewritten).unwrap();
        } else {
            assert_eq!(shown, given, "{mark}");
        }
    }
}

#[test]
fn every_picture_of_the_readme_is_what_its_command_draws() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let lines: Vec<&str> = readme.lines().collect();
    let mut pictures = 0;
    for pair in lines.windows(2) {
        let Some((_, file)) = pair[1]
            .strip_prefix("![")
            .and_then(|it| it.split_once("]("))
        else {
            continue;
        };
        let kept = root().join(file.trim_end_matches(')'));
        let line = pair[0]
            .strip_prefix("<!-- drawn: ")
            .and_then(|it| it.strip_suffix(" -->"));
        let drawn = Path::new(env!("CARGO_TARGET_TMPDIR")).join("of-the-readme.svg");
        let drawn = drawn.display().to_string();
        let words = words(line.unwrap());
        let words = words.iter().map(String::as_str).chain([drawn.as_str()]);
        run(&words.collect::<Vec<_>>());
        let drawn = fs::read_to_string(&drawn).unwrap();
        if std::env::var_os("HANGBAR_REWRITE").is_some() {
            fs::write(&kept, &drawn).unwrap();
        }
        assert!(
            fs::read_to_string(&kept).unwrap() == drawn,
            "{}",
            kept.display()
        );
        pictures += 1;
    }
    assert_eq!(pictures, readme.matches("![").count());
    assert!(pictures > 0);
}

#[test]
fn no_table_of_the_readme_is_written_by_hand() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let by_hand = readme.lines().find(|line| line.starts_with('|'));
    assert_eq!(by_hand, None);
}

#[test]
fn the_readme_s_plan_with_every_key_is_briefed() {
    let plan = &readme_blocks("toml")[0].1;
    let output = Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .args(["brief", "-"])
        .write_stdin(plan.as_str())
        .output()
        .unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(0), "{text}");
    assert!(text.starts_with("GO  Skua Stack, outer side\n"));
}
