//! The whole file: empty, too long, its line ends, several faults, and where they are.

use textwrap::core::display_width;

use hangbar::plan_file::read;

use crate::plans::{DRIFT, PIER, WALL, brief, edited, only};

#[test]
fn a_file_that_says_nothing_is_told_what_a_plan_needs() {
    for text in ["", "\n\n", "# nothing yet\n", "\u{feff}", "\r\n"] {
        let problem = only(read(text).unwrap_err());
        let at = problem.position.unwrap();
        assert_eq!((at.line, at.column, at.width), (1, 1, 1), "{text:?}");
        assert_eq!(problem.key.as_deref(), Some("profile"));
        assert_eq!(
            problem.message,
            "the plan says nothing: `profile` is missing"
        );
        assert!(
            problem
                .accepted
                .unwrap()
                .contains("[profile] with `depth` and `bottom_time`")
        );
        let output = brief(text, &[]);
        assert_eq!(output.status.code(), Some(2));
        assert!(output.stdout.is_empty());
    }
}

#[test]
fn a_good_plan_stays_the_same_plan_with_other_line_ends_and_a_byte_order_mark() {
    for good in [WALL, DRIFT, PIER] {
        let plan = read(good).unwrap();
        let windows = good.replace('\n', "\r\n");
        assert_eq!(read(&windows).as_ref(), Ok(&plan));
        assert_eq!(read(&format!("\u{feff}{good}")).as_ref(), Ok(&plan));
        assert_eq!(read(&format!("\u{feff}{windows}")).as_ref(), Ok(&plan));
    }
}

#[test]
fn a_file_of_one_mebibyte_is_read_and_one_byte_more_is_refused() {
    let padded = |length: usize| {
        let comment = "#".repeat(length - WALL.len());
        format!("{WALL}{comment}")
    };
    assert!(read(&padded(1 << 20)).is_ok());
    let problem = only(read(&padded((1 << 20) + 1)).unwrap_err());
    assert_eq!(problem.message, "the file has 1048577 bytes");
    assert_eq!(problem.accepted.as_deref(), Some("at most 1 MiB"));
    let output = brief(&padded((1 << 20) + 1), &[]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
}

#[test]
fn columns_count_characters_and_the_carets_stand_under_the_fault() {
    let text = edited(
        WALL,
        "[\"EAN50\", \"oxygen\"]",
        "[\"EAN50\", \"hélïöx\", \"酸素\", \"oxgen\"]",
    );
    let errors = read(&text).unwrap_err();
    let columns: Vec<(usize, usize)> = errors
        .problems()
        .iter()
        .map(|problem| problem.position.as_ref().unwrap())
        .map(|at| (at.column, at.width))
        .collect();
    assert_eq!(columns, [(27, 8), (37, 4), (43, 7)]);
    let output = brief(&text, &[]);
    let stderr = String::from_utf8(output.stderr).unwrap();
    let lines: Vec<&str> = stderr.lines().collect();
    let pieces: Vec<String> = lines
        .windows(2)
        .filter(|pair| pair[1].ends_with('^'))
        .map(|pair| {
            let until = pair[1].chars().take_while(|c| *c != '^').count();
            let width = pair[1].chars().filter(|c| *c == '^').count();
            let columns = pair[0].chars().flat_map(|c| {
                // A letter as wide as two has two columns.
                let blank = (display_width(&c.to_string()) == 2).then_some(' ');
                [Some(c), blank].into_iter().flatten()
            });
            columns.skip(until).take(width).collect()
        })
        .collect();
    assert_eq!(pieces, ["\"hélïöx\"", "\"酸 素 \"", "\"oxgen\""]);
}

#[test]
fn a_tab_before_the_fault_counts_as_one_column() {
    let text = edited(WALL, "depth = \"18 m\"", "\t\tdepth\t= \"0 m\"");
    let at = only(read(&text).unwrap_err()).position.unwrap();
    assert_eq!((at.line, at.column), (12, 11));
}

#[test]
fn every_fault_of_a_file_is_reported_and_in_the_order_of_the_file() {
    let mut text = WALL.to_owned();
    for (old, new) in [
        ("title =", "titel ="),
        ("\"09:40\"", "\"9:4\""),
        ("\"fresh\"", "\"mud\""),
        ("\"0.5 kn\"", "0.5"),
        ("\"18 m\"", "\"18\""),
        ("\"40 min\"", "\"40 m\""),
        ("\"8 m/min\"", "\"80 m/min\""),
        ("last_stop = \"6 m\"", "last_stop = \"7 m\""),
        ("[45, 80]", "[80, 45]"),
        ("\"ideal\"", "\"perfect\""),
        ("\"EAN32\"", "\"EAN3\""),
        ("1.8", "0.5"),
        ("\"third\"", "\"quarter\""),
        ("\"16 L/min\"", "\"-16 L/min\""),
        ("\"12 L\"", "\"0 L\""),
        ("\"Bram\"", "\"Juno\""),
        ("\"3100 psi\"", "\"3400 psi\""),
    ] {
        text = edited(&text, old, new);
    }
    let errors = read(&text).unwrap_err();
    let places: Vec<(usize, usize)> = errors
        .problems()
        .iter()
        .map(|problem| problem.position.as_ref().unwrap())
        .map(|at| (at.line, at.column))
        .collect();
    let want = [
        (1, 1),
        (3, 10),
        (6, 9),
        (9, 11),
        (12, 9),
        (13, 15),
        (17, 8),
        (19, 13),
        (23, 20),
        (25, 11),
        (28, 10),
        (33, 10),
        (36, 8),
        (40, 7),
        (41, 21),
        (47, 8),
        (49, 58),
    ];
    assert_eq!(places, want);
    let output = brief(&text, &[]);
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert_eq!(stderr.matches("error: ").count(), want.len());
    assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0));
}
