//! What a plan file or an override can have wrong: each fault is refused where it stands, with
//! the words that help, by the library and by the binary alike.
//!
//! Two good plans are broken one edit at a time. Lines and columns are those of the broken text,
//! from 1, columns in characters.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![allow(clippy::expect_used, reason = "a test fails by panicking")]
#![allow(clippy::panic, reason = "a test fails by panicking")]

use approx::assert_relative_eq;
use assert_cmd::Command;
use hangbar::plan::TimeOfDay;
use hangbar::plan::{LastStop, StopSpacing};
use hangbar::plan::{OutBound, TurnRule};
use hangbar::plan_file::{Overrides, PlanErrors, Problem, read, read_with};
use hangbar::quantity::{FOOT_M, PSI_BAR, UnitSystem};
use hangbar::site::GasLaw;
use hangbar::site::Water;
use proptest::prelude::*;

/// One depth, metric; no value is the default, so that a key that is not read shows.
const WALL: &str = r#"title = "Lantern Wall"
units = "metric"
splash = "09:40"

[site]
water = "fresh"
altitude = "120 m"
temperature = "14 C"
current = "0.5 kn"

[profile]
depth = "18 m"
bottom_time = "40 min"
descent_rate = "20 m/min"

[ascent]
rate = "8 m/min"
stop_spacing = "3 m"
last_stop = "6 m"
safety_stop = { depth = "6 m", time = "4 min" }

[model]
gradient_factors = [45, 80]
first_compartment = "1"
gas_law = "ideal"

[gas]
bottom = "EAN32"
decompression = ["EAN50", "oxygen"]
switch_time = "2 min"

[reserve]
stress = 1.8
sort_out = "2 min"
floor = "40 bar"
turn = "third"

[[diver]]
name = "Juno"
sac = "16 L/min"
cylinder = { size = "12 L", fill = "210 bar" }
pony = { size = "3 L", fill = "190 bar" }
depth_limit = "30 m"
stage = [{ gas = "EAN50", size = "7 L", fill = "180 bar" }]

[[diver]]
name = "Bram"
sac = "25 psi/min"
cylinder = { rated = "100 cuft", at = "3000 psi", fill = "3100 psi" }
"#;

/// The keys that exclude those of [`WALL`]: levels, an air pressure, no safety stop, imperial.
const DRIFT: &str = r#"title = "Brass Reef drift"
units = "imperial"

[site]
water = "1020 kg/m3"
surface_pressure = "1005 mbar"

[[profile.level]]
depth = "90 ft"
time = "12 min"

[[profile.level]]
depth = "50 ft"
time = "20 min"

[ascent]
safety_stop = false

[[diver]]
name = "Ottilie"
sac = "0.6 cuft/min"
cylinder = { rated = "80 cuft", at = "3000 psi", fill = "2900 psi" }
"#;

/// The keys of a current, a hang, buddies and the boat, with their defaults elsewhere.
const PIER: &str = r#"title = "Otter Pier"

[site]
current = "0.4 kn"

[profile]
depth = "14 m"
bottom_time = "35 min"
swim_speed = "0.8 kn"
out = "against"

[reserve]
hang = { depth = "4 m", time = "8 min" }

[[diver]]
name = "Selka"
sac = "14 L/min"
cylinder = { size = "12 L", fill = "200 bar" }
gauge = "psi"
buddy = "Tarn"

[[diver]]
name = "Tarn"
sac = "15 L/min"
cylinder = { size = "15 L", fill = "200 bar" }
buddy = "Selka"

[surface]
overdue_after = "15 min"
emergency = "harbour radio, channel 12"
"#;

/// Units are converted there and back in doubles; far more than that loses.
const SAME: f64 = 1e-9;

// ---------------------------------------------------------------------------------------------
// The good plans

#[test]
fn every_key_of_a_good_plan_with_one_depth_arrives_in_the_plan() {
    let plan = read(WALL).unwrap();
    assert_eq!(plan.title.as_deref(), Some("Lantern Wall"));
    assert_eq!(plan.units, UnitSystem::Metric);
    assert_eq!(plan.splash, TimeOfDay::new(9, 40));
    assert_eq!(plan.site.water, Water::Fresh);
    assert_relative_eq!(plan.site.altitude.unwrap().as_m(), 120.0);
    assert!(plan.rules.environment.surface().as_bar() < 1.0);
    assert_relative_eq!(plan.site.temperature.as_celsius(), 14.0, epsilon = SAME);
    assert_relative_eq!(plan.site.current.unwrap().as_knots(), 0.5, epsilon = SAME);
    assert_eq!(plan.levels.len(), 1);
    assert_relative_eq!(plan.levels[0].depth.as_m(), 18.0);
    assert_relative_eq!(plan.levels[0].time.as_min(), 40.0);
    assert_relative_eq!(plan.rules.descent_rate.as_m_min(), 20.0);
    let ascent = plan.rules.ascent;
    assert_relative_eq!(ascent.rate.as_m_min(), 8.0);
    assert_eq!(ascent.spacing, StopSpacing::ThreeMetres);
    assert_eq!(ascent.last_stop, LastStop::TwoSpacings);
    let safety_stop = ascent.safety_stop.unwrap();
    assert_relative_eq!(safety_stop.depth.as_m(), 6.0);
    assert_relative_eq!(safety_stop.time.as_min(), 4.0);
    assert_relative_eq!(ascent.switch_time.as_min(), 2.0);
    assert_relative_eq!(plan.rules.factors.low(), 0.45);
    assert_relative_eq!(plan.rules.factors.high(), 0.80);
    let four_minutes = read(&edited(WALL, "first_compartment = \"1\"\n", "")).unwrap();
    assert_ne!(four_minutes.rules.compartments, plan.rules.compartments);
    assert_eq!(plan.gas_law, GasLaw::Ideal);
    assert_eq!(plan.rules.bottom_gas.to_string(), "EAN32");
    let on_the_way_up: Vec<String> = plan
        .rules
        .decompression
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(on_the_way_up, ["EAN50", "oxygen"]);
    assert_relative_eq!(plan.reserve.stress, 1.8);
    assert_relative_eq!(plan.reserve.sort_out.as_min(), 2.0);
    assert_relative_eq!(plan.reserve.floor.as_bar(), 40.0);
    assert_eq!(plan.reserve.turn, TurnRule::Third);
    let [juno, bram] = &plan.divers[..] else {
        panic!(
            "two divers are in the plan, {} were read",
            plan.divers.len()
        );
    };
    assert_eq!(juno.name, "Juno");
    assert_relative_eq!(juno.breathing.as_l_min(), 16.0);
    assert_relative_eq!(juno.cylinder.water.as_l(), 12.0);
    assert_relative_eq!(juno.cylinder.fill.as_bar(), 210.0);
    let pony = juno.pony.unwrap();
    assert_relative_eq!(pony.water.as_l(), 3.0);
    assert_relative_eq!(pony.fill.as_bar(), 190.0);
    assert_relative_eq!(juno.depth_limit.unwrap().as_m(), 30.0);
    assert_eq!(juno.stages.len(), 1);
    assert_eq!(juno.stages[0].gas.to_string(), "EAN50");
    assert_relative_eq!(juno.stages[0].cylinder.water.as_l(), 7.0);
    assert_relative_eq!(juno.stages[0].cylinder.fill.as_bar(), 180.0);
    assert_eq!(bram.name, "Bram");
    // 100 cuft at 3000 psi, breathed at 25 psi a minute: 25/3000 of the rating.
    assert_relative_eq!(
        bram.breathing.as_cuft_min(),
        100.0 * 25.0 / 3000.0,
        epsilon = SAME
    );
    assert_relative_eq!(bram.cylinder.fill.as_psi(), 3100.0, epsilon = SAME);
    assert_eq!(bram.depth_limit, None);
}

#[test]
fn every_key_of_a_good_plan_with_levels_arrives_in_the_plan() {
    let plan = read(DRIFT).unwrap();
    assert_eq!(plan.units, UnitSystem::Imperial);
    assert_eq!(plan.site.water, Water::Density { kg_per_m3: 1020.0 });
    assert_relative_eq!(
        plan.rules.environment.surface().as_bar(),
        1.005,
        epsilon = SAME
    );
    let levels: Vec<(f64, f64)> = plan
        .levels
        .iter()
        .map(|level| (level.depth.as_ft(), level.time.as_min()))
        .collect();
    assert_eq!(levels.len(), 2);
    assert_relative_eq!(levels[0].0, 90.0, epsilon = SAME);
    assert_relative_eq!(levels[0].1, 12.0);
    assert_relative_eq!(levels[1].0, 50.0, epsilon = SAME);
    assert_relative_eq!(levels[1].1, 20.0);
    assert_eq!(plan.rules.ascent.safety_stop, None);
    assert_eq!(plan.rules.ascent.spacing, StopSpacing::TenFeet);
    assert_relative_eq!(plan.divers[0].breathing.as_cuft_min(), 0.6, epsilon = SAME);
    assert_relative_eq!(
        plan.divers[0].cylinder.fill.as_bar(),
        2900.0 * PSI_BAR,
        epsilon = SAME
    );
}

#[test]
fn every_key_of_a_good_plan_with_a_current_a_hang_buddies_and_a_boat_arrives_in_the_plan() {
    let plan = read(PIER).unwrap();
    let swim = plan.reserve.swim.unwrap();
    assert_relative_eq!(swim.current.as_knots(), 0.4, epsilon = SAME);
    assert_relative_eq!(swim.swim.as_knots(), 0.8, epsilon = SAME);
    assert_eq!(swim.out, OutBound::Against);
    let hang = plan.reserve.hang.unwrap();
    assert_relative_eq!(hang.depth.as_m(), 4.0);
    assert_relative_eq!(hang.time.as_min(), 8.0);
    let [selka, tarn] = &plan.divers[..] else {
        panic!(
            "two divers are in the plan, {} were read",
            plan.divers.len()
        );
    };
    assert_eq!(
        (selka.gauge, tarn.gauge),
        (Some(UnitSystem::Imperial), None)
    );
    assert_eq!(selka.buddy.as_deref(), Some("Tarn"));
    assert_eq!(tarn.buddy.as_deref(), Some("Selka"));
    assert_relative_eq!(plan.surface.overdue_after.as_min(), 15.0);
    let emergency = plan.surface.emergency.as_deref();
    assert_eq!(emergency, Some("harbour radio, channel 12"));
}

// ---------------------------------------------------------------------------------------------
// One fault at a time

/// A good plan, what is changed in it, and what must be said about it.
struct Row {
    what: &'static str,
    plan: &'static str,
    old: &'static str,
    new: &'static str,
    line: usize,
    column: usize,
    table: &'static str,
    key: &'static str,
    message: &'static str,
    accepted: &'static str,
    meant: &'static str,
}

/// `"what": PLAN "old" => "new" | line:column "table" "key" | "words of the message"
///  | "words of what is accepted" | "word that was meant"`; "" stands for none.
macro_rules! rows {
    ($($what:literal: $plan:ident $old:literal => $new:literal
       | $line:literal:$column:literal $table:literal $key:literal
       | $message:literal | $accepted:literal | $meant:literal;)+) => {
        &[$(Row {
            what: $what, plan: $plan, old: $old, new: $new, line: $line, column: $column,
            table: $table, key: $key, message: $message, accepted: $accepted, meant: $meant,
        }),+]
    };
}

const UNKNOWN_KEYS: &[Row] = rows! {
    "a key at the top": WALL "title =" => "titel ="
        | 1:1 "" "" | "unknown key `titel`" | "title, units, splash, site, profile" | "title";
    "a table": WALL "[reserve]" => "[reserves]"
        | 32:2 "" "" | "unknown key `reserves`" | "gas, reserve, surface, diver, before" | "reserve";
    "a list of tables": DRIFT "[[diver]]" => "[[divers]]"
        | 19:3 "" "" | "unknown key `divers`" | "gas, reserve, surface, diver, before" | "diver";
    "a key of the site": WALL "water =" => "watre ="
        | 6:1 "[site]" "" | "unknown key `watre`" | "water, altitude, surface_pressure, temperature, current" | "water";
    "a key of the profile, which is not called missing too": WALL "depth = \"18 m\"" => "depht = \"18 m\""
        | 12:1 "[profile]" "" | "unknown key `depht`" | "depth, bottom_time, level, descent_rate" | "depth";
    "a key of a level": DRIFT "time = \"20 min\"" => "tiem = \"20 min\""
        | 14:1 "[[profile.level]] 2" "" | "unknown key `tiem`" | "depth, time" | "time";
    "a key of the ascent": WALL "last_stop" => "laststop"
        | 19:1 "[ascent]" "" | "unknown key `laststop`" | "rate, stop_spacing, last_stop, safety_stop" | "last_stop";
    "a key of the safety stop": WALL "{ depth = \"6 m\"" => "{ dept = \"6 m\""
        | 20:17 "[ascent] safety_stop" "" | "unknown key `dept`" | "depth, time" | "depth";
    "a key of the model": WALL "gradient_factors" => "gradientfactors"
        | 23:1 "[model]" "" | "unknown key `gradientfactors`" | "gradient_factors, first_compartment, gas_law" | "gradient_factors";
    "a key of the gas": WALL "bottom =" => "botom ="
        | 28:1 "[gas]" "" | "unknown key `botom`" | "bottom, decompression, switch_time" | "bottom";
    "a key of the reserve": WALL "floor =" => "flor ="
        | 35:1 "[reserve]" "" | "unknown key `flor`" | "stress, sort_out, floor, turn" | "floor";
    "a key of a diver": WALL "sac = \"25 psi/min\"" => "sca = \"25 psi/min\""
        | 48:1 "[[diver]] 2" "" | "unknown key `sca`" | "name, sac, cylinder, pony, depth_limit, stage" | "sac";
    "a key of a cylinder": WALL "fill = \"210 bar\"" => "fil = \"210 bar\""
        | 41:29 "[[diver]] 1 cylinder" "" | "unknown key `fil`" | "size, rated, at, fill" | "fill";
    "a key of a pony": WALL "fill = \"190 bar\"" => "full = \"190 bar\""
        | 42:24 "[[diver]] 1 pony" "" | "unknown key `full`" | "size, rated, at, fill" | "fill";
    "a key of a stage cylinder": WALL "gas = \"EAN50\"" => "gaz = \"EAN50\""
        | 44:12 "[[diver]] 1 stage 1" "" | "unknown key `gaz`" | "gas, size, rated, at, fill" | "gas";
    "a key of a cylinder in its own table": DRIFT "cylinder = {" => "pony = {"
        | 19:1 "[[diver]] 1" "cylinder" | "`cylinder` is missing" | "either size = \"12 L\", or rated" | "";
    "a word that is near nothing": WALL "turn =" => "viscosity ="
        | 36:1 "[reserve]" "" | "unknown key `viscosity`" | "stress, sort_out, floor, turn" | "";
    "a key with a control character": WALL "turn =" => "\"tu\\u001brn\" ="
        | 36:1 "[reserve]" "" | "unknown key `tu\\u{1b}rn`" | "stress, sort_out, floor, turn" | "turn";
};

