//! A browser that prints, and the words of its pages with their boxes.

use std::env;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::folder::Folder;

const BROWSERS: [&str; 2] = ["chromium", "chromium-browser"];

/// A program of the search path.
fn found(name: &str) -> Option<PathBuf> {
    let paths = env::var_os("PATH")?;
    let mut programs = env::split_paths(&paths).map(|folder| folder.join(name));
    programs.find(|program| program.is_file())
}

/// The browser, where everything is there that a test with one needs. Where it is not, that is said
/// past whatever keeps the output of tests; and it fails where it is demanded.
pub(crate) fn browser(test: &str) -> Option<PathBuf> {
    let browser = BROWSERS.into_iter().find_map(found);
    let readers = ["pdfinfo", "pdftotext"];
    let missing = readers.into_iter().find(|name| found(name).is_none());
    let reason = match (&browser, missing) {
        (Some(_), None) => return browser,
        (None, _) => "chromium",
        (_, Some(name)) => name,
    };
    let line =
        format!("SKIPPED: {test}: NO PAGE WAS PRINTED, NONE WAS READ ({reason} is missing)\n");
    print!("{line}");
    let _ = io::stderr().write_all(line.as_bytes());
    let demanded = env::var_os("HANGBAR_BROWSER").is_some_and(|value| value == "1");
    assert!(!demanded, "{line}");
    None
}

/// A word and its box, in points from the upper left corner of the page.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Word {
    pub(crate) text: String,
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) right: f64,
    pub(crate) bottom: f64,
}

impl Word {
    pub(crate) fn height(&self) -> f64 {
        self.bottom - self.top
    }
}

/// A page of a print.
#[derive(Clone, Debug)]
pub(crate) struct Page {
    pub(crate) width: f64,
    pub(crate) height: f64,
    pub(crate) words: Vec<Word>,
}

impl Page {
    pub(crate) fn has(&self, text: &str) -> bool {
        let words = self.words.iter().map(|word| word.text.as_str());
        words.collect::<Vec<_>>().join(" ").contains(text)
    }

    /// No word on another one, and all of them so many points from the edges.
    pub(crate) fn check(&self, name: &str, margin: f64) {
        for (index, word) in self.words.iter().enumerate() {
            let inside = word.left >= margin
                && word.top >= margin - 2.0
                && word.right <= self.width - margin + 1.0
                && word.bottom <= self.height - margin + 2.0;
            assert!(
                inside,
                "{name}: {word:?} is off a page of {} by {}",
                self.width, self.height
            );
            for other in &self.words[index + 1..] {
                assert!(!meet(word, other), "{name}: {word:?} stands on {other:?}");
            }
        }
    }
}

/// Whether letters stand on others: the boxes have the room of accents and tails too, which lines set
/// close share.
fn meet(one: &Word, other: &Word) -> bool {
    const SHARED: f64 = 0.2;
    let (high, beside) = (SHARED * one.height().min(other.height()), 0.2);
    one.left + beside < other.right
        && other.left + beside < one.right
        && one.top + high < other.bottom - high
        && other.top + high < one.bottom - high
}

/// Runs a program to its end.
fn run(command: &mut Command) -> String {
    let output = command.stdin(Stdio::null()).output().unwrap();
    let errors = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{command:?}: {errors}");
    String::from_utf8_lossy(&output.stdout).into_owned()
}

/// The pages that a browser prints of a file, and what `pdftotext` reads on them.
pub(crate) fn printed(browser: &Path, name: &str, html: &str) -> Vec<Page> {
    let folder = Folder::new(&format!("sheet-{name}"));
    let file = folder.write("sheet.html", html);
    let pdf = folder.path().join("sheet.pdf");
    let as_option = |name: &str, path: &Path| format!("--{name}={}", path.display());
    run(Command::new(browser)
        .args([
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--no-pdf-header-footer",
        ])
        .arg(as_option("user-data-dir", &folder.path().join("profile")))
        .arg(as_option("print-to-pdf", &pdf))
        .arg(format!("file://{}", file.display())));
    let told = run(Command::new("pdfinfo").arg(&pdf));
    let count = told.lines().find_map(|line| line.strip_prefix("Pages:"));
    let count: usize = count.unwrap().trim().parse().unwrap();
    let pages = pages(&run(Command::new("pdftotext")
        .arg("-bbox")
        .arg(&pdf)
        .arg("-")));
    assert_eq!(pages.len(), count, "{name}");
    pages
}

fn pages(boxes: &str) -> Vec<Page> {
    let mut pages: Vec<Page> = Vec::new();
    for line in boxes.lines().map(str::trim) {
        let figure = |key: &str| -> f64 {
            let (_, rest) = line.split_once(&format!("{key}=\"")).unwrap();
            rest.split_once('"').unwrap().0.parse().unwrap()
        };
        if line.starts_with("<page ") {
            pages.push(Page {
                width: figure("width"),
                height: figure("height"),
                words: Vec::new(),
            });
        } else if line.starts_with("<word ") {
            let text = line.split_once('>').unwrap().1;
            let text = text.strip_suffix("</word>").unwrap();
            pages.last_mut().unwrap().words.push(Word {
                text: unescaped(text),
                left: figure("xMin"),
                top: figure("yMin"),
                right: figure("xMax"),
                bottom: figure("yMax"),
            });
        }
    }
    pages
}

fn unescaped(text: &str) -> String {
    let text = text.replace("&lt;", "<").replace("&gt;", ">");
    let text = text
        .replace("&quot;", "\"")
        .replace("&#39;", "'")
        .replace("&apos;", "'");
    text.replace("&amp;", "&")
}

#[test]
fn words_that_stand_on_each_other_and_off_the_page_are_seen() {
    let word = |left, top| Word {
        text: "bar".to_owned(),
        left,
        top,
        right: left + 20.0,
        bottom: top + 10.0,
    };
    assert!(meet(&word(10.0, 10.0), &word(29.0, 12.0)));
    assert!(!meet(&word(10.0, 10.0), &word(30.0, 10.0)));
    assert!(
        !meet(&word(10.0, 10.0), &word(10.0, 18.0)),
        "lines set close"
    );
    let page = |word| Page {
        width: 100.0,
        height: 100.0,
        words: vec![word],
    };
    page(word(20.0, 20.0)).check("in", 20.0);
    for word in [word(75.0, 50.0), word(50.0, 85.0), word(5.0, 50.0)] {
        let off = std::panic::catch_unwind(|| page(word).check("off", 20.0));
        assert!(off.is_err());
    }
}

#[test]
fn boxes_are_read_page_by_page() {
    let boxes = "<page width=\"612.0\" height=\"792.0\">\n\
                 <word xMin=\"1.5\" yMin=\"2\" xMax=\"3\" yMax=\"4\">&lt;b&gt;&amp;lt;</word>\n</page>\n\
                 <page width=\"298\" height=\"420\">\n</page>";
    let pages = pages(boxes);
    assert_eq!(pages.len(), 2);
    assert_eq!(pages[0].words[0].text, "<b>&lt;");
    assert!((pages[0].words[0].left - 1.5).abs() < 1e-9);
    assert!(pages[1].words.is_empty());
}
