//! Any text as a plan.

use hangbar::briefing::{BriefingError, brief};
use hangbar::plan_file;
use proptest::prelude::*;

use crate::config;

/// Whatever the text, an answer: a plan that can be briefed or refused, or problems that can be
/// shown.
fn gets_an_answer(text: &str) -> Result<(), TestCaseError> {
    match plan_file::read(text) {
        Ok(plan) => match brief(plan) {
            Ok(briefing) => {
                let words = briefing.findings.iter();
                let words = words.map(|finding| finding.message(briefing.plan.units()));
                prop_assert!(words.into_iter().all(|message| !message.is_empty()));
            }
            Err(BriefingError::Check(check)) => prop_assert!(false, "internal check: {check}"),
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        },
        Err(errors) => {
            prop_assert!(!errors.problems().is_empty());
            let rendered = errors.render("plan.toml");
            prop_assert!(rendered.starts_with("error: "), "{rendered}");
            for problem in errors.problems() {
                let position = problem.position.as_ref().expect("no overrides were given");
                let line = text.split('\n').nth(position.line - 1).unwrap_or_default();
                let most = line.chars().count() + 1;
                prop_assert!(
                    (1..=most.max(1)).contains(&position.column),
                    "{position:?} in {line:?}"
                );
            }
        }
    }
    Ok(())
}

/// A plan that names every table, to be damaged.
const WHOLE_PLAN: &str = r#"title = "Reef – über Ñ"
units = "metric"
splash = "09:40"

[site]
water = "sea"
altitude = "120 m"
temperature = "14 C"
current = "0.5 kn"

[[profile.level]]
depth = "32 m"
time = "20 min"

[[profile.level]]
depth = "15 m"
time = "12 min"

[ascent]
rate = "9 m/min"
stop_spacing = "3 m"
last_stop = "6 m"
safety_stop = { depth = "5 m", time = "3 min" }

[model]
gradient_factors = [40, 85]
first_compartment = "1b"
gas_law = "real"

[gas]
bottom = "21/20"
decompression = ["EAN50", "oxygen"]
switch_time = "1 min"

[reserve]
stress = 1.5
sort_out = "1 min"
floor = "50 bar"
turn = "third"

[[diver]]
name = "Ines"
sac = "15 L/min"
cylinder = { size = "24 L", fill = "220 bar" }
pony = { rated = "30 cuft", at = "3000 psi", fill = "200 bar" }
depth_limit = "40 m"
stage = [{ gas = "EAN50", size = "7 L", fill = "200 bar" }]

[[diver]]
name = "Tom"
sac = "1.2 bar/min"
cylinder = { size = "15 L", fill = "230 bar" }
"#;

/// What to write in place of something.
const HOSTILE: &[&str] = &[
    "nan",
    "inf",
    "-inf",
    "1e999",
    "-1",
    "0",
    "\"0 m\"",
    "\"-5 m\"",
    "\"1e3 m\"",
    "\"nan m\"",
    "\"5 m\u{0}\"",
    "\"999999999999999999999 min\"",
    "\"200 m\"",
    "\"1440 min\"",
    "\"0.1 min\"",
    "\"1 m/min\"",
    "\"0 bar\"",
    "\"345 bar\"",
    "\"150 bar\"",
    "\"100 L\"",
    "\"0.2 L\"",
    "\"150 L/min\"",
    "\"2 L/min\"",
    "\"oxygen\"",
    "\"5/0\"",
    "\"5/95\"",
    "\"EAN100\"",
    "\"EAN99999\"",
    "[5, 5]",
    "[100, 100]",
    "[5, 100]",
    "[]",
    "{}",
    "[[]]",
    "true",
    "false",
    "\"\"",
    "'''",
    "\"\"\"",
    "\\",
    "\u{feff}",
    "\r\n",
    "\t",
    "é",
    "日本",
    "1979-05-27",
    "\"3 m\"",
    "\"10 ft\"",
    "\"20 ft\"",
    "\"fresh\"",
    "\"4500 m\"",
    "\"−430 m\"",
    "\"30 min\"",
    "=",
    "#",
    "[",
];

