//! How pictures are drawn: large words that overlap nothing, curves in their frame and where the
//! figures on the axes say.

use std::fs;

use approx::assert_abs_diff_eq;
use predicates::str::contains;

use crate::folder::Folder;
use crate::pictures::PICTURES;
use crate::run::tried;
use crate::svg::{boxes, frame, number, picture, strokes, tick_at, words};

#[test]
fn no_words_in_a_picture_stand_on_others_or_leave_it() {
    for (index, expected) in PICTURES.iter().enumerate() {
        let svg = picture(&format!("words-{index}"), expected.arguments);
        let boxes = boxes(&svg);
        assert!(boxes.len() > 10, "{}", expected.what);
        let upright = svg.matches("rotate(270").count();
        assert_eq!(upright, 1, "{}: the title of the y axis", expected.what);
        for (number, (word, [left, top, right, bottom])) in boxes.iter().enumerate() {
            let inside = *left >= 0.0 && *right <= 1280.0 && *top >= 0.0 && *bottom <= 800.0;
            assert!(inside, "{}: {word} leaves the picture", expected.what);
            for (other, [l, t, r, b]) in &boxes[number + 1..] {
                let apart = right <= l || r <= left || bottom <= t || b <= top;
                assert!(apart, "{}: {word} stands on {other}", expected.what);
            }
        }
    }
}

#[test]
fn a_picture_is_read_from_the_back_of_a_room() {
    const LEAST_PX: f64 = 22.0;
    for (index, expected) in PICTURES.iter().enumerate() {
        let svg = picture(&format!("size-{index}"), expected.arguments);
        assert!(
            svg.contains("width=\"1280\" height=\"800\""),
            "{}",
            expected.what
        );
        for text in svg.split("<text").skip(1) {
            let (head, inner) = text.split_once('>').unwrap();
            let size = number(head, "font-size");
            let word = inner.split_once("</text>").unwrap().0.trim();
            assert!(
                size >= LEAST_PX - 1e-9,
                "{}: {word} has {size} px",
                expected.what
            );
        }
    }
}

#[test]
fn labels_stand_inside_the_frame_and_on_no_curve() {
    let mut seen = 0;
    for (index, expected) in PICTURES.iter().enumerate() {
        let svg = picture(&format!("clear-{index}"), expected.arguments);
        let [left, top, right, bottom] = frame(&svg);
        let inside = |b: &[f64; 4]| b[0] > left && b[2] < right && b[1] > top && b[3] < bottom;
        // What is written over the field of the curves at all is written inside it.
        let labels = boxes(&svg).into_iter().filter(|(word, b)| {
            let across = b[2] > left + 2.0 && b[0] < right && b[3] > top + 14.0 && b[1] < bottom;
            assert!(
                !across || inside(b),
                "{}: {word} leaves the frame",
                expected.what
            );
            across
        });
        for (word, [l, t, r, b]) in labels {
            seen += 1;
            for (_, _, points) in strokes(&svg) {
                for pair in points.windows(2) {
                    for step in 0..=20 {
                        let share = f64::from(step) / 20.0;
                        let x = pair[0].0 + (pair[1].0 - pair[0].0) * share;
                        let y = pair[0].1 + (pair[1].1 - pair[0].1) * share;
                        let on = l < x && x < r && t < y && y < b;
                        assert!(!on, "{}: {word} stands on a curve", expected.what);
                    }
                }
            }
        }
    }
    assert!(seen > 40, "only {seen} labels");
}

