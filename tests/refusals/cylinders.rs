//! Cylinders, ponies and stage cylinders.

use hangbar::plan_file::read;

use crate::faults::{Fault, faults};
use crate::limits::{Limit, limits};
use crate::plans::{DRIFT, WALL, edited, only, refusal};

pub(crate) const FAULTS: &[Fault] = faults! {
    "a key of a cylinder": WALL "fill = \"210 bar\"" => "fil = \"210 bar\""
        | 41:29 "[[diver]] 1 cylinder" "" | "unknown key `fil`" | "size, rated, at, fill" | "fill";
    "a key of a pony": WALL "fill = \"190 bar\"" => "full = \"190 bar\""
        | 42:24 "[[diver]] 1 pony" "" | "unknown key `full`" | "size, rated, at, fill" | "fill";
    "a key of a stage cylinder": WALL "gas = \"EAN50\"" => "gaz = \"EAN50\""
        | 44:12 "[[diver]] 1 stage 1" "" | "unknown key `gaz`" | "gas, size, rated, at, fill" | "gas";
    "a key of a cylinder in its own table": DRIFT "cylinder = {" => "pony = {"
        | 19:1 "[[diver]] 1" "cylinder" | "`cylinder` is missing" | "either size = \"12 L\", or rated" | "";
    "a misspelled psi": WALL "\"3100 psi\"" => "\"3100 psu\""
        | 49:58 "[[diver]] 2 cylinder" "fill" | "`psu` is not a known unit" | "as \"200 bar\"" | "psi";
    "a capacity where an inner volume is wanted": WALL "\"12 L\"" => "\"80 cuft\""
        | 41:21 "[[diver]] 1 cylinder" "size" | "`cuft` is a unit of capacity" | "0.2 L to 100 L" | "";
    "a fill without its unit": WALL "\"210 bar\"" => "\"210\""
        | 41:36 "[[diver]] 1 cylinder" "fill" | "`210` has no unit" | "as \"200 bar\"" | "";
    "a bare pressure": WALL "\"210 bar\"" => "210"
        | 41:36 "[[diver]] 1 cylinder" "fill" | "the bare number 210; a pressure needs its unit, bar or psi" | "as \"200 bar\"" | "";
    "a comma for thousands": WALL "\"3100 psi\"" => "\"3,100 psi\""
        | 49:58 "[[diver]] 2 cylinder" "fill" | "`3,100 psi` has a comma in its number" | "as \"200 bar\"" | "";
    "a number beyond all numbers": WALL "\"210 bar\"" => "1e999"
        | 41:36 "[[diver]] 1 cylinder" "fill" | "`fill` is the number 1e999" | "as \"200 bar\"" | "";
    "an empty cylinder": WALL "\"210 bar\"" => "\"0 bar\""
        | 41:36 "[[diver]] 1 cylinder" "fill" | "`fill` is 0 bar, out of range" | "1 bar to 344.7 bar (14.6 psi to 5000 psi)" | "";
    "a cylinder of no volume": WALL "\"12 L\"" => "\"0 L\""
        | 41:21 "[[diver]] 1 cylinder" "size" | "`size` is 0 L, out of range" | "0.2 L to 100 L" | "";
    "no cylinder": WALL "cylinder = { size = \"12 L\", fill = \"210 bar\" }\n" => ""
        | 38:1 "[[diver]] 1" "cylinder" | "`cylinder` is missing" | "either size = \"12 L\", or rated = \"80 cuft\" with at = \"3000 psi\"" | "";
    "a cylinder that is only its size": WALL "{ size = \"12 L\", fill = \"210 bar\" }" => "\"12 L\""
        | 41:12 "[[diver]] 1" "cylinder" | "`cylinder` is the text \"12 L\"" | "a table with size, rated, at, fill" | "";
    "no fill": WALL ", fill = \"210 bar\"" => ""
        | 41:12 "[[diver]] 1 cylinder" "fill" | "`fill` is missing" | "as \"200 bar\"" | "";
    "no fill of the pony": WALL ", fill = \"190 bar\"" => ""
        | 42:8 "[[diver]] 1 pony" "fill" | "`fill` is missing" | "as \"200 bar\"" | "";
    "size and rating": WALL "size = \"12 L\"" => "size = \"12 L\", rated = \"80 cuft\""
        | 41:12 "[[diver]] 1 cylinder" "" | "the cylinder has both `size` and `rated`" | "either size = \"12 L\", or rated = \"80 cuft\" with at" | "";
    "size and rating and its pressure": WALL "size = \"12 L\"" => "size = \"12 L\", rated = \"80 cuft\", at = \"3000 psi\""
        | 41:12 "[[diver]] 1 cylinder" "" | "the cylinder has both `size` and `rated`" | "either size" | "";
    "a rating without its pressure": WALL ", at = \"3000 psi\"" => ""
        | 49:12 "[[diver]] 2 cylinder" "" | "`rated` is given without `at`" | "rated = \"80 cuft\" with at = \"3000 psi\"" | "";
    "a pressure without its rating": WALL "rated = \"100 cuft\", " => ""
        | 49:12 "[[diver]] 2 cylinder" "" | "`at` is given without `size` or `rated`" | "rated = \"80 cuft\" with at = \"3000 psi\"" | "";
    "neither size nor rating": WALL "size = \"3 L\", " => ""
        | 42:8 "[[diver]] 1 pony" "" | "the cylinder has neither `size` nor `rated`" | "either size" | "";
    "a rating that no cylinder has": WALL "\"100 cuft\"" => "\"0.5 cuft\""
        | 49:22 "[[diver]] 2 cylinder" "rated" | "this rating means an inner volume of 0.07 L, which no diver's cylinder has" | "an inner volume of 0.2 L to 100 L" | "";
    "a fill far above the rating": WALL "\"3100 psi\"" => "\"3600 psi\""
        | 49:58 "[[diver]] 2 cylinder" "fill" | "a fill of 248 bar (3600 psi) is 20 % above the working pressure" | "at most 10 % above it: 227 bar (3300 psi)" | "";
    "a stage cylinder that the plan never breathes": WALL "gas = \"EAN50\"" => "gas = \"EAN80\""
        | 44:18 "[[diver]] 1 stage 1" "gas" | "a stage cylinder of EAN80, which the plan never breathes" | "\"EAN50\", \"oxygen\"" | "";
    "a stage cylinder where there is no gas for the way up": WALL "decompression = [\"EAN50\", \"oxygen\"]\n" => ""
        | 43:18 "[[diver]] 1 stage 1" "gas" | "a stage cylinder of EAN50, which the plan never breathes" | "[gas] lists no `decompression` gas" | "";
    "a stage cylinder of nobody knows what": WALL "gas = \"EAN50\", " => ""
        | 44:10 "[[diver]] 1 stage 1" "gas" | "`gas` is missing" | "nitrox as \"EAN32\"" | "";
    "a table where stage cylinders are wanted": WALL "[{ gas = \"EAN50\", size = \"7 L\", fill = \"180 bar\" }]" => "{ gas = \"EAN50\", size = \"7 L\", fill = \"180 bar\" }"
        | 44:9 "[[diver]] 1" "stage" | "`stage` is a table with the keys `fill`, `gas`, `size`" | "a list of tables, as stage = [{ … }, { … }], each with gas, size, rated, at, fill" | "";
};