const UNITS: &[Row] = rows! {
    "a unit that nobody knows": WALL "\"18 m\"" => "\"18 fathoms\""
        | 12:9 "[profile]" "depth" | "`fathoms` is not a known unit" | "0.3 m to 200 m (1 ft to 656.1 ft), as \"28 m\"" | "";
    "a misspelled metre": WALL "\"18 m\"" => "\"18 mters\""
        | 12:9 "[profile]" "depth" | "`mters` is not a known unit" | "0.3 m to 200 m" | "meters";
    "a misspelled psi": WALL "\"3100 psi\"" => "\"3100 psu\""
        | 49:58 "[[diver]] 2 cylinder" "fill" | "`psu` is not a known unit" | "as \"200 bar\"" | "psi";
    "a metre where minutes are wanted": WALL "\"40 min\"" => "\"40 m\""
        | 13:15 "[profile]" "bottom_time" | "`m` is a unit of depth" | "0.1 min to 1440 min, as \"22 min\"" | "min";
    "a time where a depth is wanted": WALL "\"18 m\"" => "\"18 min\""
        | 12:9 "[profile]" "depth" | "`min` is a unit of time" | "0.3 m to 200 m" | "";
    "a pressure where a depth is wanted": WALL "\"30 m\"" => "\"3 bar\""
        | 43:15 "[[diver]] 1" "depth_limit" | "`bar` is a unit of pressure" | "0.3 m to 200 m" | "";
    "a depth where a speed is wanted": WALL "\"8 m/min\"" => "\"8 m\""
        | 17:8 "[ascent]" "rate" | "`m` is a unit of depth" | "1 m/min to 30 m/min" | "";
    "a capacity where an inner volume is wanted": WALL "\"12 L\"" => "\"80 cuft\""
        | 41:21 "[[diver]] 1 cylinder" "size" | "`cuft` is a unit of capacity" | "0.2 L to 100 L" | "";
    "a volume where a breathing rate is wanted": WALL "\"16 L/min\"" => "\"16 L\""
        | 40:7 "[[diver]] 1" "sac" | "`L` is a unit of cylinder volume" | "2 L/min to 150 L/min" | "";
    "a speed where a breathing rate is wanted": WALL "\"16 L/min\"" => "\"16 m/min\""
        | 40:7 "[[diver]] 1" "sac" | "`m/min` is a unit of vertical speed" | "2 L/min to 150 L/min" | "";
    "a temperature where a pressure is wanted": WALL "\"40 bar\"" => "\"40 C\""
        | 35:9 "[reserve]" "floor" | "`C` is a unit of temperature" | "0 bar to 150 bar" | "";
    "a temperature in a unit of no diver": WALL "\"14 C\"" => "\"287 K\""
        | 8:15 "[site]" "temperature" | "`K` is not a known unit" | "-5 C to 45 C (23 F to 113 F)" | "";
    "an altitude by pressure": WALL "\"120 m\"" => "\"990 mbar\""
        | 7:12 "[site]" "altitude" | "`mbar` is a unit of air pressure" | "-430 m to 4500 m" | "";
    "a length where a density is wanted": DRIFT "\"1020 kg/m3\"" => "\"1020 m\""
        | 5:9 "[site]" "water" | "`m` is a unit of depth" | "950 kg/m3 to 1300 kg/m3" | "";
    "a depth without its unit": WALL "\"18 m\"" => "\"18\""
        | 12:9 "[profile]" "depth" | "`18` has no unit" | "as \"28 m\"" | "";
    "a fill without its unit": WALL "\"210 bar\"" => "\"210\""
        | 41:36 "[[diver]] 1 cylinder" "fill" | "`210` has no unit" | "as \"200 bar\"" | "";
    "a density without its unit": DRIFT "\"1020 kg/m3\"" => "\"1020\""
        | 5:9 "[site]" "water" | "`1020` has no unit" | "950 kg/m3 to 1300 kg/m3" | "";
    "a bare depth": WALL "\"18 m\"" => "18"
        | 12:9 "[profile]" "depth" | "the bare number 18; a depth needs its unit, m or ft, in quotes" | "as \"28 m\"" | "";
    "a bare time": WALL "\"40 min\"" => "40.5"
        | 13:15 "[profile]" "bottom_time" | "the bare number 40.5; a time needs its unit, min" | "as \"22 min\"" | "";
    "a bare pressure": WALL "\"210 bar\"" => "210"
        | 41:36 "[[diver]] 1 cylinder" "fill" | "the bare number 210; a pressure needs its unit, bar or psi" | "as \"200 bar\"" | "";
    "a bare temperature": WALL "\"14 C\"" => "14"
        | 8:15 "[site]" "temperature" | "the bare number 14; a temperature needs its unit, C or F" | "as \"14 C\"" | "";
    "a bare breathing rate": WALL "\"16 L/min\"" => "16"
        | 40:7 "[[diver]] 1" "sac" | "the bare number 16; a breathing rate needs its unit, L/min or cuft/min" | "as \"16 L/min\"" | "";
    "a bare stop spacing": WALL "\"3 m\"" => "3"
        | 18:16 "[ascent]" "stop_spacing" | "the bare number 3; a depth needs its unit" | "as \"28 m\"" | "";
    "two quantities in one": WALL "\"18 m\"" => "\"18 m 3\""
        | 12:9 "[profile]" "depth" | "`m 3` is not a known unit" | "as \"28 m\"" | "";
};

const NUMBERS: &[Row] = rows! {
    "a decimal comma": WALL "\"18 m\"" => "\"18,5 m\""
        | 12:9 "[profile]" "depth" | "`18,5 m` has a comma in its number; write a point for decimals" | "0.3 m to 200 m" | "";
    "a comma for thousands": WALL "\"3100 psi\"" => "\"3,100 psi\""
        | 49:58 "[[diver]] 2 cylinder" "fill" | "`3,100 psi` has a comma in its number" | "as \"200 bar\"" | "";
    "nan": WALL "\"18 m\"" => "nan"
        | 12:9 "[profile]" "depth" | "`depth` is the number nan" | "0.3 m to 200 m" | "";
    "inf": WALL "\"40 min\"" => "inf"
        | 13:15 "[profile]" "bottom_time" | "`bottom_time` is the number inf" | "0.1 min to 1440 min" | "";
    "minus inf": WALL "\"120 m\"" => "-inf"
        | 7:12 "[site]" "altitude" | "`altitude` is the number -inf" | "-430 m to 4500 m" | "";
    "a number beyond all numbers": WALL "\"210 bar\"" => "1e999"
        | 41:36 "[[diver]] 1 cylinder" "fill" | "`fill` is the number 1e999" | "as \"200 bar\"" | "";
    "nan in quotes": WALL "\"18 m\"" => "\"nan m\""
        | 12:9 "[profile]" "depth" | "`nan m` does not begin with a plain number" | "0.3 m to 200 m" | "";
    "inf in quotes": WALL "\"40 min\"" => "\"inf min\""
        | 13:15 "[profile]" "bottom_time" | "`inf min` does not begin with a plain number" | "0.1 min to 1440 min" | "";
    "infinity in quotes": WALL "\"16 L/min\"" => "\"-infinity L/min\""
        | 40:7 "[[diver]] 1" "sac" | "`-infinity L/min` does not begin with a plain number" | "2 L/min" | "";
    "a number beyond all numbers in quotes": WALL "\"18 m\"" => "\"1e999 m\""
        | 12:9 "[profile]" "depth" | "`1e999 m` does not begin with a plain number" | "0.3 m to 200 m" | "";
    "no number": WALL "\"18 m\"" => "\"m\""
        | 12:9 "[profile]" "depth" | "`m` does not begin with a plain number" | "0.3 m to 200 m" | "";
    "two signs": WALL "\"120 m\"" => "\"--120 m\""
        | 7:12 "[site]" "altitude" | "`--120 m` does not begin with a plain number" | "-430 m" | "";
    "two points": WALL "\"18 m\"" => "\"1.8.0 m\""
        | 12:9 "[profile]" "depth" | "`1.8.0 m` does not begin with a plain number" | "0.3 m to 200 m" | "";
    "digits of another script": WALL "\"18 m\"" => "\"١٨ m\""
        | 12:9 "[profile]" "depth" | "`١٨ m` does not begin with a plain number" | "0.3 m to 200 m" | "";
    "a number in another base": WALL "\"18 m\"" => "0x12"
        | 12:9 "[profile]" "depth" | "`depth` is the number" | "0.3 m to 200 m" | "";
    "nan as stress": WALL "1.8" => "nan"
        | 33:10 "[reserve]" "stress" | "`stress` is the number nan" | "a number from 1 to 5" | "";
    "inf as stress": WALL "1.8" => "inf"
        | 33:10 "[reserve]" "stress" | "`stress` is the number inf" | "a number from 1 to 5" | "";
    "stress beyond all numbers": WALL "1.8" => "1e999"
        | 33:10 "[reserve]" "stress" | "`stress` is the number 1e999" | "a number from 1 to 5" | "";
    "stress in quotes": WALL "1.8" => "\"1.8\""
        | 33:10 "[reserve]" "stress" | "`stress` is the text \"1.8\"" | "a number from 1 to 5" | "";
    "a negative stress": WALL "1.8" => "-1.8"
        | 33:10 "[reserve]" "stress" | "`stress` is the number -1.8" | "a number from 1 to 5" | "";
    "nan as a gradient factor": WALL "[45, 80]" => "[nan, 80]"
        | 23:20 "[model]" "gradient_factors" | "`gradient_factors` is" | "two per cents from 5 to 100, the low one first, as [40, 85]" | "";
    "a negative depth": WALL "\"18 m\"" => "\"-18 m\""
        | 12:9 "[profile]" "depth" | "`depth` is -18 m, out of range" | "0.3 m to 200 m" | "";
    "a depth with a typographer's minus": WALL "\"18 m\"" => "\"−18 m\""
        | 12:9 "[profile]" "depth" | "`depth` is −18 m, out of range" | "0.3 m to 200 m" | "";
    "a negative time": WALL "\"40 min\"" => "\"-40 min\""
        | 13:15 "[profile]" "bottom_time" | "`bottom_time` is -40 min, out of range" | "0.1 min to 1440 min" | "";
    "a negative breathing rate": WALL "\"16 L/min\"" => "\"-16 L/min\""
        | 40:7 "[[diver]] 1" "sac" | "`sac` is -16 L/min, out of range" | "2 L/min" | "";
    "a negative pressure rate": WALL "\"25 psi/min\"" => "\"-25 psi/min\""
        | 48:7 "[[diver]] 2" "sac" | "`sac` is -25 psi/min, out of range" | "as \"25 psi/min\"" | "";
    "no depth at all": WALL "\"18 m\"" => "\"0 m\""
        | 12:9 "[profile]" "depth" | "`depth` is 0 m, out of range" | "0.3 m to 200 m" | "";
    "no time at all": WALL "\"40 min\"" => "\"0 min\""
        | 13:15 "[profile]" "bottom_time" | "`bottom_time` is 0 min, out of range" | "0.1 min to 1440 min" | "";
    "an ascent that does not rise": WALL "\"8 m/min\"" => "\"0 m/min\""
        | 17:8 "[ascent]" "rate" | "`rate` is 0 m/min, out of range" | "1 m/min to 30 m/min" | "";
    "a descent that does not sink": WALL "\"20 m/min\"" => "\"0 m/min\""
        | 14:16 "[profile]" "descent_rate" | "`descent_rate` is 0 m/min, out of range" | "1 m/min to 60 m/min" | "";
    "an empty cylinder": WALL "\"210 bar\"" => "\"0 bar\""
        | 41:36 "[[diver]] 1 cylinder" "fill" | "`fill` is 0 bar, out of range" | "1 bar to 344.7 bar (14.6 psi to 5000 psi)" | "";
    "a cylinder of no volume": WALL "\"12 L\"" => "\"0 L\""
        | 41:21 "[[diver]] 1 cylinder" "size" | "`size` is 0 L, out of range" | "0.2 L to 100 L" | "";
    "a diver who does not breathe": WALL "\"16 L/min\"" => "\"0 L/min\""
        | 40:7 "[[diver]] 1" "sac" | "`sac` is 0 L/min, out of range" | "2 L/min" | "";
    "a breathing rate that the own cylinder makes tiny": WALL "\"25 psi/min\"" => "\"1 psi/min\""
        | 48:7 "[[diver]] 2" "sac" | "`sac` of 1 psi/min comes to 0.9 L/min from this diver's cylinder" | "2 L/min to 150 L/min" | "";
};

