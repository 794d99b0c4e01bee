//! What a record can have wrong: good ones are broken one edit at a time.

use hangbar::record::{RecordError, SampledLog, read_csv, read_uddf};

use crate::plans::edited;

type Reader = fn(&[u8]) -> Result<Vec<SampledLog>, RecordError>;

/// What is changed, the line that is refused (0 for none), its column, and words of the message
/// and of what is accepted.
type Fault = (
    &'static str,
    &'static str,
    u64,
    &'static str,
    &'static str,
    &'static str,
);

/// `"old" => "new" | line "column" | "words of the message" | "words of what is accepted"`
macro_rules! faults {
    ($($old:literal => $new:literal
       | $line:literal $column:literal | $message:literal | $accepted:literal;)+) => {
        &[$(($old, $new, $line, $column, $message, $accepted)),+]
    };
}

const TABLE: &str = "# diver: Mara
time (min),depth (m),pressure (bar),gas
0,0,200,air
1.5,18.2,195.5,
20,18.4,,
22,6,90,EAN50
25,0,85,
";

const TABLE_FAULTS: &[Fault] = faults! {
    "time (min)" => "time"
        | 2 "time" | "`time` has no unit" | "`time (h:mm:ss)`";
    "time (min)" => "time (days)"
        | 2 "time" | "the unit of the column `time (days)` is not known" | "`time (s)`";
    "depth (m)" => "depth (fathoms)"
        | 2 "depth" | "unit of the column `depth (fathoms)`" | "`depth (ft)`";
    "pressure (bar)" => "pressure (kPa)"
        | 2 "pressure" | "unit of the column `pressure (kPa)`" | "`pressure (psi)`";
    "pressure (bar)" => "pressure"
        | 2 "pressure" | "`pressure` has no unit" | "`pressure (psi)`";
    ",gas" => ",gas (%)"
        | 2 "gas" | "`gas (%)` has a unit" | "EAN32";
    ",gas" => ",temperature (C)"
        | 2 "" | "`temperature (C)` is no column" | "take it out";
    ",gas" => ","
        | 2 "" | "a column has no name" | "take it out";
    ",gas" => ",Depth_ft"
        | 2 "depth" | "`Depth_ft` is the second column" | "each column once";
    "time (min)," => ""
        | 2 "time" | "no column `time`" | "a header with `time`";
    ",depth (m)" => ""
        | 2 "depth" | "no column `depth`" | "a header with `time`";
    "time (min),depth" => "time (min);depth"
        | 2 "" | "mixes separators" | "one kind of them";
    "time (min),depth (m),pressure (bar),gas\n" => "a\n"
        | 2 "" | "`a` is no header" | "time (s),";
    "1.5,18.2," => "1.5,18.2 m,"
        | 4 "depth" | "`18.2 m` has a unit in the cell" | "in the header";
    "195.5" => "195.5bar"
        | 4 "pressure" | "`195.5bar` has a unit" | "in the header";
    "1.5,18.2" => "1:30,18.2"
        | 4 "time" | "`1:30` has a colon" | "`time (h:mm:ss)`";
    "1.5,18.2" => "-1.5,18.2"
        | 4 "time" | "`-1.5` is negative" | "only a depth";
    "195.5" => "−5"
        | 4 "pressure" | "`−5` is negative" | "only a depth";
    "1.5,18.2" => "nan,18.2"
        | 4 "time" | "`nan` is not a plain number" | "12.5";
    "1.5,18.2" => "1e0,18.2"
        | 4 "time" | "`1e0` is not a plain number" | "12.5";
    "1.5,18.2" => "1.5,inf"
        | 4 "depth" | "`inf` is not a plain number" | "12.5";
    "1.5,18.2" => "1.5,- 18"
        | 4 "depth" | "`- 18` is not a plain number" | "12.5";
    "1.5,18.2" => "1.5,--1"
        | 4 "depth" | "`-1` is negative" | "12.5";
    "1.5,18.2" => "1.5,\"18,2\""
        | 4 "depth" | "`18,2` has a comma" | "semicolons or tabs";
    "1.5,18.2" => "1,5,18,2"
        | 4 "" | "the row has 6 cells, the header 4" | "decimal mark too";
    "20,18.4,," => "20,18.4"
        | 5 "" | "the row has 2 cells, the header 4" | "a blank one";
    "1.5,18.2" => ",18.2"
        | 4 "time" | "the cell is blank" | "12.5";
    "1.5,18.2" => "1.5, "
        | 4 "depth" | "the cell is blank" | "12.5";
    "EAN50" => "EAN4"
        | 6 "gas" | "`EAN4` is no gas" | "18/45";
    "EAN50" => "nitrox"
        | 6 "gas" | "`nitrox` is no gas" | "18/45";
    "1.5,18.2" => "1.5,\"18.2"
        | 4 "" | "a quotation mark is opened" | "pairs";
    "20,18.4" => "1.2,18.4"
        | 5 "time" | "1.2 min comes after 1.5 min on line 4" | "times that grow";
    "20,18.4" => "1.5,18.4"
        | 5 "time" | "1.5 min stands on line 4 too" | "times that grow";
    "1.5,18.2" => "1.5,200.5"
        | 4 "depth" | "the depth is 200.5 m" | "-1 m to 200 m";
    "25,0,85" => "25,-1.5,85"
        | 7 "depth" | "the depth is -1.5 m" | "-1 m to 200 m";
    "195.5" => "4095"
        | 4 "pressure" | "the pressure is 4095 bar" | "0 bar to 450 bar";
    "25,0" => "1440.5,0"
        | 7 "time" | "the time is 1440.5 min, over 24 h" | "one dive";
    "25,0" => "99999999999999999999,0"
        | 7 "time" | "over 24 h after the first, 0 min" | "one dive";
    "# diver: Mara" => "# diver:"
        | 1 "" | "`` cannot be the name" | "1 to 40 characters";
    "# diver: Mara" => "# diver: M\u{202e}ara"
        | 1 "" | "`M\\u{202e}ara` cannot be" | "control";
    "\n0,0" => "\n# diver: Ilo\n0,0"
        | 3 "" | "the diver is `Ilo`, and `Mara` on line 1" | "one diver";
    "1.5,18.2" => "1.5\u{1b}[2J,18.2"
        | 4 "time" | "`1.5\\u{1b}[2J` is not a plain" | "12.5";
    "1.5,18.2" => "1.5,18\r18"
        | 4 "" | "a carriage return stands" | "a line feed";
    "20,18.4" => "20\0,18.4"
        | 5 "" | "a zero byte" | "UTF-8";
};

