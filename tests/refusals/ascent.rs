//! The way up and its stops.

use crate::faults::{Fault, faults};
use crate::limits::{Limit, limits};
use crate::plans::WALL;

pub(crate) const FAULTS: &[Fault] = faults! {
    "a key of the ascent": WALL "last_stop" => "laststop"
        | 19:1 "[ascent]" "" | "unknown key `laststop`" | "rate, stop_spacing, last_stop, safety_stop" | "last_stop";
    "a key of the safety stop": WALL "{ depth = \"6 m\"" => "{ dept = \"6 m\""
        | 20:17 "[ascent] safety_stop" "" | "unknown key `dept`" | "depth, time" | "depth";
    "a depth where a speed is wanted": WALL "\"8 m/min\"" => "\"8 m\""
        | 17:8 "[ascent]" "rate" | "`m` is a unit of depth" | "1 m/min to 30 m/min" | "m/min";
    "a bare stop spacing": WALL "\"3 m\"" => "3"
        | 18:16 "[ascent]" "stop_spacing" | "the bare number 3; a depth needs its unit" | "as \"28 m\"" | "";
    "an ascent that does not rise": WALL "\"8 m/min\"" => "\"0 m/min\""
        | 17:8 "[ascent]" "rate" | "`rate` is 0 m/min, out of range" | "1 m/min to 30 m/min" | "";
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
    "a list where the ascent is wanted": WALL "[ascent]" => "[[ascent]]"
        | 16:1 "" "ascent" | "`ascent` is a list with 1 table in it" | "one [ascent], in single brackets, with rate, stop_spacing" | "";
};

/// Quantities: both limits of each, in both unit systems where there are two.
pub(crate) const QUANTITIES: &[Limit] = limits! {
    WALL "\"8 m/min\"" => "\"@\"" | Least "1 m/min" "0.9 m/min" | 17:8 "rate";
    WALL "\"8 m/min\"" => "\"@\"" | Greatest "30 m/min" "30.1 m/min" | 17:8 "rate";
    WALL "\"8 m/min\"" => "\"@\"" | Greatest "98.4 ft/min" "98.5 ft/min" | 17:8 "rate";
    WALL "{ depth = \"6 m\"" => "{ depth = \"@\"" | Least "1 m" "0.9 m" | 20:25 "depth";
    WALL "{ depth = \"6 m\"" => "{ depth = \"@\"" | Greatest "20 m" "20.1 m" | 20:25 "depth";
    WALL "\"4 min\"" => "\"@\"" | Least "0.5 min" "0.4 min" | 20:39 "time";
    WALL "\"4 min\"" => "\"@\"" | Greatest "60 min" "60.1 min" | 20:39 "time";
};