const CONTRADICTIONS: &[Row] = rows! {
    "a depth and levels": DRIFT "[[profile.level]]\ndepth = \"90 ft\"" => "[profile]\ndepth = \"90 ft\"\n[[profile.level]]\ndepth = \"90 ft\""
        | 10:1 "[profile]" "level" | "`depth` or `bottom_time` is given, and levels too" | "`depth` and `bottom_time`, or one [[profile.level]] or more" | "";
    "a bottom time and levels": DRIFT "[[profile.level]]\ndepth = \"90 ft\"" => "[profile]\nbottom_time = \"9 min\"\n[[profile.level]]\ndepth = \"90 ft\""
        | 10:1 "[profile]" "level" | "`depth` or `bottom_time` is given, and levels too" | "one [[profile.level]] or more" | "";
    "no depth": WALL "depth = \"18 m\"\n" => ""
        | 11:1 "[profile]" "depth" | "`depth` is missing" | "0.3 m to 200 m" | "";
    "no bottom time": WALL "bottom_time = \"40 min\"\n" => ""
        | 11:1 "[profile]" "bottom_time" | "`bottom_time` is missing" | "as \"22 min\"" | "";
    "no depth of a level": DRIFT "depth = \"50 ft\"\n" => ""
        | 12:1 "[[profile.level]] 2" "depth" | "`depth` is missing" | "0.3 m to 200 m" | "";
    "no time of a level": DRIFT "time = \"12 min\"\n" => ""
        | 8:1 "[[profile.level]] 1" "time" | "`time` is missing" | "as \"22 min\"" | "";
    "a list of no levels": WALL "depth = \"18 m\"\nbottom_time = \"40 min\"" => "level = []"
        | 11:1 "[profile]" "level" | "`level` is missing" | "one [[profile.level]] or more" | "";
    "a low factor over the high one": WALL "[45, 80]" => "[80, 45]"
        | 23:20 "[model]" "gradient_factors" | "the low gradient factor, 80 %, is over the high one, 45 %" | "low at most high" | "";
    "factors as fractions": WALL "[45, 80]" => "[0.45, 0.80]"
        | 23:20 "[model]" "gradient_factors" | "a gradient factor of 0.45 % is outside 5 % to 100 %" | "two per cents from 5 to 100" | "";
    "three factors": WALL "[45, 80]" => "[45, 60, 80]"
        | 23:20 "[model]" "gradient_factors" | "`gradient_factors` is a list of 45, 60, 80" | "two per cents from 5 to 100" | "";
    "one factor": WALL "[45, 80]" => "[45]"
        | 23:20 "[model]" "gradient_factors" | "`gradient_factors` is a list of 45" | "two per cents from 5 to 100" | "";
    "one number for the factors": WALL "[45, 80]" => "85"
        | 23:20 "[model]" "gradient_factors" | "`gradient_factors` is the number 85" | "as [40, 85]" | "";
    "a level too short to get down to": WALL "\"40 min\"" => "\"0.5 min\""
        | 13:15 "[profile]" "bottom_time" | "0.5 min is too short: the travel to this depth alone takes 0.90 min" | "at least 0.9 min" | "";
    "a level too short to get up to": DRIFT "\"20 min\"" => "\"1.1 min\""
        | 14:8 "[[profile.level]] 2" "time" | "1.1 min is too short: the travel to this depth alone takes 1.34 min" | "at least 1.34 min" | "";
    "a stop spacing that no ladder has": WALL "stop_spacing = \"3 m\"\nlast_stop = \"6 m\"" => "stop_spacing = \"5 m\""
        | 18:16 "[ascent]" "stop_spacing" | "stops are 3 m or 10 ft apart" | "\"3 m\" or \"10 ft\"" | "";
    "a last stop that is no level": WALL "last_stop = \"6 m\"" => "last_stop = \"5 m\""
        | 19:13 "[ascent]" "last_stop" | "the last stop is one or two stop spacings deep" | "\"3 m\" or \"6 m\" with stops 3 m apart" | "";
    "a last stop three spacings deep": WALL "last_stop = \"6 m\"" => "last_stop = \"9 m\""
        | 19:13 "[ascent]" "last_stop" | "one or two stop spacings deep" | "\"3 m\" or \"6 m\"" | "";
    "a last stop in metres with stops in feet": WALL "stop_spacing = \"3 m\"" => "stop_spacing = \"10 ft\""
        | 19:13 "[ascent]" "last_stop" | "one or two stop spacings deep" | "\"10 ft\" or \"20 ft\" with stops 10 ft apart" | "";
    "a safety stop that is true": WALL "{ depth = \"6 m\", time = \"4 min\" }" => "true"
        | 20:15 "[ascent]" "safety_stop" | "`safety_stop` is true" | "{ depth = \"5 m\", time = \"3 min\" }, or false for none" | "";
    "a safety stop that is a depth": WALL "{ depth = \"6 m\", time = \"4 min\" }" => "\"5 m\""
        | 20:15 "[ascent]" "safety_stop" | "`safety_stop` is the text \"5 m\"" | "or false" | "";
    "altitude and air pressure": WALL "temperature =" => "surface_pressure = \"0.99 bar\"\ntemperature ="
        | 8:20 "[site]" "surface_pressure" | "both `altitude` and `surface_pressure` are given" | "one of the two" | "";
    "an hour that no day has": WALL "\"09:40\"" => "\"24:00\""
        | 3:10 "" "splash" | "`splash` is \"24:00\"" | "from \"00:00\" to \"23:59\", in quotes" | "";
    "a minute that no hour has": WALL "\"09:40\"" => "\"09:60\""
        | 3:10 "" "splash" | "`splash` is \"09:60\"" | "from \"00:00\" to \"23:59\"" | "";
    "a minute of one digit": WALL "\"09:40\"" => "\"9:4\""
        | 3:10 "" "splash" | "`splash` is \"9:4\"" | "with two digits of minutes, as \"9:40\"" | "";
    "an hour with a sign": WALL "\"09:40\"" => "\"+9:40\""
        | 3:10 "" "splash" | "`splash` is \"+9:40\"" | "from \"00:00\" to \"23:59\"" | "";
    "half a day": WALL "\"09:40\"" => "\"9:40 am\""
        | 3:10 "" "splash" | "`splash` is \"9:40 am\"" | "from \"00:00\" to \"23:59\"" | "";
    "a splash without quotes": WALL "\"09:40\"" => "09:40:00"
        | 3:10 "" "splash" | "`splash` is the date or time 09:40:00" | "in quotes" | "";
    "an earlier dive": WALL "[reserve]" => "[[before]]\ndepth = \"20 m\"\n\n[reserve]"
        | 32:1 "[[before]]" "" | "earlier dives of the day cannot be reckoned with yet, and a plan that ignored them would promise too much" | "the first dive of the day, without [[before]]" | "";
    "an empty list of earlier dives": WALL "title =" => "before = []\ntitle ="
        | 1:10 "[[before]]" "" | "earlier dives of the day cannot be reckoned with yet" | "the first dive of the day" | "";
};

const DIVERS: &[Row] = rows! {
    "a name for two": WALL "\"Bram\"" => "\"Juno\""
        | 47:8 "[[diver]] 2" "name" | "a diver called Juno is already in the team" | "each name once" | "";
    "a name for two, but for blanks": WALL "\"Bram\"" => "\" Juno \""
        | 47:8 "[[diver]] 2" "name" | "a diver called Juno is already in the team" | "each name once" | "";
    "an empty name": WALL "\"Bram\"" => "\"\""
        | 47:8 "[[diver]] 2" "name" | "`name` is empty" | "characters on one line" | "";
    "a name of blanks": WALL "\"Bram\"" => "\"  \""
        | 47:8 "[[diver]] 2" "name" | "`name` is empty" | "characters on one line" | "";
    "no name": WALL "name = \"Bram\"\n" => ""
        | 46:1 "[[diver]] 2" "name" | "`name` is missing" | "the diver's name, as \"Ines\"" | "";
    "a name that is a number": WALL "\"Bram\"" => "7"
        | 47:8 "[[diver]] 2" "name" | "`name` is the number 7" | "characters on one line" | "";
    "a terminal's escape in a name": WALL "\"Bram\"" => "\"B\\u001b[31mram\""
        | 47:8 "[[diver]] 2" "name" | "`name` holds a control character" | "characters on one line" | "";
    "a line end in a name": WALL "\"Bram\"" => "\"Bra\\nm\""
        | 47:8 "[[diver]] 2" "name" | "`name` holds a control character" | "on one line" | "";
    "a terminal's escape in the title": WALL "\"Lantern Wall\"" => "\"Lantern\\u001b]0;Wall\""
        | 1:9 "" "title" | "`title` holds a control character" | "characters on one line" | "";
    "a control character of eight bits in the title": WALL "\"Lantern Wall\"" => "\"Lantern\\u009bWall\""
        | 1:9 "" "title" | "`title` holds a control character" | "characters on one line" | "";
    "an empty title": WALL "\"Lantern Wall\"" => "\"\""
        | 1:9 "" "title" | "`title` is empty" | "characters on one line" | "";
    "no breathing": WALL "sac = \"16 L/min\"\n" => ""
        | 38:1 "[[diver]] 1" "sac" | "`sac` is missing" | "or a pressure rate of the own cylinder, as \"25 psi/min\"" | "";
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
};

const GASES: &[Row] = rows! {
    "too little oxygen": WALL "\"EAN32\"" => "\"EAN4\""
        | 28:10 "[gas]" "bottom" | "4 % of oxygen is outside 5 % to 100 %" | "\"air\", \"oxygen\", nitrox as \"EAN32\", trimix as \"18/45\"" | "";
    "too much oxygen": WALL "\"EAN32\"" => "\"EAN101\""
        | 28:10 "[gas]" "bottom" | "101 % of oxygen is outside 5 % to 100 %" | "nitrox as \"EAN32\"" | "";
    "more than the whole": WALL "\"EAN32\"" => "\"60/50\""
        | 28:10 "[gas]" "bottom" | "60 % of oxygen and 50 % of helium are more than 100 %" | "trimix as \"18/45\"" | "";
    "another gas": WALL "\"EAN32\"" => "\"argon\""
        | 28:10 "[gas]" "bottom" | "`argon` is not the name of a gas" | "\"air\", \"oxygen\"" | "";
    "a bare share": WALL "\"EAN32\"" => "\"32\""
        | 28:10 "[gas]" "bottom" | "`32` is not the name of a gas" | "nitrox as \"EAN32\"" | "";
    "a bare number": WALL "\"EAN32\"" => "32"
        | 28:10 "[gas]" "bottom" | "`bottom` is the number 32" | "nitrox as \"EAN32\"" | "";
    "nitrox of no share": WALL "\"EAN32\"" => "\"EAN\""
        | 28:10 "[gas]" "bottom" | "`EAN` is not the name of a gas" | "nitrox as \"EAN32\"" | "";
    "nitrox of nan": WALL "\"EAN32\"" => "\"EANnan\""
        | 28:10 "[gas]" "bottom" | "`EANnan` is not the name of a gas" | "nitrox as \"EAN32\"" | "";
    "nitrox of inf": WALL "\"EAN32\"" => "\"EANinf\""
        | 28:10 "[gas]" "bottom" | "`EANinf` is not the name of a gas" | "nitrox as \"EAN32\"" | "";
    "a mix of three": WALL "\"EAN32\"" => "\"18/45/37\""
        | 28:10 "[gas]" "bottom" | "`18/45/37` is not the name of a gas" | "trimix as \"18/45\"" | "";
    "a negative share": WALL "\"EAN32\"" => "\"18/-45\""
        | 28:10 "[gas]" "bottom" | "`18/-45` is not the name of a gas" | "trimix as \"18/45\"" | "";
    "no oxygen": WALL "\"EAN32\"" => "\"0/0\""
        | 28:10 "[gas]" "bottom" | "0 % of oxygen is outside 5 % to 100 %" | "trimix as \"18/45\"" | "";
    "no gas at all": WALL "\"EAN32\"" => "\"\""
        | 28:10 "[gas]" "bottom" | "is not the name of a gas" | "\"air\", \"oxygen\"" | "";
    "a terminal's escape in a gas": WALL "\"EAN32\"" => "\"\\u001b[5m\""
        | 28:10 "[gas]" "bottom" | "`\u{fffd}[5m` is not the name of a gas" | "\"air\", \"oxygen\"" | "";
    "a gas of the way up listed twice": WALL "[\"EAN50\", \"oxygen\"]" => "[\"EAN50\", \"oxygen\", \"EAN50\"]"
        | 29:37 "[gas]" "decompression" | "`EAN50` is listed twice" | "each gas once" | "";
    "a gas of the way up listed twice by two names": WALL "[\"EAN50\", \"oxygen\"]" => "[\"EAN50\", \"oxygen\", \"EAN100\"]"
        | 29:37 "[gas]" "decompression" | "is listed twice" | "each gas once" | "";
    "a gas of the way up that is none": WALL "[\"EAN50\", \"oxygen\"]" => "[\"EAN50\", \"oxygene\"]"
        | 29:27 "[gas]" "decompression" | "`oxygene` is not the name of a gas" | "\"oxygen\"" | "";
};