const COMMAS: &str = "time (min);depth (m)\n0;0\n1,5;18,2\n20;18,4\n25;0\n";

const COMMA_FAULTS: &[Fault] = faults! {
    "20;18,4" => "20;18.4"
        | 4 "depth" | "`18.4` is the first number with a decimal point" | "one";
    "0;0" => "0.0;0"
        | 3 "time" | "decimal comma, and line 2 has one with a point" | "one decimal";
    "20;18,4" => "20;1.018,4"
        | 4 "depth" | "`1.018,4` has a comma" | "no mark for thousands";
    "20;18,4" => "20;1,018,4"
        | 4 "depth" | "`1,018,4` has a comma" | "no mark for thousands";
    "20;18,4" => "20;18,4;"
        | 4 "" | "3 cells, the header 2" | "as many cells";
};

const CLOCK: &str = "time (h:mm:ss)\tdepth (ft)\n0:00:00\t0\n12:30\t60\n1:02:30\t0\n";

const CLOCK_FAULTS: &[Fault] = faults! {
    "12:30" => "12:60"
        | 3 "time" | "`12:60` is not a time" | "12:30";
    "12:30" => "12.5"
        | 3 "time" | "`12.5` is not a time" | "12:30";
    "1:02:30" => "1:60:30"
        | 4 "time" | "`1:60:30` is not a time" | "1:02:30";
    "1:02:30" => "1:02:30:00"
        | 4 "time" | "is not a time" | "1:02:30";
    "12:30" => "12:"
        | 3 "time" | "`12:` is not a time" | "12:30";
    "12:30" => ":30"
        | 3 "time" | "`:30` is not a time" | "12:30";
    "12:30" => "12:-30"
        | 3 "time" | "`12:-30` is not a time" | "12:30";
    "60" => "660"
        | 3 "depth" | "the depth is 660 ft" | "(-3.2 ft to 656.1 ft)";
};

