//! Gradient factors, the first compartment and the gas law.

use crate::faults::{Fault, faults};
use crate::limits::{Limit, limits};
use crate::plans::WALL;

pub(crate) const FAULTS: &[Fault] = faults! {
    "a key of the model": WALL "gradient_factors" => "gradientfactors"
        | 23:1 "[model]" "" | "unknown key `gradientfactors`" | "gradient_factors, first_compartment, gas_law" | "gradient_factors";
    "nan as a gradient factor": WALL "[45, 80]" => "[nan, 80]"
        | 23:20 "[model]" "gradient_factors" | "`gradient_factors` is" | "two per cents from 5 to 100, the low one first, as [40, 85]" | "";
    "a low factor over the high one": WALL "[45, 80]" => "[80, 45]"
        | 23:20 "[model]" "gradient_factors" | "the low gradient factor, 80 %, is over the high one, 45 %" | "low at most high" | "";
    "factors as fractions": WALL "[45, 80]" => "[0.45, 0.80]"
        | 23:20 "[model]" "gradient_factors" | "a gradient factor of 0.45 % is outside 5 % to 100 %" | "two per cents from 5 to 100" | "";
    "three factors": WALL "[45, 80]" => "[45, 60, 80]"
        | 23:20 "[model]" "gradient_factors" | "`gradient_factors` is the list [45, 60, 80]" | "two per cents from 5 to 100" | "";
    "one factor": WALL "[45, 80]" => "[45]"
        | 23:20 "[model]" "gradient_factors" | "`gradient_factors` is the list [45]" | "two per cents from 5 to 100" | "";
    "one number for the factors": WALL "[45, 80]" => "85"
        | 23:20 "[model]" "gradient_factors" | "`gradient_factors` is the number 85" | "as [40, 85]" | "";
    "a compartment without quotes": WALL "first_compartment = \"1\"" => "first_compartment = 1"
        | 24:21 "[model]" "first_compartment" | "`first_compartment` is the number 1" | "\"1b\", \"1\"" | "";
    "a misspelled gas law": WALL "\"ideal\"" => "\"idael\""
        | 25:11 "[model]" "gas_law" | "`gas_law` is \"idael\"" | "\"real\", \"ideal\"" | "ideal";
};

/// Everything else that has a limit.
pub(crate) const OTHERS: &[Limit] = limits! {
    WALL "[45, 80]" => "[@, 80]" | Least "5" "4.9" | 23:20 "gradient_factors";
    WALL "[45, 80]" => "[45, @]" | Greatest "100" "100.1" | 23:20 "gradient_factors";
    WALL "[45, 80]" => "[@, 80]" | Greatest "80" "80.1" | 23:20 "gradient_factors";
};
