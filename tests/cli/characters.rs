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

#[cfg(target_os = "linux")]
mod on_a_terminal {
    use std::collections::BTreeSet;

    use crate::read::{too_wide, without_colour};
    use crate::terminal::on_terminal;

    /// Rows and columns of the field of the curves.
    const ROWS: usize = 18;
    const COLUMNS: usize = 62;
    /// What stands left of the field: a figure of eight characters, a blank and the axis.
    const LEFT: usize = 10;

    /// What a chart must hold.
    struct Wanted {
        arguments: &'static [&'static str],
        status: i32,
        title: &'static str,
        /// Title, then the figures at the left and the right end.
        across: (&'static str, &'static str, &'static str),
        /// Title, then the figures at the top and the bottom end.
        down: (&'static str, &'static str, &'static str),
        /// The characters of each curve and its marks, and its name.
        curves: &'static [(&'static str, &'static str)],
    }

    const CHARTS: &[Wanted] = &[
        Wanted {
            arguments: &["limits", "--gas", "air,EAN32"],
            status: 0,
            title: "No-stop limit against depth",
            across: ("depth, m", "10.0", "40.0"),
            // Limits above 120 minutes are cut off.
            down: ("no-stop limit, minutes", "120.0", "0.0"),
            curves: &[
                ("o", "air 40/85"),
                ("+", "EAN32 40/85"),
                ("x", "U.S. Navy, air"),
            ],
        },
        Wanted {
            arguments: &["limits", "--units", "imperial", "--gas", "EAN36"],
            status: 0,
            title: "No-stop limit against depth",
            across: ("depth, ft", "30.0", "130.0"),
            down: ("no-stop limit, minutes", "120.0", "0.0"),
            curves: &[("o", "EAN36 40/85")],
        },
        Wanted {
            arguments: &["trace", "plans/anvil.toml"],
            status: 0,
            title: "The Anvil, staged on air: depth over run time",
            // Up after 41.67 minutes, and room for words behind.
            across: ("run time, minutes", "0.0", "50.0"),
            // 36 m, to the next 5 with room below.
            down: ("depth, m", "0.0", "40.0"),
            curves: &[
                ("o", "depth"),
                ("+", "ceiling: no shallower than this"),
                ("x", "end of a stop or a gas switch"),
            ],
        },
        Wanted {
            arguments: &["trace", "plans/long-ledge.toml", "--compartment", "1,4"],
            status: 0,
            title: "Long Ledge, nitrox and a stage: compartments over time",
            // Up after 53.33 minutes, and room for names behind.
            across: ("run time, minutes", "0.0", "65.0"),
            // A 5-minute compartment's M-value at the surface: 1.1696 + 1.01325/0.5578 = 2.986.
            down: ("inert gas, bar", "3.5", "0.0"),
            curves: &[
                ("o", "1: 5 min"),
                ("+", "4: 18.5 min"),
                ("x", "1: M at the surface"),
                ("*", "4: M at the surface"),
                ("#", "inspired inert gas"),
            ],
        },
        Wanted {
            arguments: &["brief", "plans/skua-stack.toml"],
            status: 0,
            title: "Skua Stack, the mixed four: cylinders over time",
            across: ("run time, minutes", "0.0", "25.0"),
            // The fullest has 220 bar.
            down: ("cylinder gauge, bar", "220.0", "0.0"),
            // Each diver's line and the figure of the minimum.
            curves: &[
                ("o1", "Tove: turn 135, minimum 50 bar"),
                ("+2", "Hanne: turn 135, minimum 55 bar"),
                ("x3", "Ruan: turn 1950, minimum 950 psi"),
                ("*4", "Idris: turn 130, minimum 65 bar"),
                ("#", "turn due"),
                ("%", "leave the bottom"),
            ],
        },
        Wanted {
            arguments: &["brief", "plans/orla-finch-stern.toml"],
            status: 1,
            title: "NO-GO: Wreck of the Orla Finch, stern, as asked …: cylinders over time",
            across: ("run time, minutes", "0.0", "55.0"),
            // The fuller has 3400 psi.
            down: ("cylinder gauge, psi", "3500.0", "0.0"),
            // A no-go has nothing to turn at.
            curves: &[
                ("o1", "Pella: minimum 2850 psi"),
                ("+2", "Ruan: minimum 3150 psi"),
                ("x", "leave the bottom"),
            ],
        },
    ];

    /// A chart taken apart.
    struct Chart<'t> {
        /// What stands before and in the field, a row each.
        rows: Vec<(&'t str, Vec<char>)>,
        below: &'t str,
        curves: Vec<(String, &'t str)>,
    }

    /// The chart at the end of a text, from its title on.
    fn chart<'t>(text: &'t str, title: &str, upward: &str) -> Chart<'t> {
        let mut lines = text.lines().skip_while(|line| *line != title).skip(1);
        assert_eq!(lines.next(), Some(upward), "{text}");
        let rows: Vec<_> = lines
            .by_ref()
            .take(ROWS)
            .map(|line| {
                let (before, field) = line.split_once('|').expect("an axis");
                assert_eq!(before.chars().count() + 1, LEFT, "{line}");
                (before.trim(), field.chars().collect())
            })
            .collect();
        let axis = format!("{}+{}", " ".repeat(LEFT - 1), "-".repeat(COLUMNS));
        assert_eq!(lines.next(), Some(&*axis), "{text}");
        let below = lines.next().unwrap();
        let curves = lines.map(|line| {
            let (characters, name) = line.split_at("  o1 ".len());
            (characters.replace(' ', ""), name)
        });
        Chart {
            rows,
            below,
            curves: curves.collect(),
        }
    }

