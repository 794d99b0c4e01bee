//! The file by itself: nothing from elsewhere, nothing that acts, every name as it is.

use crate::made::{PONY, WALL, all_said, charter, counted, long_names, ran, ran_on, team};

/// The words between the tags.
pub(crate) fn text_of(html: &str) -> String {
    let body = html.split_once("<body>").unwrap().1;
    let mut text = String::new();
    for piece in body.split('<').skip(1) {
        let (tag, words) = piece.split_once('>').unwrap();
        // Words that only look another way go on.
        if !["bdi", "/bdi"].contains(&tag) {
            text.push(' ');
        }
        text.push_str(words);
    }
    let text = text
        .replace("&nbsp;", " ")
        .replace("&lt;", "<")
        .replace("&gt;", ">");
    let text = text.replace("&quot;", "\"").replace("&#39;", "'");
    text.replace("&amp;", "&")
}

#[test]
fn a_sheet_needs_nothing_from_elsewhere_and_nothing_in_it_acts() {
    for plan in charter() {
        for form in [&[][..], &["--skipper"], &["--slate"]] {
            let (html, _) = ran(&[&["sheet", &plan], form].concat());
            for word in [
                "<script", "<link", "<img", "@import", "url(", "://", "href", "src=", " onload",
                " onclick",
            ] {
                let lower = html.to_lowercase();
                assert!(!lower.contains(word), "{plan} {form:?}: {word}");
            }
            assert!(html.contains("default-src 'none'"));
            let colours = html.matches('#').count();
            let black_and_white = html.matches("#000").count() + html.matches("#fff").count();
            let escaped = html.matches("&#39;").count();
            assert_eq!(colours, black_and_white + escaped, "{plan}: a colour");
        }
    }
}

/// Words of a sheet are those of the briefing, and its figures too.
#[test]
fn a_sheet_says_every_word_that_the_briefing_says() {
    for plan in charter() {
        let (brief, brief_status) = ran(&["brief", &plan]);
        let (html, status) = ran(&["sheet", &plan]);
        assert_eq!(status, brief_status, "{plan}");
        let sheet = text_of(&html);
        let on_paper = counted(sheet.split_whitespace());
        all_said(&plan, &brief, &on_paper);
    }
}

#[test]
fn a_no_go_names_no_pressure_to_turn_at_and_no_clock() {
    let mut no_gos = 0;
    for plan in charter() {
        for form in [&[][..], &["--skipper"], &["--slate"]] {
            let (html, status) = ran(&[&["sheet", &plan], form].concat());
            let text = text_of(&html);
            let orders = ["turn at", "OVERDUE", "Roll call", "Valve"];
            let said: Vec<_> = orders
                .iter()
                .filter(|order| text.contains(**order))
                .collect();
            if status == 1 {
                no_gos += 1;
                assert_eq!(said, Vec::<&&str>::new(), "{plan} {form:?}");
                assert!(
                    text.matches("NO-GO").count() >= 2,
                    "{plan} {form:?}: {text}"
                );
            } else if form.is_empty() && text.contains("Roll call") {
                assert_eq!(said.len(), 4, "{plan}: {text}");
            }
        }
    }
    assert!(no_gos >= 6, "{no_gos}");
}

#[test]
fn names_that_would_act_are_words() {
    let names = [
        "</td><script>alert(1)</script>",
        "<b onclick=x>\"Bo\" & Co",
        "&amp; &lt;i&gt; '",
        "--></style><img src=x>",
    ];
    // A name in a file of ''' … ''' may not hold three of them.
    let team = team(&names.map(str::to_owned), PONY);
    let title = "title = \"<h1>Ü & 'co'</h1>\"";
    let plan = WALL.replace("title = \"The outer wall of the old harbour\"", title) + &team;
    for form in [&[][..], &["--skipper"]] {
        let (html, _) = ran_on("acting", &plan, &[&["sheet", "PLAN"], form].concat());
        for harm in ["<script", "<img", "<i>", "<b on", "<h1", "</style><img"] {
            assert!(!html.contains(harm), "{harm}");
        }
        assert_eq!(html.matches("</style>").count(), 1);
        let text = text_of(&html);
        for name in names.iter().chain(&["<h1>Ü & 'co'</h1>"]) {
            assert!(text.contains(name), "{name}: {text}");
        }
    }
}