const TYPES: &[Row] = rows! {
    "a title that is a number": WALL "\"Lantern Wall\"" => "42"
        | 1:9 "" "title" | "`title` is the number 42" | "characters on one line" | "";
    "units that nobody has": WALL "\"metric\"" => "\"nautical\""
        | 2:9 "" "units" | "`units` is \"nautical\"" | "\"metric\", \"imperial\"" | "";
    "misspelled units": WALL "\"metric\"" => "\"Metric\""
        | 2:9 "" "units" | "`units` is \"Metric\"" | "\"metric\", \"imperial\"" | "metric";
    "units that are true": WALL "\"metric\"" => "true"
        | 2:9 "" "units" | "`units` is true" | "\"metric\", \"imperial\"" | "";
    "misspelled water": WALL "\"fresh\"" => "\"frehs\""
        | 6:9 "[site]" "water" | "`water` is \"frehs\"" | "\"sea\", \"fresh\", \"en13319\" or a density" | "fresh";
    "water as a bare number": WALL "\"fresh\"" => "1025"
        | 6:9 "[site]" "water" | "`water` is the number 1025" | "950 kg/m3 to 1300 kg/m3" | "";
    "a compartment without quotes": WALL "first_compartment = \"1\"" => "first_compartment = 1"
        | 24:21 "[model]" "first_compartment" | "`first_compartment` is the number 1" | "\"1b\", \"1\"" | "";
    "a misspelled gas law": WALL "\"ideal\"" => "\"idael\""
        | 25:11 "[model]" "gas_law" | "`gas_law` is \"idael\"" | "\"real\", \"ideal\"" | "ideal";
    "a misspelled turn": WALL "\"third\"" => "\"thirds\""
        | 36:8 "[reserve]" "turn" | "`turn` is \"thirds\"" | "\"half\", \"third\", \"all\"" | "third";
    "a turn as a fraction": WALL "\"third\"" => "0.33"
        | 36:8 "[reserve]" "turn" | "`turn` is the number 0.33" | "\"half\", \"third\", \"all\"" | "";
    "a depth that is a table": WALL "depth = \"18 m\"" => "depth = { is = \"18 m\" }"
        | 12:9 "[profile]" "depth" | "`depth` is a table with the key `is`" | "0.3 m to 200 m" | "";
    "a depth that is a list": WALL "depth = \"18 m\"" => "depth = [\"18 m\", \"12 m\"]"
        | 12:9 "[profile]" "depth" | "`depth` is a list of \"18 m\", \"12 m\"" | "0.3 m to 200 m" | "";
    "a depth that is a date": WALL "depth = \"18 m\"" => "depth = 2018-01-18"
        | 12:9 "[profile]" "depth" | "`depth` is the date or time 2018-01-18" | "0.3 m to 200 m" | "";
    "a list where the site is wanted": WALL "[site]" => "[[site]]"
        | 5:1 "" "site" | "`site` is a list with 1 table in it" | "one [site], in single brackets, with water, altitude" | "";
    "a list where the profile is wanted": WALL "[profile]" => "[[profile]]"
        | 11:1 "" "profile" | "`profile` is a list with 1 table in it" | "one [profile], in single brackets, with depth, bottom_time" | "";
    "a list where the ascent is wanted": WALL "[ascent]" => "[[ascent]]"
        | 16:1 "" "ascent" | "`ascent` is a list with 1 table in it" | "one [ascent], in single brackets, with rate, stop_spacing" | "";
    "a word where the reserve is wanted": WALL "[reserve]\nstress = 1.8" => "[reserve.stress]"
        | 32:1 "[reserve]" "stress" | "`stress` is a table" | "a number from 1 to 5" | "";
    "a table where divers are wanted": DRIFT "[[diver]]" => "[diver]"
        | 19:1 "" "diver" | "`diver` is a table with the keys `cylinder`, `name`, `sac`" | "one [[diver]] table each, in double brackets, with name, sac" | "";
    "a table where levels are wanted": WALL "[profile]\ndepth = \"18 m\"\nbottom_time" => "[profile.level]\ndepth = \"18 m\"\ntime"
        | 11:1 "[profile]" "level" | "`level` is a table with the keys `depth`, `descent_rate`, `time`" | "one [[profile.level]] table each, in double brackets, with depth, time" | "";
    "a table where stage cylinders are wanted": WALL "[{ gas = \"EAN50\", size = \"7 L\", fill = \"180 bar\" }]" => "{ gas = \"EAN50\", size = \"7 L\", fill = \"180 bar\" }"
        | 44:9 "[[diver]] 1" "stage" | "`stage` is a table with the keys `fill`, `gas`, `size`" | "a list of tables, as stage = [{ … }, { … }], each with gas, size, rated, at, fill" | "";
    "a gas where a list is wanted": WALL "[\"EAN50\", \"oxygen\"]" => "\"EAN50\""
        | 29:17 "[gas]" "decompression" | "`decompression` is the text \"EAN50\", not a list" | "a list of gases in quotes, as [\"EAN50\"]" | "";
};

const BROKEN_TOML: &[Row] = rows! {
    "a table that does not close": WALL "[site]" => "[site"
        | 5:6 "" "" | "not TOML: unclosed table" | "all text in quotes" | "";
    "a quantity without quotes": WALL "\"18 m\"" => "18 m"
        | 12:9 "" "" | "not TOML: string values must be quoted" | "all text in quotes" | "";
    "a key without a value": WALL "depth = \"18 m\"" => "depth"
        | 12:6 "" "" | "not TOML: key with no value" | "all text in quotes" | "";
    "a key twice": WALL "depth = \"18 m\"" => "depth = \"18 m\"\ndepth = \"20 m\""
        | 13:1 "" "" | "not TOML: duplicate key" | "all text in quotes" | "";
    "a time that is none": WALL "\"09:40\"" => "25:00:00"
        | 3:10 "" "" | "not TOML: invalid time" | "all text in quotes" | "";
    "a terminal's escape as it is": WALL "Lantern Wall" => "Lantern \u{1b}[31mWall"
        | 1:18 "" "" | "not TOML: invalid basic string" | "all text in quotes" | "";
    "a nought byte": WALL "Lantern Wall" => "Lantern\0Wall"
        | 1:17 "" "" | "not TOML: invalid basic string" | "all text in quotes" | "";
};

const CURRENT_HANG_AND_BUDDIES: &[Row] = rows! {
    "a key of the profile": PIER "swim_speed =" => "swimspeed ="
        | 9:1 "[profile]" "" | "unknown key `swimspeed`" | "swim_speed, out" | "swim_speed";
    "a key of the hang": PIER "{ depth = \"4 m\"" => "{ dept = \"4 m\""
        | 13:10 "[reserve] hang" "" | "unknown key `dept`" | "depth, time" | "depth";
    "a key of the reserve": PIER "hang =" => "hagn ="
        | 13:1 "[reserve]" "" | "unknown key `hagn`" | "turn, hang" | "hang";
    "a key of a diver": PIER "gauge =" => "guage ="
        | 19:1 "[[diver]] 1" "" | "unknown key `guage`" | "gauge, buddy" | "gauge";
    "a key of the boat": PIER "overdue_after =" => "over_due_after ="
        | 29:1 "[surface]" "" | "unknown key `over_due_after`" | "overdue_after, emergency" | "overdue_after";
    "a boat that waits without a unit": PIER "\"15 min\"" => "15"
        | 29:17 "[surface]" "overdue_after" | "the bare number 15; a time needs its unit" | "as \"10 min\"" | "";
    "an empty emergency line": PIER "\"harbour radio, channel 12\"" => "\"\""
        | 30:13 "[surface]" "emergency" | "`emergency` is empty" | "characters on one line" | "";
    "a terminal's escape in the emergency line": PIER "harbour radio" => "\\u001b[5mradio"
        | 30:13 "[surface]" "emergency" | "`emergency` holds a control character" | "characters on one line" | "";
    "a list where the boat is wanted": PIER "[surface]" => "[[surface]]"
        | 28:1 "" "surface" | "`surface` is a list with 1 table in it" | "one [surface], in single brackets, with overdue_after, emergency" | "";
    "a swim speed without a current": PIER "[site]\ncurrent = \"0.4 kn\"\n" => "[site]\n"
        | 8:14 "[profile]" "swim_speed" | "`swim_speed` says how to swim in a current, and the plan has none" | "with `current` in [site]" | "";
    "a way out without a swim speed": PIER "swim_speed = \"0.8 kn\"\n" => ""
        | 6:1 "[profile]" "swim_speed" | "`swim_speed` is missing" | "as \"0.7 kn\"" | "";
    "a swim speed without a way out": PIER "out = \"against\"\n" => ""
        | 6:1 "[profile]" "out" | "`out` is missing" | "\"with\" or \"against\"" | "";
    "a way out that is none": PIER "\"against\"" => "\"againts\""
        | 10:7 "[profile]" "out" | "`out` is \"againts\"" | "\"with\", \"against\"" | "against";
    "a swim speed as a depth": PIER "\"0.8 kn\"" => "\"25 m\""
        | 9:14 "[profile]" "swim_speed" | "`m` is a unit of depth" | "as \"0.7 kn\"" | "";
    "a hang without its depth": PIER "depth = \"4 m\", " => ""
        | 13:8 "[reserve] hang" "depth" | "`depth` is missing" | "as \"5 m\"" | "";
    "a hang without its time": PIER ", time = \"8 min\"" => ""
        | 13:8 "[reserve] hang" "time" | "`time` is missing" | "as \"10 min\"" | "";
    "a hang that is a time": PIER "{ depth = \"4 m\", time = \"8 min\" }" => "\"8 min\""
        | 13:8 "[reserve]" "hang" | "`hang` is the text \"8 min\"" | "a table with depth, time" | "";
    "a gauge that is none": PIER "\"psi\"" => "\"imperial\""
        | 19:9 "[[diver]] 1" "gauge" | "`gauge` is \"imperial\"" | "\"bar\", \"psi\"" | "";
    "oneself as buddy": PIER "\"Tarn\"\n\n" => "\"Selka\"\n\n"
        | 20:9 "[[diver]] 1" "buddy" | "Selka cannot be their own buddy" | "two divers who name each other" | "";
    "a buddy on one side only": PIER "buddy = \"Selka\"\n" => ""
        | 20:9 "[[diver]] 1" "buddy" | "Selka names Tarn as buddy, but not the other way round" | "two divers who name each other, or three in a group" | "";
};

const TABLES: &[(&str, &[Row])] = &[
    ("unknown keys", UNKNOWN_KEYS),
    ("units", UNITS),
    ("numbers", NUMBERS),
    ("contradictions", CONTRADICTIONS),
    ("divers", DIVERS),
    ("gases", GASES),
    ("types", TYPES),
    ("current, hang and buddies", CURRENT_HANG_AND_BUDDIES),
    ("broken TOML", BROKEN_TOML),
];