const NO_DIVES: &[Fault] = faults! {
    "" => ""
        | 0 "" | "the file is empty" | "a header";
    "" => "# a\n\n"
        | 0 "" | "comments alone" | "a header";
    "" => "time (s),depth (m)\n"
        | 1 "" | "has no reading" | "at least two";
    "" => "time (s),depth (m)\n0,5\n0,5\n"
        | 1 "" | "one reading alone" | "at least two";
    "" => "time (s),depth (m)\n0,0\n9,0.3\n"
        | 1 "" | "greatest depth is 0.3 m" | "0.3 m";
    "" => "\u{feff}t\u{ed}me,depth\n0,0\n"
        | 1 "" | "`t\u{ed}me` is no column" | "take it out";
};

const UDDF: &str = r#"<?xml version="1.0" encoding="utf-8"?>
<uddf version="3.2.0">
<diver><owner><personal><firstname>Mara</firstname></personal></owner></diver>
<gasdefinitions>
<mix id="lean"><o2>0.18</o2><he>0.45</he></mix>
</gasdefinitions>
<profiledata><repetitiongroup>
<dive>
<informationbeforedive><datetime>2026-08-14T09:40:00</datetime></informationbeforedive>
<tankdata><tankpressurebegin>20000000</tankpressurebegin></tankdata>
<samples>
<waypoint><divetime>0</divetime><depth>0</depth><switchmix ref="lean"/></waypoint>
<waypoint><divetime>120</divetime><depth>18.2</depth><tankpressure>19e6</tankpressure></waypoint>
<waypoint><divetime>1500</divetime><depth>0</depth></waypoint>
</samples>
</dive>
</repetitiongroup></profiledata>
</uddf>
"#;

