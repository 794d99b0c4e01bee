//! Pages that are full: many divers, long names, many levels and stops.

use crate::browser::{Page, browser, printed};
use crate::made::{PONY, WALL, all_said, counted, long_names, ran_on, short_names, slope, team};

const SHEET: f64 = 8.0 * 72.0 / 25.4 - 0.5;
/// A box is so much higher than the letters are large.
const BOX: f64 = 1.1;

fn checked(name: &str, plan: &str, arguments: &[&str]) -> Option<Vec<Page>> {
    let browser = browser(name)?;
    let (html, _) = ran_on(name, plan, &[&["sheet", "PLAN"], arguments].concat());
    let pages = printed(&browser, name, &html);
    for page in &pages {
        page.check(name, SHEET);
    }
    Some(pages)
}

/// How often a figure stands in letters of so many points at least.
fn large(pages: &[Page], figure: &str, points: f64) -> usize {
    let words = pages.iter().flat_map(|page| &page.words);
    let large = words.filter(|word| word.text == figure && word.height() >= points * BOX);
    large.count()
}

/// Every word of the briefing is on some page.
fn all_is_said(name: &str, plan: &str, pages: &[Page]) {
    let (brief, _) = ran_on(&format!("{name}-brief"), plan, &["brief", "PLAN"]);
    let words = pages.iter().flat_map(|page| &page.words);
    let on_paper = counted(words.map(|word| word.text.as_str()));
    all_said(name, &brief, &on_paper);
}

#[test]
fn eight_divers_with_the_longest_names_fit_one_page_and_their_figures_are_large() {
    let hang = "[reserve]\nhang = { depth = \"5 m\", time = \"5 min\" }\n";
    let plan = format!("{WALL}{hang}{}", team(&long_names(8), PONY));
    for paper in ["a4", "letter"] {
        let name = format!("eight-{paper}");
        let Some(pages) = checked(&name, &plan, &["--paper", paper]) else {
            return;
        };
        assert_eq!(pages.len(), 1, "{name}");
        assert_eq!(large(&pages, "135", 14.0), 8, "{name}: turn");
        assert_eq!(large(&pages, "50", 14.0), 8, "{name}: minimum");
    }
}

#[test]
fn seven_divers_read_their_figures_at_arm_s_length() {
    let plan = WALL.to_owned() + &team(&short_names(7), PONY);
    let Some(pages) = checked("seven", &plan, &[]) else {
        return;
    };
    assert_eq!(pages.len(), 1);
    assert_eq!(
        (large(&pages, "135", 18.0), large(&pages, "50", 18.0)),
        (7, 7)
    );
    all_is_said("seven", &plan, &pages);
}

#[test]
fn eight_divers_on_five_levels_fit_one_page() {
    let plan = slope(5) + &team(&short_names(8), "");
    let Some(pages) = checked("levels", &plan, &[]) else {
        return;
    };
    assert_eq!(pages.len(), 1);
    all_is_said("levels", &plan, &pages);
}

#[test]
fn twenty_levels_of_two_divers_fit_one_page() {
    let plan = slope(20) + &team(&short_names(2), "");
    let Some(pages) = checked("slope", &plan, &[]) else {
        return;
    };
    assert_eq!(pages.len(), 1);
    all_is_said("slope", &plan, &pages);
}

#[test]
fn twelve_divers_have_a_second_page_and_fifty_lose_nothing() {
    for (count, most) in [(12, 2), (50, 8)] {
        let name = format!("team-of-{count}");
        let plan = WALL.to_owned() + &team(&short_names(count), PONY);
        let Some(pages) = checked(&name, &plan, &["--paper", "letter"]) else {
            return;
        };
        assert!(
            (2..=most).contains(&pages.len()),
            "{name}: {} pages",
            pages.len()
        );
        for page in &pages {
            let heads = page.words.iter().filter(|word| word.text == "GO");
            assert!(
                heads.count() >= 2 && page.has("The outer wall of the old harbour"),
                "{name}"
            );
        }
        assert_eq!(large(&pages, "135", 14.0), count, "{name}: turn");
        all_is_said(&name, &plan, &pages);
    }
}

