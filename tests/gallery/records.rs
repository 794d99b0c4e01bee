//! Broken records: slates that were filled in by hand, tables and UDDF of loggers.

use hangbar::plan_file::{pencil_form, read};

use crate::broken::{Broken, Bytes, Command, broken, hold};
use crate::program::{SLATE, STEPS, TABLE, UDDF};

/// Told of every slate, and of every table and UDDF file.
const SLATES: Command = Command {
    folder: "slates",
    words: &["debrief", "ferry-steps.toml", "FILE"],
};
const RECORDS: Command = Command {
    folder: "records",
    words: &["debrief", "ferry-steps.toml", "FILE"],
};

const OF_SLATE: &[Broken] = broken! {
    "name-of-nobody": "\"Runa\"" => "\"Luna\"";
    "name-emptied": "\"Runa\"" => "\"\"";
    "more-gas-at-the-end": "end_pressure = \"90 bar\"" => "end_pressure = \"230 bar\"";
    "back-before-in": "\"10:07\"" => "\"08:07\"", "run_time = \"33 min\"\n" => "";
    "clock-and-run-time-disagree": "\"33 min\"" => "\"53 min\"";
    "bottom-time-longer-than-the-dive": "\"25 min\"" => "\"45 min\"";
    "average-deeper-than-the-greatest": "\"18.3 m\"" => "\"28.3 m\"";
    "bare-numbers": "\"24.2 m\"" => "24.2", "\"90 bar\"" => "90";
    "question-mark": "\"90 bar\"" => "\"?\"";
    "tilde": "\"24.2 m\"" => "\"~24 m\"";
    "cubic-feet-for-a-gauge": "\"90 bar\"" => "\"90 cuft\"";
    "key-of-a-plan": "average_depth = \"18.3 m\"" => "average_depth = \"18.3 m\"\nsac = \"15 L/min\"";
    "quote-not-closed": "\"24.2 m\"" => "\"24.2 m";
    "single-brackets": "[[diver]]" => "[diver]";
};

/// Of the form, both divers of which are to be filled in.
const OF_FORM: &[Broken] = broken! {
    "half-filled-in": "greatest_depth = \"\" " => "greatest_depth = \"24.2 m\" ", "time_out = \"\" " => "time_out = \"10:07\" ";
};

const OF_TABLE: &[Broken] = broken! {
    "no-unit-in-the-header.csv": "depth (m)" => "depth";
    "unit-of-no-kind.csv": "depth (m)" => "depth (fathoms)";
    "depth-twice.csv": "pressure (bar)" => "depth (ft)";
    "backwards.csv": "1500," => "90,";
    "letters-for-a-number.csv": "160,24.0" => "160,deep";
    "decimal-commas.csv": "60,12.0,205" => "60,12,0,205";
    "cell-missing.csv": "160,24.0,198" => "160,24.0";
    "depth-empty.csv": "160,24.0,198" => "160,,198";
    "high-above-the-surface.csv": "0,0.0,210" => "0,-4.0,210";
    "deeper-than-anybody.csv": "1500,24.0" => "1500,2400";
    "not-a-number.csv": "160,24.0" => "160,NaN";
    "pressure-in-psi-called-bar.csv": "160,24.0,198" => "160,24.0,2870";
    "two-divers.csv": "160,24" => "# diver: Oskar\n160,24";
    "diver-of-nobody.csv": "Runa" => "Luna";
    "nobody-says-whose.csv": "# diver: Runa\n" => "";
    "quote-not-closed.csv": "160,24.0" => "160,\"24.0";
    "mixed-separators.csv": "time (s),depth (m)," => "time (s);depth (m),";
    "semicolons-below-commas.csv": "60,12.0,205" => "60;12.0;205";
    "header-again.csv": "1500,24" => "time (s),depth (m),pressure (bar)\n1500,24";
    "escape-in-the-diver.csv": "Runa" => "Ru\u{1b}[31mna";
    "spreadsheet-sum.csv": "1880,0.0,109\n" => "1880,0.0,109\nSUM,,\n";
};

