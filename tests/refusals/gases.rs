//! The gas at the bottom, and those of the way up.

use crate::faults::{Fault, faults};
use crate::limits::{Limit, limits};
use crate::plans::{WALL, refusal};

pub(crate) const FAULTS: &[Fault] = faults! {
    "a key of the gas": WALL "bottom =" => "botom ="
        | 28:1 "[gas]" "" | "unknown key `botom`" | "bottom, decompression, switch_time" | "bottom";
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
        | 28:10 "[gas]" "bottom" | "`\\u{1b}[5m` is not the name of a gas" | "\"air\", \"oxygen\"" | "";
    "a gas of the way up listed twice": WALL "[\"EAN50\", \"oxygen\"]" => "[\"EAN50\", \"oxygen\", \"EAN50\"]"
        | 29:37 "[gas]" "decompression" | "`EAN50` is listed twice" | "each gas once" | "";
    "a gas of the way up listed twice by two names": WALL "[\"EAN50\", \"oxygen\"]" => "[\"EAN50\", \"oxygen\", \"EAN100\"]"
        | 29:37 "[gas]" "decompression" | "is listed twice" | "each gas once" | "";
    "a gas of the way up that is none": WALL "[\"EAN50\", \"oxygen\"]" => "[\"EAN50\", \"oxygene\"]"
        | 29:27 "[gas]" "decompression" | "`oxygene` is not the name of a gas" | "\"oxygen\"" | "";
    "a gas where a list is wanted": WALL "[\"EAN50\", \"oxygen\"]" => "\"EAN50\""
        | 29:17 "[gas]" "decompression" | "`decompression` is the text \"EAN50\", not a list" | "a list of gases in quotes, as [\"EAN50\"]" | "";
};

/// Quantities: both limits of each, in both unit systems where there are two.
pub(crate) const QUANTITIES: &[Limit] = limits! {
    WALL "switch_time = \"2 min\"" => "switch_time = \"@\"" | Least "0 min" "-0.1 min" | 30:15 "switch_time";
    WALL "switch_time = \"2 min\"" => "switch_time = \"@\"" | Greatest "30 min" "30.1 min" | 30:15 "switch_time";
};

/// Everything else that has a limit.
pub(crate) const OTHERS: &[Limit] = limits! {
    WALL "\"EAN32\"" => "\"@\"" | Least "EAN5" "EAN4.9" | 28:10 "bottom";
    WALL "\"EAN32\"" => "\"@\"" | Greatest "EAN100" "EAN100.1" | 28:10 "bottom";
    WALL "\"EAN32\"" => "\"@\"" | Least "5/95" "4.9/95" | 28:10 "bottom";
    WALL "\"EAN32\"" => "\"@\"" | Greatest "18/82" "18/82.1" | 28:10 "bottom";
};

#[test]
fn a_gas_without_quotes_in_a_list_is_quoted_in_its_message() {
    let problem = refusal(WALL, "[\"EAN50\", \"oxygen\"]", "[50]");
    assert!(problem.message.contains("50"), "{}", problem.message);
}

#[test]
fn an_apostrophe_in_a_gas_is_quoted_as_it_was_written() {
    let problem = refusal(WALL, "\"EAN32\"", "\"it's\"");
    assert!(problem.message.contains("`it's`"), "{}", problem.message);
}