    #[test]
    fn a_chart_holds_its_axes_and_marks_of_every_curve_in_its_key() {
        for wanted in CHARTS {
            let what = wanted.arguments;
            let Some((status, text)) = on_terminal(&[what, &["--chart"]].concat(), &[]) else {
                return;
            };
            assert_eq!(status, wanted.status, "{what:?}: {text}");
            let text = without_colour(&text);
            let control = |c: char| c.is_control() && c != '\n';
            assert!(!text.contains(control), "{what:?}: {text:?}");
            assert_eq!(too_wide(&text), Vec::<String>::new(), "{what:?}");

            let (upward, top, bottom) = wanted.down;
            let chart = chart(&text, wanted.title, upward);
            // Figures at both ends of the upright axis and nowhere else.
            let figures: Vec<&str> = chart.rows.iter().map(|row| row.0).collect();
            assert_eq!((figures[0], figures[ROWS - 1]), (top, bottom), "{text}");
            assert!(figures[1..ROWS - 1].iter().all(|one| one.is_empty()));
            // The level axis has its title between its figures, which stand under its ends.
            let (title, left, right) = wanted.across;
            let below = chart.below.trim().strip_prefix(left).unwrap();
            assert_eq!(below.strip_suffix(right).unwrap().trim(), title, "{text}");
            assert_eq!(chart.below.find(left), Some(LEFT), "{text}");
            assert_eq!(chart.below.len(), LEFT + COLUMNS, "{text}");

            let key: Vec<(&str, &str)> = chart
                .curves
                .iter()
                .map(|(characters, name)| (&**characters, *name))
                .collect();
            assert_eq!(key, wanted.curves, "{text}");
            let in_key: BTreeSet<char> = key.iter().flat_map(|(one, _)| one.chars()).collect();
            let once: usize = key.iter().map(|(one, _)| one.chars().count()).sum();
            assert_eq!(in_key.len(), once, "{what:?}: two curves look the same");
            let cells = chart.rows.iter().flat_map(|(_, field)| field);
            let drawn: BTreeSet<char> = cells.copied().filter(|c| *c != ' ').collect();
            assert_eq!(drawn, in_key, "{what:?}: drawn beside the key\n{text}");
            assert!(chart.rows.iter().all(|(_, field)| field.len() <= COLUMNS));
        }
    }

    /// 36 m on an axis to 40 m, and 40 minutes of the run time on one to 50.
    #[test]
    fn a_depth_in_characters_stands_where_its_axes_say() {
        let arguments = ["trace", "plans/anvil.toml", "--chart"];
        let Some((_, text)) = on_terminal(&arguments, &[]) else {
            return;
        };
        let text = without_colour(&text);
        let chart = chart(&text, CHARTS[2].title, "depth, m");
        // 36/40 of 17 steps is 15.3; the bottom is held from minute 2 to 22 of 50, by 61 steps.
        let deepest = chart.rows.iter().rposition(|row| row.1.contains(&'o'));
        assert_eq!(deepest, Some(15), "{text}");
        let level = &chart.rows[15].1;
        let first = level.iter().position(|c| *c == 'o').unwrap();
        assert_eq!((first, level.len()), (2, 28), "{text}");
    }
}
