//! More mistakes than anybody reads, and longer ones: what is told stays short, and comes at once.

use std::time::{Duration, Instant};

use hangbar::plan_file::{PlanErrors, read};

use crate::plans::{REEF, brief, edited};

/// The most that may be said of one file, in bytes; a long file is a thousand times this.
const MOST_SAID: usize = 30_000;
/// In debug, on a machine that does other things as well.
const AT_ONCE: Duration = Duration::from_secs(10);

fn refused(text: &str) -> PlanErrors {
    let begin = Instant::now();
    let errors = read(text).unwrap_err();
    let said = errors.render("plan.toml");
    assert!(begin.elapsed() < AT_ONCE, "took {:?}", begin.elapsed());
    assert!(said.len() < MOST_SAID, "{} bytes are said", said.len());
    errors
}

#[test]
fn the_first_twenty_of_the_text_are_told_and_the_rest_are_counted() {
    let keys: String = (1..=25).map(|key| format!("k{key} = 1\n")).collect();
    // The fault of the depth is found after the unknown keys, and stands before them.
    let text = format!("title = 7\n{keys}{REEF}");
    let errors = refused(&text);
    assert_eq!(errors.problems().len(), 20);
    assert_eq!(errors.untold(), 6);
    assert!(errors.problems()[0].message.starts_with("`title` is"));
    assert!(errors.to_string().ends_with("(and 25 more problems)"));
    let said = errors.render("plan.toml");
    assert!(
        said.ends_with("\nand 6 more errors: put these right first\n"),
        "{said}"
    );
}

#[test]
fn twenty_are_told_without_a_word_of_more() {
    let keys: String = (1..=20).map(|key| format!("k{key} = 1\n")).collect();
    let errors = refused(&format!("{keys}{REEF}"));
    assert_eq!((errors.problems().len(), errors.untold()), (20, 0));
    assert!(!errors.render("plan.toml").contains("more"));
    let errors = refused(&format!("k = 1\n{keys}{REEF}"));
    assert!(errors.render("plan.toml").contains("and 1 more error:"));
}

#[test]
fn a_file_of_nothing_but_mistakes_is_refused_at_once_in_few_words() {
    let many = |piece: &str| piece.repeat((1 << 20) / piece.len());
    let list = |piece: &str| {
        let items = piece.repeat(900_000 / piece.len());
        format!("diver = [{items}]\nprofile = {{ depth = \"18 m\", bottom_time = \"9 min\" }}")
    };
    let keys: String = (0..90_000).map(|key| format!("{key}=1\n")).collect();
    let tables: String = (0..70_000).map(|key| format!("[a{key}.b]\n")).collect();
    for text in [
        many("["),
        many("[\n"),
        many("]\n"),
        many("a = \"\n"),
        many("= "),
        many("\r"),
        many("{a="),
        format!("a = {}", many("[").split_at(1_000_000).0),
        format!("a{} = 1", ".a".repeat(400_000)),
        format!("[a{}]", ".a".repeat(400_000)),
        format!("{REEF}{}", "[[diver]]\n".repeat(90_000)),
        list("{},"),
        list("1,"),
        format!("{keys}{REEF}"),
        format!("{tables}{REEF}"),
        format!("profile = {{ {} }}\n", keys.replace('\n', ",")),
        format!("title = \"{}\"\n{REEF}", "e\u{301}\u{323}".repeat(180_000)),
        format!("{} = 1\n{REEF}", "k".repeat(900_000)),
        format!("title = \"{}\"\n{REEF}", "x".repeat(900_000)),
        edited(REEF, "\"18 m\"", &format!("\"{} m\"", "9".repeat(900_000))),
        edited(REEF, "\"18 m\"", &format!("\"18 {}\"", "m".repeat(900_000))),
        edited(REEF, "\"18 m\"", &"9".repeat(900_000)),
        format!("{REEF}[gas]\nbottom = \"{}\"", "EAN".repeat(300_000)),
        format!(
            "{REEF}[gas]\ndecompression = [{}]",
            "\"EAN50\",".repeat(110_000)
        ),
        format!("{REEF}[gas]\ndecompression = [{}]", "1,".repeat(400_000)),
    ] {
        refused(&text);
    }
}

#[test]
fn of_ten_thousand_mistakes_on_one_line_twenty_are_told_with_their_columns() {
    let keys: Vec<String> = (10_000..20_000).map(|key| format!("{key}=1")).collect();
    let text = format!("profile = {{ {} }}\n", keys.join(","));
    let errors = refused(&text);
    // Those of the keys, a depth and a bottom time.
    let told = errors.problems();
    assert_eq!((told.len(), errors.untold()), (20, 10_000 + 2 - 20));
    let columns: Vec<usize> = told
        .iter()
        .filter(|problem| problem.message.starts_with("unknown key"))
        .map(|problem| problem.position.as_ref().unwrap().column)
        .collect();
    let want: Vec<usize> = (0..columns.len()).map(|key| 13 + 8 * key).collect();
    assert!(columns.len() >= 18);
    assert_eq!(columns, want);
}

#[test]
fn the_place_in_a_long_line_is_shown_with_what_is_around_it() {
    let blank = "\t ".repeat(300);
    let text = format!("{REEF}[gas]\nbottom = {blank}\"EAN5O\" # {blank}");
    let said = String::from_utf8(brief(&text, &[]).stderr).unwrap();
    let lines: Vec<&str> = said.lines().collect();
    let [.., shown, carets, _] = lines.as_slice() else {
        panic!("{said}");
    };
    assert!(shown.contains("| …") && shown.ends_with('…'), "{said}");
    assert!(shown.chars().count() < 140, "{said}");
    let at = carets.chars().take_while(|c| *c != '^').count();
    let marked: String = shown.chars().skip(at).take(carets.len() - at).collect();
    assert_eq!(marked, "\"EAN5O\"", "{said}");
}
