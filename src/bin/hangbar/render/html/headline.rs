//! What stands at the head and the foot of every page: verdict and title.

use hangbar::report::{Block, Part, Tone, Topic};

use super::escape::escaped;
use super::measure::{Face, lines, width};

/// Between the word and the title, and around the word in its frame. Points.
const GAP: f64 = 8.0;
const AROUND: f64 = 26.0;

/// A verdict and what it is of.
#[derive(Clone, Debug)]
pub(in crate::render) struct Headline {
    pub(in crate::render) word: String,
    pub(in crate::render) title: String,
    pub(in crate::render) is_no_go: bool,
}

/// Letters of a head and a foot, in points.
#[derive(Clone, Copy, Debug)]
pub(in crate::render) struct Sizes {
    pub(in crate::render) go: f64,
    pub(in crate::render) no_go: f64,
    pub(in crate::render) title: f64,
    pub(in crate::render) foot: f64,
}

/// The verdicts that parts begin with: that of a day which is a no-go, and their own.
pub(in crate::render) fn headlines(parts: &[Part]) -> Vec<Headline> {
    let verdicts = parts
        .iter()
        .filter(|part| matches!(part.topic, Topic::DayVerdict | Topic::Verdict));
    let firsts = verdicts.filter_map(|part| part.report.blocks.first());
    firsts
        .filter_map(|block| match block {
            Block::Marked { tone, mark, text } => Some(Headline {
                word: mark.clone(),
                title: text.clone(),
                is_no_go: *tone == Tone::NoGo,
            }),
            _ => None,
        })
        .collect()
}

/// The head of a page so many points wide, and how high it is. `place` says which page of how many.
pub(in crate::render) fn head(
    headlines: &[Headline],
    place: &str,
    wide: f64,
    sizes: Sizes,
) -> (String, f64) {
    let (mut html, mut high) = (String::new(), 0.0);
    for (index, headline) in headlines.iter().enumerate() {
        let (class, letters) = if headline.is_no_go {
            (" no-go", sizes.no_go)
        } else {
            ("", sizes.go)
        };
        let place = if index == 0 { place } else { "" };
        let placed = width(place, Face::Regular) * 9.0 + GAP;
        let word = width(&headline.word, Face::Bold) * letters + AROUND;
        let room = (wide - word - placed - GAP) / sizes.title;
        let title = lines(&headline.title, Face::Bold, room) * sizes.title * 1.15;
        high += title.max(letters * 1.1 + 12.0) + 3.0;
        html.push_str(&format!(
            "<div class=\"verdict{class}\"><span class=\"word\" style=\"font-size:{letters}pt\">{}</span>\
             <span class=\"name\" style=\"font-size:{}pt\">{}</span><span class=\"place\">{place}</span></div>",
            escaped(&headline.word),
            sizes.title,
            escaped(&headline.title)
        ));
    }
    (html, high)
}

/// The foot of a page, and how high it is.
pub(in crate::render) fn foot(headlines: &[Headline], wide: f64, sizes: Sizes) -> (String, f64) {
    let (mut html, mut high) = (String::new(), 0.0);
    for headline in headlines {
        let letters = if headline.is_no_go {
            sizes.foot * 2.0
        } else {
            sizes.foot
        };
        let text = format!("{}  {}", headline.word, headline.title);
        high += lines(&text, Face::Bold, wide / letters) * letters * 1.2 + 3.0;
        html.push_str(&format!(
            "<p class=\"foot\" style=\"font-size:{letters}pt\">{} &nbsp;{}</p>",
            escaped(&headline.word),
            escaped(&headline.title)
        ));
    }
    (html, high)
}
