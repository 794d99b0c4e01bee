//! Water, air and current.

use crate::faults::{Fault, faults};
use crate::limits::{Limit, limits};
use crate::plans::{DRIFT, WALL, refusal};

pub(crate) const FAULTS: &[Fault] = faults! {
    "a key of the site": WALL "water =" => "watre ="
        | 6:1 "[site]" "" | "unknown key `watre`" | "water, altitude, surface_pressure, temperature, current" | "water";
    "a temperature in a unit of no diver": WALL "\"14 C\"" => "\"287 K\""
        | 8:15 "[site]" "temperature" | "`K` is not a known unit" | "-5 C to 45 C (23 F to 113 F)" | "";
    "an altitude by pressure": WALL "\"120 m\"" => "\"990 mbar\""
        | 7:12 "[site]" "altitude" | "`mbar` is a unit of air pressure" | "-430 m to 4500 m" | "";
    "a length where a density is wanted": DRIFT "\"1020 kg/m3\"" => "\"1020 m\""
        | 5:9 "[site]" "water" | "`m` is a unit of depth" | "950 kg/m3 to 1300 kg/m3" | "";
    "a density without its unit": DRIFT "\"1020 kg/m3\"" => "\"1020\""
        | 5:9 "[site]" "water" | "`1020` has no unit" | "950 kg/m3 to 1300 kg/m3" | "";
    "a bare temperature": WALL "\"14 C\"" => "14"
        | 8:15 "[site]" "temperature" | "the bare number 14; a temperature needs its unit, C or F" | "as \"14 C\"" | "";
    "minus inf": WALL "\"120 m\"" => "-inf"
        | 7:12 "[site]" "altitude" | "`altitude` is the number -inf" | "-430 m to 4500 m" | "";
    "two signs": WALL "\"120 m\"" => "\"--120 m\""
        | 7:12 "[site]" "altitude" | "`--120 m` does not begin with a plain number" | "-430 m" | "";
    "altitude and air pressure": WALL "temperature =" => "surface_pressure = \"0.99 bar\"\ntemperature ="
        | 8:20 "[site]" "surface_pressure" | "both `altitude` and `surface_pressure` are given" | "one of the two" | "";
    "misspelled water": WALL "\"fresh\"" => "\"frehs\""
        | 6:9 "[site]" "water" | "`water` is \"frehs\"" | "\"sea\", \"fresh\", \"en13319\" or a density" | "fresh";
    "water as a bare number": WALL "\"fresh\"" => "1025"
        | 6:9 "[site]" "water" | "`water` is the number 1025" | "950 kg/m3 to 1300 kg/m3" | "";
    "a list where the site is wanted": WALL "[site]" => "[[site]]"
        | 5:1 "" "site" | "`site` is a list with 1 table in it" | "one [site], in single brackets, with water, altitude" | "";
};

/// Quantities: both limits of each, in both unit systems where there are two.
pub(crate) const QUANTITIES: &[Limit] = limits! {
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
};

#[test]
fn the_message_about_a_bare_altitude_is_grammatical() {
    let problem = refusal(WALL, "\"120 m\"", "120");
    assert!(
        !problem.message.contains("a altitude"),
        "{}",
        problem.message
    );
}