#[test]
fn what_no_page_holds_goes_on_on_another_under_the_same_head() {
    let stage = "stage = [{ gas = \"EAN50\", size = \"11 L\", fill = \"200 bar\" }]";
    let divers = team(&short_names(8), &format!("{PONY}\n{stage}"));
    let plan = slope(20).replace("\"air\"", "\"air\"\ndecompression = [\"EAN50\"]") + &divers;
    let Some(pages) = checked("full", &plan, &["--paper", "a4"]) else {
        return;
    };
    assert!((2..=4).contains(&pages.len()), "{} pages", pages.len());
    assert!(pages.iter().all(|page| page.has("The long slope")));
    all_is_said("full", &plan, &pages);
}

#[test]
fn a_no_go_shouts_on_every_page() {
    let plan = WALL.replace("20 min", "60 min") + &team(&short_names(50), PONY);
    let Some(pages) = checked("shouted", &plan, &[]) else {
        return;
    };
    assert!(pages.len() > 1);
    for page in &pages {
        let shouts = page.words.iter().filter(|word| word.text == "NO-GO");
        let large = shouts.filter(|word| word.height() > 36.0).count();
        assert!(large > 0 && !page.has("turn at") && !page.has("OVERDUE"));
    }
}

#[test]
fn a_way_up_too_long_for_one_slate_goes_on_on_another() {
    let plan = slope(20) + "\n[ascent]\nlast_stop = \"3 m\"\n" + &team(&short_names(2), "");
    let Some(browser) = browser("slates of many levels") else {
        return;
    };
    let (html, _) = ran_on("slates", &plan, &["sheet", "PLAN", "--slate"]);
    let pages = printed(&browser, "slates", &html);
    assert!(pages.len() <= 2, "{} slates", pages.len());
    for page in &pages {
        page.check("slates", 6.0 * 72.0 / 25.4 - 0.5);
        assert!(page.has("The long slope"));
    }
}

/// No browser is asked how large its letters are.
#[test]
fn letters_wider_and_higher_than_counted_on_take_another_page_and_nothing_is_lost() {
    let Some(browser) = browser("wide letters") else {
        return;
    };
    let plan = WALL.to_owned() + &team(&short_names(8), PONY);
    let (html, _) = ran_on("wide", &plan, &["sheet", "PLAN"]);
    let pages = |wider: &str, line: &str| {
        let html = html.replace(
            "body{margin:0;",
            &format!("body{{margin:0;letter-spacing:{wider};"),
        );
        let html = html.replace("line-height:1.17", &format!("line-height:{line}"));
        printed(&browser, "wide", &html)
    };
    assert_eq!(pages("0", "1.17").len(), 1);
    let wide = pages(".05em", "1.4");
    assert_eq!(wide.len(), 2);
    for page in &wide {
        page.check("wide", SHEET);
        let heads = page.words.iter().filter(|word| word.text == "GO");
        assert_eq!(heads.count(), 2);
    }
    all_is_said("wide", &plan, &wide);
}

#[test]
fn words_without_end_are_broken_and_stay_on_the_page() {
    let names: Vec<String> = ["W", "M", "海", "Ж", "i", "@", "م", "🤿"]
        .iter()
        .map(|letter| letter.repeat(40))
        .collect();
    let title = format!("title = \"{}\"", "W".repeat(200));
    let plan = WALL.replace("title = \"The outer wall of the old harbour\"", &title);
    let plan = plan + &team(&names, PONY);
    for form in [&[][..], &["--skipper"], &["--slate"]] {
        let Some(browser) = browser("words without end") else {
            return;
        };
        let (html, _) = ran_on("endless", &plan, &[&["sheet", "PLAN"], form].concat());
        let pages = printed(&browser, "endless", &html);
        assert!(pages.len() <= 2, "{form:?}: {} pages", pages.len());
        let margin = if form == ["--slate"] { 16.5 } else { SHEET };
        for page in &pages {
            page.check(&format!("endless {form:?}"), margin);
        }
    }
}

#[test]
fn the_half_page_of_eight_divers_with_the_longest_names_is_one() {
    let plan = WALL.to_owned() + &team(&long_names(8), PONY);
    let Some(pages) = checked("half", &plan, &["--skipper", "--paper", "letter"]) else {
        return;
    };
    assert_eq!(pages.len(), 1);
    let lowest = pages[0].words.iter().map(|word| word.bottom);
    assert!(lowest.fold(0.0, f64::max) < 792.0 / 2.0);
    assert!(pages[0].has("Ferdinandus"));
}
