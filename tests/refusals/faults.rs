//! One fault at a time: the faults stand with their subjects, and here is what must hold of all.

use hangbar::plan_file::{PlanErrors, read};

use crate::plans::{brief, edited};
use crate::{ascent, cylinders, gases, model, profile, reserve, site, team, toml, top};

/// A good plan, what is changed in it, and what must be said about it.
pub(crate) struct Fault {
    pub(crate) what: &'static str,
    pub(crate) plan: &'static str,
    pub(crate) old: &'static str,
    pub(crate) new: &'static str,
    pub(crate) line: usize,
    pub(crate) column: usize,
    pub(crate) table: &'static str,
    pub(crate) key: &'static str,
    pub(crate) message: &'static str,
    pub(crate) accepted: &'static str,
    pub(crate) meant: &'static str,
}

/// `"what": PLAN "old" => "new" | line:column "table" "key" | "words of the message"
///  | "words of what is accepted" | "word that was meant"`; "" stands for none.
macro_rules! faults {
    ($($what:literal: $plan:ident $old:literal => $new:literal
       | $line:literal:$column:literal $table:literal $key:literal
       | $message:literal | $accepted:literal | $meant:literal;)+) => {
        &[$($crate::faults::Fault {
            what: $what, plan: $plan, old: $old, new: $new, line: $line, column: $column,
            table: $table, key: $key, message: $message, accepted: $accepted, meant: $meant,
        }),+]
    };
}
pub(crate) use faults;

/// The faults of each subject.
const SUBJECTS: &[(&str, &[Fault])] = &[
    ("top", top::FAULTS),
    ("site", site::FAULTS),
    ("profile", profile::FAULTS),
    ("ascent", ascent::FAULTS),
    ("model", model::FAULTS),
    ("gases", gases::FAULTS),
    ("reserve", reserve::FAULTS),
    ("team", team::FAULTS),
    ("cylinders", cylinders::FAULTS),
    ("toml", toml::FAULTS),
];

#[test]
fn every_fault_is_refused_alone_at_its_place_with_the_words_that_help() {
    let mut wrong = Vec::new();
    for (subject, faults) in SUBJECTS {
        for fault in *faults {
            let broken = edited(fault.plan, fault.old, fault.new);
            let differences = differences(fault, &broken);
            wrong.extend(differences.map(|text| format!("{subject}, {}: {text}", fault.what)));
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
    for (subject, faults) in SUBJECTS {
        for fault in *faults {
            let broken = edited(fault.plan, fault.old, fault.new);
            let dressed = [
                ("CRLF", broken.replace('\n', "\r\n")),
                ("BOM", format!("\u{feff}{broken}")),
                (
                    "BOM and CRLF",
                    format!("\u{feff}{}", broken.replace('\n', "\r\n")),
                ),
            ];
            for (dress, text) in dressed {
                let differences = differences(fault, &text);
                wrong.extend(
                    differences.map(|text| format!("{subject}, {}, {dress}: {text}", fault.what)),
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
    for (subject, faults) in SUBJECTS {
        for fault in *faults {
            let output = brief(&edited(fault.plan, fault.old, fault.new), &[]);
            let stderr = String::from_utf8(output.stderr).unwrap();
            let place = format!("--> standard input:{}:{}", fault.line, fault.column);
            let places = [format!("{place}\n"), format!("{place}  ")];
            let told = places.iter().any(|place| stderr.contains(place))
                && stderr.starts_with("error: ")
                && stderr.lines().next().unwrap().contains(fault.message)
                && stderr.contains(fault.accepted)
                && (fault.meant.is_empty()
                    || stderr.contains(&format!("did you mean `{}`?", fault.meant)));
            if output.status.code() != Some(2) || !output.stdout.is_empty() || !told {
                wrong.push(format!(
                    "{subject}, {}: exit status {:?}, {} bytes on standard output, and\n{stderr}",
                    fault.what,
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

/// All that differs between what a broken plan is told and what its fault wants.
fn differences(fault: &Fault, text: &str) -> std::vec::IntoIter<String> {
    match read(text) {
        Ok(_) => vec!["was read as a good plan".to_owned()].into_iter(),
        Err(errors) => differences_of(fault, text, &errors),
    }
}

/// The same, of what has been told.
pub(crate) fn differences_of(
    fault: &Fault,
    text: &str,
    errors: &PlanErrors,
) -> std::vec::IntoIter<String> {
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
    let want_place = format!("{}:{}", fault.line, fault.column);
    expect("the place", &place, &want_place, place == want_place);
    let key = problem.key.as_deref().unwrap_or_default();
    expect("the key", key, fault.key, key == fault.key);
    expect(
        "the table",
        &problem.table,
        fault.table,
        problem.table == fault.table,
    );
    let meant = problem.meant.as_deref().unwrap_or_default();
    expect("the word meant", meant, fault.meant, meant == fault.meant);
    let told = problem.message.contains(fault.message);
    expect("the message", &problem.message, fault.message, told);
    let accepted = problem.accepted.as_deref().unwrap_or_default();
    let told =
        accepted.contains(fault.accepted) && accepted.is_empty() == fault.accepted.is_empty();
    expect("what is accepted", accepted, fault.accepted, told);
    let line = text
        .trim_start_matches('\u{feff}')
        .lines()
        .nth(fault.line - 1)
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