#[test]
fn every_fault_is_refused_alone_at_its_place_with_the_words_that_help() {
    let mut wrong = Vec::new();
    for (table, rows) in TABLES {
        for row in *rows {
            let broken = edited(row.plan, row.old, row.new);
            let differences = differences(row, &broken);
            wrong.extend(differences.map(|text| format!("{table}, {}: {text}", row.what)));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

/// Carriage returns belong to the line end and a byte order mark to no column.
#[test]
fn lines_and_columns_do_not_depend_on_line_ends_or_a_byte_order_mark() {
    let mut wrong = Vec::new();
    for (table, rows) in TABLES {
        for row in *rows {
            let broken = edited(row.plan, row.old, row.new);
            let dressed = [
                ("CRLF", broken.replace('\n', "\r\n")),
                ("BOM", format!("\u{feff}{broken}")),
                (
                    "BOM and CRLF",
                    format!("\u{feff}{}", broken.replace('\n', "\r\n")),
                ),
            ];
            for (dress, text) in dressed {
                let differences = differences(row, &text);
                wrong.extend(
                    differences.map(|text| format!("{table}, {}, {dress}: {text}", row.what)),
                );
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn the_binary_refuses_every_fault_with_exit_status_2_and_prints_no_briefing() {
    let mut wrong = Vec::new();
    for (table, rows) in TABLES {
        for row in *rows {
            let output = brief(&edited(row.plan, row.old, row.new), &[]);
            let stderr = String::from_utf8(output.stderr).unwrap();
            let place = format!("--> standard input:{}:{}", row.line, row.column);
            let places = [format!("{place}\n"), format!("{place}  ")];
            let told = places.iter().any(|place| stderr.contains(place))
                && stderr.starts_with("error: ")
                && stderr.lines().next().unwrap().contains(row.message)
                && stderr.contains(row.accepted)
                && (row.meant.is_empty()
                    || stderr.contains(&format!("did you mean `{}`?", row.meant)));
            if output.status.code() != Some(2) || !output.stdout.is_empty() || !told {
                wrong.push(format!(
                    "{table}, {}: exit status {:?}, {} bytes on standard output, and\n{stderr}",
                    row.what,
                    output.status.code(),
                    output.stdout.len()
                ));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

/// All that differs between what a broken plan is told and what its row wants.
fn differences(row: &Row, text: &str) -> std::vec::IntoIter<String> {
    let errors = match read(text) {
        Ok(_) => return vec!["was read as a good plan".to_owned()].into_iter(),
        Err(errors) => errors,
    };
    let rendered = errors.render("plan.toml");
    let [problem] = errors.problems() else {
        return vec![format!(
            "has {} problems:\n{rendered}",
            errors.problems().len()
        )]
        .into_iter();
    };
    let mut wrong = Vec::new();
    let mut expect = |what: &str, got: &str, want: &str, same: bool| {
        if !same {
            wrong.push(format!("{what} is {got:?}, not {want:?}"));
        }
    };
    let at = problem
        .position
        .as_ref()
        .expect("a fault of the file has a place in it");
    let place = format!("{}:{}", at.line, at.column);
    let want_place = format!("{}:{}", row.line, row.column);
    expect("the place", &place, &want_place, place == want_place);
    let key = problem.key.as_deref().unwrap_or_default();
    expect("the key", key, row.key, key == row.key);
    expect(
        "the table",
        &problem.table,
        row.table,
        problem.table == row.table,
    );
    let meant = problem.meant.as_deref().unwrap_or_default();
    expect("the word meant", meant, row.meant, meant == row.meant);
    let told = problem.message.contains(row.message);
    expect("the message", &problem.message, row.message, told);
    let accepted = problem.accepted.as_deref().unwrap_or_default();
    let told = accepted.contains(row.accepted) && accepted.is_empty() == row.accepted.is_empty();
    expect("what is accepted", accepted, row.accepted, told);
    let line = text
        .trim_start_matches('\u{feff}')
        .lines()
        .nth(row.line - 1)
        .unwrap_or_default();
    expect("the line shown", &at.text, line, at.text == line);
    let overridden = problem.overridden_by.unwrap_or_default();
    expect("the override", overridden, "", overridden.is_empty());
    let harmless = rendered.chars().all(|c| c == '\n' || !c.is_control());
    expect(
        "the text",
        &rendered,
        "free of control characters",
        harmless,
    );
    wrong.into_iter()
}

// ---------------------------------------------------------------------------------------------
// Limits

/// Which end of the accepted range a row is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum End {
    Least,
    Greatest,
}
use End::{Greatest, Least};

/// A limit and one step past it, side by side; both take the place of `@`.
struct Limit {
    plan: &'static str,
    old: &'static str,
    new: &'static str,
    end: End,
    passes: &'static str,
    refused: &'static str,
    line: usize,
    column: usize,
    key: &'static str,
}

/// `PLAN "old" => "new with @" | end "passes" "refused" | line:column "key"`
macro_rules! limits {
    ($($plan:ident $old:literal => $new:literal | $end:ident $passes:literal $refused:literal
       | $line:literal:$column:literal $key:literal;)+) => {
        &[$(Limit {
            plan: $plan, old: $old, new: $new, end: $end, passes: $passes, refused: $refused,
            line: $line, column: $column, key: $key,
        }),+]
    };
}

/// Quantities: both limits of each, in both unit systems where there are two.
const QUANTITY_LIMITS: &[Limit] = limits! {
    WALL "\"18 m\"" => "\"@\"" | Least "0.3 m" "0.29 m" | 12:9 "depth";
    WALL "\"18 m\"" => "\"@\"" | Least "1 ft" "0.98 ft" | 12:9 "depth";
    WALL "\"18 m\"" => "\"@\"" | Greatest "200 m" "200.1 m" | 12:9 "depth";
    WALL "\"18 m\"" => "\"@\"" | Greatest "656.1 ft" "656.2 ft" | 12:9 "depth";
    DRIFT "\"50 ft\"" => "\"@\"" | Least "0.3 m" "0.29 m" | 13:9 "depth";
    WALL "\"30 m\"" => "\"@\"" | Least "0.3 m" "0.29 m" | 43:15 "depth_limit";
    WALL "\"30 m\"" => "\"@\"" | Greatest "200 m" "200.1 m" | 43:15 "depth_limit";
    WALL "\"18 m\"\nbottom_time = \"40 min\"" => "\"0.3 m\"\nbottom_time = \"@\"" | Least "0.1 min" "0.09 min" | 13:15 "bottom_time";
    WALL "\"18 m\"\nbottom_time = \"40 min\"" => "\"0.3 m\"\nbottom_time = \"@\"" | Least "6 s" "5 s" | 13:15 "bottom_time";
    WALL "\"40 min\"" => "\"@\"" | Greatest "1440 min" "1440.1 min" | 13:15 "bottom_time";
    WALL "\"40 min\"" => "\"@\"" | Greatest "24 h" "24.1 h" | 13:15 "bottom_time";
    DRIFT "\"20 min\"" => "\"@\"" | Greatest "1440 min" "1440.1 min" | 14:8 "time";
    WALL "\"20 m/min\"" => "\"@\"" | Least "1 m/min" "0.9 m/min" | 14:16 "descent_rate";
    WALL "\"20 m/min\"" => "\"@\"" | Greatest "60 m/min" "60.1 m/min" | 14:16 "descent_rate";
    WALL "\"8 m/min\"" => "\"@\"" | Least "1 m/min" "0.9 m/min" | 17:8 "rate";
    WALL "\"8 m/min\"" => "\"@\"" | Greatest "30 m/min" "30.1 m/min" | 17:8 "rate";
    WALL "\"8 m/min\"" => "\"@\"" | Greatest "98.4 ft/min" "98.5 ft/min" | 17:8 "rate";
    WALL "{ depth = \"6 m\"" => "{ depth = \"@\"" | Least "1 m" "0.9 m" | 20:25 "depth";
    WALL "{ depth = \"6 m\"" => "{ depth = \"@\"" | Greatest "20 m" "20.1 m" | 20:25 "depth";
    WALL "\"4 min\"" => "\"@\"" | Least "0.5 min" "0.4 min" | 20:39 "time";
    WALL "\"4 min\"" => "\"@\"" | Greatest "60 min" "60.1 min" | 20:39 "time";
    WALL "switch_time = \"2 min\"" => "switch_time = \"@\"" | Least "0 min" "-0.1 min" | 30:15 "switch_time";
    WALL "switch_time = \"2 min\"" => "switch_time = \"@\"" | Greatest "30 min" "30.1 min" | 30:15 "switch_time";
    WALL "sort_out = \"2 min\"" => "sort_out = \"@\"" | Least "0 min" "-0.1 min" | 34:12 "sort_out";
    WALL "sort_out = \"2 min\"" => "sort_out = \"@\"" | Greatest "30 min" "30.1 min" | 34:12 "sort_out";
    WALL "\"40 bar\"" => "\"@\"" | Least "0 bar" "-0.1 bar" | 35:9 "floor";
    WALL "\"40 bar\"" => "\"@\"" | Greatest "150 bar" "150.1 bar" | 35:9 "floor";
    WALL "\"16 L/min\"" => "\"@\"" | Least "2 L/min" "1.9 L/min" | 40:7 "sac";
    WALL "\"16 L/min\"" => "\"@\"" | Greatest "150 L/min" "150.1 L/min" | 40:7 "sac";
    WALL "\"16 L/min\"" => "\"@\"" | Greatest "5.2 cuft/min" "5.3 cuft/min" | 40:7 "sac";
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
    WALL "\"120 m\"" => "\"@\"" | Least "-430 m" "-430.1 m" | 7:12 "altitude";
    WALL "\"120 m\"" => "\"@\"" | Least "-1410.7 ft" "-1410.8 ft" | 7:12 "altitude";
    WALL "\"120 m\"" => "\"@\"" | Greatest "4500 m" "4500.1 m" | 7:12 "altitude";
    WALL "\"120 m\"" => "\"@\"" | Greatest "14763.7 ft" "14763.8 ft" | 7:12 "altitude";
    DRIFT "\"1005 mbar\"" => "\"@\"" | Least "577 mbar" "576 mbar" | 6:20 "surface_pressure";
    DRIFT "\"1005 mbar\"" => "\"@\"" | Greatest "1.1 bar" "1.101 bar" | 6:20 "surface_pressure";
    WALL "\"14 C\"" => "\"@\"" | Least "-5 C" "-5.1 C" | 8:15 "temperature";
    WALL "\"14 C\"" => "\"@\"" | Least "23 F" "22.9 F" | 8:15 "temperature";
    WALL "\"14 C\"" => "\"@\"" | Greatest "45 C" "45.1 C" | 8:15 "temperature";
    WALL "\"14 C\"" => "\"@\"" | Greatest "113 F" "113.1 F" | 8:15 "temperature";
    DRIFT "\"1020 kg/m3\"" => "\"@\"" | Least "950 kg/m3" "949 kg/m3" | 5:9 "water";
    DRIFT "\"1020 kg/m3\"" => "\"@\"" | Greatest "1300 kg/m3" "1301 kg/m3" | 5:9 "water";
    WALL "\"0.5 kn\"" => "\"@\"" | Least "0 kn" "-0.1 kn" | 9:11 "current";
    WALL "\"0.5 kn\"" => "\"@\"" | Greatest "5 kn" "5.1 kn" | 9:11 "current";
    PIER "\"0.8 kn\"" => "\"@\"" | Least "3 m/min" "2.9 m/min" | 9:14 "swim_speed";
    PIER "\"0.8 kn\"" => "\"@\"" | Greatest "3 kn" "3.1 kn" | 9:14 "swim_speed";
    PIER "\"4 m\"" => "\"@\"" | Least "1 m" "0.9 m" | 13:18 "depth";
    PIER "\"4 m\"" => "\"@\"" | Greatest "60 m" "60.1 m" | 13:18 "depth";
    PIER "\"8 min\"" => "\"@\"" | Least "0.5 min" "0.4 min" | 13:32 "time";
    PIER "\"8 min\"" => "\"@\"" | Greatest "120 min" "121 min" | 13:32 "time";
    PIER "\"15 min\"" => "\"@\"" | Least "1 min" "0.9 min" | 29:17 "overdue_after";
    PIER "\"15 min\"" => "\"@\"" | Greatest "240 min" "241 min" | 29:17 "overdue_after";
};

/// Everything else that has a limit.
const OTHER_LIMITS: &[Limit] = limits! {
    WALL "1.8" => "@" | Least "1" "0.99" | 33:10 "stress";
    WALL "1.8" => "@" | Greatest "5.0" "5.01" | 33:10 "stress";
    WALL "[45, 80]" => "[@, 80]" | Least "5" "4.9" | 23:20 "gradient_factors";
    WALL "[45, 80]" => "[45, @]" | Greatest "100" "100.1" | 23:20 "gradient_factors";
    WALL "[45, 80]" => "[@, 80]" | Greatest "80" "80.1" | 23:20 "gradient_factors";
    WALL "\"EAN32\"" => "\"@\"" | Least "EAN5" "EAN4.9" | 28:10 "bottom";
    WALL "\"EAN32\"" => "\"@\"" | Greatest "EAN100" "EAN100.1" | 28:10 "bottom";
    WALL "\"EAN32\"" => "\"@\"" | Least "5/95" "4.9/95" | 28:10 "bottom";
    WALL "\"EAN32\"" => "\"@\"" | Greatest "18/82" "18/82.1" | 28:10 "bottom";
    WALL "\"09:40\"" => "\"@\"" | Least "00:00" "-0:01" | 3:10 "splash";
    WALL "\"09:40\"" => "\"@\"" | Greatest "23:59" "24:00" | 3:10 "splash";
    // A pressure rate that a small enough cylinder makes a breathing rate.
    WALL "\"16 L/min\"\ncylinder = { size = \"12 L\"" => "\"@\"\ncylinder = { size = \"0.2 L\"" | Greatest "100 bar/min" "100.1 bar/min" | 40:7 "sac";
    // A tenth above the working pressure, in either unit.
    WALL "\"3100 psi\"" => "\"@\"" | Greatest "3300 psi" "3301 psi" | 49:58 "fill";
    WALL "at = \"3000 psi\", fill = \"3100 psi\"" => "at = \"200 bar\", fill = \"@\"" | Greatest "220 bar" "220.1 bar" | 49:57 "fill";
    WALL "at = \"3000 psi\", fill = \"3100 psi\"" => "at = \"232 bar\", fill = \"@\"" | Greatest "255.2 bar" "255.3 bar" | 49:57 "fill";
    WALL "pony = { size = \"3 L\", fill = \"190 bar\"" => "pony = { rated = \"30 cuft\", at = \"3000 psi\", fill = \"@\"" | Greatest "3300 psi" "3301 psi" | 42:53 "fill";
    WALL "size = \"7 L\", fill = \"180 bar\"" => "rated = \"40 cuft\", at = \"3000 psi\", fill = \"@\"" | Greatest "3300 psi" "3301 psi" | 44:70 "fill";
    // 18 m at 20 m/min, down; 40 ft at 30 ft/min, up.
    WALL "\"40 min\"" => "\"@\"" | Least "0.9 min" "0.89 min" | 13:15 "bottom_time";
    WALL "\"40 min\"" => "\"@\"" | Least "54 s" "53 s" | 13:15 "bottom_time";
    DRIFT "\"20 min\"" => "\"@\"" | Least "80 s" "79 s" | 14:8 "time";
};

#[test]
fn each_limit_passes_and_one_step_past_it_is_refused() {
    for limit in QUANTITY_LIMITS.iter().chain(OTHER_LIMITS) {
        if let Err(errors) = read(&limit.text(limit.passes)) {
            panic!("{} {} was refused:\n{errors}", limit.key, limit.passes);
        }
        let problem = limit.refusal();
        let at = problem.position.unwrap();
        assert_eq!(
            (at.line, at.column, problem.key.as_deref()),
            (limit.line, limit.column, Some(limit.key)),
            "{}: {}",
            limit.refused,
            problem.message
        );
    }
}

#[test]
fn a_quantity_past_its_limit_is_quoted_as_it_was_written() {
    for limit in QUANTITY_LIMITS {
        let message = limit.refusal().message;
        let want = format!("`{}` is {}, out of range", limit.key, limit.refused);
        assert_eq!(message, want);
    }
}

/// What a message prints as accepted is: the ends of its range in either unit, and its example.
#[test]
fn the_range_and_the_example_of_a_message_are_accepted() {
    for limit in QUANTITY_LIMITS {
        let problem = limit.refusal();
        let accepted = problem.accepted.unwrap();
        let (range, example) = accepted.split_once(", as \"").unwrap();
        let mut figures: Vec<&str> = range
            .split(" to ")
            .flat_map(|part| part.split(" ("))
            .collect();
        let odd = limit.end == Greatest;
        figures = figures
            .into_iter()
            .enumerate()
            .filter(|(index, _)| (index % 2 == 1) == odd)
            .map(|(_, figure)| figure.trim_end_matches(')'))
            .collect();
        assert!(!figures.is_empty(), "no range in {accepted}");
        figures.push(example.trim_end_matches('"'));
        for figure in figures {
            if let Err(errors) = read(&limit.text(figure)) {
                panic!(
                    "{} {figure} of `{accepted}` is refused:\n{errors}",
                    limit.key
                );
            }
        }
    }
}

impl Limit {
    fn text(&self, value: &str) -> String {
        edited(self.plan, self.old, &self.new.replace('@', value))
    }

    /// The one problem that the value past the limit has.
    fn refusal(&self) -> Problem {
        match read(&self.text(self.refused)) {
            Ok(_) => panic!("{} {} passes", self.key, self.refused),
            Err(errors) => match errors.problems() {
                [problem] => problem.clone(),
                _ => panic!(
                    "{} {} has several problems:\n{errors}",
                    self.key, self.refused
                ),
            },
        }
    }
}

#[test]
fn what_is_shown_has_at_most_so_many_characters_and_not_one_more() {
    let emergency = "\"harbour radio, channel 12\"";
    for (plan, old, key, longest) in [
        (WALL, "\"Lantern Wall\"", "title", 200),
        (WALL, "\"Bram\"", "name", 40),
        (PIER, emergency, "emergency", 300),
    ] {
        // Characters, of two and three bytes each.
        let text = |length: usize| edited(plan, old, &format!("\"{}\"", "ä海".repeat(length)));
        assert!(read(&text(longest / 2)).is_ok(), "{key}");
        let problem = only(read(&text(longest / 2 + 1)).unwrap_err());
        assert_eq!(problem.key.as_deref(), Some(key));
        assert_eq!(
            problem.message,
            format!("`{key}` has {} characters", longest + 2)
        );
        assert_eq!(
            problem.accepted,
            Some(format!("1 to {longest} characters on one line"))
        );
        let one_more = edited(plan, old, &format!("\"{}\"", "x".repeat(longest + 1)));
        assert!(read(&one_more).is_err(), "{key}");
    }
}

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
fn a_number_of_four_hundred_digits_is_refused() {
    let digits = "9".repeat(400);
    let problem = only(read(&edited(WALL, "\"18 m\"", &format!("\"{digits} m\""))).unwrap_err());
    assert_eq!(problem.key.as_deref(), Some("depth"));
    let bare = only(read(&edited(WALL, "\"18 m\"", &digits)).unwrap_err());
    assert_eq!(bare.position.unwrap().width, 400);
}

// ---------------------------------------------------------------------------------------------
// The whole file

#[test]
fn a_file_that_says_nothing_is_told_what_a_plan_needs() {
    for text in ["", "\n\n", "# nothing yet\n", "\u{feff}", "\r\n"] {
        let problem = only(read(text).unwrap_err());
        let at = problem.position.unwrap();
        assert_eq!((at.line, at.column, at.width), (1, 1, 1), "{text:?}");
        assert_eq!(problem.key.as_deref(), Some("profile"));
        assert_eq!(problem.message, "`profile` is missing");
        assert!(
            problem
                .accepted
                .unwrap()
                .contains("[profile] with `depth` and `bottom_time`")
        );
        let output = brief(text, &[]);
        assert_eq!(output.status.code(), Some(2));
        assert!(output.stdout.is_empty());
    }
}

#[test]
fn a_good_plan_stays_the_same_plan_with_other_line_ends_and_a_byte_order_mark() {
    for good in [WALL, DRIFT, PIER] {
        let plan = read(good).unwrap();
        let windows = good.replace('\n', "\r\n");
        assert_eq!(read(&windows).as_ref(), Ok(&plan));
        assert_eq!(read(&format!("\u{feff}{good}")).as_ref(), Ok(&plan));
        assert_eq!(read(&format!("\u{feff}{windows}")).as_ref(), Ok(&plan));
    }
}

#[test]
fn a_file_of_one_mebibyte_is_read_and_one_byte_more_is_refused() {
    let padded = |length: usize| {
        let comment = "#".repeat(length - WALL.len());
        format!("{WALL}{comment}")
    };
    assert!(read(&padded(1 << 20)).is_ok());
    let problem = only(read(&padded((1 << 20) + 1)).unwrap_err());
    assert_eq!(problem.message, "the file has 1048577 bytes");
    assert_eq!(problem.accepted.as_deref(), Some("at most 1 MiB"));
    let output = brief(&padded((1 << 20) + 1), &[]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
}

#[test]
fn columns_count_characters_and_the_carets_stand_under_the_fault() {
    let text = edited(
        WALL,
        "[\"EAN50\", \"oxygen\"]",
        "[\"EAN50\", \"hélïöx\", \"酸素\", \"oxgen\"]",
    );
    let errors = read(&text).unwrap_err();
    let columns: Vec<(usize, usize)> = errors
        .problems()
        .iter()
        .map(|problem| problem.position.as_ref().unwrap())
        .map(|at| (at.column, at.width))
        .collect();
    assert_eq!(columns, [(27, 8), (37, 4), (43, 7)]);
    let output = brief(&text, &[]);
    let stderr = String::from_utf8(output.stderr).unwrap();
    let lines: Vec<&str> = stderr.lines().collect();
    let pieces: Vec<String> = lines
        .windows(2)
        .filter(|pair| pair[1].ends_with('^'))
        .map(|pair| {
            let until = pair[1].chars().take_while(|c| *c != '^').count();
            let width = pair[1].chars().filter(|c| *c == '^').count();
            pair[0].chars().skip(until).take(width).collect()
        })
        .collect();
    assert_eq!(pieces, ["\"hélïöx\"", "\"酸素\"", "\"oxgen\""]);
}

#[test]
fn a_tab_before_the_fault_counts_as_one_column() {
    let text = edited(WALL, "depth = \"18 m\"", "\t\tdepth\t= \"0 m\"");
    let at = only(read(&text).unwrap_err()).position.unwrap();
    assert_eq!((at.line, at.column), (12, 11));
}

#[test]
fn every_fault_of_a_file_is_reported_and_in_the_order_of_the_file() {
    let mut text = WALL.to_owned();
    for (old, new) in [
        ("title =", "titel ="),
        ("\"09:40\"", "\"9:4\""),
        ("\"fresh\"", "\"mud\""),
        ("\"0.5 kn\"", "0.5"),
        ("\"18 m\"", "\"18\""),
        ("\"40 min\"", "\"40 m\""),
        ("\"8 m/min\"", "\"80 m/min\""),
        ("last_stop = \"6 m\"", "last_stop = \"7 m\""),
        ("[45, 80]", "[80, 45]"),
        ("\"ideal\"", "\"perfect\""),
        ("\"EAN32\"", "\"EAN3\""),
        ("1.8", "0.5"),
        ("\"third\"", "\"quarter\""),
        ("\"16 L/min\"", "\"-16 L/min\""),
        ("\"12 L\"", "\"0 L\""),
        ("\"Bram\"", "\"Juno\""),
        ("\"3100 psi\"", "\"3400 psi\""),
    ] {
        text = edited(&text, old, new);
    }
    let errors = read(&text).unwrap_err();
    let places: Vec<(usize, usize)> = errors
        .problems()
        .iter()
        .map(|problem| problem.position.as_ref().unwrap())
        .map(|at| (at.line, at.column))
        .collect();
    let want = [
        (1, 1),
        (3, 10),
        (6, 9),
        (9, 11),
        (12, 9),
        (13, 15),
        (17, 8),
        (19, 13),
        (23, 20),
        (25, 11),
        (28, 10),
        (33, 10),
        (36, 8),
        (40, 7),
        (41, 21),
        (47, 8),
        (49, 58),
    ];
    assert_eq!(places, want);
    let output = brief(&text, &[]);
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert_eq!(stderr.matches("error: ").count(), want.len());
    assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0));
}

#[test]
fn several_broken_lines_of_toml_are_all_reported() {
    let text = edited(WALL, "\"18 m\"", "18 m");
    let text = edited(&text, "\"210 bar\"", "210 bar");
    let text = edited(&text, "[model]", "[model");
    let errors = read(&text).unwrap_err();
    let lines: Vec<usize> = errors
        .problems()
        .iter()
        .map(|problem| problem.position.as_ref().unwrap().line)
        .collect();
    for line in [12, 22, 41] {
        assert!(
            lines.contains(&line),
            "line {line} is not among {lines:?}:\n{errors}"
        );
    }
    assert!(lines.is_sorted());
}

#[test]
fn a_text_that_does_not_close_is_refused_at_the_end_of_its_line() {
    let problem = only(read(&edited(WALL, "\"18 m\"", "\"18 m")).unwrap_err());
    let at = problem.position.unwrap();
    assert_eq!((at.line, at.column), (12, 14));
    assert!(
        problem
            .message
            .starts_with("not TOML: invalid basic string")
    );
}

#[test]
fn a_buddy_who_is_not_there_is_refused_with_the_names_that_are() {
    let alone = edited(PIER, "buddy = \"Selka\"\n", "");
    let problem = only(read(&edited(&alone, "\"Tarn\"\n\n", "\"Tran\"\n\n")).unwrap_err());
    let at = problem.position.unwrap();
    assert_eq!((at.line, at.column), (20, 9));
    assert_eq!(problem.message, "nobody is called \"Tran\"");
    assert_eq!(problem.accepted.as_deref(), Some("Selka, Tarn"));
    assert_eq!(problem.meant.as_deref(), Some("Tarn"));
    let escape = edited(&alone, "\"Tarn\"\n\n", "\"T\\u001barn\"\n\n");
    let problem = only(read(&escape).unwrap_err());
    assert_eq!(problem.message, "`buddy` holds a control character");
}

#[test]
fn three_may_be_buddies_and_four_may_not() {
    let team = |names: &[&str]| {
        let mut text = "[profile]\ndepth = \"14 m\"\nbottom_time = \"30 min\"\n".to_owned();
        for (index, name) in names.iter().enumerate() {
            let buddy = names[(index + 1) % names.len()];
            text.push_str(&format!(
                "[[diver]]\nname = \"{name}\"\nbuddy = \"{buddy}\"\nsac = \"15 L/min\"\n\
                 cylinder = {{ size = \"12 L\", fill = \"200 bar\" }}\n"
            ));
        }
        read(&text)
    };
    assert!(team(&["Selka", "Tarn", "Ivo"]).is_ok());
    let errors = team(&["Selka", "Tarn", "Ivo", "Runa"]).unwrap_err();
    let problem = &errors.problems()[0];
    assert!(
        problem
            .message
            .starts_with("4 divers are linked as buddies: "),
        "{}",
        problem.message
    );
    assert_eq!(problem.position.as_ref().unwrap().line, 6);
}

#[test]
fn names_where_divers_are_wanted_are_refused() {
    let text =
        "diver = [\"Juno\", \"Bram\"]\n[profile]\ndepth = \"18 m\"\nbottom_time = \"30 min\"\n";
    let problem = only(read(text).unwrap_err());
    let at = problem.position.unwrap();
    assert_eq!((at.line, at.column, at.width), (1, 9, 16));
    assert_eq!(problem.message, "`diver` is a list of \"Juno\", \"Bram\"");
    assert!(
        problem
            .accepted
            .unwrap()
            .starts_with("one [[diver]] table each, in double brackets, with name, sac")
    );
}

#[test]
fn cylinders_may_stand_in_tables_of_their_own_and_are_refused_there() {
    let old = "cylinder = { rated = \"80 cuft\", at = \"3000 psi\", fill = \"2900 psi\" }";
    let new = "[diver.cylinder]\nrated = \"80 cuft\"\nat = \"3000 psi\"\nfill = \"@\"";
    let good = edited(DRIFT, old, &new.replace('@', "2900 psi"));
    assert_eq!(read(&good), read(DRIFT));
    let problem = only(read(&edited(DRIFT, old, &new.replace('@', "2900"))).unwrap_err());
    let at = problem.position.unwrap();
    assert_eq!((at.line, at.column), (25, 8));
    assert_eq!(problem.table, "[[diver]] 1 cylinder");
}

// ---------------------------------------------------------------------------------------------
// What differs on the day

/// Overrides that are refused.
struct Instead {
    what: &'static str,
    plan: &'static str,
    depth: &'static str,
    bottom_time: &'static str,
    splash: &'static str,
    fills: &'static [(&'static str, &'static str)],
    option: &'static str,
    table: &'static str,
    key: &'static str,
    message: &'static str,
    accepted: &'static str,
    meant: &'static str,
}

/// `"what": PLAN depth "" time "" splash "" fills [("name", "pressure")] | "option" "table" "key"
///  | "message" | "accepted" | "meant"`; "" stands for none.
macro_rules! instead {
    ($($what:literal: $plan:ident depth $depth:literal time $time:literal splash $splash:literal
       fills $fills:tt
       | $option:literal $table:literal $key:literal
       | $message:literal | $accepted:literal | $meant:literal;)+) => {
        &[$(Instead {
            what: $what, plan: $plan, depth: $depth, bottom_time: $time,
            splash: $splash, fills: &$fills,
            option: $option, table: $table, key: $key,
            message: $message, accepted: $accepted, meant: $meant,
        }),+]
    };
}

const OVERRIDES: &[Instead] = instead! {
    "a depth without a unit": WALL depth "18" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "`18` has no unit" | "0.3 m to 200 m" | "";
    "a depth past its limit": WALL depth "200.1 m" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "`depth` is 200.1 m, out of range" | "0.3 m to 200 m" | "";
    "a negative depth": WALL depth "-18 m" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "`depth` is -18 m, out of range" | "0.3 m to 200 m" | "";
    "a depth that is not a number": WALL depth "nan m" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "`nan m` does not begin with a plain number" | "as \"28 m\"" | "";
    "a depth in minutes": WALL depth "18 min" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "`min` is a unit of time" | "as \"28 m\"" | "";
    "a depth with a comma": WALL depth "18,5 m" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "has a comma in its number" | "as \"28 m\"" | "";
    "a depth for one of several levels": DRIFT depth "60 ft" time "" splash "" fills []
        | "--depth" "[profile]" "depth" | "`--depth` cannot say which of the plan's 2 levels it means" | "--depth for a plan with one level; otherwise change the file" | "";
    "a bottom time without a unit": WALL depth "" time "30" splash "" fills []
        | "--bottom-time" "[profile]" "bottom_time" | "`30` has no unit" | "0.1 min to 1440 min, as \"22 min\"" | "";
    "a bottom time in metres": WALL depth "" time "30 m" splash "" fills []
        | "--bottom-time" "[profile]" "bottom_time" | "`m` is a unit of depth" | "as \"22 min\"" | "min";
    "a bottom time past its limit": WALL depth "" time "24.1 h" splash "" fills []
        | "--bottom-time" "[profile]" "bottom_time" | "`bottom_time` is 24.1 h, out of range" | "0.1 min to 1440 min" | "";
    "a bottom time too short to get down": WALL depth "" time "0.5 min" splash "" fills []
        | "--bottom-time" "[profile]" "bottom_time" | "0.5 min is too short: the travel to this depth alone takes 0.90 min" | "at least 0.9 min" | "";
    "a bottom time too short for a depth that is given too": WALL depth "60 m" time "2 min" splash "" fills []
        | "--bottom-time" "[profile]" "bottom_time" | "2 min is too short: the travel to this depth alone takes 3.00 min" | "at least 3 min" | "";
    "a bottom time that ends in the travel to the last level": DRIFT depth "" time "12.5 min" splash "" fills []
        | "--bottom-time" "[[profile.level]] 2" "bottom_time" | "0.5 min is too short: the travel to this depth alone takes 1.34 min" | "at most 12 min, or at least 13.34 min" | "";
    "a bottom time of several levels without a unit": DRIFT depth "" time "30" splash "" fills []
        | "--bottom-time" "[profile]" "bottom_time" | "`30` has no unit" | "as \"22 min\"" | "";
    "a fill for somebody else": WALL depth "" time "" splash "" fills [("Wilhelmina", "200 bar")]
        | "--fill" "[[diver]]" "" | "nobody is called \"Wilhelmina\"" | "Juno, Bram" | "";
    "a fill for a misspelled diver": WALL depth "" time "" splash "" fills [("Barm", "200 bar")]
        | "--fill" "[[diver]]" "" | "nobody is called \"Barm\"" | "Juno, Bram" | "Bram";
    "a fill for a diver in small letters": WALL depth "" time "" splash "" fills [("juno", "200 bar")]
        | "--fill" "[[diver]]" "" | "nobody is called \"juno\"" | "Juno, Bram" | "Juno";
    "a fill without a unit": WALL depth "" time "" splash "" fills [("Juno", "200")]
        | "--fill" "[[diver]] 1 cylinder" "fill" | "`200` has no unit" | "as \"200 bar\"" | "";
    "a fill past its limit": WALL depth "" time "" splash "" fills [("Juno", "5001 psi")]
        | "--fill" "[[diver]] 1 cylinder" "fill" | "`fill` is 5001 psi, out of range" | "1 bar to 344.7 bar (14.6 psi to 5000 psi)" | "";
    "a fill of nothing": WALL depth "" time "" splash "" fills [("Juno", "0 bar")]
        | "--fill" "[[diver]] 1 cylinder" "fill" | "`fill` is 0 bar, out of range" | "1 bar to 344.7 bar" | "";
    "a fill far above the rating": WALL depth "" time "" splash "" fills [("Bram", "3600 psi")]
        | "--fill" "[[diver]] 2 cylinder" "fill" | "a fill of 248 bar (3600 psi) is 20 % above the working pressure" | "227 bar (3300 psi)" | "";
    "a fill just above the rating and a tenth": WALL depth "" time "" splash "" fills [("Bram", "3301 psi")]
        | "--fill" "[[diver]] 2 cylinder" "fill" | "above the working pressure" | "227 bar (3300 psi)" | "";
    "a terminal's escape for a name": WALL depth "" time "" splash "" fills [("Ju\u{1b}[31mno", "200 bar")]
        | "--fill" "[[diver]]" "" | "nobody is called \"Ju\u{fffd}[31mno\"" | "Juno, Bram" | "";
    "a splash of no day": WALL depth "" time "" splash "24:00" fills []
        | "--splash" "" "splash" | "`splash` is \"24:00\"" | "from 00:00 to 23:59" | "";
    "a minute of one digit": WALL depth "" time "" splash "9:4" fills []
        | "--splash" "" "splash" | "`splash` is \"9:4\"" | "with two digits of minutes, as 9:40" | "";
};

#[test]
fn every_fault_of_an_override_is_refused_under_the_option_s_name() {
    for row in OVERRIDES {
        let problem = only(read_with(row.plan, &row.overrides()).expect_err(row.what));
        assert_eq!(problem.position, None, "{}", row.what);
        assert_eq!(problem.overridden_by, Some(row.option), "{}", row.what);
        assert_eq!(problem.table, row.table, "{}", row.what);
        assert_eq!(
            problem.key.as_deref().unwrap_or_default(),
            row.key,
            "{}",
            row.what
        );
        assert_eq!(
            problem.meant.as_deref().unwrap_or_default(),
            row.meant,
            "{}",
            row.what
        );
        assert!(
            problem.message.contains(row.message),
            "{}: {}",
            row.what,
            problem.message
        );
        let accepted = problem.accepted.unwrap();
        assert!(accepted.contains(row.accepted), "{}: {accepted}", row.what);

        let args = row.args();
        let output = brief(
            row.plan,
            &args.iter().map(String::as_str).collect::<Vec<_>>(),
        );
        let stderr = String::from_utf8(output.stderr).unwrap();
        assert_eq!(
            (output.status.code(), output.stdout.len()),
            (Some(2), 0),
            "{}",
            row.what
        );
        assert!(
            stderr.contains(&format!("--> option {} ", row.option)),
            "{}: {stderr}",
            row.what
        );
        assert!(stderr.contains(row.message), "{}: {stderr}", row.what);
        let harmless = stderr.chars().all(|c| c == '\n' || !c.is_control());
        assert!(harmless, "{}: {stderr:?}", row.what);
    }
}

impl Instead {
    fn overrides(&self) -> Overrides {
        let given = |text: &str| (!text.is_empty()).then(|| text.to_owned());
        Overrides {
            depth: given(self.depth),
            bottom_time: given(self.bottom_time),
            splash: given(self.splash),
            fills: fills(self.fills),
            ..Overrides::default()
        }
    }

    fn args(&self) -> Vec<String> {
        let mut args = Vec::new();
        for (option, text) in [
            ("--depth", self.depth),
            ("--bottom-time", self.bottom_time),
            ("--splash", self.splash),
        ] {
            if !text.is_empty() {
                args.push(format!("{option}={text}"));
            }
        }
        for (name, pressure) in self.fills {
            args.push(format!("--fill={name}={pressure}"));
        }
        args
    }
}

/// Those that the briefing's command line does not offer.
#[test]
fn water_altitude_and_rates_of_the_day_are_held_to_the_file_s_limits() {
    type Set = fn(&mut Overrides, &str);
    let rows: [(&str, Set, &str, &str, &str); 4] = [
        (
            "--water",
            |day, text| day.water = Some(text.to_owned()),
            "water",
            "1300 kg/m3",
            "1301 kg/m3",
        ),
        (
            "--altitude",
            |day, text| day.altitude = Some(text.to_owned()),
            "altitude",
            "4500 m",
            "4500.1 m",
        ),
        (
            "--descent-rate",
            |day, text| day.descent_rate = Some(text.to_owned()),
            "descent_rate",
            "60 m/min",
            "60.1 m/min",
        ),
        (
            "--ascent-rate",
            |day, text| day.ascent_rate = Some(text.to_owned()),
            "rate",
            "30 m/min",
            "30.1 m/min",
        ),
    ];
    for (option, set, key, passes, refused) in rows {
        let with = |text: &str| {
            let mut overrides = Overrides::default();
            set(&mut overrides, text);
            read_with(WALL, &overrides)
        };
        assert_ne!(with(passes).unwrap(), read(WALL).unwrap(), "{option}");
        for text in [refused, "1000", "nan m", ""] {
            let problem = only(with(text).unwrap_err());
            assert_eq!(problem.overridden_by, Some(option), "{option} {text}");
            assert_eq!(problem.position, None, "{option} {text}");
            assert!(problem.accepted.is_some(), "{option} {text}");
        }
        let problem = only(with(refused).unwrap_err());
        assert_eq!(
            problem.message,
            format!("`{key}` is {refused}, out of range")
        );
    }
}

#[test]
fn limits_hold_for_overrides_as_for_the_file() {
    let deepest = Overrides {
        depth: Some("200 m".to_owned()),
        ..Overrides::default()
    };
    let plan = read_with(WALL, &deepest).unwrap();
    assert_relative_eq!(plan.levels[0].depth.as_m(), 200.0);
    let shortest = Overrides {
        bottom_time: Some("0.9 min".to_owned()),
        ..Overrides::default()
    };
    let plan = read_with(WALL, &shortest).unwrap();
    assert_relative_eq!(plan.levels[0].time.as_min(), 0.9);
    let fullest = Overrides {
        fills: fills(&[("Bram", "3300 psi"), ("Juno", "5000 psi")]),
        ..Overrides::default()
    };
    let plan = read_with(WALL, &fullest).unwrap();
    assert_relative_eq!(
        plan.divers[0].cylinder.fill.as_psi(),
        5000.0,
        epsilon = SAME
    );
    assert_relative_eq!(
        plan.divers[1].cylinder.fill.as_psi(),
        3300.0,
        epsilon = SAME
    );
}

#[test]
fn a_bottom_time_stretches_or_cuts_the_last_of_several_levels() {
    for (given, last) in [("40 min", 28.0), ("20 min", 8.0), ("1 h", 48.0)] {
        let overrides = Overrides {
            bottom_time: Some(given.to_owned()),
            ..Overrides::default()
        };
        let plan = read_with(DRIFT, &overrides).unwrap();
        assert_relative_eq!(plan.levels[0].time.as_min(), 12.0);
        assert_relative_eq!(plan.levels[1].time.as_min(), last, epsilon = SAME);
    }
}

#[test]
fn a_depth_takes_the_place_of_the_only_level_of_a_list() {
    let second = "\n[[profile.level]]\ndepth = \"50 ft\"\ntime = \"20 min\"\n";
    let one_level = edited(DRIFT, second, "");
    let overrides = Overrides {
        depth: Some("70 ft".to_owned()),
        ..Overrides::default()
    };
    let plan = read_with(&one_level, &overrides).unwrap();
    assert_eq!(plan.levels.len(), 1);
    assert_relative_eq!(plan.levels[0].depth.as_m(), 70.0 * FOOT_M);
    assert_relative_eq!(plan.levels[0].time.as_min(), 12.0);
}

#[test]
fn overrides_may_stand_for_keys_that_the_file_leaves_out() {
    let text = edited(WALL, "depth = \"18 m\"\nbottom_time = \"40 min\"\n", "");
    let text = edited(&text, ", fill = \"210 bar\"", "");
    let text = edited(&text, "splash = \"09:40\"\n", "");
    let overrides = Overrides {
        depth: Some("20 m".to_owned()),
        bottom_time: Some("30 min".to_owned()),
        splash: Some("11:05".to_owned()),
        fills: fills(&[("Juno", "200 bar")]),
        ..Overrides::default()
    };
    let plan = read_with(&text, &overrides).unwrap();
    assert_relative_eq!(plan.levels[0].depth.as_m(), 20.0);
    assert_relative_eq!(plan.levels[0].time.as_min(), 30.0);
    assert_eq!(plan.splash, TimeOfDay::new(11, 5));
    assert_relative_eq!(plan.divers[0].cylinder.fill.as_bar(), 200.0);
}

#[test]
fn a_value_of_the_file_is_checked_even_where_an_override_takes_its_place() {
    let text = edited(WALL, "\"18 m\"", "\"18 fathoms\"");
    let overrides = Overrides {
        depth: Some("20 m".to_owned()),
        ..Overrides::default()
    };
    let problem = only(read_with(&text, &overrides).unwrap_err());
    assert_eq!(problem.position.unwrap().line, 12);
}

#[test]
fn two_fills_for_the_same_diver_are_refused() {
    let overrides = Overrides {
        fills: fills(&[("Juno", "200 bar"), ("Juno", "190 bar")]),
        ..Overrides::default()
    };
    let problem = only(read_with(WALL, &overrides).unwrap_err());
    assert_eq!(problem.overridden_by, Some("--fill"));
    assert_eq!(problem.message, "two fills are given for Juno");
    assert_eq!(problem.accepted.as_deref(), Some("once each: Juno, Bram"));
    let output = brief(WALL, &["--fill", "Juno=200 bar", "--fill", "Juno=200 bar"]);
    assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0));
}

#[test]
fn a_fill_for_a_plan_without_divers_says_that_there_are_none() {
    let text = "[profile]\ndepth = \"18 m\"\nbottom_time = \"30 min\"\n";
    let overrides = Overrides {
        fills: fills(&[("Juno", "200 bar")]),
        ..Overrides::default()
    };
    let problem = only(read_with(text, &overrides).unwrap_err());
    assert_eq!(
        problem.message,
        "nobody is called \"Juno\": the plan has no diver"
    );
    assert_eq!(
        problem.accepted.as_deref(),
        Some("--fill for a plan with a [[diver]]")
    );
}

#[test]
fn faults_of_overrides_come_after_those_of_the_file() {
    let text = edited(WALL, "\"3100 psi\"", "\"3100\"");
    let text = edited(&text, "title =", "titel =");
    let overrides = Overrides {
        depth: Some("300 m".to_owned()),
        bottom_time: Some("30".to_owned()),
        splash: Some("noon".to_owned()),
        fills: fills(&[("Juno", "1 psi"), ("Kasimir", "200 bar")]),
        ..Overrides::default()
    };
    let errors = read_with(&text, &overrides).unwrap_err();
    let origins: Vec<String> = errors
        .problems()
        .iter()
        .map(|problem| match (&problem.position, problem.overridden_by) {
            (Some(at), None) => at.line.to_string(),
            (None, Some(option)) => option.to_owned(),
            both => panic!("a problem has one origin, not {both:?}"),
        })
        .collect();
    assert_eq!(origins[..2], ["1", "49"]);
    let mut options = origins[2..].to_vec();
    options.sort();
    assert_eq!(
        options,
        ["--bottom-time", "--depth", "--fill", "--fill", "--splash"]
    );
}

// ---------------------------------------------------------------------------------------------
// Any text

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// A good plan with a piece cut out and something else put there: a plan or faults with
    /// places inside the text, never a panic, and nothing that a terminal acts on.
    #[test]
    fn any_edit_of_a_good_plan_gives_a_plan_or_faults_with_places_in_it(
        which in prop::sample::select(vec![WALL, DRIFT, PIER]),
        at in 0.0..1.0_f64,
        cut in 0..40_usize,
        put in prop_oneof![
            prop::sample::select(vec![
                "", "\"", "'", "\"\"\"", "[", "[[", "]", "{", "}", "=", ".", ",", "#", "\n",
                "\r\n", "\r", "\t", "\0", "\u{1b}[31m", "\u{9b}", "\u{feff}", "\u{202e}", "é",
                "海", "𝛑", "nan", "inf", "-inf", "1e999", "-0.0", "0x7f", "9999999999999999999",
                "\\u001b", "\\ud800", "true", "1979-05-27", "[diver]", "[[before]]", "a.b.c = 1",
            ]).prop_map(str::to_owned),
            "\\PC{0,12}",
        ],
    ) {
        let chars: Vec<char> = which.chars().collect();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "a share of a short text"
        )]
        let start = (at * chars.len() as f64) as usize;
        let end = (start + cut).min(chars.len());
        let text: String =
            chars[..start].iter().copied().chain(put.chars()).chain(chars[end..].iter().copied()).collect();
        if let Err(errors) = read(&text) {
            check_places(&text, &errors)?;
        }
    }

    /// Any text at all.
    #[test]
    fn any_text_gives_a_plan_or_faults_with_places_in_it(text in "(?s).{0,200}") {
        if let Err(errors) = read(&text) {
            check_places(&text, &errors)?;
        }
    }

    /// Any text where a quantity, a name or a gas is wanted.
    #[test]
    fn any_text_as_a_value_gives_a_plan_or_faults_with_places_in_it(
        old in prop::sample::select(vec![
            "\"18 m\"", "\"16 L/min\"", "\"25 psi/min\"", "\"fresh\"", "\"09:40\"", "\"EAN32\"",
            "\"Juno\"", "\"Lantern Wall\"", "\"3000 psi\"", "[45, 80]", "1.8",
        ]),
        value in "[0-9.,eE+\u{2212}-]{0,6} ?(m|ft|min|bar|psi|L/min|psi/min|EAN|/|:|\\PC){0,3}",
    ) {
        let quoted = format!("\"{}\"", value.escape_default());
        let text = edited(WALL, old, &quoted);
        if let Err(errors) = read(&text) {
            check_places(&text, &errors)?;
        }
        let overrides = Overrides {
            depth: Some(value.clone()),
            bottom_time: Some(value.clone()),
            fills: vec![("Juno".to_owned(), value.clone()), (value.clone(), "200 bar".to_owned())],
            splash: Some(value),
..Overrides::default()
};
        prop_assert!(read_with(WALL, &overrides).is_err());
    }
}

fn check_places(text: &str, errors: &PlanErrors) -> Result<(), TestCaseError> {
    let lines: Vec<&str> = text
        .strip_prefix('\u{feff}')
        .unwrap_or(text)
        .split('\n')
        .collect();
    prop_assert!(!errors.problems().is_empty());
    let mut last = (0, 0);
    for problem in errors.problems() {
        let at = problem.position.as_ref().expect("no override was given");
        let line = lines.get(at.line - 1);
        prop_assert!(line.is_some(), "line {} of {}", at.line, lines.len());
        let length = line.unwrap().chars().count();
        prop_assert!(at.column <= length + 1, "column {} of {length}", at.column);
        prop_assert!(at.width >= 1);
        prop_assert!((at.line, at.column) >= last, "not in the order of the text");
        last = (at.line, at.column);
        prop_assert!(!problem.message.is_empty());
    }
    let rendered = errors.render("plan.toml");
    prop_assert!(
        !rendered.contains(['\u{1b}', '\u{9b}', '\0']),
        "{rendered:?}"
    );
    Ok(())
}

// ---------------------------------------------------------------------------------------------
// Messages that mislead

/// Blanks between number and unit may be line ends and other control characters.
#[test]
fn no_control_character_of_a_quantity_reaches_a_message() {
    for blank in ["\\n", "\\u000b", "\\u0085"] {
        let text = edited(WALL, "\"18 m\"", &format!("\"900 {blank} m\""));
        let problem = only(read(&text).unwrap_err());
        assert!(
            !problem.message.contains(char::is_control),
            "{:?}",
            problem.message
        );
    }
}

/// `1.6 min is too short: the travel to this depth alone takes 1.56 min` sends nobody anywhere.
#[test]
fn a_time_that_is_too_short_never_prints_as_long_enough() {
    let text = edited(
        WALL,
        "\"18 m\"\nbottom_time = \"40 min\"",
        "\"31.2 m\"\nbottom_time = \"1.55 min\"",
    );
    let problem = only(read(&text).unwrap_err());
    let printed: f64 = problem.message.split(' ').next().unwrap().parse().unwrap();
    assert!(printed < 1.56, "{}", problem.message);
}

/// `is 10 % above the working pressure; accepted: at most 10 % above it` contradicts itself.
#[test]
fn a_fill_past_the_limit_never_prints_as_the_limit() {
    let problem = only(read(&edited(WALL, "\"3100 psi\"", "\"3301 psi\"")).unwrap_err());
    assert!(
        !problem.message.contains("is 10 % above"),
        "{}",
        problem.message
    );
}

/// One bracket is missing on line 23.
#[test]
fn a_list_that_does_not_close_is_told_in_few_words() {
    let errors = read(&edited(WALL, "[45, 80]", "[45, 80")).unwrap_err();
    let first = errors.problems()[0].position.as_ref().unwrap().line;
    assert!((23..=24).contains(&first), "line {first}");
    assert!(
        errors.problems().len() <= 3,
        "{} problems",
        errors.problems().len()
    );
}

#[test]
fn a_text_that_does_not_close_is_said_once_with_windows_line_ends() {
    let text = edited(WALL, "\"18 m\"", "\"18 m").replace('\n', "\r\n");
    assert_eq!(only(read(&text).unwrap_err()).position.unwrap().line, 12);
}

#[test]
fn a_gas_without_quotes_in_a_list_is_quoted_in_its_message() {
    let problem = only(read(&edited(WALL, "[\"EAN50\", \"oxygen\"]", "[50]")).unwrap_err());
    assert!(problem.message.contains("50"), "{}", problem.message);
}

#[test]
fn an_apostrophe_in_a_gas_is_quoted_as_it_was_written() {
    let problem = only(read(&edited(WALL, "\"EAN32\"", "\"it's\"")).unwrap_err());
    assert!(problem.message.contains("`it's`"), "{}", problem.message);
}

#[test]
fn a_misspelled_size_is_said_once() {
    let problem = only(read(&edited(WALL, "size = \"12 L\"", "sise = \"12 L\"")).unwrap_err());
    assert_eq!(problem.meant.as_deref(), Some("size"));
}

#[test]
fn a_misspelled_buddy_is_said_once() {
    let errors = read(&edited(PIER, "\"Tarn\"\n\n", "\"Tran\"\n\n")).unwrap_err();
    assert_eq!(only(errors).meant.as_deref(), Some("Tarn"));
}

#[test]
fn the_message_about_a_bare_altitude_is_grammatical() {
    let problem = only(read(&edited(WALL, "\"120 m\"", "120")).unwrap_err());
    assert!(
        !problem.message.contains("a altitude"),
        "{}",
        problem.message
    );
}

/// Two levels, cut so short that the second is not reached: the message names a bottom time.
#[test]
fn the_bottom_time_that_a_message_asks_for_is_accepted() {
    let with = |time: &str| {
        let overrides = Overrides {
            bottom_time: Some(time.to_owned()),
            ..Overrides::default()
        };
        read_with(DRIFT, &overrides)
    };
    let problem = only(with("12.5 min").unwrap_err());
    let accepted = problem.accepted.unwrap();
    let (most, least) = accepted
        .strip_prefix("at most ")
        .unwrap()
        .split_once(", or at least ")
        .unwrap();
    for time in [most, least] {
        assert!(with(time).is_ok(), "{time} is refused again");
    }
}

/// The file's bottom time does for the file's depth, not for the override's.
#[test]
fn a_depth_override_that_makes_the_bottom_time_too_short_is_named() {
    let text = edited(WALL, "\"40 min\"", "\"2 min\"");
    let overrides = Overrides {
        depth: Some("60 m".to_owned()),
        ..Overrides::default()
    };
    let errors = read_with(&text, &overrides).unwrap_err();
    assert!(errors.render("plan.toml").contains("--depth"), "{errors}");
}

#[test]
fn the_minute_at_which_the_last_level_begins_is_printed_short() {
    let text = edited(DRIFT, "\"12 min\"", "\"740 s\"");
    let overrides = Overrides {
        bottom_time: Some("12.5 min".to_owned()),
        ..Overrides::default()
    };
    let problem = only(read_with(&text, &overrides).unwrap_err());
    let accepted = problem.accepted.unwrap();
    assert!(
        accepted.starts_with("at most 12.33 min, or at least "),
        "{accepted}"
    );
}

#[test]
fn the_name_that_was_given_twice_is_not_suggested_again() {
    let overrides = Overrides {
        fills: fills(&[("Juno", "200 bar"), ("Juno", "190 bar")]),
        ..Overrides::default()
    };
    assert_eq!(only(read_with(WALL, &overrides).unwrap_err()).meant, None);
}

// ---------------------------------------------------------------------------------------------
// Helpers

/// The plan with one piece of its text changed.
fn edited(plan: &str, old: &str, new: &str) -> String {
    assert_eq!(
        plan.matches(old).count(),
        1,
        "`{old}` must stand in the plan once"
    );
    plan.replace(old, new)
}

/// The only problem there is.
fn only(errors: PlanErrors) -> Problem {
    match errors.problems() {
        [problem] => problem.clone(),
        _ => panic!("several problems:\n{errors}"),
    }
}

fn fills(given: &[(&str, &str)]) -> Vec<(String, String)> {
    given
        .iter()
        .map(|(name, pressure)| ((*name).to_owned(), (*pressure).to_owned()))
        .collect()
}

/// `hangbar brief -` with the plan on standard input.
fn brief(plan: &str, args: &[&str]) -> std::process::Output {
    Command::new(env!("CARGO_BIN_EXE_hangbar"))
        .args(["brief", "-"])
        .args(args)
        .env_remove("NO_COLOR")
        .write_stdin(plan)
        .output()
        .unwrap()
}
