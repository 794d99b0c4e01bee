//! The folder of goldens: how one is compared, and that none is left over.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use crate::outputs::{GROUPS, brief_of};
use crate::program::{plans, root, run};

/// A command line, and the name of the file that has what it gives.
pub(crate) struct Golden {
    pub(crate) name: &'static str,
    pub(crate) arguments: &'static [&'static str],
}

/// Unrounded figures differ in their last bits from machine to machine, as `exp` and `ln` do.
const LAST_BITS: f64 = 1e-9;

fn folder() -> PathBuf {
    root().join("tests/golden/files")
}

/// What each command line gives is what its file has.
pub(crate) fn hold(goldens: &[Golden]) {
    for golden in goldens {
        compare(golden.name, golden.arguments);
    }
}

pub(crate) fn compare(name: &str, arguments: &[&str]) {
    let got = run(arguments);
    assert!(!got.is_empty(), "{arguments:?} says nothing");
    let is_for_scripts = |word: &&str| ["csv", "json"].contains(word);
    let same = if arguments.iter().any(is_for_scripts) {
        same_but_for_the_last_bits
    } else {
        str::eq
    };
    let path = folder().join(format!("{name}.txt"));
    let kept = fs::read_to_string(&path);
    if std::env::var_os("HANGBAR_REWRITE").is_some() {
        if !kept.is_ok_and(|want| same(&got, &want)) {
            fs::write(&path, got).unwrap();
        }
        return;
    }
    let want = kept.unwrap_or_else(|error| panic!("no golden {name}: {error}"));
    assert!(
        same(&got, &want),
        "{name} differs from its golden; it is now:\n{got}"
    );
}

/// Compares CSV cell by cell, and JSON word by word.
fn same_but_for_the_last_bits(got: &str, want: &str) -> bool {
    let rows = |text: &str| -> Vec<Vec<String>> {
        let lines = text.split('\n');
        lines
            .map(|line| line.split([',', ' ']).map(str::to_owned).collect())
            .collect()
    };
    let same_cell = |(got, want): (&String, &String)| match (got.parse(), want.parse()) {
        (Ok::<f64, _>(got), Ok::<f64, _>(want)) => {
            (got - want).abs() <= LAST_BITS * want.abs().max(1.0)
        }
        _ => got == want,
    };
    let (got, want) = (rows(got), rows(want));
    got.len() == want.len()
        && got
            .iter()
            .zip(&want)
            .all(|(got, want)| got.len() == want.len() && got.iter().zip(want).all(same_cell))
}

#[test]
fn only_the_last_bits_of_csv_and_json_may_differ() {
    let want = "depth_m,gas,limit_min\n12,air,129.00755297037614\n";
    let same = |got: &str| same_but_for_the_last_bits(got, want);
    assert!(same(want));
    assert!(same(&want.replace("7614", "7611")));
    for (old, new) in [
        ("129.0075", "129.0076"),
        ("air", "EAN32"),
        ("limit_min", "limit"),
        ("12,air", "12,air,air"),
        ("7614\n", "7614"),
        ("7614\n", "7614\n14,air,82\n"),
        ("129.00755297037614", "NaN"),
    ] {
        assert!(!same(&want.replace(old, new)), "{old} => {new}");
    }
    let json = "{\n  \"to_bar\": 84.30000000000001,\n";
    let same = |got: &str| same_but_for_the_last_bits(got, json);
    assert!(same(&json.replace("001,", "003,")));
    for (old, new) in [("84.3", "84.4"), ("to_bar", "bar"), (",\n", "\n")] {
        assert!(!same(&json.replace(old, new)), "{old} => {new}");
    }
}

/// A file that no command line gives is compared with nothing, and nobody would miss it.
#[test]
fn every_file_is_the_golden_of_a_command_line() {
    let mut names = BTreeSet::new();
    let groups = GROUPS.iter().copied().flatten();
    let groups = groups.map(|golden| golden.name.to_owned());
    for name in groups.chain(plans().iter().map(|plan| brief_of(plan))) {
        assert!(names.insert(format!("{name}.txt")), "{name} stands twice");
    }
    let files: Vec<String> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|file| !names.contains(file))
        .collect();
    assert!(files.is_empty(), "nobody's goldens: {files:?}");
}
