//! Gas switches on the way up: nitrogen that rises where helium falls.

use crate::read::{codes, flowing};
use crate::run::{json, screen};

const CODE: &str = "inert-gas-jump";

/// Long enough at 60 m for stops from well below 21 m on.
fn on(bottom: &str, decompression: &str) -> String {
    format!(
        "[profile]\ndepth = \"60 m\"\nbottom_time = \"22 min\"\n\
         [gas]\nbottom = \"{bottom}\"\ndecompression = [\"{decompression}\"]\n"
    )
}

fn jumps(bottom: &str, decompression: &str) -> bool {
    let document = json("brief", &on(bottom, decompression), &[]);
    let segments = document["segments"].as_array().unwrap();
    let switches = segments
        .iter()
        .filter(|segment| segment["kind"] == "switch");
    assert_eq!(switches.count(), 1, "{bottom} to {decompression}");
    codes(&document, "caution").contains(&CODE.to_owned())
}

#[test]
fn from_trimix_to_nitrox_nitrogen_jumps() {
    // 21 m: P = 1.01325 + 21 · 0.100518 = 3.12413 bar. Nitrogen (3.12413 − 0.0627) · (0.50 − 0.37)
    // = 0.398 bar up, helium (3.12413 − 0.0627) · 0.45 = 1.378 bar down; a fifth of it is 0.276.
    assert!(jumps("18/45", "EAN50"));
    let text = flowing(&screen(&on("18/45", "EAN50"), &[]).1);
    let words = "The switch from 18/45 to EAN50 at 21 m raises the nitrogen pressure by 0.40 bar, \
                 more than a fifth of the 1.38 bar by which helium falls";
    assert!(text.contains(words), "{text}");
}

#[test]
fn a_rise_of_at_most_a_fifth_is_none() {
    // Nitrogen 0.37 to 0.40, helium 0.45 to 0.25: 0.03 is less than a fifth of 0.20.
    assert!(!jumps("18/45", "35/25"));
    // 0.37 to 0.41: 0.04 is a fifth of it, and no more.
    assert!(!jumps("18/45", "34/25"));
    // 0.37 to 0.42.
    assert!(jumps("18/45", "33/25"));
    // Nitrogen falls too.
    assert!(!jumps("18/45", "80/0"));
}

#[test]
fn without_helium_there_is_no_jump() {
    assert!(!jumps("air", "EAN50"));
    assert!(!jumps("air", "30/30"));
}
