//! The pages that a browser prints of the demo charter.

use std::collections::BTreeMap;
use std::path::Path;

use crate::browser::{Page, Word, browser, printed};
use crate::made::{all_said, charter, counted, is_time, ran};

/// Margins of the sheets and of the slate, points.
const SHEET: f64 = 8.0 * 72.0 / 25.4 - 0.5;
const SLATE: f64 = 6.0 * 72.0 / 25.4 - 0.5;
const HALF_OF_LETTER: f64 = 792.0 / 2.0;

fn words_of(page: &Page) -> BTreeMap<&str, usize> {
    counted(page.words.iter().map(|word| word.text.as_str()))
}

/// The sheets of every plan as one document, which is printed at once: a browser takes long to start.
/// Gives each plan with its exit status and its page.
fn charter_printed(browser: &Path, name: &str, arguments: &[&str]) -> Vec<(String, i32, Page)> {
    let plans = charter();
    let sheets: Vec<(String, i32)> = plans
        .iter()
        .map(|plan| ran(&[&["sheet", plan], arguments].concat()))
        .collect();
    let (head, _) = sheets[0].0.split_once("<section").unwrap();
    let mut document = head.to_owned();
    for (html, _) in &sheets {
        let (own_head, body) = html.split_once("<section").unwrap();
        let style = |head: &str| head.split_once("<style>").unwrap().1.to_owned();
        assert_eq!(style(own_head), style(head));
        let (sections, _) = body.rsplit_once("</body>").unwrap();
        document.push_str(&format!("<section{sections}"));
    }
    document.push_str("</body>\n</html>\n");
    let pages = printed(browser, name, &document);
    assert_eq!(
        pages.len(),
        plans.len(),
        "{name}: a plan has more than a page"
    );
    let statuses = sheets.into_iter().map(|(_, status)| status);
    let all = plans.into_iter().zip(statuses).zip(pages);
    all.map(|((plan, status), page)| (plan, status, page))
        .collect()
}

/// Every word of the terminal is on the paper, none stands on another one, none is cut off.
fn each_is_one_page(paper: &str, size: (f64, f64)) {
    let Some(browser) = browser(&format!("one page of {paper}")) else {
        return;
    };
    for (plan, _, page) in charter_printed(&browser, paper, &["--paper", paper]) {
        let (brief, _) = ran(&["brief", &plan]);
        let off = (page.width - size.0).abs() + (page.height - size.1).abs();
        assert!(off < 3.0, "{plan}: {} by {}", page.width, page.height);
        page.check(&plan, SHEET);
        all_said(&plan, &brief, &words_of(&page));
    }
}

#[test]
fn every_plan_of_the_charter_is_one_page_of_a4_with_all_that_the_screen_says() {
    each_is_one_page("a4", (595.3, 841.9));
}

#[test]
fn every_plan_of_the_charter_is_one_page_of_letter_with_all_that_the_screen_says() {
    each_is_one_page("letter", (612.0, 792.0));
}

#[test]
fn every_slate_of_the_charter_is_one_of_a6_with_every_stop() {
    let Some(browser) = browser("slates") else {
        return;
    };
    for (plan, status, page) in charter_printed(&browser, "slate", &["--slate"]) {
        let off = (page.width - 297.6).abs() + (page.height - 419.5).abs();
        assert!(off < 3.0, "{plan}: {} by {}", page.width, page.height);
        page.check(&plan, SLATE);
        if status == 1 {
            assert!(page.has("NO-GO") && !page.has("Run time"), "{plan}");
            continue;
        }
        let (brief, _) = ran(&["brief", &plan]);
        let (_, table) = brief.split_once("Run time in minutes:seconds\n").unwrap();
        let (table, _) = table.split_once("  On the way up").unwrap();
        let rows = table.lines().skip_while(|line| !line.contains("arrive"));
        let on_slate = words_of(&page);
        let mut figures = 0;
        for row in rows.skip(1) {
            // Arrive, stay, leave, and then the time of day; the surface has no stay.
            let count = if row.contains("surface") { 1 } else { 3 };
            let times = row.split_whitespace().filter(|word| is_time(word));
            for time in times.take(count) {
                assert!(on_slate.contains_key(time), "{plan}: {time} of {row}");
                figures += 1;
            }
        }
        assert!(figures >= 4, "{plan}: {figures} figures");
        let times = page.words.iter().filter(|word| is_time(&word.text));
        let least = times.map(Word::height).fold(f64::INFINITY, f64::min);
        assert!(least > 11.0, "{plan}: letters of {least}");
    }
}

#[test]
fn the_skipper_s_page_is_half_of_one() {
    let Some(browser) = browser("half pages") else {
        return;
    };
    let options = ["--skipper", "--paper", "letter"];
    for (plan, status, page) in charter_printed(&browser, "skipper", &options) {
        page.check(&plan, SHEET);
        let lowest = page.words.iter().map(|word| word.bottom);
        let lowest = lowest.fold(0.0, f64::max);
        assert!(lowest < HALF_OF_LETTER, "{plan}: down to {lowest}");
        if status == 1 {
            assert!(page.has("NO-GO") && !page.has("OVERDUE"), "{plan}");
            continue;
        }
        let overdue = page.words.iter().filter(|word| word.text == "OVERDUE");
        let overdue: Vec<f64> = overdue.map(Word::height).collect();
        assert!(
            !overdue.is_empty() && overdue.iter().all(|high| *high > 12.0),
            "{plan}"
        );
    }
}

#[test]
fn a_day_is_a_page_and_one_for_each_dive() {
    let Some(browser) = browser("a day") else {
        return;
    };
    let plans = ["plans/kittiwake-wall.toml", "plans/slack-water.toml"];
    let (html, _) = ran(&[&["sheet"], &plans[..], &["--home-by", "15:00"]].concat());
    let pages = printed(&browser, "day", &html);
    assert_eq!(pages.len(), 3);
    for (page, title) in pages
        .iter()
        .zip(["A day of 2", "Kittiwake Wall,", "Slack Water,"])
    {
        page.check(title, SHEET);
        assert!(page.has("GO") && page.has(title), "{title}");
    }
    let (html, status) = ran(&[&["sheet"], &plans[..], &["--home-by", "14:00"]].concat());
    let pages = printed(&browser, "day-no-go", &html);
    assert_eq!((status, pages.len()), (1, 3));
    for page in &pages {
        page.check("day-no-go", SHEET);
        let shouts = page.words.iter().filter(|word| word.text == "NO-GO");
        let shouts: Vec<f64> = shouts.map(|word| word.height()).collect();
        assert!(
            shouts.iter().any(|height| *height > 36.0) && shouts.len() > 1,
            "{shouts:?}"
        );
    }
}
