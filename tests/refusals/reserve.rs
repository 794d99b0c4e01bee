//! What is kept for trouble, and what the boat does.

use crate::faults::{Fault, faults};
use crate::limits::{Limit, limits};
use crate::plans::{PIER, WALL};

pub(crate) const FAULTS: &[Fault] = faults! {
    "a key of the reserve": WALL "floor =" => "flor ="
        | 35:1 "[reserve]" "" | "unknown key `flor`" | "stress, sort_out, floor, turn" | "floor";
    "a word that is near nothing": WALL "turn =" => "viscosity ="
        | 36:1 "[reserve]" "" | "unknown key `viscosity`" | "stress, sort_out, floor, turn" | "";
    "a key with a control character": WALL "turn =" => "\"tu\\u001brn\" ="
        | 36:1 "[reserve]" "" | "unknown key `tu\\u{1b}rn`" | "stress, sort_out, floor, turn" | "turn";
    "a temperature where a pressure is wanted": WALL "\"40 bar\"" => "\"40 C\""
        | 35:9 "[reserve]" "floor" | "`C` is a unit of temperature" | "0 bar to 150 bar" | "";
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
    "a misspelled turn": WALL "\"third\"" => "\"thirds\""
        | 36:8 "[reserve]" "turn" | "`turn` is \"thirds\"" | "\"half\", \"third\", \"all\"" | "third";
    "a turn as a fraction": WALL "\"third\"" => "0.33"
        | 36:8 "[reserve]" "turn" | "`turn` is the number 0.33" | "\"half\", \"third\", \"all\"" | "";
    "a word where the reserve is wanted": WALL "[reserve]\nstress = 1.8" => "[reserve.stress]"
        | 32:1 "[reserve]" "stress" | "`stress` is a table" | "a number from 1 to 5" | "";
    "a key of the hang": PIER "{ depth = \"4 m\"" => "{ dept = \"4 m\""
        | 13:10 "[reserve] hang" "" | "unknown key `dept`" | "depth, time" | "depth";
    "a key of the reserve": PIER "hang =" => "hagn ="
        | 13:1 "[reserve]" "" | "unknown key `hagn`" | "turn, hang" | "hang";
    "a key of the boat": PIER "overdue_after =" => "over_due_after ="
        | 29:1 "[surface]" "" | "unknown key `over_due_after`" | "overdue_after, emergency" | "overdue_after";
    "a boat that waits without a unit": PIER "\"15 min\"" => "15"
        | 29:17 "[surface]" "overdue_after" | "the bare number 15; a time needs its unit" | "as \"10 min\"" | "";
    "an empty emergency line": PIER "\"harbour radio, channel 12\"" => "\"\""
        | 30:13 "[surface]" "emergency" | "`emergency` is empty" | "characters on one line" | "";
    "a terminal's escape in the emergency line": PIER "harbour radio" => "\\u001b[5mradio"
        | 30:13 "[surface]" "emergency" | "`emergency` holds a character that cannot be shown" | "characters on one line" | "";
    "a list where the boat is wanted": PIER "[surface]" => "[[surface]]"
        | 28:1 "" "surface" | "`surface` is a list with 1 table in it" | "one [surface], in single brackets, with overdue_after, emergency" | "";
    "a hang without its depth": PIER "depth = \"4 m\", " => ""
        | 13:8 "[reserve] hang" "depth" | "`depth` is missing" | "as \"5 m\"" | "";
    "a hang without its time": PIER ", time = \"8 min\"" => ""
        | 13:8 "[reserve] hang" "time" | "`time` is missing" | "as \"10 min\"" | "";
    "a hang that is a time": PIER "{ depth = \"4 m\", time = \"8 min\" }" => "\"8 min\""
        | 13:8 "[reserve]" "hang" | "`hang` is the text \"8 min\"" | "a table with depth, time" | "";
};

/// Quantities: both limits of each, in both unit systems where there are two.
pub(crate) const QUANTITIES: &[Limit] = limits! {
    WALL "sort_out = \"2 min\"" => "sort_out = \"@\"" | Least "0 min" "-0.1 min" | 34:12 "sort_out";
    WALL "sort_out = \"2 min\"" => "sort_out = \"@\"" | Greatest "30 min" "30.1 min" | 34:12 "sort_out";
    WALL "\"40 bar\"" => "\"@\"" | Least "0 bar" "-0.1 bar" | 35:9 "floor";
    WALL "\"40 bar\"" => "\"@\"" | Greatest "150 bar" "150.1 bar" | 35:9 "floor";
    PIER "\"4 m\"" => "\"@\"" | Least "1 m" "0.9 m" | 13:18 "depth";
    PIER "\"4 m\"" => "\"@\"" | Greatest "60 m" "60.1 m" | 13:18 "depth";
    PIER "\"8 min\"" => "\"@\"" | Least "0.5 min" "0.4 min" | 13:32 "time";
    PIER "\"8 min\"" => "\"@\"" | Greatest "120 min" "121 min" | 13:32 "time";
    PIER "\"15 min\"" => "\"@\"" | Least "1 min" "0.9 min" | 29:17 "overdue_after";
    PIER "\"15 min\"" => "\"@\"" | Greatest "240 min" "241 min" | 29:17 "overdue_after";
};

/// Everything else that has a limit.
pub(crate) const OTHERS: &[Limit] = limits! {
    WALL "1.8" => "@" | Least "1" "0.99" | 33:10 "stress";
    WALL "1.8" => "@" | Greatest "5.0" "5.01" | 33:10 "stress";
};