const OF_UDDF: &[Broken] = broken! {
    "tag-not-closed.uddf": "<depth>24.0</depth>" => "<depth>24.0";
    "tags-crossed.uddf": "</depth><divetime>160</divetime>" => "</divetime><depth>160</depth>";
    "old-version.uddf": "version=\"3.2.3\"" => "version=\"2.2.0\"";
    "another-root.uddf": "<uddf xmlns" => "<divelog xmlns", "</uddf>" => "</divelog>";
    "document-type.uddf": "<uddf" => "<!DOCTYPE uddf [<!ENTITY a \"aaaa\">]>\n<uddf";
    "waypoint-without-depth.uddf": "<depth>24.0</depth><divetime>160" => "<divetime>160";
    "backwards.uddf": "<divetime>1500" => "<divetime>60";
    "depth-of-no-number.uddf": "<depth>24.0" => "<depth>deep";
    "depth-in-words-of-units.uddf": "<depth>24.0" => "<depth>24.0 m";
    "mix-of-nobody.uddf": "<switchmix ref=\"mix-1\"/>" => "<switchmix ref=\"mix-9\"/>";
    "diver-of-nobody.uddf": "Runa" => "Luna";
    "entity-of-its-own.uddf": "Runa" => "&runa;";
    "bare-ampersand.uddf": "Runa" => "Runa & Oskar";
};

/// The form of the good plan as it is written for its divers.
fn form() -> String {
    pencil_form(&read(STEPS).unwrap())
}

#[test]
fn every_broken_slate_is_told_in_the_words_of_its_golden() {
    let form = form();
    let other = SLATE.replace("Runa", "Oskar");
    let (_, of_oskar) = form.rsplit_once("\n\n").unwrap();
    let whole: Vec<(&str, Vec<u8>)> = vec![
        ("not-filled-in", form.clone().into()),
        (
            "one-filled-in-and-one-not",
            format!("{SLATE}\n{of_oskar}").into(),
        ),
        ("name-twice", format!("{SLATE}\n{other}\n{SLATE}").into()),
        ("plan-for-a-slate", STEPS.into()),
        ("nobody", b"# nobody wrote anything\n".to_vec()),
    ];
    let edits = [Broken::all(OF_SLATE, SLATE), Broken::all(OF_FORM, &form)];
    hold(&SLATES, [edits.concat(), whole].concat(), ".toml");
}

/// Whole tables and UDDF files: what no edit makes.
fn whole() -> Vec<(&'static str, Vec<u8>)> {
    let cut_off = &UDDF[..UDDF
        .find("          <waypoint><depth>24.0</depth><divetime>1500")
        .unwrap()];
    let dive = UDDF.find("    <repetitiongroup").unwrap()..UDDF.find("  </profiledata>").unwrap();
    let mut no_dive = UDDF.to_owned();
    no_dive.replace_range(dive, "");
    let texts: &[(&str, &str)] = &[
        (
            "depth-column-missing.csv",
            "# diver: Runa\ntime (s),pressure (bar)\n0,210\n60,200\n",
        ),
        (
            "time-column-missing.csv",
            "# diver: Runa\ndepth (m),pressure (bar)\n0,210\n12,200\n",
        ),
        (
            "no-header.csv",
            "0,0.0\n60,12.0\n120,24.0\n1500,24.0\n1800,0.0\n",
        ),
        ("header-alone.csv", "# diver: Runa\ntime (s),depth (m)\n"),
        (
            "never-under-water.csv",
            "# diver: Runa\ntime (s),depth (m)\n0,0.0\n60,0.1\n120,0.0\n",
        ),
        (
            "clock-that-is-none.csv",
            "# diver: Runa\ntime (mm:ss),depth (m)\n00:00,0\n01:75,18\n25:00,18\n30:00,0\n",
        ),
        (
            "gas-of-no-kind.csv",
            "# diver: Runa\ntime (s),depth (m),gas\n0,0,EAN32\n60,18,Nitrox\n1500,18,\n1800,0,\n",
        ),
        (
            "notes.txt",
            "Runa: 24 m for 25 min, came up with 90 bar. Lovely dive.\n",
        ),
        ("empty.csv", ""),
        ("cut-off.uddf", cut_off),
        ("no-dive.uddf", &no_dive),
    ];
    let mut whole: Vec<_> = texts
        .iter()
        .map(|(name, text)| (*name, text.as_bytes().to_vec()))
        .collect();
    whole.extend([
        (
            "latin-1.csv",
            Bytes(&TABLE.replace("Runa", "Åke")).in_latin_1(),
        ),
        ("utf-16.csv", Bytes(TABLE).in_utf_16()),
        (
            "binary.csv",
            [b"PK\x03\x04\x14".as_slice(), &[0, 6, 8, 0xff]].concat(),
        ),
        (
            "line-ends-of-an-old-mac.csv",
            TABLE.replace('\n', "\r").into(),
        ),
    ]);
    whole
}

#[test]
fn every_broken_table_or_uddf_file_is_told_in_the_words_of_its_golden() {
    let edits = [Broken::all(OF_TABLE, TABLE), Broken::all(OF_UDDF, UDDF)];
    hold(&RECORDS, [edits.concat(), whole()].concat(), "");
}