/// Quantities: both limits of each, in both unit systems where there are two.
pub(crate) const QUANTITIES: &[Limit] = limits! {
    WALL "\"210 bar\"" => "\"@\"" | Least "1 bar" "0.9 bar" | 41:36 "fill";
    WALL "\"210 bar\"" => "\"@\"" | Greatest "344.7 bar" "344.8 bar" | 41:36 "fill";
    WALL "\"210 bar\"" => "\"@\"" | Greatest "5000 psi" "5001 psi" | 41:36 "fill";
    WALL "\"190 bar\"" => "\"@\"" | Greatest "5000 psi" "5001 psi" | 42:31 "fill";
    WALL "\"180 bar\"" => "\"@\"" | Greatest "5000 psi" "5001 psi" | 44:48 "fill";
    WALL "\"12 L\"" => "\"@\"" | Least "0.2 L" "0.19 L" | 41:21 "size";
    WALL "\"12 L\"" => "\"@\"" | Greatest "100 L" "100.1 L" | 41:21 "size";
    WALL "\"7 L\"" => "\"@\"" | Greatest "100 L" "100.1 L" | 44:34 "size";
    WALL "at = \"3000 psi\", fill = \"3100 psi\"" => "at = \"@\", fill = \"55 bar\"" | Least "50 bar" "49.9 bar" | 49:39 "at";
    WALL "at = \"3000 psi\"" => "at = \"@\"" | Greatest "5000 psi" "5001 psi" | 49:39 "at";
    WALL "sac = \"25 psi/min\"\ncylinder = { rated = \"100 cuft\", at = \"3000 psi\", fill = \"3100 psi\"" => "sac = \"20 L/min\"\ncylinder = { rated = \"@\", at = \"50 bar\", fill = \"55 bar\"" | Least "10 L" "9.9 L" | 49:22 "rated";
    WALL "sac = \"25 psi/min\"\ncylinder = { rated = \"100 cuft\", at = \"3000 psi\", fill = \"3100 psi\"" => "sac = \"20 L/min\"\ncylinder = { rated = \"@\", at = \"310 bar\", fill = \"300 bar\"" | Greatest "30000 L" "30001 L" | 49:22 "rated";
};

