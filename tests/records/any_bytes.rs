//! Any bytes: a log or a refusal that can be shown; never a panic.

use hangbar::record::{
    MOST_READINGS, RecordError, RecordFormat, SampledLog, format_of, read_csv, read_uddf,
};
use proptest::prelude::*;

use crate::uddf::TWO_DIVES;

const TABLE: &str = "# diver: Mara\ntime (min);depth (m);pressure (bar);gas\n0;-0,1;200;air\n\
    1,5;18,2;195,5;\n20;18,4;;\n22;6;90;EAN50\n22;6;90;EAN50\n25;0;85;\n";

/// What to put in place of something.
const HOSTILE: &[&str] = &[
    "",
    "\"",
    "\"\"",
    ",",
    ";",
    "\t",
    "\n",
    "\r",
    "\r\n",
    "#",
    "\0",
    "\u{feff}",
    "\u{1b}[31m",
    "\u{202e}",
    "\u{61c}",
    "é",
    "海",
    "-",
    "−",
    "+",
    ".",
    "e",
    "nan",
    "inf",
    "-inf",
    "1e999",
    "-0",
    "999999999999999999999999",
    "0.0000000000000000001",
    ":",
    "1:60",
    "12:30",
    "1:02:30",
    "(",
    ")",
    "[",
    "s",
    "min",
    "ft",
    "psi",
    "kPa",
    "m",
    "time (s)",
    "depth (m)",
    "gas",
    "air",
    "EAN4",
    "<",
    ">",
    "</",
    "/>",
    "<!--",
    "-->",
    "<![CDATA[",
    "]]>",
    "<!DOCTYPE a>",
    "<?",
    "?>",
    "&",
    "&amp;",
    "&lol;",
    "&#0;",
    "&#x1b;",
    "=",
    "<dive>",
    "</dive>",
    "<waypoint>",
    "</waypoint>",
    "<depth>",
    "</depth>",
    "<mix id=\"air\">",
    "ref=\"nobody\"",
    "0",
    "1",
    "0.5",
    "21",
];

fn is_answered(answer: &Result<Vec<SampledLog>, RecordError>) -> Result<(), TestCaseError> {
    match answer {
        Ok(logs) => {
            prop_assert!(!logs.is_empty());
            for log in logs {
                let readings = &log.readings;
                prop_assert!((2..=MOST_READINGS).contains(&readings.len()));
                prop_assert!(readings.windows(2).all(|pair| pair[1].time > pair[0].time));
                let depths = readings.iter().map(|reading| reading.depth.as_m());
                prop_assert!(
                    depths
                        .clone()
                        .all(|depth| (0.0..=200.000_001).contains(&depth))
                );
                let band = SampledLog::SURFACE_BAND.as_m();
                prop_assert!(depths.into_iter().any(|depth| depth > band));
            }
        }
        Err(refused) => {
            can_be_shown(refused)?;
        }
    }
    Ok(())
}

/// Short, and nothing in it that a terminal acts on.
fn can_be_shown(refused: &RecordError) -> Result<(), TestCaseError> {
    let moves = |c: char| {
        let turns = matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}'
            | '\u{2066}'..='\u{2069}' | '\u{61c}' | '\u{2028}' | '\u{2029}');
        c.is_control() || turns
    };
    let column = refused.column.clone().unwrap_or_default();
    for text in [&refused.message, &refused.accepted, &column] {
        prop_assert!(!text.contains(moves), "{text:?}");
        prop_assert!(text.chars().count() < 400, "{text:?}");
    }
    prop_assert!(!refused.message.is_empty() && !refused.accepted.is_empty());
    prop_assert!(refused.line != Some(0));
    Ok(())
}

fn gets_an_answer(bytes: &[u8]) -> Result<(), TestCaseError> {
    is_answered(&read_csv(bytes))?;
    is_answered(&read_uddf(bytes))?;
    if let Err(refused) = format_of(bytes) {
        can_be_shown(&refused)?;
    }
    Ok(())
}

fn damaged(text: &str, damages: &[(f64, usize, &str)]) -> String {
    let mut chars: Vec<char> = text.chars().collect();
    for (at, cut, put) in damages {
        #[allow(clippy::cast_possible_truncation, reason = "a place in a short text")]
        let start = ((chars.len() as f64 * at) as usize).min(chars.len());
        let end = (start + cut).min(chars.len());
        chars.splice(start..end, put.chars());
    }
    chars.into_iter().collect()
}

fn damages() -> impl Strategy<Value = Vec<(f64, usize, &'static str)>> {
    let cut = prop_oneof![3 => 0..4_usize, 1 => 4..60_usize];
    let damage = (0.0..1.0_f64, cut, prop::sample::select(HOSTILE));
    prop::collection::vec(damage, 1..5)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(512) })]

    #[test]
    fn any_bytes_get_an_answer(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        gets_an_answer(&bytes)?;
    }

    #[test]
    fn any_words_get_an_answer(words in prop::collection::vec(prop::sample::select(HOSTILE), 0..60)) {
        gets_an_answer(words.concat().as_bytes())?;
    }

    #[test]
    fn a_damaged_table_gets_an_answer(damages in damages()) {
        gets_an_answer(damaged(TABLE, &damages).as_bytes())?;
    }

    #[test]
    fn damaged_uddf_gets_an_answer(damages in damages()) {
        gets_an_answer(damaged(TWO_DIVES, &damages).as_bytes())?;
    }
}

#[test]
fn what_is_to_be_damaged_is_good() {
    assert_eq!(read_csv(TABLE.as_bytes()).unwrap()[0].readings.len(), 5);
    assert_eq!(format_of(TABLE.as_bytes()), Ok(RecordFormat::Csv));
    assert_eq!(read_uddf(TWO_DIVES.as_bytes()).unwrap().len(), 2);
}