#[test]
fn curves_and_m_value_lines_stay_in_the_frame_to_its_end() {
    for (index, expected) in PICTURES.iter().enumerate() {
        let svg = picture(&format!("frame-{index}"), expected.arguments);
        let [left, top, right, bottom] = frame(&svg);
        let strokes = strokes(&svg);
        assert!(!strokes.is_empty(), "{}", expected.what);
        // Lines of the key lie below all of it.
        for (_, _, points) in strokes {
            for (x, y) in points.iter().filter(|(_, y)| *y < bottom + 60.0) {
                // Half a mark may stick out at an edge.
                let within = *x >= left - 12.0
                    && *x <= right + 12.0
                    && *y >= top - 12.0
                    && *y <= bottom + 12.0;
                assert!(within, "{}: {x},{y}", expected.what);
            }
        }
    }
    let arguments = ["--compartment", "1", "--against", "ambient"];
    let mut all = vec!["trace", "plans/lesson-1-one-depth.toml"];
    all.extend(arguments);
    let svg = picture("m-values", &all);
    let [_, top, right, bottom] = frame(&svg);
    let strokes = strokes(&svg);
    let m_values = strokes.iter().filter(|(shade, ..)| shade == "#9E3E18");
    let points = m_values.flat_map(|(.., points)| points);
    // The highest point of them all is the end of the M-value line at the right edge, not a cut
    // at the top.
    let highest = points
        .filter(|(_, y)| *y < bottom)
        .min_by(|one, other| one.1.total_cmp(&other.1))
        .unwrap();
    assert!(
        highest.1 > top + 5.0 && highest.0 > right - 40.0,
        "{highest:?}"
    );
}

/// A reading of a curve at a minute, from its points and the figures on the axes.
fn reading(svg: &str, curve: &[(f64, f64)], minute: f64) -> f64 {
    let (x0, x60) = (tick_at(svg, "0", true), tick_at(svg, "60", true));
    let (y0, y3) = (tick_at(svg, "0", false), tick_at(svg, "3", false));
    let x = x0 + (x60 - x0) * minute / 60.0;
    let pair = curve
        .windows(2)
        .find(|pair| pair[0].0 <= x && x <= pair[1].0);
    let [from, to] = pair.unwrap() else {
        unreachable!()
    };
    let y = from.1 + (to.1 - from.1) * (x - from.0) / (to.0 - from.0).max(1e-9);
    3.0 * (y - y0) / (y3 - y0)
}

#[test]
fn a_compartment_over_time_is_drawn_as_an_exponential_below_what_is_inspired() {
    /// A pixel or two of 250 for 3 bar.
    const DRAWN_BAR: f64 = 0.025;
    let plan = "plans/lesson-1-one-depth.toml";
    // However coarse the table is, the picture is fine.
    for step in ["1 min", "30 min"] {
        let svg = picture(
            "exponential",
            &["trace", plan, "--compartment", "1", "--step", step],
        );
        let curve = |shade: &str| {
            let strokes = strokes(&svg);
            let longest = strokes
                .into_iter()
                .filter(|(found, ..)| found == shade)
                .max_by_key(|(.., points)| points.len());
            longest.unwrap().2
        };
        let (held, inspired) = (curve("#122642"), curve("#606060"));
        assert!(held.len() > 100, "{} points", held.len());
        // 9 m of sea on air: (1.01325 + 9*0.1005181625 - 0.0627)*0.79 = 1.46562; on arriving
        // after half a minute 0.7750 is held (Schreiner's equation by hand), and half of what is
        // missing comes in each 5 minutes.
        for minute in [5.5, 10.5, 20.5, 40.5] {
            let want = 1.465_62 - (1.465_62 - 0.7750) * 0.5_f64.powf((minute - 0.5) / 5.0);
            let got = reading(&svg, &held, minute);
            assert_abs_diff_eq!(got, want, epsilon = DRAWN_BAR);
            let got = reading(&svg, &inspired, minute);
            assert_abs_diff_eq!(got, 1.465_62, epsilon = DRAWN_BAR);
        }
    }
}

