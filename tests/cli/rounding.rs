//! Figures are rounded toward safety.

use approx::assert_relative_eq;
use hangbar::quantity::PSI_BAR;

use crate::document::Verdict;
use crate::plans::{BRIG, GOOD_FILES, KELP, REEF, THIRSTY, edited};
use crate::read::{flowing, section};
use crate::run::{json_briefing, text};

/// A figure may be past a mark by this share of a step and still be that mark.
const NOISE: f64 = 1e-6;

/// What the gas table shows for a diver.
struct GasRow {
    fill: f64,
    unit: String,
    turn: f64,
    due: String,
    minimum: f64,
    leaves: String,
    back: String,
    limit: String,
}

/// A pressure of the table; `>600` is one beyond every gauge.
fn figure(cell: &str) -> f64 {
    cell.strip_prefix('>')
        .map_or_else(|| cell.parse().unwrap(), |_| f64::INFINITY)
}

fn gas_row(text: &str, name: &str) -> GasRow {
    let rows = section(text, "Gas");
    let row = rows
        .iter()
        .find_map(|line| line.strip_prefix(&format!("  {name} ")))
        .expect("the diver has a row");
    let row = row.replace(" min", "min");
    let cells: Vec<&str> = row.split_whitespace().collect();
    let [fill, unit, turn, due, minimum, leaves, back, limit] = cells[..] else {
        panic!("the row of {name} has {} cells: {row}", cells.len());
    };
    GasRow {
        fill: fill.parse().unwrap(),
        unit: unit.to_owned(),
        turn: figure(turn),
        due: due.to_owned(),
        minimum: figure(minimum),
        leaves: leaves.to_owned(),
        back: back.to_owned(),
        limit: limit.to_owned(),
    }
}