const UDDF_FAULTS: &[Fault] = faults! {
    "<uddf version=\"3.2.0\">" => "<uddf>"
        | 2 "uddf" | "does not say its version" | "version 3";
    "3.2.0" => "2.2.0"
        | 2 "uddf" | "of version `2.2.0`" | "version=\"3.2.0\"";
    "3.2.0" => "31"
        | 2 "uddf" | "of version `31`" | "version=\"3.2.0\"";
    "utf-8" => "iso-8859-1"
        | 1 "" | "written in `iso-8859-1`" | "UTF-8";
    "<uddf" => "<!DOCTYPE uddf [<!ENTITY a \"aa\">]>\n<uddf"
        | 2 "" | "a DOCTYPE" | "no entities but";
    "Mara" => "&a;"
        | 3 "" | "the entity `a`" | "no entities but";
    "\"lean\"/" => "\"&a;\"/"
        | 12 "" | "the entity `a`" | "no entities but";
    "<dive>" => "<dive a=\"&a;\">"
        | 8 "" | "the entity `a`" | "no entities but";
    "Mara" => "&#0;"
        | 3 "" | "not well-formed XML" | "whole UDDF file";
    "Mara" => "M & N"
        | 3 "" | "an & stands alone" | "&amp;";
    "Mara" => "M\u{61c}&#27;"
        | 3 "firstname" | "`M\\u{61c}\\u{1b}` cannot be the name" | "40";
    "</samples>" => "</sample>"
        | 15 "" | "`samples` is open, and `sample` is closed" | "whole UDDF";
    "</uddf>" => "</uddf></uddf>"
        | 18 "" | "`uddf` is closed and was never open" | "whole UDDF";
    "</uddf>" => "</uddf><uddf/>"
        | 18 "" | "a second element" | "whole UDDF";
    "</uddf>" => "</uddf>more"
        | 18 "" | "the text `more` is outside" | "whole UDDF";
    "</uddf>" => ""
        | 19 "" | "breaks off before its last element" | "whole UDDF";
    "</uddf>" => "<!-- "
        | 18 "" | "the file breaks off: comment" | "whole UDDF";
    "<dive>" => "<dive id=a>"
        | 8 "" | "not well-formed XML" | "whole UDDF";
    "<dive>" => "<dive a='' a=''>"
        | 8 "" | "not well-formed XML" | "whole UDDF";
    "<o2>0.18</o2>" => ""
        | 5 "mix" | "the gas `lean` has no `o2`" | "fractions of 1";
    "0.18" => "18"
        | 5 "mix" | "impossible fractions: o2 18.0000" | "0.32 for 32 %";
    "0.18" => "0.02"
        | 5 "mix" | "2 % of oxygen" | "fractions of 1";
    "0.45" => "0.85"
        | 5 "mix" | "impossible fractions" | "fractions of 1";
    "</he>" => "</he><n2>0.2</n2>"
        | 5 "mix" | "impossible fractions" | "fractions of 1";
    "</he>" => "</he><h2>0.2</h2>"
        | 5 "mix" | "argon or hydrogen" | "fractions of 1";
    "0.18" => "-0.18"
        | 5 "o2" | "`-0.18` of `o2` is negative" | "a fraction of 1";
    "0.18" => "18 %"
        | 5 "o2" | "`18 %` of `o2` is not a plain number" | "a fraction of 1";
    "</mix>" => "</mix>\n<mix id=\"lean\"><o2>0.5</o2></mix>"
        | 6 "mix" | "two gases" | "once";
    "\"lean\"/" => "\"rich\"/"
        | 12 "switchmix" | "names `rich`, and no `mix`" | "gasdefinitions";
    " ref=\"lean\"" => ""
        | 12 "switchmix" | "has no `ref`" | "ref=\"air\"";
    "2026-08-14T" => "14.8.2026 "
        | 9 "datetime" | "is not a day and a time" | "2026-08-14T09:40:00";
    "T09:40:00" => "T25:40:00"
        | 9 "datetime" | "is not a day and a time" | "2026-08-14T09:40:00";
    "20000000<" => "2e8<"
        | 10 "pressure" | "the pressure is 2000 bar" | "450 bar";
    "19e6" => "46e6"
        | 13 "pressure" | "the pressure is 460 bar" | "450 bar";
    "19e6" => "190 bar"
        | 13 "tankpressure" | "`190 bar` of `tankpressure`" | "pascals";
    "19e6" => "1e999"
        | 13 "tankpressure" | "`1e999` of `tankpressure` is not" | "pascals";
    ">120<" => "><"
        | 13 "divetime" | "`divetime` is empty" | "seconds";
    ">120<" => ">2:00<"
        | 13 "divetime" | "`2:00` of `divetime` is not" | "seconds";
    ">120<" => ">-120<"
        | 13 "divetime" | "`-120` of `divetime` is negative" | "seconds";
    ">18.2<" => ">18,2<"
        | 13 "depth" | "`18,2` of `depth` is not a plain" | "metres";
    ">18.2<" => ">18<b/>2<"
        | 13 "depth" | "`b` stands within `depth`" | "no element";
    ">18.2<" => ">218.2<"
        | 13 "depth" | "the depth is 218.2 m" | "200 m";
    "<depth>18.2</depth>" => ""
        | 13 "depth" | "a `waypoint` has no `depth`" | "in each";
    "<divetime>120</divetime>" => ""
        | 13 "divetime" | "has no `divetime`" | "in each";
    "<depth>18" => "<depth>1</depth><depth>18"
        | 13 "depth" | "for the second time" | "once";
    ">1500<" => ">60<"
        | 14 "time" | "60 s comes after 120 s on line 13" | "times that grow";
    ">1500<" => ">120<"
        | 14 "time" | "120 s stands on line 13 too" | "times that grow";
    ">1500<" => ">86401<"
        | 14 "time" | "86401 s, over 24 h after the first, 0 s" | "one dive";
    ">18.2<" => ">0.2<"
        | 8 "" | "dive 1 of the file never goes under water" | "deeper than 0.3 m";
    "<dive>\n" => "<dives>\n"
        | 16 "" | "`dives` is open" | "whole UDDF";
};

