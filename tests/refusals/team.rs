//! Names, breathing, buddies and gauges.

use hangbar::plan_file::read;

use crate::faults::{Fault, faults};
use crate::limits::{Limit, limits};
use crate::plans::{DRIFT, PIER, WALL, edited, only, refusal};

pub(crate) const FAULTS: &[Fault] = faults! {
    "a key of a diver": WALL "sac = \"25 psi/min\"" => "sca = \"25 psi/min\""
        | 48:1 "[[diver]] 2" "" | "unknown key `sca`" | "name, sac, cylinder, pony, depth_limit, stage" | "sac";
    "a pressure where a depth is wanted": WALL "\"30 m\"" => "\"3 bar\""
        | 43:15 "[[diver]] 1" "depth_limit" | "`bar` is a unit of pressure" | "0.3 m to 200 m" | "";
    "a volume where a breathing rate is wanted": WALL "\"16 L/min\"" => "\"16 L\""
        | 40:7 "[[diver]] 1" "sac" | "`L` is a unit of cylinder volume" | "2 L/min to 150 L/min" | "L/min";
    "a speed where a breathing rate is wanted": WALL "\"16 L/min\"" => "\"16 m/min\""
        | 40:7 "[[diver]] 1" "sac" | "`m/min` is a unit of vertical speed" | "2 L/min to 150 L/min" | "";
    "a bare breathing rate": WALL "\"16 L/min\"" => "16"
        | 40:7 "[[diver]] 1" "sac" | "the bare number 16; a breathing rate needs its unit, L/min or cuft/min" | "as \"16 L/min\"" | "";
    "infinity in quotes": WALL "\"16 L/min\"" => "\"-infinity L/min\""
        | 40:7 "[[diver]] 1" "sac" | "`-infinity L/min` does not begin with a plain number" | "2 L/min" | "";
    "a negative breathing rate": WALL "\"16 L/min\"" => "\"-16 L/min\""
        | 40:7 "[[diver]] 1" "sac" | "`sac` is -16 L/min, out of range" | "2 L/min" | "";
    "a negative pressure rate": WALL "\"25 psi/min\"" => "\"-25 psi/min\""
        | 48:7 "[[diver]] 2" "sac" | "`sac` is -25 psi/min, out of range" | "as \"25 psi/min\"" | "";
    "a diver who does not breathe": WALL "\"16 L/min\"" => "\"0 L/min\""
        | 40:7 "[[diver]] 1" "sac" | "`sac` is 0 L/min, out of range" | "2 L/min" | "";
    "a breathing rate that the own cylinder makes tiny": WALL "\"25 psi/min\"" => "\"1 psi/min\""
        | 48:7 "[[diver]] 2" "sac" | "`sac` of 1 psi/min comes to 0.9 L/min from this diver's cylinder" | "2 L/min to 150 L/min" | "";
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
        | 47:8 "[[diver]] 2" "name" | "`name` holds a character that cannot be shown" | "characters on one line" | "";
    "a line end in a name": WALL "\"Bram\"" => "\"Bra\\nm\""
        | 47:8 "[[diver]] 2" "name" | "`name` holds a character that cannot be shown" | "on one line" | "";
    "no breathing": WALL "sac = \"16 L/min\"\n" => ""
        | 38:1 "[[diver]] 1" "sac" | "`sac` is missing" | "or a pressure rate of the own cylinder, as \"25 psi/min\"" | "";
    "a table where divers are wanted": DRIFT "[[diver]]" => "[diver]"
        | 19:1 "" "diver" | "`diver` is a table with the keys `cylinder`, `name`, `sac`" | "one [[diver]] table each, in double brackets, with name, sac" | "";
    "a key of a diver": PIER "gauge =" => "guage ="
        | 19:1 "[[diver]] 1" "" | "unknown key `guage`" | "gauge, buddy" | "gauge";
    "a gauge that is none": PIER "\"psi\"" => "\"imperial\""
        | 19:9 "[[diver]] 1" "gauge" | "`gauge` is \"imperial\"" | "\"bar\", \"psi\"" | "";
    "oneself as buddy": PIER "\"Tarn\"\n\n" => "\"Selka\"\n\n"
        | 20:9 "[[diver]] 1" "buddy" | "Selka cannot be their own buddy" | "two divers who name each other" | "";
    "a buddy on one side only": PIER "buddy = \"Selka\"\n" => ""
        | 20:9 "[[diver]] 1" "buddy" | "Selka names Tarn as buddy, but not the other way round" | "two divers who name each other, or three in a group" | "";
};

/// Quantities: both limits of each, in both unit systems where there are two.
pub(crate) const QUANTITIES: &[Limit] = limits! {
    WALL "\"30 m\"" => "\"@\"" | Least "0.3 m" "0.29 m" | 43:15 "depth_limit";
    WALL "\"30 m\"" => "\"@\"" | Greatest "200 m" "200.1 m" | 43:15 "depth_limit";
    WALL "\"16 L/min\"" => "\"@\"" | Least "2 L/min" "1.9 L/min" | 40:7 "sac";
    WALL "\"16 L/min\"" => "\"@\"" | Greatest "150 L/min" "150.1 L/min" | 40:7 "sac";
    WALL "\"16 L/min\"" => "\"@\"" | Greatest "5.2 cuft/min" "5.3 cuft/min" | 40:7 "sac";
};

/// Everything else that has a limit.
pub(crate) const OTHERS: &[Limit] = limits! {
    // A pressure rate that a small enough cylinder makes a breathing rate.
    WALL "\"16 L/min\"\ncylinder = { size = \"12 L\"" => "\"@\"\ncylinder = { size = \"0.2 L\"" | Greatest "100 bar/min" "100.1 bar/min" | 40:7 "sac";
};

#[test]
fn a_buddy_who_is_not_there_is_refused_with_the_names_that_are() {
    let alone = edited(PIER, "buddy = \"Selka\"\n", "");
    let problem = refusal(&alone, "\"Tarn\"\n\n", "\"Tran\"\n\n");
    let at = problem.position.unwrap();
    assert_eq!((at.line, at.column), (20, 9));
    assert_eq!(problem.message, "nobody is called \"Tran\"");
    assert_eq!(problem.accepted.as_deref(), Some("Selka, Tarn"));
    assert_eq!(problem.meant.as_deref(), Some("Tarn"));
    let escape = edited(&alone, "\"Tarn\"\n\n", "\"T\\u001barn\"\n\n");
    let problem = only(read(&escape).unwrap_err());
    assert!(
        problem
            .message
            .starts_with("`buddy` holds a character that cannot be shown")
    );
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
    assert_eq!(problem.message, "`diver` is the list [\"Juno\", \"Bram\"]");
    assert!(
        problem
            .accepted
            .unwrap()
            .starts_with("one [[diver]] table each, in double brackets, with name, sac")
    );
}

#[test]
fn a_misspelled_buddy_is_said_once() {
    let errors = read(&edited(PIER, "\"Tarn\"\n\n", "\"Tran\"\n\n")).unwrap_err();
    assert_eq!(only(errors).meant.as_deref(), Some("Tarn"));
}
