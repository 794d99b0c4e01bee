//! Plans made for a page that is full, and what the program says of one.

use std::collections::BTreeMap;
use std::path::PathBuf;

use assert_cmd::Command;

use crate::folder::Folder;

pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The plans of the demo charter, by their paths from the root.
pub(crate) fn charter() -> Vec<String> {
    let entries = std::fs::read_dir(root().join("plans")).unwrap();
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut plans: Vec<String> = names.map(|name| format!("plans/{name}")).collect();
    plans.sort();
    assert!(plans.len() >= 8);
    plans
}

/// What a command gives, and its status.
pub(crate) fn ran(arguments: &[&str]) -> (String, i32) {
    let output = Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .current_dir(root())
        .args(arguments)
        .output()
        .unwrap();
    let status = output.status.code().unwrap();
    assert!(
        status < 2,
        "{arguments:?}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    (String::from_utf8(output.stdout).unwrap(), status)
}

/// As [`ran`], of a plan that is no file yet; `PLAN` in the arguments is its path.
pub(crate) fn ran_on(name: &str, plan: &str, arguments: &[&str]) -> (String, i32) {
    let folder = Folder::new(&format!("sheet-plan-{name}"));
    let path = folder.write("plan.toml", plan);
    let path = path.to_str().unwrap();
    let arguments = arguments
        .iter()
        .map(|word| if *word == "PLAN" { path } else { *word });
    ran(&arguments.collect::<Vec<_>>())
}

/// How often each word stands in a text. Lines may end at a hyphen or a stroke.
pub(crate) fn counted<'a>(words: impl Iterator<Item = &'a str>) -> BTreeMap<&'a str, usize> {
    let mut counts = BTreeMap::new();
    let pieces = words.flat_map(|word| word.split(['-', '/', '\u{a0}', ' ', '\n']));
    // A table of the screen that became lines has stops between its cells.
    let pieces = pieces.map(|piece| piece.trim_end_matches([',', '.', ':', ';']));
    for piece in pieces.filter(|piece| !piece.is_empty()) {
        *counts.entry(piece).or_default() += 1;
    }
    counts
}

/// Names as long as they may be.
pub(crate) const LONG_NAMES: [&str; 12] = [
    "Wilhelmina Featherstonehaugh-Cholmondele",
    "Maximilian Oberhausen-Niederkirchen zu B",
    "Anastasia Konstantinopolskaya-Vladimirov",
    "Bartholomew Throckmorton-Fitzwilliam III",
    "Christiane Schwarzenegger-Mittelstaedter",
    "Dorothea van den Nieuwenhuizen-Oosterhou",
    "Evangelista Montmorency-Roquefeuil d'Arc",
    "Ferdinandus Quetzalcoatl-Huitzilopochtli",
    "Gwendolyn Llanfairpwllgwyngyll-Aberystwy",
    "Hieronymus Wolfeschlegelsteinhausenberge",
    "Isabella Encarnacion de los Remedios-Paz",
    "Jeremias Altendorfer-Hinterleitner-Moser",
];

/// A team with large cylinders; each diver has what is said of them all besides.
pub(crate) fn team(names: &[String], besides: &str) -> String {
    let divers = names.iter().enumerate().map(|(index, name)| {
        format!(
            "\n[[diver]]\nname = '''{name}'''\nsac = \"{} L/min\"\n\
             cylinder = {{ size = \"2x12 L\", fill = \"230 bar\" }}\n{besides}\n",
            12 + index % 5
        )
    });
    divers.collect()
}

pub(crate) fn long_names(count: usize) -> Vec<String> {
    LONG_NAMES[..count]
        .iter()
        .map(|name| (*name).to_owned())
        .collect()
}

/// `Ada`, `Adb`, … `Adz`, `Aea`.
pub(crate) fn short_names(count: usize) -> Vec<String> {
    let letter = |index: usize| char::from(b'a' + u8::try_from(index % 26).unwrap());
    let name = |index: usize| format!("A{}{}", letter(3 + index / 26), letter(index));
    (0..count).map(name).collect()
}

pub(crate) const PONY: &str = "pony = { size = \"3 L\", fill = \"200 bar\" }";

/// A dive without stops.
pub(crate) const WALL: &str = "title = \"The outer wall of the old harbour\"\nsplash = \"09:40\"\n\
    \n[surface]\nemergency = \"Lapwing on VHF 77; coastguard on VHF 16\"\n\n\
    [profile]\ndepth = \"24 m\"\nbottom_time = \"20 min\"\n\n[gas]\nbottom = \"air\"\n";

/// Down a slope in many levels, with stops on nitrox.
pub(crate) fn slope(levels: usize) -> String {
    let levels = (0..levels).map(|index| {
        let depth = 32 - index;
        format!("\n[[profile.level]]\ndepth = \"{depth} m\"\ntime = \"2.5 min\"\n")
    });
    format!(
        "title = \"The long slope\"\nsplash = \"09:40\"\n\n[profile]\nstaged = true\n{}\n\
         [gas]\nbottom = \"air\"\n",
        levels.collect::<String>()
    )
}

/// That every word of a briefing is on paper, and every figure as often at least: a table of the screen
/// that became lines says its headings for each row.
pub(crate) fn all_said(name: &str, brief: &str, on_paper: &BTreeMap<&str, usize>) {
    let brief = brief.replace("[ ]", "");
    for (word, count) in counted(brief.split_whitespace()) {
        let is_figure = word.contains(|c: char| c.is_ascii_digit());
        let least = if is_figure { count } else { 1 };
        let there = on_paper.get(word).copied().unwrap_or(0);
        assert!(
            there >= least,
            "{name}: {word} stands {there} times, not {count}"
        );
    }
}

/// Minutes and seconds, or a time of day.
pub(crate) fn is_time(word: &str) -> bool {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    word.split_once(':')
        .is_some_and(|(minutes, seconds)| digits(minutes) && digits(seconds))
}