fn table(bytes: &[u8]) -> Result<Vec<SampledLog>, RecordError> {
    read_csv(bytes)
}

fn uddf(bytes: &[u8]) -> Result<Vec<SampledLog>, RecordError> {
    read_uddf(bytes)
}

/// What differs from what should be said of a broken record.
fn difference(read: Reader, good: &str, fault: &Fault) -> Option<String> {
    let (old, new, line, column, message, accepted) = *fault;
    let broken = if old.is_empty() {
        new.to_owned()
    } else {
        edited(good, old, new)
    };
    let refused = match read(broken.as_bytes()) {
        Ok(_) => return Some(format!("{old:?} => {new:?} is read")),
        Err(refused) => refused,
    };
    let is_said = refused.line.unwrap_or_default() == line
        && refused.column.as_deref().unwrap_or_default() == column
        && refused.message.contains(message)
        && refused.accepted.contains(accepted);
    (!is_said).then(|| format!("{old:?} => {new:?}: {refused:?}"))
}

#[test]
fn every_fault_of_a_record_is_refused_at_its_line_with_the_words_that_help() {
    let mut wrong = Vec::new();
    for (read, good, faults) in [
        (table as Reader, TABLE, TABLE_FAULTS),
        (table, COMMAS, COMMA_FAULTS),
        (table, CLOCK, CLOCK_FAULTS),
        (table, "", NO_DIVES),
        (uddf, UDDF, UDDF_FAULTS),
    ] {
        assert!(good.is_empty() || read(good.as_bytes()).is_ok(), "{good}");
        wrong.extend(
            faults
                .iter()
                .filter_map(|fault| difference(read, good, fault)),
        );
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_file_without_a_dive_is_refused_as_a_whole() {
    for text in [
        "<uddf version=\"3\"/>",
        "<uddf version=\"3.2\"><profiledata><repetitiongroup><dive><samples/></dive>\
         </repetitiongroup></profiledata></uddf>",
        // A dive stands in a repetition group.
        "<uddf version=\"3.2\"><dive><samples><waypoint/></samples></dive></uddf>",
    ] {
        let refused = read_uddf(text.as_bytes()).unwrap_err();
        assert_eq!(refused.line, None);
        assert!(
            refused.message.contains("no dive with a waypoint"),
            "{refused}"
        );
    }
    let refused = read_uddf(&b"<html><body/></html>"[..]).unwrap_err();
    assert_eq!(refused.to_string(), "line 1: the XML is `html`, not `uddf`");
}

/// A text in an old encoding is told by its line.
#[test]
fn bytes_that_are_no_text_are_refused_with_their_line() {
    let refused = read_csv(&b"time (s),depth (m)\n0,0\n# M\xe4ra\n"[..]).unwrap_err();
    assert_eq!(refused.to_string(), "line 3: the line is not text in UTF-8");
    let refused = read_uddf(&b"<uddf version='3'>\n<a>M\xe4ra</a></uddf>"[..]).unwrap_err();
    assert_eq!(refused.to_string(), "line 2: the text is not UTF-8");
}

#[test]
fn what_is_quoted_is_cut() {
    let cell = "7".repeat(300);
    let text = format!("time (s),depth (m)\n0,0\n9,{cell}m\n");
    let refused = read_csv(text.as_bytes()).unwrap_err();
    assert!(refused.message.chars().count() < 100, "{refused}");
    assert!(
        refused.message.contains(&format!("`{}…`", "7".repeat(40))),
        "{refused}"
    );
}