#[test]
fn a_name_from_right_to_left_turns_no_figure_around() {
    let names = ["محمد علي".to_owned(), "דנה".to_owned()];
    let plan = WALL.to_owned() + &team(&names, "");
    let (html, _) = ran_on("from-right", &plan, &["sheet", "PLAN"]);
    for name in &names {
        let isolated = format!("<bdi>{name}</bdi>");
        assert_eq!(
            html.matches(name.as_str()).count(),
            html.matches(&isolated).count()
        );
    }
    let title = "title = \"مرسى\"";
    let titled = plan.replace("title = \"The outer wall of the old harbour\"", title);
    let (titled, _) = ran_on("from-right-title", &titled, &["sheet", "PLAN"]);
    assert!(
        titled.contains("<title>GO  مرسى</title>"),
        "a title holds no tags"
    );
    assert!(html.contains("<bdi>דנה</bdi>\u{a0}50\u{a0}bar"), "{html}");
}

#[test]
fn where_room_is_short_divers_are_called_by_first_names_and_named_in_full_once() {
    let plan = WALL.to_owned() + &team(&long_names(8), PONY);
    let (html, _) = ran_on("called", &plan, &["sheet", "PLAN"]);
    let text = text_of(&html);
    let of = |words: &str| text.matches(words).count();
    assert!(
        of("Wilhelmina's pony gives") == 1 && of("Hieronymus") == 0,
        "{text}"
    );
    assert_eq!(of("Wilhelmina  Featherstonehaugh-Cholmondele"), 1, "{text}");
}

#[test]
fn a_day_has_a_page_of_its_own_and_one_for_each_dive() {
    let plans = ["plans/kittiwake-wall.toml", "plans/slack-water.toml"];
    let day = |more: &[&str]| ran(&[&["sheet"][..], &plans, more].concat());
    let (html, status) = day(&[]);
    assert_eq!((status, html.matches("<section").count()), (0, 3));
    let text = text_of(&html);
    for words in [
        "A day of 2 dives",
        "dive 1 of 2",
        "dive 2 of 2",
        "After the day: No flying",
    ] {
        assert!(text.contains(words), "{words}");
    }
    let (html, status) = day(&["--home-by", "14:00"]);
    assert_eq!(status, 1);
    for section in html.split("<section").skip(1) {
        let (head, rest) = section.split_once("</thead>").unwrap();
        assert!(head.contains(">NO-GO</span>"), "{head}");
        assert!(rest.contains("\">NO-GO &nbsp;A day of 2 dives"), "{rest}");
    }
    let (html, _) = day(&["--slate"]);
    assert_eq!(html.matches("<section").count(), 2);
}

/// One team reads bar and psi: no turn and no minimum stands there without its unit.
#[test]
fn every_large_figure_has_the_unit_of_its_gauge_beside_it() {
    let mut figures = 0;
    for plan in charter() {
        let (html, _) = ran(&["sheet", &plan]);
        let Some((_, large)) = html.split_once("<table class=\"large\"") else {
            continue;
        };
        let (large, _) = large.split_once("</table>").unwrap();
        for cell in large.split("<td class=\"n first\">").skip(1) {
            let (figure, rest) = cell.split_once('<').unwrap();
            let unit = ["bar", "psi"]
                .into_iter()
                .find(|unit| rest.starts_with(&format!("span class=\"rest\"> {unit}</span>")));
            let figure: f64 = figure.parse().unwrap();
            let is_of_it = match unit {
                Some("bar") => figure < 400.0,
                Some("psi") => figure >= 400.0,
                _ => false,
            };
            assert!(is_of_it, "{plan}: {cell}");
            figures += 1;
        }
    }
    assert!(figures > 20, "only {figures} figures");
}