#[test]
fn what_must_be_kept_is_rounded_up_and_what_is_left_is_rounded_down() {
    let go = flowing(&text(REEF, &[]));
    for (_, plan, _) in GOOD_FILES {
        let document = json_briefing(plan, &[]);
        if document.verdict == Verdict::NoGo {
            let words = flowing(&text(plan, &[]));
            for order in ["Turn at", "turn turn", "with at least:", "left for both"] {
                assert!(!words.contains(order), "a no-go says \"{order}\": {words}");
                assert!(go.contains(order), "a go does not say \"{order}\": {go}");
            }
            continue;
        }
        for (units, unit, step, bar) in [
            ("metric", "bar", 5.0, 1.0),
            ("imperial", "psi", 50.0, PSI_BAR),
        ] {
            let text = text(plan, &["--units", units]);
            for diver in &document.divers {
                let row = gas_row(&text, &diver.name);
                let who = format!("{} in {unit}", diver.name);
                assert_eq!(row.unit, unit, "{who}");
                // On leaving the bottom; other levels have minimums of their own.
                let minimum = diver.levels.last().unwrap().minimum_gas_bar;
                is_next_up(
                    row.minimum,
                    minimum / bar,
                    step,
                    &format!("minimum of {who}"),
                );
                is_next_up(
                    row.turn,
                    diver.turn_bar / bar,
                    step,
                    &format!("turn of {who}"),
                );
                is_next_down_or_empty(
                    &row.back,
                    diver.end_bar.map(|end| end / bar),
                    step,
                    &format!("back of {who}"),
                );
                is_next_down_or_empty(
                    &row.leaves,
                    diver.leaving_bar.map(|left| left / bar),
                    step,
                    &format!("leaves of {who}"),
                );
                // No figure speaks of a bottom time beyond the team's, or the no-stop limit.
                let shown = match row.limit.as_str() {
                    "none" => 0.0,
                    minutes => minutes.strip_suffix("min").unwrap().parse().unwrap(),
                };
                let team = document.longest_go_min.unwrap();
                assert_relative_eq!(shown, f64::from(diver.gas_limit_min.min(team)));
                if let Some(no_stop) = document.no_stop_limit_min
                    && diver.levels.len() == 1
                    && !document.staged
                {
                    assert!(shown <= no_stop, "gas limit of {who}");
                }
                match diver.turn_min {
                    None => assert_eq!(row.due, "never", "{who}"),
                    Some(minute) => {
                        let due: f64 = row.due.strip_suffix("min").unwrap().parse().unwrap();
                        assert!(
                            due <= minute + NOISE && minute < due + 1.0,
                            "turn due of {who}: {due} for {minute}"
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn the_minimum_in_the_briefing_s_sentence_is_the_table_s() {
    for plan in [REEF, BRIG, KELP] {
        for units in ["metric", "imperial"] {
            let text = text(plan, &["--units", units]);
            let words = flowing(&text);
            let sentence = words.split("and with at least: ").nth(1).unwrap();
            for diver in &json_briefing(plan, &[]).divers {
                let row = gas_row(&text, &diver.name);
                let want = format!("{} {} {}", diver.name, row.minimum, row.unit);
                assert!(sentence.contains(&want), "{want} is not in {sentence}");
            }
        }
    }
}

#[test]
fn a_fill_on_a_mark_of_the_gauge_is_shown_as_it_is() {
    for (plan, name, fill, unit) in [
        (REEF, "Casper", 220.0, "metric"),
        (KELP, "Ezra", 3000.0, "imperial"),
        (KELP, "Marigold", 3400.0, "imperial"),
    ] {
        let row = gas_row(&text(plan, &["--units", unit]), name);
        assert_relative_eq!(row.fill, fill);
    }
}

#[test]
fn a_floor_that_decides_the_minimum_is_shown_as_it_is() {
    let alone = |units: &str, depth: &str| {
        format!(
            "units = \"{units}\"\n[profile]\ndepth = \"{depth}\"\nbottom_time = \"20 min\"\n\
             [[diver]]\nname = \"Noor\"\nsac = \"12 L/min\"\ncylinder = {{ size = \"15 L\", fill = \"200 bar\" }}\n"
        )
    };
    for (units, depth, floor) in [("metric", "8 m", 50.0), ("imperial", "25 ft", 500.0)] {
        let row = gas_row(&text(&alone(units, depth), &[]), "Noor");
        assert_relative_eq!(row.minimum, floor);
    }
    // 50 bar are 725.2 psi: up to the next 50.
    let row = gas_row(
        &text(&alone("metric", "8 m"), &["--units", "imperial"]),
        "Noor",
    );
    assert_relative_eq!(row.minimum, 750.0);
}

#[test]
fn times_and_doses_are_rounded_toward_safety() {
    for (name, plan, _) in GOOD_FILES {
        let document = json_briefing(plan, &[]);
        let words = flowing(&text(plan, &[]));
        let up = number_after(&words, "back on the surface at minute ");
        is_next_up(
            up,
            document.run_time_min,
            1.0,
            &format!("run time of {name}"),
        );
        match document.no_stop_limit_min {
            Some(limit) => {
                let after = words.split("No-stop limit at ").nth(1).unwrap();
                let shown = number_after(after, ": ");
                assert!(
                    shown <= limit + NOISE && limit < shown + 1.0,
                    "no-stop limit of {name}: {shown} for {limit}"
                );
            }
            None => assert!(words.contains(": more than 999 minutes"), "{name}: {words}"),
        }
        let oxygen = &document.oxygen;
        is_next_up(
            number_after(&words, "CNS "),
            oxygen.cns_pct,
            1.0,
            &format!("CNS of {name}"),
        );
        is_next_up(
            number_after(&words, "OTU "),
            oxygen.otu,
            1.0,
            &format!("OTU of {name}"),
        );
        let pressure = number_after(&words, "Oxygen: at most ");
        is_next_up(
            pressure,
            oxygen.max_po2_bar,
            0.01,
            &format!("oxygen pressure of {name}"),
        );
    }
}

#[test]
fn a_pony_s_gas_is_rounded_down_and_its_need_up() {
    for (plan, name, units, litre) in [
        (REEF, "Noor", "metric", 1.0),
        (REEF, "Noor", "imperial", 28.316_846_592),
        (KELP, "Ezra", "imperial", 28.316_846_592),
        (THIRSTY, "Benedikta", "metric", 1.0),
    ] {
        let document = json_briefing(plan, &[]);
        let diver = document
            .divers
            .iter()
            .find(|diver| diver.name == name)
            .unwrap();
        let pony = diver.pony.as_ref().unwrap();
        let words = flowing(&text(plan, &["--units", units]));
        let step = if units == "metric" { 1.0 } else { 0.1 };
        let ponies = words.split("Ponies: ").nth(1).unwrap();
        let have = number_after(ponies, &format!("{name}'s pony gives "));
        assert!(have <= pony.have_l / litre + NOISE, "{name}: {have}");
        assert!(pony.have_l / litre < have + step, "{name}: {have}");
        // `every stop (288 L)` of one that covers it, `every stop 288 L` of one that does not.
        let full = number_after(
            &ponies.replace("every stop (", "every stop "),
            "every stop ",
        );
        is_next_up(
            full,
            pony.need_full_l / litre,
            step,
            &format!("need of {name}"),
        );
    }
}

/// A depth that is past a limit by less than is shown.
#[test]
fn a_depth_past_a_diver_s_limit_never_prints_as_the_limit() {
    let plan = edited(REEF, "\"21 m\"", "\"30.001 m\"");
    let document = json_briefing(&plan, &[]);
    let finding = document
        .findings
        .iter()
        .find(|finding| finding.code == "depth-limit")
        .unwrap();
    assert_eq!(
        finding.message,
        "Casper may dive to 30 m; this dive goes to 30.1 m."
    );
    assert!(
        json_briefing(&edited(REEF, "\"21 m\"", "\"30 m\""), &[])
            .findings
            .iter()
            .all(|finding| finding.code != "depth-limit")
    );
}

/// The number that follows some words for the first time.
fn number_after(text: &str, words: &str) -> f64 {
    let (_, rest) = text
        .split_once(words)
        .unwrap_or_else(|| panic!("`{words}` is not in {text}"));
    let end = rest
        .find(|c: char| !(c.is_ascii_digit() || c == '.'))
        .unwrap_or(rest.len());
    rest[..end].trim_end_matches('.').parse().unwrap()
}

/// Whether a figure is the first multiple of a step that is not less than the value.
fn is_next_up(shown: f64, value: f64, step: f64, what: &str) {
    if shown.is_infinite() {
        // No gauge goes there: 600 bar, 9000 psi.
        assert!(value > 120.0 * step, "{what}: {value} is not shown");
        return;
    }
    let on_step = (shown / step - (shown / step).round()).abs() < NOISE;
    let next = shown >= value - step * NOISE && shown - value < step;
    assert!(
        on_step && next,
        "{what}: {shown} is shown for {value}, steps of {step}"
    );
}

fn is_next_down_or_empty(shown: &str, value: Option<f64>, step: f64, what: &str) {
    match value {
        None => assert_eq!(shown, "empty", "{what}"),
        Some(value) => {
            let shown: f64 = shown.parse().unwrap();
            let on_step = (shown / step - (shown / step).round()).abs() < NOISE;
            let next = shown <= value + step * NOISE && value - shown < step;
            assert!(
                on_step && next,
                "{what}: {shown} is shown for {value}, steps of {step}"
            );
        }
    }
}