/// Everything else that has a limit.
pub(crate) const OTHERS: &[Limit] = limits! {
    // A tenth above the working pressure, in either unit.
    WALL "\"3100 psi\"" => "\"@\"" | Greatest "3300 psi" "3301 psi" | 49:58 "fill";
    WALL "at = \"3000 psi\", fill = \"3100 psi\"" => "at = \"200 bar\", fill = \"@\"" | Greatest "220 bar" "220.1 bar" | 49:57 "fill";
    WALL "at = \"3000 psi\", fill = \"3100 psi\"" => "at = \"232 bar\", fill = \"@\"" | Greatest "255.2 bar" "255.3 bar" | 49:57 "fill";
    WALL "pony = { size = \"3 L\", fill = \"190 bar\"" => "pony = { rated = \"30 cuft\", at = \"3000 psi\", fill = \"@\"" | Greatest "3300 psi" "3301 psi" | 42:53 "fill";
    WALL "size = \"7 L\", fill = \"180 bar\"" => "rated = \"40 cuft\", at = \"3000 psi\", fill = \"@\"" | Greatest "3300 psi" "3301 psi" | 44:70 "fill";
};

#[test]
fn a_rating_is_held_to_the_inner_volume_that_it_means() {
    let rated = |capacity: &str, at: &str| {
        let cylinder = format!("rated = \"{capacity}\", at = \"{at}\", fill = \"100 bar\"");
        let old = "rated = \"100 cuft\", at = \"3000 psi\", fill = \"3100 psi\"";
        let text = edited(WALL, old, &cylinder);
        read(&edited(&text, "25 psi/min", "20 L/min"))
    };
    // 0.2 L · 202.65 bar / 1.01325 bar = 40 L; 100 L · 202.65 bar / 1.01325 bar = 20000 L.
    for (passes, refused, means) in [
        ("40 L", "39.9 L", "0.20 L"),
        ("20000 L", "20010 L", "100.05 L"),
    ] {
        assert!(rated(passes, "202.65 bar").is_ok(), "{passes} was refused");
        let problem = only(rated(refused, "202.65 bar").unwrap_err());
        assert!(problem.message.contains(means), "{}", problem.message);
        assert!(problem.accepted.unwrap().contains("0.2 L to 100 L"));
    }
}

#[test]
fn cylinders_may_stand_in_tables_of_their_own_and_are_refused_there() {
    let old = "cylinder = { rated = \"80 cuft\", at = \"3000 psi\", fill = \"2900 psi\" }";
    let new = "[diver.cylinder]\nrated = \"80 cuft\"\nat = \"3000 psi\"\nfill = \"@\"";
    let good = edited(DRIFT, old, &new.replace('@', "2900 psi"));
    assert_eq!(read(&good).unwrap(), read(DRIFT).unwrap());
    let problem = refusal(DRIFT, old, &new.replace('@', "2900"));
    let at = problem.position.unwrap();
    assert_eq!((at.line, at.column), (25, 8));
    assert_eq!(problem.table, "[[diver]] 1 cylinder");
}

/// `is 10 % above the working pressure; accepted: at most 10 % above it` contradicts itself.
#[test]
fn a_fill_past_the_limit_never_prints_as_the_limit() {
    let problem = refusal(WALL, "\"3100 psi\"", "\"3301 psi\"");
    assert!(
        !problem.message.contains("is 10 % above"),
        "{}",
        problem.message
    );
}

#[test]
fn a_misspelled_size_is_said_once() {
    let problem = refusal(WALL, "size = \"12 L\"", "sise = \"12 L\"");
    assert_eq!(problem.meant.as_deref(), Some("size"));
}