#[derive(Clone, Debug)]
enum Damage {
    /// Cut so many characters out.
    Cut(prop::sample::Index, usize),
    /// Say so many characters twice.
    Twice(prop::sample::Index, usize),
    /// Put something in.
    Insert(prop::sample::Index, &'static str),
    /// A line's value becomes something else.
    Value(prop::sample::Index, &'static str),
    /// Two lines change places.
    Swap(prop::sample::Index, prop::sample::Index),
    /// A line is said twice, or left out.
    Line(prop::sample::Index, bool),
}

impl Damage {
    fn done_to(&self, text: &str) -> String {
        let chars: Vec<char> = text.chars().collect();
        let mut lines: Vec<String> = text.split('\n').map(str::to_owned).collect();
        if chars.is_empty() {
            return String::new();
        }
        let run = |at: &prop::sample::Index, length: usize| {
            let start = at.index(chars.len());
            start..chars.len().min(start + length)
        };
        match self {
            Self::Cut(at, length) => {
                let run = run(at, *length);
                chars[..run.start].iter().chain(&chars[run.end..]).collect()
            }
            Self::Twice(at, length) => {
                let run = run(at, *length);
                chars[..run.end].iter().chain(&chars[run.start..]).collect()
            }
            Self::Insert(at, text) => {
                let (before, after) = chars.split_at(at.index(chars.len()));
                let inserted: Vec<char> = text.chars().collect();
                before.iter().chain(&inserted).chain(after).collect()
            }
            Self::Value(at, value) => {
                let line = at.index(lines.len());
                if let Some((key, _)) = lines[line].split_once('=') {
                    lines[line] = format!("{key}= {value}");
                }
                lines.join("\n")
            }
            Self::Swap(one, other) => {
                let (one, other) = (one.index(lines.len()), other.index(lines.len()));
                lines.swap(one, other);
                lines.join("\n")
            }
            Self::Line(at, twice) => {
                let line = at.index(lines.len());
                let removed = lines.remove(line);
                if *twice {
                    lines.insert(line, removed.clone());
                    lines.insert(line, removed);
                }
                lines.join("\n")
            }
        }
    }
}

fn damage() -> impl Strategy<Value = Damage> {
    let at = any::<prop::sample::Index>;
    let hostile = || prop::sample::select(HOSTILE);
    prop_oneof![
        2 => (at(), 1_usize..20).prop_map(|(at, length)| Damage::Cut(at, length)),
        1 => (at(), 1_usize..60).prop_map(|(at, length)| Damage::Twice(at, length)),
        2 => (at(), hostile()).prop_map(|(at, text)| Damage::Insert(at, text)),
        6 => (at(), hostile()).prop_map(|(at, value)| Damage::Value(at, value)),
        1 => (at(), at()).prop_map(|(one, other)| Damage::Swap(one, other)),
        2 => (at(), any::<bool>()).prop_map(|(at, twice)| Damage::Line(at, twice)),
    ]
}

proptest! {
    #![proptest_config(config(256))]

    #[test]
    fn any_bytes_get_an_answer(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        gets_an_answer(&String::from_utf8_lossy(&bytes))?;
    }

    #[test]
    fn any_text_gets_an_answer(text in r#"(\PC|[\[\]{}="'.,#\n\r\t\\0-9a-z]){0,200}"#) {
        gets_an_answer(&text)?;
    }

    /// Words of plans in any order.
    #[test]
    fn any_words_of_a_plan_get_an_answer(
        lines in prop::collection::vec(
            prop_oneof![
                2 => prop::sample::select(WHOLE_PLAN.lines().collect::<Vec<_>>()).prop_map(str::to_owned),
                1 => "(depth|time|fill|size|sac|name|units|level|diver)( ?= ?)(\"[0-9]{1,4} ?(m|ft|min|bar|L)\"|[0-9.+-]{1,6})",
                1 => r#"\[{0,3}[a-z.]{0,12}\]{0,3}"#,
            ],
            0..30,
        ),
    ) {
        gets_an_answer(&lines.join("\n"))?;
    }
}

proptest! {
    #![proptest_config(config(192))]

    #[test]
    fn a_damaged_plan_gets_an_answer(damages in prop::collection::vec(damage(), 1..5)) {
        let damaged = damages.iter().fold(WHOLE_PLAN.to_owned(), |text, damage| damage.done_to(&text));
        gets_an_answer(&damaged)?;
    }
}

#[test]
fn the_plan_to_be_damaged_is_a_good_one() {
    let plan = plan_file::read(WHOLE_PLAN).unwrap_or_else(|errors| panic!("{errors}"));
    assert!(brief(plan).is_ok());
}