#[test]
fn the_published_limits_stand_only_beside_air_at_sea_level() {
    for (arguments, drawn) in [
        (&[][..], true),
        (&["--gas", "EAN32,air"], true),
        (&["--water", "en13319"], true),
        (&["--altitude", "80 m"], true),
        (&["--units", "imperial"], true),
        (&["--gas", "EAN32"], false),
        (&["--altitude", "100 m"], false),
        (&["--altitude", "1500 m"], false),
        (&["--water", "fresh"], false),
        // Shallower than the first of them.
        (&["--from", "2 m", "--to", "10 m"], false),
        (&["plans/hollin-tarn.toml"], false),
        (&["plans/kittiwake-wall.toml"], false),
    ] {
        let mut all = vec!["limits"];
        all.extend(arguments);
        let svg = picture("published", &all);
        let words = words(&svg);
        let named = words.iter().filter(|word| word.contains("Navy")).count();
        // Once in the key, once in the caption.
        assert_eq!(named, if drawn { 2 } else { 0 }, "{arguments:?}: {words:?}");
        let crosses = words.iter().any(|word| word.contains("Crosses"));
        assert_eq!(crosses, drawn, "{arguments:?}");
        let grey =
            strokes(&svg).iter().any(|(shade, ..)| shade == "#606060") || svg.contains("#606060");
        assert_eq!(grey, drawn, "{arguments:?}");
    }
}

#[test]
fn minimums_at_one_pressure_stand_side_by_side() {
    let svg = picture("minimums", &["brief", "plans/lesson-3-left-late.toml"]);
    let [_, _, _, bottom] = frame(&svg);
    let rings = svg.split("<circle").skip(1);
    let ring = rings
        .map(|circle| (number(circle, "cx"), number(circle, "cy")))
        .find(|(_, y)| *y < bottom)
        .unwrap();
    let leaving = strokes(&svg)
        .into_iter()
        .find(|(shade, thickness, points)| {
            shade == "#606060" && *thickness == 3 && (points[0].0 - points[1].0).abs() < 0.5
        })
        .unwrap();
    // Jory's cross is on the line itself, Pella's ring beside it, both at the same height.
    let aside = ring.0 - leaving.2[0].0;
    assert!((20.0..40.0).contains(&aside.abs()), "{aside}");
}

#[test]
fn a_minimum_that_no_cylinder_holds_is_named_at_the_top() {
    let folder = Folder::new("cli-hungry");
    let plan = folder.write(
        "hungry.toml",
        "[profile]\ndepth = \"40 m\"\nbottom_time = \"30 min\"\n[[diver]]\nname = \"Ines\"\n\
         sac = \"40 L/min\"\ncylinder = { size = \"7 L\", fill = \"100 bar\" }\n",
    );
    let svg = picture("hungry", &["brief", plan.to_str().unwrap()]);
    let [_, top, _, bottom] = frame(&svg);
    let boxes = boxes(&svg);
    let label = boxes
        .iter()
        .find(|(word, _)| word == "Ines >600 bar, off the top");
    let [_, t, _, b] = label.unwrap().1;
    assert!(t > top && b < top + (bottom - top) / 4.0, "{t} to {b}");
}

#[test]
fn a_title_with_markup_in_it_stays_text() {
    let folder = Folder::new("cli-markup");
    let plan = folder.write(
        "markup.toml",
        "title = \"Wall <b> & \\\"reef\\\"\"\n[profile]\ndepth = \"12 m\"\nbottom_time = \"20 min\"\n",
    );
    let svg = picture("markup", &["trace", plan.to_str().unwrap()]);
    assert!(svg.contains("Wall &lt;b&gt; &amp; "), "{svg}");
    assert!(!svg.contains("<b>"));
}

#[test]
fn a_picture_that_cannot_be_written_leaves_nothing_behind() {
    let folder = Folder::new("cli-not-written");
    let path = folder.path().join("no-such-folder/picture.svg");
    tried(
        &[
            "trace",
            "plans/anvil.toml",
            "--picture",
            path.to_str().unwrap(),
        ],
        "",
    )
    .code(2)
    .stdout("")
    .stderr(contains("cannot write"));
    assert!(!path.exists());
    let plan = folder.write("kept.toml", "kept");
    tried(&["limits", "--picture", plan.to_str().unwrap()], "")
        .code(2)
        .stdout("")
        .stderr(contains("ends in .svg"));
    assert_eq!(fs::read_to_string(&plan).unwrap(), "kept");
}
